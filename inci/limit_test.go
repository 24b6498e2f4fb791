package inci

import (
	"slices"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
)

// product builds the scopes of a type of product with what its maker states.
func product(t *testing.T, productType string, stated ...Scope) []Scope {
	t.Helper()
	scopes, ok := ProductScopes(productType)
	if !ok {
		t.Fatalf("%q is not a type of product", productType)
	}
	return append(scopes, stated...)
}

// bound returns the rows that cover a product and bind a pack supplied and judged on a day.
func bound(k formula.Key, m Market, scopes []Scope, day date.Date) []*Limit {
	var limits []*Limit
	for _, l := range LimitsOf(k, m) {
		if l.Applies.Covers(scopes) && l.Duty.Binds(date.Occasion{On: day, Placed: day}) {
			limits = append(limits, l)
		}
	}
	return limits
}

const forbid, ask, none = "forbidden", "question", ""

func TestLimits(t *testing.T) {
	now, later := date.Of(2026, 11, 25), date.Of(2027, 1, 1)
	for _, c := range []struct {
		key     formula.Key
		m       Market
		typ     string
		stated  []Scope
		day     date.Date
		entry   string // of the row looked at; its list follows from the source beside it
		want    string // share of the finished product, forbid, ask, or none: no such row
		warning string
	}{
		// Annex V entry 1: 2.5 % rinse-off, 0.5 % leave-on, as acid. Entry 1a: 0.5 %.
		{"SODIUM BENZOATE", EU, "bath fizz", []Scope{RinseOff}, now, "1(a)", "0.025", ""},
		{"SODIUM BENZOATE", EU, "body butter", []Scope{LeaveOn}, now, "1(c)", "0.005", ""},
		{"SODIUM BENZOATE", EU, "body butter", []Scope{LeaveOn}, now, "1(a)", none, ""},
		{"POTASSIUM BENZOATE", EU, "shower gel", []Scope{RinseOff}, now, "1a", "0.005", ""},
		// Annex V 4 (0.6 % as acid), 13 (0.6 %, not in sprays), 29 (1 %), 34 (1 %).
		{"POTASSIUM SORBATE", EU, "lotion", []Scope{LeaveOn}, now, "4", "0.006", ""},
		{"DEHYDROACETIC ACID", EU, "lotion", []Scope{LeaveOn}, now, "13", "0.006", ""},
		{"SODIUM DEHYDROACETATE", EU, "body mist", []Scope{LeaveOn}, now, "13", forbid, ""},
		{"PHENOXYETHANOL", EU, "lotion", []Scope{LeaveOn}, now, "29", "0.01", ""},
		{"BENZYL ALCOHOL", NI, "lotion", []Scope{LeaveOn}, now, "34", "0.01", ""},
		// Annex V 3 and its warning; Annex III 98: 3, 2, 0.5 %; GB from 2022-12-15 (market timeline).
		{"SALICYLIC ACID", EU, "shampoo", []Scope{RinseOff}, now, "98(a)", "0.03", "Not to be used for children under 3 years of age"},
		{"SALICYLIC ACID", EU, "face oil", []Scope{LeaveOn}, now, "98(b)", "0.02", ""},
		{"SALICYLIC ACID", EU, "body lotion", []Scope{LeaveOn}, now, "98(c)", "0.005", ""},
		{"SALICYLIC ACID", EU, "baby lotion", []Scope{LeaveOn}, now, "98", forbid, ""},
		{"SALICYLIC ACID", GB, "face oil", []Scope{LeaveOn}, date.Of(2022, 12, 15), "98(b)", "0.02", ""},
		{"SALICYLIC ACID", GB, "face oil", []Scope{LeaveOn}, date.Of(2022, 12, 14), "98(b)", none, ""},
		{"SALICYLIC ACID", EU, "shower gel", []Scope{RinseOff}, now, "3 (salicylic acid)", "0.005", "Not to be used for children under 3 years of age"},
		// Annex V 7 by Regulation (EU) 2026/78: 0.2 % rinse-off, 0.15 % leave-on, warning; GB keeps 0.2 % for all.
		{"O-PHENYLPHENOL", EU, "lotion", []Scope{LeaveOn}, now, "7(b)", "0.0015", "Avoid contact with eyes."},
		{"O-PHENYLPHENOL", EU, "shower gel", []Scope{RinseOff}, now, "7(a)", "0.002", "Avoid contact with eyes."},
		{"O-PHENYLPHENOL", GB, "lotion", []Scope{LeaveOn}, now, "7", "0.002", ""},
		// Annex V 12 and 12a: 0.4 % single, 0.8 % mixtures, 0.14 % butyl and propyl.
		{"METHYLPARABEN", EU, "lotion", []Scope{LeaveOn}, now, "12 (single ester)", "0.004", ""},
		{"METHYLPARABEN", EU, "lotion", []Scope{LeaveOn}, now, "12 (mixtures)", "0.008", ""},
		{"PROPYLPARABEN", EU, "lotion", []Scope{LeaveOn}, now, "12a (sum)", "0.0014", "Do not use on the nappy area"},
		{"PROPYLPARABEN", EU, "nappy balm", []Scope{LeaveOn}, now, "12a", forbid, ""},
		// Annex V 39 and 57: 0.0015 %, rinse-off only. 56: IPBC.
		{"METHYLISOTHIAZOLINONE", EU, "shampoo", []Scope{RinseOff}, now, "57", "0.000015", ""},
		{"METHYLISOTHIAZOLINONE", EU, "lotion", []Scope{LeaveOn}, now, "57", forbid, ""},
		{"IODOPROPYNYL BUTYLCARBAMATE", EU, "bath melt", []Scope{RinseOff}, now, "56(a)", "0.0002", "Not to be used for children under three years of age"},
		{"IODOPROPYNYL BUTYLCARBAMATE", EU, "body butter", []Scope{LeaveOn}, now, "56(b)", forbid, ""},
		{"IODOPROPYNYL BUTYLCARBAMATE", EU, "lip balm", []Scope{LeaveOn}, now, "56", forbid, ""},
		{"IODOPROPYNYL BUTYLCARBAMATE", EU, "deodorant", []Scope{LeaveOn}, now, "56(c)", "0.000075", ""},
		// Annex III 12(b): 4 % H2O2 in skin products, percarbonate counts.
		{"SODIUM CARBONATE PEROXIDE", EU, "bath fizz", []Scope{RinseOff}, now, "12(b)", "0.04", "Contains hydrogen peroxide; Avoid contact with eyes; Rinse immediately if product comes into contact with them"},
		// Annex III 24(d): 1 % as zinc; zinc sulfate came in on 2027-01-01 (Regulation (EU) 2026/909).
		{"ZINC GLUCONATE", EU, "deodorant", []Scope{LeaveOn}, now, "24(d)", "0.01", ""},
		{"ZINC SULFATE", EU, "bath salts", []Scope{RinseOff}, now, "24(d)", none, ""},
		{"ZINC SULFATE", EU, "bath salts", []Scope{RinseOff}, later, "24(d)", "0.01", ""},
		// Annex III 53(b): 0.2 % in soap; a bath fizz is not named: a question.
		{"TETRASODIUM ETIDRONATE", EU, "bar soap", []Scope{RinseOff}, now, "53(b)", "0.002", ""},
		{"TETRASODIUM ETIDRONATE", EU, "bath fizz", []Scope{RinseOff}, now, "53", ask, ""},
		// Annex III 59(a), 62(a), 134(a).
		{"TALC", EU, "baby powder", []Scope{LeaveOn}, now, "59(a)", none, "Keep powder away from children's nose and mouth"},
		{"TRIETHANOLAMINE", EU, "lotion", []Scope{LeaveOn}, now, "62(a)", "0.025", ""},
		// Annex III 70 (citral) from 2027-01-01: 0.11 lip, 0.032 deodorant, 0.6 fragrance, 0.15 leave-on skin, 1.2 rinse-off.
		{"CITRAL", EU, "lip balm", []Scope{LeaveOn}, later, "70(a)", "0.0011", ""},
		{"CITRAL", EU, "deodorant", []Scope{LeaveOn}, later, "70(b)", "0.00032", ""},
		{"GERANIAL", EU, "solid perfume", []Scope{LeaveOn}, later, "70(d)", "0.006", ""},
		{"NERAL", EU, "body butter", []Scope{LeaveOn}, later, "70(e)", "0.0015", ""},
		{"CITRAL", EU, "bath fizz", []Scope{RinseOff}, later, "70(h)", "0.012", ""},
		{"CITRAL", EU, "bath fizz", []Scope{RinseOff}, date.Of(2026, 12, 31), "70(h)", none, ""},
		{"CITRAL", GB, "bath fizz", []Scope{RinseOff}, later, "70(h)", none, ""},
		// Annex III 75 (benzyl salicylate): 1.3 % bath, 0.5 % other rinse-off, 0.7 % body lotion, 0.5 % leave-on, 4 % fragrance.
		{"BENZYL SALICYLATE", EU, "bath salts", []Scope{RinseOff}, later, "75(c)", "0.013", ""},
		{"BENZYL SALICYLATE", NI, "bar soap", []Scope{RinseOff}, later, "75(b)", "0.005", ""},
		{"BENZYL SALICYLATE", EU, "body lotion", []Scope{LeaveOn}, later, "75(f)", "0.007", ""},
		{"BENZYL SALICYLATE", EU, "lotion bar", []Scope{LeaveOn}, later, "75(d)", "0.005", ""},
		{"BENZYL SALICYLATE", EU, "solid perfume", []Scope{LeaveOn}, later, "75(a)", "0.04", ""},
		// Annex III 102: methyl eugenol, eu-annex-ii notes point 1.
		{"METHYL EUGENOL", EU, "bath fizz", []Scope{RinseOff}, now, "102(e)", "0.00001", ""},
		{"METHYL EUGENOL", EU, "body balm", []Scope{LeaveOn}, now, "102(d)", "0.000002", ""},
		{"METHYL EUGENOL", EU, "solid perfume", []Scope{LeaveOn}, now, "102(c)", "0.00002", ""},
		{"METHYL EUGENOL", EU, "perfume", []Scope{LeaveOn}, now, "102(a)", "0.0001", ""},
		{"METHYL EUGENOL", EU, "perfume", []Scope{LeaveOn}, now, "102(d)", none, ""},
		// Annex II 360: safrole 100 ppm in all.
		{"SAFROLE", EU, "bath fizz", []Scope{RinseOff}, now, "360", "0.0001", ""},
		// Annex III 324, 325, 376, 380.
		{"METHYL SALICYLATE", EU, "bar soap", []Scope{RinseOff}, now, "324(g)", "0.0006", ""},
		{"METHYL SALICYLATE", EU, "hand soap", []Scope{RinseOff}, now, "324(h)", "0.006", ""},
		{"METHYL SALICYLATE", EU, "lip balm", []Scope{LeaveOn}, now, "324(j)", "0.0003", ""},
		{"METHYL SALICYLATE", GB, "bar soap", []Scope{RinseOff}, date.Of(2025, 9, 29), "324(g)", none, ""},
		{"BHT", GB, "lip balm", []Scope{LeaveOn}, date.Of(2025, 2, 25), "325(c)", "0.008", ""},
		{"BHT", GB, "lip balm", []Scope{LeaveOn}, date.Of(2025, 2, 24), "325(c)", none, ""},
		{"RETINYL PALMITATE", EU, "body lotion", []Scope{LeaveOn}, now, "376(a)", "0.0005", "Contains Vitamin A. Consider your daily intake before use"},
		{"RETINOL", EU, "face oil", []Scope{LeaveOn}, now, "376(b)", "0.003", "Contains Vitamin A. Consider your daily intake before use"},
		{"RETINOL", GB, "face oil", []Scope{LeaveOn}, now, "376(b)", none, ""},
		{"HEXYL SALICYLATE", EU, "bath fizz", []Scope{RinseOff}, now, "380(b)", "0.005", ""},
		{"HEXYL SALICYLATE", EU, "bath fizz", []Scope{RinseOff, ChildrenUnder3}, now, "380(f)", "0.001", ""},
		{"HEXYL SALICYLATE", EU, "bath fizz", []Scope{RinseOff}, date.Of(2026, 4, 30), "380(b)", none, ""},
		{"HEXYL SALICYLATE", GB, "bath fizz", []Scope{RinseOff}, now, "hexyl salicylate", ask, ""},
		{"KOJIC ACID", GB, "face cream", []Scope{LeaveOn}, now, "kojic acid", ask, ""},
		// Annex III 381, market timeline 2027-01-01: bar soap 4 %, body rinse-off 0.89, lip 14.62, hand 0.86, other 3.81, hair 7.14, talcum 2 %.
		{"MICA", EU, "bath fizz", []Scope{RinseOff}, later, "381(e)", "0.0089", ""},
		{"ILLITE", EU, "bar soap", []Scope{RinseOff}, later, "381(f)", "0.04", ""},
		{"ILLITE", EU, "bar soap", []Scope{RinseOff}, later, "381(e)", none, ""},
		{"MICA", EU, "lip balm", []Scope{LeaveOn}, later, "381(d)", "0.1462", ""},
		{"MICA", EU, "hand cream", []Scope{LeaveOn}, later, "381(p)", "0.0086", ""},
		{"MICA", EU, "body butter", []Scope{LeaveOn}, later, "381(q)", "0.0381", ""},
		{"MICA", EU, "shampoo bar", []Scope{RinseOff}, later, "381(g)", "0.0714", ""},
		{"MICA", EU, "talcum powder", []Scope{LeaveOn}, later, "381(r)", "0.02", "Keep powder away from children’s nose and mouth"},
		{"MICA", EU, "bath fizz", []Scope{RinseOff}, now, "381(e)", none, ""},
		{"KAOLIN", EU, "bath fizz", []Scope{RinseOff}, later, "381(e)", none, ""}, // exempt with Annex IV 119
		// Annex VI 30: 25 %, not where it can be inhaled.
		{"ZINC OXIDE", EU, "nappy balm", []Scope{LeaveOn}, now, "30", "0.25", ""},
		{"ZINC OXIDE", EU, "dusting powder", []Scope{LeaveOn}, now, "30", forbid, ""},
		// Canada: Hotlist revision of August 2022, rules for Canada section 5.
		{"CITRIC ACID", CA, "bath fizz", []Scope{RinseOff}, now, "alpha-hydroxy acids", ask, ""},
		// 21 CFR 250.250 and 700.13.
		{"HEXACHLOROPHENE", US, "bar soap", []Scope{RinseOff}, now, "250.250", "0.001", ""},
		{"PHENYL MERCURIC ACETATE", US, "lotion", []Scope{LeaveOn}, now, "700.13", forbid, ""},
	} {
		scopes := product(t, c.typ, c.stated...)
		var got, warning string
		found := 0
		for _, l := range bound(c.key, c.m, scopes, c.day) {
			if l.Entry != c.entry || l.Forbidden != (c.want == forbid) {
				continue
			}
			found++
			switch {
			case l.Forbidden:
				got = forbid
			case l.Question:
				got = ask
			case l.HasMax:
				got = l.Max.String()
			}
			warning = l.Warning
			if !slices.Contains(l.Keys, Canonical(c.key)) || l.Source.Text == "" || l.List == "" {
				t.Errorf("%s %s: keys or source missing: %+v", c.key, c.entry, l)
			}
		}
		if got != c.want || c.warning != "" && warning != c.warning || (c.want == none && c.warning == "") != (found == 0) || found > 1 {
			t.Errorf("%s in a %s, %s, %v: entry %s says %q %q in %d rows, want %q %q", c.key, c.typ, c.m, c.day, c.entry, got, warning, found, c.want, c.warning)
		}
	}
}

