package label

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// worstCase is where the practice of judging lye by its worst case is said.
var worstCase = finding.Citation{Text: "lowest saponification value, highest purity, weakest acid, every weighing off by one step of the scale: practice, no source", Seen: finding.Practice}

// judgeLye judges the soap-making behind a product: alkali that the worst case
// leaves, what rests on a guess, and soaps that the inventory has no name for.
func (d *Desk) judgeLye(x *Declaration) {
	rs := x.Composition.Reactions()
	if len(rs) == 0 {
		return
	}
	x.judgeListAs()
	x.judgeReacted()
	for _, r := range rs {
		d.judgeAlkali(x, r)
		for _, f := range LyeDoubts(r, d.Workshop.ScaleReads) {
			x.add(f)
		}
		x.judgeWaterLeft(r, d.Workshop.ScaleReads)
		x.judgeInPlace(r)
		x.judgeRebatch(r)
	}
}

// judgeWaterLeft asks for the water that a soap holds in the end where nobody
// stated it, and compares what was stated with what a bar lost by its weighings.
func (x *Declaration) judgeWaterLeft(r *formula.Reaction, step exact.Rat) {
	w, weighed := x.waterWeighed(r, step)
	lo, hi := Percent(w.Lo, 1, exact.Down), Percent(w.Hi, 1, exact.Up)
	s := r.Formula.Saponify
	if !r.LossKnown {
		cure := "weigh a bar when it is poured and when it is cured, and write water left: with the share of water, as in 8-12 %, or all where nothing dries off"
		if weighed {
			cure = fmt.Sprintf("by the weighings of %s, the first of them fresh, it holds %s to %s %%: write water left: %s-%s %%", x.Product.Name, lo, hi, lo, hi)
		}
		x.add(finding.Finding{Rule: formula.RuleWaterLeft, Severity: finding.Question, Where: s.Pos,
			Message: fmt.Sprintf("%s: how much water the finished soap holds is not stated; anything from none to all of it was taken", r.Formula.Name),
			Cure:    cure, Source: practice})
		return
	}
	if !weighed || s.Left == nil || !(s.Left.Hi.Less(w.Lo) || w.Hi.Less(s.Left.Lo)) {
		return
	}
	x.add(finding.Finding{Rule: formula.RuleWaterLeft, Severity: finding.Warning, Where: s.Pos,
		Message: fmt.Sprintf("%s: water left: says %s %%, but by the weighings of %s it holds %s to %s %%, if the first of them was fresh", r.Formula.Name, perCents(*s.Left), x.Product.Name, lo, hi),
		Cure:    fmt.Sprintf("write water left: %s-%s %%, or look at the weighings", lo, hi), Source: practice})
}

// judgeInPlace asks how much of a liquid in place of water is water: what is not
// known to be is taken to stay, and then the soap is taken to weigh more in the
// end than it does. Where nothing dries off it does not matter.
func (x *Declaration) judgeInPlace(r *formula.Reaction) {
	s := r.Formula.Saponify
	if s.KeepsAll {
		return
	}
	for _, m := range s.InPlace {
		if slices.ContainsFunc(m.Parts, func(p formula.Part) bool { return p.Dries == formula.Water }) {
			continue
		}
		x.add(finding.Finding{Rule: "soap.wet", Severity: finding.Question, Where: s.Pos, Source: practice,
			Message: fmt.Sprintf("%s: %s stands in place of water, and how much of it is water is not stated; it was taken to stay whole, so that the finished soap comes out too heavy", r.Formula.Name, m.Name),
			Cure:    "write a material of the name that the mix uses, with water: and the share, as in water: 87 % of a milk"})
	}
}

func perCents(i formula.Interval) string {
	lo, hi := i.Lo.Mul(hundred).Decimal(2, exact.Nearest).String(), i.Hi.Mul(hundred).Decimal(2, exact.Nearest).String()
	if lo == hi {
		return lo
	}
	return lo + "-" + hi
}

