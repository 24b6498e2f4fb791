package label

import (
	"testing"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// The e-mark is printed only where it is elected, in a market that knows it, on a quantity it may stand on:
// 5 g to 10 kg in the EU (Directive 76/211/EEC), to 25 kg in Great Britain.
func TestEMarkElected(t *testing.T) {
	for _, tt := range []struct {
		name    string
		elected Stated
		market  inci.Market
		grams   int64
		min     int64
		says    finding.Severity // of the finding about it; 255 for none
	}{
		{"not said", Unsaid, inci.EU, 100, 0, 255},
		{"refused", SaidNo, inci.EU, 100, 0, 255},
		{"elected", SaidYes, inci.EU, 100, 3000, finding.Note},
		{"at the lower end", SaidYes, inci.EU, 5, 3000, finding.Note},
		{"below it", SaidYes, inci.EU, 4, 0, finding.Error},
		{"at the upper end", SaidYes, inci.EU, 10_000, 3000, finding.Note},
		{"above it", SaidYes, inci.EU, 10_001, 0, finding.Error},
		{"more is allowed in Great Britain", SaidYes, inci.GB, 25_000, 3000, finding.Note},
		{"not known in Canada", SaidYes, inci.CA, 100, 0, finding.Warning},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d := &Declaration{Product: &Product{Name: "x"}, Market: tt.market, Rules: market.For(tt.market),
				Stated: market.Quantity{Amount: exact.Int(tt.grams)}}
			c := &PackCopy{Name: "x", Pack: &Pack{}, Product: d.Product, Dress: Dress{EMark: tt.elected}}
			c.eMark([]*Declaration{d})
			got := finding.Severity(255)
			if len(c.Findings) > 0 {
				got = c.Findings[0].Severity
			}
			if c.EMark.Min != tt.min || got != tt.says || len(c.Findings) > 1 {
				t.Errorf("height %d, findings %v; want %d and %v", c.EMark.Min, c.Findings, tt.min, tt.says)
			}
			if c.Proof != (tt.says == finding.Error) {
				t.Errorf("proof: %v", c.Proof)
			}
		})
	}
}
