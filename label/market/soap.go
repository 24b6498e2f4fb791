package market

import (
	"sync"

	"panelwright/formula/finding"
	"panelwright/inci"
)

// SoapList is how a market's list of ingredients says a soap: what went into the
// kettle (fats, lye, water) or what came out (soaps, glycerin, what did not
// react). A pack must not mix the two.
type SoapList struct {
	WentIn bool // what is listed unless the maker chooses
	Choice bool // the law leaves the maker the choice
	// InSays and OutSays word the two conventions for the papers.
	InSays, OutSays string

	Why    string
	Source finding.Citation
}

// SoapList returns how the market lists a soap.
func (r *Rules) SoapList() SoapList { return soapLists()[r.Market] }

var soapLists = sync.OnceValue(func() map[inci.Market]SoapList {
	m := map[inci.Market]SoapList{}
	for _, r := range load("soap-lists.csv") {
		in := r.text("default") == "in"
		if !in && r.text("default") != "out" {
			r.fail("default", "neither in nor out")
		}
		m[inci.Market(r.text("market"))] = SoapList{in, r.yes("choice"), r.text("in_says"), r.text("out_says"), r.text("why"), r.cite()}
	}
	return m
})
