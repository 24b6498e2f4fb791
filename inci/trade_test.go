package inci

import (
	"slices"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

func TestTradeMaterials(t *testing.T) {
	fold := map[string]string{}
	for _, m := range TradeMaterials() {
		if other, ok := fold[Fold(m.Name)]; ok {
			t.Errorf("%q and %q fold alike", m.Name, other)
		}
		fold[Fold(m.Name)] = m.Name
		got, ok := TradeMaterial(strings.ToUpper(m.Name))
		if !ok || got.Name != m.Name || got.Alias != "" {
			t.Errorf("TradeMaterial(%q) = %q, %v", m.Name, got.Name, ok)
		}
		if s, ok := Find(string(m.Key)); !ok || s.Name != string(m.Key) || s.Key != m.Key {
			t.Errorf("%s: %s is not an inventory name that stands for itself", m.Name, m.Key)
		}
		var shares []exact.Rat
		for _, p := range m.Parts {
			shares = append(shares, p.Share)
			if s, ok := Find(string(p.Key)); !ok || s.Key != p.Key {
				t.Errorf("%s: part %s is not in the inventory", m.Name, p.Key)
			}
		}
		if m.Parts != nil && (!m.Blend || !exact.Sum(shares...).Equal(exact.Int(1))) {
			t.Errorf("%s: parts add up to %v, blend %v", m.Name, exact.Sum(shares...), m.Blend)
		}
		if !m.Density.IsZero() && (m.DensitySource.Text == "" || m.Density.Less(exact.Must("0.6")) || exact.Int(2).Less(m.Density)) {
			t.Errorf("%s: density %v from %q", m.Name, m.Density, m.DensitySource)
		}
	}
}

func TestAliases(t *testing.T) {
	for _, r := range readTable(aliasesText).rows {
		alias, want := r.get("alias"), r.get("trade")
		got, ok := TradeMaterial(alias)
		if !ok || got.Name != want || got.Alias != alias {
			t.Errorf("%q gives %q, want %q", alias, got.Name, want)
		}
		// A name of the inventory may only be an everyday name of the same substance,
		// or of the colour that it is when it colours.
		if s, ok := Find(alias); ok && s.Key != got.Key {
			if ci, ok := ColourKey(s.Key); !ok || ci != got.Key {
				t.Errorf("%q is the inventory name of %s, not of %s", alias, s.Key, got.Key)
			}
		}
	}
	for _, c := range []struct{ in, want, key string }{
		{"citric acid", "citric acid anhydrous", "CITRIC ACID"},
		{"Epsom salts", "Epsom salt", "MAGNESIUM SULFATE"},
		{"bicarbonate of soda", "baking soda", "SODIUM BICARBONATE"},
		{"Sodium Bicarbonate", "baking soda", "SODIUM BICARBONATE"},
		{"water", "deionised water", "AQUA"},
		{"cornstarch", "corn starch", "ZEA MAYS STARCH"},
		{"cornflour", "corn starch", "ZEA MAYS STARCH"},
		{"coconut oil", "coconut oil 76", "COCOS NUCIFERA OIL"},
		{"sea salt", "sea salt fine", "MARIS SAL"},
		{"Vitamin E", "vitamin E (tocopherol, mixed)", "TOCOPHEROL"},
		{"CI 77019", "mica", "MICA"},
	} {
		if m, ok := TradeMaterial(c.in); !ok || m.Name != c.want || m.Key != formula.Key(c.key) {
			t.Errorf("TradeMaterial(%q) = %q, %v", c.in, m.Name, m.Key)
		}
	}
	if m, _ := TradeMaterial("citric acid"); m.Remark == "" {
		t.Error("the grade of citric acid is taken for granted without a word")
	}
	for _, in := range []string{"", "polysorbate", "clay", "starch", "cedarwood oil", "no such thing"} {
		if m, ok := TradeMaterial(in); ok {
			t.Errorf("TradeMaterial(%q) = %q", in, m.Name)
		}
	}
}

func TestBlends(t *testing.T) {
	for _, c := range []struct {
		name  string
		blend bool
		parts int
	}{
		{"coloured mica", true, 0},
		{"melt and pour soap base", true, 0},
		{"caustic soda solution 50 %", true, 2},
		{"sodium lactate 60 %", true, 2},
		{"emulsifying wax BP", true, 2},
		{"fragrance oil", false, 0},   // prints as Parfum whatever is in it
		{"SD alcohol 40-B", false, 0}, // 27 CFR 21.76: printed as one ingredient
		{"baking soda", false, 0},
	} {
		m, ok := TradeMaterial(c.name)
		if !ok || m.Blend != c.blend || len(m.Parts) != c.parts {
			t.Errorf("%s: blend %v, %d parts", c.name, m.Blend, len(m.Parts))
		}
	}
	if m, _ := TradeMaterial("coloured mica"); !strings.Contains(m.Notes, "CI 77891") {
		t.Errorf("the components of a coloured mica are not in its notes: %q", m.Notes)
	}
}

func TestLiquid(t *testing.T) {
	for name, want := range map[string]bool{
		"sunflower oil": true, "castor oil": true, "water": true, "lavender oil": true, "fragrance oil": true,
		"glycerin": true, "polysorbate 80": true, "polysorbate 20": true, "isopropyl alcohol": true, "rose water": true,
		"cocamidopropyl betaine": true, "honey": true, "sodium lactate 60 %": true, "vitamin e": true, "witch hazel distillate (alcohol free)": true,
		"coconut oil": false, "coconut oil 92 (hydrogenated)": false, "palm oil": false, "babassu oil": false,
		"shea butter": false, "beeswax yellow": false, "baking soda": false, "citric acid": false, "corn starch": false,
		"Epsom salt": false, "cetyl alcohol": false, "vanillin": false, "SCI": false, "whole milk powder": false,
		"caustic soda": false, "menthol": false, "mica": false,
	} {
		m, ok := TradeMaterial(name)
		if !ok || m.Liquid() != want {
			t.Errorf("%s: known %v, liquid %v", name, ok, m.Liquid())
		}
	}
	for _, m := range TradeMaterials() {
		if m.Liquid() && slices.Contains([]string{"butter", "wax", "salt", "starch", "clay", "pigment", "exfoliant", "botanical"}, m.Class) &&
			!strings.Contains(m.Name, "60 %") {
			t.Errorf("%s of class %s counts as liquid", m.Name, m.Class)
		}
	}
}

func TestDensities(t *testing.T) {
	for _, r := range readTable(densitiesText).rows {
		for _, name := range r.list("trade") {
			if m, ok := TradeMaterial(name); !ok || m.Name != name {
				t.Errorf("density of unknown trade material %q", name)
			}
		}
		if r.get("g_per_ml") == "" {
			t.Errorf("%s: no figure", r.get("material"))
		}
	}
	for _, c := range []struct{ name, first, source string }{
		{"baking soda", "0.9333", "NDB 18372"}, // USDA SR 26: 1 tsp = 4.6 g
		{"cornstarch", "0.541", "NDB 20027"},   // USDA SR 26: 1 cup = 128 g
		{"citric acid", "0.769", "bulk-density chart"},
		{"Epsom salts", "1.12", "Pocket Ref"},
		{"castor oil", "0.9562", "USP"},
		{"polysorbate 80", "1.0718", "USP"},
	} {
		all := Densities(c.name)
		if len(all) == 0 || all[0].GramsPerML.String() != c.first || !strings.Contains(all[0].Source.Text, c.source) {
			t.Errorf("%s: %+v", c.name, all)
			continue
		}
		if !slices.IsSortedFunc(all, func(a, b Density) int { return rankDensity(a)/10 - rankDensity(b)/10 }) {
			t.Errorf("%s: a remembered figure stands before one that was read", c.name)
		}
	}
	if n := len(Densities("baking soda")); n != 4 {
		t.Errorf("%d figures for baking soda; the four published ones differ by a third", n)
	}
	if d := Densities("SODIUM CHLORIDE"); len(d) < 6 {
		t.Errorf("%d figures by ingredient name", len(d))
	}
	if d := Densities("colloidal oatmeal"); len(d) == 0 || d[0].Material == "colloidal oatmeal" {
		t.Errorf("colloidal oatmeal: %+v", d)
	}
	for _, name := range []string{"SLSa fine", "no such thing", ""} {
		if d := Densities(name); d != nil {
			t.Errorf("%q has %v", name, d)
		}
	}
	if d := Densities("vegetable glycerine"); d[len(d)-1].Source.Seen == finding.Yes && d[0].Source.Seen != finding.Yes {
		t.Error("order of sources")
	}
}
