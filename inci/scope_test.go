package inci

import (
	"slices"
	"strings"
	"testing"
)

func TestProductScopes(t *testing.T) {
	for _, c := range []struct {
		words  string
		has    []Scope
		hasNot []Scope
	}{
		{"bath fizz", []Scope{"skin", "body", "bath", "solid"}, []Scope{"soap", "shower-gel"}},
		{"hay fizz", []Scope{"bath"}, nil},
		{"Bath bombs", []Scope{"bath"}, nil},
		{"bath salts", []Scope{"bath"}, nil},
		{"cocoa melt", []Scope{"bath"}, []Scope{"large-area"}},
		{"lavender body butter", []Scope{"body", "large-area"}, []Scope{"body-lotion", "bath"}},
		{"bath butter", []Scope{"bath"}, []Scope{"large-area"}},
		{"lip balm", []Scope{"lip", "lip-balm"}, []Scope{"large-area", "body"}},
		{"body balm", []Scope{"body", "large-area"}, []Scope{"lip"}},
		{"gardener's hand balm", []Scope{"hand", "hand-cream"}, []Scope{"large-area"}},
		{"oat and honey soap", []Scope{"soap-bar", "skin", "face"}, []Scope{"hand-wash"}},
		{"hand soap", []Scope{"hand-wash", "soap"}, []Scope{"soap-bar"}},
		{"shampoo bar", []Scope{"hair", "shampoo"}, []Scope{"soap-bar"}},
		{"lotion bar", []Scope{"large-area"}, []Scope{"soap-bar"}},
		{"conditioner bar", []Scope{"conditioner"}, nil},
		{"sugar scrub", []Scope{"body"}, nil},
		{"lip scrub", []Scope{"lip"}, []Scope{"body"}},
		{"foot soak", []Scope{"foot", "bath"}, nil},
		{"face oil", []Scope{"face"}, []Scope{"large-area"}},
		{"bath oil", []Scope{"bath"}, []Scope{"large-area"}},
		{"solid perfume", []Scope{"fragrance", "fragrance-cream"}, []Scope{"hydroalcoholic"}},
		{"perfume", []Scope{"fragrance", "fine-fragrance"}, nil},
		{"deodorant", []Scope{"deodorant"}, []Scope{"roll-on"}},
		{"dusting powder", []Scope{"powder", "inhalable"}, []Scope{"talcum"}},
		{"bubble bath", []Scope{"bath"}, []Scope{"solid"}},
	} {
		scopes, ok := ProductScopes(c.words)
		if !ok {
			t.Errorf("%q is not known", c.words)
		}
		for _, s := range c.has {
			if !slices.Contains(scopes, s) {
				t.Errorf("%q: no %s in %v", c.words, s, scopes)
			}
		}
		for _, s := range c.hasNot {
			if slices.Contains(scopes, s) {
				t.Errorf("%q: %s in %v", c.words, s, scopes)
			}
		}
	}
	for _, words := range []string{"", "candle", "spaceship", "fizz maker"} {
		if scopes, ok := ProductScopes(words); ok {
			t.Errorf("%q has scopes %v", words, scopes)
		}
	}
}

// A word means one type; types use only scopes that a product can have, and never say whether they are rinsed
// off; every scope of a limit is in the table, and a scope that no type has and nobody states is marked.
func TestScopesAreClosed(t *testing.T) {
	words := map[Scope]ScopeWord{}
	for _, w := range Scopes() {
		if _, twice := words[w.Scope]; twice || w.Meaning == "" {
			t.Errorf("scope %s", w.Scope)
		}
		words[w.Scope] = w
	}
	used := map[Scope]bool{}
	meaning := map[string]string{}
	for _, r := range readTable(productTypesText).rows {
		for _, w := range append(r.list("others"), r.get("type")) {
			if other, twice := meaning[Fold(w)]; twice {
				t.Errorf("%q means %s and %s", w, other, r.get("type"))
			}
			meaning[Fold(w)] = r.get("type")
		}
		for _, s := range r.list("scopes") {
			if w := words[Scope(s)]; !w.Made || s == "rinse-off" || s == "leave-on" {
				t.Errorf("%s has scope %q", r.get("type"), s)
			}
			used[Scope(s)] = true
		}
	}
	asked := map[Scope]bool{}
	for _, text := range []string{limitsText, colourAreasText} {
		for _, r := range readTable(text).rows {
			for column := range r.columns {
				switch column {
				case "all", "any", "none", "warn_all", "warn_none", "forbid_all", "forbid_any", "forbid_none", "ask_any", "max_all":
					for s := range strings.FieldsFuncSeq(r.get(column), func(c rune) bool { return c == '|' || c == ';' }) {
						if _, ok := words[Scope(s)]; !ok {
							t.Errorf("%s: scope %q has no meaning", r.get("source"), s)
						}
						asked[Scope(s)] = true
					}
				}
			}
		}
	}
	for s, w := range words {
		if w.Made && !w.Stated && !used[s] {
			t.Errorf("no type of product has scope %s", s)
		}
		if !w.Made && used[s] || !w.Made && !asked[s] {
			t.Errorf("scope %s is kept for nothing", s)
		}
	}
}

func TestCovers(t *testing.T) {
	rinsed := &AppliesTo{All: []Scope{"rinse-off"}}
	for _, c := range []struct {
		name    string
		applies AppliesTo
		scopes  []Scope
		want    bool
	}{
		{"everything", AppliesTo{}, nil, true},
		{"all there", AppliesTo{All: []Scope{"hair", "rinse-off"}}, []Scope{"rinse-off", "hair"}, true},
		{"one missing", AppliesTo{All: []Scope{"hair", "rinse-off"}}, []Scope{"rinse-off"}, false},
		{"one of each set", AppliesTo{Any: [][]Scope{{"skin", "nail"}, {"spray"}}}, []Scope{"nail", "spray"}, true},
		{"one set missed", AppliesTo{Any: [][]Scope{{"skin", "nail"}, {"spray"}}}, []Scope{"nail"}, false},
		{"kept out", AppliesTo{None: []Scope{"lip"}}, []Scope{"lip"}, false},
		{"outside", AppliesTo{Outside: []*AppliesTo{rinsed}}, []Scope{"leave-on"}, true},
		{"not outside", AppliesTo{Outside: []*AppliesTo{rinsed}}, []Scope{"rinse-off"}, false},
	} {
		if got := c.applies.Covers(c.scopes); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
