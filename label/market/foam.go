package market

import (
	"strings"

	"panelwright/formula/finding"
)

// FoamBathCaution returns the caution of foaming detergent bath products in the
// exact words of 21 CFR 740.17(b). For a product that children use, the phrase
// of (c) follows the word "children".
func FoamBathCaution(children bool) Phrase {
	p, _ := PhraseFor("us.foam-bath", "en")
	if more, ok := PhraseFor("us.foam-bath.children", "en"); ok && children {
		p.Text = strings.TrimSuffix(p.Text, ".") + " " + more.Text + "."
		p.Source = finding.Citation{Text: "21 CFR 740.17(b) and (c)", Seen: more.Source.Seen}
	}
	return p
}
