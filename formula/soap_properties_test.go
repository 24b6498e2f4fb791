package formula_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"panelwright/formula"
	"panelwright/formula/exact"
)

// kettle is a soap of drawn fats and lyes.
type kettle struct {
	f    *formula.Formula
	fats []*formula.Material
}

func drawKettle(t *rapid.T) kettle {
	var k kettle
	var lines []formula.Line
	for i := range rapid.IntRange(1, 4).Draw(t, "fats") {
		lo := rapid.IntRange(90, 260).Draw(t, "least")
		hi := lo + rapid.IntRange(0, 30).Draw(t, "spread")
		m := saponifiable(fmt.Sprintf("FAT%d", i), fmt.Sprintf("%d-%d", lo, hi), "0", fmt.Sprintf("SOAP%d", i))
		m.Parts[0].Reacts.Kind = rapid.SampledFrom([]formula.ReactantKind{formula.Glyceride, formula.FattyAcid, formula.WaxEster}).Draw(t, "kind")
		k.fats = append(k.fats, m)
		lines = append(lines, inGrams(m, fmt.Sprint(rapid.IntRange(10, 1000).Draw(t, "grams"))))
	}
	k.f = soapOf(formula.SodaLye, fmt.Sprintf("%d-100", rapid.IntRange(85, 100).Draw(t, "purity")), fmt.Sprint(rapid.IntRange(0, 25).Draw(t, "superfat")), lines...)
	if rapid.Bool().Draw(t, "dual") {
		b := k.f.Saponify.Bases[0].Material
		share := exact.Frac(int64(rapid.IntRange(1, 99).Draw(t, "share")), 100)
		k.f.Saponify.Bases = []formula.Base{{Material: b, Share: share}, {Material: lye(formula.PotashLye, "88-92"), Share: exact.Int(1).Sub(share)}}
	}
	return k
}

func within(t *rapid.T, i formula.Interval, what string) exact.Rat {
	return i.Lo.Add(i.Hi.Sub(i.Lo).Mul(exact.Frac(int64(rapid.IntRange(0, 10).Draw(t, what)), 10)))
}

// Whatever saponification values and purities the ranges hide, what comes out lies
// within the bounds, the mass is kept, and no more alkali is left than the worst
// case says.
func TestConcreteSoapsLieWithinTheBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawKettle(t)
		r, _ := formula.NewComposer().Reaction(k.f)
		if r == nil {
			t.Skip("not worked out")
		}
		by, one, thousand := chemistry, exact.Int(1), exact.Int(1000)
		var worth, take exact.Rat
		lyes := map[bool]exact.Rat{}
		for i := range r.Lye {
			d := &r.Lye[i]
			w := d.Grams.Mul(within(t, d.Purity(), "purity"))
			if d.Soda {
				w = w.Quo(by.Soda)
			}
			lyes[d.Soda] = lyes[d.Soda].Add(w)
			worth = worth.Add(w)
		}
		var values []exact.Rat
		for i, u := range r.Fats {
			v := within(t, k.fats[i].Parts[0].Reacts.Value, "value")
			values = append(values, v)
			take = take.Add(u.Grams.Typical.Mul(v).Quo(thousand))
		}
		done := exact.Min(one, worth.Quo(take))
		made := map[formula.Key]exact.Rat{}
		put := func(k formula.Key, g exact.Rat) { made[k] = made[k].Add(g) }
		for i, u := range r.Fats {
			fat := u.Grams.Typical.Mul(done)
			koh := fat.Mul(values[i]).Quo(thousand)
			off := exact.Rat{}
			switch u.Reacts.Kind {
			case formula.Glyceride:
				off = koh.Mul(by.Glycerol)
				put("GLYCERIN", off)
			case formula.FattyAcid:
				off = koh.Mul(by.Water)
				put("AQUA", off)
			}
			for soda, w := range lyes {
				share, per, key := w.Quo(worth), one, u.Reacts.Potassium
				if soda {
					per, key = by.Soda, u.Reacts.Sodium
				}
				put(key, share.Mul(fat.Sub(off).Add(koh.Mul(per))))
			}
			put(u.Key, u.Grams.Typical.Sub(fat))
		}
		free := worth.Sub(take)
		if w := r.Worst(exact.Rat{}); w.Free.Less(free) {
			t.Fatalf("%s g KOH left over, the worst case says %s", free, w.Free)
		}
		bounds := map[formula.Key]formula.Share{}
		var sum exact.Rat
		for _, m := range r.Made {
			bounds[m.Key] = m.Grams
			sum = sum.Add(m.Grams.Typical)
		}
		if !sum.Equal(r.Weight) {
			t.Fatalf("%s g in, %s g out", r.Weight, sum)
		}
		for key, g := range made {
			if key == "AQUA" { // the water of the lye is beside it
				continue
			}
			if b := bounds[key]; g.Less(b.Min) || b.Max.Less(g) {
				t.Fatalf("%s: %s g, bounds %s to %s", key, g, b.Min, b.Max)
			}
			for other, h := range made {
				if key != other && r.NeverBelow(key, other) && g.Less(h) {
					t.Fatalf("%s %s g is less than %s %s g", key, g, other, h)
				}
			}
		}
	})
}