// WorstLye returns the worst case of a reaction on the scale of the workshop.
func (d *Desk) WorstLye(r *formula.Reaction) formula.WorstCase {
	if v, ok := d.lye.Load(r); ok {
		return v.(formula.WorstCase)
	}
	w := r.Worst(d.Workshop.ScaleReads)
	d.lye.Store(r, w)
	return w
}

func (d *Desk) judgeAlkali(x *Declaration, r *formula.Reaction) {
	w := d.WorstLye(r)
	if w.Free.Sign() > 0 {
		x.add(finding.Finding{Rule: "soap.unsafe", Severity: finding.Error, Where: r.Formula.Saponify.Pos, Message: r.Formula.Name + ": " + Unsafe(r, w),
			Cure: "weigh at most " + safeLye(r, w) + "; or raise the superfat, or get the suppliers' certificates for a narrower figure", Source: worstCase})
	}
}

// Unsafe says what alkali the worst case leaves.
func Unsafe(r *formula.Reaction, w formula.WorstCase) string {
	free, name := w.Free, "potassium hydroxide"
	if soda := slices.ContainsFunc(r.Lye, func(d formula.Dose) bool { return d.Soda }); soda {
		free, name = free.Mul(r.Formula.Saponify.By.Soda), "sodium hydroxide"
	}
	may := "may be left over in the worst case"
	if r.FreeLye.Typical.Sign() > 0 {
		may = "is left over by the typical figures already, in the worst case"
	}
	return fmt.Sprintf("alkali %s: up to %s g of %s in %s, enough to burn skin", may, free.Decimal(2, exact.Up), name, batchWords(r))
}

func batchWords(r *formula.Reaction) string {
	if r.Sized {
		return "a batch of " + r.Poured.Decimal(1, exact.Nearest).String() + " g"
	}
	return "a batch with 1,000 g of fats"
}

func safeLye(r *formula.Reaction, w formula.WorstCase) string {
	var parts []string
	for i := range r.Lye {
		parts = append(parts, fmt.Sprintf("%s g of %s", w.Safe[i].Decimal(2, exact.Down), r.Lye[i].Material.Name))
	}
	return strings.Join(parts, " and ")
}

// judgeUnreacted warns of a part of a fat that nothing is known of: it was taken
// to be left as it is, which adds no lye.
func (x *Declaration) judgeUnreacted(m *formula.Material) {
	if !m.Fat || len(m.Parts) < 2 {
		return
	}
	for _, p := range m.Parts {
		if p.Reacts == nil && p.Dries == formula.Stays && exact.Frac(1, 100).Less(p.Range.Hi) {
			x.add(finding.Finding{Rule: formula.RuleUnknownFat, Severity: finding.Warning, Where: firstPos(m.Pos, x.Product.Pos),
				Message: fmt.Sprintf("no saponification value of %s in %s is known; it was taken to take up no lye and to be left as it is", inci.Readable(string(p.Key)), m.Name),
				Cure:    "weigh it as a material of its own, with saponification value: from the supplier's certificate", Source: practice})
		}
	}
}

// judgeReacted reports blends of unknown composition among what reacted; the
// others are judged where they are.
func (x *Declaration) judgeReacted() {
	for i := range x.Composition.Weighed().Items {
		m := x.Composition.Weighed().Items[i].Material
		x.judgeUnreacted(m)
		still := slices.ContainsFunc(x.Composition.Items, func(it formula.Item) bool { return it.Material == m })
		if !still && sheet(m).Unknown {
			x.add(finding.Finding{Rule: "material.blend", Severity: finding.Error, Where: firstPos(m.Pos, x.Product.Pos),
				Message: fmt.Sprintf("%s is a blend, and what is in it is not known", m.Name),
				Cure:    "ask the supplier for the composition and write it as contains: in a material of that name"})
		}
	}
}
