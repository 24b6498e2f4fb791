package weigh

import (
	"fmt"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// Claim is what the packs state.
type Claim struct {
	Quantity  market.Quantity     // as the maker states it
	Net       market.NetStatement // as the market has it printed; the larger of its figures binds
	Countries []string            // member states of the EU where it is sold; none: the strictest is judged
}

// Verdict is what a judgement comes to.
type Verdict uint8

const (
	Holds       Verdict = iota
	NotJudged           // the market has no rule for this quantity
	TooCoarse           // nothing is against it, but the scale cannot prove it
	NotEnough           // nothing is against it, but more pieces have to be weighed
	DoesNotHold         // at least one rule is broken
)

// String returns the verdict in capitals.
func (v Verdict) String() string {
	return [...]string{"HOLDS", "NOT JUDGED", "SCALE TOO COARSE", "NOT ENOUGH PIECES", "DOES NOT HOLD"}[v]
}

// MarshalText writes the verdict as String does.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// Outcome is what one rule says.
type Outcome uint8

const (
	Passes Outcome = iota
	Fails
	Undecided // it takes more pieces
	Coarse    // it takes a finer scale
	Unruled   // there is no rule
)

// String returns the outcome in a word or two.
func (o Outcome) String() string {
	return [...]string{"passes", "fails", "needs more pieces", "needs a finer scale", "no rule"}[o]
}

// MarshalText writes the outcome as String does.
func (o Outcome) MarshalText() ([]byte, error) { return []byte(o.String()), nil }

// Check is one rule with its arithmetic.
type Check struct {
	Rule    string // "average", "short pieces", "far short", "scale" ...
	Outcome Outcome
	Aside   bool     // worth knowing, and without effect on the verdict
	Lines   []string // the arithmetic, as she can repeat it
	Source  finding.Citation
}

// Limit is a weight below which pieces count.
type Limit struct {
	Name   string // T1, T2, MAV
	Amount exact.Rat
}

// Result is the judgement of one weighing in one market.
type Result struct {
	Market    inci.Market
	Claim     Claim
	Sample    Sample
	Tolerance market.Tolerance // zero where the market has none
	Limits    []Limit
	Verdict   Verdict
	Checks    []Check
	Outliers  []Outlier
	Remarks   []string
	Largest   Largest // zero where the pieces do not tell
}

// Judge judges a weighing by the rules of a market.
func Judge(r *market.Rules, c Claim, w Weighing) Result { return judgeSample(r, c, &w, w.Sample()) }

// JudgeEach judges one weighing in several markets; rules and claims are in the
// same order.
func JudgeEach(rules []*market.Rules, claims []Claim, w Weighing) []Result {
	s := w.Sample()
	out := make([]Result, len(rules))
	for i, r := range rules {
		out[i] = judgeSample(r, claims[i], &w, s)
	}
	return out
}

func judgeSample(r *market.Rules, c Claim, w *Weighing, s Sample) Result {
	j := &judge{r: r, w: w, s: s, q: c.Net.Larger, unit: "g"}
	if c.Quantity.Volume {
		j.unit = "ml"
	}
	j.out = Result{Market: r.Market, Claim: c, Sample: j.s}
	if j.s.N == 0 || j.q.Sign() <= 0 {
		j.add(Check{Rule: "pieces", Outcome: Undecided, Lines: []string{"nothing was weighed, or nothing is stated"}})
		return j.done()
	}
	t, ok := r.Tolerance(j.q, c.Quantity.Volume)
	if !ok && r.Method() == market.Handbook133 { // the average is judged all the same
		j.handbook()
		j.outliers()
		j.lotUnstated()
		return j.done()
	}
	if !ok {
		j.add(Check{Rule: "tolerance", Outcome: Unruled, Lines: []string{
			fmt.Sprintf("no tolerance for %s %s was found in the tables of this market", plain(j.q), j.unit)}})
		return j.done()
	}
	j.t, j.out.Tolerance = t, t
	switch r.Method() {
	case market.ThreeRules:
		j.threeRules()
	case market.Handbook133:
		j.handbook()
	case market.WeightedAverage:
		j.weighted()
	}
	j.scale()
	j.outliers()
	j.lotUnstated()
	if j.enough {
		j.out.Largest = j.largest()
	}
	return j.done()
}

// judge is one judgement at work.
type judge struct {
	r    *market.Rules
	w    *Weighing
	s    Sample
	q    exact.Rat // the figure that binds
	t    market.Tolerance
	unit string
	out  Result

	enough bool               // as many pieces as the market's first sample takes
	plan   market.ContentPlan // of ThreeRules: the one that decides
}

func (j *judge) add(c Check) { j.out.Checks = append(j.out.Checks, c) }

func (j *judge) remark(format string, args ...any) {
	j.out.Remarks = append(j.out.Remarks, fmt.Sprintf(format, args...))
}

func (j *judge) rule(name string) market.NetCheck {
	c, _ := j.r.NetCheck(name)
	return c
}

// done sets the verdict from the checks.
func (j *judge) done() Result {
	weight := map[Outcome]Verdict{Passes: Holds, Unruled: NotJudged, Coarse: TooCoarse, Undecided: NotEnough, Fails: DoesNotHold}
	for _, c := range j.out.Checks {
		if !c.Aside {
			j.out.Verdict = max(j.out.Verdict, weight[c.Outcome])
		}
	}
	return j.out
}

// of is a length with the unit, "160.2 g".
func (j *judge) of(x exact.Rat) string { return plain(x) + " " + j.unit }

// meanLine is the sum and the mean, with digits enough to see on which side of
// the statement the mean stands.
func (j *judge) meanLine() string {
	n := j.s.N
	if n == 1 {
		return fmt.Sprintf("one piece: %s", j.of(j.s.Mean))
	}
	return fmt.Sprintf("sum %s / %d pieces = mean %s %s", j.of(j.s.Sum), n, figure(j.s.Mean, j.q), j.unit)
}

// spreadLine is s with how it is found.
func (j *judge) spreadLine() string {
	return fmt.Sprintf("s = root of (sum of squared distances from the mean / %d) = %s %s", j.s.N-1, root(j.s.Variance), j.unit)
}

// against compares the mean with the statement in words.
func (j *judge) against() string {
	switch d := j.s.Mean.Sub(j.q); d.Sign() {
	case -1:
		return fmt.Sprintf("the mean is %s %s below the %s stated", figure(d.Neg(), exact.Rat{}), j.unit, j.of(j.q))
	case 1:
		return fmt.Sprintf("the mean is %s %s above the %s stated", figure(d, exact.Rat{}), j.unit, j.of(j.q))
	}
	return fmt.Sprintf("the mean is the %s stated", j.of(j.q))
}

// lotUnstated says what was taken for granted.
func (j *judge) lotUnstated() {
	if j.w.Lot == 0 {
		j.remark("the size of the batch is not stated: taken as the %d pieces weighed; give --lot-size if there are more", j.s.N)
	}
}

// both joins two sources, with the weaker way of having seen them.
func both(a, b finding.Citation) finding.Citation {
	a.Text += "; " + b.Text
	if b.Unverified() {
		a.Seen = b.Seen
	}
	return a
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
