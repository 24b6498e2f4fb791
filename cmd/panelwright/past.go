package main

import (
	"fmt"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/record"
	"panelwright/label/record/journal"
)

// past is what the records say of labels that are to be printed: the lot they are for, and what was approved.
type past struct {
	ledger *record.Ledger
	lot    *record.Lot // nil where labels are printed for stock
}

// holdsBack says why no labels for sale are printed for the lot, or "".
func (p *past) holdsBack() (why, cure string) {
	x := p.lot
	if x == nil {
		return "", ""
	}
	if p.ledger.OnTrial(x) {
		return fmt.Sprintf("lot %s is a trial", x.Code), fmt.Sprintf("to keep it: panelwright record --say \"lot: %s; keep: yes\"; --proof prints proofs", x.Code)
	}
	switch state := p.ledger.StateOf(x); state {
	case record.Held, record.Curing:
		return fmt.Sprintf("lot %s is %s", x.Code, state), fmt.Sprintf("once it is settled: panelwright record --say \"lot: %s; state: ready\"", x.Code)
	}
	return "", ""
}

// many says where more labels are printed for a lot than it has pieces.
func (c *call) many(p *past, it order) []string {
	if p.lot == nil || c.proof {
		return nil
	}
	all := p.ledger.Labelled(p.lot, it.copy.Markets) + it.want.count
	if all <= p.lot.Pieces {
		return nil
	}
	return []string{fmt.Sprintf("lot %s has %d pieces, and these make %d labels for %s: the others are spares, so lay them aside or record what was spoiled", p.lot.Code, p.lot.Pieces, all, it.markets)}
}

// approval returns the approval that labels of a product go by. All markets of the label must
// be in it: split says where they are not.
func (p *past) approval(product *label.Product, ms []inci.Market, on date.Date) (a *record.Approval, split string) {
	var first *record.Approval
	for i, m := range ms {
		x := p.ledger.ApprovalFor(product.Name, m, p.lot, on)
		if i == 0 {
			first = x
		}
		if x != first {
			return nil, fmt.Sprintf("what is approved for %s is not approved for %s, and one label serves both", ms[0].Title(), m.Title())
		}
	}
	return first, ""
}

// drawApproved takes the approved copy, drawn as the book said when it was approved. It says where the book has moved
// on, and refuses a copy that is not true for the lot.
func (c *call) drawApproved(desk *label.Desk, b *book.Book, past *past, it order, ms []inci.Market) order {
	fail := func(err error) order {
		it.err = err
		return it
	}
	frozen, err := book.ApprovedCopy(c.bookFS(), it.by.Text)
	if err != nil {
		return fail(err)
	}
	product, pack := it.job.product, it.job.product.PackFor(ms[0])
	if it.by.Book != b.Fingerprint {
		then, err := c.keptBook(it.by.Book)
		if err != nil {
			return fail(err)
		}
		if p, _ := productNamed(then, product.Name); p != nil && p.PackFor(ms[0]) != nil {
			product, pack = p, p.PackFor(ms[0])
		}
	}
	if it.copy, err = frozen.Copy(product, pack); err != nil {
		return fail(err)
	}
	if past.lot != nil {
		j, bad := c.judgeLot(deskBook{b, desk}, past.ledger, past.lot)
		found := bad
		if j != nil {
			found = append(found, untrue(j, ms[0])...)
		}
		if !found.Verdict().Prints() {
			it.refused = &finding.Finding{Rule: "print.refused", Severity: finding.Error, Where: it.want.at, Product: product.Name,
				Message: reason(found), Cure: fmt.Sprintf("panelwright approve --lot %s approves the lot as it was made", past.lot.Code)}
			return it
		}
	}
	it.text = it.by.Text
	past.fill(it.copy)
	words := fmt.Sprintf("%s, %s: text %s as approved on %s by %s", product.Name, it.markets, it.by.Text, it.by.On, it.by.Entry.By)
	if now := c.copyNow(desk, it, ms); now != nil && record.Freeze(now).Fingerprint() != it.by.Text {
		words += "; the book says otherwise now, and approving it again would print that"
	}
	it.said = append(it.said, words)
	return it
}

// untrue returns what the label for a market gets wrong of a lot.
func untrue(j *record.Judgement, m inci.Market) (out finding.List) {
	for _, p := range j.Packs {
		if p.True || !containsMarket(p.Due.Markets, m) {
			continue
		}
		for _, f := range j.Findings {
			if f.Severity >= finding.Question {
				out = append(out, f)
			}
		}
	}
	return out
}

func containsMarket(all []inci.Market, m inci.Market) bool {
	for _, x := range all {
		if x == m {
			return true
		}
	}
	return false
}

// copyNow is what the book says now.
func (c *call) copyNow(desk *label.Desk, it order, ms []inci.Market) *label.PackCopy {
	j := it.job
	if j.set != nil {
		j.decls = desk.DeclareSet(j.set, ms, c.occasion())
	} else {
		j.decls = desk.Declare(j.product, ms, c.occasion())
	}
	if len(j.decls) == 0 {
		return nil
	}
	return label.CopyFor(j.product.PackFor(ms[0]), j.decls)
}

// fill puts the lot, and the date that is counted from the day it was made, where the copy leaves room for them.
func (p *past) fill(copy *label.PackCopy) {
	if p.lot == nil || copy.Pack.Lot == label.LotOnSticker {
		return
	}
	for _, side := range [][]label.Statement{copy.Front, copy.Back} {
		for i := range side {
			s := &side[i]
			switch {
			case s.Kind == label.LotText:
				s.Text = p.lot.Code
			case s.Kind == label.DurabilityText && s.Text == "" && s.Months == 0 && copy.Product.Keeps.Keeps > 0:
				s.Text = monthOf(lastWholeMonth(p.lot.On.AddMonths(copy.Product.Keeps.Keeps)))
			}
		}
	}
}

func monthOf(d date.Date) string { return fmt.Sprintf("%02d/%04d", d.Month(), d.Year()) }

// printedEntry is the entry that records a print for sale.
func (c *call) printedEntry(it order) []byte {
	var e strings.Builder
	fmt.Fprintf(&e, "printed: %s\nfor: [%s]\non: %s\ncopies: %d\ntext: %s\n", quoted(it.job.product.Name), strings.ReplaceAll(it.markets, "+", ", "), c.on, it.want.count,
		quoted(it.text))
	if c.sheets.lot != "" {
		fmt.Fprintf(&e, "lot: %s\n", quoted(c.sheets.lot))
	}
	if it.by != nil {
		fmt.Fprintf(&e, "approval: %d\n", it.by.Entry.Number)
	}
	return []byte(e.String())
}

// recordPrinted records what was printed for sale.
func (c *call) recordPrinted(docs [][]byte) error {
	if c.proof || len(docs) == 0 {
		return nil
	}
	if _, err := journal.Append(c.bookDir(), stamp(), docs...); err != nil {
		return fmt.Errorf("the labels are written, but what was printed could not be recorded: %w", err)
	}
	return nil
}
