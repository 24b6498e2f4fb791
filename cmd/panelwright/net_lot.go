package main

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/inci"
	"panelwright/label/record"
	"panelwright/label/weigh"
)

// netLot takes the weights of a recorded lot: those of its last day of weighing are judged, and the means of all days
// tell how its pieces change. What the flags say goes before.
func (c *call) netLot(n *netJob) error {
	if c.sheets.lot == "" {
		return nil
	}
	led, err := c.ledger()
	if err != nil {
		return err
	}
	x := led.Lot(c.sheets.lot)
	switch {
	case x == nil:
		return usageError(fmt.Sprintf("no lot %s is recorded; panelwright record lists them", c.sheets.lot))
	case inci.Fold(x.Product) != inci.Fold(n.name):
		return usageError(fmt.Sprintf("lot %s is %s, not %s", x.Code, x.Product, n.name))
	}
	days := weighingsOf(led, x)
	if len(days) == 0 {
		return usageError(fmt.Sprintf("no pieces of lot %s were weighed, as far as is recorded: record lot: %s; weights: ...", x.Code, x.Code))
	}
	last := days[len(days)-1]
	if c.weighed.weights == "" {
		var figures []string
		for _, g := range last.grams {
			figures = append(figures, g.Decimal(6, exact.Nearest).String())
		}
		c.weighed.weights = strings.Join(figures, " ")
		if c.weighed.lot == 0 && x.Pieces >= len(last.grams) {
			c.weighed.lot = x.Pieces
		}
	}
	n.readings = nil // those of the product are of other pieces
	if len(days) > 1 {
		for _, d := range days {
			n.readings = append(n.readings, weigh.Reading{Day: d.on, Grams: exact.Sum(d.grams...).Quo(exact.Int(int64(len(d.grams))))})
		}
	}
	return nil
}

// weighedOn is what single pieces of a lot weighed on a day.
type weighedOn struct {
	on    date.Date
	grams []exact.Rat
}

// weighingsOf returns the weighings of a lot in the order of days.
func weighingsOf(led *record.Ledger, x *record.Lot) (out []weighedOn) {
	if len(x.Weights) > 0 {
		out = append(out, weighedOn{x.On, x.Weights})
	}
	for _, s := range led.Statuses(x) {
		if len(s.Weights) > 0 {
			out = append(out, weighedOn{s.On, s.Weights})
		}
	}
	slices.SortStableFunc(out, func(a, b weighedOn) int { return int(a.on) - int(b.on) })
	return out
}
