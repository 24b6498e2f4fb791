package record

import (
	"panelwright/formula/quantity"
)

// nearLot names the recorded lot that a code may have meant.
func (l *Ledger) nearLot(code string) string {
	var all []string
	for _, x := range l.Lots {
		all = append(all, x.Code)
	}
	if near := nearest(code, all); near != "" {
		return "did you mean " + near + "?"
	}
	return "record it first: made: PRODUCT, lot: " + code
}

func (l *Ledger) nearReceipt(material, code string) string {
	var all []string
	for _, r := range l.ReceiptsOf(material) {
		all = append(all, r.Code)
	}
	return nearest(code, all)
}

// nearest returns the code that differs from another by one slip of the hand,
// or "".
func nearest(code string, all []string) string {
	best := ""
	for _, c := range all {
		if quantity.Distance(fold(code), fold(c)) == 1 {
			if best != "" {
				return "" // two are as near: neither is meant for certain
			}
			best = c
		}
	}
	return best
}
