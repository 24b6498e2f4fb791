package market

import (
	"cmp"
	"slices"
	"sync"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// Event is a day on which something changes.
type Event struct {
	Date date.Date // 0 where the day is not known yet
	// Applies is "new" for packs first supplied from that day, "existing" for
	// stock too, "all" for both; "process" and "info" concern no pack.
	Applies    string
	What       string
	Instrument string
	Judged     []finding.Code // rules of the market that judge it in full; nil for what is judged in part or not at all
	Source     finding.Citation
}

var timelines = sync.OnceValue(func() map[inci.Market][]Event {
	all := map[inci.Market][]Event{}
	for _, r := range load("timeline.csv") {
		e := Event{r.date("date"), r.text("applies"), r.text("what"), r.text("instrument"), nil, r.cite()}
		for _, m := range r.words("markets") {
			e.Judged = nil
			for _, code := range r.words("judged") {
				e.Judged = append(e.Judged, ruleOf(code, inci.Market(m)))
			}
			all[inci.Market(m)] = append(all[inci.Market(m)], e)
		}
	}
	for _, events := range all {
		slices.SortStableFunc(events, func(a, b Event) int {
			if (a.Date == 0) != (b.Date == 0) {
				return cmp.Compare(b.Date, a.Date) // days not known come last
			}
			return cmp.Compare(a.Date, b.Date)
		})
	}
	return all
})

// Timeline returns what changes in the market and when, earliest first; what
// has no day yet comes last.
func Timeline(m inci.Market) []Event { return slices.Clone(timelines()[m]) }
