package label

import (
	"fmt"
	"slices"
	"sync"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/label/market"
)

// judgeTub warns of too much oil and butter in one bath, and of oil without a
// dispersant. Common practice of the trade, no source.
func (x *Declaration) judgeTub(u uses) {
	dose := x.Rules.Caution("slippery-dose", x.Occasion, u.has)
	if dose == nil {
		return
	}
	var fats []source
	var sum exact.Rat
	for i := range x.Composition.Items {
		it := &x.Composition.Items[i]
		if slices.Contains(dose.Classes, sheet(it.Material).Class) {
			fats = append(fats, source{material: it.Material, grams: it.Weight})
			sum = sum.Add(it.Weight)
		}
	}
	if len(fats) == 0 {
		return
	}
	lines := sync.OnceValue(func() string { return x.butters(fats) })
	x.judgeDose(dose, fats, sum, lines, u)
	if c := x.Rules.Caution("residue", x.Occasion, u.has); c != nil && !x.disperses(c) {
		x.add(finding.Finding{Rule: c.Rule, Severity: c.Severity, Where: x.Product.Pos, Message: lines() + ": " + c.Says, Cure: c.Cure, Source: c.Source})
	}
}

// dose returns what part of a piece, or how many pieces, goes into one bath.
func (x *Declaration) dose() (part exact.Rat, words string) {
	switch q := x.Product.Dose; {
	case q.Grams.Sign() > 0:
		return q.Grams.Quo(x.Composition.Added), "a dose of " + q.Text
	case q.Pieces.Sign() > 0:
		return q.Pieces, "a dose of " + q.Text
	}
	return exact.Int(1), fmt.Sprintf("a whole piece of %s g", short(x.Composition.Added))
}

func (x *Declaration) butters(fats []source) string {
	var all []string
	for _, s := range fats {
		all = append(all, fmt.Sprintf("%s g of %s (%s)", short(s.grams), s.material.Name, x.linesOf(s.material)))
	}
	return inWords(all)
}

// disperses reports whether something in the piece carries oil away with the
// water, by the class of a material or of a trade material of one substance.
func (x *Declaration) disperses(c *market.Caution) bool {
	for i := range x.Composition.Items {
		m := x.Composition.Items[i].Material
		if slices.Contains(c.Classes, sheet(m).Class) {
			return true
		}
		for _, p := range m.Parts {
			if soldAs(p.Key, c.Classes) {
				return true
			}
		}
	}
	return false
}

// judgeDose warns of more oil and butter, or more of a butter-rich melt, in one
// bath than is usual; lines says which lines bring it. Of melts inside one
// another the outer one is named.
func (x *Declaration) judgeDose(c *market.Caution, fats []source, sum exact.Rat, lines func() string, u uses) {
	part, dose := x.dose()
	var wrong []string
	most := x.Composition.Added // grams of the piece that keep every limit
	if in := sum.Mul(part); !c.Passes(in) {
		wrong = append(wrong, fmt.Sprintf("%s g of oils and butters (in a piece %s; more than %s %s)", short(in), lines(), c.LimitText, c.Says))
		most = c.Limit.Mul(x.Composition.Added).Quo(sum)
	}
	if m, rich := x.Rules.Caution("slippery-melt", x.Occasion, u.has), x.Rules.Caution("melt-rich", x.Occasion, u.has); m != nil && rich != nil {
		over := func(grams exact.Rat) bool { return !m.Passes(grams.Mul(part)) }
		for _, o := range meltsOver(x.Composition.Steps(), fats, over, rich) {
			wrong = append(wrong, fmt.Sprintf("%s g of %s, %s %% of it oils and butters (more than %s %s)", short(o.grams.Mul(part)), o.formula,
				Percent(o.fat.Quo(o.grams), 1, exact.Nearest), m.LimitText, m.Says))
			most = exact.Min(most, m.Limit.Mul(x.Composition.Added).Quo(o.grams))
		}
	}
	if len(wrong) == 0 {
		return
	}
	g := most.Decimal(1, exact.Down)
	x.add(finding.Finding{Rule: c.Rule, Severity: c.Severity, Where: x.Product.At("dose"), Source: c.Source, Message: dose + " puts into one bath " + inWords(wrong),
		Cure: fmt.Sprintf("let at most %s g of the piece go into a bath: say so in the directions, and write dose: %s g; or use less oil and butter", g, g)})
}

// melt is a formula somewhere in the piece with the oils and butters in it.
type melt struct {
	formula    string
	grams, fat exact.Rat
}

// meltsOver returns the outermost formulas under the lines that are rich in fats
// and of which there is too much. A formula holds no more than it weighs, so
// nothing is looked for inside one that is not over.
func meltsOver(steps []formula.Step, fats []source, over func(grams exact.Rat) bool, rich *market.Caution) (all []melt) {
	for _, s := range steps {
		inside := s.Inside()
		if len(inside) == 0 || !over(s.Grams) {
			continue
		}
		o := melt{formula: inside[0].Within, grams: s.Grams}
		for _, f := range fats {
			o.fat = o.fat.Add(s.Weighed(f.material))
		}
		if !rich.Passes(o.fat.Quo(o.grams)) {
			all = append(all, o)
		} else if o.fat.Sign() > 0 {
			all = append(all, meltsOver(inside, fats, over, rich)...)
		}
	}
	return all
}

// short prints a weight with two decimals, rounded up.
func short(x exact.Rat) string { return x.Decimal(2, exact.Up).String() }

// slipCaution asks for a caution on the pack of what holds oil or butter and is
// used in the bath or shower; on the pack of a set, if one of its products is so.
func (s *scribe) slipCaution() {
	all := []*Declaration{s.x}
	if s.set != nil {
		all = s.x.Members
	}
	for _, x := range all {
		c := x.Rules.Caution("slippery-caution", x.Occasion, usesOf(x.Product).has)
		if c == nil || x.Composition == nil || s.p.cautions(c) {
			continue
		}
		for i := range x.Composition.Items {
			it := &x.Composition.Items[i]
			if !slices.Contains(c.Classes, sheet(it.Material).Class) {
				continue
			}
			s.x.add(finding.Finding{Rule: c.Rule, Severity: c.Severity, Where: s.p.At("cautions"),
				Message: fmt.Sprintf("%s g of %s in %s: %s", short(it.Weight), it.Material.Name, x.Product.Name, c.Says), Cure: c.Cure, Source: c.Source})
			return
		}
	}
}
