package inci

import (
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/finding"
)

// The expected names come from the tables this package was made from: the
// Commission inventory (EU, GB, NI), the name pairs after 21 CFR 701.3(c) with the
// colour additive listings (US), and the Schedule of the Cosmetic Regulations,
// C.R.C. c. 869 (CA). A dash means that there is no name to print.
var nameCases = []struct {
	key        formula.Key
	us, eu, ca string
}{
	{"AQUA", "Water", "Aqua", "Aqua/Water/Eau"}, // Schedule item 4
	{"PARFUM", "Fragrance", "Parfum", "Parfum"}, // 21 CFR 701.3(a); s. 21.4(3)
	{"AROMA", "Flavor", "Aroma", "Aroma"},
	{"SODIUM BICARBONATE", "Sodium Bicarbonate", "Sodium Bicarbonate", "Sodium Bicarbonate"},
	{"CITRIC ACID", "Citric Acid", "Citric Acid", "Citric Acid"},
	{"MAGNESIUM SULFATE", "Magnesium Sulfate", "Magnesium Sulfate", "Magnesium Sulfate"},
	{"MARIS SAL", "Sea Salt", "Maris Sal", "Maris Sal/Sea Salt/Sel marin"},                                          // item 26
	{"CERA ALBA", "Beeswax", "Cera Alba", "Cera Alba/Beeswax/Cire d’abeille"},                                       // item 12
	{"MEL", "Honey", "Mel", "Mel/Honey/Miel"},                                                                       // item 27
	{"CAPRAE LAC", "Goat Milk", "Caprae Lac", "Caprae Lac/Goat Milk/Lait de chèvre"},                                // item 11
	{"LAC", "Milk", "Lac", "Lac/Milk/Lait"},                                                                         // item 20
	{"ADEPS BOVIS", "Tallow", "Adeps Bovis", "Adeps Bovis/Tallow/Suif"},                                             // item 2
	{"PARAFFINUM LIQUIDUM", "Mineral Oil", "Paraffinum Liquidum", "Paraffinum Liquidum/Mineral Oil/Huile minérale"}, // item 39
	{"OLUS OIL", "Vegetable Oil", "Olus Oil", "Olus Oil/Vegetable Oil/Huile végétale"},                              // item 32
	{"COPERNICIA CERIFERA CERA", "Copernicia Cerifera (Carnauba) Wax", "Copernicia Cerifera Cera", "Copernicia Cerifera Cera/Copernicia Cerifera (Carnauba) Wax/Cire de carnauba"}, // item 15
	{"CANDELILLA CERA", "Euphorbia Cerifera (Candelilla) Wax", "Candelilla Cera", "Candelilla Cera/Euphorbia Cerifera (Candelilla) Wax/Cire de candelilla"},                        // item 10
	{"SOLUM DIATOMEAE", "Diatomaceous Earth", "Solum Diatomeae", "Solum Diatomeae/Diatomaceous Earth/Terre de diatomées"},                                                          // item 55
	{"OVUM", "Egg", "Ovum", "Ovum/Egg/Œuf"},                      // item 36
	{"MEL POWDER", "Honey Powder", "Mel Powder", "Honey Powder"}, // not scheduled: the dictionary name
	{"HELIANTHUS ANNUUS SEED CERA", "Helianthus Annuus (Sunflower) Seed Wax", "Helianthus Annuus Seed Cera", "Helianthus Annuus (Sunflower) Seed Wax"},
	{"ZEA MAYS STARCH", "Zea Mays (Corn) Starch", "Zea Mays Starch", "Zea Mays Starch"},
	{"THEOBROMA CACAO SEED BUTTER", "Theobroma Cacao (Cocoa) Seed Butter", "Theobroma Cacao Seed Butter", "Theobroma Cacao Seed Butter"},
	{"BUTYROSPERMUM PARKII BUTTER", "Butyrospermum Parkii (Shea) Butter", "Butyrospermum Parkii Butter", "Butyrospermum Parkii Butter"},
	{"COCOS NUCIFERA OIL", "Cocos Nucifera (Coconut) Oil", "Cocos Nucifera Oil", "Cocos Nucifera Oil"},
	{"LAVANDULA ANGUSTIFOLIA OIL", "Lavandula Angustifolia (Lavender) Oil", "Lavandula Angustifolia Oil", "Lavandula Angustifolia Oil"},
	{"CALENDULA OFFICINALIS FLOWER", "Calendula Officinalis Flower", "Calendula Officinalis Flower", "Calendula Officinalis Flower"},
	{"POLYSORBATE 80", "Polysorbate 80", "Polysorbate 80", "Polysorbate 80"},
	{"PEG-40 HYDROGENATED CASTOR OIL", "PEG-40 Hydrogenated Castor Oil", "PEG-40 Hydrogenated Castor Oil", "PEG-40 Hydrogenated Castor Oil"},
	{"CAPRYLIC/CAPRIC TRIGLYCERIDE", "Caprylic/Capric Triglyceride", "Caprylic/Capric Triglyceride", "Caprylic/Capric Triglyceride"},
	{"TETRASODIUM EDTA", "Tetrasodium EDTA", "Tetrasodium EDTA", "Tetrasodium EDTA"},
	{"1,2-HEXANEDIOL", "1,2-Hexanediol", "1,2-Hexanediol", "1,2-Hexanediol"},
	{"ALCOHOL DENAT.", "Alcohol Denat.", "Alcohol Denat.", "Alcohol Denat."},
	{"TOCOPHEROL", "Tocopherol", "Tocopherol", "Tocopherol"},
	{"GLYCERIN", "Glycerin", "Glycerin", "Glycerin"},
	{"KAOLIN", "Kaolin", "Kaolin", "Kaolin"},
	{"MICA", "Mica", "Mica", "Mica"},
	{"TIN OXIDE", "Tin Oxide", "Tin Oxide", "Tin Oxide"},
	{"LINALOOL", "Linalool", "Linalool", "Linalool"},
	{"CI 77891", "Titanium Dioxide", "CI 77891", "CI 77891"},         // 21 CFR 73.2575
	{"CI 77947", "Zinc Oxide", "CI 77947", "CI 77947"},               // 73.2991
	{"CI 77491", "Iron Oxides", "CI 77491", "CI 77491"},              // 73.2250
	{"CI 77492", "Iron Oxides", "CI 77492", "CI 77492"},              // the same listing
	{"CI 77499", "Iron Oxides", "CI 77499", "CI 77499"},              // the same listing
	{"CI 77489", "Iron Oxides", "CI 77489", "CI 77489"},              // the same listing
	{"CI 77007", "Ultramarines", "CI 77007", "CI 77007"},             // 73.2725
	{"CI 77288", "Chromium Oxide Greens", "CI 77288", "CI 77288"},    // 73.2327
	{"CI 77289", "Chromium Hydroxide Green", "CI 77289", "CI 77289"}, // 73.2326
	{"CI 77510", "Ferric Ferrocyanide", "CI 77510", "CI 77510"},      // 73.2299
	{"CI 77742", "Manganese Violet", "CI 77742", "CI 77742"},         // 73.2775
	{"CI 75470", "Carmine", "CI 75470", "CI 75470"},                  // 73.2087
	{"CI 19140", "Yellow 5", "CI 19140", "CI 19140"},                 // 74.2705
	{"CI 16035", "Red 40", "CI 16035", "CI 16035"},                   // 74.2340
	{"CI 42090", "Blue 1", "CI 42090", "CI 42090"},                   // 74.2101
	{"CI 17200", "Red 33", "CI 17200", "CI 17200"},                   // 74.2333
	{"CI 15880", "Red 34", "CI 15880", "CI 15880"},                   // 74.2334
	{"CI 14720", "-", "CI 14720", "CI 14720"},                        // no listing
	{"CI 75300", "-", "CI 75300", "CI 75300"},                        // no listing
	{"CI 77004", "-", "CI 77004", "CI 77004"},                        // no listing as a colour; KAOLIN is another use
	{"CI 74260", "-", "CI 74260", "CI 74260"},                        // no listing
	{"CI 11920", "-", "CI 11920", "CI 11920"},                        // Annex IV 7, in no United States table here
	{"BEETROOT RED", "-", "Beetroot Red", "Beetroot Red"},            // listed for foods only
	{"CI 75810", "-", "CI 75810", "CI 75810"},                        // 73.2125: dentifrices only
	{"CI 77820", "-", "CI 77820", "CI 77820"},                        // 73.2500: nail polish only
	{"CI 77266", "-", "CI 77266", "CI 77266"},                        // 74.2052: named make-up types only
}

