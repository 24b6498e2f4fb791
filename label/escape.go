package label

import (
	"strings"

	"panelwright/formula/finding"
	"panelwright/label/market"
)

// escapeKinds are the statements that the law of some market lets stand elsewhere, by the word of the table.
var escapeKinds = map[StatementKind]string{ListText: "list", CautionText: "precautions"}

// escapeWords are what the table of required statements calls a step.
var escapeWords = map[Step]string{FoldOut: "label", Leaflet: "leaflet", TagCard: "tag"}

// MayLeave reports whether every market of the pack that asks for s lets it stand on a fold, leaflet or tag
// instead, and where that is said. Of a ladder of several rungs only the first counts: what the law allows
// only when all else fails is for the maker to judge.
func (c *PackCopy) MayLeave(s *Statement, to Step) ([]finding.Citation, bool) {
	kind, word := escapeKinds[s.Kind], escapeWords[to]
	if kind == "" || word == "" || len(s.Markets) == 0 {
		return nil, false
	}
	var cites []finding.Citation
	for _, m := range s.Markets {
		rules := market.For(m)
		if rules == nil {
			return nil, false
		}
		found := false
		for _, q := range rules.Required(c.Occasion) {
			if q.Kind != kind {
				continue
			}
			found = true
			rung, _, _ := strings.Cut(q.Escape, "; 2 ")
			rung, _, _ = strings.Cut(rung, ", with ")
			rung, _, _ = strings.Cut(rung, ", pointed")
			rung, _, _ = strings.Cut(rung, ", or a website")
			if !strings.Contains(rung, word) {
				return nil, false
			}
			cites = append(cites, q.Source)
		}
		if !found {
			return nil, false
		}
	}
	return cites, true
}
