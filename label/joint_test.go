package label

import (
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// S24: one label carries the union, in an order each market accepts, or is
// refused with the reason.
func TestJointList(t *testing.T) {
	soda := of("SODIUM BICARBONATE")
	wet := func() *formula.Formula {
		return mix("wet mix", "95", weigh(water(), "40"), weigh(of("GLYCERIN"), "25"), weigh(of("KAOLIN"), "35"))
	}
	for _, c := range []struct {
		name    string
		lines   []formula.Line
		markets string
		want    string // the list, or
		refused string // the reason
	}{
		{"EU and GB: the union of the allergens",
			[]formula.Line{weigh(soda, "98"), weigh(fragrance("hay", "LINALOOL 5", "LINALYL ACETATE 4"), "2")}, "eu gb",
			"Sodium Bicarbonate, Parfum, Linalool, Linalyl Acetate", ""},
		{"GB first gives the same",
			[]formula.Line{weigh(soda, "98"), weigh(fragrance("hay", "LINALOOL 5", "LINALYL ACETATE 4"), "2")}, "gb eu",
			"Sodium Bicarbonate, Parfum, Linalool, Linalyl Acetate", ""},
		{"EU and US: the names of both",
			[]formula.Line{weigh(soda, "50"), weigh(water(), "30"), weigh(of("BUTYROSPERMUM PARKII BUTTER"), "15"), weigh(fragrance("hay"), "3"), weigh(of("CI 77891"), "2")}, "eu us",
			"Sodium Bicarbonate, Aqua (Water), Butyrospermum Parkii (Shea) Butter, Parfum (Fragrance), CI 77891 (Titanium Dioxide)", ""},
		{"EU and US: three colours that are one name in the US",
			[]formula.Line{weigh(soda, "95"), weigh(of("CI 77491"), "3"), weigh(of("CI 77492"), "2")}, "eu us",
			"Sodium Bicarbonate, CI 77491 (Iron Oxides), CI 77492 (Iron Oxides)", ""},
		{"US and CA: trivial names hold one another",
			[]formula.Line{weigh(soda, "50"), weigh(water(), "30"), weigh(of("MARIS SAL"), "20")}, "us ca",
			"Sodium Bicarbonate, Aqua/Water/Eau, Maris Sal/Sea Salt/Sel marin", ""},
		{"US and CA: fragrance of 3 % before glycerin of 2 % in the US, parfum last in CA",
			[]formula.Line{weigh(soda, "95"), weigh(fragrance("hay"), "3"), weigh(of("GLYCERIN"), "2")}, "us ca", "",
			"Canada: Parfum must stand at the end of the list; but United States: Fragrance (3.00 %) must stand before Glycerin (2.00 %)"},
		{"US and CA: fragrance small enough to be last in both",
			[]formula.Line{weigh(soda, "97"), weigh(fragrance("hay"), "1"), weigh(of("GLYCERIN"), "2")}, "us ca",
			"Sodium Bicarbonate, Glycerin, Fragrance (Parfum)", ""},
		{"EU and CA: parfum of 0.8 % may be last in both",
			[]formula.Line{weigh(soda, "96.7"), weigh(fragrance("hay"), "0.8"), weigh(of("GLYCERIN"), "2"), weigh(of("KAOLIN"), "0.5")}, "eu ca",
			"Sodium Bicarbonate, Glycerin, Kaolin, Parfum", ""},
		{"EU and CA: parfum of 0.8 % after a small colour",
			[]formula.Line{weigh(soda, "96.7"), weigh(fragrance("hay"), "0.8"), weigh(of("GLYCERIN"), "2"), weigh(of("CI 77891"), "0.5")}, "eu ca",
			"Sodium Bicarbonate, Glycerin, CI 77891, Parfum", ""},
		{"EU and CA: parfum of 1.5 %, nothing but small ones after it",
			[]formula.Line{weigh(soda, "96"), weigh(fragrance("hay"), "1.5"), weigh(of("GLYCERIN"), "2"), weigh(of("KAOLIN"), "0.5")}, "eu ca", "",
			"Canada: Parfum must stand at the end of the list; but European Union: Parfum (1.50 %) must stand before Kaolin, which is inside the 1 % rule"},
		{"EU and CA: exactly 1 % is free in CA and sorted in the EU",
			[]formula.Line{weigh(soda, "98.5"), weigh(of("GLYCERIN"), "1"), weigh(of("KAOLIN"), "0.5")}, "eu ca",
			"Sodium Bicarbonate, Glycerin, Kaolin", ""},
		{"EU and CA: water that dries turns the order round",
			[]formula.Line{weigh(wet(), "100")}, "eu ca", "",
			"Canada: Kaolin (56.45 %) must stand before Aqua/Water/Eau (3.23 %); but European Union: Aqua (40.00 %) must stand before Glycerin (25.00 %)"},
		{"EU and US: mica by weight in one, a colour in the other",
			[]formula.Line{weigh(soda, "90"), weigh(of("MICA"), "6"), weigh(of("GLYCERIN"), "4")}, "eu us",
			"Sodium Bicarbonate, Mica, Glycerin", ""},
		{"EU and US: lavender named in one, inside the fragrance of the other",
			[]formula.Line{weigh(soda, "97"), weigh(essential(lavender), "2"), weigh(fragrance("hay"), "1")}, "eu us",
			"Sodium Bicarbonate, Lavandula Oil/Extract, Parfum (Fragrance)", ""},
		{"EU and US: lavender alone is named for both",
			[]formula.Line{weigh(soda, "98"), weigh(essential(lavender), "2")}, "eu us",
			"Sodium Bicarbonate, Lavandula Oil/Extract (Lavandula Angustifolia (Lavender) Oil)", ""},
		{"EU and GB: GB calls a scent parfum all the same (Art. 19(1)(g))",
			[]formula.Line{weigh(soda, "98"), weigh(essential(lavender), "2")}, "eu gb",
			"Sodium Bicarbonate, Parfum, Lavandula Oil/Extract", ""},
		{"EU and GB: parfum is larger where lavender is inside it",
			[]formula.Line{weigh(soda, "97"), weigh(of("GLYCERIN"), "1.2"), weigh(essential(lavender), "0.8"), weigh(fragrance("hay"), "0.6"), weigh(of("KAOLIN"), "0.4")}, "eu gb", "",
			"must stand before"},
		{"EU and US: an oil each by its own name (entry 364)",
			[]formula.Line{weigh(soda, "97"), weigh(fragrance("hay", "PELARGONIUM GRAVEOLENS LEAF OIL 2", "PELARGONIUM GRAVEOLENS FLOWER OIL 2"), "3")}, "eu us",
			"Sodium Bicarbonate, Parfum (Fragrance), Pelargonium Graveolens Flower Oil, Pelargonium Graveolens Leaf Oil", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			var ms []inci.Market
			for _, m := range strings.Fields(c.markets) {
				ms = append(ms, inci.Market(m))
			}
			names, err := JointList(declareAll(rinseOff(c.lines...), ms...))
			got := strings.Join(names, ", ")
			switch {
			case c.refused != "":
				if err == nil || !strings.Contains(err.Error(), c.refused) {
					t.Errorf("got %q, %v\nwant refused: %s", got, err, c.refused)
				}
			case err != nil:
				t.Errorf("refused: %v", err)
			case got != c.want:
				t.Errorf("\n got %s\nwant %s", got, c.want)
			}
		})
	}
}

