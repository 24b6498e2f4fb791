package inci

import (
	"slices"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/date"
)

func TestProhibitedByGroupAndWords(t *testing.T) {
	for _, c := range []struct {
		key       formula.Key
		m         Market
		ref       string
		byName    bool
		fragrance bool
		trace     bool
	}{
		{"SAFROLE", EU, "Annex II 360", false, false, false}, // except normal content in natural essences
		{"DIOXANE", EU, "Annex II 343", true, false, true},   // notes, point 8
		{"FURFURYL ALCOHOL", EU, "Annex II 1468", true, false, true},
		{"NAPHTHALENE", EU, "Annex II 1167", false, false, true}, // CAS not rechecked
		{"LEAD", EU, "Annex II 289", true, false, true},
		{"LEAD ACETATE", EU, "Annex II 289", false, false, true},
		{"ATRANOL", EU, "Annex II 1381", true, false, false},
		{"HYDROABIETYL ALCOHOL", EU, "Annex II 440", false, true, false}, // only as a fragrance ingredient
		{"LIPPIA CITRIODORA LEAF/FLOWER OIL", EU, "Annex II 450", false, true, false},
		{"BARIUM CHLORIDE", EU, "Annex II 46", false, false, false},
		{"CALCIUM FRUCTOBORATE", EU, "Annex II 1396", false, false, false},
		{"DEA-CETYL PHOSPHATE", EU, "Annex II 411", false, false, false},
		{"CANNABIS SATIVA FLOWER EXTRACT", EU, "Annex II 306", false, false, false},
		{"HUMAN BREAST MILK", EU, "Annex II 416", false, false, false},
		{"SODIUM TALLOWATE", EU, "Annex II 419", false, false, false},
		{"TETRASODIUM LEAD", NI, "Annex II 289", false, false, true},
		{"TRIMETHYLBENZOYL DIPHENYLPHOSPHINE OXIDE", GB, "Annex II 1731 (EU number)", true, false, false},
		{"4-METHYLBENZYLIDENE CAMPHOR", GB, "Annex II 1730 (EU number)", true, false, false},
	} {
		bans := Prohibited(c.key, c.m)
		i := slices.IndexFunc(bans, func(b Ban) bool { return b.Ref == c.ref })
		if i < 0 {
			t.Errorf("%s in %s: %+v", c.key, c.m, bans)
			continue
		}
		if b := bans[i]; b.ByName != c.byName || b.OnlyAsFragrance != c.fragrance || b.Trace != c.trace || b.Source.Text == "" {
			t.Errorf("%s in %s: %+v", c.key, c.m, b)
		}
	}
	for _, k := range []formula.Key{
		"BARIUM SULFATE", "CHROMIUM OXIDE GREENS", "SELENICEREUS MEGALANTHUS FRUIT EXTRACT", "SMILAX ARISTOLOCHIIFOLIA ROOT EXTRACT",
		"CANNABIS SATIVA SEED OIL", "COCAMIDE DEA", "AMARYLLIS BELLADONNA FLOWER/LEAF/STEM EXTRACT", "PLEADING", "CI 14700",
		"CALCIUM ALUMINUM BOROSILICATE", "THEOBROMA CACAO SEED BUTTER", "PLUMBAGO",
	} {
		if bans := Prohibited(k, EU); bans != nil {
			t.Errorf("%s: %+v", k, bans)
		}
	}
	// SI dates in the market timeline for Great Britain.
	for k, want := range map[formula.Key]date.Duty{
		"TRIMETHYLBENZOYL DIPHENYLPHOSPHINE OXIDE": {New: date.Of(2026, 8, 15), All: date.Of(2027, 2, 15)},
		"4-METHYLBENZYLIDENE CAMPHOR":              {New: date.Of(2026, 7, 15), All: date.Of(2027, 1, 15)},
		"TETRAHYDROPYRANYLOXY PHENOL":              {New: date.Of(2022, 12, 15), All: date.Of(2023, 3, 15)},
	} {
		if b := Prohibited(k, GB); len(b) != 1 || b[0].Duty != want {
			t.Errorf("%s in GB: %+v", k, b)
		}
	}
}

// CAS traps of the notes: the hit is a question. A number that is nothing else is a ban.
func TestProhibitedCAS(t *testing.T) {
	for cas, c := range map[string]struct {
		ref    string
		byName bool
	}{
		"84603-73-6": {"Annex II 359", false}, "8024-12-2": {"Annex II 450", false}, "8007-00-9": {"Annex II 1136", false},
		"84696-25-3": {"Annex II 1716", false}, "7440-47-3": {"Annex II 97", false}, "67-48-1": {"Annex II 168", false},
		"75-28-5": {"Annex II 464", false}, "7440-22-4": {"Annex II 1727", false},
		"50-00-0": {"Annex II 1577", true}, "80-54-6": {"Annex II 1666", true}, "10043-35-3": {"Annex II 1395", true},
	} {
		bans := ProhibitedCAS(cas, EU)
		i := slices.IndexFunc(bans, func(b Ban) bool { return b.Ref == c.ref })
		if i < 0 || bans[i].ByName != c.byName {
			t.Errorf("%s: %+v", cas, bans)
		}
	}
	if ProhibitedCAS("144-55-8", EU) != nil || ProhibitedCAS("144-55-8", CA) != nil { // baking soda
		t.Error("baking soda is banned")
	}
}

func TestHasWord(t *testing.T) {
	for _, c := range []struct {
		name, word string
		want       bool
	}{
		{"LEAD ACETATE", "LEAD", true}, {"PLEAD", "LEAD", false}, {"LEADER/LEAD", "LEAD", true}, {"MISLEAD LEADER", "LEAD", false},
		{"HYDROCORTISONE", "*CORTISONE", true}, {"TALLOWATE", "TALLOW*", true}, {"A TALLOWATE", "TALLOW", false},
		{"DEA-CETYL", "^DEA-", true}, {"COCAMIDE DEA-X", "^DEA-", false}, {"AMMI MAJUS EXTRACT", "AMMI MAJUS", true},
	} {
		if got := hasWord(c.name, c.word); got != c.want {
			t.Errorf("%q in %q: %v", c.word, c.name, got)
		}
	}
	for _, r := range readTable(banGroupsText).rows {
		if _, ok := bansEU().byRef[r.get("ref")]; !ok || len(r.list("words")) == 0 {
			t.Errorf("group %s", r.get("ref"))
		}
		for _, k := range r.keys("except") {
			if _, ok := Find(string(k)); !ok && LimitsOf(k, EU) == nil && !strings.HasPrefix(string(k), "CHROMIUM ") { // colours by their other names
				t.Errorf("group %s excepts %s", r.get("ref"), k)
			}
		}
	}
}
