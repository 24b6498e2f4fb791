package formula_test

import (
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"
)

// Molar masses from the standard atomic weights of 2021 (CIAAW): NaOH 39.99676928, KOH 56.1053, H2O 18.015,
// C3H8O3 92.094 g/mol; citric acid 192.123, its monohydrate 210.138.
var chemistry = &formula.Stoichiometry{
	Soda: num("39.99676928").Quo(num("56.1053")), Glycerol: num("92.094").Quo(num("168.3159")), Water: num("18.015").Quo(num("56.1053")),
	Glycerin: "GLYCERIN", Aqua: "AQUA",
}

func saponifiable(key, value, acid, soap string) *formula.Material {
	m := fat(key)
	v := pct(value)
	hundred := exact.Int(100)
	r := &formula.Reactant{Kind: formula.Glyceride, Value: formula.Interval{Lo: v.Lo.Mul(hundred), Hi: v.Hi.Mul(hundred)}, Sodium: formula.Key("NA-" + soap), Potassium: formula.Key("K-" + soap)}
	r.Typical = r.Value.Lo.Add(r.Value.Hi).Quo(exact.Int(2))
	r.Acid = formula.Point(num(acid))
	m.Parts[0].Reacts = r
	return m
}

func lye(kind formula.ReactantKind, purity string) *formula.Material {
	key := map[formula.ReactantKind]formula.Key{formula.SodaLye: "NAOH", formula.PotashLye: "KOH"}[kind]
	p := pct(purity)
	return &formula.Material{Name: string(key), Parts: []formula.Part{
		{Key: key, Range: p, Reacts: &formula.Reactant{Kind: kind}},
		{Key: "AQUA", Range: formula.Interval{Lo: exact.Int(1).Sub(p.Hi), Hi: exact.Int(1).Sub(p.Lo)}, Dries: formula.Water}}}
}

func waterOnly() *formula.Material { return blend("water", "AQUA 100 water") }

func soapOf(kind formula.ReactantKind, purity, superfat string, lines ...formula.Line) *formula.Formula {
	return &formula.Formula{Name: "soap", Lines: lines, Saponify: &formula.Saponify{
		Bases:    []formula.Base{{Material: lye(kind, purity), Share: exact.Int(1)}},
		Superfat: pct(superfat).Lo, Water: waterOnly(), KeepsAll: true, By: chemistry}}
}

func inGrams(m *formula.Material, g string) formula.Line {
	return formula.Line{Material: m, Text: m.Name + ": " + g + " g", Amount: formula.Amount{Kind: formula.Grams, Value: num(g)}}
}

// worked is what the worked examples print, to six decimals.
func six(x exact.Rat) string { return x.Decimal(6, exact.Nearest).StringFixed(6) }

func made(r *formula.Reaction, k formula.Key) exact.Rat {
	for _, m := range r.Made {
		if m.Key == k {
			return m.Grams.Typical
		}
	}
	return exact.Rat{}
}

