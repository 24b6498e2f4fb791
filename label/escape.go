package label

import (
	"slices"

	"panelwright/label/market"
)

// escapeKinds are the statements that the law of some market lets stand elsewhere, by the word of the table.
var escapeKinds = map[StatementKind]string{ListText: "list", CautionText: "precautions"}

// escapeWords are what the table of escapes calls a step.
var escapeWords = map[Step][]string{FoldOut: {"label"}, Leaflet: {"leaflet"}, TagCard: {"tag", "card", "tape"},
	Website: {"website"}, ShelfNotice: {"notice"}}

// MayLeave reports whether every market of the pack that asks for s lets it stand on a fold, a leaflet, a tag, a
// website or a notice instead, and returns the rung of each market's ladder that says so, with what it asks.
func (c *PackCopy) MayLeave(s *Statement, to Step) ([]market.Escape, bool) {
	kind, words := escapeKinds[s.Kind], escapeWords[to]
	if kind == "" || len(s.Markets) == 0 {
		return nil, false
	}
	var rungs []market.Escape
	for _, m := range s.Markets {
		rules := market.For(m)
		if rules == nil || !slices.ContainsFunc(rules.Required(c.Occasion), func(q market.Requirement) bool { return q.Kind == kind }) {
			return nil, false
		}
		all := rules.Escapes(kind)
		i := slices.IndexFunc(all, func(e market.Escape) bool { return slices.Contains(words, e.To) })
		if i < 0 {
			return nil, false
		}
		rungs = append(rungs, all[i])
	}
	return rungs, true
}

// Rungs returns how many rungs the longest ladder has that a market of the pack sets up for a statement; at least 1.
func (c *PackCopy) Rungs() int {
	last := 1
	for _, m := range c.Markets {
		rules := market.For(m)
		if rules == nil {
			continue
		}
		for _, kind := range escapeKinds {
			for _, e := range rules.Escapes(kind) {
				last = max(last, e.Rung)
			}
		}
	}
	return last
}