// The maximum above which a warning is due, and where.
func TestWarnings(t *testing.T) {
	for _, c := range []struct {
		key   formula.Key
		entry string
		above string
		typ   string
		adds  []Scope
		due   bool
	}{
		{"GLUTARAL", "48", "0.0005", "lotion", nil, true},                      // Annex V note (9): only above 0.05 %
		{"AMMONIA", "4", "0.02", "shampoo", nil, true},                         // Annex III 4: above 2 %
		{"BENZOPHENONE-3", "4(b)", "0.005", "lotion", nil, true},               // Annex VI 4: not at 0.5 % or less
		{"PROPYLPARABEN", "12a (sum)", "0", "lotion", nil, false},              // leave-on for children under three only
		{"PROPYLPARABEN", "12a (sum)", "0", "baby oil", nil, true},             // Annex V notes 2, rule 5
		{"IODOPROPYNYL BUTYLCARBAMATE", "56(a)", "0", "bath fizz", nil, false}, // note (11): not bath, shower, shampoo
		{"IODOPROPYNYL BUTYLCARBAMATE", "56(a)", "0", "body scrub", nil, true},
		{"IODOPROPYNYL BUTYLCARBAMATE", "56(a)", "0", "body scrub", []Scope{"adults-only"}, false},
		{"TRICLOSAN", "25", "0", "shower gel", nil, false}, // toothpaste only
	} {
		scopes := append(product(t, c.typ, RinseOff, LeaveOn), c.adds...)
		ok := false
		for _, l := range LimitsOf(c.key, EU) {
			if l.Entry == c.entry && l.Warning != "" {
				ok = true
				if l.WarnAbove.String() != c.above || l.WarnWhen.Covers(scopes) != c.due {
					t.Errorf("%s %s in %s: above %s, due %v", c.key, c.entry, c.typ, l.WarnAbove, l.WarnWhen.Covers(scopes))
				}
			}
		}
		if !ok {
			t.Errorf("%s: no warning in entry %s", c.key, c.entry)
		}
	}
}

