package label

import (
	"strings"
	"testing"

	"panelwright/formula/finding"
	"panelwright/inci"
)

// S27: what a row decides that is known from memory alone is a warning, and says
// so; the same figure read in a text is an error.
func TestUnreadRows(t *testing.T) {
	filter := func(percentage string) *Product {
		left := map[string]string{"8": "92", "11": "89"}[percentage]
		p := leaveOn(weigh(of("BUTYROSPERMUM PARKII BUTTER"), left), weigh(pure("filter", "HOMOSALATE", "uv-filter"), percentage))
		p.Type = "face balm"
		return p
	}
	for _, c := range []struct {
		name string
		m    inci.Market
		p    *Product
		rule string
		want finding.Severity
		seen finding.Seen
	}{
		{"read in the list", inci.EU, filter("8"), "eu.annex-vi.limit", finding.Error, finding.Yes},
		{"its own figure in Great Britain, from memory", inci.GB, filter("11"), "gb.annex-vi.limit", finding.Warning, finding.Memory},
		{"taken over from a text that was read", inci.GB, rinseOff(soda("98"), weigh(pure("kept", "PHENOXYETHANOL", "preservative"), "2")), "gb.annex-v.limit", finding.Error, finding.Secondary},
		{"an entry of the Hotlist without figures", inci.CA, leaveOn(soda("95"), weigh(of("CAMPHOR"), "5")), "ca.hotlist.condition", finding.Warning, finding.Memory},
		{"a colour that the list does not name", inci.EU, rinseOff(soda("99"), weigh(pure("dye", "CI 99999", "colourant"), "1")), "eu.annex-iv.use", finding.Error, finding.Memory},
		{"a ban that Great Britain took over", inci.GB, leaveOn(soda("99"), weigh(of("CHLOROFORM"), "1")), "gb.prohibited", finding.Error, finding.Secondary},
	} {
		f := oneOf(t, declareIn(c.m, c.p, today), finding.Code(c.rule))
		if f.Severity != c.want || f.Source.Seen != c.seen || strings.Contains(f.Message, "does not hold the print back") != (c.want == finding.Warning && !strings.HasSuffix(c.rule, ".condition")) {
			t.Errorf("%s: %s %s (%s)", c.name, f.Severity, f.Line(), f.Source)
		}
	}
}
