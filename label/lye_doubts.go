package label

import (
	"fmt"
	"slices"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// What a lye calculation takes for granted is asked about where it is far from
// what is usual. These are our own choices.
var (
	// farOut is how far a certificate may lie outside the published range, as a
	// share of the nearer end.
	farOut = exact.Frac(2, 100)
	// strongLye is the strength above which lye does not dissolve when it is cold:
	// it takes about its own weight of water. At dryLye it is all but solid.
	strongLye = exact.Frac(50, 100)
	dryLye    = exact.Frac(75, 100)
	// muchFat is more than is left even in a salt bar.
	muchFat = exact.Frac(25, 100)
)

// LyeDoubts returns what the lye calculation of a soap rests on that is missing
// or far from what is usual: the strength and the purity of the lye, the fat
// that is left, the figures of the fats, and a scale that nobody stated. Step is
// what the scale reads in, in grams; 0 if it is not known. Alkali that may be
// left over is not among it: that is Unsafe.
func LyeDoubts(r *formula.Reaction, step exact.Rat) finding.List {
	var out finding.List
	strengthDoubt(r, &out)
	purityDoubt(r, &out)
	if gram := exact.Int(1); step.IsZero() && r.Sized && r.Worst(step).Free.Sign() <= 0 && r.Worst(gram).Free.Sign() > 0 {
		out.Add(finding.Finding{Rule: "soap.scale", Severity: finding.Warning, Where: r.Formula.Saponify.Pos, Source: worstCase,
			Message: r.Formula.Name + ": the scale is not stated, so its error is not counted; on one that reads in steps of 1 g alkali may be left over",
			Cure:    "write scale: {reads: 1 g} in the workshop, with the step of yours; or raise the superfat"})
	}
	if r.Superfat.Typical.Cmp(muchFat) > 0 {
		out.Add(finding.Finding{Rule: "soap.superfat", Severity: finding.Warning, Where: r.Formula.Saponify.Pos, Source: practice,
			Message: fmt.Sprintf("%s: %s %% of the fats are left: a soft piece that goes rancid soon and hardly lathers; usual are 3 to 8 %%, in a salt bar up to 20 %%",
				r.Formula.Name, Percent(r.Superfat.Typical, 1, exact.Nearest)),
			Cure: "look whether the lye and the superfat are what you mean"})
	}
	for _, u := range r.Fats {
		fatDoubts(r, &u, &out)
	}
	for _, m := range r.Formula.Saponify.After {
		if slices.ContainsFunc(m.Parts, func(p formula.Part) bool { return p.Reacts != nil && p.Reacts.Kind == formula.PlainAcid }) {
			out.Add(finding.Finding{Rule: "soap.late-acid", Severity: finding.Warning, Where: firstPos(m.Pos, r.Formula.Saponify.Pos), Source: practice,
				Message: fmt.Sprintf("%s: %s goes in after cooking and is taken to stay as it is; but an acid takes up what lye is left, and then sets fatty acid free from the soap", r.Formula.Name, m.Name),
				Cure:    "leave it in the mix without after cooking:, so that lye is added for it, or keep it to what a test strip asks for"})
		}
	}
	return out
}

// strengthDoubt asks whether the lye can be dissolved. Where all of the water may
// come by a slot, dry lye is a question.
func strengthDoubt(r *formula.Reaction, out *finding.List) {
	s := r.Strength()
	if s.Cmp(strongLye) <= 0 {
		return
	}
	f := finding.Finding{Rule: "soap.strength", Severity: finding.Warning, Where: r.Formula.Saponify.Pos, Source: practice,
		Message: fmt.Sprintf("%s: the lye makes a solution of %s %%, and above about 50 %% it does not dissolve when it is cold: grains of it stay in the soap and burn skin",
			r.Formula.Name, Percent(s, 0, exact.Nearest)),
		Cure: "dissolve it in at least its own weight of water, as in water: 2 x lye"}
	if s.Cmp(dryLye) >= 0 {
		f.Rule, f.Severity = formula.RuleNoWater, finding.Error
		f.Message = fmt.Sprintf("%s: there is next to nothing that the lye could be dissolved in: as dry grains it stays in the soap and burns skin", r.Formula.Name)
		if r.Water.IsZero() && hasSlot(r) {
			f.Severity = finding.Question
		}
	}
	out.Add(f)
}

// hasSlot reports whether a line of the mix is a slot.
func hasSlot(r *formula.Reaction) bool {
	for i := range r.Formula.Lines {
		if r.Formula.Lines[i].Slot != "" {
			return true
		}
	}
	return false
}

// purityDoubt asks about a purity that is not stated, or that no solid lye has.
// A solution states in its own material how much lye it holds.
func purityDoubt(r *formula.Reaction, out *finding.List) {
	s := r.Formula.Saponify
	if !s.PurityKnown {
		out.Add(finding.Finding{Rule: "soap.purity", Severity: finding.Warning, Where: s.Pos, Source: practice,
			Message: fmt.Sprintf("%s: the purity of the lye is not stated; it was taken as 100 %%, the worst case, so more fat may be left than the superfat says", r.Formula.Name),
			Cure:    "write purity: from the supplier's certificate"})
	}
	for i := range r.Lye {
		d := &r.Lye[i]
		if most := d.Purity().Hi; slices.Contains(s.Stated, d.Material) && most.Less(formula.SolidLye) {
			out.Add(finding.Finding{Rule: "soap.purity", Severity: finding.Question, Where: s.Pos, Source: practice,
				Message: fmt.Sprintf("%s: %s is said to hold %s %% of lye at most; solid lye holds 75 %% or more, and if it is purer than stated, far too much is weighed",
					r.Formula.Name, d.Material.Name, Percent(most, 1, exact.Up)),
				Cure: "look at the certificate; of a bought solution write a material with contains:"})
		}
	}
}

// fatDoubts asks about a figure that the lye rests on.
func fatDoubts(r *formula.Reaction, u *formula.Use, out *finding.List) {
	v := u.Reacts
	at := firstPos(v.Pos, u.Material.Pos, r.Formula.Saponify.Pos)
	if v.Certified && isFarOut(v) {
		out.Add(finding.Finding{Rule: "soap.certificate", Severity: finding.Question, Where: at, Source: v.Source,
			Message: fmt.Sprintf("the saponification value of %s is %s, far outside the published %s", u.Material.Name, koh(v.Value), koh(v.Published)),
			Cure:    "check the certificate: the unit, the lot, and whether it is this fat"})
	}
	if f, ok := inci.FatOf(u.Key); ok && f.OneSample && !v.Certified {
		out.Add(finding.Finding{Rule: "soap.one-sample", Severity: finding.Warning, Where: at, Source: v.Source,
			Message: fmt.Sprintf("the saponification value of %s, %s, is that of one sample, not a range", u.Material.Name, koh(v.Value)),
			Cure:    "write saponification value: from the supplier's certificate"})
	}
}

// isFarOut reports whether a certified saponification value reaches far out of
// the published range.
func isFarOut(v *formula.Reactant) bool {
	p := v.Published
	if !v.Certified || p.Hi.Sign() == 0 {
		return false
	}
	return v.Value.Lo.Less(p.Lo.Sub(p.Lo.Mul(farOut))) || p.Hi.Add(p.Hi.Mul(farOut)).Less(v.Value.Hi)
}

func koh(i formula.Interval) string {
	if i.Fixed() {
		return i.Lo.Decimal(1, exact.Nearest).String() + " mg KOH/g"
	}
	return i.Lo.Decimal(1, exact.Nearest).String() + "-" + i.Hi.Decimal(1, exact.Nearest).String() + " mg KOH/g"
}