// A colour index number is shared by a dye and its lake, and only the lake holds aluminium.
func TestRemark(t *testing.T) {
	for _, l := range LimitsOf("CI 19140", EU) {
		if l.Group == "aluminium" && (!strings.Contains(l.Remark("CI 19140"), "lake") || l.Remark("ALUMINA") != "") {
			t.Errorf("%s: %q", l.Entry, l.Remark("CI 19140"))
		}
	}
	if len(LimitsOf("CI 19140", EU)) == 0 {
		t.Error("lakes are not counted")
	}
}

// A figure stated for an allergen entry as a whole meets the limits of that entry.
func TestLimitsMeetGroupFigures(t *testing.T) {
	met := 0
	for _, a := range Allergens(EU) {
		for _, l := range Limits(EU) {
			number, _, _ := strings.Cut(l.Entry, "(")
			if l.List != "Annex III" || number != a.Entry || !l.HasMax {
				continue
			}
			met++
			if !slices.Contains(LimitsOf(GroupKey(a), EU), l) {
				t.Errorf("entry %s, %s: a figure under %s misses the limit %s", a.Entry, a.Name, GroupKey(a), l.Entry)
			}
		}
	}
	if met < 20 {
		t.Errorf("only %d limits met", met)
	}
}

func TestSums(t *testing.T) {
	for _, c := range []struct {
		key    formula.Key
		entry  string
		group  string
		has    []formula.Key
		hasNot []formula.Key
	}{
		{"METHYLPARABEN", "12 (single ester)", "Methylparaben and its salts", []formula.Key{"SODIUM METHYLPARABEN"}, []formula.Key{"ETHYLPARABEN"}},
		{"METHYLPARABEN", "12a (mixtures)", "parabens", []formula.Key{"PROPYLPARABEN", "ETHYLPARABEN", "SODIUM BUTYLPARABEN"}, nil},
		{"BUTYLPARABEN", "12a (sum)", "butyl- and propylparaben", []formula.Key{"PROPYLPARABEN"}, []formula.Key{"METHYLPARABEN"}},
		{"CITRAL", "70(h)", "citral", []formula.Key{"GERANIAL", "NERAL"}, nil},
		{"O-PHENYLPHENOL", "7(a)", "o-phenylphenol", []formula.Key{"SODIUM O-PHENYLPHENATE"}, nil},
		{"MICA", "381(e)", "aluminium", []formula.Key{"ALUMINUM HYDROXIDE", "POTASSIUM ALUM", "ILLITE", "CI 77007", "CI 19140"}, []formula.Key{"KAOLIN", "BENTONITE", "ALUMINUM STEARATE", "CI 77000", "SILICA"}},
		{"DELTA-DAMASCONE", "157(b)", "rose ketones", []formula.Key{"ROSE KETONE-5", "TRANS-ROSE KETONE-5"}, nil},
		{"SODIUM HYDROXIDE", "15a(d)", "alkali", []formula.Key{"POTASSIUM HYDROXIDE"}, nil},
		{"ZINC LACTATE", "24(d)", "zinc", []formula.Key{"ZINC SULFATE", "ZINC PCA"}, []formula.Key{"ZINC OXIDE"}},
		{"SODIUM METABISULFITE", "9", "sulfites", []formula.Key{"SODIUM SULFITE"}, nil},
	} {
		i := slices.IndexFunc(LimitsOf(c.key, EU), func(l *Limit) bool { return l.Entry == c.entry && !l.Forbidden })
		if i < 0 {
			t.Errorf("%s: no entry %s", c.key, c.entry)
			continue
		}
		l := LimitsOf(c.key, EU)[i]
		if l.Group != c.group || !slices.Contains(l.Sum, c.key) {
			t.Errorf("%s %s: group %q, sum %v", c.key, c.entry, l.Group, l.Sum)
		}
		for _, k := range c.has {
			if !slices.Contains(l.Sum, k) {
				t.Errorf("%s %s: %s is not added up", c.key, c.entry, k)
			}
		}
		for _, k := range c.hasNot {
			if slices.Contains(l.Sum, k) {
				t.Errorf("%s %s: %s is added up", c.key, c.entry, k)
			}
		}
	}
}

