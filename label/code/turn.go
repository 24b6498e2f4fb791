package code

import (
	"slices"

	"panelwright/formula/finding"
	"panelwright/label/scene"
)

// Turned returns the symbol turned to the left by a quarter, with its light margins and its digits: its bars lie like
// the rungs of a ladder, and the digits are read upwards.
func (s *Symbol) Turned() *Symbol {
	t := *s
	t.W, t.H = s.H, s.W
	t.items = (&scene.Scene{W: s.W, H: s.H, Items: s.items}).QuarterTurned().Items
	return &t
}

// Bends reports whether a symbol that goes round a pack of so large a diameter, its bars upright, bends too far for a
// scanner: then its bars have to lie like the rungs of a ladder, see [Symbol.Turned]. The light margins are counted
// as part of the symbol, which is stricter where they are not meant.
func (s *Symbol) Bends(diameter scene.Um) bool {
	// Half the symbol, along the curve, spans an angle of W/d radians; pi is 355/113, more than it is by a tenth of a
	// millionth.
	return s.W*180*113 > diameter*355*data().bend
}

// BendSource says where the angle is from that [Symbol.Bends] goes by.
func BendSource() finding.Citation { return data().bendSource }

// curve reads the greatest angle, in degrees, between the middle of a symbol and its end.
func (t *tables) curve() {
	all := rows("curve.csv")
	i := slices.IndexFunc(all, func(r row) bool { return r["what"] == "angle" })
	t.bend, t.bendSource = scene.Um(all[i].number("degrees")), all[i].cite()
}