func TestName(t *testing.T) {
	for _, c := range nameCases {
		for _, m := range Markets {
			want := map[Market]string{US: c.us, EU: c.eu, GB: c.eu, NI: c.eu, CA: c.ca}[m]
			p := Name(c.key, m)
			switch {
			case want == "-" && (p.OK || p.Why == ""):
				t.Errorf("%s, %s: %+v, want no name", c.key, m, p)
			case want != "-" && (!p.OK || p.Text != want):
				t.Errorf("%s, %s: %q (%s), want %q", c.key, m, p.Text, p.Why, want)
			}
			if p.Source.Text == "" || p.Source.Seen == "" {
				t.Errorf("%s, %s: no source", c.key, m)
			}
		}
	}
}

func TestNameChoices(t *testing.T) {
	if p := Name("LAC", US); len(p.Others) != 1 || p.Others[0] != "Whole Dry Milk" {
		t.Errorf("milk: %v", p.Others)
	}
	if p := Name("CI 42090", US); strings.Join(p.Others, "|") != "Blue 1 Lake|Blue 4" {
		t.Errorf("CI 42090: %v", p.Others)
	}
	if p := Name("OVUM", CA); len(p.Others) != 2 || p.Others[0] != "Ovum/Dried Egg Yolk/Poudre de jaune d’œufs" {
		t.Errorf("egg: %v", p.Others)
	}
}