// Rows of the European lists as gathered from the Commission's exports of 2026: 237 of Annex III (by entry and
// product type), 70 of Annex V, 36 of Annex VI. Rows of other kinds come on top: the conditions of an entry
// ("forbidden", "ask"), members with days of their own ("split"), and what a market has for itself ("own").
func TestLimitCounts(t *testing.T) {
	counts := map[string]int{}
	for _, r := range readTable(limitsText).rows {
		if kind := r.get("kind"); r.get("market") == "eu" && (kind == "listed" || kind == "question") {
			counts[r.get("list")]++
		}
		if !slices.Contains([]string{"listed", "question", "forbidden", "ask", "split", "own", "together"}, r.get("kind")) {
			t.Errorf("kind %q", r.get("kind"))
		}
	}
	for list, want := range map[string]int{"Annex III": 237, "Annex V": 70, "Annex VI": 36} {
		if counts[list] != want {
			t.Errorf("%s: %d rows, want %d", list, counts[list], want)
		}
	}
	// Annex II: 1738 references, highest 1767 (notes to the list), 151 of them about hair dyes only.
	dyes := 0
	for _, r := range readTable(bansEUText).rows {
		if r.get("use") == "hair-dye" {
			dyes++
		}
	}
	if n := len(readTable(bansEUText).rows); n != 1738 || dyes != 151 {
		t.Errorf("Annex II: %d rows, %d about hair dyes", n, dyes)
	}
}

