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

// farOut is how far a certificate may lie outside the published range before it
// is asked about, as a share of the nearer end.
var farOut = exact.Frac(2, 100)

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
		x.judgeFats(r)
		if !r.LossKnown {
			cure := "weigh a bar when it is poured and when it is cured, and write water left: with the share of water, as in 8-12 %, or all where nothing dries off"
			if w, ok := x.waterWeighed(r, d.Workshop.ScaleReads); ok {
				cure = fmt.Sprintf("by the weighings of %s, the first of them fresh, it holds %s to %s %%: write water left: %s-%s %%", x.Product.Name,
					Percent(w.Lo, 1, exact.Down), Percent(w.Hi, 1, exact.Up), Percent(w.Lo, 1, exact.Down), Percent(w.Hi, 1, exact.Up))
			}
			x.add(finding.Finding{Rule: formula.RuleWaterLeft, Severity: finding.Question, Where: r.Formula.Saponify.Pos,
				Message: fmt.Sprintf("%s: how much water the finished soap holds is not stated; anything from none to all of it was taken", r.Formula.Name),
				Cure:    cure, Source: practice})
		}
	}
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
	at := r.Formula.Saponify.Pos
	if w.Free.Sign() > 0 {
		x.add(finding.Finding{Rule: "soap.unsafe", Severity: finding.Error, Where: at, Message: r.Formula.Name + ": " + Unsafe(r, w),
			Cure: "weigh at most " + safeLye(r, w) + "; or raise the superfat, or get the suppliers' certificates for a narrower figure", Source: worstCase})
	}
	if !r.Formula.Saponify.PurityKnown {
		x.add(finding.Finding{Rule: "soap.purity", Severity: finding.Warning, Where: at,
			Message: fmt.Sprintf("%s: the purity of the lye is not stated; it was taken as 100 %%, the worst case, so more fat may be left than the superfat says", r.Formula.Name),
			Cure:    "write purity: from the supplier's certificate", Source: practice})
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

// judgeFats asks about figures that the lye rests on.
func (x *Declaration) judgeFats(r *formula.Reaction) {
	for _, u := range r.Fats {
		v := u.Reacts
		at := firstPos(v.Pos, u.Material.Pos, r.Formula.Saponify.Pos)
		if v.Certified && FarOut(v) {
			x.add(finding.Finding{Rule: "soap.certificate", Severity: finding.Question, Where: at,
				Message: fmt.Sprintf("the saponification value of %s is %s, far outside the published %s", u.Material.Name, koh(v.Value), koh(v.Published)),
				Cure:    "check the certificate: the unit, the lot, and whether it is this fat", Source: v.Source})
		}
		if f, ok := inci.FatOf(u.Key); ok && f.OneSample && !v.Certified {
			x.add(finding.Finding{Rule: "soap.one-sample", Severity: finding.Warning, Where: at,
				Message: fmt.Sprintf("the saponification value of %s, %s, is that of one sample, not a range", u.Material.Name, koh(v.Value)),
				Cure:    "write saponification value: from the supplier's certificate", Source: v.Source})
		}
	}
}

// FarOut reports whether a certified saponification value reaches far out of
// the published range.
func FarOut(v *formula.Reactant) bool {
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
