package inci

import (
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"
)

func massOf(t *testing.T, text string) exact.Rat {
	t.Helper()
	m, err := MolarMass(text)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Pure triglycerides: 3 mol of lye to one of fat. The soap by the balance of
// mass is that of 3 mol of the salt of its acid. The values in mg KOH/g are those
// of TestPureTriglycerides. The weights of elements behind MolarMass are cut to
// three decimals, so that the two agree within 2 parts in a million.
func TestSaltOfPureTriglycerides(t *testing.T) {
	koh := massOf(t, "KOH")
	for _, c := range []struct{ name, fat, soap, value string }{
		{"trilaurin", "C39H74O6", "C12H23NaO2", "263.4"},      // 639.014
		{"trimyristin", "C45H86O6", "C14H27NaO2", "232.7"},    // 723.176
		{"tripalmitin", "C51H98O6", "C16H31NaO2", "208.5"},    // 807.338
		{"tristearin", "C57H110O6", "C18H35NaO2", "188.8"},    // 891.500
		{"triolein", "C57H104O6", "C18H33NaO2", "190.1"},      // 885.452
		{"triricinolein", "C57H104O9", "C18H33NaO3", "180.3"}, // 933.449
	} {
		fat := massOf(t, c.fat)
		value := koh.Mul(exact.Int(3000)).Quo(fat)
		if got := value.Decimal(1, exact.Nearest).StringFixed(1); got != c.value {
			t.Errorf("%s: saponification value %s, by hand %s", c.name, got, c.value)
		}
		m := &formula.Material{Name: c.name, Fat: true, Parts: []formula.Part{{Key: "FAT", Range: formula.Point(exact.Int(1)),
			Reacts: &formula.Reactant{Kind: formula.Glyceride, Value: formula.Point(value), Typical: value, Sodium: "SOAP", Potassium: "SOAP"}}}}
		lye := &formula.Material{Name: "lye", Parts: []formula.Part{{Key: "NAOH", Range: formula.Point(exact.Int(1)), Reacts: &formula.Reactant{Kind: formula.SodaLye}}}}
		f := &formula.Formula{Name: c.name, Lines: []formula.Line{{Material: m, Amount: formula.Amount{Kind: formula.Grams, Value: exact.Int(1000)}}},
			Saponify: &formula.Saponify{Bases: []formula.Base{{Material: lye, Share: exact.Int(1)}}, KeepsAll: true, By: Stoichiometry()}}
		r, bad := formula.NewComposer().Reaction(f)
		if r == nil {
			t.Fatal(bad)
		}
		direct := massOf(t, c.soap).Mul(exact.Int(3000)).Quo(fat)
		for _, made := range r.Made {
			off := made.Grams.Typical.Sub(direct)
			if off.Sign() < 0 {
				off = off.Neg()
			}
			if made.Key == "SOAP" && direct.Mul(exact.Frac(2, 1_000_000)).Less(off) {
				t.Errorf("%s: %s g of soap by the balance, %s by the salt", c.name, made.Grams.Typical, direct)
			}
		}
		if len(r.Made) < 2 {
			t.Errorf("%s: made %v", c.name, r.Made)
		}
	}
}
