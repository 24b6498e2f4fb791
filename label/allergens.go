package label

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// allergenIndex finds the entries of a market's list by substance: members and
// stated totals.
type allergenIndex map[formula.Key][]*inci.Allergen

var allergenIndexes = sync.OnceValue(func() map[inci.Market]allergenIndex {
	out := map[inci.Market]allergenIndex{}
	for _, m := range inci.Markets {
		ix := allergenIndex{}
		put := func(k formula.Key, a *inci.Allergen) {
			if !slices.Contains(ix[k], a) {
				ix[k] = append(ix[k], a)
			}
		}
		for _, a := range inci.Allergens(m) {
			put(inci.GroupKey(a), a)
			for _, mem := range a.Members {
				put(mem.Key, a)
			}
		}
		out[m] = ix
	}
	return out
})

// measureAllergens measures every listed allergen that the materials mention.
// Thresholds are judged on the finished mass at the greatest drying, on what
// the suppliers' ranges allow at most: a share that could pass is declared.
func (d *Desk) measureAllergens(x *Declaration) {
	ix := allergenIndexes()[x.Market]
	if len(ix) == 0 {
		return
	}
	var entries []*inci.Allergen
	for i := range x.Composition.Items {
		for _, k := range d.mentions(x.Composition.Items[i].Material) {
			for _, a := range ix[k] {
				if !slices.Contains(entries, a) {
					entries = append(entries, a)
				}
			}
		}
	}
	slices.SortFunc(entries, func(a, b *inci.Allergen) int { return strings.Compare(a.Name, b.Name) })
	x.Allergens = make([]AllergenRow, 0, len(entries))
	for _, a := range entries {
		g, ok := group(a, x.Occasion)
		if !ok {
			continue
		}
		in := x.Composition.Inside(g)
		if in == nil {
			continue
		}
		limit := a.LeaveOn
		if x.Product.Exposure == RinseOff {
			limit = a.RinseOff
		}
		row := AllergenRow{Entry: a, Share: in.Share, Grams: in.Grams(), Threshold: limit, From: in.From,
			Declared: in.CanExceed(limit), Certain: in.CanExceed(limit) == in.MustExceed(limit)}
		for _, f := range in.From {
			row.Estimated = row.Estimated || f.Estimated
		}
		x.Allergens = append(x.Allergens, row)
		if row.Declared {
			x.hits = append(x.hits, hit{&x.Allergens[len(x.Allergens)-1], g})
		}
	}
}

// mentions returns the substances that a material's sheet and parts name.
func (d *Desk) mentions(m *formula.Material) []formula.Key {
	if v, ok := d.touched.Load(m); ok {
		return v.([]formula.Key)
	}
	var keys []formula.Key
	for _, p := range m.Parts {
		keys = append(keys, p.Key)
	}
	for _, c := range m.Constituents {
		keys = append(keys, c.Key)
	}
	d.touched.Store(m, keys)
	return keys
}

// group returns the members of an entry that count on the occasion. Where an
// entry was widened the members it had before count always, those added count
// from their own date.
func group(a *inci.Allergen, o date.Occasion) (formula.Group, bool) {
	g := formula.Group{Total: inci.GroupKey(a)}
	for _, m := range a.Members {
		if m.Duty.Binds(o) {
			g.Members = append(g.Members, m.Key)
		}
	}
	return g, a.Duty.Binds(o)
}

// directHit returns the allergen over its threshold that substance k belongs
// to, or nil.
func (x *Declaration) directHit(k formula.Key) *hit {
	for i := range x.hits {
		g := &x.hits[i].group
		if k == g.Total || slices.Contains(g.Members, k) {
			return &x.hits[i]
		}
	}
	return nil
}

// judgeAllergens says which scents leave listed allergens unanswered, and which
// statements rest on estimates.
func (x *Declaration) judgeAllergens() {
	due := dueEntries(x.Market, x.Occasion)
	for i := range x.Composition.Items {
		x.judgeCoverage(x.Composition.Items[i].Material, due)
	}
	for _, r := range x.Allergens {
		m := x.decidingEstimate(r)
		if m == nil {
			continue
		}
		x.add(finding.Finding{Rule: "allergen.estimate", Severity: finding.Question, Where: firstPos(m.Pos, x.Product.Pos),
			Message: fmt.Sprintf("%s up to %s rests on published figures for oils of this kind, not on your supplier's sheet", r.Entry.Name, percentUp(r.Share.Max, r.Threshold)),
			Cure:    "ask the supplier for the sheet of this lot and write its allergens: into the material", Source: r.Entry.Source})
	}
}

