package inci

import (
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
)

func TestColourIn(t *testing.T) {
	for _, c := range []struct {
		key            formula.Key
		us, europe, ca bool
	}{
		{"CI 77891", true, true, true},
		{"CI 77491", true, true, true},
		{"MICA", true, false, false},       // 21 CFR 73.2496; no Annex IV entry
		{"TIN OXIDE", false, false, false}, // neither
		{"CI 14720", false, true, true},
		{"CARAMEL", true, true, true}, // 73.2085; Annex IV 146
		{"BEETROOT RED", false, true, true},
		{"KAOLIN", false, false, false}, // a colour only as CI 77004
		{"CI 77004", false, true, true},
		{"TITANIUM DIOXIDE", false, false, false},
		{"MAGNESIUM STEARATE", false, false, false}, // Annex IV 150, but goes by weight
		{"SYNTHETIC FLUORPHLOGOPITE", false, false, false},
		{"SODIUM BICARBONATE", false, false, false},
	} {
		for _, m := range Markets {
			want := map[Market]bool{US: c.us, EU: c.europe, GB: c.europe, NI: c.europe, CA: c.ca}[m]
			if got := ColourIn(c.key, m); got != want {
				t.Errorf("%s counts as a colour in %s: %v", c.key, m, got)
			}
		}
	}
}

func TestColourant(t *testing.T) {
	c, ok := Colourant("CI 12085")
	// Annex IV 9: 3 %; 21 CFR 74.2336: external, and lip products to 3 %.
	if !ok || c.AnnexIV != "9" || !c.HasMax || !c.MaxShare.Equal(exact.Must("0.03")) || len(c.US) != 1 ||
		c.US[0].Name != "Red 36" || c.US[0].RegulationName != "D&C Red No. 36" || !c.US[0].Certified || !strings.HasPrefix(c.US[0].Section, "74.") {
		t.Errorf("CI 12085: %+v", c)
	}
	if c, _ := Colourant("CI 45100"); c.Restriction != "rinse-off-only" || c.RestrictionText == "" || len(c.US) != 1 || c.US[0].Name != "" {
		t.Errorf("CI 45100, rinse-off only and not listed in the United States: %+v", c)
	}
	if c, ok := Colourant("MICA"); !ok || c.AnnexIV != "" || len(c.US) != 1 || c.US[0].Section != "73.2496" {
		t.Errorf("mica: %+v", c)
	}
	if c, _ := Colourant("CI 77266"); !strings.Contains(c.Conditions, "126a") {
		t.Errorf("carbon black lost its fine grade: %q", c.Conditions)
	}
	if _, ok := Colourant("SODIUM BICARBONATE"); ok {
		t.Error("baking soda is a colour")
	}
	if k, ok := ColourKey("KAOLIN"); !ok || k != "CI 77004" {
		t.Errorf("kaolin as a colour: %s", k)
	}
	if k, ok := ColourKey("TITANIUM DIOXIDE"); !ok || k != "CI 77891" {
		t.Errorf("titanium dioxide as a colour: %s", k)
	}
	if _, ok := ColourKey("AQUA"); ok {
		t.Error("water has a colour name")
	}
	for k, c := range colours() {
		if c.AnnexIV != "" && c.Listed && !strings.HasPrefix(string(k), "CI ") {
			switch c.AnnexIV {
			case "145", "146", "147", "148", "149", "151", "152", "153": // Annex IV gives these no number
			default:
				t.Errorf("%s, Annex IV %s, has no colour index number", k, c.AnnexIV)
			}
		}
		for _, u := range c.US {
			if (u.Name == "") != (u.Section == "") {
				t.Errorf("%s: name %q, section %q", k, u.Name, u.Section)
			}
		}
	}
}

