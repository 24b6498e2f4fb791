package weigh

import (
	"fmt"

	"panelwright/formula/exact"
	"panelwright/label/market"
)

// handbook judges by NIST Handbook 133, Category A (section 2.3.7): a package
// error is what a pack weighs more than it states.
func (j *judge) handbook() {
	plan := j.averageTest()
	j.singlePacks(plan)
	if j.s.Mean.Less(j.q) && j.enough {
		a := j.rule("average")
		j.add(Check{Rule: "average of the shipment", Aside: true, Outcome: Fails, Source: a.Source, Lines: []string{
			"the average itself is short: the test may let it pass, the packer's rule does not; fill more"}})
	}
}

// averageTest compares the average error with the sample error limit (2.3.7.2).
// It needs no tolerance, so it is judged for volumes too.
func (j *judge) averageTest() market.LotPlan {
	plan, _ := j.r.LotPlan(j.s.Lot)
	j.enough = j.s.N >= plan.N
	more := fmt.Sprintf("a lot of %d takes a sample of %d: weigh %d more", j.s.Lot, plan.N, plan.N-j.s.N)

	err := j.s.Mean.Sub(j.q)
	c := Check{Rule: "average test", Source: both(j.rule("average-test").Source, plan.Source), Lines: []string{j.meanLine(), j.against()}}
	if two := j.out.Claim.Net; two.Secondary != "" {
		c.Lines = append(c.Lines, fmt.Sprintf("stated twice, %s and %s: the larger binds, %s", two.Primary, two.Secondary, j.of(j.q)))
	}
	switch {
	case !j.enough:
		c.Outcome = Undecided
		c.Lines = append(c.Lines, more)
	case err.Sign() >= 0:
	case j.s.N == 1:
		c.Lines = append(c.Lines, "a single pack: only the variation below is applied")
	default:
		c.Outcome = j.sampleError(err.Neg(), &c)
	}
	j.add(c)
	return plan
}

// singlePacks counts minus errors over the maximum allowable variation (2.3.7.1).
func (j *judge) singlePacks(plan market.LotPlan) {
	if j.t.Amount.IsZero() {
		j.unrated()
		return
	}
	limit := j.q.Sub(j.t.Amount)
	j.out.Limits = []Limit{{"MAV", limit}}
	over := j.s.below(limit)
	v := Check{Rule: "single packs", Source: j.t.Source, Lines: []string{
		fmt.Sprintf("%s = %s; %s - %s = %s", j.t.Short, j.t.How, j.of(j.q), j.of(j.t.Amount), j.of(limit)),
		fmt.Sprintf("%s of %d below that, %d allowed", count(over, "piece", "pieces"), j.s.N, plan.OverMAV) + j.names(limit),
	}}
	switch {
	case over > plan.OverMAV:
		v.Outcome = Fails
	case !j.enough:
		v.Outcome = Undecided
	}
	j.add(v)
}

// unrated says that single packs are not judged: no tolerance is known.
func (j *judge) unrated() {
	j.add(Check{Rule: "single packs", Outcome: Unruled, Lines: []string{
		fmt.Sprintf("no tolerance for %s was found in the tables of this market; lightest piece %s", j.of(j.q), j.of(j.s.Lightest))}})
}

// sampleError compares a minus average with the sample error limit.
func (j *judge) sampleError(short exact.Rat, c *Check) Outcome {
	factor, printedFor := j.r.SampleFactor(j.s.N)
	sel := factor.Mul(rootOf(j.s.Variance))
	c.Lines = append(c.Lines, j.spreadLine())
	switch {
	case printedFor == 0:
		c.Lines = append(c.Lines, fmt.Sprintf("no sample correction factor is printed for %d pieces: the average itself must reach the statement", j.s.N))
	case printedFor != j.s.N:
		c.Lines = append(c.Lines, fmt.Sprintf("no factor is printed for %d pieces; that for %d is taken, which is stricter", j.s.N, printedFor))
		fallthrough
	default:
		c.Lines = append(c.Lines, fmt.Sprintf("sample error limit = %s x s = %s; %s short", factor, j.of(sel), figure(short, sel)))
	}
	if atMostRoot(short, factor, j.s.Variance, true) {
		return Passes
	}
	return Fails
}
