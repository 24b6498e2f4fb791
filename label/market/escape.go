package market

import (
	"slices"
	"strconv"
	"sync"

	"panelwright/formula/finding"
	"panelwright/inci"
)

// Escape is a place other than the pack where a statement may stand when it cannot be fitted: a rung of the ladder
// that the law of a market sets up for it.
type Escape struct {
	Rung    int    // from 1; a later one only where those before it will not do
	To      string // leaflet, label, tape, tag, card, website or notice
	When    string // what else the law asks, as words that follow "where"; "" for nothing
	Pointer Pointer
	Source  finding.Citation
}

// Pointer is how the pack points to what stands elsewhere.
type Pointer string

// Ways to point. Where words or the hand will do, the table says hand: it needs no language.
const (
	NoPointer Pointer = "none"
	ByHand    Pointer = "hand"    // the hand in the open book
	ByWords   Pointer = "words"   // in the languages of the pack
	ByAddress Pointer = "address" // words and the address of the website
)

// statementEscapes are the rungs of a market by kind of statement.
var statementEscapes = sync.OnceValue(func() map[inci.Market]map[string][]Escape {
	all := map[inci.Market]map[string][]Escape{}
	for _, r := range load("escapes.csv") {
		rung, err := strconv.Atoi(r.text("rung"))
		if err != nil || rung < 1 {
			r.fail("rung", "not a whole number from 1")
		}
		e := Escape{Rung: rung, To: r.text("to"), When: r.text("when"), Pointer: Pointer(r.text("pointer")), Source: r.cite()}
		if !slices.Contains([]string{"leaflet", "label", "tape", "tag", "card", "website", "notice"}, e.To) {
			r.fail("to", "unknown: "+e.To)
		}
		if !slices.Contains([]Pointer{NoPointer, ByHand, ByWords, ByAddress}, e.Pointer) {
			r.fail("pointer", "unknown: "+string(e.Pointer))
		}
		m := inci.Market(r.text("market"))
		if all[m] == nil {
			all[m] = map[string][]Escape{}
		}
		all[m][r.text("kind")] = append(all[m][r.text("kind")], e)
	}
	return all
})

// Escapes returns where a kind of statement, named as in [Requirement], may stand instead of on the pack, the
// first rung first; nil if nowhere.
func (r *Rules) Escapes(kind string) []Escape { return statementEscapes()[r.Market][kind] }
