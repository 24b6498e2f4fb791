package label

import (
	"fmt"

	"panelwright/formula"
	"panelwright/formula/finding"
)

// RuleAnotherList is the code of a list that another sheet of a material makes
// differ.
const RuleAnotherList finding.Code = "sheet.another-list"

// judgeSheets compares the list with what it is by the later sheets of the
// materials: while lots with different sheets are in use, a label is good for
// all of them only where the lists are the same. Which lot went into a piece is
// in the records, not in the book.
func (d *Desk) judgeSheets(x *Declaration) {
	if x.Composition == nil {
		return
	}
	c := x.Composition.Weighed()
	for i := range c.Items {
		m := c.Items[i].Material
		for _, l := range sheet(m).Later {
			d.judgeSheet(x, m, l)
		}
	}
}

func (d *Desk) judgeSheet(x *Declaration, m *formula.Material, l LaterSheet) {
	p := *x.Product
	p.Piece = *p.Piece.Changed(formula.Change{Material: func(o *formula.Material) *formula.Material {
		if o == m {
			return l.Material
		}
		return o
	}})
	comp, bad := formula.NewComposer().Compose(&p.Piece) // what it would remember is of no use again
	if comp == nil {
		for _, f := range bad {
			x.add(f)
		}
		return
	}
	y := d.declare(&p, comp, nil, x.Market, x.Occasion)
	which := fmt.Sprintf("%s from lot %s on", m.Name, l.FromLot)
	if l.FromLot == "" {
		which = fmt.Sprintf("%s of the lots %s", m.Name, inWords(l.Lots))
	}
	if ref := sheet(l.Material).Ref; ref != "" {
		which += " (" + ref + ")"
	}
	f := finding.Finding{Rule: "sheet.same-list", Severity: finding.Note, Where: l.Pos, Message: "with " + which + " the list is the same: one label is good for both", Source: practice}
	if diff := listChange(x, y); len(diff) > 0 {
		f = finding.Finding{Rule: RuleAnotherList, Severity: finding.Warning, Where: l.Pos, Message: "with " + which + " " + diff[0].finding.Message + ": no label is good for both",
			Cure: "record which lot went into each lot of the product, and print by lot (print --lot); once the old lots are used up, let the new sheet take the place of the old one", Source: practice}
	}
	x.add(f)
	for _, g := range y.Findings {
		if g.Severity == finding.Error && !alreadySaid(x.Findings, g) {
			g.Message = "with " + which + ": " + g.Message
			x.Findings.Add(g)
		}
	}
}

// alreadySaid reports whether a list holds the finding.
func alreadySaid(all finding.List, f finding.Finding) bool {
	for _, o := range all {
		if o.Rule == f.Rule && o.Message == f.Message && o.Market == f.Market {
			return true
		}
	}
	return false
}
