package label

import (
	"testing"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/inci"
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

// By hand: the readings lie on 101 + 9 exp(-days / 13.8), rounded to 0.01 g. That ends at 101 g, less some hundredths for
// the error of the fit: 100.9 g, rounded down. 114 days after the first it is 101.002 g, less the same: 100.9 g
// again. Where the maker states for how long it keeps, that is said without a day,
// so that no day to come says anything new; where she states a day, that day is named.
func TestDriedSaysTheSameOnEveryDay(t *testing.T) {
	p := rinseOff(weigh(of("SODIUM BICARBONATE"), "120"))
	p.Net = net("102")
	for i, g := range []string{"110", "106.42", "104.26", "102.18", "101.43", "101.06"} {
		p.Weights = append(p.Weights, Weighed{Day: date.Of(2026, 9, 1).AddDays([]int{0, 7, 14, 28, 42, 70}[i]), Grams: exact.Must(g)})
	}
	d := NewDesk(workshop())
	says := func(o date.Occasion) string {
		for _, f := range d.Declare(p, []inci.Market{inci.US}, o)[0].Findings {
			if f.Rule == RuleNetDried {
				return f.Message
			}
		}
		return ""
	}
	p.Keeps = Durability{Keeps: 24}
	want := "the pack says 102 g, but by the weighings it holds 100.9 g at the least once it loses no more"
	for _, day := range []string{"2026-12-01", "2028-03-01"} {
		if got := says(fresh(day)); got != want {
			t.Errorf("%s: %q, want %q", day, got, want)
		}
	}
	for _, c := range d.Calendar(d.Declare(p, []inci.Market{inci.EU, inci.US}, fresh("2026-12-01")), day("2028-12-01")) {
		if c.Finding.Rule == RuleNetDried {
			t.Errorf("told as a change: %s", c.Finding.Message)
		}
	}
	p.Keeps = Durability{Before: date.Of(2026, 12, 24)}
	want = "the pack says 102 g, but by the weighings it holds 100.9 g at the least on the last day of sale, 2026-12-24"
	if got := says(fresh("2026-12-01")); got != want {
		t.Errorf("a day stated: %q, want %q", got, want)
	}
}
