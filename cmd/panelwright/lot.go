package main

import (
	"fmt"
	"os"
	"slices"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/record"
)

// productNamed returns a product of the book, or a set.
func productNamed(b *book.Book, name string) (*label.Product, *label.Set) {
	for _, p := range b.Products {
		if inci.Fold(p.Name) == inci.Fold(name) {
			return p, nil
		}
	}
	for _, s := range b.Sets {
		if inci.Fold(s.Name) == inci.Fold(name) {
			return &s.Product, s
		}
	}
	return nil, nil
}

// formulaNamed returns a formula of the book, or nil.
func formulaNamed(b *book.Book, name string) *formula.Formula {
	for _, f := range b.Formulas {
		if inci.Fold(f.Name) == inci.Fold(name) {
			return f
		}
	}
	return nil
}

// deskBook is a book with the desk that its products are judged at.
type deskBook struct {
	book *book.Book
	desk *label.Desk
}

// benchOf returns the book that a lot was made by: the one that was kept then, or the book as it stands.
func (c *call) benchOf(now deskBook, x *record.Lot) (deskBook, error) {
	if x.Book == "" || x.Book == now.book.Fingerprint {
		return now, nil
	}
	b, err := c.keptBook(x.Book)
	if err != nil {
		return deskBook{}, fmt.Errorf("lot %s: the book it was made by: %w", x.Code, err)
	}
	return deskBook{b, label.NewDesk(&b.Workshop)}, nil
}

// asMade makes a lot up as it was weighed, by the book of its day. It returns nil for a box, which is judged by the
// lots in it, and where the findings hold an error.
func (c *call) asMade(now deskBook, led *record.Ledger, x *record.Lot) (deskBook, *record.Made, finding.List) {
	at, err := c.benchOf(now, x)
	if err != nil {
		return at, nil, lostBook(x, err)
	}
	p, set := productNamed(at.book, x.Product)
	if f := formulaNamed(at.book, x.Product); p == nil && f != nil && x.IsMix() {
		var open finding.List
		if p, open = mixProduct(at.book, f, x); len(open) > 0 {
			return at, nil, open
		}
	}
	if p == nil || set != nil {
		return at, nil, nil
	}
	made, bad := led.AsMade(at.desk.Composer, p, x, at.book)
	if bad.Count(finding.Error) > 0 {
		made = nil
	}
	return at, made, bad
}

// boxAsMade makes up the boxes of a lot, each with the lots in it as they were made, or returns nil for a lot of a
// product, and where the findings hold an error.
func (c *call) boxAsMade(now deskBook, led *record.Ledger, x *record.Lot) (deskBook, *record.Made, finding.List) {
	at, err := c.benchOf(now, x)
	if err != nil {
		return at, nil, lostBook(x, err)
	}
	_, set := productNamed(at.book, x.Product)
	if set == nil {
		return at, nil, nil
	}
	made, bad := led.BoxAsMade(set, x, record.Bench{
		Product: func(name string) *label.Product {
			if p, s := productNamed(at.book, name); s == nil {
				return p
			}
			return nil
		},
		Made: func(inner *record.Lot) (*label.Product, finding.List) {
			_, m, bad := c.asMade(now, led, inner)
			if m == nil {
				return nil, bad
			}
			return m.Product, bad
		},
	})
	if bad.Count(finding.Error) > 0 {
		made = nil
	}
	return at, made, bad
}

// oneBox makes up a box of a lot as it was made. Boxes that would say different things have no label in common.
func (c *call) oneBox(now deskBook, led *record.Ledger, x *record.Lot) (deskBook, *label.Set, finding.List) {
	at, made, bad := c.boxAsMade(now, led, x)
	if made == nil {
		return at, nil, bad
	}
	o := c.lotOccasion(led, x)
	said := ""
	for _, box := range made.Boxes {
		all := ""
		for _, d := range at.desk.DeclareSet(box, box.SellIn, o) {
			for _, m := range d.Members {
				all += m.Text() + "\n"
			}
		}
		if said != "" && said != all {
			bad.Add(finding.Finding{Rule: record.RuleInside, Severity: finding.Error, Product: box.Name, Where: x.Entry.Pos,
				Message: fmt.Sprintf("lot %s: the lots in its boxes have different lists, so no label is good for all of them", x.Code),
				Cure:    "record the boxes with each as a lot of their own"})
			return at, nil, bad
		}
		said = all
	}
	return at, made.Boxes[0], bad
}

