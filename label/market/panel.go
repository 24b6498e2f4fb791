package market

import (
	"cmp"
	"slices"
	"sync"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// Panel is the principal display panel of a pack: the area by which some
// markets measure the letters of the net statement. It is the area of the side
// or surface that bears the label, not of the sticker.
type Panel struct {
	Low, High exact.Rat // square millimetres; 0 where the market has no panel
	How       string    // how the area was reckoned
	Source    finding.Citation
}

// Bounds of pi, close enough that no pack falls between them by chance.
var (
	piLow  = exact.Frac(31415926535, 10000000000)
	piHigh = exact.Frac(31415926536, 10000000000)
)

// panelRule is a row of data/panels.csv: which surface of which shape counts,
// and which share of it.
type panelRule struct {
	formula string
	share   exact.Rat
	how     string
	source  finding.Citation
}

var panelRules = sync.OnceValue(func() map[inci.Market]map[string]panelRule {
	all := map[inci.Market]map[string]panelRule{}
	for _, r := range load("panels.csv") {
		m := inci.Market(r.text("market"))
		if all[m] == nil {
			all[m] = map[string]panelRule{}
		}
		p := panelRule{r.text("formula"), r.number("share"), r.text("how"), r.cite()}
		if _, ok := surfaces[p.formula]; !ok {
			r.fail("formula", "unknown: "+p.formula)
		}
		all[m][r.text("kind")] = p
	}
	return all
})

// surfaces holds the areas that panel rules speak of, for a given pi.
var surfaces = map[string]func(b Body, pi exact.Rat) exact.Rat{
	"none":    func(Body, exact.Rat) exact.Rat { return exact.Rat{} },
	"front":   func(b Body, _ exact.Rat) exact.Rat { return area(b.A, b.B) },
	"largest": func(b Body, _ exact.Rat) exact.Rat { return largestSide(b) },
	"wrap":    func(b Body, pi exact.Rat) exact.Rat { return pi.Mul(area(b.A, b.B)) },
	"top":     func(b Body, pi exact.Rat) exact.Rat { return pi.Mul(area(b.A, b.A)).Quo(exact.Int(4)) },
	"surface": surface,
}

// PDP returns the principal display panel of the pack in market m, by the
// formula of that market. EU, GB and NI have none; nor has a NoBody.
func (b Body) PDP(m inci.Market) Panel {
	rules := panelRules()[m]
	rule, ok := rules[b.Kind.String()]
	if !ok {
		if rule, ok = rules["any"]; !ok {
			return Panel{}
		}
	}
	of := surfaces[rule.formula]
	return Panel{
		Low:    rule.share.Mul(of(b, piLow)),
		High:   rule.share.Mul(of(b, piHigh)),
		How:    rule.how,
		Source: rule.source,
	}
}

// Surface returns the whole outer surface of the pack in square millimetres,
// rounded up in the last digit of pi; 0 for a NoBody.
func (b Body) Surface() exact.Rat { return surface(b, piHigh) }

func surface(b Body, pi exact.Rat) exact.Rat {
	two := exact.Int(2)
	switch b.Kind {
	case Ball:
		return pi.Mul(area(b.A, b.A))
	case Box, Bar:
		return two.Mul(exact.Sum(area(b.A, b.B), area(b.A, b.C), area(b.B, b.C)))
	case Cylinder, Jar, Tin, Tube:
		return pi.Mul(area(b.A, b.B).Add(area(b.A, b.A).Quo(two)))
	case Bag, Card:
		return two.Mul(area(b.A, b.B))
	}
	return exact.Rat{}
}

func largestSide(b Body) exact.Rat {
	sides := []int64{b.A, b.B, b.C}
	slices.SortFunc(sides, func(x, y int64) int { return cmp.Compare(y, x) })
	return area(sides[0], sides[1])
}

// area multiplies two lengths in micrometres to square millimetres.
func area(a, b int64) exact.Rat { return exact.Frac(a, 1000).Mul(exact.Frac(b, 1000)) }
