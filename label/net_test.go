package label

import (
	"strings"
	"testing"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// S22: net is judged on the lowest mass after drying, and of two statements the
// larger one binds (21 CFR 701.13, net-quantity.md).
func TestNet(t *testing.T) {
	ounces := func(n string) market.Quantity {
		return market.Quantity{Amount: exact.Must(n).Mul(exact.Must("28.349523125")), Text: n + " oz", Unit: "oz"}
	}
	piece := func(g string) *Product { return rinseOff(weigh(of("SODIUM BICARBONATE"), g)) }
	wet := func(dries string) *Product {
		return rinseOff(weigh(mix("wet mix", dries, weigh(water(), "20"), weigh(of("SODIUM BICARBONATE"), "80")), "100"))
	}
	for _, c := range []struct {
		name   string
		p      *Product
		net    market.Quantity
		market inci.Market
		text   string // printed
		rule   finding.Code
		says   string
	}{
		{"exactly the mass", piece("100"), net("100"), inci.EU, "100 g", "", ""},
		{"a tenth of a gram over", piece("99.9"), net("100"), inci.EU, "100 g", "net.over", "the recipe leaves 99.9 g at the greatest drying: 0.1 g short"},
		{"a hair over", piece("99.9999"), net("100"), inci.EU, "100 g", "net.over", "99.9 g at the greatest drying: 0.01 g short"},
		{"within the drying", wet("50"), net("90"), inci.EU, "90 g", "", ""},
		{"above the mass after drying", wet("50"), net("91"), inci.EU, "91 g", "net.over", "90 g at the greatest drying: 1 g short"},
		{"the greatest of a range of drying", wet("10-75"), net("86"), inci.EU, "86 g", "net.over", "85 g at the greatest drying: 1 g short"},
		{"missing", piece("100"), market.Quantity{}, inci.EU, "", "net.missing", "the net quantity is not stated"},
		{"missing in the US", piece("100"), market.Quantity{}, inci.US, "", "net.missing", "the net quantity is not stated"},
		// 100 g is 3.527 oz, cut off (worked example F3).
		{"grams first in the US", piece("100"), net("100"), inci.US, "Net Wt 3.52 oz (100 g)", "", ""},
		// 4.5 oz is 127.57 g, printed 127 g (worked example F1): the ounces bind.
		{"ounces that fit", piece("127.58"), ounces("4.5"), inci.US, "Net Wt 4.5 oz (127 g)", "", ""},
		{"grams would fit, the larger ounces do not", piece("127.5"), ounces("4.5"), inci.US, "Net Wt 4.5 oz (127 g)", "net.over", "127.5 g at the greatest drying: 0.08 g short"},
		{"in the EU only the grams are printed, and they fit", piece("127.2"), ounces("4.5"), inci.EU, "127 g", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.p.Net = c.net
			x := declareIn(c.market, c.p, today)
			if x.Net.Text != c.text {
				t.Errorf("prints %q, want %q", x.Net.Text, c.text)
			}
			var got finding.List
			for _, f := range x.Findings {
				if strings.Contains(string(f.Rule), "net") && f.Severity > finding.Note {
					got = append(got, f)
				}
			}
			switch {
			case c.rule == "" && len(got) > 0:
				t.Errorf("unexpected: %v", got)
			case c.rule != "" && (len(got) != 1 || got[0].Rule != c.rule || got[0].Severity != finding.Error || !strings.Contains(got[0].Message, c.says)):
				t.Errorf("got %v, want %s: %s", got, c.rule, c.says)
			}
		})
	}
}

// 21 CFR 701.13(c): a count does not tell the amount; the weight of the whole
// pack is judged against all of its pieces.
func TestNetOfSeveralPieces(t *testing.T) {
	p := rinseOff(weigh(of("SODIUM BICARBONATE"), "14.2"))
	p.Count, p.CountWords, p.Net = 6, "melts", net("85")
	for m, want := range map[inci.Market]string{inci.US: "6 melts, Net Wt 2.99 oz (85 g)", inci.EU: "6 melts, 85 g"} {
		x := declareIn(m, p, today)
		if x.Net.Text != want || len(found(x.Findings, "net.over")) > 0 {
			t.Errorf("%s: %q, %v", m, x.Net.Text, x.Findings)
		}
	}
	p.Net = net("85.3")
	if f := found(declareIn(inci.EU, p, today).Findings, "net.over"); len(f) != 1 || !strings.Contains(f[0].Message, "leaves 85.2 g") {
		t.Errorf("six of 14.2 g hold 85.2 g: %v", f)
	}
	p.Net = market.Quantity{}
	if f := found(declareIn(inci.US, p, today).Findings, "us.net.count-alone"); len(f) != 1 || !strings.Contains(f[0].Cure, "85.2 g at most") {
		t.Errorf("six pieces without a weight: %v", f)
	}
}

func TestNetByVolume(t *testing.T) {
	p := rinseOff(weigh(of("SODIUM BICARBONATE"), "100"))
	p.Net = market.Quantity{Amount: exact.Int(100), Volume: true, Text: "100 ml", Unit: "ml"}
	x := declareIn(inci.EU, p, today)
	if f := found(x.Findings, "net.volume"); len(f) != 1 || f[0].Severity != finding.Note || x.Net.Text != "100 ml" {
		t.Errorf("%q: what is not judged must be said: %v", x.Net.Text, x.Findings)
	}
}

// 21 CFR 701.13(a): weight for what is solid; a volume of it is asked about, a
// volume of a liquid is not.
func TestNetByVolumeOfASolid(t *testing.T) {
	for _, c := range []struct {
		kind   string
		market inci.Market
		want   finding.Severity
	}{
		{"bath fizz", inci.US, finding.Question},
		{"bath fizz", inci.EU, finding.Note},
		{"bath oil", inci.US, finding.Note},
	} {
		p := rinseOff(weigh(of("SODIUM BICARBONATE"), "100"))
		p.Type, p.Net = c.kind, market.Quantity{Amount: exact.Int(100), Volume: true, Text: "100 ml", Unit: "ml"}
		if f := found(declareIn(c.market, p, today).Findings, "net.volume"); len(f) != 1 || f[0].Severity != c.want {
			t.Errorf("%s in %s: %v, want a %s", c.kind, c.market, f, c.want)
		}
	}
}