// judgeLot judges a lot as it was made against its labels; nil where that is not possible, which the findings say, and
// of a mix.
func (c *call) judgeLot(now deskBook, led *record.Ledger, x *record.Lot) (*record.Judgement, finding.List) {
	at, made, bad := c.asMade(now, led, x)
	if x.IsMix() { // it has no label of its own
		if made != nil {
			bad = append(bad, record.MixNotes(made)...)
		}
		return nil, bad
	}
	if made == nil && len(bad) == 0 {
		at, made, bad = c.boxAsMade(now, led, x)
	}
	if made == nil {
		return nil, bad
	}
	j := record.Judge(at.desk, made, c.lotOccasion(led, x), c.says(led, x))
	return j, j.Open(bad)
}

// lotOccasion returns the days a lot is judged on: it is first supplied on the day its first pieces went, or on the
// day asked for.
func (c *call) lotOccasion(led *record.Ledger, x *record.Lot) date.Occasion {
	o := date.Occasion{On: max(c.on, x.On), Placed: max(c.placed, x.On)}
	for _, s := range led.ShipmentsOf(x) {
		if s.Kind != record.KeptBack && s.Kind != record.Destroyed && s.On < o.Placed {
			o.Placed = s.On
		}
	}
	return o
}

// says returns what the labels of a lot say by the approvals.
func (c *call) says(led *record.Ledger, x *record.Lot) record.Says {
	return func(p *label.Product, pack *label.Pack) *label.PackCopy {
		for _, m := range p.SellIn {
			if p.PackFor(m) != pack {
				continue
			}
			a := led.ApprovalFor(p.Name, m, x, c.on)
			if a == nil {
				return nil
			}
			f, err := book.ApprovedCopy(os.DirFS(c.bookDir()), a.Text)
			if err != nil {
				c.problems(finding.List{lostCopy(a, err)})
				return nil
			}
			copy, err := f.Copy(p, pack)
			if err != nil {
				c.problems(finding.List{lostCopy(a, err)})
				return nil
			}
			return copy
		}
		return nil
	}
}

func lostBook(x *record.Lot, err error) finding.List {
	return finding.List{{Rule: "record.kept-book", Severity: finding.Error, Where: x.Entry.Pos, Message: err.Error(), Cure: "restore it from a kept archive"}}
}

func lostCopy(a *record.Approval, err error) finding.Finding {
	return finding.Finding{Rule: "record.copy", Severity: finding.Error, Where: a.Entry.Pos,
		Message: fmt.Sprintf("the copy of %s approved on %s cannot be used: %v", a.Product, a.On, err), Cure: "restore " + book.CopyFile(a.Text) + " from a kept archive, or approve again"}
}

// mixProduct makes a product of a lot of a mix. Slots are filled as the products do that use the mix; where they differ,
// as the lot says what it used. The findings say where that leaves a slot open.
func mixProduct(b *book.Book, f *formula.Formula, x *record.Lot) (*label.Product, finding.List) {
	p := record.MixProduct(f, x)
	p.Piece.Slots = map[string]formula.Filling{}
	var bad finding.List
	for _, slot := range record.SlotsOf(f) {
		var fills []formula.Filling
		for _, other := range b.Products {
			fill, ok := other.Piece.Slots[slot]
			if ok && record.Uses(other, f) && !slices.ContainsFunc(fills, func(o formula.Filling) bool { return filled(o) == filled(fill) }) {
				fills = append(fills, fill)
			}
		}
		if len(fills) > 1 {
			fills = slices.DeleteFunc(fills, func(o formula.Filling) bool {
				return !slices.ContainsFunc(x.Used, func(u record.Used) bool { return inci.Fold(u.Name) == inci.Fold(filled(o)) })
			})
		}
		if len(fills) != 1 {
			bad.Add(finding.Finding{Rule: record.RuleMix, Severity: finding.Error, Where: x.Entry.Pos,
				Message: fmt.Sprintf("lot %s of %s: what filled its slot “%s” is not clear", x.Code, f.Name, slot), Cure: "name it with its lot, as in used: {alpine hay scent oil: A17}"})
			continue
		}
		p.Piece.Slots[slot] = fills[0]
	}
	return p, bad
}

// filled returns the name of what fills a slot.
func filled(o formula.Filling) string {
	switch {
	case o.Material != nil:
		return o.Material.Name
	case o.Formula != nil:
		return o.Formula.Name
	}
	return ""
}
