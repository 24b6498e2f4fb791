package label

import (
	"strings"
	"testing"

	"panelwright/formula/finding"
	"panelwright/inci"
)

// Above 0.01 % rinse-off and 0.001 % leave-on, strictly: Annex III, column h;
// Cosmetic Regulations s. 21.4(1). The scent is 1 % of the piece.
func TestThresholds(t *testing.T) {
	for _, c := range []struct {
		name, linalool string // per cent of the scent
		exposure       Exposure
		want           bool
		prints         string
	}{
		{"rinse-off just below", "0.9999", RinseOff, false, "0.009999"},
		{"rinse-off exactly", "1", RinseOff, false, "0.0100"},
		{"rinse-off just above", "1.0001", RinseOff, true, "0.0101"},
		{"rinse-off above by a hair", "1.000000000001", RinseOff, true, "0.0101"},
		{"leave-on just below", "0.09999", LeaveOn, false, "0.00099990"},
		{"leave-on exactly", "0.1", LeaveOn, false, "0.0010"},
		{"leave-on just above", "0.10001", LeaveOn, true, "0.0011"},
		{"unstated, judged as leave-on", "0.10001", Unstated, true, "0.0011"},
	} {
		for _, m := range []inci.Market{inci.EU, inci.GB, inci.NI, inci.CA} {
			p := rinseOff(weigh(of("SODIUM BICARBONATE"), "99"), weigh(fragrance("hay", "LINALOOL "+c.linalool), "1"))
			p.Exposure = c.exposure
			x := declareIn(m, p, today)
			r := allergen(t, x, "Linalool")
			if r.Declared != c.want || !r.Certain || strings.Contains(x.Text(), "Linalool") != c.want {
				t.Errorf("%s in %s: declared %v, certain %v: %s", c.name, m, r.Declared, r.Certain, x.Text())
			}
			if got := r.Greatest(); got != c.prints {
				t.Errorf("%s in %s: printed as %s, want %s", c.name, m, r.Greatest(), c.prints)
			}
			f := found(x.Findings, "product.exposure")
			if (len(f) == 1 && f[0].Severity == finding.Error) != (c.exposure == Unstated) {
				t.Errorf("%s in %s: %v", c.name, m, f)
			}
		}
	}
}

func TestRangeAcrossTheThreshold(t *testing.T) {
	for _, c := range []struct {
		name, linalool    string
		declared, certain bool
	}{
		{"wholly below", "0.2-1", false, true},
		{"across", "0.2-1.2", true, false},
		{"wholly above", "1.1-1.2", true, true},
		{"from the threshold up", "1-1.2", true, false},
		{"less than 0.1 %", "0-0.1", false, true},
	} {
		x := declareIn(inci.EU, rinseOff(weigh(of("SODIUM BICARBONATE"), "99"), weigh(fragrance("hay", "LINALOOL "+c.linalool), "1")), today)
		if r := allergen(t, x, "Linalool"); r.Declared != c.declared || r.Certain != c.certain {
			t.Errorf("%s: declared %v, certain %v", c.name, r.Declared, r.Certain)
		}
	}
}

// S13: thresholds are judged on the finished mass at the greatest drying.
func TestDryingRaisesTheShare(t *testing.T) {
	for _, c := range []struct {
		name, dries string
		want        bool
	}{
		{"nothing dries", "", false},
		{"the greatest drying counts", "0-100", true},
		{"all dries", "100", true},
		{"just not enough", "20", false}, // 0.95/(1 - 0.25 x 0.20) = 1
		{"just enough", "20.001", true},
	} {
		wet := mix("wet mix", c.dries, weigh(water(), "25"), weigh(of("KAOLIN"), "74"), weigh(fragrance("hay", "LINALOOL 0.95"), "1"))
		x := declareIn(inci.EU, rinseOff(weigh(wet, "100")), today)
		if r := allergen(t, x, "Linalool"); r.Declared != c.want {
			t.Errorf("%s: %s %%, declared %v", c.name, r.Greatest(), r.Declared)
		}
		// The order is that of the weight when added.
		if got := Show(entry(t, x, "Aqua").Share).Typical; got != "25.00" {
			t.Errorf("%s: aqua %s %%", c.name, got)
		}
	}
}
