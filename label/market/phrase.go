package market

import (
	"slices"
	"sync"

	"panelwright/formula/finding"
)

// Phrase is a wording with where it comes from: statutory words, or cautions
// that are common practice of the trade.
type Phrase struct {
	Text   string
	Source finding.Citation
}

type phraseTable struct {
	byID map[string]map[string]Phrase
	ids  []string
}

var phrases = sync.OnceValue(func() phraseTable {
	t := phraseTable{byID: map[string]map[string]Phrase{}}
	for _, r := range load("phrases.csv") {
		id := r.text("id")
		if t.byID[id] == nil {
			t.byID[id] = map[string]Phrase{}
			t.ids = append(t.ids, id)
		}
		t.byID[id][r.text("lang")] = Phrase{r.text("text"), r.cite()}
	}
	return t
})

// PhraseFor returns the wording id in a language, by two-letter code. A wording
// that belongs to no language ("Lot") serves for all. Where the language is not
// there, ok is false; English is never put in its place.
func PhraseFor(id, lang string) (p Phrase, ok bool) {
	texts := phrases().byID[id]
	if p, ok = texts[lang]; !ok {
		p, ok = texts[""]
	}
	return p, ok
}

// PhraseIDs returns the ids of all wordings, in the order of the table:
// "best-before", "lot", "caution.slippery", "us.foam-bath" and so on.
func PhraseIDs() []string { return slices.Clone(phrases().ids) }
