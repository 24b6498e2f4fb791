package inci

import (
	"maps"
	"slices"
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/finding"
)

// ClassMember is a substance of a class that some rule asks for: a formaldehyde releaser, an alpha hydroxy
// acid, a borate, a plastic.
type ClassMember struct {
	Key    formula.Key
	Note   string
	Source finding.Citation
}

var classes = sync.OnceValue(func() map[Class]map[formula.Key]ClassMember {
	m := map[Class]map[formula.Key]ClassMember{}
	for _, r := range readTable(classesText).rows {
		c := Class(r.get("class"))
		if m[c] == nil {
			m[c] = map[formula.Key]ClassMember{}
		}
		k := Canonical(formula.Key(r.get("key")))
		m[c][k] = ClassMember{k, r.get("note"), r.cite()}
	}
	return m
})

// Class names a class of substances that a rule asks for.
type Class string

// The classes. Each lists its members with their sources.
const (
	ClassReleaser     Class = "formaldehyde-releaser" // Annex V, preamble, point 2
	ClassAHA          Class = "aha"                   // alpha hydroxy acids, their salts and esters
	ClassMicroplastic Class = "microplastic"          // REACH Annex XVII entry 78
	ClassBorate       Class = "borate"                // Annex II 1396
	ClassNoDetergent  Class = "no-detergent"          // called a surfactant, used as a thickener, fat or dispersant
	ClassSiloxane     Class = "siloxane"              // D4, D5 and D6, REACH Annex XVII entry 70
)

// MemberOf returns k as a member of class c.
func MemberOf(c Class, k formula.Key) (ClassMember, bool) {
	m, ok := classes()[c][Canonical(k)]
	return m, ok
}

// Members returns the members of class c by name.
func Members(c Class) []ClassMember {
	return slices.SortedFunc(maps.Values(classes()[c]), func(a, b ClassMember) int {
		return strings.Compare(string(a.Key), string(b.Key))
	})
}

// FormaldehydeReleasers returns the preservatives of Annex V that release formaldehyde, by name.
func FormaldehydeReleasers() []formula.Key {
	var keys []formula.Key
	for _, m := range Members(ClassReleaser) {
		keys = append(keys, m.Key)
	}
	return keys
}

// ReleasesFormaldehyde reports whether k is one of FormaldehydeReleasers.
func ReleasesFormaldehyde(k formula.Key) bool { _, ok := MemberOf(ClassReleaser, k); return ok }

// AHA reports whether k is an alpha hydroxy acid or a salt or ester of one, for the sunburn notice.
func AHA(k formula.Key) bool { _, ok := MemberOf(ClassAHA, k); return ok }

// Microplastic reports whether k is a synthetic polymer that glitter and microbeads are typically made of.
// The rules ask for solid particles, which a name cannot tell: a dissolved or liquid polymer is not meant.
func Microplastic(k formula.Key) bool { _, ok := MemberOf(ClassMicroplastic, k); return ok }

// Borate reports whether k is boric acid or one of its salts or esters.
func Borate(k formula.Key) bool { _, ok := MemberOf(ClassBorate, k); return ok }

const nanoMark = "(NANO)"

// Nano reports whether k is the nano form of a substance: its name ends in "(NANO)".
func Nano(k formula.Key) bool { return strings.HasSuffix(string(k), nanoMark) }

// Surfactant reports whether the inventory gives k the function of a cleansing or foam-boosting surfactant,
// the sense of "surface-active agent that serves as a detergent or foaming ingredient" in 21 CFR 740.17.
// Soaps are among them. Left out are the members of ClassNoDetergent.
func Surfactant(k formula.Key) bool {
	if _, no := MemberOf(ClassNoDetergent, k); no {
		return false
	}
	s, ok := Find(string(k))
	return ok && (strings.Contains(s.Functions, "Surfactant - Cleansing") || strings.Contains(s.Functions, "Surfactant - Foam Boosting"))
}
