package label

import (
	"slices"
	"strings"
	"sync"

	"panelwright/inci"
	"panelwright/label/market"
)

// A product may serve several uses: a body oil that also goes into the bath. It
// is then judged as each of them, and the strictest counts. What its types do not
// tell (a spray, near the eyes, for children) the book states beside them.

// Types returns the kinds of product that the type of the book names: one, or
// several parted by commas.
func (p *Product) Types() []string {
	if !strings.ContainsAny(p.Type, ",;") {
		return []string{p.Type}
	}
	var all []string
	for t := range strings.FieldsFuncSeq(p.Type, func(r rune) bool { return r == ',' || r == ';' }) {
		if t = strings.TrimSpace(t); t != "" {
			all = append(all, t)
		}
	}
	return all
}

// kinds are the sets of scopes that a product is judged by, one for each of its
// uses.
type kinds [][]inci.Scope

// in reports whether a row is about one of the uses.
func (k kinds) in(a *inci.AppliesTo) bool {
	return slices.ContainsFunc(k, a.Covers)
}

type kindsKey struct {
	types, used      string
	exposure         Exposure
	children, adults bool
}

type knownKinds struct {
	kinds   kinds
	unknown []string
}

var kindsByKey sync.Map // kindsKey -> knownKinds; a pure function of its key

// kindsOf returns what the lists of limits ask about a product, once for each of
// its uses: the kind, whether it is rinsed off, and what is stated beside. An
// unstated exposure counts as leave-on. unknown are the types not known here.
func kindsOf(p *Product) (k kinds, unknown []string) {
	key := kindsKey{p.Type, strings.Join(p.Used, "|"), p.Exposure, p.ForChildren, p.AdultsOnly}
	v, ok := kindsByKey.Load(key)
	if !ok {
		k, unknown = findKinds(p)
		v, _ = kindsByKey.LoadOrStore(key, knownKinds{k, unknown})
	}
	known := v.(knownKinds)
	return known.kinds, known.unknown
}

func findKinds(p *Product) (all kinds, unknown []string) {
	always, beside := []inci.Scope{inci.LeaveOn}, []inci.Scope(nil)
	if p.Exposure == RinseOff {
		always[0] = inci.RinseOff
	}
	for _, u := range p.statedUses() {
		if u.Beside {
			beside = append(beside, u.Scopes...)
		} else {
			always = append(always, u.Scopes...)
		}
	}
	if p.AdultsOnly {
		always = append(always, "adults-only")
	}
	for _, t := range p.Types() {
		scopes, known := inci.ProductScopes(t)
		if !known {
			unknown = append(unknown, t)
		}
		scopes = addScopes(addScopes(nil, scopes), always)
		if slices.Contains(scopes, inci.ChildrenUnder3) { // who is under three is under six and under ten
			scopes = addScopes(scopes, []inci.Scope{"children-under-6", "children-under-10"})
		}
		all = append(all, scopes)
		if len(beside) > 0 {
			all = append(all, addScopes(slices.Clone(scopes), beside))
		}
	}
	return all, unknown
}

// statedUses returns the uses that the book states.
func (p *Product) statedUses() (all []market.StatedUse) {
	for _, w := range p.Used {
		if u, ok := market.StatedUseOf(w); ok {
			all = append(all, u)
		}
	}
	if p.ForChildren {
		u, _ := market.StatedUseOf("for children under 3")
		all = append(all, u)
	}
	return all
}

func addScopes(to, more []inci.Scope) []inci.Scope {
	for _, s := range more {
		if !slices.Contains(to, s) {
			to = append(to, s)
		}
	}
	return to
}

// uses are the uses of a product that rows of cautions.csv ask for: its
// exposure, the scopes of its types, and who it is for.
type uses []string

func (u uses) has(use string) bool { return slices.Contains(u, use) }

var knownUses sync.Map // kindsKey -> uses; a pure function of its key

// usesOf returns the uses of a product, those of all its types together.
func usesOf(p *Product) uses {
	key := kindsKey{p.Type, strings.Join(p.Used, "|"), p.Exposure, p.ForChildren, p.AdultsOnly}
	if v, ok := knownUses.Load(key); ok {
		return v.(uses)
	}
	var u uses
	add := func(s string) {
		if !u.has(s) {
			u = append(u, s)
		}
	}
	for _, t := range p.Types() {
		for _, s := range market.UsesOf(t) {
			add(s)
		}
	}
	all, _ := kindsOf(p)
	for _, k := range all {
		for _, s := range k {
			add(string(s))
			if strings.HasPrefix(string(s), "children-") {
				add("children")
			}
		}
	}
	knownUses.Store(key, u)
	return u
}
