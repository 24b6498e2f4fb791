package inci

import (
	"bytes"
	"encoding/csv"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

var files = map[string]string{
	"glossary": glossaryText, "twins": twinsText, "trade": tradeText, "aliases": aliasesText, "densities": densitiesText,
	"us-names": usNamesText, "canada-names": canadaNamesText, "capitals": capitalsText, "colours-eu": coloursEUText,
	"colours-us": coloursUSText, "allergens": allergensText, "allergen-members": membersText,
	"allergen-synonyms": synonymsText, "estimates": estimatesText, "bans-eu": bansEUText, "colour-areas": colourAreasText, "bans-us": bansUSText, "ban-groups": banGroupsText,
	"scopes": scopesText, "product-types": productTypesText, "type-words": typeWordsText, "limits": limitsText, "limit-members": limitMembersText,
	"molar-masses": molarMassesText, "atomic-weights": atomicWeightsText, "classes": classesText, "carriers": carriersText,
	"use-categories": useCategoriesText, "markets": marketsText, "sources": sourcesText,
	"fats": fatsText, "soap-acids": soapAcidsText, "soap-masses": soapMassesText, "fizz": fizzText, "lye-safety": lyeSafetyText, "food-origins": foodOriginsText,
}

// Our own reader of CSV cuts the text where it lies; encoding/csv is the oracle.
func TestTablesAgreeWithEncodingCSV(t *testing.T) {
	for name, text := range files {
		want, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		got := readTable(text)
		if len(got.rows) != len(want)-1 {
			t.Fatalf("%s: %d rows, want %d", name, len(got.rows), len(want)-1)
		}
		for i, r := range got.rows {
			if !slices.Equal(r.fields, want[i+1]) {
				t.Fatalf("%s row %d:\n%s", name, i+1, cmp.Diff(want[i+1], r.fields))
			}
		}
	}
}

func TestEveryFileIsEmbedded(t *testing.T) {
	entries, err := fs.ReadDir(os.DirFS("data"), ".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		onDisk, err := os.ReadFile("data/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		if text, ok := files[strings.TrimSuffix(e.Name(), ".csv")]; !ok || !bytes.Equal([]byte(text), onDisk) {
			t.Errorf("%s is not embedded as it stands", e.Name())
		}
	}
}

// Every row says where it comes from and how that was come by; numbers, dates and
// registry numbers can be read.
func TestRows(t *testing.T) {
	seen := []finding.Seen{finding.Yes, finding.Secondary, finding.Memory, finding.Practice}
	for name, text := range files {
		for i, r := range readTable(text).rows {
			for column := range r.columns {
				v := r.get(column)
				switch {
				case column == "seen" || strings.HasSuffix(column, "_seen") && v != "":
					if !slices.Contains(seen, finding.Seen(v)) {
						t.Errorf("%s row %d: seen %q", name, i+1, v)
					}
				case column == "source" || strings.HasSuffix(column, "_source") && v != "":
					if text := sourceText(v); len(text) < 10 && name != "markets" {
						t.Errorf("%s row %d: source %q gives %q", name, i+1, v, text)
					}
				case slices.Contains([]string{"low", "high", "g_per_ml", "density", "max", "warn_above", "leave_on", "rinse_off"}, column) && v != "":
					if n, err := exact.Parse(v); err != nil || n.Sign() < 0 || name != "trade" && name != "densities" && exact.Int(1).Less(n) {
						t.Errorf("%s row %d: %s %q", name, i+1, column, v)
					}
				case slices.Contains([]string{"new", "existing", "ca_new", "ca_all"}, column) && v != "",
					column == "all" && v != "" && name != "limits": // a scope there
					if _, err := date.Parse(v); err != nil {
						t.Errorf("%s row %d: %v", name, i+1, err)
					}
				case column == "cas" && v != "":
					for _, cas := range strings.Fields(v) {
						if !ValidCAS(cas) {
							t.Errorf("%s row %d: registry number %s", name, i+1, cas)
						}
					}
				}
			}
		}
	}
}

// Every source id is used, and every source with a place for a detail gets one.
func TestSources(t *testing.T) {
	used := map[string]bool{"glossary-1": true} // of the whole inventory, Substance.Source
	for name, text := range files {
		for _, r := range readTable(text).rows {
			for column := range r.columns {
				if column != "source" && !strings.HasSuffix(column, "_source") {
					continue
				}
				id, detail, _ := strings.Cut(r.get(column), ":")
				if words, ok := sources()[id]; ok {
					used[id] = true
					if detail != "" && strings.Count(words, "%") != 1 {
						t.Errorf("%s: source %s has no single place for %q", name, id, detail)
					}
				}
			}
		}
	}
	for id := range sources() {
		if !used[id] {
			t.Errorf("source %s is not used", id)
		}
	}
}

func TestCounts(t *testing.T) {
	declarable := 0
	for _, r := range readTable(allergensText).rows {
		if !r.yes("prohibited") {
			declarable++
		}
	}
	for _, c := range []struct {
		what      string
		got, want int
		source    string
	}{
		{"glossary names", len(readTable(glossaryText).rows), 28703, "Commission inventory, spring 2026: 28,703 distinct names"},
		{"GlossarySize", GlossarySize, 28703, "the same"},
		{"trade materials", len(TradeMaterials()), 747, "count of the trade list"},
		{"Canada, scheduled names", len(canadaNames()), 58, "C.R.C. c. 869, Schedule: 58 items"},
		{"Annex IV rows", len(readTable(coloursEUText).rows), 154, "Annex IV, 153 entries and 126a, the fine grade of 126"},
		{"declarable entries, EU", declarable, 81, "Annex III as replaced by Regulation (EU) 2023/1545; count in Canadian guidance"},
		{"declarable entries, NI", len(Allergens(NI)), 81, "as the EU"},
		{"declarable entries, CA", len(Allergens(CA)), 81, "C.R.C. c. 869 s. 21.4, count in guidance"},
		{"declarable entries, GB", len(Allergens(GB)), 24, "Regulation (EU) 2023/1545 recital 5: 24 before it"},
		{"declarable entries, US", len(Allergens(US)), 0, "RIN 0910-AI90: no rule published"},
		{"US bans of substances", len(readTable(bansUSText).rows), 10, "21 CFR 700.11 to 700.27, 250.250 and 310.545; of the 14 rules gathered, 700.23 (propellants) names nothing in the inventory, 700.25 is about packs, 700.35 stands with the limits and the law of colours with the colours"},
		{"US colours", len(readTable(coloursUSText).rows), 96, "21 CFR parts 73, 74 and 82, as gathered for the colours of this trade, with what is not listed there"},
		{"banned former entries", len(ProhibitedAllergens()), 2, "Annex II 1380 and 1666"},
		{"use categories", len(UseCategories()), 18, "table of categories, 49th amendment"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %d, want %d (%s)", c.what, c.got, c.want, c.source)
		}
	}
}

func TestGlossaryIsSorted(t *testing.T) {
	last := ""
	lines := 0
	eachLine(func(at int) {
		lines++
		f := Fold(nameAt(at))
		if f < last {
			t.Fatalf("%q stands behind %q", f, last)
		}
		last = f
		if strings.ContainsAny(nameAt(at), "\"\n") {
			t.Fatalf("%q holds a character the search in place cannot read", nameAt(at))
		}
	})
	if lines != GlossarySize {
		t.Errorf("%d lines", lines)
	}
}