func TestNamePatterns(t *testing.T) {
	for _, c := range []struct {
		name string
		key  formula.Key
		want string
		why  bool
	}{
		{"another part of a plant with an English name", "LAVANDULA ANGUSTIFOLIA FLOWER/LEAF/STEM EXTRACT", "Lavandula Angustifolia (Lavender) Flower/Leaf/Stem Extract", true},
		{"parts disagree on the English name: none", "CAMELLIA SINENSIS FLOWER EXTRACT", "Camellia Sinensis Flower Extract", false},
		{"wax", "ABIES ALBA LEAF CERA", "Abies Alba Leaf Wax", false},
		{"nothing but letters", "SODIUM LAUROAMPHOACETATE", "Sodium Lauroamphoacetate", false},
		{"the maker's words stay", "my own hedgerow tincture", "my own hedgerow tincture", true},
	} {
		p := Name(c.key, US)
		if _, ok := Find(string(c.key)); !ok && c.name != "the maker's words stay" {
			t.Fatalf("%s: %s is not in the inventory", c.name, c.key)
		}
		if !p.OK || p.Text != c.want || (p.Why != "") != c.why || !p.Source.Unverified() {
			t.Errorf("%s: %+v, want %q", c.name, p, c.want)
		}
	}
	p := Name("RHODODENDRON FLOWER CERA", EU)
	if p.Source.Seen != finding.Memory || p.Why == "" {
		t.Errorf("a name out of nowhere: %+v", p)
	}
}

// No row that is not a colour prints a name with a colour index number in the
// United States, and none is shouted anywhere.
func TestNamesAreReadable(t *testing.T) {
	for _, r := range usNames() {
		k := formula.Key(r.get("key"))
		for _, m := range Markets {
			p := Name(k, m)
			if m == US && strings.Contains(p.Text, "CI ") {
				t.Errorf("%s prints a number in the United States: %q", k, p.Text)
			}
			if shouts(p.Text) {
				t.Errorf("%s, %s: %q shouts", k, m, p.Text)
			}
		}
	}
}

func shouts(s string) bool {
	for _, w := range strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(" -/(),.", r) }) {
		if len(w) > 4 && strings.ToUpper(w) == w && !strings.ContainsAny(w, "0123456789") {
			return true
		}
	}
	return false
}