// decidingEstimate returns the first material whose published figures decide
// that an allergen is declared: what the suppliers' sheets say is not enough.
func (x *Declaration) decidingEstimate(r AllergenRow) *formula.Material {
	if !r.Declared || !r.Estimated {
		return nil
	}
	var first *formula.Material
	var stated exact.Rat
	for _, f := range r.From {
		switch {
		case !f.Estimated:
			stated = stated.Add(f.Fraction.Min.Mul(f.Weight))
		case first == nil:
			first = f.Material
		}
	}
	if r.Threshold.Mul(x.Composition.Mass(formula.Finished).Hi).Less(stated) {
		return nil
	}
	return first
}

type dueKey struct {
	market inci.Market
	date.Occasion
}

var dueCache sync.Map // dueKey -> []*inci.Allergen

// dueEntries returns the entries that bind on the occasion.
func dueEntries(m inci.Market, o date.Occasion) []*inci.Allergen {
	if v, ok := dueCache.Load(dueKey{m, o}); ok {
		return v.([]*inci.Allergen)
	}
	var due []*inci.Allergen
	for _, a := range inci.Allergens(m) {
		if a.Duty.Binds(o) {
			due = append(due, a)
		}
	}
	dueCache.Store(dueKey{m, o}, due)
	return due
}

// judgeCoverage reports the listed allergens that the sheet of a scent does not
// answer. Unlisted is not zero.
func (x *Declaration) judgeCoverage(m *formula.Material, due []*inci.Allergen) {
	if len(due) == 0 || !bringsScent(m) {
		return
	}
	s := sheet(m)
	var open []string
	var source finding.Citation
	for _, a := range due {
		if s.answers(a, m, x.Occasion) {
			continue
		}
		if open == nil {
			source = a.Source
		}
		open = append(open, a.Name)
	}
	if len(open) == 0 {
		return
	}
	what := fmt.Sprintf("the sheet of %s does not answer %d of the %d listed fragrance allergens: %s", m.Name, len(open), len(due), someOf(open, 4))
	if len(s.Covers) == 0 && len(m.Constituents) == 0 {
		what = fmt.Sprintf("%s has no sheet for the %d listed fragrance allergens", m.Name, len(due))
	}
	x.add(finding.Finding{Rule: "allergen.uncovered", Severity: finding.Error, Where: firstPos(m.Pos, x.Product.Pos), Message: what,
		Cure: "ask the supplier for a sheet that answers the whole list, then write allergens: and covers: in the material", Source: source})
}

// bringsScent reports whether a material can hold fragrance allergens that only
// a sheet can tell of: a scent, or anything with a scent or an oil among its parts.
func bringsScent(m *formula.Material) bool {
	for _, p := range m.Parts {
		if isScent(p.Key) {
			return true
		}
	}
	s := sheet(m)
	return s.Scents() && s.Class != "fragrance-constituent"
}

// answers reports whether the sheet says how much of an entry is in the
// material: by the list it covers, by a figure, or because the material is it.
func (s *Sheet) answers(a *inci.Allergen, m *formula.Material, o date.Occasion) bool {
	for _, l := range s.Covers {
		if l.Covers(a.Entry) && (l == inci.EU81 || !widened(a, o)) {
			return true
		}
	}
	total := inci.GroupKey(a)
	is := func(k formula.Key) bool {
		return k == total || slices.ContainsFunc(a.Members, func(m inci.Member) bool { return m.Key == k })
	}
	return slices.ContainsFunc(m.Constituents, func(c formula.Constituent) bool { return is(c.Key) && !c.Estimated }) ||
		slices.ContainsFunc(m.Parts, func(p formula.Part) bool { return is(p.Key) })
}

// widened reports whether members that came to an entry later than itself bind
// on the occasion: a sheet that answers an older list says nothing of them.
func widened(a *inci.Allergen, o date.Occasion) bool {
	return slices.ContainsFunc(a.Members, func(m inci.Member) bool { return m.Added && m.Duty != a.Duty && m.Duty.Binds(o) })
}

// someOf names the first n of a list and counts the rest.
func someOf(names []string, n int) string {
	if len(names) <= n+1 {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:n], ", "), len(names)-n)
}

func firstPos(ps ...finding.Pos) finding.Pos {
	for _, p := range ps {
		if p != (finding.Pos{}) {
			return p
		}
	}
	return finding.Pos{}
}

// percentUp prints a greatest share as a per cent: rounded up, with as many
// digits as it takes to stand on its own side of the limit.
func percentUp(x, limit exact.Rat) string { return PercentBeside(x, limit, exact.Up) }
