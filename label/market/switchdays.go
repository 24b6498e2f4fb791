package market

import (
	"cmp"
	"slices"
	"sync"

	"panelwright/formula/date"
	"panelwright/inci"
)

// Duties returns the dated duties of the market that the tables of this package
// hold, once each, earliest first: what is asked of a pack can change on their
// days and on no other. The timeline is no such table: it tells, and decides
// nothing.
func (r *Rules) Duties() []date.Duty { return slices.Clone(duties()[r.Market]) }

// duties reads every table for the columns in which rules of a market are dated:
// new and all for a duty; from and until for a window of the first supply, each
// end of which is a duty of new packs.
var duties = sync.OnceValue(func() map[inci.Market][]date.Duty {
	all := map[inci.Market][]date.Duty{}
	entries, err := files.ReadDir("data")
	if err != nil {
		panic("market: " + err.Error())
	}
	for _, e := range entries {
		for _, r := range load(e.Name()) {
			found := []date.Duty{{New: r.dateIfAny("new"), All: r.dateIfAny("all")}, {New: r.dateIfAny("from")}, {New: r.dateIfAny("until")}}
			for _, col := range []string{"market", "markets"} {
				if _, ok := r.cols[col]; !ok {
					continue
				}
				for _, m := range r.words(col) {
					all[inci.Market(m)] = append(all[inci.Market(m)], found...)
				}
			}
		}
	}
	for m, l := range all {
		l = slices.DeleteFunc(l, func(u date.Duty) bool { return u == date.Duty{} })
		slices.SortFunc(l, func(a, b date.Duty) int { return cmp.Or(cmp.Compare(a.New, b.New), cmp.Compare(a.All, b.All)) })
		all[m] = slices.Compact(l)
	}
	return all
})

// dateIfAny returns the day in a column, and 0 where a table has no such column
// or means something else by its name.
func (r row) dateIfAny(col string) date.Date {
	if _, ok := r.cols[col]; !ok {
		return 0
	}
	day, err := date.Parse(r.text(col))
	if err != nil {
		return 0
	}
	return day
}
