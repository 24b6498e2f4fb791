package label

import (
	"slices"
	"strings"

	"panelwright/label/market"
)

// Some words speak of illness only in company. "Fever", "pain" or "wound" stand
// in fancy names ("Cabin Fever bar", "Pain d'épices") and in plain sentences;
// "for fever" and "soothes pain" are promises. "Heals" and "medicine" promise by
// themselves, but in the name of a product they may be no more than a name.

// named reports whether the words are the name of the product.
func (s spoken) named() bool { return s.key == "" || s.key == "title" }

// kindOf returns the kind of claim that a run of words is in the text around it.
// The words of data/claim-words.csv of the kinds "healing", "ailment" and
// "prescription" depend on it.
func (s spoken) kindOf(hit market.Said, all []market.Said) string {
	switch hit.Kind {
	case "healing":
		if s.named() && !s.paired(hit, all, "medicinal", "ailment") {
			return "maybe-medicinal"
		}
		return "medicinal"
	case "ailment":
		if s.paired(hit, all, "medicinal", "maybe-medicinal", "healing", "ailment", "pairing") {
			return "medicinal"
		}
		return "maybe-medicinal"
	case "prescription":
		if s.named() {
			return "maybe-medicinal"
		}
	}
	return hit.Kind
}

// paired reports whether words of one of the kinds stand in the sentence of hit,
// apart from it.
func (s spoken) paired(hit market.Said, all []market.Said, kinds ...string) bool {
	return slices.ContainsFunc(all, func(o market.Said) bool {
		if !slices.Contains(kinds, o.Kind) || o.Start < hit.End && hit.Start < o.End {
			return false
		}
		from, to := min(o.End, hit.End), max(o.Start, hit.Start)
		return !strings.ContainsAny(s.text[from:to], ".!?;")
	})
}