// The worked examples of the project's own reference on soap chemistry, sections 8 A to D: computed there
// by another program from the balance of mass and the molar masses above.
func TestWorkedExamples(t *testing.T) {
	triolein := num("168315.9").Quo(num("885.453")) // SV = 3 M(KOH)/M(triolein), in mg/g
	for _, tt := range []struct {
		name                                          string
		formula                                       *formula.Formula
		pure, weigh, notBase, glycerol, formed, spare string
		soap                                          formula.Key
		made                                          string
	}{
		{"A olive oil", soapOf(formula.SodaLye, "98", "5", inGrams(saponifiable("olive", "190", "0", "OLIVATE"), "1000")),
			"128.676201", "131.302246", "2.626045", "98.760527", "0.000000", "50.000000", "NA-OLIVATE", "979.915674"},
		{"B coconut oil, potash", soapOf(formula.PotashLye, "90", "0", inGrams(saponifiable("coco", "257", "0", "COCOATE"), "1000")),
			"257.000000", "285.555556", "28.555556", "140.617482", "0.000000", "0.000000", "K-COCOATE", "1116.382518"},
		{"C oil with free acid", soapOf(formula.SodaLye, "99", "0", inGrams(saponifiable("oil", "190", "10", "OILATE"), "1000")),
			"135.448633", "136.816801", "1.368168", "98.486952", "3.210927", "0.000000", "NA-OILATE", "1033.750754"},
		{"D triolein", soapOf(formula.SodaLye, "100", "0", inGrams(exactFat("triolein", triolein, "OLEATE"), "1000")),
			"135.512905", "135.512905", "0.000000", "104.007779", "0.000000", "0.000000", "NA-OLEATE", "1031.505125"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r, _ := formula.NewComposer().Reaction(tt.formula)
			if r == nil {
				t.Fatal("no reaction")
			}
			d := r.Lye[0]
			purity := d.Purity().Hi
			water := made(r, "AQUA").Sub(d.Grams.Mul(exact.Int(1).Sub(purity)))
			check := func(what string, got exact.Rat, want string) {
				if six(got) != want {
					t.Errorf("%s %s, want %s", what, six(got), want)
				}
			}
			check("pure", d.Grams.Mul(purity), tt.pure)
			check("to weigh", d.Grams, tt.weigh)
			check("not base", d.Grams.Mul(exact.Int(1).Sub(purity)), tt.notBase)
			check("glycerol", made(r, "GLYCERIN"), tt.glycerol)
			check("water formed", water, tt.formed)
			check("fat left", made(r, r.Fats[0].Key), tt.spare)
			check("soap", made(r, tt.soap), tt.made)
			var sum exact.Rat
			for _, m := range r.Made {
				sum = sum.Add(m.Grams.Typical)
			}
			if !sum.Equal(r.Weight) {
				t.Errorf("the parts weigh %s, what reacted %s", sum, r.Weight)
			}
		})
	}
}

func exactFat(key string, value exact.Rat, soap string) *formula.Material {
	m := saponifiable(key, "1", "0", soap)
	m.Parts[0].Reacts.Value, m.Parts[0].Reacts.Typical = formula.Point(value), value
	return m
}

// citricAs is citric acid; the monohydrate holds 18.015/210.138 of crystal water.
func citricAs(form string) *formula.Material {
	m := plain("CITRIC")
	any, mono := num("168315.9").Quo(num("192.123")), num("168315.9").Quo(num("210.138"))
	wet := num("18.015").Quo(num("210.138"))
	r := &formula.Reactant{Kind: formula.PlainAcid, Sodium: "NA-CITRATE", Potassium: "K-CITRATE"}
	switch form {
	case "anhydrous":
		r.Value, r.Typical = formula.Point(any), any
	case "monohydrate":
		r.Value, r.Typical, r.Crystal = formula.Point(mono), mono, formula.Point(wet)
	default:
		r.Value, r.Typical, r.Crystal = formula.Interval{Lo: mono, Hi: any}, mono, formula.Interval{Hi: wet}
	}
	m.Parts[0].Reacts = r
	return m
}

