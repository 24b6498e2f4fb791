package weigh

import (
	"fmt"

	"panelwright/formula/exact"
)

// weighted judges by section 39 of the Canadian regulations: the weighted
// average, the number of short units, and units that are far short.
func (j *judge) weighted() {
	far := j.rule("twice").Number()
	t1, t2 := j.q.Sub(j.t.Amount), j.q.Sub(j.t.Amount.Mul(far))
	j.out.Limits = []Limit{{"T1", t1}, {"T2", t2}}
	need, _, ok := j.r.UnitSample(j.s.Lot)
	if !ok {
		need = j.s.Lot // a single unit
	}
	j.enough = j.s.N >= need
	more := fmt.Sprintf("a lot of %d takes a sample of %d: weigh %d more", j.s.Lot, need, need-j.s.N)

	c := Check{Rule: "weighted average", Source: j.rule("average").Source, Lines: []string{j.meanLine(), j.against()}}
	switch {
	case !j.enough:
		c.Outcome = Undecided
		c.Lines = append(c.Lines, more)
	case j.s.Whole():
		c.Lines = append(c.Lines, "every unit of the lot was weighed: the mean counts as it is")
		if j.s.Mean.Less(j.q) {
			c.Outcome = Fails
		}
	default:
		c.Outcome = j.benefit(&c)
	}
	j.add(c)

	short, reject := j.s.below(t1), 0
	s := Check{Rule: "short units", Lines: []string{
		fmt.Sprintf("tolerance = %s; T1 = %s - %s = %s", j.t.How, j.of(j.q), j.of(j.t.Amount), j.of(t1))}}
	reject, s.Source, _ = j.r.RejectAt(j.s.N)
	s.Lines = append(s.Lines, fmt.Sprintf("%s of %d below T1; %d fail the lot", count(short, "unit", "units"), j.s.N, reject)+j.names(t1))
	j.decide(&s, short >= reject)

	two := int(j.rule("twice-count").Number().Floor().Int64())
	n := j.s.below(t2)
	f := Check{Rule: "far short", Source: j.rule("twice-count").Source, Lines: []string{
		fmt.Sprintf("T2 = %s - %s x %s = %s; %s below T2, %d fail the lot", j.of(j.q), far, j.of(j.t.Amount), j.of(t2), count(n, "unit", "units"), two) + j.names(t2)}}
	j.decide(&f, n >= two)
	if j.s.Mean.Less(j.q) && j.enough && !j.s.Whole() {
		j.add(Check{Rule: "mean of the sample", Aside: true, Outcome: Fails, Source: j.rule("average").Source, Lines: []string{
			"the mean itself is short: the inspection gives a sample the benefit of the doubt, which is no filling target; fill more"}})
	}
}

func (j *judge) decide(c *Check, fails bool) {
	switch {
	case fails:
		c.Outcome = Fails
	case !j.enough:
		c.Outcome = Undecided
	}
	j.add(*c)
}

// benefit adds t s / root n to the mean of a sample and compares.
func (j *judge) benefit(c *Check) Outcome {
	t, ok := j.r.StudentT(j.s.N)
	if !ok {
		c.Lines = append(c.Lines, fmt.Sprintf("no t is printed for %d units: the mean itself must reach the statement", j.s.N))
		if j.s.Mean.Less(j.q) {
			return Fails
		}
		return Passes
	}
	c.Lines = append(c.Lines, j.spreadLine())
	n := exact.Int(int64(j.s.N))
	factor, variance := t.OverRoot, j.s.Variance // s and t / root n, or s / root n and t
	name := fmt.Sprintf("%s s", t.OverRoot)
	if t.OverRoot.IsZero() {
		factor, variance = t.T, j.s.Variance.Quo(n)
		name = fmt.Sprintf("%s s / root %d", plain(t.T), j.s.N)
		c.Lines = append(c.Lines, fmt.Sprintf("t = %s, interpolated in 120 / n between %d and %d units", plain(t.T), t.Between[0], t.Between[1]))
	}
	weighted := j.s.Mean.Add(factor.Mul(rootOf(variance)))
	c.Lines = append(c.Lines, fmt.Sprintf("weighted average = mean + %s = %s %s", name, figure(weighted, j.q), j.unit))
	if atMostRoot(j.q.Sub(j.s.Mean), factor, variance, false) {
		return Passes
	}
	return Fails
}
