package label

import (
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// S12. Mica is not in Annex IV, so it goes by weight in the EU, GB and NI; it is
// a listed colour additive in the US (21 CFR 73.2496).
func TestColours(t *testing.T) {
	pearl := blend("gold pearl", "colourant", part("MICA", "60"), part("CI 77891", "25"), part("CI 77491", "13"), part("TIN OXIDE", "2"))
	p := rinseOff(weigh(of("SODIUM BICARBONATE"), "87"), weigh(pearl, "10"), weigh(of("GLYCERIN"), "3"))
	for m, want := range map[inci.Market]string{
		inci.EU: "Sodium Bicarbonate, Mica, Glycerin, Tin Oxide, CI 77891, CI 77491",
		inci.GB: "Sodium Bicarbonate, Mica, Glycerin, Tin Oxide, CI 77891, CI 77491",
		inci.NI: "Sodium Bicarbonate, Mica, Glycerin, Tin Oxide, CI 77891, CI 77491",
		inci.CA: "Sodium Bicarbonate, Mica, Glycerin, Tin Oxide, CI 77891, CI 77491",
		inci.US: "Sodium Bicarbonate, Glycerin, Tin Oxide, Mica, Titanium Dioxide, Iron Oxides",
	} {
		x := declareIn(m, p, today)
		wantList(t, x, want)
		if got, want := entry(t, x, "Mica").Kind == Colourant, m == inci.US; got != want {
			t.Errorf("%s: mica a colourant: %v", m, got)
		}
	}
}

func TestColourWithoutListing(t *testing.T) {
	for _, c := range []struct {
		name string
		key  formula.Key
		says string
	}{
		{"curcumin is not listed", "CI 75300", "no listing"},
		{"carbon black is listed for make-up types only (21 CFR 74.2052)", "CI 77266", "named make-up types only"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := rinseOff(weigh(of("SODIUM BICARBONATE"), "99"), weigh(of(c.key), "1"))
			for _, m := range inci.Markets {
				x := declareIn(m, p, today)
				f := found(x.Findings, "list.no-name")
				switch {
				case m != inci.US && len(f) > 0:
					t.Errorf("%s: %s", m, f[0].Line())
				case m == inci.US && (len(f) != 1 || f[0].Severity != finding.Error || !strings.Contains(f[0].Message, c.says)):
					t.Errorf("US: %v", f)
				}
			}
		})
	}
	t.Run("two are two errors, and no name is empty", func(t *testing.T) {
		x := declareIn(inci.US, rinseOff(weigh(of("SODIUM BICARBONATE"), "98"), weigh(of("CI 75300"), "1"), weigh(of("CI 45430"), "1")), today)
		if f := found(x.Findings, "list.no-name"); len(f) != 2 {
			t.Errorf("%d errors: %v", len(f), f)
		}
		for _, e := range x.Entries {
			if e.Name == "" {
				t.Errorf("an empty name in %q", x.Text())
			}
		}
	})
}
