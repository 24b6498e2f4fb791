package inci

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"panelwright/formula"
)

func TestSuggest(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"lavendar oil", "lavender oil"}, {"sodium bicarbonat", "sodium bicarbonate"}, {"cocao butter", "cocoa butter"},
		{"Limonen", "limonene"}, {"Linalol", "linalool"}, {"polysorbat 80", "polysorbate 80"}, {"CI 77981", "CI 77891"},
		{"bakign soda", "baking soda"}, {"glycrin", "glycerin"}, {"Butyrospermum parki butter", "Butyrospermum Parkii Butter"},
		{"citirc acid", "citric acid"}, {"Caprilyc/Capric Triglyceride", "Caprylic/Capric Triglyceride"}, {"epsom slat", "Epsom salt"},
	} {
		got := Suggest(c.in, 5)
		if !slices.ContainsFunc(got, func(s string) bool { return Fold(s) == Fold(c.want) }) {
			t.Errorf("Suggest(%q) = %q, want %q among them", c.in, got, c.want)
		}
	}
	if got := Suggest("baking soda", 1); !slices.Equal(got, []string{"baking soda"}) {
		t.Errorf("a known name is nearest to itself: %q", got)
	}
	for _, in := range []string{"", "xqzvwk", strings.Repeat("A", 5000)} {
		if got := Suggest(in, 3); got != nil {
			t.Errorf("Suggest(%.10q) = %q", in, got)
		}
	}
	if Suggest("water", 0) != nil || len(Suggest("oil", 3)) > 3 {
		t.Error("more names than asked for")
	}
}

// The banded distance agrees with the whole table wherever it is within bound.
func TestDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[ABC]{0,12}`)
		a, b, bound := word.Draw(t, "a"), word.Draw(t, "b"), rapid.IntRange(1, 6).Draw(t, "bound")
		if diff := len(a) - len(b); diff > bound || -diff > bound {
			t.Skip("lengths too far apart")
		}
		var d distancer
		got, want := d.between(a, b, bound), wholeDistance(a, b)
		if got != min(want, bound+1) {
			t.Fatalf("%s %s within %d: %d, want %d", a, b, bound, got, want)
		}
	})
}

func wholeDistance(a, b string) int {
	d := make([][]int, len(a)+1)
	for i := range d {
		d[i] = make([]int, len(b)+1)
		d[i][0] = i
	}
	for j := range d[0] {
		d[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d[i][j] = min(d[i-1][j]+1, d[i][j-1]+1, d[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return d[len(a)][len(b)]
}

func TestSearch(t *testing.T) {
	for _, c := range []struct {
		in   string
		want Match
	}{
		{"baking soda", Match{"SODIUM BICARBONATE", "baking soda", KindTrade, "name"}},
		{"lavender", Match{"LAVANDULA ANGUSTIFOLIA OIL", "lavender", KindTrade, "name"}},
		{"SODIUM LAUROAMPHOACETATE", Match{"SODIUM LAUROAMPHOACETATE", "Sodium Lauroamphoacetate", KindIngredient, "name"}},
		{"78-70-6", Match{"LINALOOL", "Linalool", KindAllergen, "CAS"}},
		{"144-55-8", Match{"SODIUM BICARBONATE", "Sodium Bicarbonate", KindIngredient, "CAS"}},
		{"dipentene", Match{"DL-LIMONENE", "dipentene", KindAllergen, "name"}},
		{"Red 36", Match{"CI 12085", "Red 36", KindColour, "name"}},
		{"lauroamphoac", Match{"SODIUM LAUROAMPHOACETATE", "Sodium Lauroamphoacetate", KindIngredient, "part"}},
	} {
		got := Search(c.in, 5)
		if !slices.Contains(got, c.want) {
			t.Errorf("Search(%q) = %+v", c.in, got)
		}
	}
	if got := Search("lavender", 8); len(got) != 8 || got[0].Via != "name" {
		t.Errorf("lavender: %+v", got)
	} else {
		seen := map[formula.Key]int{}
		for _, m := range got {
			seen[m.Key]++
		}
		if seen["LAVANDULA ANGUSTIFOLIA OIL"] > 2 {
			t.Errorf("one substance fills the answer: %+v", got)
		}
	}
	if got := Search("no such thing at all", 5); got != nil {
		t.Errorf("%+v", got)
	}
	if diff := cmp.Diff(Search("oil", 20), Search("oil", 20)); diff != "" {
		t.Errorf("two answers differ:\n%s", diff)
	}
	if Search("", 5) != nil || Search("oil", 0) != nil {
		t.Error("nothing asked, something answered")
	}
}