// An order that each market accepts by itself is accepted by all: what is
// printed is checked against every market once more.
func TestOneMarketsListIsItsOwn(t *testing.T) {
	for _, x := range declareAll(exampleD(), inci.Markets...) {
		names, err := JointList([]*Declaration{x})
		if err != nil || strings.Join(names, ", ") != x.Text() {
			t.Errorf("%s: %v, %v", x.Market, names, err)
		}
		if why := x.objects(x.Entries); why != "" {
			t.Errorf("%s objects to its own list: %s", x.Market, why)
		}
	}
}

func TestCopyForSeveralMarkets(t *testing.T) {
	p := rinseOff(weigh(of("SODIUM BICARBONATE"), "95"), weigh(fragrance("hay", "LINALOOL 5", "LINALYL ACETATE 4"), "5"))
	p.Net = net("100")
	p.Packs = []Pack{{For: []inci.Market{inci.GB, inci.US, inci.EU}}}
	ds := declareAll(p, inci.GB, inci.US)
	c := CopyFor(&p.Packs[0], ds)
	all := append(c.Front, c.Back...)
	count := map[StatementKind]int{}
	for _, s := range all {
		count[s.Kind]++
		switch s.Kind {
		case NetText:
			if s.Text != "Net Wt 3.52 oz (100 g)" || len(s.Markets) != 2 {
				t.Errorf("net %q for %v", s.Text, s.Markets)
			}
			for _, d := range ds {
				for _, own := range said(d, NetText) {
					if s.Height.Min < own.Height.Min {
						t.Errorf("net letters of %d are smaller than the %d of %s", s.Height.Min, own.Height.Min, d.Market)
					}
				}
			}
		case ListText:
			if s.Text != "Sodium Bicarbonate, Parfum (Fragrance), Linalool" {
				t.Errorf("list %q", s.Text)
			}
		}
	}
	if count[NetText] != 1 || count[ListText] != 1 || count[DurabilityText] != 1 || count[OriginText] != 1 || count[IdentityText] != 1 {
		t.Errorf("statements: %v", count)
	}
	if len(c.Findings) > 0 || c.Proof {
		t.Errorf("proof %v: %v", c.Proof, c.Findings)
	}
}

