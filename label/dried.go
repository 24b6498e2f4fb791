package label

import (
	"errors"
	"fmt"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	weighings "panelwright/label/weigh"
)

// Rules on weighings of one piece over weeks.
const (
	RuleNetDried  finding.Code = "net.dried"  // the pack says more than the piece weighs
	RuleNetDrying finding.Code = "net.drying" // the weighings do not tell yet
)

// LastDayOfSale returns the end of the durability that the maker states, for a
// batch first supplied on a day; 0 if it is not stated.
func (p *Product) LastDayOfSale(placed date.Date) date.Date {
	if p.Keeps.Before != 0 || p.Keeps.Keeps == 0 {
		return p.Keeps.Before
	}
	return placed.AddMonths(p.Keeps.Keeps)
}

// Readings returns what the product weighed over weeks, to be fitted.
func (p *Product) Readings() []weighings.Reading {
	out := make([]weighings.Reading, len(p.Weights))
	for i, w := range p.Weights {
		out[i] = weighings.Reading{Day: w.Day, Grams: w.Grams}
	}
	return out
}

// Dried is what the weighings of a product over weeks come to.
type Dried struct {
	Fit     weighings.Drying
	Err     error     // weighings.ErrFewReadings or weighings.ErrNoEnd: no curve tells
	LastDay date.Date // of sale, where the maker states a day; 0 where it follows from the first supply of a batch, or is not known
	Lowest  exact.Rat // grams of a piece on that day, or once it loses no more; the least that was read where no curve tells
}

// Dried fits the weighings of the product. Where the last day of sale follows
// from the day on which a batch is first supplied, the end of the curve counts:
// so a piece is as heavy for every batch, and no date to come says anything new.
func (p *Product) Dried() Dried {
	d := Dried{LastDay: p.Keeps.Before}
	d.Fit, d.Err = weighings.Dry(p.Readings())
	switch d.Lowest = d.Fit.Lowest; {
	case d.Err != nil:
	case d.LastDay != 0:
		d.Lowest = d.Fit.LowestOn(d.LastDay)
	case p.Keeps.Keeps != 0:
		d.Lowest = d.Fit.LowestAtEnd()
	}
	return d
}

// judgeDried compares the stated quantity with what a piece weighed over weeks,
// on the last day of sale or once it loses no more. Water that was taken up does
// not count. Where the law judges the weight at packing, a piece that goes on losing
// is a warning: then it counts when it is packed.
func (x *Declaration) judgeDried() {
	p := x.Product
	if len(p.Weights) == 0 || p.Net.IsZero() || p.Net.Volume {
		return
	}
	d := p.Dried()
	rule, _ := x.Rules.NetCheck("dries")
	onSale := rule.Value == "yes"
	count := exact.Int(int64(max(p.Count, 1)))
	lowest := d.Lowest.Mul(count)
	if lowest.Less(x.Net.Larger) {
		f := finding.Finding{Rule: RuleNetDried, Severity: finding.Error, Where: p.Weights[0].Pos, Source: rule.Source,
			Message: fmt.Sprintf("the pack says %s, but by the weighings it holds %s g %s", p.Net.Text, grams1(lowest), d.when()),
			Cure:    fmt.Sprintf("state %s g or less, or weigh more into a piece", lowest.Decimal(0, exact.Down))}
		if !onSale {
			f.Severity = finding.Warning
			f.Cure = "here the weight at packing counts: pack only what weighs enough on that day, or state less"
		}
		x.add(f)
		return
	}
	if d.Err == nil || !onSale {
		return
	}
	say := "they do not bend yet, so that no end can be told"
	if errors.Is(d.Err, weighings.ErrFewReadings) {
		say = d.Err.Error()
	}
	x.add(finding.Finding{Rule: RuleNetDrying, Severity: finding.Warning, Where: p.Weights[0].Pos, Source: rule.Source,
		Message: fmt.Sprintf("the weighings do not tell yet what a piece will weigh on the last day of sale: %s", say),
		Cure:    "go on weighing the same piece every week until it is steady"})
}

// when says which day the lowest weight is of.
func (d *Dried) when() string {
	switch {
	case d.Err == nil && d.LastDay != 0 && d.Lowest.Less(d.Fit.Lowest):
		return fmt.Sprintf("at the least on the last day of sale, %s", d.LastDay)
	case d.Err == nil && d.Lowest.Less(d.Fit.Lowest):
		return "at the least once it loses no more"
	case d.Fit.Gains:
		return "at the least; water that a piece took up later does not count"
	}
	return "at the least already"
}

// waterWeighed returns the share of water that a soap holds by the first and the
// lowest of the product's weighings, with the error of one step of the scale
// each way: the first is taken as poured. It returns false where the product
// was not weighed at least twice, is not of that soap alone, or lost more than
// its water.
func (x *Declaration) waterWeighed(r *formula.Reaction, step exact.Rat) (formula.Interval, bool) {
	p := x.Product
	lines := p.Piece.Lines
	if len(p.Weights) < 2 || len(lines) != 1 || lines[0].Formula != r.Formula || r.Poured.Sign() == 0 {
		return formula.Interval{}, false
	}
	first, last := p.Weights[0], p.Weights[0]
	for _, w := range p.Weights {
		if w.Day < first.Day {
			first = w
		}
		if w.Grams.Less(last.Grams) {
			last = w
		}
	}
	// Water left = water poured - weight lost; of the weight left.
	share := func(poured, left exact.Rat) exact.Rat {
		water := r.FreeWater.Quo(r.Poured).Mul(poured)
		return water.Sub(poured.Sub(left)).Quo(left)
	}
	lo, hi := share(first.Grams.Add(step), last.Grams.Sub(step)), share(first.Grams.Sub(step), last.Grams.Add(step))
	if last.Day <= first.Day || last.Grams.Cmp(step) <= 0 || hi.Sign() <= 0 {
		return formula.Interval{}, false
	}
	return formula.Interval{Lo: exact.Max(exact.Rat{}, exact.Min(lo, hi)), Hi: exact.Max(lo, hi)}, true
}
