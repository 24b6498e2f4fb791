package market

import (
	"strings"
	"testing"

	"panelwright/inci"
)

// Art. 19(1)(c): a date at 30 months or less, 30 included; above it the period.
func TestDated(t *testing.T) {
	for _, c := range []struct {
		m            inci.Market
		months       int
		dated, known bool
	}{
		{inci.EU, 29, true, true}, {inci.EU, 30, true, true}, {inci.EU, 31, false, true}, {inci.NI, 30, true, true}, {inci.GB, 31, false, true},
		{inci.EU, 0, false, false}, {inci.US, 12, false, false}, {inci.CA, 12, false, false},
	} {
		if dated, known := For(c.m).Dated(c.months); dated != c.dated || known != c.known {
			t.Errorf("%s, %d months: %v %v", c.m, c.months, dated, known)
		}
	}
}

func TestHome(t *testing.T) {
	for _, c := range []struct {
		m           inci.Market
		country     string
		home, known bool
	}{
		{inci.EU, "de", true, true}, {inci.EU, "GB", false, true}, {inci.GB, "UK", true, true}, {inci.GB, "XI", true, true}, {inci.NI, "IE", true, true},
		{inci.US, "USA", true, true}, {inci.US, "CA", false, true}, {inci.CA, "CA", true, true}, {inci.CA, "Canada", false, false}, {inci.EU, "", false, false},
	} {
		if home, known := For(c.m).Home(c.country); home != c.home || known != c.known {
			t.Errorf("%s made in %q: %v %v", c.m, c.country, home, known)
		}
	}
}

func TestParfumOnly(t *testing.T) {
	for m, want := range map[inci.Market]bool{inci.EU: true, inci.GB: true, inci.NI: true, inci.US: false, inci.CA: false} {
		if got, source := For(m).ParfumOnly(); got != want || want && !strings.Contains(source.Text, "19(1)(g)") {
			t.Errorf("%s: %v, %v", m, got, source)
		}
	}
}
