package label

import (
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/inci"
)

// fizzOf measures a piece of the given grams without judging it.
func fizzOf(t *testing.T, parts map[formula.Key]string) (Fizz, bool) {
	t.Helper()
	p := &formula.Piece{Name: "fizz"}
	for _, k := range []formula.Key{"SODIUM BICARBONATE", "POTASSIUM BICARBONATE", "CITRIC ACID", "TARTARIC ACID", "ZEA MAYS STARCH"} {
		if g, ok := parts[k]; ok {
			p.Lines = append(p.Lines, formula.Line{Material: of(k), Text: string(k), Amount: formula.Amount{Kind: formula.Grams, Value: exact.Must(g)}})
		}
	}
	c, bad := formula.NewComposer().Compose(p)
	if len(bad) > 0 {
		t.Fatal(bad)
	}
	x := &Declaration{Market: inci.EU, Composition: c}
	return x.Fizz()
}

// Example F of the project's reference on soap and fizz chemistry: 500 g of bicarbonate, 250 g of anhydrous
// citric acid; one of acid to three of bicarbonate, 1.311750 g for a gram.
func TestFizz(t *testing.T) {
	for _, tt := range []struct {
		name                 string
		parts                map[formula.Key]string
		gas, carbonate, sour string // grams of gas; shares left, per cent
	}{
		{"the example: acid runs out", map[formula.Key]string{"SODIUM BICARBONATE": "500", "CITRIC ACID": "250"}, "171.8001", "34.4125", "0.0000"},
		{"acid to spare", map[formula.Key]string{"SODIUM BICARBONATE": "100", "CITRIC ACID": "100"}, "52.3881", "0.0000", "23.7660"},
		{"starch takes no part", map[formula.Key]string{"SODIUM BICARBONATE": "500", "CITRIC ACID": "250", "ZEA MAYS STARCH": "90"}, "171.8001", "34.4125", "0.0000"},
		{"tartaric acid, two to one", map[formula.Key]string{"SODIUM BICARBONATE": "200", "TARTARIC ACID": "100"}, "58.6450", "44.0282", "0.0000"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			z, ok := fizzOf(t, tt.parts)
			if !ok {
				t.Fatal("no fizz")
			}
			if got := z.Gas.Decimal(4, exact.Nearest).StringFixed(4); got != tt.gas {
				t.Errorf("%s g of gas, want %s", got, tt.gas)
			}
			if got := Percent(z.LeftCarbonate, 4, exact.Nearest); got != tt.carbonate {
				t.Errorf("%s %% of the carbonate left, want %s", got, tt.carbonate)
			}
			if got := Percent(z.LeftAcid, 4, exact.Nearest); got != tt.sour {
				t.Errorf("%s %% of the acid left, want %s", got, tt.sour)
			}
		})
	}
	if _, ok := fizzOf(t, map[formula.Key]string{"SODIUM BICARBONATE": "500"}); ok {
		t.Error("soda alone fizzes")
	}
}