// Example E of the same reference: three fats, citric acid with lye for it, perfume; 180 g of water lost.
func TestWorkedBlend(t *testing.T) {
	f := soapOf(formula.SodaLye, "98", "5",
		inGrams(saponifiable("OLIVE", "190", "0", "OLIVATE"), "500"), inGrams(saponifiable("COCO", "257", "0", "COCOATE"), "300"),
		inGrams(saponifiable("SHEA", "180", "0", "SHEATE"), "200"), inGrams(citricAs("anhydrous"), "15"), inGrams(plain("PARFUM"), "30"))
	s := f.Saponify
	s.WaterBy, s.WaterValue, s.KeepsAll = formula.WaterGrams, exact.Int(320), false
	x := num("147.286961").Quo(num("1338.369942")) // the share of water in the cured bar, as the example prints it
	s.Left = &formula.Interval{Lo: x, Hi: x}
	p := &formula.Piece{Name: "bar", Lines: []formula.Line{{Formula: f, Amount: formula.Amount{Kind: formula.Grams, Value: num("1518.369942")}}}}
	c, bad := formula.NewComposer().Compose(p)
	if len(bad) > 0 {
		t.Fatal(bad)
	}
	r := c.Reactions()[0]
	if got := six(r.Lye[0].Grams); got != "153.369942" {
		t.Errorf("lye to weigh %s", got)
	}
	if got := six(r.Poured); got != "1518.369942" {
		t.Errorf("poured %s", got)
	}
	check := func(name string, c *formula.Composition, basis formula.Basis, want map[formula.Key]string, places int32) {
		t.Helper()
		got := map[formula.Key]exact.Rat{}
		for i := range c.Items {
			for part, q := range c.Items[i].Material.Parts {
				typ, _, _ := c.PartGrams(i, part, basis)
				got[q.Key] = got[q.Key].Add(typ)
			}
		}
		for k, w := range want {
			if g := got[k].Decimal(int(places), exact.Nearest).StringFixed(places); g != w {
				t.Errorf("%s: %s %s, want %s", name, k, g, w)
			}
			delete(got, k)
		}
		for k := range got {
			t.Errorf("%s: %s is not in the example", name, k)
		}
	}
	check("went in", c.Weighed(), formula.AsAdded, map[formula.Key]string{"OLIVE": "500.00", "AQUA": "323.07", "COCO": "300.00", "SHEA": "200.00",
		"NAOH": "150.30", "PARFUM": "30.00", "CITRIC": "15.00"}, 2)
	for k, want := range map[formula.Key]string{"NA-OLIVATE": "489.957837", "NA-COCOATE": "297.139466", "NA-SHEATE": "195.668233", "GLYCERIN": "108.168767",
		"OLIVE": "25.000000", "NA-CITRATE": "20.148679", "COCO": "15.000000", "SHEA": "10.000000"} {
		if got := six(made(r, k)); got != want {
			t.Errorf("%s %s g, want %s", k, got, want)
		}
	}
	// The composition keeps shares to a hundred-millionth and the loss of water to a millionth.
	check("came out", c, formula.Finished, map[formula.Key]string{"NA-OLIVATE": "489.958", "NA-COCOATE": "297.139", "NA-SHEATE": "195.668", "AQUA": "147.287",
		"GLYCERIN": "108.169", "PARFUM": "30.000", "OLIVE": "25.000", "NA-CITRATE": "20.149", "COCO": "15.000", "SHEA": "10.000"}, 3)
	if got := c.TypicalMass(formula.Finished).Decimal(3, exact.Nearest).String(); got != "1338.37" {
		t.Errorf("cured %s g", got)
	}
}

// Example G: a sample of The Handbook of Soap Manufacture (London 1908), chapter X. 1.8976 g of fat took 6.65 ml of N/1
// base, and 5.2 ml of N/10 for its free acid: 6.65 x 56.1053 = 373.100245 mg of KOH; by hand 6.65 - 0.52 = 6.13 mmol
// / 3 x 92.094 = 188.178740 mg of glycerol and 0.52 x 18.015 = 9.367800 mg of water. The book prints a saponification
// value of 196.6 (with 56.1 for KOH); with 56.1053 it is 196.616908.
func TestHandbookSample(t *testing.T) {
	mgPerGram := func(mmol string) exact.Rat { return num(mmol).Mul(num("56.1053")).Quo(num("1.8976")) }
	if got := six(mgPerGram("6.65")); got != "196.616908" {
		t.Errorf("saponification value %s", got)
	}
	fat := exactFat("FAT", mgPerGram("6.65"), "FATATE")
	fat.Parts[0].Reacts.Acid = formula.Point(mgPerGram("0.52"))
	r, bad := formula.NewComposer().Reaction(soapOf(formula.PotashLye, "100", "0", inGrams(fat, "1.8976")))
	if r == nil {
		t.Fatal(bad)
	}
	for what, c := range map[string][2]string{
		"lye":           {r.Lye[0].Grams.Mul(exact.Int(1000)).Decimal(6, exact.Nearest).StringFixed(6), "373.100245"},
		"glycerol":      {six(made(r, "GLYCERIN").Mul(exact.Int(1000))), "188.178740"},
		"water formed":  {six(made(r, "AQUA").Mul(exact.Int(1000))), "9.367800"},
		"soap, balance": {six(made(r, "K-FATATE").Mul(exact.Int(1000))), "2073.153705"}, // 1897.6 + 373.100245 - 188.178740 - 9.367800
	} {
		if c[0] != c[1] {
			t.Errorf("%s %s mg, want %s", what, c[0], c[1])
		}
	}
}

// Example H: 10 g of anhydrous citric acid without lye of its own leave so much more oil.
func TestAcidWithoutLye(t *testing.T) {
	oil := saponifiable("OLIVE", "190", "0", "OLIVATE")
	f := &formula.Formula{Name: "soap", Saponify: &formula.Saponify{Water: waterOnly(), KeepsAll: true, By: chemistry},
		Lines: []formula.Line{inGrams(oil, "1000"), inGrams(lye(formula.SodaLye, "98"), "131.302246"), inGrams(citricAs("anhydrous"), "10")}}
	r, _ := formula.NewComposer().Reaction(f)
	if got := r.Superfat.Typical.Mul(exact.Int(100)).Decimal(5, exact.Nearest).String(); got != "9.61097" {
		t.Errorf("superfat %s %%, want 9.610969", got)
	}
	if !r.Superfat.Min.Equal(r.Superfat.Max) {
		t.Errorf("nothing is open, and yet %s to %s", r.Superfat.Min, r.Superfat.Max)
	}
}

