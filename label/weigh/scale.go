package weigh

import (
	"fmt"

	"panelwright/formula/exact"
)

// division returns the smallest step of the scale: as stated, else as fine as
// the finest figure was written; 0 where neither is known.
func (w *Weighing) division() (step exact.Rat, stated bool) {
	if w.Division.Sign() > 0 {
		return w.Division, true
	}
	for _, f := range w.Figures {
		if f.Step.Sign() > 0 && (step.IsZero() || f.Step.Less(step)) {
			step = f.Step
		}
	}
	return step, false
}

// scale asks whether the scale can tell what is to be proved. Its error is
// taken as one division: half for rounding to a division, half for the
// tolerance of the scale itself (Handbook 133 Table 2-2, loads up to 500
// divisions).
func (j *judge) scale() {
	step, stated := j.w.division()
	part := j.rule("scale-part")
	most := j.t.Amount.Quo(part.Number())
	how := "as stated"
	if !stated {
		how = "taken from how the figures are written"
	}
	if step.IsZero() {
		j.remark("the step of the scale is not known: give --scale")
		return
	}
	c := Check{Rule: "scale", Source: part.Source, Lines: []string{
		fmt.Sprintf("%s / %s = %s; the scale reads in steps of %s, %s", j.of(j.t.Amount), part.Value, j.of(most), j.of(step), how)}}
	if most.Less(step) {
		c.Outcome = Coarse
		c.Lines = append(c.Lines, fmt.Sprintf("too coarse to prove %s: use one that reads in steps of %s or finer", j.of(j.q), j.of(finer(most))))
	}
	if d, ok := j.r.NetCheck("scale-divisions"); ok && j.w.Capacity.Sign() > 0 {
		n := j.w.Capacity.Quo(step)
		c.Lines = append(c.Lines, fmt.Sprintf("up to %s in such steps: %s divisions, at least %s asked", j.of(j.w.Capacity), plain(n), d.Value))
		if n.Less(d.Number()) {
			c.Outcome = Coarse
		}
	}
	j.add(c)
	j.offStep(step, stated)
}

// finer returns the largest usual step of a scale, 1, 2 or 5 times a power of
// ten, that is not above most.
func finer(most exact.Rat) exact.Rat {
	ten := exact.Int(10)
	step := exact.Int(1)
	for most.Less(step) {
		step = step.Quo(ten)
	}
	for step.Mul(ten).Cmp(most) <= 0 {
		step = step.Mul(ten)
	}
	for _, m := range []int64{5, 2} {
		if x := step.Mul(exact.Int(m)); x.Cmp(most) <= 0 {
			return x
		}
	}
	return step
}

// offStep names figures that a scale of that step cannot show.
func (j *judge) offStep(step exact.Rat, stated bool) {
	if !stated {
		return
	}
	for i, f := range j.w.Figures {
		if steps := f.Amount.Quo(step); !exact.FromDecimal(steps.Decimal(0, exact.Down)).Equal(steps) {
			j.remark("%s: %s cannot be read off a scale that reads in steps of %s: is the figure right, or the step?", j.w.name(i), j.of(f.Amount), j.of(step))
			return
		}
	}
}
