package weigh

import (
	"testing"

	"panelwright/inci"
)

func TestLargest(t *testing.T) {
	for _, c := range []struct {
		name, weights  string
		us, eu, gb, ca string
	}{
		{"the mean, cut off", pieces(12, "160.9"), "Net Wt 5.64 oz (160 g)", "160 g", "160 g", "160 g"},
		{"under 100 g with a decimal", pieces(12, "52.37"), "Net Wt 1.84 oz (52.3 g)", "52.3 g", "52.3 g", "52.3 g"},
		{"a kilogram", pieces(12, "1234.5"), "Net Wt 43.38 oz (2 lb 11.38 oz) 1.23 kg", "1230 g", "1230 g", "1.23 kg"},
		// One piece of 150 g among 161: 157 - 7.1 = 149.9 is the first T1 not above it, 160 - 10.8 = 149.2.
		{"one light piece", pieces(12, "161.0", "150.0"), "Net Wt 5.64 oz (160 g)", "157 g", "157 g", "160 g"},
		// 159 - 2 x 7.2 = 144.6 is the first T2 not above it; 156 - 10.8 = 145.2.
		{"one far out of fifty", pieces(50, "161.0", "145.5"), "Net Wt 5.5 oz (156 g)", "159 g", "159 g", "159 g"},
	} {
		for m, want := range map[inci.Market]string{inci.US: c.us, inci.EU: c.eu, inci.GB: c.gb, inci.CA: c.ca} {
			if r := judged(t, m, "40 g", c.weights, 0); r.Largest.Text != want {
				t.Errorf("%s, %s: %q, want %q", c.name, m, r.Largest.Text, want)
			}
		}
	}
}

// 5 oz is 141.7476 g: a mean of 141.75 g bears it out, although 142 g, the next figure of three digits, is more.
func TestLargestInOunces(t *testing.T) {
	for _, c := range []struct{ weights, want string }{
		{pieces(4, "141.75"), "Net Wt 5 oz (141 g)"},
		{pieces(4, "141.74"), "Net Wt 4.97 oz (141 g)"},
		{pieces(4, "142.3"), "Net Wt 5 oz (142 g)"},
	} {
		if r := judged(t, inci.US, "5 oz", c.weights, 0); r.Largest.Text != c.want {
			t.Errorf("%s: %q, want %q", c.weights, r.Largest.Text, c.want)
		}
	}
}
