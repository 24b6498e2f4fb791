package label

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// Warning is a sentence of law that the pack must carry because of what is in
// the piece, in its exact English words.
type Warning struct {
	Text   string
	Why    string // what asks for it, for messages: "Retinol"
	Source finding.Citation
}

// warn notes a sentence of law that is due. The same sentence is due once.
func (x *Declaration) warn(w Warning) {
	if !slices.ContainsFunc(x.Warnings, func(o Warning) bool { return o.Text == w.Text }) {
		x.Warnings = append(x.Warnings, w)
	}
}

// warnings writes the sentences of law that are due. English is known exactly;
// in another language the maker writes the official translation, as a caution
// whose English is the sentence.
func (s *scribe) warnings() {
	for _, w := range s.x.Warnings {
		own := s.p.cautionSaying(w.Text)
		for _, l := range s.langs {
			text := own[l]
			if l == "en" && text == "" {
				text = w.Text
			}
			if text == "" {
				s.x.add(finding.Finding{Rule: "pack.statutory-wording", Severity: finding.Error, Where: s.p.At("cautions"),
					Message: fmt.Sprintf("%s asks for the sentence %q; its official wording in %q is not known here", w.Why, w.Text, l),
					Cure:    fmt.Sprintf("add a caution with en: %s and %s: with the official translation", w.Text, l), Source: w.Source})
				continue
			}
			if len(own) > 0 {
				continue // stands among the cautions already
			}
			s.add(Statement{Kind: CautionText, Lang: l, Text: text, Bold: s.x.Market == inci.US, Sources: []finding.Citation{w.Source}}, market.WarningLetters)
		}
	}
}

// cautionSaying returns the maker's own caution that holds the sentence in
// English, or nil.
func (p *Product) cautionSaying(text string) Wording {
	for _, c := range p.Cautions {
		if strings.Contains(strings.ToLower(c["en"]), strings.ToLower(strings.TrimSuffix(text, "."))) {
			return c
		}
	}
	return nil
}
