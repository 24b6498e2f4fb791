package inci

import (
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
		all[m] = date.Distinct(append(out, banDuties(m)...))
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
