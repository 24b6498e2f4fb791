package record

import (
	"fmt"
	"slices"

	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
)

// Rule codes of what is wrong with the pieces in a box: which lots they are of,
// and how many.
const (
	RuleInside      finding.Code = "lot.inside"
	RuleInsideCount finding.Code = "lot.inside-count"
)

// Bench is what a box is made up from besides the records.
type Bench struct {
	Product func(name string) *label.Product                // of the book that the box was made by; nil for none
	Made    func(inner *Lot) (*label.Product, finding.List) // a lot inside as it was made; nil where that is not possible
}

// BoxAsMade makes up the boxes of a lot: with the products that stood in for
// others, each as the lot in the box was made. Where several lots of one
// product went into the boxes there are several of them, and each lot stands
// in one at least.
func (l *Ledger) BoxAsMade(set *label.Set, x *Lot, bench Bench) (*Made, finding.List) {
	b := &boxing{ledger: l, set: set, lot: x, bench: bench, made: &Made{Lot: x, Book: &set.Product, BookSet: set}}
	b.holds = slices.Clone(set.Holds)
	b.swap()
	if b.out.Count(finding.Error) > 0 {
		return b.made, b.out
	}
	kinds := 1
	lots := make([][]*label.Product, len(b.holds))
	for i := range b.holds {
		lots[i] = b.inside(b.holds[i].Product)
		kinds = max(kinds, len(lots[i]))
	}
	for k := range kinds {
		box := *set
		box.Lot = x.Code
		box.Holds = slices.Clone(b.holds)
		for i := range box.Holds {
			box.Holds[i].Product = lots[i][min(k, len(lots[i])-1)]
		}
		b.made.Boxes = append(b.made.Boxes, &box)
	}
	b.made.Product = &b.made.Boxes[0].Product
	return b.made, b.out
}

// boxing is the work of BoxAsMade.
type boxing struct {
	ledger *Ledger
	set    *label.Set
	lot    *Lot
	bench  Bench
	made   *Made
	holds  []label.Held
	out    finding.List
}

func (b *boxing) add(rule finding.Code, sev finding.Severity, at finding.Pos, message, cure string) {
	b.out.Add(finding.Finding{Rule: rule, Severity: sev, Product: b.set.Name, Where: at, Message: "lot " + b.lot.Code + ": " + message, Cure: cure})
}

// swap puts the products that were taken in the place of those left out.
func (b *boxing) swap() {
	for _, s := range b.lot.Swaps {
		n := slices.IndexFunc(b.holds, func(h label.Held) bool { return inci.Fold(h.Product.Name) == inci.Fold(s.Out) })
		in := b.bench.Product(s.In)
		switch {
		case n < 0:
			b.add(RuleNoSwap, finding.Error, s.Pos, fmt.Sprintf("%s does not hold %s, so nothing can stand in for it", b.set.Name, s.Out), "name a product that the set holds")
		case in == nil:
			b.add(RuleNoSwap, finding.Error, s.Pos, fmt.Sprintf("the book has no product “%s”", s.In), "write its name as in the book")
		default:
			b.holds[n].Product = in
		}
	}
}

// inside returns a product of the box as its lots were made; as the book has it
// where no lot is recorded.
func (b *boxing) inside(p *label.Product) (all []*label.Product) {
	for _, u := range b.lot.Used {
		if inci.Fold(u.Name) != inci.Fold(p.Name) {
			continue
		}
		b.counted(p, u)
		for _, part := range u.Lots {
			inner := b.ledger.inner(u.Name, part.Code)
			if inner == nil {
				continue // the ledger says so
			}
			b.fit(inner, u.Pos)
			made, bad := b.bench.Made(inner)
			b.out = append(b.out, bad...)
			if made != nil {
				all = append(all, made)
			}
		}
	}
	if len(all) == 0 {
		b.add(RuleInside, finding.Warning, b.lot.Entry.Pos, fmt.Sprintf("which lot of %s is in the boxes is not recorded: its list is that of the book", p.Name),
			fmt.Sprintf("record a correction with used: {%s: LOT x PIECES}", p.Name))
		all = append(all, p)
	}
	return all
}

// counted says where the pieces that are said to be in the boxes are not those
// that the boxes hold: what is not said is counted as in hand still, and a
// recall would look for it there.
func (b *boxing) counted(p *label.Product, u Used) {
	hold, said, silent := 0, 0, ""
	for _, h := range b.holds {
		if inci.Fold(h.Product.Name) == inci.Fold(p.Name) {
			hold += h.Count * max(b.set.Count, 1) * b.lot.Pieces
		}
	}
	for _, part := range u.Lots {
		if said += part.Pieces; part.Pieces == 0 && silent == "" {
			silent = part.Code
		}
	}
	switch {
	case silent != "" && len(u.Lots) == 1:
		b.add(RuleInsideCount, finding.Warning, u.Pos, fmt.Sprintf("how many pieces of lot %s of %s are in the boxes is not said; they hold %d", silent, p.Name, hold),
			fmt.Sprintf("write used: {%s: %s x %d}", p.Name, silent, hold))
	case silent != "":
		b.add(RuleInsideCount, finding.Warning, u.Pos, fmt.Sprintf("how many pieces of lot %s of %s are in the boxes is not said; of all its lots they hold %d", silent, p.Name, hold),
			fmt.Sprintf("write it with each, as in used: {%s: [%s x %d, ...]}", p.Name, silent, max(hold-said, 1)))
	case said > hold:
		b.add(RuleInsideCount, finding.Warning, u.Pos, fmt.Sprintf("%d %s are said to be in the boxes, and they hold %d", said, p.Name, hold), "check the pieces, and the number of boxes")
	case said < hold:
		b.add(RuleInside, finding.Warning, u.Pos, fmt.Sprintf("of %d of the %d %s in the boxes no lot is named", hold-said, hold, p.Name), "record a correction that names it, if you know it")
	}
}

// fit says where a lot is not to be packed.
func (b *boxing) fit(inner *Lot, at finding.Pos) {
	switch s := b.ledger.StateOf(inner); {
	case b.ledger.OnTrial(inner):
		b.add(RuleInside, finding.Error, at, fmt.Sprintf("lot %s of %s in it is a trial", inner.Code, inner.Product), "keep the trial, or take other pieces")
	case s == Held || s == Curing:
		b.add(RuleInside, finding.Error, at, fmt.Sprintf("lot %s of %s in it is %s", inner.Code, inner.Product, s), "settle that lot first, or take other pieces")
	}
}
