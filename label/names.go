package label

import (
	"cmp"
	"fmt"
	"slices"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// Keys of the two names that stand for a whole composition.
const (
	parfum formula.Key = "PARFUM"
	aroma  formula.Key = "AROMA"
)

// scentClasses are the classes of material whose purpose is scent. All that is
// in them is one ingredient on the pack, unless the law or the maker names it.
var scentClasses = []string{"fragrance", "essential-oil", "absolute", "fragrance-constituent", "flavour"}

// Scents reports whether the material is bought for its scent.
func (s *Sheet) Scents() bool { return slices.Contains(scentClasses, s.Class) }

// sortUnderNames sorts every part of the composition under the name that the
// market prints for it. Parts with the same name are one entry: that is how
// blends, cut colours and sub-formulas merge.
func (d *Desk) sortUnderNames(x *Declaration) {
	s := sorter{desk: d, x: x, at: map[string]int{}}
	items := x.ordered.Items
	parts := 0
	for i := range items {
		parts += len(items[i].Material.Parts)
	}
	x.Entries = make([]Entry, 0, len(items)+len(x.hits))
	s.keys = make([][]formula.Key, 0, len(items))
	x.names.Owner = make([][]int, len(items))
	owners := make([]int, parts)
	for i := range items {
		m := items[i].Material
		own := owners[:len(m.Parts):len(m.Parts)]
		owners = owners[len(m.Parts):]
		for p := range m.Parts {
			own[p] = s.place(m, m.Parts[p].Key)
		}
		x.names.Owner[i] = own
	}
	x.names.Count = len(x.Entries)
	x.keys = s.keys
}

type sorter struct {
	desk *Desk
	x    *Declaration
	at   map[string]int
	keys [][]formula.Key
}

// place returns the number of the name that a part of a material counts under.
func (s *sorter) place(m *formula.Material, k formula.Key) int {
	x := s.x
	if k == parfum || k == aroma {
		return s.enter(k, k, Fragrance, nil)
	}
	sh := sheet(m)
	h := x.directHit(k)
	if sh.Scents() && !sh.ByName {
		// A perfuming oil that the law names leaves the fragrance with its mass;
		// a single chemical stays inside it and is named as a constituent.
		if h == nil || !h.row.Entry.Oil {
			return s.enter(parfum, k, Fragrance, nil)
		}
		return s.enter(k, k, Allergen, h.row.Entry)
	}
	if h != nil {
		return s.enter(k, k, Ingredient, h.row.Entry)
	}
	return s.enter(k, k, Ingredient, nil)
}

// enter returns the number of the entry that prints key k, making it if need
// be. stands is the substance that the entry stands for besides.
func (s *sorter) enter(k, stands formula.Key, kind Kind, a *inci.Allergen) int {
	n := s.desk.name(k, s.x.Market)
	text := n.Text
	switch {
	case a != nil:
		text = prescribed(a, k)
	case text == "": // for the proof; the finding says what is wrong
		text = inci.Readable(string(k))
	}
	text = nanoName(text, k)
	if n.colour {
		kind = Colourant
	}
	i, ok := s.at[text]
	if !ok {
		i = len(s.x.Entries)
		s.at[text] = i
		s.x.Entries = append(s.x.Entries, Entry{Name: text, Kind: kind, Source: n.Source, index: i})
		s.keys = append(s.keys, nil)
	}
	// What several substances share does not hang on which came first.
	e := &s.x.Entries[i]
	if e.allergen == nil {
		e.allergen = a
	}
	if e.Kind == Allergen {
		e.Kind = kind
	}
	if !slices.Contains(s.keys[i], stands) {
		s.keys[i] = append(s.keys[i], stands)
		e.Keys = s.keys[i]
		if a == nil && !n.OK {
			s.unprintable(k, n.Printed)
		}
	}
	return i
}

func (s *sorter) unprintable(k formula.Key, n inci.Printed) {
	s.x.add(finding.Finding{Rule: "list.no-name", Severity: finding.Error, Where: s.x.uses(k),
		Message: fmt.Sprintf("%s: %s", inci.Readable(string(k)), n.Why),
		Cure:    "leave it out for this market, or put another material in its place", Source: n.Source})
}

// uses returns where the first material that holds k was written.
func (x *Declaration) uses(k formula.Key) finding.Pos {
	for i := range x.ordered.Items {
		m := x.ordered.Items[i].Material
		for _, p := range m.Parts {
			if p.Key == k && m.Pos != (finding.Pos{}) {
				return m.Pos
			}
		}
	}
	return x.Product.Pos
}

// order measures the entries, adds the allergens that are only constituents,
// and puts all in the market's order.
func (x *Declaration) order() {
	basis := x.basis()
	shares := x.ordered.Shares(x.names, basis)
	for i := range x.Entries {
		x.Entries[i].Share = shares[i]
	}
	mass := x.ordered.TypicalMass(basis)
	bounds := x.ordered.Mass(basis)
	for _, h := range x.hits {
		for _, name := range h.names() {
			if x.hasEntry(h.row.Entry, name) {
				continue
			}
			g := x.gramsNamed(h, name)
			x.Entries = append(x.Entries, Entry{Name: name, Kind: Allergen, index: -1, allergen: h.row.Entry,
				Keys: h.keys(), Source: h.row.Entry.Source,
				Share: formula.Share{Min: g.Min.Quo(bounds.Hi), Typical: g.Typical.Quo(mass), Max: g.Max.Quo(bounds.Lo)}})
		}
	}
	slices.SortStableFunc(x.Entries, func(a, b Entry) int {
		return cmp.Or(cmp.Compare(x.tail(a), x.tail(b)), b.Share.Typical.Cmp(a.Share.Typical),
			cmp.Compare(a.tie(), b.tie()), cmp.Compare(a.Name, b.Name))
	})
	for i := range x.Entries {
		x.Entries[i].Order = x.mark(i)
	}
}

// prescribed returns the form in which an allergen is printed, once: the
// collective name, or the member's own where none is prescribed.
func prescribed(a *inci.Allergen, k formula.Key) string {
	if a.EachByName {
		for _, m := range a.Members {
			if m.Key == k {
				return m.Name
			}
		}
	}
	return a.Name
}

// names returns what the pack prints for an allergen, wherever it is: inside
// something or a part of a scent.
func (h hit) names() []string {
	var out []string
	put := func(k formula.Key) {
		if n := prescribed(h.row.Entry, k); slices.Contains(h.keys(), k) && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	for _, w := range h.row.From {
		for _, p := range w.Material.Parts {
			put(p.Key)
		}
		for _, c := range w.Material.Constituents {
			put(c.Key)
		}
	}
	return out
}

// gramsNamed returns what stands behind one name of an allergen: all of it
// under a collective name, else the substance of that name.
func (x *Declaration) gramsNamed(h hit, name string) formula.Share {
	if h.row.Entry.EachByName {
		for _, m := range h.row.Entry.Members {
			if in := x.Composition.Inside(formula.Group{Total: m.Key}); m.Name == name && in != nil {
				return in.Grams()
			}
		}
	}
	return h.row.Grams
}

func (h hit) keys() []formula.Key { return append([]formula.Key{h.group.Total}, h.group.Members...) }

func (x *Declaration) hasEntry(a *inci.Allergen, name string) bool {
	return slices.ContainsFunc(x.Entries, func(e Entry) bool { return e.allergen == a && e.Name == name })
}

// tie orders entries of exactly equal share: other ingredients before scent.
func (e Entry) tie() int {
	switch e.Kind {
	case Fragrance:
		return 1
	case Allergen:
		return 2
	}
	return 0
}

// tail says what stands after the sorted entries whatever its amount: the
// colourants, then the scent where the market puts it at the end.
func (x *Declaration) tail(e Entry) int {
	switch {
	case e.Kind == Fragrance && x.Rules.ScentLast:
		return 2
	case e.Kind == Colourant && x.Rules.ColoursLast:
		return 1
	}
	return 0
}

// basis returns the mass that the market orders by. Only the weight when added
// is taken before drying.
func (x *Declaration) basis() formula.Basis {
	switch {
	case len(x.Composition.Reactions()) > 0: // a soap is listed by what went in, or by what came out
		if x.wentIn() {
			return formula.AsAdded
		}
	case x.Rules.Basis == market.WhenAdded:
		return formula.AsAdded
	}
	return formula.Finished
}

// mark decides how firmly entry i stands before the next one. Inside the 1 %
// rule it is free, unless the next one may outgrow the rule and then belongs
// before it.
func (x *Declaration) mark(i int) Mark {
	e := x.Entries[i]
	last := i+1 == len(x.Entries) || x.tail(x.Entries[i+1]) > 0
	switch {
	case x.tail(e) > 0, x.Rules.Free(e.Share.Max) && (last || x.Rules.Free(x.Entries[i+1].Share.Max)):
		return Free
	case last || x.neverBelow(e, x.Entries[i+1]):
		return Proven
	}
	return Typical
}

// neverBelow reports whether a weighs at least as much as b in every
// composition that the suppliers' ranges allow.
func (x *Declaration) neverBelow(a, b Entry) bool {
	if a.index < 0 || b.index < 0 {
		return !a.Share.Min.Less(b.Share.Max)
	}
	return x.ordered.Gap(x.names, x.basis(), a.index, b.index).Sign() >= 0 || x.soapNeverBelow(a, b)
}
