package inci

import (
	"slices"
	"strings"
	"sync"

	"panelwright/formula"
)

func fields(s string) []string { return strings.Fields(s) }

type allergenRef struct {
	allergen *Allergen
	key      formula.Key
}

type allergenNames struct {
	byName map[string]allergenRef
	byCAS  map[string][]allergenRef
	byKey  map[formula.Key][]*Allergen
}

var allergenIndex = sync.OnceValue(func() allergenNames {
	x := allergenNames{map[string]allergenRef{}, map[string][]allergenRef{}, map[formula.Key][]*Allergen{}}
	name := func(s string, ref allergenRef) {
		if f := Fold(s); x.byName[f].allergen == nil {
			x.byName[f] = ref
		}
	}
	hold := func(k formula.Key, a *Allergen) {
		if !slices.Contains(x.byKey[k], a) {
			x.byKey[k] = append(x.byKey[k], a)
		}
	}
	of := map[formula.Key]*Allergen{}
	all := slices.Concat(Allergens(EU), ProhibitedAllergens())
	for _, a := range all { // the names of the entries come before those of members
		name(a.Name, allergenRef{a, a.key})
		name(string(a.key), allergenRef{a, a.key})
		hold(a.key, a)
		of[a.key] = a
	}
	for _, a := range all {
		own := slices.Clone(a.CAS)
		for _, m := range a.Members {
			name(string(m.Key), allergenRef{a, m.Key})
			name(m.Name, allergenRef{a, m.Key})
			hold(m.Key, a)
			of[m.Key] = a
			for _, cas := range m.CAS {
				x.byCAS[cas] = append(x.byCAS[cas], allergenRef{a, m.Key})
				own = slices.DeleteFunc(own, func(c string) bool { return c == cas })
			}
		}
		for _, cas := range own {
			x.byCAS[cas] = append(x.byCAS[cas], allergenRef{a, a.key})
		}
	}
	for _, r := range readTable(synonymsText).rows {
		k := formula.Key(r.get("key"))
		name(r.get("synonym"), allergenRef{of[k], k})
		if s, ok := Find(r.get("synonym")); ok {
			hold(s.Key, of[k])
		}
	}
	return x
})

// FindAllergen returns the entry that a line of a supplier's sheet means, and the
// key to keep its figure under: a member's, or GroupKey for a figure stated for
// the entry as a whole. It knows label and collective names, synonyms, trade
// names of oils, and registry numbers where a number means one entry only: some
// are printed in two entries, or shared with an oil that is in none. The entry
// is that of the EU and may be Prohibited.
func FindAllergen(name string) (a *Allergen, member formula.Key, ok bool) {
	x := allergenIndex()
	if ref, found := x.byName[Fold(name)]; found {
		return ref.allergen, ref.key, true
	}
	if cas := strings.TrimSpace(name); ValidCAS(cas) {
		return allergenByCAS(cas)
	}
	k := formula.Key("")
	if t, found := TradeMaterial(name); found && !t.Blend {
		k = t.Key
	} else if s, found := Find(name); found {
		k = s.Key
	}
	if of := x.byKey[k]; len(of) > 0 {
		return of[0], k, true
	}
	return nil, "", false
}

func allergenByCAS(cas string) (*Allergen, formula.Key, bool) {
	refs := allergenIndex().byCAS[cas]
	if len(refs) == 0 {
		return nil, "", false
	}
	a, k := refs[0].allergen, refs[0].key
	for _, ref := range refs[1:] {
		if ref.allergen != a {
			return nil, "", false
		}
		k = a.key // several members share the number
	}
	if a.Oil {
		for _, s := range ByCAS(cas) {
			if !slices.Contains(allergenIndex().byKey[s.Key], a) {
				return nil, "", false
			}
		}
	}
	return a, k, true
}

// AllergenOf returns the EU entries that substance k is, or is a member of: an
// essential oil can be an entry itself. Nil for most substances.
func AllergenOf(k formula.Key) []*Allergen { return allergenIndex().byKey[Canonical(k)] }