func TestLargerLettersWin(t *testing.T) {
	p := plain()
	p.Packs = []Pack{{For: []inci.Market{inci.EU, inci.GB}}}
	ds := declareAll(p, inci.EU, inci.GB)
	for _, order := range [][]*Declaration{{ds[0], ds[1]}, {ds[1], ds[0]}} {
		for i := range ds[1].Statements {
			if ds[1].Statements[i].Kind == ListText {
				ds[1].Statements[i].Height.Min = 9000
			}
		}
		c := CopyFor(&p.Packs[0], order)
		for _, s := range append(c.Front, c.Back...) {
			if s.Kind == ListText && s.Height.Min != 9000 {
				t.Errorf("letters of %d, one market asks for 9000", s.Height.Min)
			}
		}
	}
}

func TestConflictGivesNoList(t *testing.T) {
	p := rinseOff(weigh(of("SODIUM BICARBONATE"), "96"), weigh(fragrance("hay"), "1.5"), weigh(of("GLYCERIN"), "2"), weigh(of("KAOLIN"), "0.5"))
	p.Packs = []Pack{{For: []inci.Market{inci.EU, inci.CA}, Pos: finding.Pos{File: "products.yaml", Line: 12}}}
	c := CopyFor(&p.Packs[0], declareAll(p, inci.EU, inci.CA))
	if !c.Proof || len(c.Findings) != 1 || c.Findings[0].Rule != "pack.conflict" || c.Findings[0].Severity != finding.Error {
		t.Fatalf("proof %v: %v", c.Proof, c.Findings)
	}
	want := "products.yaml:12: one list cannot serve the European Union and Canada: Canada: Parfum must stand at the end of the list; but European Union: Parfum (1.50 %) must stand before Kaolin, which is inside the 1 % rule; give these markets packs of their own"
	if got := c.Findings[0].Line(); got != want {
		t.Errorf("\n got %s\nwant %s", got, want)
	}
	for _, s := range append(c.Front, c.Back...) {
		if s.Kind == ListText {
			t.Errorf("a list all the same: %q", s.Text)
		}
	}
}
