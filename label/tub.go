package label

import (
	"fmt"
	"slices"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/label/market"
)

// judgeTub warns of too much oil and butter in one bath, and of oil without a
// dispersant. Common practice of the trade, no source.
func (d *Desk) judgeTub(x *Declaration, u uses) {
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
	x.judgeDose(dose, fats, sum, d.melts(x, fats), u, d)
	if c := x.Rules.Caution("residue", x.Occasion, u.has); c != nil && !x.disperses(c) {
		x.add(finding.Finding{Rule: c.Rule, Severity: c.Severity, Where: x.Product.Pos, Message: d.butters(x, fats) + ": " + c.Says, Cure: c.Cure, Source: c.Source})
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

func (d *Desk) butters(x *Declaration, fats []source) string {
	var all []string
	for _, s := range fats {
		all = append(all, fmt.Sprintf("%s g of %s (%s)", short(s.grams), s.material.Name, d.linesOf(x, s.material)))
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

// melt is a formula somewhere in the piece with the oils and butters in it.
type melt struct {
	path       []*formula.Line // from the piece down to the line that uses it
	formula    string
	grams, fat exact.Rat
}

// melts returns every use of a formula that the oils and butters come through,
// the outer ones before those inside them.
func (d *Desk) melts(x *Declaration, fats []source) []*melt {
	var all []*melt
	for _, s := range fats {
		for _, way := range d.Composer.Trace(&x.Product.Piece, s.material) {
			var path []*formula.Line
			for i := range len(way) - 1 {
				path = append(path, way[i].Line)
				n := slices.IndexFunc(all, func(m *melt) bool { return slices.Equal(m.path, path) })
				if n < 0 {
					n = len(all)
					all = append(all, &melt{path: slices.Clone(path), formula: way[i+1].Within, grams: way[i].Grams})
				}
				all[n].fat = all[n].fat.Add(way[len(way)-1].Grams)
			}
		}
	}
	return all
}

// judgeDose warns of more oil and butter, or more of a butter-rich melt, in one
// bath than is usual. Of melts inside one another the outer one is named.
func (x *Declaration) judgeDose(c *market.Caution, fats []source, sum exact.Rat, melts []*melt, u uses, d *Desk) {
	part, dose := x.dose()
	var wrong []string
	most := x.Composition.Added // grams of the piece that keep every limit
	if in := sum.Mul(part); !c.Passes(in) {
		wrong = append(wrong, fmt.Sprintf("%s g of oils and butters (in a piece %s; more than %s %s)", short(in), d.butters(x, fats), c.LimitText, c.Says))
		most = c.Limit.Mul(x.Composition.Added).Quo(sum)
	}
	at := x.Product.At("dose")
	m, rich := x.Rules.Caution("slippery-melt", x.Occasion, u.has), x.Rules.Caution("melt-rich", x.Occasion, u.has)
	for i, o := range melts {
		in := o.grams.Mul(part)
		if m == nil || rich == nil || rich.Passes(o.fat.Quo(o.grams)) || m.Passes(in) || slices.ContainsFunc(melts[:i], func(out *melt) bool {
			return o.within(out) && !rich.Passes(out.fat.Quo(out.grams)) && !m.Passes(out.grams.Mul(part))
		}) {
			continue
		}
		wrong = append(wrong, fmt.Sprintf("%s g of %s, %s %% of it oils and butters (more than %s %s)", short(in), o.formula, Percent(o.fat.Quo(o.grams), 1, exact.Nearest), m.LimitText, m.Says))
		most = exact.Min(most, m.Limit.Mul(x.Composition.Added).Quo(o.grams))
	}
	if len(wrong) == 0 {
		return
	}
	g := most.Decimal(1, exact.Down)
	x.add(finding.Finding{Rule: c.Rule, Severity: c.Severity, Where: at, Source: c.Source, Message: dose + " puts into one bath " + inWords(wrong),
		Cure: fmt.Sprintf("let at most %s g of the piece go into a bath: say so in the directions, and write dose: %s g; or use less oil and butter", g, g)})
}

// within reports whether m is used inside o.
func (m *melt) within(o *melt) bool {
	return len(o.path) < len(m.path) && slices.Equal(o.path, m.path[:len(o.path)])
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