// Every name of a list is in the inventory, or this says why not.
func TestLimitNames(t *testing.T) {
	explained := map[formula.Key]string{
		"SAFROLE":                        "a constituent of oils, named in Annex II 360",
		"FUROCOUMARINS":                  "constituents of oils, named in Annex II 358",
		"ROSE KETONES":                   "the figure stated for the whole of entry 157",
		"MYROXYLON PEREIRAE OIL/EXTRACT": "the figure stated for the whole of entry 154",
		"PIROCTONE":                      "the acid of PIROCTONE OLAMINE, named in Annex V 35; the inventory has the salt",
		"TRIETHANOLAMINE POLYOXYETHYLENE ALKYLPHENYLETHER PHOSPHATE": "named at Annex III 62, dropped from the inventory",
		"LIPPIA CITRIODORA ABSOLUTE":                                 "named at Annex III 196; the inventory has the oils and extracts",
		"POTASSIUM HYDROGEN SULFITE":                                 "named in Annex V 9, dropped from the inventory",
	}
	used := map[formula.Key]bool{}
	for _, m := range Markets {
		for _, l := range Limits(m) {
			for _, k := range slices.Concat(l.Keys, l.Sum) {
				base := formula.Key(strings.TrimSuffix(string(k), " (NANO)")) // the annex names the nano form of an inventory name
				if _, ok := Find(string(base)); ok {
					continue
				}
				if _, ok := explained[k]; !ok {
					t.Errorf("%s %s: %s is not in the inventory", l.List, l.Entry, k)
				}
				used[k] = true
			}
		}
	}
	for k := range explained {
		if !used[k] {
			t.Errorf("%s is explained and not used", k)
		}
	}
	for _, r := range slices.Concat(readTable(classesText).rows, readTable(limitMembersText).rows) {
		k := formula.Key(r.get("key"))
		if _, ok := Find(string(k)); !ok && explained[k] == "" {
			t.Errorf("%s is not in the inventory", k)
		}
	}
}

