package label

import (
	"slices"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// The recipe of examples D1 to D4, derived from 21 CFR 701.3(a) and (f): A 60,
// B 30, C 6, fragrance 1.2, D 1.0, E 0.8, colour Y 0.6, F 0.3, colour X 0.1.
func exampleD() *Product {
	return rinseOff(
		weigh(of("CI 77491"), "0.1"), weigh(of("CI 77891"), "0.6"), // X, Y
		weigh(of("KAOLIN"), "0.3"), weigh(of("POLYSORBATE 80"), "0.8"), weigh(of("GLYCERIN"), "1"), // F, E, D
		weigh(fragrance("scent"), "1.2"),
		weigh(of("ZEA MAYS STARCH"), "6"), weigh(of("CITRIC ACID"), "30"), weigh(of("SODIUM BICARBONATE"), "60"))
}

func TestUnitedStatesExamples(t *testing.T) {
	x := declareIn(inci.US, exampleD(), today)
	// D2: A, B, C, Fragrance; then D, E, F in any order (ours is by share, which
	// is D3 as well); then Y, X in any order. D at exactly 1.0 % is in the second group.
	wantList(t, x, "Sodium Bicarbonate, Citric Acid, Zea Mays (Corn) Starch, Fragrance, Glycerin, Polysorbate 80, Kaolin, Titanium Dioxide, Iron Oxides")
	if got, want := marks(x), "proven proven proven proven free free free free free"; got != want {
		t.Errorf("marks: got %s, want %s", got, want)
	}
	entries := func(names ...string) (out []Entry) {
		for _, n := range names {
			out = append(out, entry(t, x, n))
		}
		return out
	}
	sorted := []string{"Sodium Bicarbonate", "Citric Acid", "Zea Mays (Corn) Starch", "Fragrance"}
	for _, c := range []struct {
		name, rest string
		ok         bool
	}{
		{"D1, strict order by weight", "Glycerin|Polysorbate 80|Titanium Dioxide|Kaolin|Iron Oxides", true},
		{"D2, second group in another order, colours too", "Kaolin|Glycerin|Polysorbate 80|Iron Oxides|Titanium Dioxide", true},
		{"D3, second group by weight", "Glycerin|Polysorbate 80|Kaolin|Iron Oxides|Titanium Dioxide", true},
		{"fragrance of 1.2 % after one of 1.0 %", "", false},
	} {
		seq := append(slices.Clone(sorted), strings.Split(c.rest, "|")...)
		if c.rest == "" {
			seq = []string{"Sodium Bicarbonate", "Citric Acid", "Zea Mays (Corn) Starch", "Glycerin", "Fragrance", "Polysorbate 80", "Kaolin", "Titanium Dioxide", "Iron Oxides"}
		}
		if why := x.objects(entries(seq...)); (why == "") != c.ok {
			t.Errorf("%s: %q", c.name, why)
		}
	}
}

// D4: a pigment at 2 % stands in the last group under 701.3(f).
func TestColourAboveOnePerCentIsLast(t *testing.T) {
	x := declareIn(inci.US, rinseOff(weigh(of("SODIUM BICARBONATE"), "97.5"), weigh(of("CI 77891"), "2"), weigh(of("GLYCERIN"), "0.5")), today)
	wantList(t, x, "Sodium Bicarbonate, Glycerin, Titanium Dioxide")
}

// EU, GB, NI: "less than 1 %" (Art. 19(1)(g)), exactly 1 % is sorted. US: "not
// more than 1 %" (21 CFR 701.3(f)(2)). CA: "1 % or less" (s. 21.4(2)).
func TestOnePerCentRule(t *testing.T) {
	free := map[string]string{"0.999999": "us eu gb ni ca", "1": "us ca", "1.000001": ""}
	for share, in := range free {
		rest := hundred.Sub(percent(share).Mul(hundred)).Sub(percent("0.5").Mul(hundred)).String()
		p := rinseOff(weigh(of("GLYCERIN"), share), weigh(of("KAOLIN"), "0.5"), weigh(of("SODIUM BICARBONATE"), rest))
		for _, x := range declareAll(p, inci.Markets...) {
			wantList(t, x, "Sodium Bicarbonate, Glycerin, Kaolin")
			want := slices.Contains(strings.Fields(in), string(x.Market))
			if got := entry(t, x, "Glycerin").Order == Free; got != want {
				t.Errorf("%s %% in %s: free %v, want %v", share, x.Market, got, want)
			}
			// It may stand after one of 0.5 % exactly where it is free.
			swapped := []Entry{x.Entries[0], x.Entries[2], x.Entries[1]}
			if why := x.objects(swapped); (why == "") != want {
				t.Errorf("%s %% in %s after 0.5 %%: %q", share, x.Market, why)
			}
		}
	}
}

// EU sorts by weight when added (Art. 19(1)(g)), CA by concentration as sold
// (s. 21.4(1)), the US by predominance, which we read as the finished mass.
func TestOrderBasisWithDryingWater(t *testing.T) {
	wet := mix("wet mix", "95", weigh(water(), "40"), weigh(of("GLYCERIN"), "25"), weigh(of("KAOLIN"), "35"))
	p := rinseOff(weigh(wet, "100"))
	for m, want := range map[inci.Market]string{
		inci.EU: "Aqua, Kaolin, Glycerin", inci.GB: "Aqua, Kaolin, Glycerin", inci.NI: "Aqua, Kaolin, Glycerin",
		inci.CA: "Kaolin, Glycerin, Aqua/Water/Eau", inci.US: "Kaolin, Glycerin, Water",
	} {
		x := declareIn(m, p, today)
		wantList(t, x, want)
		// 2 g of 62 g are left, or 40 g of 100 g were added.
		name, share := "Aqua", "40.00"
		switch m {
		case inci.CA:
			name, share = "Aqua/Water/Eau", "3.23"
		case inci.US:
			name, share = "Water", "3.23"
		}
		if got := Show(entry(t, x, name).Share).Typical; got != share {
			t.Errorf("%s: water is %s %%, want %s", m, got, share)
		}
	}
}

// At an exact tie other ingredients stand before the scent, then names by bytes.
func TestTies(t *testing.T) {
	p := rinseOff(weigh(fragrance("scent"), "20"), weigh(of("ZINC OXIDE"), "20"), weigh(of("KAOLIN"), "20"), weigh(of("CITRIC ACID"), "20"), weigh(of("SORBITOL"), "20"))
	want := "Citric Acid, Kaolin, Sorbitol, Zinc Oxide, Parfum"
	wantList(t, declareIn(inci.EU, p, today), want)
	slices.Reverse(p.Piece.Lines)
	wantList(t, declareIn(inci.EU, p, today), want)
	// "Fragrance" would stand before "Kaolin" by its bytes.
	wantList(t, declareIn(inci.US, rinseOff(weigh(fragrance("scent"), "50"), weigh(of("KAOLIN"), "50")), today), "Kaolin, Fragrance")
}

func TestMarks(t *testing.T) {
	for _, c := range []struct {
		name        string
		parts       []formula.Part
		grams       string // of the blend in 100 g
		list, marks string
		warning     string
	}{
		{"ranges that cannot cross", []formula.Part{part("GLYCERIN", "60-70"), part("KAOLIN", "30-40")}, "40",
			"Sodium Bicarbonate, Glycerin, Kaolin", "proven proven proven", ""},
		{"ranges that meet in one point", []formula.Part{part("GLYCERIN", "50-70"), part("KAOLIN", "30-50")}, "40",
			"Sodium Bicarbonate, Glycerin, Kaolin", "proven proven proven", ""},
		{"ranges that cross", []formula.Part{part("GLYCERIN", "40-70"), part("KAOLIN", "30-60")}, "40",
			"Sodium Bicarbonate, Glycerin, Kaolin", "proven typical proven",
			"Glycerin and Kaolin could swap places: Glycerin is 16.00 to 28.00 %, Kaolin is 12.00 to 24.00 %; ask the supplier of clay paste for a narrower figure"},
		{"ranges that cross inside the 1 % rule", []formula.Part{part("GLYCERIN", "40-70"), part("KAOLIN", "30-60")}, "1.2",
			"Sodium Bicarbonate, Glycerin, Kaolin", "proven free free", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := blend("clay paste", "base", c.parts...)
			rest := hundred.Sub(percent(c.grams).Mul(hundred)).String()
			x := declareIn(inci.EU, rinseOff(weigh(m, c.grams), weigh(of("SODIUM BICARBONATE"), rest)), today)
			wantList(t, x, c.list)
			if got := marks(x); got != c.marks {
				t.Errorf("marks: got %s, want %s", got, c.marks)
			}
			warned := found(x.Findings, "list.order")
			switch {
			case c.warning == "" && len(warned) > 0:
				t.Errorf("unexpected warning: %s", warned[0].Line())
			case c.warning != "" && (len(warned) != 1 || warned[0].Line() != c.warning || warned[0].Severity != finding.Warning):
				t.Errorf("warnings %v, want %s", warned, c.warning)
			}
		})
	}
}

