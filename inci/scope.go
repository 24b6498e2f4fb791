package inci

import (
	"slices"
	"strings"
	"sync"

	"panelwright/formula/finding"
)

// Scope is a word for what kind of product something is, as the lists of substances divide them: how it is
// used ("rinse-off", "leave-on"), where ("face", "lip", "hair"), what it is ("bath", "soap-bar",
// "deodorant"), its form ("spray", "powder") and for whom ("children-under-3"). A product has several. Scopes
// lists them with their meaning.
type Scope string

// The scopes that a maker states and no type of product implies.
const (
	RinseOff       Scope = "rinse-off"
	LeaveOn        Scope = "leave-on"
	ChildrenUnder3 Scope = "children-under-3"
)

// ScopeWord is a scope with what it means.
type ScopeWord struct {
	Scope   Scope
	Meaning string
	// Made is false for a scope that no type of product here has, such as "hair-dye": it keeps the rows of
	// the law whole.
	Made bool
	// Stated says that the maker states it (exposure, who it is for, a spray) beside the type of product.
	Stated bool
}

// Scopes returns all scopes in the order of their table.
func Scopes() []ScopeWord {
	var all []ScopeWord
	for _, r := range readTable(scopesText).rows {
		all = append(all, ScopeWord{
			Scope: Scope(r.get("scope")), Meaning: r.get("meaning"), Made: r.yes("made"), Stated: r.yes("stated"),
		})
	}
	return all
}

// ProductType is a type of product in the words of this trade.
type ProductType struct {
	Name   string
	Scopes []Scope
	// Note tells how a doubtful type was placed.
	Note   string
	Source finding.Citation
}

var productTypes = sync.OnceValue(func() map[string]*ProductType {
	m := map[string]*ProductType{}
	for _, r := range readTable(productTypesText).rows {
		p := &ProductType{Name: r.get("type"), Note: r.get("note"), Source: r.cite()}
		for _, s := range r.list("scopes") {
			p.Scopes = append(p.Scopes, Scope(s))
		}
		for _, w := range append(r.list("others"), p.Name) {
			m[Fold(w)] = p
		}
	}
	return m
})

// TypeOfProduct returns the type of product that words mean: the longest known type that they end with, so
// that "hay fizz" is a fizz and "body sugar scrub" a sugar scrub. A plural is understood.
func TypeOfProduct(words string) (p *ProductType, ok bool) {
	fields := strings.Fields(words)
	for i := range fields {
		f := Fold(strings.Join(fields[i:], " "))
		for _, try := range []string{f, strings.TrimSuffix(f, "S"), strings.TrimSuffix(f, "ES")} {
			if p := productTypes()[try]; p != nil {
				return p, true
			}
		}
	}
	return nil, false
}

// ProductScopes returns the scopes of a type of product. Whether it is rinsed off is not among them: the
// maker states that, and the caller adds it. ok is false for words that are not known.
func ProductScopes(productType string) (scopes []Scope, ok bool) {
	p, ok := TypeOfProduct(productType)
	if !ok {
		return nil, false
	}
	scopes = slices.Clone(p.Scopes)
	for w := range strings.FieldsSeq(productType) {
		for _, s := range typeWords()[Fold(w)] {
			if !slices.Contains(scopes, s) {
				scopes = append(scopes, s)
			}
		}
	}
	return scopes, true
}

// typeWords are words that add scopes to any type of product: "baby" to an
// oil, "lip" to a mask. A scope too many makes the judgement stricter.
var typeWords = sync.OnceValue(func() map[string][]Scope {
	m := map[string][]Scope{}
	for _, r := range readTable(typeWordsText).rows {
		for _, s := range r.list("scope") {
			m[Fold(r.get("word"))] = append(m[Fold(r.get("word"))], Scope(s))
		}
	}
	return m
})

// AppliesTo says which products a row of a list is about.
type AppliesTo struct {
	All  []Scope   // every one must be there
	Any  [][]Scope // one of each set must be there
	None []Scope   // none may be there
	// Outside are the other rows of the entry: the row is about products that none of them covers.
	Outside []*AppliesTo
	Text    string // as in the law
}

// Covers reports whether a product with these scopes is meant.
func (a *AppliesTo) Covers(scopes []Scope) bool {
	has := func(s Scope) bool { return slices.Contains(scopes, s) }
	for _, s := range a.All {
		if !has(s) {
			return false
		}
	}
	for _, set := range a.Any {
		if !slices.ContainsFunc(set, has) {
			return false
		}
	}
	if slices.ContainsFunc(a.None, has) {
		return false
	}
	return !slices.ContainsFunc(a.Outside, func(o *AppliesTo) bool { return o.Covers(scopes) })
}

// Everything reports whether every product is meant.
func (a *AppliesTo) Everything() bool {
	return len(a.All) == 0 && len(a.Any) == 0 && len(a.None) == 0 && len(a.Outside) == 0
}
