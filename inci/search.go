package inci

import (
	"cmp"
	"slices"
	"strings"

	"panelwright/formula"
)

// Kind says which table a name comes from.
type Kind int

// The kinds, in the order in which equal matches are shown.
const (
	KindTrade Kind = iota
	KindAllergen
	KindColour
	KindIngredient
)

// String returns a word for the kind.
func (k Kind) String() string {
	return [...]string{"trade material", "fragrance allergen", "colour", "ingredient"}[k]
}

// Match is one answer of Search.
type Match struct {
	Key  formula.Key // the substance
	Name string      // the name that matched, in readable letters
	Kind Kind
	Via  string // "name", "start", "part" or "CAS"
}

// Search returns up to n matches for a query: an ingredient, trade, allergen or
// colour name, a part of one, or a registry number. Whole names come first, then
// beginnings, then parts; shorter names before longer ones. A substance is shown
// once for each kind.
func Search(query string, n int) []Match {
	if cas := strings.TrimSpace(query); ValidCAS(cas) {
		return searchCAS(cas, n)
	}
	want := Fold(query)
	if want == "" || n <= 0 {
		return nil
	}
	type ranked struct {
		rank int
		c    knownName
	}
	var hits []ranked
	k := everyName()
	for _, c := range k.names {
		f := k.folded(c)
		at := strings.Index(f, want)
		if at < 0 {
			continue
		}
		rank := 2
		switch {
		case len(f) == len(want):
			rank = 0
		case at == 0:
			rank = 1
		}
		hits = append(hits, ranked{rank, c})
	}
	slices.SortStableFunc(hits, func(a, b ranked) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.c.kind, b.c.kind),
			cmp.Compare(a.c.to-a.c.from, b.c.to-b.c.from), cmp.Compare(a.c.name, b.c.name))
	})
	var found []Match
	for _, h := range hits {
		m := Match{Key: keyOf(h.c), Name: Readable(h.c.name), Kind: h.c.kind, Via: [...]string{"name", "start", "part"}[h.rank]}
		if m.Key != "" && !slices.ContainsFunc(found, func(o Match) bool { return o.Key == m.Key && o.Kind == m.Kind }) {
			found = append(found, m)
		}
		if len(found) == n {
			break
		}
	}
	return found
}

func searchCAS(cas string, n int) []Match {
	var found []Match
	if _, k, ok := FindAllergen(cas); ok {
		found = append(found, Match{k, Readable(string(k)), KindAllergen, "CAS"})
	}
	for _, s := range ByCAS(cas) {
		found = append(found, Match{s.Key, Readable(s.Name), KindIngredient, "CAS"})
	}
	return found[:min(len(found), max(n, 0))]
}

func keyOf(c knownName) formula.Key {
	switch c.kind {
	case KindTrade:
		t, _ := TradeMaterial(c.name)
		return t.Key
	case KindAllergen:
		_, k, _ := FindAllergen(c.name)
		return k
	case KindColour:
		for _, r := range readTable(coloursUSText).rows {
			if r.get("material") == c.name || r.get("us_name") == c.name {
				return formula.Key(r.get("key"))
			}
		}
	}
	s, _ := Find(c.name)
	return s.Key
}
