package market

import (
	"slices"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Home reports whether goods made in a country, given by its code, are at home
// in the market and so no imports there. Known is false for a code that is
// none, or none given.
func (r *Rules) Home(country string) (home, known bool) {
	code, ok := Country(country)
	if !ok {
		return false, false
	}
	for _, c := range r.facts["home"].list() {
		if c == code || c == "EU27" && isEU(code) {
			return true, true
		}
	}
	return false, true
}

// Dated reports whether a product that keeps for so many months, closed, bears
// a date; if not it bears the open-jar period. Known is false where the months
// are not stated or the market asks for neither.
func (r *Rules) Dated(months int) (dated, known bool) {
	f, ok := r.fact("dated-to")
	if !ok || months <= 0 {
		return false, false
	}
	return exact.Int(int64(months)).Cmp(f.number("value")) <= 0, true
}

// ParfumOnly reports whether perfuming materials stand in the list as one word
// unless they have another function.
func (r *Rules) ParfumOnly() (bool, finding.Citation) {
	f := r.facts["parfum-only"]
	return slices.Contains(f.list(), "yes"), f.source
}
