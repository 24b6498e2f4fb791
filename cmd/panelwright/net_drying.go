package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/label/market"
	"panelwright/label/weigh"
)

// drying is what weighings over weeks say of the net quantity.
type drying struct {
	fit     weigh.Drying
	err     error
	step    exact.Rat // what is still to be lost when a piece counts as steady
	steady  date.Date // 0 if unknown
	lastDay date.Date // of sale; 0 if unknown
	lowest  exact.Rat // on the last day of sale, or as weighed where no curve tells
	short   []string  // markets that judge on sale, and in which the statement is above the lowest
	stated  string
	verdict weigh.Verdict
}

// steadyShare is the share of the stated quantity that is still to be lost when
// a piece counts as steady, where the step of the scale is not known: one part
// in a thousand, our own choice.
var steadyShare = exact.Frac(1, 1000)

func (n *netJob) judgeDrying() *drying {
	d := &drying{lastDay: n.lastDay, step: n.scale, stated: n.quantity.Text}
	if d.step.IsZero() {
		d.step = n.quantity.Amount.Mul(steadyShare)
	}
	d.fit, d.err = weigh.Dry(n.readings)
	d.lowest = d.fit.Lowest
	if d.err == nil {
		d.steady = d.fit.Steady(d.step)
		if d.lastDay != 0 {
			d.lowest = d.fit.LowestOn(d.lastDay)
		}
	}
	for i, m := range n.markets {
		c, ok := market.For(m).NetCheck("dries")
		if ok && c.Value == "yes" && !n.quantity.Volume && d.lowest.Less(n.claims[i].Net.Larger) {
			d.short = append(d.short, m.Title())
			d.verdict = weigh.DoesNotHold
		}
	}
	if d.verdict == weigh.Holds && d.err != nil {
		d.verdict = weigh.NotEnough
	}
	return d
}

// lines says it in words.
func (d *drying) lines() []string {
	f := d.fit
	out := []string{fmt.Sprintf("weighed on %d days from %s to %s; lowest %s g", f.Days, f.First, f.Last, decimals(f.Lowest))}
	switch {
	case d.err != nil:
		out = append(out, d.err.Error())
		if f.Gains {
			out = append(out, "the last weight is above the first: water taken up is no net weight, and the lowest counts")
		}
	case f.Gains:
		out = append(out, "it grows heavier: water taken up is no net weight, and the lowest counts")
	default:
		out = append(out, fmt.Sprintf("goes to %.2f g, give or take %.2f g (in 19 of 20 cases); readings scatter by %.2f g around the curve", f.Floor, f.FloorError, f.Spread))
	}
	if d.steady != 0 {
		out = append(out, fmt.Sprintf("steady from %s: no more than %s g still to change", d.steady, decimals(d.step)))
	}
	switch {
	case d.err != nil:
	case d.lastDay == 0:
		out = append(out, "the last day of sale is not known: give --until, or keeps: in the product")
	default:
		out = append(out, fmt.Sprintf("on the last day of sale, %s, a piece weighs at least %s g", d.lastDay, decimals(d.lowest)))
	}
	if len(d.short) > 0 {
		out = append(out, fmt.Sprintf("%s is more than that where packs are judged on sale: %s", d.stated, strings.Join(d.short, ", ")))
	}
	return out
}

func (d *drying) text(w io.Writer) {
	fmt.Fprintf(w, "\ndrying: %s\n", d.verdict)
	for _, l := range d.lines() {
		fmt.Fprintf(w, "  %s\n", l)
	}
}

type jsonDrying struct {
	Verdict weigh.Verdict `json:"verdict"`
	Days    int           `json:"days"`
	Steady  date.Date     `json:"steady"`
	LastDay date.Date     `json:"last day of sale"`
	Lowest  string        `json:"lowest"`
	Gains   bool          `json:"gains water"`
	Enough  bool          `json:"enough days"`
	Lines   []string      `json:"lines"`
}

func (d *drying) json() *jsonDrying {
	if d == nil {
		return nil
	}
	return &jsonDrying{d.verdict, d.fit.Days, d.steady, d.lastDay, decimals(d.lowest), d.fit.Gains, !errors.Is(d.err, weigh.ErrFewReadings), d.lines()}
}