// Strength by hand: hydroxide over hydroxide and what it is dissolved in.
func TestStrength(t *testing.T) {
	oil := saponifiable("OLIVE", "190", "0", "OLIVATE")
	wet := blend("milk", "MILK 100")
	for _, c := range []struct {
		name    string
		purity  string
		by      formula.WaterKind
		value   string
		inPlace bool
		lines   []formula.Line
		want    string
	}{
		{"twice its weight of water", "100", formula.PerLye, "2", false, nil, "33.3333"},
		{"as written", "100", formula.Concentration, "0.4", false, nil, "40.0000"},
		{"its own water counts", "90", formula.PerLye, "2", false, nil, "30.0000"},
		{"dry", "100", formula.NoWater, "0", false, nil, "100.0000"},
		{"dry, as it is sold", "90", formula.NoWater, "0", false, nil, "90.0000"},
		// 135.44863 g of lye for 1,000 g of oil: as much water in the mix makes 50 %
		{"water in the mix", "100", formula.NoWater, "0", false, []formula.Line{inGrams(waterOnly(), "135.44863")}, "50.0000"},
		{"a liquid in place of water", "100", formula.PerLye, "1", true, []formula.Line{inGrams(wet, "135.44863")}, "50.0000"},
		{"the same, not in place of water", "100", formula.NoWater, "0", false, []formula.Line{inGrams(wet, "135.44863")}, "100.0000"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := soapOf(formula.SodaLye, c.purity, "0", append([]formula.Line{inGrams(oil, "1000")}, c.lines...)...)
			f.Saponify.WaterBy, f.Saponify.WaterValue = c.by, num(c.value)
			if c.inPlace {
				f.Saponify.InPlace = []*formula.Material{wet}
			}
			r, _ := formula.NewComposer().Reaction(f)
			if r == nil {
				t.Fatal("no reaction")
			}
			if got := r.Strength().Mul(exact.Int(100)).Decimal(4, exact.Nearest).StringFixed(4); got != c.want {
				t.Errorf("%s %%, want %s %%", got, c.want)
			}
		})
	}
}

// A bought solution brings water of its own. By hand: 1,000 g of oil at 190 mg KOH/g with 5 % left take 128.676201 g of
// sodium hydroxide, 257.352402 g of a solution of 50 %, which holds 128.676201 g of water. Twice the hydroxide is then
// 128.676201 g more; a third of 33 % lye 128.676201 x 67 / 33 - 128.676201 = 132.575480 g more; 38 % of the fats
// 251.323799 g more; grams are as written. A solid of 98 % is taken as weighed: twice 131.302246 g.
func TestSolutionBringsWater(t *testing.T) {
	for _, c := range []struct {
		name, purity string
		by           formula.WaterKind
		value, want  string
	}{
		{"twice the lye", "50", formula.PerLye, "2", "128.676201"},
		{"a strength", "50", formula.Concentration, "0.33", "132.575480"},
		{"by the fats", "50", formula.PerFats, "0.38", "251.323799"},
		{"grams", "50", formula.WaterGrams, "300", "300.000000"},
		{"as strong as it is bought", "50", formula.Concentration, "0.5", "0.000000"},
		{"stronger than it is bought", "50", formula.Concentration, "0.6", "0.000000"},
		{"solid", "98", formula.PerLye, "2", "262.604492"},
	} {
		f := soapOf(formula.SodaLye, c.purity, "5", inGrams(saponifiable("OLIVE", "190", "0", "OLIVATE"), "1000"))
		f.Saponify.WaterBy, f.Saponify.WaterValue = c.by, num(c.value)
		r, _ := formula.NewComposer().Reaction(f)
		if r == nil {
			t.Fatalf("%s: no reaction", c.name)
		}
		if got := six(r.Water); got != c.want {
			t.Errorf("%s: %s g, want %s g", c.name, got, c.want)
		}
	}
}