func TestReadable(t *testing.T) {
	for in, want := range map[string]string{
		"SODIUM BICARBONATE": "Sodium Bicarbonate", "CAPRYLIC/CAPRIC TRIGLYCERIDE": "Caprylic/Capric Triglyceride",
		"C12-15 ALKYL BENZOATE": "C12-15 Alkyl Benzoate", "CI 77891": "CI 77891", "CI 77268:1": "CI 77268:1",
		"PEG-40 HYDROGENATED CASTOR OIL": "PEG-40 Hydrogenated Castor Oil", "PEG/PPG-20/6 DIMETHICONE": "PEG/PPG-20/6 Dimethicone",
		"BIS-PEG-18 METHYL ETHER DIMETHYL SILANE": "Bis-PEG-18 Methyl Ether Dimethyl Silane", "PPG-15 STEARYL ETHER": "PPG-15 Stearyl Ether",
		"PVP": "PVP", "DISODIUM EDTA": "Disodium EDTA", "BHT": "BHT", "BHA": "BHA", "SODIUM PCA": "Sodium PCA",
		"DMDM HYDANTOIN": "DMDM Hydantoin", "COCAMIDE MEA": "Cocamide MEA", "COCAMIDE DEA": "Cocamide DEA",
		"GLYCERYL STEARATE SE": "Glyceryl Stearate SE", "TEA-LAURYL SULFATE": "TEA-Lauryl Sulfate",
		"T-BUTYL ALCOHOL": "t-Butyl Alcohol", "P-ANISIC ACID": "p-Anisic Acid", "O-CYMEN-5-OL": "o-Cymen-5-ol",
		"M-CRESOL": "m-Cresol", "4-T-BUTYLBENZOIC ACID": "4-t-Butylbenzoic Acid", "1,2-HEXANEDIOL": "1,2-Hexanediol", "6-METHYL COUMARIN": "6-Methyl Coumarin",
		"METHYL 2-OCTYNOATE": "Methyl 2-Octynoate", "COCO-GLUCOSIDE": "Coco-Glucoside", "ALPHA-ISOMETHYL IONONE": "Alpha-Isomethyl Ionone",
		"SH-OLIGOPEPTIDE-1": "sh-Oligopeptide-1", "TRANS-ROSE KETONE-2": "trans-Rose Ketone-2", "D-LIMONENE": "d-Limonene",
		"ALCOHOL DENAT.": "Alcohol Denat.", "FULLER'S EARTH": "Fuller's Earth", "HYPERICUM PERFORATUM": "Hypericum Perforatum",
		"LAVANDULA ANGUSTIFOLIA FLOWER/LEAF/STEM EXTRACT": "Lavandula Angustifolia Flower/Leaf/Stem Extract",
		"HC YELLOW NO. 2": "HC Yellow No. 2", "PYRIDOXINE HCL": "Pyridoxine HCl", "VP/VA COPOLYMER": "VP/VA Copolymer",
		"(AGARICUS BLAZEI FERMENT + GANODERMA LUCIDUM FERMENT) EXTRACT": "(Agaricus Blazei Ferment + Ganoderma Lucidum Ferment) Extract",
		"Already Written": "Already Written", "mixed UP": "mixed UP", "": "", "ÉCORCE": "Écorce", "CAMELLIA SINENSIS": "Camellia Sinensis", "TEA TREE": "Tea Tree",
	} {
		if got := Readable(in); got != want {
			t.Errorf("Readable(%q) = %q, want %q", in, got, want)
		}
	}
	eachLine(func(at int) {
		if name := nameAt(at); Fold(Readable(name)) != Fold(name) {
			t.Errorf("Readable(%q) = %q is another name", name, Readable(name))
		}
	})
}

func TestParseMarket(t *testing.T) {
	for _, c := range []struct {
		in      string
		m       Market
		country string
	}{
		{"us", US, ""}, {"United States", US, ""}, {"U.S.A.", US, ""}, {"EU", EU, ""}, {"European Union", EU, ""},
		{"england", GB, ""}, {"Great Britain", GB, ""}, {"northern ireland", NI, ""}, {"Canada", CA, ""}, {"CA", CA, ""},
		{"Germany", EU, "DE"}, {"de", EU, "DE"}, {"IE", EU, "IE"}, {"Ireland", EU, "IE"}, {"Czech Republic", EU, "CZ"}, {"EL", EU, "GR"},
	} {
		if m, country, ok := ParseMarket(c.in); !ok || m != c.m || country != c.country {
			t.Errorf("ParseMarket(%q) = %q, %q, %v", c.in, m, country, ok)
		}
	}
	for _, in := range []string{"", "UK", "Mars", "Switzerland", "Norway"} {
		if m, _, ok := ParseMarket(in); ok {
			t.Errorf("ParseMarket(%q) = %q", in, m)
		}
	}
	countries := 0
	for _, r := range marketNames().rows {
		if r.get("kind") == "country" {
			countries++
			if m, c, ok := ParseMarket(r.get("name")); !ok || m != EU || c != r.get("country") {
				t.Errorf("%s: %q %q", r.get("name"), m, c)
			}
		}
	}
	if countries != 27 {
		t.Errorf("%d member states", countries)
	}
	if len(Markets) != 5 || GB.Title() != "Great Britain" || Market("xx").Title() != "xx" {
		t.Errorf("titles: %q", GB.Title())
	}
	if got := US.Inside() + ", " + CA.Inside(); got != "the United States, Canada" {
		t.Errorf("in a sentence: %q", got)
	}
}