// The worst case of a scale: a weighing off by a step to the bad side. Alkali is
// left exactly when the lye weighed passes what is said to be the most.
func TestSafeLye(t *testing.T) {
	oil := saponifiable("OLIVE", "184-196", "0", "OLIVATE") // Codex CXS 33-1981
	for _, tt := range []struct {
		name, lye, purity, step string
		unsafe                  bool
		safe                    string
	}{
		// 1,000 g x 184 mg/g x 0.7128875 = 131.171 g of pure lye; with 1 g steps 999 g of oil and a gram more of lye: 130.04
		{"well below", "125", "100", "0", false, "131.171"},
		{"a gram over", "132", "100", "0", true, "131.171"},
		{"98 %", "133", "98", "0", false, "133.848"},
		{"98-100 % counts as 100", "133", "98-100", "0", true, "131.171"},
		{"on a scale of 1 g", "131", "100", "1", true, "130"},
		{"on a scale of 1 g, one less", "130", "100", "1", false, "130"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f := &formula.Formula{Name: "soap", Saponify: &formula.Saponify{Water: waterOnly(), KeepsAll: true, By: chemistry},
				Lines: []formula.Line{inGrams(oil, "1000"), inGrams(lye(formula.SodaLye, tt.purity), tt.lye)}}
			r, _ := formula.NewComposer().Reaction(f)
			w := r.Worst(num(tt.step))
			if got := w.Free.Sign() > 0; got != tt.unsafe {
				t.Errorf("left over %s g KOH", w.Free.Decimal(4, exact.Nearest))
			}
			if got := w.Safe[0].Decimal(3, exact.Down).String(); got != tt.safe {
				t.Errorf("at most %s g, want %s", got, tt.safe)
			}
		})
	}
}

// What cannot be worked out is said, at the place that asks for it.
func TestSoapsThatCannotBeWorkedOut(t *testing.T) {
	oil := saponifiable("OLIVE", "190", "0", "OLIVATE")
	soda := lye(formula.SodaLye, "100")
	for _, tt := range []struct {
		name string
		f    *formula.Formula
		rule string
	}{
		{"no fat", soapOf(formula.SodaLye, "98", "5", inGrams(plain("CLAY"), "100")), "soap.no-fat"},
		{"unknown fat", soapOf(formula.SodaLye, "98", "5", inGrams(oil, "100"), inGrams(fat("RARE"), "10")), "soap.unknown-fat"},
		{"two lyes", soapOf(formula.SodaLye, "98", "5", inGrams(oil, "100"), inGrams(soda, "10")), "soap.lye"},
		{"no lye", &formula.Formula{Name: "soap", Saponify: &formula.Saponify{By: chemistry}, Lines: []formula.Line{inGrams(oil, "100")}}, "soap.lye"},
		{"acid takes all", &formula.Formula{Name: "soap", Saponify: &formula.Saponify{By: chemistry},
			Lines: []formula.Line{inGrams(oil, "100"), inGrams(soda, "1"), inGrams(citricAs("anhydrous"), "50")}}, "soap.acid-only"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			bad := formula.NewComposer().Check(tt.f)
			if len(bad) != 1 || string(bad[0].Rule) != tt.rule || bad[0].Cure == "" {
				t.Errorf("%v, want %s", bad, tt.rule)
			}
		})
	}
	wet := soapOf(formula.SodaLye, "98", "5", inGrams(oil, "1000"))
	wet.Saponify.WaterBy, wet.Saponify.WaterValue, wet.Saponify.KeepsAll = formula.PerLye, exact.Int(2), false
	wet.Saponify.Left = &formula.Interval{Lo: num("0.5"), Hi: num("0.6")}
	if bad := formula.NewComposer().Check(wet); len(bad) != 1 || bad[0].Rule != formula.RuleWaterLeft {
		t.Errorf("half water is left of a fifth: %v", bad)
	}
}

// Soap in soap: scraps of an old batch in a new one do not react again, and the
// grams of fat are those that went in.
func TestSoapScraps(t *testing.T) {
	olive, coco := saponifiable("OLIVE", "190", "0", "OLIVATE"), saponifiable("COCO", "257", "0", "COCOATE")
	old := soapOf(formula.SodaLye, "100", "5", inGrams(olive, "1000"))
	fresh := soapOf(formula.SodaLye, "100", "5", inGrams(coco, "1000"), formula.Line{Formula: old, Text: "old", Amount: formula.Amount{Kind: formula.Grams, Value: num("200")}})
	c := formula.NewComposer()
	r, before := c.Reaction(fresh)
	if len(r.Fats) != 1 || len(before) != 1 {
		t.Fatalf("%d fats react, %d reactions before", len(r.Fats), len(before))
	}
	comp, bad := c.Compose(&formula.Piece{Name: "bar", Lines: []formula.Line{{Formula: fresh, Amount: formula.Amount{Kind: formula.Grams, Value: r.Poured}}}})
	if len(bad) > 0 {
		t.Fatal(bad)
	}
	went := map[string]string{}
	for _, it := range comp.Weighed().Items {
		went[it.Material.Name] = it.Weight.Decimal(2, exact.Nearest).StringFixed(2)
	}
	part := num("200").Quo(num("1000").Add(num("128.676201")))
	if went["COCO"] != "1000.00" || went["OLIVE"] != part.Mul(num("1000")).Decimal(2, exact.Nearest).StringFixed(2) {
		t.Errorf("went in: %v", went)
	}
	if len(comp.Reactions()) != 2 || !comp.Added.Equal(comp.Weighed().Added) {
		t.Errorf("%d reactions, %s g and %s g", len(comp.Reactions()), comp.Added, comp.Weighed().Added)
	}
	for _, it := range comp.Items {
		if it.Material == olive || it.Material == coco {
			t.Errorf("%s is still there as weighed", it.Material.Name)
		}
	}
}
