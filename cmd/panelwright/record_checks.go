package main

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/book"
	"panelwright/label/record"
)

// checkNames checks that what is recorded is in the book.
func checkNames(b *book.Book, forms []book.Form) (out finding.List) {
	unknown := func(e *record.Entry, what, name, near string) {
		f := finding.Finding{Rule: "record.unknown-name", Severity: finding.Error, Where: e.Pos, Message: fmt.Sprintf("the book has no %s “%s”", what, name),
			Cure: "write its name as in the book"}
		if near != "" {
			f.Cure = "did you mean " + near + "?"
		}
		out.Add(f)
	}
	var products, materials []string
	for _, p := range b.Products {
		products = append(products, p.Name)
	}
	for _, s := range b.Sets {
		products = append(products, s.Name)
	}
	for _, m := range b.Materials {
		materials = append(materials, m.Name)
	}
	is := func(all []string, name string) bool {
		return slices.ContainsFunc(all, func(s string) bool { return inci.Fold(s) == inci.Fold(name) })
	}
	for _, f := range forms {
		product := ""
		switch x := f.Entry.What.(type) {
		case *record.Lot:
			product = x.Product
			if mix := formulaNamed(b, x.Product); mix != nil && !is(products, product) {
				product = ""
				out = append(out, checkMix(f.Entry, x)...)
			} else if x.Pieces == 0 && is(products, product) {
				out.Add(finding.Finding{Rule: record.RuleMix, Severity: finding.Error, Where: f.Entry.Pos, Message: fmt.Sprintf("lot %s of %s has no pieces", x.Code, x.Product),
					Cure: "write pieces: 80; a mix made beforehand is recorded by the name of its formula"})
			}
			for _, u := range x.Used {
				if is(materials, u.Name) || is(products, u.Name) || b.Material(u.Name) != nil || formulaNamed(b, u.Name) != nil {
					continue
				}
				near := book.Nearest(u.Name, append(materials, products...))
				if fill := fills(b, x.Product, u.Name); fill != "" {
					near = fill
				}
				unknown(f.Entry, "material, mix or product", u.Name, near)
			}
		case *record.Receipt:
			if !is(materials, x.Material) && b.Material(x.Material) == nil {
				unknown(f.Entry, "material", x.Material, book.Nearest(x.Material, materials))
			}
		case *record.Approval:
			product = x.Product
		case *record.Printing:
			product = x.Product
		case *record.Count:
			product = x.Product
		case *record.Complaint:
			product = x.Product
		}
		if product != "" && !is(products, product) {
			unknown(f.Entry, "product", product, book.Nearest(product, products))
		}
	}
	return out
}

// mistyped reports whether a finding is of what does not fit the recipe or the box, not of the lot: words that are not
// there, pieces that do not add up.
func mistyped(f finding.Finding) bool {
	return f.Rule == record.RuleNoLine || f.Rule == record.RuleWhichFormula || f.Rule == record.RuleNoSwap || f.Rule == record.RuleInsideCount || f.Rule == record.RuleMix
}

// fills returns what fills the slot of a name in a product, or "".
func fills(b *book.Book, product, slot string) string {
	p, _ := productNamed(b, product)
	if p == nil {
		return ""
	}
	for name, fill := range p.Piece.Slots {
		if inci.Fold(name) == inci.Fold(slot) {
			return filled(fill)
		}
	}
	return ""
}

// otherPieces refuses complaints of a lot that is of another product than they say: the page for a doctor would tell of
// something else.
func otherPieces(led *record.Ledger, forms []book.Form) (out finding.List) {
	for _, f := range forms {
		x, ok := f.Entry.What.(*record.Complaint)
		if !ok || x.Product == "" || x.Lot == "" {
			continue
		}
		if lot := led.Lot(x.Lot); lot != nil && inci.Fold(lot.Product) != inci.Fold(x.Product) {
			out.Add(finding.Finding{Rule: "record.unknown-name", Severity: finding.Error, Where: f.Entry.Pos, Message: fmt.Sprintf("lot %s is of %s, not of %s", lot.Code, lot.Product, x.Product), Cure: "write the lot or the product; one of them is enough"})
		}
	}
	return out
}

