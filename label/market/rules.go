package market

import (
	"strings"
	"sync"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// Rules is what the law of one market says of the pack.
type Rules struct {
	Market   inci.Market
	Name     string    // "Great Britain"
	Reviewed date.Date // the day the rows of this market were last gone through
	Order
	Heading       string           // words before the list of ingredients
	HeadingSource finding.Citation // says whether they are prescribed

	facts map[string]fact
}

// Order is how a market sorts the list of ingredients.
type Order struct {
	Basis         Basis
	FreeAt        exact.Rat // share of the whole up to which order is free: 0.01
	FreeInclusive bool      // exactly FreeAt is free too
	ColoursLast   bool      // colourants may stand after all others, whatever their amount
	ScentLast     bool      // parfum may stand at the very end, whatever its amount

	BasisSource, FreeSource, ColourSource, ScentSource finding.Citation
}

// Free reports whether an ingredient of the given share of the whole may stand
// in any order among its like.
func (o Order) Free(share exact.Rat) bool {
	c := share.Cmp(o.FreeAt)
	return c < 0 || c == 0 && o.FreeInclusive
}

// Basis is the moment at which shares are compared.
type Basis uint8

const (
	WhenAdded Basis = iota // weight at the time of adding, before anything dries
	AsSold                 // concentration in the product as sold
	Finished               // mass of the finished product; the rule names no moment
)

// String returns the basis in words.
func (b Basis) String() string {
	return [...]string{"weight when added", "concentration as sold", "mass of the finished product"}[b]
}

var bases = map[string]Basis{"added": WhenAdded, "sold": AsSold, "finished": Finished}

// fact is one row of data/markets.csv: a rule of a market and its value.
type fact struct {
	row
	value, words string
	source       finding.Citation
}

func (f fact) list() []string { return strings.Fields(f.value) }

// For returns the rules of m, or nil if m is none of the five markets. They are
// shared and not to be changed.
func For(m inci.Market) *Rules { return allRules()[m] }

var allRules = sync.OnceValue(func() map[inci.Market]*Rules {
	all := map[inci.Market]*Rules{}
	for _, r := range load("markets.csv") {
		m := inci.Market(r.text("market"))
		if all[m] == nil {
			all[m] = &Rules{Market: m, facts: map[string]fact{}}
		}
		all[m].facts[r.text("rule")] = fact{r, r.text("value"), r.text("words"), r.cite()}
	}
	for _, r := range all {
		r.fill()
	}
	return all
})

// fill sets the exported fields from the facts.
func (r *Rules) fill() {
	get := func(rule string) fact {
		f, ok := r.facts[rule]
		if !ok {
			panic("market: markets.csv: " + string(r.Market) + " has no row " + rule)
		}
		return f
	}
	basis := get("basis")
	b, ok := bases[basis.value]
	if !ok {
		basis.fail("value", "unknown basis")
	}
	free, colours, scent, heading := get("free-at"), get("colours-last"), get("scent-last"), get("heading")
	r.Name = get("name").value
	r.Reviewed = get("reviewed").date("value")
	r.Order = Order{
		Basis: b, BasisSource: basis.source,
		FreeAt: free.number("value"), FreeInclusive: get("free-inclusive").yes("value"), FreeSource: free.source,
		ColoursLast: colours.yes("value"), ColourSource: colours.source,
		ScentLast: scent.yes("value"), ScentSource: scent.source,
	}
	r.Heading, r.HeadingSource = heading.value, heading.source
	get("convention")
}

// Convention returns the sentence that is printed with each declaration: how
// this market orders the list, and what of it is our reading.
func (r *Rules) Convention() string { return r.facts["convention"].value }

// fact returns a rule of the market, if it has one of that name.
func (r *Rules) fact(rule string) (fact, bool) {
	f, ok := r.facts[rule]
	return f, ok
}
