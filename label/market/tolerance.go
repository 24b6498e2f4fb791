package market

import (
	"fmt"
	"sync"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// Tolerance is the shortage of a single pack that a market overlooks: the
// tolerable negative error of the EU, GB and NI, the maximum allowable variation
// of the US, the tolerance of Canada.
type Tolerance struct {
	Name   string    // in words
	Short  string    // TNE, MAV or T
	Amount exact.Rat // grams or millilitres
	How    string    // "4.5 % of 160 g"
	Source finding.Citation
}

// Tolerance returns the tolerance of a pack that states amount grams, or
// millilitres if volume. It returns false where no band of the market's table
// holds the amount, and for volumes in the US, whose table was not seen.
//
// EU, GB and NI round percentages up to the next 0.1 g. The US table has edges
// in grams and in pounds that do not quite meet; where the two put an amount in
// different bands, the smaller variation is returned.
func (r *Rules) Tolerance(amount exact.Rat, volume bool) (Tolerance, bool) {
	if r.Method() == Handbook133 {
		if volume {
			return Tolerance{}, false
		}
		return r.variation(amount)
	}
	for _, b := range toleranceBands()[r.Market] {
		if b.holds(amount) {
			return r.named(b.of(amount, r.tolerancesStep(), volume)), true
		}
	}
	return Tolerance{}, false
}

func (r *Rules) named(t Tolerance) Tolerance {
	n := r.mustCheck("tolerance-name")
	t.Name, t.Short = n.Value, n.Words
	return t
}

// tolerancesStep returns to which step percentages are rounded up; 0 for none.
func (r *Rules) tolerancesStep() exact.Rat {
	if c, ok := r.NetCheck("tolerance-step"); ok {
		return c.Number()
	}
	return exact.Rat{}
}

// band is a row of data/tne.csv or data/tolerances-ca.csv. The upper edge
// belongs to the band; the lower one where the row says so.
type band struct {
	min, max       exact.Rat // max is 0 for no upper edge
	minIn          bool
	percent, fixed exact.Rat // one of the two
	source         finding.Citation
}

func (b band) holds(x exact.Rat) bool {
	low := b.min.Less(x) || b.minIn && b.min.Equal(x)
	return low && (b.max.IsZero() || x.Cmp(b.max) <= 0)
}

func (b band) of(x, step exact.Rat, volume bool) Tolerance {
	unit := "g"
	if volume {
		unit = "ml"
	}
	if b.percent.IsZero() {
		return Tolerance{Amount: b.fixed, How: fmt.Sprintf("%s %s by the table", b.fixed, unit), Source: b.source}
	}
	raw := x.Mul(b.percent).Quo(exact.Int(100))
	t := Tolerance{Amount: raw, How: fmt.Sprintf("%s %% of %s %s", b.percent, x, unit), Source: b.source}
	if !step.IsZero() {
		if t.Amount = roundUp(raw, step); !t.Amount.Equal(raw) {
			t.How += fmt.Sprintf(" = %s %s, rounded up to %s %s", raw, unit, step, unit)
		}
	}
	return t
}

// roundUp returns x rounded up to a multiple of step, in whole numbers.
func roundUp(x, step exact.Rat) exact.Rat {
	return exact.FromDecimal(x.Quo(step).Decimal(0, exact.Up)).Mul(step)
}

var toleranceBands = sync.OnceValue(func() map[inci.Market][]band {
	all := map[inci.Market][]band{}
	for _, file := range []string{"tne.csv", "tolerances-ca.csv"} {
		for _, r := range load(file) {
			m := inci.Market(r.text("market"))
			all[m] = append(all[m], band{
				min: r.number("min"), max: r.numberIfAny("max"), minIn: r.yes("min_in"),
				percent: r.numberIfAny("percent"), fixed: r.numberIfAny("fixed"), source: r.cite(),
			})
		}
	}
	return all
})

// numberIfAny is number, with 0 for an empty cell.
func (r row) numberIfAny(col string) exact.Rat {
	if r.text(col) == "" {
		return exact.Rat{}
	}
	return r.number(col)
}

// mavBand is a row of data/hb133-mav.csv. The upper edge belongs to the band. Of
// the first band that is not so in print, but at 36 g its 10 % and the 3.6 g of
// the next are the same.
type mavBand struct {
	overG, toG, overLb, toLb exact.Rat // to is 0 for no upper edge
	percent                  exact.Rat
	grams                    exact.Rat
	source                   finding.Citation
}

// variation looks an amount up by its grams and by its pounds.
func (r *Rules) variation(grams exact.Rat) (Tolerance, bool) {
	bands := mavBands()[r.Market]
	lb := grams.Quo(mustUnit("lb").Factor)
	var best Tolerance
	for _, b := range bands {
		byGrams, byPounds := between(grams, b.overG, b.toG), between(lb, b.overLb, b.toLb)
		if !byGrams && !byPounds {
			continue
		}
		t := Tolerance{Amount: b.grams, How: fmt.Sprintf("%s g by the table", b.grams), Source: b.source}
		if !b.percent.IsZero() {
			t.Amount = grams.Mul(b.percent).Quo(exact.Int(100))
			t.How = fmt.Sprintf("%s %% of %s g", b.percent, grams.Decimal(3, exact.Nearest))
		}
		switch {
		case best.How == "":
			best = t
		case t.Amount.Less(best.Amount):
			t.How += "; the edges in grams and in pounds differ, the smaller is taken"
			best = t
		default:
			best.How += "; the edges in grams and in pounds differ, the smaller is taken"
		}
	}
	return r.named(best), best.How != ""
}

func between(x, over, to exact.Rat) bool {
	return over.Less(x) && (to.IsZero() || x.Cmp(to) <= 0)
}

var mavBands = sync.OnceValue(func() map[inci.Market][]mavBand {
	all := map[inci.Market][]mavBand{}
	for _, r := range load("hb133-mav.csv") {
		m := inci.Market(r.text("market"))
		all[m] = append(all[m], mavBand{
			overG: r.number("over_g"), toG: r.numberIfAny("to_g"), overLb: r.number("over_lb"), toLb: r.numberIfAny("to_lb"),
			percent: r.numberIfAny("percent"), grams: r.numberIfAny("mav_g"), source: r.cite(),
		})
	}
	return all
})
