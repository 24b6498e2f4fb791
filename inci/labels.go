package inci

import (
	"slices"
	"strings"
	"sync"

	"panelwright/formula"
)

// Keys returns the substances that an ingredient line of somebody's label or
// sheet can mean: an ingredient name, a name as one of the markets prints it
// ("Butyrospermum Parkii (Shea) Butter", "Yellow 5", "Aqua/Water/Eau"), or two
// names for one thing, "Water (Aqua)". Several keys mean that the name is shared
// and the maker must say which: "Iron Oxides". Nil means that it is not known.
func Keys(label string) []formula.Key {
	if s, ok := Find(label); ok {
		return []formula.Key{s.Key}
	}
	if keys := anyKeys(label); keys != nil {
		return keys
	}
	outer, inner, ok := parenthesis(label)
	if !ok {
		return nil
	}
	a, b := anyKeys(outer), anyKeys(inner)
	if a == nil {
		return b
	}
	// Words in parentheses that are not a name may change what is meant.
	return slices.DeleteFunc(a, func(k formula.Key) bool { return !slices.Contains(b, k) })
}

// anyKeys returns every substance that a name alone can mean; a colour may share
// its name with the same substance in another use. Nil where there is none.
func anyKeys(name string) []formula.Key {
	keys := slices.Clone(printedNames()[Fold(name)])
	if s, ok := Find(name); ok && !slices.Contains(keys, s.Key) {
		keys = append(keys, s.Key)
	}
	if keys == nil {
		if t, ok := TradeMaterial(name); ok && !t.Blend {
			keys = append(keys, t.Key)
		}
	}
	return keys
}

// parenthesis cuts "Water (Aqua)" in two. What follows the bracket is part of
// the outer name.
func parenthesis(s string) (outer, inner string, ok bool) {
	before, rest, ok := strings.Cut(s, "(")
	inner, after, closed := strings.Cut(rest, ")")
	return before + " " + after, inner, ok && closed
}

var printedNames = sync.OnceValue(func() map[string][]formula.Key {
	m := map[string][]formula.Key{}
	add := func(name string, k formula.Key) {
		if f := Fold(name); f != "" && !slices.Contains(m[f], k) {
			m[f] = append(m[f], k)
		}
	}
	for _, r := range readTable(usNamesText).rows {
		for _, name := range append([]string{r.get("us_name")}, r.list("others")...) {
			add(name, formula.Key(r.get("key")))
		}
	}
	for _, r := range readTable(coloursUSText).rows {
		add(r.get("us_name"), formula.Key(r.get("key")))
		add(r.get("regulation_name"), formula.Key(r.get("key")))
	}
	for _, r := range readTable(canadaNamesText).rows {
		add(r.get("eu")+"/"+r.get("english")+"/"+r.get("french"), formula.Key(r.get("key")))
		add(r.get("english"), formula.Key(r.get("key")))
	}
	return m
})
