package label

import (
	"maps"
	"slices"

	"panelwright/formula"
	"panelwright/formula/finding"
)

// Ask gives the Desk the questions that reading the book raised, such as which
// ounce a line means. A question about a line holds back every product that the
// line goes into. It must be called before the first judgement.
func (d *Desk) Ask(found finding.List) {
	for _, f := range found {
		if f.Severity != finding.Question {
			continue
		}
		if d.asked == nil {
			d.asked = map[bookLine]finding.List{}
		}
		at := lineOf(f.Where)
		d.asked[at] = append(d.asked[at], f)
	}
}

// bookLine is a line of a file of the book.
type bookLine struct {
	file string
	line int
}

func lineOf(p finding.Pos) bookLine { return bookLine{p.File, p.Line} }

// judgeLines goes through the lines that the piece is made of: it adds the
// questions that were raised about them and about their materials, and reports
// fillings that no line asks for.
func (d *Desk) judgeLines(x *Declaration) {
	p := x.Product
	seen := map[bookLine]bool{}
	at := func(pos finding.Pos) {
		if l := lineOf(pos); d.asked != nil && !seen[l] {
			seen[l] = true
			for _, f := range d.asked[l] {
				x.add(f)
			}
		}
	}
	var slots []string
	used := map[*formula.Formula]bool{} // a formula can be met by very many ways
	var lines func(ls []formula.Line)
	lines = func(ls []formula.Line) {
		for i := range ls {
			at(ls[i].Pos)
			f := ls[i].Formula
			if ls[i].Slot != "" {
				slots = append(slots, ls[i].Slot)
				f = p.Piece.Slots[ls[i].Slot].Formula
			}
			if f != nil && !used[f] {
				used[f] = true
				lines(f.Lines)
			}
		}
	}
	lines(p.Piece.Lines)
	for i := range x.Composition.Items {
		at(x.Composition.Items[i].Material.Pos)
	}
	for _, name := range slices.Sorted(maps.Keys(p.Piece.Slots)) {
		if !slices.Contains(slots, name) {
			x.add(finding.Finding{Rule: "product.unused-slot", Severity: finding.Error, Where: firstPos(p.Piece.Slots[name].Pos, p.At("slots")),
				Message: "the slot \"" + name + "\" is filled, but no formula of this product has it",
				Cure:    "take it out, or write it as a line of the mix"})
		}
	}
}