// Each row is one that can be judged, and each market's table stands on rows of that market.
func TestLimitsAreWhole(t *testing.T) {
	for _, m := range Markets {
		for _, l := range Limits(m) {
			if len(l.Keys) == 0 || l.Source.Text == "" || l.List == "" || l.Entry == "" {
				t.Errorf("%s %s %s: incomplete", m, l.List, l.Entry)
			}
			if l.HasMax && (l.Max.Sign() <= 0 || exact.Int(1).Less(l.Max)) || l.Forbidden && (l.HasMax || l.Question) {
				t.Errorf("%s %s %s: %v %v %v", m, l.List, l.Entry, l.Max, l.Forbidden, l.Question)
			}
			if len(l.Sum) > 0 && l.Group == "" || l.Question && l.Conditions == "" {
				t.Errorf("%s %s %s: a sum without a name, or a question without words", m, l.List, l.Entry)
			}
			for _, k := range l.Keys {
				if len(l.Sum) > 0 && !slices.Contains(l.Sum, k) {
					t.Errorf("%s %s: %s is not in its own sum", l.List, l.Entry, k)
				}
				if l.Most(k).Sign() <= 0 {
					t.Errorf("%s %s: %s counts %v at most", l.List, l.Entry, k, l.Most(k))
				}
			}
			if strings.HasPrefix(l.List, "Annex") && m == GB && !l.Source.Unverified() && l.Source.Text != "SI 2023/836, explanatory note (HAA299 permitted)" {
				t.Errorf("GB %s %s is said to be seen: %s", l.List, l.Entry, l.Source)
			}
		}
	}
	if len(Limits(EU)) != len(Limits(NI)) {
		t.Error("NI differs from EU")
	}
	if LimitsOf("AQUA", EU) != nil || LimitsOf("SODIUM BENZOATE", "mars") != nil || Limits("mars") != nil {
		t.Error("a limit for water, or for an unknown market")
	}
	if l := LimitsOf("WATER", EU); l != nil {
		t.Errorf("%v", l)
	}
}
