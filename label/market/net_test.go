package market

import (
	"strings"
	"testing"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// rules returns the finding codes in order.
func rules(fs []finding.Finding) string {
	var s []string
	for _, f := range fs {
		s = append(s, string(f.Rule)+" "+f.Severity.String())
	}
	return strings.Join(s, ", ")
}

func TestNet(t *testing.T) {
	for _, c := range []struct {
		name         string
		market       inci.Market
		number, unit string
		count        int
		o            NetOptions
		want, exempt string
		found        string
	}{
		{"plain", inci.EU, "160", "g", 1, NetOptions{}, "160 g", "", ""},
		{"kilograms as written", inci.EU, "0.5", "kg", 1, NetOptions{}, "0.5 kg", "", ""},
		{"centilitres as written", inci.GB, "10", "cl", 1, NetOptions{}, "10 cl", "", ""},
		{"decimal comma", inci.EU, "4.25", "g", 1, NetOptions{Comma: true}, "4,25 g", "under 5 g or ml", ""},
		{"Art. 19(1)(b), just under 5 g", inci.EU, "4.99", "g", 1, NetOptions{}, "4.99 g", "under 5 g or ml", ""},
		{"Art. 19(1)(b), 5 g", inci.EU, "5", "g", 1, NetOptions{}, "5 g", "", ""},
		{"Art. 19(1)(b), single application", inci.NI, "20", "g", 1, NetOptions{Sample: true}, "20 g", "a free sample or a pack of a single application", ""},
		{"ounces become metric, cut off", inci.EU, "5", "oz", 1, NetOptions{}, "141 g", "", "eu.net.converted note"},
		{"pounds, three digits", inci.GB, "3", "lb", 1, NetOptions{}, "1.36 kg", "", "gb.net.converted note"},
		{"76/211 with the e-mark", inci.EU, "160", "g", 1, NetOptions{EMark: true}, "160 g ℮", "", ""},
		{"e-mark under 5 g", inci.EU, "4.5", "g", 1, NetOptions{EMark: true}, "4.5 g", "under 5 g or ml", "eu.net.e-mark error"},
		{"e-mark, 10 kg", inci.EU, "10", "kg", 1, NetOptions{EMark: true}, "10 kg ℮", "", ""},
		{"e-mark, over 10 kg", inci.EU, "10001", "g", 1, NetOptions{EMark: true}, "10001 g", "", "eu.net.e-mark error"},
		{"e-mark, GB goes to 25 kg", inci.GB, "10001", "g", 1, NetOptions{EMark: true}, "10001 g ℮", "", ""},
		{"e-mark in CA", inci.CA, "160", "g", 1, NetOptions{EMark: true}, "160 g", "", "ca.net.e-mark warning"},
		{"e-mark in the US, cosmetic", inci.US, "160", "g", 1, NetOptions{EMark: true}, "Net Wt 5.64 oz (160 g)", "", "us.net.e-mark warning"},
		{"CPLR s. 27, just under 1000 g", inci.CA, "999", "g", 1, NetOptions{}, "999 g", "", ""},
		{"CPLR s. 27, 1000 g", inci.CA, "1000", "g", 1, NetOptions{}, "1 kg", "", ""},
		{"CPLR s. 27, 1000 ml", inci.CA, "1000", "ml", 1, NetOptions{}, "1 L", "", ""},
		{"CPLR s. 26, leading zero", inci.CA, "0.9", "g", 1, NetOptions{}, "0.9 g", "", ""},
		{"CPLR s. 25, three figures", inci.CA, "1234", "g", 1, NetOptions{}, "1.23 kg", "", "ca.net.figures note"},
		{"CPLR s. 17, Canadian units beside", inci.CA, "160", "g", 1, NetOptions{Canadian: true}, "160 g (5.64 oz)", "", ""},
		{"CPLR s. 17, imperial fluid ounces", inci.CA, "100", "ml", 1, NetOptions{Canadian: true}, "100 mL (3.51 fl oz)", "", ""},
		{"count beside the weight", inci.EU, "480", "g", 3, NetOptions{CountWords: "bath fizzes"}, "3 bath fizzes, 480 g", "", ""},
		{"count without words, US", inci.US, "480", "g", 3, NetOptions{}, "Net Wt 16.93 oz (1 lb 0.93 oz) 480 g", "", "us.net.count-words note"},
		{"701.13(a), (c): count alone, case E9", inci.US, "0", "g", 3, NetOptions{CountWords: "bath bombs"}, "", "", "us.net.count-alone error"},
		{"Art. 19(1)(b): count alone", inci.EU, "0", "g", 3, NetOptions{CountWords: "bath bombs"}, "3 bath bombs", "", "eu.net.count-question question"},
		{"Art. 19(1)(b): one piece", inci.EU, "0", "g", 1, NetOptions{}, "", "one piece, normally sold singly, as the maker answers", "eu.net.single question"},
		{"nothing", inci.EU, "0", "g", 0, NetOptions{}, "", "", "eu.net.missing error"},
		{"less than nothing", inci.CA, "-1", "g", 1, NetOptions{}, "", "", "ca.net.missing error"},
		{"nothing, US", inci.US, "0", "g", 0, NetOptions{}, "", "", "us.net.missing error"},
		{"too small for ounces of two places", inci.US, "0.2", "g", 1, NetOptions{}, "Net Wt 0 oz (0.2 g)", "", "us.net.too-small error"},
		{"a third of an ounce is cut off", inci.US, "1/3", "oz", 1, NetOptions{}, "Net Wt 0.33 oz (9.44 g)", "", ""},
		{"a third of a gram is cut off", inci.EU, "100/3", "g", 1, NetOptions{}, "33.333 g", "", "eu.net.figures note"},
	} {
		t.Run(string(c.market)+" "+c.name, func(t *testing.T) {
			q := qty(t, c.number, c.unit)
			got, found := For(c.market).Net(q, c.count, c.o)
			if got.Text != c.want {
				t.Errorf("text %q, want %q", got.Text, c.want)
			}
			if got.Exempt != c.exempt {
				t.Errorf("exempt %q, want %q", got.Exempt, c.exempt)
			}
			if rules(found) != c.found {
				t.Errorf("findings %q, want %q", rules(found), c.found)
			}
			if got.EMark != strings.Contains(got.Text, EMark) {
				t.Errorf("EMark %v, text %q", got.EMark, got.Text)
			}
			if q.Amount.Sign() >= 0 && q.Amount.Less(got.Larger) {
				t.Errorf("%v is printed of %v: overstated", got.Larger, q.Amount)
			}
		})
	}
}

// No figure printed may say more than the maker states, in any market.
func TestNetNeverOverstates(t *testing.T) {
	for _, m := range inci.Markets {
		for tenths := int64(1); tenths < 40000; tenths += 37 {
			for _, o := range []NetOptions{{}, {Soap: true}, {Canadian: true}} {
				q := Quantity{Amount: exact.Frac(tenths, 10), Text: "x", Unit: "g", Volume: tenths%2 == 0}
				got, _ := For(m).Net(q, 1, o)
				if q.Amount.Sign() >= 0 && q.Amount.Less(got.Larger) {
					t.Fatalf("%s: %v states %v: %q", m, q.Amount, got.Larger, got.Text)
				}
			}
		}
	}
}

func TestCutDigits(t *testing.T) {
	for _, c := range [][3]string{
		{"70.8738", "3", "70.8"}, {"85.0485", "3", "85"}, {"1360.77", "3", "1360"}, {"0.05669", "3", "0.0566"}, {"2.38136", "3", "2.38"},
		{"999.999", "3", "999"}, {"1", "3", "1"}, {"0", "3", "0"}, {"0.1", "3", "0.1"}, {"10", "1", "10"}, {"19", "1", "10"},
	} {
		if got := cutDigits(exact.Must(c[0]), int(c[1][0]-'0')).String(); got != c[2] {
			t.Errorf("%s to %s digits = %s, want %s", c[0], c[1], got, c[2])
		}
	}
}

func BenchmarkNet(b *testing.B) {
	r, q := For(inci.US), qty(b, "160", "g")
	pack := body(b, "ball 65 mm")
	for b.Loop() {
		r.Net(q, 1, NetOptions{})
		p := pack.PDP(inci.US)
		r.NetHeight(q, p.Low, p.High, false)
	}
}
