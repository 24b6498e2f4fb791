package market

import (
	"sync"

	"panelwright/formula/date"
	"panelwright/inci"
)

// Duties returns the dated duties of the market that the tables of this package
// hold, once each, earliest first: what is asked of a pack can change on their
// days and on no other. The timeline is no such table: it tells, and decides
// nothing.
func (r *Rules) Duties() []date.Duty { return r.DutiesAbout(func(string) bool { return true }) }

// DutiesAbout is Duties without the rows about a topic of Caution that is not
// wanted.
func (r *Rules) DutiesAbout(wanted func(topic string) bool) []date.Duty {
	var all []date.Duty
	for topic, l := range duties()[r.Market] {
		if topic == "" || wanted(topic) {
			all = append(all, l...)
		}
	}
	return date.Distinct(all)
}

// duties reads every table for the columns in which rules of a market are dated:
// new and all for a duty; from and until for a window of the first supply, each
// end of which is a duty of new packs. They are listed by topic, "" for none.
var duties = sync.OnceValue(func() map[inci.Market]map[string][]date.Duty {
	all := map[inci.Market]map[string][]date.Duty{}
	entries, err := files.ReadDir("data")
	if err != nil {
		panic("market: " + err.Error())
	}
	for _, e := range entries {
		for _, r := range load(e.Name()) {
			found := []date.Duty{{New: r.dateIfAny("new"), All: r.dateIfAny("all")}, {New: r.dateIfAny("from")}, {New: r.dateIfAny("until")}}
			topic := ""
			if _, ok := r.cols["topic"]; ok {
				topic = r.text("topic")
			}
			for _, col := range []string{"market", "markets"} {
				if _, ok := r.cols[col]; !ok {
					continue
				}
				for _, m := range r.words(col) {
					of := all[inci.Market(m)]
					if of == nil {
						of = map[string][]date.Duty{}
						all[inci.Market(m)] = of
					}
					of[topic] = date.Distinct(append(of[topic], found...))
				}
			}
		}
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
