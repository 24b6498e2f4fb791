package market

import (
	"slices"
	"sync"
)

// use is a row of data/uses.csv.
type use struct {
	name       string
	types, but []Pattern
}

var uses = sync.OnceValue(func() []use {
	var all []use
	for _, r := range load("uses.csv") {
		all = append(all, use{r.text("use"), parsePatterns(r.text("types")), parsePatterns(r.text("but"))})
	}
	return all
})

// UsesOf returns what the words for a type of product say of its use, besides
// the scopes that package inci knows: "shower" for what is rubbed on there and
// leaves oil, "foam" for what is to foam, "scrub". Nil if they say nothing.
func UsesOf(productType string) []string {
	words := Words(productType)
	in := func(p Pattern) bool { return p.In(words) }
	var out []string
	for _, u := range uses() {
		if slices.ContainsFunc(u.types, in) && !slices.ContainsFunc(u.but, in) {
			out = append(out, u.name)
		}
	}
	return out
}
