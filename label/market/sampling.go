package market

import (
	"cmp"
	"slices"
	"strconv"
	"sync"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// ContentPlan is how many packs of a batch the reference test of the EU, GB and
// NI weighs, and how many of them may be short by more than the tolerable
// negative error.
type ContentPlan struct {
	Kind   PlanKind
	Stages []Stage   // none where every pack is weighed
	Share  exact.Rat // where every pack is weighed: greatest share of short packs; 0 where none is printed
	Source finding.Citation
}

// PlanKind is a kind of sampling plan.
type PlanKind string

const (
	EveryPack   PlanKind = "all"         // batches under 100
	Single      PlanKind = "single"      // one sample
	Double      PlanKind = "double"      // a second sample where the first does not decide
	Destructive PlanKind = "destructive" // packs are opened; only where nothing else is practicable
)

// Stage is a sample with its limits. Counts of a second sample include the first.
type Stage struct {
	N      int // packs weighed so far, all stages together
	Accept int // so many short packs or fewer pass
	Reject int // so many or more fail
}

// ContentPlans returns the plans for the contents of single packs in a batch of
// lot packs, the one to prefer first. Markets that judge in another way have none.
func (r *Rules) ContentPlans(lot int) []ContentPlan {
	var out []ContentPlan
	for _, p := range contentPlans()[r.Market] {
		if p.min <= lot && (p.max == 0 || lot <= p.max) {
			out = append(out, p.ContentPlan)
		}
	}
	return out
}

// MeanPlan is the check of the mean in the reference test: a sample of N packs
// passes with mean >= nominal - Factor x s.
type MeanPlan struct {
	N           int // 0 for every pack
	Factor      exact.Rat
	Destructive bool
	Source      finding.Citation
}

// MeanPlans returns the checks of the mean for a batch of lot packs.
func (r *Rules) MeanPlans(lot int) []MeanPlan {
	var out []MeanPlan
	for _, p := range meanPlans()[r.Market] {
		if p.min <= lot && (p.max == 0 || lot <= p.max) {
			out = append(out, p.MeanPlan)
		}
	}
	return out
}

// rangedContent and rangedMean are plans with the batches they are for; max is
// 0 for no upper end.
type rangedContent struct {
	min, max int
	ContentPlan
}

type rangedMean struct {
	min, max int
	MeanPlan
}

var contentPlans = sync.OnceValue(func() map[inci.Market][]rangedContent {
	all := map[inci.Market][]rangedContent{}
	for _, r := range load("sampling-eu.csv") {
		if r.text("check") != "content" {
			continue
		}
		m := inci.Market(r.text("market"))
		p := rangedContent{r.whole("lot_min"), r.whole("lot_max"), ContentPlan{Kind: PlanKind(r.text("plan")), Share: r.numberIfAny("share"), Source: r.cite()}}
		stage := Stage{r.whole("cumulative"), r.whole("accept"), r.whole("reject")}
		last := len(all[m]) - 1
		switch {
		case r.whole("stage") == 2:
			all[m][last].Stages = append(all[m][last].Stages, stage)
			continue
		case p.Kind != EveryPack:
			p.Stages = []Stage{stage}
		}
		all[m] = append(all[m], p)
	}
	for _, ps := range all { // one sample before two, and nothing is opened that need not be
		order := []PlanKind{EveryPack, Single, Double, Destructive}
		slices.SortStableFunc(ps, func(a, b rangedContent) int {
			return cmp.Compare(slices.Index(order, a.Kind), slices.Index(order, b.Kind))
		})
	}
	return all
})

var meanPlans = sync.OnceValue(func() map[inci.Market][]rangedMean {
	all := map[inci.Market][]rangedMean{}
	for _, r := range load("sampling-eu.csv") {
		if r.text("check") != "mean" {
			continue
		}
		m := inci.Market(r.text("market"))
		all[m] = append(all[m], rangedMean{r.whole("lot_min"), r.whole("lot_max"),
			MeanPlan{r.whole("n"), r.number("factor"), r.text("plan") == string(Destructive), r.cite()}})
	}
	return all
})

// whole reads a whole number; 0 for an empty cell.
func (r row) whole(col string) int {
	if r.text(col) == "" {
		return 0
	}
	n, err := strconv.Atoi(r.text(col))
	if err != nil {
		r.fail(col, err)
	}
	return n
}
