package market

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// Said is a run of words in a text that means something to the law.
type Said struct {
	Kind       string // "medicinal", "free-from", "food" ...; see data/claim-words.csv
	Start, End int    // bytes of the text
}

// Sayings returns what a text in a language says, in the order of the text.
// Where one run of words lies within another, the longer one counts: "tested"
// within "not tested on animals" is no claim of its own. The table has words for
// English, German and French; known is false for another language.
func Sayings(text, lang string) (said []Said, known bool) {
	lx, known := lexicons()[lang]
	if !known {
		return nil, false
	}
	words := Words(text)
	var runs []run
	for i := range words {
		take := func(e *lexeme) {
			if n := e.pattern.at(words[i:]); n > 0 {
				runs = append(runs, run{e.kind, i, i + n})
			}
		}
		for _, e := range lx.byFirst[words[i].Folded] {
			take(e)
		}
		for _, e := range lx.open {
			take(e)
		}
	}
	for _, r := range longest(runs) {
		said = append(said, Said{r.kind, words[r.from].Start, words[r.to-1].End})
	}
	return said, true
}

// shield marks words that only look like a claim: "mango butter" is no mango.
const shield = "shield"

// run is a match from one word up to another.
type run struct {
	kind     string
	from, to int
}

// longest drops every run within a longer one, and every run that a shield
// covers, then the shields.
func longest(runs []run) []run {
	within := func(r, o run) bool {
		inside := o.from <= r.from && r.to <= o.to
		return inside && (o.to-o.from > r.to-r.from || o.kind == shield && r.kind != shield)
	}
	out := slices.DeleteFunc(slices.Clone(runs), func(r run) bool {
		return r.kind == shield || slices.ContainsFunc(runs, func(o run) bool { return within(r, o) })
	})
	slices.SortFunc(out, func(a, b run) int {
		return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to), cmp.Compare(a.kind, b.kind))
	})
	return slices.Compact(out)
}

type lexeme struct {
	kind    string
	pattern Pattern
}

// lexicon holds the patterns of a language by their first word; open are those
// whose first word has a star.
type lexicon struct {
	byFirst map[string][]*lexeme
	open    []*lexeme
}

var lexicons = sync.OnceValue(func() map[string]*lexicon {
	all := map[string]*lexicon{}
	for _, r := range load("claim-words.csv") {
		lx := all[r.text("lang")]
		if lx == nil {
			lx = &lexicon{byFirst: map[string][]*lexeme{}}
			all[r.text("lang")] = lx
		}
		p := ParsePattern(r.text("words"))
		if len(p) == 0 || p[0].gap {
			r.fail("words", "does not begin with a word")
		}
		e := &lexeme{r.text("kind"), p}
		if slices.ContainsFunc(p[0].any, func(a string) bool { return strings.Contains(a, "*") }) {
			lx.open = append(lx.open, e)
			continue
		}
		for _, a := range p[0].any {
			lx.byFirst[a] = append(lx.byFirst[a], e)
		}
	}
	return all
})

// ClaimRule is what a market says of a kind of claim.
type ClaimRule struct {
	Kind     string
	Rule     finding.Code
	Severity finding.Severity
	Says     string // continues "“heals” in the title"
	Cure     string
	Duty     date.Duty
	Source   finding.Citation
}

var claimRules = sync.OnceValue(func() map[inci.Market][]ClaimRule {
	all := map[inci.Market][]ClaimRule{}
	for _, r := range load("claims.csv") {
		for _, m := range r.words("markets") {
			m := inci.Market(m)
			all[m] = append(all[m], ClaimRule{
				Kind: r.text("kind"), Rule: ruleOf(r.text("rule"), m), Severity: r.severity("severity"), Says: r.text("says"), Cure: r.text("cure"),
				Duty: date.Duty{New: r.date("new"), All: r.date("all")}, Source: r.cite(),
			})
		}
	}
	return all
})

// Claim returns what the market says of a kind of claim on the occasion; ok is
// false where it says nothing.
func (r *Rules) Claim(kind string, o date.Occasion) (ClaimRule, bool) {
	for _, c := range claimRules()[r.Market] {
		if c.Kind == kind && c.Duty.Binds(o) {
			return c, true
		}
	}
	return ClaimRule{}, false
}
