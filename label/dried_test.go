package label

import (
	"testing"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
)

// By hand: of 1000 g poured 300 g are water. A bar of 120 g fresh holds 36 g. At 100 g it has lost 20 g, and 16 g are
// left: 16 %. On a scale that reads 1 g it may have been 121 g and 99 g: 36.3 g less 22 g is 14.3 g of 99 g, 14.44 %;
// or 119 g and 101 g: 35.7 g less 18 g is 17.7 g of 101 g, 17.52 %.
func TestWaterWeighed(t *testing.T) {
	soap := &formula.Formula{Name: "soap"}
	r := &formula.Reaction{Formula: soap, Poured: exact.Int(1000), FreeWater: exact.Int(300)}
	on := func(d int, g int64) Weighed { return Weighed{Day: date.Of(2026, 9, d), Grams: exact.Int(g)} }
	bar := func(w ...Weighed) *Declaration {
		return &Declaration{Product: &Product{Weights: w, Piece: formula.Piece{Lines: []formula.Line{{Formula: soap}}}}}
	}
	for _, c := range []struct {
		name   string
		x      *Declaration
		step   exact.Rat
		lo, hi string
		ok     bool
	}{
		{"an exact scale", bar(on(1, 120), on(8, 104), on(28, 100)), exact.Rat{}, "16.00", "16.00", true},
		{"in any order, the lowest counts", bar(on(28, 100), on(29, 103), on(1, 120)), exact.Rat{}, "16.00", "16.00", true},
		{"a scale of 1 g", bar(on(1, 120), on(28, 100)), exact.Int(1), "14.44", "17.52", true},
		{"weighed once", bar(on(1, 120)), exact.Rat{}, "", "", false},
		{"more lost than there was water", bar(on(1, 120), on(28, 80)), exact.Rat{}, "", "", false},
		{"only gained", bar(on(1, 120), on(28, 122)), exact.Rat{}, "", "", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			w, ok := c.x.waterWeighed(r, c.step)
			if ok != c.ok {
				t.Fatalf("told: %v", ok)
			}
			if ok && (Percent(w.Lo, 2, exact.Nearest) != c.lo || Percent(w.Hi, 2, exact.Nearest) != c.hi) {
				t.Errorf("%s to %s %%, want %s to %s", Percent(w.Lo, 2, exact.Nearest), Percent(w.Hi, 2, exact.Nearest), c.lo, c.hi)
			}
		})
	}
	of := bar(on(1, 120), on(28, 100))
	of.Product.Piece.Lines = append(of.Product.Piece.Lines, formula.Line{})
	if _, ok := of.waterWeighed(r, exact.Rat{}); ok {
		t.Error("a piece of two parts does not tell what the soap lost")
	}
}
