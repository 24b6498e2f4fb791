package label

import (
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// over is a share above its limit.
type over struct {
	f    finding.Finding
	name string
	l    *inci.Limit
	in   *formula.Inside
	g    formula.Group
}

// tooMuch reports whether a share can pass the limit of a row, or reach it where
// that is too much already.
func tooMuch(l *inci.Limit, in *formula.Inside) bool {
	return in.CanExceed(l.Max) || l.Below && in.Share.Max.Equal(l.Max)
}

// sayOver reports the shares above their limits, each fact once: where the cure
// of one also cures another that is about the same substance, such as a paraben
// above its own limit that takes the sum of all with it, only the one is said.
func (j *limitJudge) sayOver() {
	for n, o := range j.over {
		told := func(i int) bool {
			other := j.over[i]
			return i != n && other.cures(j.x, o) && (i < n || !o.cures(j.x, other))
		}
		// What may not be used at all is not said to be too much besides.
		said := slices.ContainsFunc(j.forbade, func(l *inci.Limit) bool { return l.SameEntry(o.l) && slices.Equal(l.Keys, o.l.Keys) })
		for i := range j.over {
			said = said || told(i)
		}
		if !said {
			j.say(o)
		}
	}
}

// say reports a share above its limit, with the amounts that would pass.
func (j *limitJudge) say(o over) {
	as := ""
	if o.l.ExpressedAs != "" {
		as = " " + o.l.ExpressedAs
	}
	allows := fmt.Sprintf("%s %%", o.l.Max.Mul(hundred))
	if o.l.Below {
		allows = "less than " + allows
	}
	f := o.f
	f.Message = fmt.Sprintf("%s reaches %s%s of the finished piece; %s allows %s in %s", o.name, percentUp(o.in.Share.Max, o.l.Max), as,
		entryOf(o.l), allows, scopeText(o.l))
	f.Cure = passing(j.x, o.l, o.in) + "; now: " + sources(o.in)
	f.Message += purposeText(o.l.Purpose)
	if unknownFactor(o.l, o.g, j.x) {
		f.Severity = finding.Question
		f.Message += "; how much of it counts is not known, and this is the most that chemistry allows"
		f.Cure = "ask the supplier how much it holds" + as + ", and write answers: with the figure"
	}
	if o.l.Conditions != "" {
		f.Message += " (" + o.l.Conditions + ")"
	}
	j.add(f, o.l)
}

// cures reports whether the amounts that would pass for o let b pass too, and b
// is about the same materials and the same purpose, or more of them.
func (o over) cures(x *Declaration, b over) bool {
	if o.l.Purpose != b.l.Purpose || !o.within(b) {
		return false
	}
	s, strong, ok := scale(x, o.l.Max, o.in)
	if !ok {
		return false
	}
	// What is left of both where the materials of o stand at s of their weight, and where they are gone.
	whole, grams := x.Composition.Mass(formula.Finished).Lo, b.in.Grams().Max
	for _, part := range []exact.Rat{s, {}} {
		less := exact.Int(1).Sub(part)
		t, a := whole, grams
		for _, w := range strong {
			t = t.Sub(w.Weight.Mul(less))
			for _, v := range b.in.From {
				if v.Material == w.Material {
					a = a.Sub(v.Fraction.Max.Mul(v.Weight).Mul(less))
				}
			}
		}
		if b.l.Max.Mul(t).Less(a) || b.l.Below && b.l.Max.Mul(t).Equal(a) {
			return false
		}
	}
	return true
}

// within reports whether b counts every substance that o counts, in the same
// materials.
func (o over) within(b over) bool {
	counted := func(g formula.Group, k formula.Key) bool { return k == g.Total || slices.Contains(g.Members, k) }
	for _, w := range o.in.From {
		if !slices.ContainsFunc(b.in.From, func(v formula.Within) bool { return v.Material == w.Material }) {
			return false
		}
		for _, p := range w.Material.Parts {
			if counted(o.g, p.Key) && !counted(b.g, p.Key) {
				return false
			}
		}
		for _, c := range w.Material.Constituents {
			if counted(o.g, c.Key) && !counted(b.g, c.Key) {
				return false
			}
		}
	}
	return true
}

// unknownFactor reports whether a substance of the group counts by a bound
// instead of a known ratio.
func unknownFactor(l *inci.Limit, g formula.Group, x *Declaration) bool {
	for i := range x.Composition.Items {
		for _, p := range x.Composition.Items[i].Material.Parts {
			if p.Key == g.Total || slices.Contains(g.Members, p.Key) {
				if _, ok := l.Factor(p.Key); !ok {
					return true
				}
			}
		}
	}
	return false
}

// scale says to what part of their weight the materials that bring a group must
// come down to pass, the rest of the piece as it is. Only the strong ones are
// meant, which hold more of it than the limit: less of another would only dilute
// the piece less. With W their weight, A what they bring at most, B what the
// others bring and T the whole, s*A + B <= limit*(T - W + s*W) gives
// s = (limit*(T - W) - B) / (A - limit*W). ok is false if there is no such part.
func scale(x *Declaration, limit exact.Rat, in *formula.Inside) (s exact.Rat, strong []formula.Within, ok bool) {
	t := x.Composition.Mass(formula.Finished).Lo
	var w, a, b exact.Rat
	for _, f := range in.From {
		brings := f.Fraction.Max.Mul(f.Weight)
		if !limit.Less(f.Fraction.Max) {
			b = b.Add(brings)
			continue
		}
		strong = append(strong, f)
		w, a = w.Add(f.Weight), a.Add(brings)
	}
	rest, per := limit.Mul(t.Sub(w)).Sub(b), a.Sub(limit.Mul(w))
	if rest.Sign() <= 0 || per.Sign() <= 0 {
		return exact.Rat{}, nil, false
	}
	return rest.Quo(per), strong, true
}

// passing says how much of the materials would pass: all that are strong in it
// less by the same factor.
func passing(x *Declaration, l *inci.Limit, in *formula.Inside) string {
	s, strong, ok := scale(x, l.Max, in)
	if !ok {
		return "use less of it"
	}
	var parts []string
	for _, f := range strong {
		g := f.Weight.Mul(s)
		d := gramsOf(g, exact.Down)
		if l.Below && exact.FromDecimal(d).Equal(g) {
			d = gramsOf(g.Mul(exact.Frac(999, 1000)), exact.Down) // the limit itself is too much
		}
		parts = append(parts, fmt.Sprintf("%s g of %s", d, f.Material.Name))
	}
	return "use at most " + someOf(parts, 3) + " in a piece"
}

// sources says which materials bring a group, with the grams in one piece.
func sources(in *formula.Inside) string {
	var parts []string
	for _, w := range in.From {
		parts = append(parts, fmt.Sprintf("%s g of %s", gramsOf(w.Weight, exact.Nearest), w.Material.Name))
	}
	return someOf(parts, 3)
}

// gramsOf rounds a weight to three decimals, or to as many more as it takes to
// show two figures of it.
func gramsOf(g exact.Rat, side exact.Side) decimal.Decimal {
	places := 3
	for t := g; places < 12 && t.Sign() > 0 && t.Less(exact.Frac(1, 10)); places++ {
		t = t.Mul(exact.Int(10))
	}
	return g.Decimal(places, side)
}
