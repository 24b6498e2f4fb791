package market

import (
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Quantity is the net quantity of a pack as the maker states it: the whole
// pack, not one of several pieces in it.
type Quantity struct {
	Amount exact.Rat // grams, or millilitres if Volume
	Volume bool
	Text   string // as written: "160 g", "4 1/2 oz"
	Unit   string // the unit as written: g, kg, oz, lb, ml, l, fl oz, pt, qt, gal
	Pos    finding.Pos
}

// IsZero reports whether no quantity was stated.
func (q Quantity) IsZero() bool { return q.Amount.IsZero() }

// unit returns the unit the quantity was written in. Where it names none, or
// one that does not measure it, that is the gram or the millilitre; a bare oz
// of a volume is the fluid ounce.
func (q Quantity) unit() Unit {
	want, base := Mass, "g"
	if q.Volume {
		want, base = Volume, "ml"
	}
	u, ok := UnitNamed(q.Unit)
	switch {
	case ok && u.Dimension == want:
		return u
	case ok && q.Volume && u.Symbol == "oz":
		return mustUnit("fl oz")
	}
	return mustUnit(base)
}
