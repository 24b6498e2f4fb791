package record

import (
	"fmt"
	"slices"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/label"
)

// whichSheet asks where it is open which of several sheets describes a lot of a
// material: the sheets go by the order in which lots came in, and of this one no
// day is recorded. A lot that a sheet begins with and that is not recorded has
// not come in yet.
func (m *making) whichSheet(x *formula.Material, code string) {
	s, ok := x.Info.(*label.Sheet)
	if !ok || m.ledger.Receipt(x.Name, code) != nil {
		return
	}
	same := func(c string) bool { return fold(c) == fold(code) }
	first := ""
	for _, l := range s.Later {
		if same(l.FromLot) || slices.ContainsFunc(l.Lots, same) {
			return // it is named
		}
		if first == "" && l.FromLot != "" && m.ledger.Receipt(x.Name, l.FromLot) != nil {
			first = l.FromLot
		}
	}
	if first == "" {
		return
	}
	m.out.Add(finding.Finding{Rule: RuleWhichSheet, Severity: finding.Question, Product: m.made.Book.Name, Where: m.made.Lot.Entry.Pos,
		Message: fmt.Sprintf("lot %s: which sheet of %s is that of lot %s is open: whether it came in before lot %s is not recorded", m.made.Lot.Code, x.Name, code, first),
		Cure:    fmt.Sprintf("record it: received: %s, lot: %s, and the day; or name the lot in the book, under lots: of its sheet", x.Name, code)})
}
