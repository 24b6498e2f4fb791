package record

import (
	"fmt"
	"slices"

	"panelwright/formula/date"
)

// Days before a reminder; common practice of the trade, no source.
const (
	weighEvery  = 7  // days between weighings of a lot that cures
	expiresSoon = 60 // days before a material or certificate expires
)

// Reminder is something in the records that wants doing on a day.
type Reminder struct {
	About string // "lot 0614"
	Words string
	Do    string
}

// Reminders returns what wants doing on a day: lots that have cured, that want
// weighing, or are held; materials and certificates about to expire.
func (l *Ledger) Reminders(on date.Date) []Reminder {
	var out []Reminder
	for _, x := range l.Lots {
		if x.On > on {
			continue
		}
		about := "lot " + x.Code
		switch l.StateOf(x) {
		case Held:
			out = append(out, Reminder{about, fmt.Sprintf("%s, %s, is held%s", about, x.Product, l.why(x)), fmt.Sprintf("settle it, then record lot: %s; state: ready", x.Code)})
		case Curing:
			switch last := l.lastWeighed(x); {
			case x.ReadyOn != 0 && x.ReadyOn <= on:
				out = append(out, Reminder{about, fmt.Sprintf("%s, %s, was to be ready on %s", about, x.Product, x.ReadyOn),
					fmt.Sprintf("weigh some pieces, then record lot: %s; state: ready; weights: ...", x.Code)})
			case last.AddDays(weighEvery) <= on:
				out = append(out, Reminder{about, fmt.Sprintf("%s, %s, cures and was last weighed on %s", about, x.Product, last), fmt.Sprintf("weigh the same pieces, then record lot: %s; weights: ...", x.Code)})
			}
		}
	}
	for _, r := range l.Received {
		if r.Expires == 0 || r.Expires > on.AddDays(expiresSoon) {
			continue
		}
		words := fmt.Sprintf("%s, lot %s, or its certificate expires on %s", r.Material, r.Code, r.Expires)
		if r.Expires < on {
			words = fmt.Sprintf("%s, lot %s, or its certificate expired on %s", r.Material, r.Code, r.Expires)
		}
		if l.replaced(r) {
			continue
		}
		out = append(out, Reminder{r.Material + ", lot " + r.Code, words, "ask the supplier for a new one, or use the lot up before"})
	}
	return out
}

// why returns the remark of the status that holds a lot.
func (l *Ledger) why(x *Lot) string {
	for _, s := range slices.Backward(l.status[x]) {
		if s.State == Held && s.Entry.Remarks != "" {
			return ": " + s.Entry.Remarks
		}
	}
	if x.State == Held && x.Entry.Remarks != "" {
		return ": " + x.Entry.Remarks
	}
	return ""
}

// lastWeighed returns the day pieces of a lot were last weighed, or the day it was made.
func (l *Ledger) lastWeighed(x *Lot) date.Date {
	last := x.On
	for _, s := range l.status[x] {
		if len(s.Weights) > 0 {
			last = max(last, s.On)
		}
	}
	return last
}

// replaced reports whether the lot of a material was recorded again with a later day of expiry, or a later lot came
// in and no lot made since then used this one.
func (l *Ledger) replaced(r *Receipt) bool {
	all := l.ReceiptsOf(r.Material)
	for _, o := range all[slices.Index(all, r)+1:] {
		if fold(o.Code) == fold(r.Code) && o.Expires > r.Expires {
			return true
		}
		if !slices.ContainsFunc(l.Users(r.Material, r.Code), func(x *Lot) bool { return x.On >= o.On }) {
			return true
		}
	}
	return false
}
