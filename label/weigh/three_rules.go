package weigh

import (
	"fmt"

	"panelwright/formula/exact"
	"panelwright/label/market"
)

// threeRules judges by the packers' rules of Directive 76/211/EEC Annex I point
// 1 and its transpositions. How many pieces it takes, and how many of them may
// be short, is what the reference test of Annex II says.
func (j *judge) threeRules() {
	far := j.rule("twice").Number()
	t1, t2 := j.q.Sub(j.t.Amount), j.q.Sub(j.t.Amount.Mul(far))
	j.out.Limits = []Limit{{"T1", t1}, {"T2", t2}}
	j.plan = j.planFor(j.r.ContentPlans(j.s.Lot))
	j.enough = j.s.Whole() || len(j.plan.Stages) > 0 && j.s.N >= j.plan.Stages[0].N

	if most := j.rule("batch-most"); most.Number().Less(exact.Int(int64(j.s.Lot))) {
		j.remark("a batch holds at most %s packs, unless it is an hour's output taken at the end of the line: judge it in parts (%s)", most.Value, most.Source.Text)
	}
	average := Check{Rule: "average", Source: j.rule("average").Source, Lines: []string{j.meanLine(), j.against()}}
	switch {
	case !j.enough:
		average.Outcome = Undecided
		average.Lines = append(average.Lines, j.morePieces())
	case j.s.Mean.Less(j.q):
		average.Outcome = Fails
	}
	j.add(average)
	j.shortPieces(t1)
	j.farShort(t1, t2)
	j.inspectorsMean()
}

// planFor returns the plan that decides: the first of which enough pieces were
// weighed; else the one that takes the fewest.
func (j *judge) planFor(plans []market.ContentPlan) market.ContentPlan {
	var least market.ContentPlan
	for _, p := range plans {
		if p.Kind == market.Destructive {
			continue // nothing needs to be opened: the packs can be weighed
		}
		if p.Kind == market.EveryPack || j.s.N >= p.Stages[0].N {
			return p
		}
		if least.Kind == "" || p.Stages[0].N < least.Stages[0].N {
			least = p
		}
	}
	return least
}

func (j *judge) morePieces() string {
	p := j.plan
	if p.Kind == market.EveryPack {
		return fmt.Sprintf("a batch under 100 is weighed whole: weigh the other %d of %d", j.s.Lot-j.s.N, j.s.Lot)
	}
	return fmt.Sprintf("a batch of %d takes %d pieces: weigh %d more", j.s.Lot, p.Stages[0].N, p.Stages[0].N-j.s.N)
}

// shortPieces counts what is short by more than the tolerable negative error.
func (j *judge) shortPieces(t1 exact.Rat) {
	plan, d := j.plan, j.s.below(t1)
	c := Check{Rule: "short pieces", Source: plan.Source, Lines: []string{
		fmt.Sprintf("%s = %s; T1 = %s - %s = %s", j.t.Short, j.t.How, j.of(j.q), j.of(j.t.Amount), j.of(t1)),
		fmt.Sprintf("%s of %d below T1", count(d, "piece", "pieces"), j.s.N) + j.names(t1),
	}}
	switch {
	case !j.enough:
		c.Outcome = Undecided
		c.Lines = append(c.Lines, j.morePieces())
	case j.s.Whole():
		share := market.NetCheck{Words: "of a batch that is weighed whole", Source: plan.Source}
		limit := plan.Share
		if plan.Kind != market.EveryPack || limit.IsZero() {
			share, _ = j.r.ShortShare(j.out.Claim.Countries)
			limit = share.Number()
		}
		c.Source = share.Source
		most := limit.Mul(exact.Int(int64(j.s.N)))
		c.Lines = append(c.Lines, fmt.Sprintf("at most %s %% of %d = %s may be", limit.Mul(exact.Int(100)), j.s.N, plain(most)))
		if most.Less(exact.Int(int64(d))) {
			c.Outcome = Fails
		}
	default:
		c.Outcome = j.stages(plan, d, &c)
	}
	j.add(c)
}

// stages goes through the samples of a plan. Pieces beyond the number of a plan
// count as well, which is the stricter reading.
func (j *judge) stages(p market.ContentPlan, d int, c *Check) Outcome {
	say := func(s market.Stage) {
		c.Lines = append(c.Lines, fmt.Sprintf("%s plan for a batch of %d: of %d pieces %d short ones pass, %d fail", p.Kind, j.s.Lot, s.N, s.Accept, s.Reject))
	}
	for i, s := range p.Stages {
		last := i == len(p.Stages)-1
		if !last && j.s.N >= p.Stages[i+1].N {
			continue // the later sample decides
		}
		say(s)
		switch {
		case d <= s.Accept:
			return Passes
		case d >= s.Reject || last:
			return Fails
		}
		next := p.Stages[i+1]
		say(next)
		c.Lines = append(c.Lines, fmt.Sprintf("a second sample decides: weigh %d more", next.N-j.s.N))
		return Undecided
	}
	return Undecided
}

// farShort: no pack may be short by more than twice the error.
func (j *judge) farShort(t1, t2 exact.Rat) {
	far := j.rule("twice")
	n := j.s.below(t2)
	c := Check{Rule: "far short", Source: far.Source, Lines: []string{
		fmt.Sprintf("T2 = %s - %s x %s = %s; lightest piece %s", j.of(j.q), far.Value, j.of(j.t.Amount), j.of(t2), j.of(j.s.Lightest)),
	}}
	if n > 0 {
		c.Outcome = Fails
		c.Lines = append(c.Lines, fmt.Sprintf("%s below T2, and none may be sold so", count(n, "piece", "pieces"))+j.names(t2))
	}
	j.add(c)
}

// inspectorsMean tells how the mean would fare in the reference test, which
// gives a sample the benefit of the doubt. That is no filling target, and does
// not touch the verdict.
func (j *judge) inspectorsMean() {
	for _, p := range j.r.MeanPlans(j.s.Lot) {
		if p.Destructive || p.N != j.s.N || j.s.Whole() {
			continue
		}
		c := Check{Rule: "reference test of the mean", Aside: true, Source: p.Source}
		if !atMostRoot(j.q.Sub(j.s.Mean), p.Factor, j.s.Variance, false) {
			c.Outcome = Fails
		}
		limit := j.q.Sub(p.Factor.Mul(rootOf(j.s.Variance)))
		c.Lines = []string{j.spreadLine(),
			fmt.Sprintf("an inspector who draws these %d passes a mean of %s - %s s = %s or more; that is his benefit of the doubt, not a filling target",
				p.N, j.of(j.q), p.Factor, j.of(limit))}
		j.add(c)
	}
}
