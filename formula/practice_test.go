package formula_test

import (
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"

	"github.com/google/go-cmp/cmp"
)

// Common practice of the trade, no source: a bath melt of 10 oz baking soda,
// 5 oz citric acid, 3 oz cocoa butter, 1 oz shea butter, a quarter ounce each of
// polysorbate and scent. 19.5 oz in all; 10/19.5 = 51.28 %.
func TestBathMelt(t *testing.T) {
	oz := func(n string) string { return num(n).Mul(num("28.349523125")).String() + " g" } // 1 oz avoirdupois exactly
	melt := mix("bath melt", line(scent, oz("0.25")), line(poly, oz("0.25")), line(shea, oz("1")),
		line(cocoa, oz("3")), line(citric, oz("5")), line(soda, oz("10")))
	c := compose(t, piece(line(melt, "57 g")))
	keys, n := byKey(c)
	shares := c.Shares(n, formula.AsAdded)
	// At the tie other ingredients come before scent.
	order := formula.Rank(shares, func(a, b int) int {
		if (keys[a] == "SCENT") != (keys[b] == "SCENT") {
			if keys[a] == "SCENT" {
				return 1
			}
			return -1
		}
		return strings.Compare(string(keys[a]), string(keys[b]))
	})
	var got []string
	for _, x := range order {
		got = append(got, string(keys[x])+" "+shares[x].Typical.Mul(num("100")).Decimal(2, exact.Nearest).StringFixed(2))
	}
	want := []string{"SODA 51.28", "CITRIC 25.64", "COCOA 15.38", "SHEA 5.13", "POLY 1.28", "SCENT 1.28"}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if a, z := order[4], order[5]; !c.Gap(n, formula.AsAdded, a, z).IsZero() || !c.Gap(n, formula.AsAdded, z, a).IsZero() {
		t.Error("polysorbate and scent do not tie exactly")
	}
}
