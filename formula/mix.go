package formula

import (
	"fmt"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Rule codes of the findings that Compose returns.
const (
	RuleCycle        finding.Code = "formula.cycle"
	RuleEmpty        finding.Code = "formula.empty"
	RuleOverWhole    finding.Code = "formula.over-whole"
	RuleUnderWhole   finding.Code = "formula.under-whole"
	RuleRest         finding.Code = "formula.rest"
	RulePartsMixed   finding.Code = "formula.parts-mixed"
	RuleNoFats       finding.Code = "formula.no-fats"
	RuleUnfilledSlot finding.Code = "formula.unfilled-slot"
	RuleInfeasible   finding.Code = "formula.infeasible"
	RuleNotGrams     finding.Code = "formula.not-grams"
	RuleDrying       finding.Code = "formula.drying"
)

var one = exact.Int(1)

// weighed is a line whose amount has been worked out: a share of the mix.
type weighed struct {
	line  *Line
	stuff stuff
	take  exact.Rat
}

// solve turns the amounts of a mix into shares of the whole that sum to one.
//
// Every amount is linear in five figures: the whole W, the base B without what
// goes on top, the fats F, the size of one part and the rest. The fats of a
// line that is a formula are the fats inside it. B = W/(1+t) with t the sum of
// the on-top fractions, which leaves two equations:
//
//	B = grams + P*W + Q*F + x*X     what makes up the base
//	F = gramsF + PF*W + TF*B + QF*F + x*XF     what of it is fat
//
// where x is the size of a part or the rest. With grams the unknowns are W and
// F; without, the mix has no size of its own, W is one, and they are F and x.
func solve(f *Formula, items []weighed) *finding.Finding {
	var s sums
	rests, parts := 0, 0
	for _, it := range items {
		s.add(it.line.Amount, it.stuff.fat())
		switch it.line.Amount.Kind {
		case Rest:
			rests++
		case Parts:
			parts++
		}
	}
	bad := func(rule finding.Code, msg, cure string) *finding.Finding {
		return &finding.Finding{Rule: rule, Severity: finding.Error, Where: f.Pos, Message: f.Name + ": " + msg, Cure: cure}
	}
	switch {
	case len(items) == 0:
		return bad(RuleEmpty, "the mix has no lines", "write what is weighed into it")
	case rests > 1:
		return bad(RuleRest, "\"rest\" stands twice in one mix", "leave one and give the others an amount")
	case rests > 0 && parts > 0:
		return bad(RuleRest, "\"rest\" and parts stand in one mix", "give the parts as per cents, or the rest as parts")
	case rests > 0 && s.grams.Sign() > 0:
		return bad(RuleRest, "\"rest\" needs every other line as a per cent, but some lines are weights",
			"write all lines as per cents, or the rest as a weight")
	case parts > 0 && s.grams.Sign() > 0:
		return bad(RulePartsMixed, "parts and weights stand in one mix", "write all of them as parts or all as weights")
	case s.q.Sign() > 0 && s.fatless():
		return bad(RuleNoFats, "an amount is a per cent of the fats, but the mix has no fat",
			"give that line as a per cent of the whole, or give the fats their class (oil, butter)")
	}
	if s.fullWithoutTop() {
		// The per cents already make 100: what goes on top goes on top of them.
		for i := range items {
			items[i].take = items[i].line.Amount.Value.Quo(one.Add(s.t))
		}
		return nil
	}
	whole, base, fats, unit, fail := s.solve(bad)
	if fail != nil {
		return fail
	}
	for i := range items {
		a := items[i].line.Amount
		var w exact.Rat
		switch a.Kind {
		case Grams:
			w = a.Value
		case OfWhole:
			w = a.Value.Mul(whole)
		case OnTop:
			w = a.Value.Mul(base)
		case OfFats:
			w = a.Value.Mul(fats)
		case Parts:
			w = a.Value.Mul(unit)
		case Rest:
			w = unit
		}
		items[i].take = w.Quo(whole)
	}
	return nil
}

// sums are the coefficients of the two equations of solve.
type sums struct {
	grams, p, t, q, x      exact.Rat // of all lines; t is on top, so not in the base
	gramsF, pF, tF, qF, xF exact.Rat // of the fat in them
}

func (s *sums) add(a Amount, fat exact.Rat) {
	v := a.Value
	var all, fats *exact.Rat
	switch a.Kind {
	case Grams:
		all, fats = &s.grams, &s.gramsF
	case OfWhole:
		all, fats = &s.p, &s.pF
	case OnTop:
		all, fats = &s.t, &s.tF
	case OfFats:
		all, fats = &s.q, &s.qF
	case Parts:
		all, fats = &s.x, &s.xF
	case Rest:
		v, all, fats = one, &s.x, &s.xF
	}
	*all = all.Add(v)
	if fat.Sign() != 0 {
		*fats = fats.Add(v.Mul(fat))
	}
}

// fullWithoutTop reports whether per cents of the whole sum to 100 before what
// is written "on top" is added: the maker's per cents are then of the base.
func (s *sums) fullWithoutTop() bool {
	return s.t.Sign() > 0 && s.p.Equal(one) && exact.Sum(s.grams, s.q, s.x).Sign() == 0
}

func (s *sums) fatless() bool {
	return exact.Sum(s.gramsF, s.pF, s.tF, s.xF).Sign() == 0
}

func (s *sums) solve(bad func(rule finding.Code, msg, cure string) *finding.Finding) (whole, base, fats, unit exact.Rat, fail *finding.Finding) {
	over := func(left exact.Rat) *finding.Finding {
		return bad(RuleOverWhole, fmt.Sprintf("the per cents leave nothing for the other lines (they reach %s %%)", percent(one.Sub(left), exact.Up)),
			"lower a per cent, or write what goes in after the base as \"% on top\"")
	}
	allFats := func() *finding.Finding {
		return bad(RuleOverWhole, fmt.Sprintf("the fats given as per cents of the fats leave nothing for the other fats (they reach %s %%)", percent(s.qF, exact.Down)),
			"lower a per cent, or give one of those fats another amount")
	}
	if !s.qF.Less(one) {
		return whole, base, fats, unit, allFats()
	}
	perBase := one.Quo(one.Add(s.t)) // B = W * perBase
	k := s.pF.Add(s.tF.Mul(perBase)) // fats that come with W
	if s.grams.Sign() > 0 {
		ownFat := one.Sub(s.qF)
		left := perBase.Sub(s.p).Sub(s.q.Mul(k).Quo(ownFat))
		if left.Sign() <= 0 {
			return whole, base, fats, unit, over(left)
		}
		whole = s.grams.Add(s.q.Mul(s.gramsF).Quo(ownFat)).Quo(left)
		fats = s.gramsF.Add(whole.Mul(k)).Quo(ownFat)
		return whole, whole.Mul(perBase), fats, unit, nil
	}
	whole, base = one, perBase
	perX := exact.Rat{} // fat in one unit of what fills the mix up
	if s.x.Sign() > 0 {
		perX = s.xF.Quo(s.x)
	}
	ownFat := one.Sub(s.qF).Add(s.q.Mul(perX))
	fats = k.Add(base.Sub(s.p).Mul(perX)).Quo(ownFat)
	left := base.Sub(s.p).Sub(s.q.Mul(fats))
	switch {
	case s.x.Sign() > 0 && left.Sign() <= 0, left.Sign() < 0:
		return whole, base, fats, unit, over(left)
	case s.x.Sign() > 0:
		unit = left.Quo(s.x)
	case left.Sign() > 0:
		return whole, base, fats, unit, bad(RuleUnderWhole,
			fmt.Sprintf("the per cents add up to %s %%, not 100 %%", percent(one.Sub(left), exact.Down)),
			"write \"rest\" for the line that takes what is left")
	}
	return whole, base, fats, unit, nil
}

// percent prints a share with up to four decimals, for messages. It rounds to
// the side that was decided, so that no message says "100 %, not 100 %".
func percent(x exact.Rat, side exact.Side) string {
	return x.Mul(exact.Int(100)).Decimal(4, side).String()
}
