package weigh

import (
	"fmt"

	"panelwright/formula/exact"
)

// handbook judges by NIST Handbook 133, Category A (section 2.3.7): a package
// error is what a pack weighs more than it states.
func (j *judge) handbook() {
	limit := j.q.Sub(j.t.Amount)
	j.out.Limits = []Limit{{"MAV", limit}}
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
	if err.Sign() < 0 && j.enough {
		a := j.rule("average")
		j.add(Check{Rule: "average of the shipment", Aside: true, Outcome: Fails, Source: a.Source, Lines: []string{
			"the average itself is short: the test may let it pass, the packer's rule does not; fill more"}})
	}
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
