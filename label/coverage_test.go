package label

import (
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// S8: what the sheet of a scent does not cover is unknown, not zero.
func TestCoverage(t *testing.T) {
	covers := func(lists ...inci.List) *formula.Material {
		return with(fragrance("hay"), func(s *Sheet) { s.Covers = lists })
	}
	unread := func(k formula.Key, class string) *formula.Material { return pure("hay", k, class) }
	before, after := fresh("2026-07-31"), fresh("2026-08-01")
	for _, c := range []struct {
		name   string
		scent  *formula.Material
		market inci.Market
		on     date.Occasion
		says   string // in the error; "" for none
	}{
		{"no sheet", covers(), inci.EU, after, "hay has no sheet for the 81 listed fragrance allergens"},
		{"no sheet before the date", covers(), inci.EU, before, "hay has no sheet for the 24 listed fragrance allergens"},
		{"no sheet in GB", covers(), inci.GB, after, "hay has no sheet for the 24 listed fragrance allergens"},
		{"no sheet in CA before the rule", covers(), inci.CA, fresh("2026-04-11"), ""},
		{"no sheet in CA", covers(), inci.CA, fresh("2026-04-12"), "hay has no sheet for the 24 listed fragrance allergens"},
		{"no sheet in the US", covers(), inci.US, after, ""},
		{"eu-26 before the date", covers(inci.EU26), inci.EU, before, ""},
		// 57 new entries, and the isomers added to entry 88.
		{"eu-26 after the date", covers(inci.EU26), inci.EU, after, "the sheet of hay does not answer 58 of the 81"},
		{"eu-26 after the date, old stock", covers(inci.EU26), inci.EU, stock("2026-07-31", "2026-12-01"), ""},
		{"eu-26 after the date in NI", covers(inci.EU26), inci.NI, after, "58 of the 81"},
		{"eu-26 after the date in CA", covers(inci.EU26), inci.CA, after, "58 of the 81"},
		{"eu-24 in GB", covers(inci.EU24), inci.GB, after, ""},
		{"gb in GB", covers(inci.GBR), inci.GB, after, ""},
		{"gb in the EU", covers(inci.GBR), inci.EU, after, "58 of the 81"},
		{"eu-81", covers(inci.EU81), inci.EU, after, ""},
		{"eu-81 in GB", covers(inci.EU81), inci.GB, after, ""},
		{"a pure aroma chemical needs none", unread("LINALOOL", "fragrance-constituent"), inci.EU, after, ""},
		{"neither does a salt", unread("SODIUM CHLORIDE", "salt"), inci.EU, after, ""},
		{"an essential oil without a sheet", unread(lavender, "essential-oil"), inci.EU, after, "hay has no sheet for the 81"},
		{"parfum in a base that is no fragrance", blend("hay", "surfactant", part("DECYL GLUCOSIDE", "99"), part(parfum, "1")), inci.EU, after, "81"},
		{"an essential oil in a base that is no fragrance", blend("hay", "butter", part("CERA ALBA", "99"), part(lavender, "1")), inci.EU, after, "hay has no sheet for the 81"},
	} {
		t.Run(c.name, func(t *testing.T) {
			x := declareIn(c.market, rinseOff(weigh(of("SODIUM BICARBONATE"), "99"), weigh(c.scent, "1")), c.on)
			f := found(x.Findings, "allergen.uncovered")
			switch {
			case c.says == "" && len(f) > 0:
				t.Errorf("unexpected: %s", f[0].Line())
			case c.says != "" && (len(f) != 1 || f[0].Severity != finding.Error || !strings.Contains(f[0].Message, c.says)):
				t.Errorf("got %v, want %q", f, c.says)
			}
		})
	}
	t.Run("an oil answers for its own entry, a figure for its own", func(t *testing.T) {
		s := with(essential(lavender, "LINALOOL 30"), func(s *Sheet) { s.Covers = nil })
		x := declareIn(inci.EU, rinseOff(weigh(of("SODIUM BICARBONATE"), "99"), weigh(s, "1")), after)
		if f := found(x.Findings, "allergen.uncovered"); len(f) != 1 || !strings.Contains(f[0].Message, "79 of the 81") {
			t.Errorf("%v", f)
		}
	})
	t.Run("figures answer what no list covers", func(t *testing.T) {
		s := with(fragrance("hay", "LINALYL ACETATE 0", "LIMONENE 0.2"), func(s *Sheet) { s.Covers = []inci.List{inci.EU26} })
		x := declareIn(inci.EU, rinseOff(weigh(of("SODIUM BICARBONATE"), "99"), weigh(s, "1")), after)
		if f := found(x.Findings, "allergen.uncovered"); len(f) != 1 || !strings.Contains(f[0].Message, "56 of the 81") {
			t.Errorf("%v", f)
		}
	})
}

// Estimates are asked about only where they decide a statement (S27).
func TestEstimates(t *testing.T) {
	for _, c := range []struct {
		name, estimated, stated string // linalool, per cent of an oil at 1 %
		asks                    bool
	}{
		{"above the threshold", "30-45", "", true},
		{"perhaps above it", "0-3", "", true},
		{"never above it", "0-0.5", "", false},
		{"above it already by what the sheet of another scent says", "30-45", "5", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			oil := essential("MELALEUCA ALTERNIFOLIA LEAF OIL", "LINALOOL "+c.estimated)
			oil.Constituents[0].Estimated = true
			oil.Pos = finding.Pos{File: "scents.yaml", Line: 7}
			p := rinseOff(weigh(of("SODIUM BICARBONATE"), "98"), weigh(oil, "1"))
			if c.stated != "" {
				p = rinseOff(weigh(of("SODIUM BICARBONATE"), "98"), weigh(fragrance("hay", "LINALOOL "+c.stated), "1"), weigh(oil, "1"))
			}
			x := declareIn(inci.EU, p, today)
			if !allergen(t, x, "Linalool").Estimated {
				t.Error("the row is not marked as estimated")
			}
			f := found(x.Findings, "allergen.estimate")
			if got := len(f) == 1 && f[0].Severity == finding.Question; got != c.asks {
				t.Errorf("asked %v: %v", got, f)
			}
			if c.asks && len(f) == 1 && f[0].Where != oil.Pos {
				t.Errorf("asked at %v, want the oil at %v", f[0].Where, oil.Pos)
			}
		})
	}
}
