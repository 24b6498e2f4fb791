package formula_test

import (
	"testing"

	"panelwright/formula"
)

// Typical figures, worked by hand: lo + t(hi - lo) on the tightened bounds, with one t per material.
func TestTypical(t *testing.T) {
	for _, tt := range []struct {
		name  string
		parts []string
		want  map[formula.Key]string
	}{
		{
			// lows sum to 80, highs to 120: t = (100 - 80)/(120 - 80) = 0.5
			"half way", []string{"A 40-60", "B 40-60"}, map[formula.Key]string{"A": "0.5", "B": "0.5"},
		},
		{
			// the rest is 100 - 62 - 40 < 0 to 100 - 50 - 30 = 20, so 0 to 20; lows 80, highs 122: t = 20/42 = 10/21
			"undisclosed rest", []string{"A 50-62", "B 30-40", "C 0-100"},
			map[formula.Key]string{"A": "1170/2100", "B": "730/2100", "C": "200/2100"},
		},
		{
			// B takes 100 - 70 = 30 at least and 100 - 60 = 40 at most: bounds 60-70 and 30-40, t = 10/20
			"tightened before t", []string{"A 60-70", "B 0-90"}, map[formula.Key]string{"A": "0.65", "B": "0.35"},
		},
		{"one figure each", []string{"A 70", "B 30"}, map[formula.Key]string{"A": "0.7", "B": "0.3"}},
		{"only one choice left", []string{"A 70-80", "B 30-40"}, map[formula.Key]string{"A": "0.7", "B": "0.3"}},
		{"the sheet's own figures", []string{"A 60-70 =62", "B 30-40 =38"}, map[formula.Key]string{"A": "0.62", "B": "0.38"}},
		// 80 + 20 is the whole, but 80 is more than the range has: the ends are 70 and 30
		{"figures outside their ranges", []string{"A 60-70 =80", "B 30-40 =20"}, map[formula.Key]string{"A": "0.7", "B": "0.3"}},
		{
			// A is 62; B and C share 38: lows 10 + 20, highs 15 + 30: t = 8/15
			"a figure for one part", []string{"A 60-70 =62", "B 10-15", "C 20-30"},
			map[formula.Key]string{"A": "0.62", "B": "190/1500", "C": "380/1500"},
		},
		{
			// 60 + 35 is not the whole: the figures are set aside. Lows 90, highs 110: t = 0.5
			"figures that do not sum", []string{"A 60-70 =60", "B 30-40 =35"}, map[formula.Key]string{"A": "0.65", "B": "0.35"},
		},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := sharesOf(compose(t, piece(line(blend("blend", tt.parts...), "10 g"))), formula.AsAdded)
			for k, s := range tt.want {
				if !got[k].Typical.Equal(fraction(s)) {
					t.Errorf("%s: %v, want %s", k, got[k].Typical, s)
				}
			}
		})
	}
}