// otherNames refuses lots of a material that came in under another of its names: a trace goes by the name.
func otherNames(b *book.Book, led *record.Ledger, forms []book.Form) (out finding.List) {
	for _, f := range forms {
		x, ok := f.Entry.What.(*record.Lot)
		if !ok {
			continue
		}
		for _, u := range x.Used {
			m := b.Material(u.Name)
			for _, part := range u.Lots {
				if m == nil || led.Receipt(u.Name, part.Code) != nil {
					continue
				}
				for _, r := range led.Receipts(part.Code) {
					if b.Material(r.Material) == m {
						out.Add(finding.Finding{Rule: "record.unknown-name", Severity: finding.Error, Where: u.Pos,
							Message: fmt.Sprintf("lot %s came in as %s, and is said to be used as %s", part.Code, r.Material, u.Name), Cure: "write " + r.Material + " here, as it was received"})
						break
					}
				}
			}
		}
	}
	return out
}

// checkMix refuses what cannot be said of a mix that was made beforehand.
func checkMix(e *record.Entry, x *record.Lot) (out finding.List) {
	wrong := func(message, cure string) {
		out.Add(finding.Finding{Rule: record.RuleMix, Severity: finding.Error, Where: e.Pos, Message: "lot " + x.Code + " of the mix " + x.Product + message, Cure: cure})
	}
	switch {
	case x.Pieces > 0:
		wrong(" has pieces", "write batch: 1 kg, how much was mixed; pieces are made of products")
	case len(x.Batch) != 1:
		wrong(" wants one batch", "write batch: 1 kg, how much was mixed")
	case len(x.Swaps) > 0:
		wrong(" says swapped:", "write swapped: in the lots that are made of it")
	case x.Trial || len(x.Weights) > 0 || x.State != "":
		wrong(" says what is said of pieces", "leave out weights:, state: and trial:")
	}
	return out
}

// misfits returns what keeps a lot from being recorded as it is written.
func misfits(found finding.List) (out finding.List) {
	for _, f := range found {
		if mistyped(f) {
			f.Severity = finding.Error
			out.Add(f)
		}
	}
	return out
}

// tooEarly refuses what is dated after today: what has not happened cannot be recorded.
func (c *call) tooEarly(forms []book.Form) (out finding.List) {
	for _, f := range forms {
		on := f.Entry.On()
		if on > c.on {
			out.Add(finding.Finding{Rule: "record.future", Severity: finding.Error, Where: f.Entry.Pos,
				Message: fmt.Sprintf("it is dated %s, and today is %s", on, c.on), Cure: "check the year; --on says another day of today"})
		}
	}
	return out
}

// byHand refuses approvals that were not written by approve: their words must be kept.
func (c *call) byHand(forms []book.Form) (out finding.List) {
	for _, f := range forms {
		x, ok := f.Entry.What.(*record.Approval)
		if !ok {
			continue
		}
		if _, err := book.ApprovedCopy(c.bookFS(), x.Text); err != nil {
			out.Add(finding.Finding{Rule: "record.copy", Severity: finding.Error, Where: f.Entry.Pos, Message: fmt.Sprintf("no words %s are kept that could be approved", x.Text),
				Cure: fmt.Sprintf("panelwright approve %q --by NAME writes approvals; withdrawn: with the number of one takes it back", x.Product)})
		}
	}
	return out
}

// takeOver completes the correction of a print with what the command wrote then and the maker cannot know: which
// words, by which approval; the packs and the lot too, where the correction is silent.
func takeOver(led *record.Ledger, f *book.Form) {
	x, ok := f.Entry.What.(*record.Printing)
	if !ok || f.Entry.Corrects == 0 {
		return
	}
	e := led.Entry(f.Entry.Corrects)
	if e == nil {
		return // the ledger says so
	}
	was, ok := e.What.(*record.Printing)
	if !ok || inci.Fold(was.Product) != inci.Fold(x.Product) {
		return
	}
	if len(x.Markets) == 0 && len(was.Markets) > 0 {
		x.Markets = was.Markets
		f.Add("for", "["+strings.ReplaceAll(codes(x.Markets), "+", ", ")+"]")
	}
	if x.Lot == "" && was.Lot != "" {
		x.Lot = was.Lot
		f.Add("lot", quoted(x.Lot))
	}
	if !x.Stickers && was.Stickers {
		x.Stickers = true
		f.Add("stickers", "yes")
	}
	if x.Text == "" && was.Text != "" && slices.Equal(x.Markets, was.Markets) {
		x.Text, x.Approval = was.Text, was.Approval
		f.Add("text", quoted(x.Text))
		if x.Approval != 0 {
			f.Add("approval", fmt.Sprint(x.Approval))
		}
	}
}