func TestProhibited(t *testing.T) {
	for _, c := range []struct {
		key    formula.Key
		m      Market
		ref    string // "" for no ban
		byName bool
	}{
		{"BUTYLPHENYL METHYLPROPIONAL", EU, "Annex II 1666", true},
		{"BUTYLPHENYL METHYLPROPIONAL", NI, "Annex II 1666", true},
		{"BUTYLPHENYL METHYLPROPIONAL", GB, "Annex II 1666 (EU number)", true}, // SI 2022/659
		{"BUTYLPHENYL METHYLPROPIONAL", US, "", false},
		{"SODIUM BORATE", EU, "Annex II 1396", true},
		{"PENTASODIUM PENTETATE", EU, "Annex II 1721", true},
		{"PENTASODIUM PENTETATE", GB, "Annex II 1721 (EU number)", false}, // later than the common list
		{"PETROLATUM", EU, "Annex II 904", false},                         // only if the refining history is unknown
		{"LAURUS NOBILIS LEAF EXTRACT", EU, "Annex II 359", false},        // shares a number with the seed oil
		{"MYROXYLON PEREIRAE OIL", EU, "Annex II 1136", false},
		{"SODIUM HYDROXYMETHYLGLYCINATE", EU, "Annex II 1669", false},
		{"CI 77820", EU, "Annex II 1727", false},
		{"CI 14700", EU, "", false}, // banned in hair dyes only, which are not made here
		{"SODIUM BICARBONATE", EU, "", false},
		{"CHLOROFORM", US, "21 CFR 700.18", true},
		{"DICHLOROMETHANE", US, "21 CFR 700.19", true},
		{"ADEPS BOVIS", US, "21 CFR 700.27", false},
		{"TALLOW", US, "21 CFR 700.27", false},
		{"BUTYLPHENYL METHYLPROPIONAL", CA, "", false},
	} {
		bans := Prohibited(c.key, c.m)
		if c.ref == "" {
			if bans != nil {
				t.Errorf("%s in %s: %+v", c.key, c.m, bans)
			}
			continue
		}
		if len(bans) != 1 || bans[0].Ref != c.ref || bans[0].ByName != c.byName || bans[0].Source.Text == "" {
			t.Errorf("%s in %s: %+v", c.key, c.m, bans)
		}
	}
	if b := Prohibited("BUTYLPHENYL METHYLPROPIONAL", GB)[0]; b.Duty != (date.Duty{New: date.Of(2022, 10, 15), All: date.Of(2022, 12, 15)}) {
		t.Errorf("GB dates: %v", b.Duty)
	}
	if b := Prohibited("TRIPHENYL PHOSPHATE", EU)[0]; b.Duty != (date.Duty{New: date.Of(2027, 1, 1), All: date.Of(2028, 7, 1)}) {
		t.Errorf("triphenyl phosphate, Regulation (EU) 2026/909: %v", b.Duty)
	}
	// A trade material that this trade uses must not be banned outright by accident.
	for _, m := range TradeMaterials() {
		for _, b := range Prohibited(m.Key, EU) {
			if b.ByName && m.Name != "borax" && m.Name != "pentasodium pentetate" {
				t.Errorf("%s is banned by %s %s", m.Name, b.Ref, b.Substance)
			}
		}
	}
	for _, text := range []string{bansEUText, bansUSText} {
		for _, r := range readTable(text).rows {
			for _, name := range r.list("names") {
				if _, ok := Find(name); !ok && !gone[name] {
					t.Errorf("%s: %s is not in the inventory", r.get("ref"), name)
				}
			}
		}
	}
}

// Named in 21 CFR 700.11 and 700.15; the inventory no longer holds them.
var gone = map[string]bool{"BITHIONOL": true, "TRIBROMSALAN": true, "DIBROMSALAN": true, "METABROMSALAN": true, "TETRACHLOROSALICYLANILIDE": true}

func TestCategory(t *testing.T) {
	for in, want := range map[string]string{
		"bath": "9", "lip": "1", "soap": "9", "9": "9", "5a": "5A", "Category 5A": "5A", "cat. 9": "9", "cat 10A": "10A",
		"body lotion": "5A", "hand cream": "5C", "candles": "12", "deodorant": "2", "baby oil": "5D",
		"": "", "5": "", "spaceship": "", "category": "",
	} {
		if got, ok := Category(in); got != want || ok != (want != "") {
			t.Errorf("Category(%q) = %q, %v", in, got, ok)
		}
	}
	for _, c := range UseCategories() {
		if got, ok := Category(c.ID); !ok || got != c.ID || c.Heading == "" {
			t.Errorf("category %s: %q", c.ID, got)
		}
	}
	for in, want := range map[string]string{
		"bath fizz": "9", "bath salts": "9", "bath melt": "9", "body balm": "5A", "lip balm": "1", "shampoo bar": "9",
		"scrub": "9", "bar soap": "9", "face balm": "5B", "Candle, wax melt": "12", "rocket": "",
	} {
		c, ok := ProductCategory(in)
		if c.ID != want || ok != (want != "") {
			t.Errorf("ProductCategory(%q) = %q", in, c.ID)
		}
	}
	if c, _ := ProductCategory("shampoo bar"); !strings.Contains(c.Note, "CONFLICT") || !c.Source.Unverified() {
		t.Errorf("the conflict about shampoo bars is not told: %+v", c)
	}
	words := map[string]string{}
	for _, r := range useRows().rows {
		for _, w := range r.list("words") {
			at := r.get("row") + Fold(w)
			if other, ok := words[at]; ok && other != r.get("category") {
				t.Errorf("%q means category %s and %s", w, other, r.get("category"))
			}
			words[at] = r.get("category")
		}
	}
}

// Every colour of the lists goes by a name of the inventory, or this says why not.
func TestColourNames(t *testing.T) {
	explained := map[formula.Key]string{
		"PIGMENT RED 64:1":            "the pigment behind CI 15800:1, named in Annex IV 26 besides its number",
		"SUNSET YELLOW":               "named in Annex IV 31 besides CI 15985",
		"SUNSET YELLOW ALUMINUM LAKE": "named in Annex IV 31 besides CI 15985",
	}
	met := 0
	for _, text := range []string{coloursEUText, coloursUSText} {
		for _, r := range readTable(text).rows {
			keys := r.keys("key")
			if _, ok := r.columns["also"]; ok {
				keys = append(keys, r.keys("also")...)
			}
			for _, k := range keys {
				_, ok := Find(string(k))
				if ok == (explained[k] != "") {
					t.Errorf("%s: in the inventory %v, explained %q", k, ok, explained[k])
				}
				met++
			}
		}
	}
	if met < 250 {
		t.Errorf("only %d names met", met)
	}
}