// The first of two is inside the 1 % rule for certain, the second is typically
// smaller but may be above 1 %: then it would have to stand first.
func TestWarnsOfOneThatMayLeaveTheFreeGroup(t *testing.T) {
	spread := blend("paste", "base",
		formula.Part{Key: "SORBITOL", Range: span("10-60"), Exact: true, Typical: percent("20")},
		formula.Part{Key: "CITRIC ACID", Range: span("40-90"), Exact: true, Typical: percent("80")})
	p := rinseOff(weigh(spread, "3"), weigh(of("GLYCERIN"), "0.9"), weigh(of("SODIUM BICARBONATE"), "96.1"))
	x := declareIn(inci.EU, p, today)
	wantList(t, x, "Sodium Bicarbonate, Citric Acid, Glycerin, Sorbitol") // 2.4, 0.9, 0.6 (0.3 to 1.8)
	w := found(x.Findings, "list.order")
	if !slices.ContainsFunc(w, func(f finding.Finding) bool { return strings.HasPrefix(f.Message, "Glycerin and Sorbitol could swap") }) {
		t.Errorf("no warning that Sorbitol may be above 1 %%: %v, marks %s", w, marks(x))
	}
}

// The bath melt of the trade: common practice, no source.
func TestBathMelt(t *testing.T) {
	oz := func(m *formula.Material, n string) formula.Line {
		l := weigh(m, n)
		l.Amount.Value = l.Amount.Value.Mul(percent("2834.9523125")) // 28.349523125 g, exactly
		return l
	}
	p := rinseOff(oz(fragrance("scent"), "0.25"), oz(of("SODIUM BICARBONATE"), "10"), oz(of("POLYSORBATE 80"), "0.25"),
		oz(of("BUTYROSPERMUM PARKII BUTTER"), "1"), oz(of("CITRIC ACID"), "5"), oz(of("THEOBROMA CACAO SEED BUTTER"), "3"))
	lists := map[inci.Market]string{
		inci.US: "Sodium Bicarbonate, Citric Acid, Theobroma Cacao (Cocoa) Seed Butter, Butyrospermum Parkii (Shea) Butter, Polysorbate 80, Fragrance",
		inci.EU: "Sodium Bicarbonate, Citric Acid, Theobroma Cacao Seed Butter, Butyrospermum Parkii Butter, Polysorbate 80, Parfum",
	}
	shares := []string{"51.28", "25.64", "15.38", "5.13", "1.28", "1.28"}
	for _, x := range declareAll(p, inci.US, inci.EU) {
		wantList(t, x, lists[x.Market])
		for i, e := range x.Entries {
			if s := Show(e.Share).Typical; s != shares[i] {
				t.Errorf("%s: %s has %s %%, want %s", x.Market, e.Name, s, shares[i])
			}
		}
	}
}
