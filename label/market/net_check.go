package market

import (
	"sync"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// Method is how a market judges the weights of a batch against the quantity
// that its packs state.
type Method string

const (
	ThreeRules      Method = "three-rules"      // average, share of short packs, no pack far short
	Handbook133     Method = "handbook-133"     // Category A: sample error limit and maximum allowable variation
	WeightedAverage Method = "weighted-average" // average with the benefit of the sample, number of short units
)

// NetCheck is one rule of the judgement of weights: a row of data/net-checks.csv.
type NetCheck struct {
	Value  string
	Words  string // the rule in words
	Source finding.Citation
}

// Number returns the value as a number; it panics where the row holds a word.
func (c NetCheck) Number() exact.Rat { return exact.Must(c.Value) }

// Method returns how the market judges weights.
func (r *Rules) Method() Method { return Method(r.mustCheck("method").Value) }

// NetCheck returns a rule of the judgement of weights: "average", "twice",
// "scale-part", "dries" and so on, as named in the table. Not every market has
// every rule.
func (r *Rules) NetCheck(rule string) (NetCheck, bool) {
	c, ok := netChecks()[checkKey{r.Market, "", rule}]
	return c, ok
}

// ShortShare returns the greatest share of packs that may be short by more than
// the tolerance. Countries are the member states of the EU where the goods are
// sold; the strictest of their own figures is taken, and where no country is
// given the strictest there is. A market without such a rule returns false.
func (r *Rules) ShortShare(countries []string) (NetCheck, bool) {
	best, ok := r.NetCheck("share")
	if len(countries) == 0 {
		countries = MemberStates()
	}
	for _, place := range countries {
		c, own := netChecks()[checkKey{r.Market, place, "share"}]
		if own && c.Number().Less(best.Number()) {
			best = c
		}
	}
	return best, ok
}

// CutFigure returns x cut off to the figures that a net quantity is printed
// with, never rounded up: 160.49 g is 160 g, 52.37 g is 52.3 g.
func (r *Rules) CutFigure(x exact.Rat) exact.Rat {
	return cutDigits(x, int(r.facts["net-digits"].number("value").Floor().Int64()))
}

// mustCheck returns a rule that a test has found in every market.
func (r *Rules) mustCheck(rule string) NetCheck {
	c, ok := r.NetCheck(rule)
	if !ok {
		panic("market: net-checks.csv: " + string(r.Market) + " has no row " + rule)
	}
	return c
}

type checkKey struct {
	market      inci.Market
	place, rule string
}

var netChecks = sync.OnceValue(func() map[checkKey]NetCheck {
	all := map[checkKey]NetCheck{}
	for _, r := range load("net-checks.csv") {
		key := checkKey{inci.Market(r.text("market")), r.text("place"), r.text("rule")}
		if _, ok := all[key]; ok {
			r.fail("rule", "stands twice")
		}
		all[key] = NetCheck{r.text("value"), r.text("words"), r.cite()}
	}
	return all
})
