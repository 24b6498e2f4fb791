package market

import (
	"sync"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// LotPlan is a Category A sampling plan of NIST Handbook 133.
type LotPlan struct {
	N       int       // packs in the sample
	Factor  exact.Rat // sample correction factor: the sample error limit is Factor x s; 0 for a single pack
	OverMAV int       // minus errors over the maximum allowable variation that are overlooked
	Source  finding.Citation
}

// LotPlan returns the plan for an inspection lot of so many packs. It returns
// false for markets that judge in another way, and for an empty lot.
func (r *Rules) LotPlan(lot int) (LotPlan, bool) {
	for _, p := range lotPlans()[r.Market] {
		if p.min <= lot && (p.max == 0 || lot <= p.max) {
			return p.LotPlan, true
		}
	}
	return LotPlan{}, false
}

// SampleFactor returns the sample correction factor for n packs weighed. Where
// the table does not print n, it is the factor of the next larger sample, which
// is smaller and so the stricter one; beyond the largest sample it is 0. For is
// the sample size that the factor is printed for, 0 for none.
func (r *Rules) SampleFactor(n int) (factor exact.Rat, printedFor int) {
	for _, p := range lotPlans()[r.Market] {
		if n <= p.N {
			return p.Factor, p.N
		}
	}
	return exact.Rat{}, 0
}

type rangedLot struct {
	min, max int
	LotPlan
}

// lotPlans reads data/hb133-sampling.csv. The printed table was not seen: of
// the factor as remembered and as recomputed the smaller is taken, which is the
// stricter one.
var lotPlans = sync.OnceValue(func() map[inci.Market][]rangedLot {
	all := map[inci.Market][]rangedLot{}
	for _, r := range load("hb133-sampling.csv") {
		m := inci.Market(r.text("market"))
		all[m] = append(all[m], rangedLot{r.whole("lot_min"), r.whole("lot_max"), LotPlan{
			N: r.whole("n"), Factor: exact.Min(r.numberIfAny("factor"), r.numberIfAny("computed")), OverMAV: r.whole("over_mav"), Source: r.cite(),
		}})
	}
	return all
})
