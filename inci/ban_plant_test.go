package inci

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"panelwright/formula"
)

// A species or a genus as the list prints it: "Ficus carica", "Veratrum spp.".
var (
	binomial = regexp.MustCompile(`\b([A-Z][a-z]{3,}) ([a-z]{4,})\b`)
	ofGenus  = regexp.MustCompile(`\b([A-Z][a-z]{3,}) (?:spp\.|species)`)
)

// partsOfPlants tell the name of a plant from that of a salt.
var partsOfPlants = regexp.MustCompile(`\b(LEAF|FLOWER|SEED|ROOT|BARK|FRUIT|STEM|PEEL|WOOD|RESIN|BUD|TWIG|KERNEL|EXTRACT|OIL|WATER|POWDER)\b`)

// A ban that names a species leaves no name of that species in the inventory unlinked and unexplained: each is
// found by it, or a row of ban-groups.csv excepts it and says why.
func TestBansReachTheirSpecies(t *testing.T) {
	excepted := map[string]map[formula.Key]bool{}
	for _, r := range readTable(banGroupsText).rows {
		if (r.get("except") == "") != (r.get("except_note") == "") {
			t.Errorf("group %s: exceptions and their reason do not go together", r.get("ref"))
		}
		if excepted[r.get("ref")] == nil {
			excepted[r.get("ref")] = map[formula.Key]bool{}
		}
		for _, k := range r.keys("except") {
			excepted[r.get("ref")][Canonical(k)] = true
		}
	}
	var names []string
	eachLine(func(at int) {
		if n := strings.ToUpper(nameAt(at)); partsOfPlants.MatchString(n) {
			names = append(names, n)
		}
	})
	species := 0
	for _, r := range readTable(bansEUText).rows {
		if r.get("use") == "hair-dye" || strings.Contains(r.get("substance"), "etroleum") {
			continue
		}
		var words []string
		for _, m := range binomial.FindAllStringSubmatch(r.get("substance"), -1) {
			words = append(words, strings.ToUpper(m[1]+" "+m[2]))
		}
		for _, m := range ofGenus.FindAllStringSubmatch(r.get("substance"), -1) {
			words = append(words, strings.ToUpper(m[1]))
		}
		for _, w := range words {
			met := false
			for _, n := range names {
				if !hasWord(n, w) {
					continue
				}
				met = true
				k := Canonical(formula.Key(n))
				linked := slices.ContainsFunc(Prohibited(k, EU), func(b Ban) bool { return b.Ref == "Annex II "+r.get("ref") })
				if !linked && !excepted[r.get("ref")][k] {
					t.Errorf("Annex II %s names %s, and %s is neither linked nor explained", r.get("ref"), w, n)
				}
			}
			if met {
				species++
			}
		}
	}
	if species < 14 {
		t.Errorf("only %d species met", species)
	}
}

// Names that a reader of the list would look for first.
func TestBannedPlants(t *testing.T) {
	for _, c := range []struct {
		key  formula.Key
		ref  string
		want bool
	}{
		{"LIPPIA CITRIODORA LEAF OIL", "450", true},
		{"LIPPIA CITRIODORA FLOWER/LEAF/STEM OIL", "450", true},
		{"LIPPIA CITRIODORA LEAF EXTRACT", "450", true},
		{"LIPPIA CITRIODORA ABSOLUTE", "450", false}, // "other than absolute"
		{"VERBENA OFFICINALIS EXTRACT", "450", false},
		{"SAUSSUREA LAPPA ROOT EXTRACT", "1133", true},
		{"FICUS CARICA LEAF EXTRACT", "436", true},
		{"FICUS CARICA FRUIT EXTRACT", "436", false},
		{"CHENOPODIUM AMBROSIOIDES LEAF EXTRACT", "76", true},
		{"CHENOPODIUM QUINOA SEED OIL", "76", false},
		{"LAURUS NOBILIS FRUIT OIL", "359", true},
		{"LAURUS NOBILIS LEAF OIL", "359", false},
		{"SOLANUM NIGRUM EXTRACT", "298", true},
		{"MELIA AZADIRACHTA SEED EXTRACT", "1716", true},
		{"AZADIRACHTA INDICA SEED OIL", "1716", false},
		{"PHYTOLACCA DECANDRA EXTRACT", "374", true},
		{"CROTON LECHLERI RESIN", "107", false},
	} {
		got := slices.ContainsFunc(Prohibited(c.key, EU), func(b Ban) bool { return b.Ref == "Annex II "+c.ref })
		if got != c.want {
			t.Errorf("%s by Annex II %s: %v, want %v", c.key, c.ref, got, c.want)
		}
	}
}
