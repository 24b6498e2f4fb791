package inci

import (
	"cmp"
	"slices"
	"sync"

	"panelwright/formula/date"
)

// Duties returns the dated duties of market m that the rows of this package
// hold, once each, earliest first: whatever is said of a substance can change
// on their days and on no other.
func Duties(m Market) []date.Duty { return slices.Clone(duties()[m]) }

var duties = sync.OnceValue(func() map[Market][]date.Duty {
	all := map[Market][]date.Duty{}
	for _, m := range Markets {
		var out []date.Duty
		for _, a := range Allergens(m) {
			out = append(out, a.Duty)
			for _, b := range a.Members {
				out = append(out, b.Duty)
			}
		}
		for _, l := range Limits(m) {
			out = append(out, l.Duty)
		}
		if m == EU || m == NI { // see colourLimitsEU
			for _, a := range areas() {
				out = append(out, a.duty)
			}
		}
		all[m] = inOrder(append(out, banDuties(m)...))
	}
	return all
})

// banDuties returns the dates of the prohibited substances.
func banDuties(m Market) []date.Duty {
	rows := bansEU().rows
	if m == US {
		rows = bansUS().rows
	}
	var out []date.Duty
	for _, b := range newBans(rows, m) {
		out = append(out, b.Duty)
	}
	return out
}

// inOrder sorts duties and drops repeats and those without a date.
func inOrder(all []date.Duty) []date.Duty {
	all = slices.DeleteFunc(all, func(u date.Duty) bool { return u == date.Duty{} })
	slices.SortFunc(all, func(a, b date.Duty) int { return cmp.Or(cmp.Compare(a.New, b.New), cmp.Compare(a.All, b.All)) })
	return slices.Compact(all)
}
