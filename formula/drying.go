package formula

import (
	"slices"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Drying ranges are unknowns like the suppliers' ranges, one for each formula
// and volatile: all that is weighed into a formula dries with it, and two
// formulas dry apart. What is kept is a product along the way up, so a measure
// is linear in each unknown and every extreme lies where each stands at one of
// its ends. Those cases are listed once per piece.

// maxUnknowns bounds the cases of one piece to 2 to that power.
const maxUnknowns = 8

// unknown is the loss of one volatile from one formula, where it is a range.
type unknown struct {
	formula  *Formula
	volatile Volatile
}

func (u unknown) loss() Interval { return u.formula.Dries.of(u.volatile) }

func (d Drying) of(v Volatile) Interval {
	if v == Alcohol {
		return d.Alcohol
	}
	return d.Water
}

func (d Drying) sound() bool {
	for _, i := range [...]Interval{d.Water, d.Alcohol} {
		if i.Lo.Sign() < 0 || i.Hi.Less(i.Lo) || one.Less(i.Hi) {
			return false
		}
	}
	return true
}

// kept is what is left of the volatile parts of a material on its way up
// through formulas that dry. A nil kept is all of it.
type kept struct {
	water, alcohol exact.Rat // fraction left by the losses that are one figure
	open           []unknown // the losses that are ranges
}

// after returns what is left of material m after formula f has dried too.
func (k *kept) after(m *Material, f *Formula) *kept {
	if f.Dries.Water.Hi.Sign() == 0 && f.Dries.Alcohol.Hi.Sign() == 0 {
		return k
	}
	var next kept
	if k == nil {
		next = kept{water: one, alcohol: one}
	} else {
		next = kept{k.water, k.alcohol, slices.Clip(k.open)}
	}
	volatile := false
	for _, v := range [...]Volatile{Water, Alcohol} {
		loss := f.Dries.of(v)
		if loss.Hi.Sign() == 0 || !slices.ContainsFunc(m.Parts, func(p Part) bool { return p.Dries == v }) {
			continue
		}
		volatile = true
		switch {
		case !loss.Fixed():
			next.open = append(next.open, unknown{f, v})
		case v == Water:
			next.water = next.water.Mul(one.Sub(loss.Lo))
		default:
			next.alcohol = next.alcohol.Mul(one.Sub(loss.Lo))
		}
	}
	if !volatile {
		return k
	}
	return &next
}

func (k *kept) equal(o *kept) bool {
	if k == nil || o == nil {
		return k == o
	}
	return k.water.Equal(o.water) && k.alcohol.Equal(o.alcohol) && slices.Equal(k.open, o.open)
}

// left returns the fraction of v that is left when loss gives the open losses.
func (k *kept) left(v Volatile, loss func(unknown) exact.Rat) exact.Rat {
	x := k.water
	if v == Alcohol {
		x = k.alcohol
	}
	for _, u := range k.open {
		if u.volatile == v {
			x = x.Mul(one.Sub(loss(u)))
		}
	}
	return x
}

// drop is some of an item that went through formulas that dry.
type drop struct {
	item   int
	weight exact.Rat
	kept   *kept
}

// dried is the grams of an item that its volatile parts still count for: less
// than its weight where a formula it went into dries. A part's grams once dried
// are its share times this.
type dried struct {
	cases  []remains // where the losses stand at their ends
	middle remains   // where they stand in the middle
}

type remains struct{ water, alcohol exact.Rat }

// dry works out what is kept in each case of drying.
func (g *gathering) dry(p *Piece, w *walk) {
	comp := g.comp
	comp.cases, comp.finished, comp.steady = 1, comp.Added, true
	if len(g.drops) == 0 {
		return
	}
	var open []unknown
	for _, d := range g.drops {
		for _, u := range d.kept.open {
			if !slices.Contains(open, u) {
				open = append(open, u)
			}
		}
	}
	if len(open) > maxUnknowns {
		w.fail(finding.Finding{Rule: RuleDrying, Severity: finding.Error, Where: p.Pos,
			Message: p.Name + ": too many of its formulas dry by a range of their own to weigh every case",
			Cure:    "write one figure under dries: in the formulas where the range matters least"})
		return
	}
	comp.cases = 1 << len(open)
	for n := range comp.cases {
		g.keep(n, func(u unknown) exact.Rat {
			if n>>slices.Index(open, u)&1 == 1 {
				return u.loss().Lo
			}
			return u.loss().Hi
		})
	}
	g.keep(middle, func(u unknown) exact.Rat { return u.loss().Lo.Add(u.loss().Hi).Quo(exact.Int(2)) })
	comp.finished, comp.steady = comp.settled()
	if !comp.steady {
		comp.mass, comp.typicalMass = comp.Mass(Finished), comp.TypicalMass(Finished)
		comp.weighedUp = true
	}
	if comp.Mass(Finished).Lo.Sign() == 0 {
		w.fail(finding.Finding{Rule: RuleDrying, Severity: finding.Error, Where: p.Pos,
			Message: p.Name + ": nothing may be left of it once it has dried", Cure: "check what dries off under dries: in its formulas"})
	}
}

// keep works out what is kept when loss gives the open losses.
func (g *gathering) keep(n int, loss func(unknown) exact.Rat) {
	for _, d := range g.drops {
		it := &g.comp.Items[d.item]
		if it.dried == nil {
			it.dried = &dried{cases: make([]remains, g.comp.cases)}
			whole := remains{it.Weight, it.Weight}
			it.dried.middle = whole
			for i := range it.dried.cases {
				it.dried.cases[i] = whole
			}
		}
		r := it.dried.at(n)
		r.water = r.water.Sub(d.weight.Mul(one.Sub(d.kept.left(Water, loss))))
		r.alcohol = r.alcohol.Sub(d.weight.Mul(one.Sub(d.kept.left(Alcohol, loss))))
	}
}

func (d *dried) at(n int) *remains {
	if n == middle {
		return &d.middle
	}
	return &d.cases[n]
}

// settled returns the finished mass in grams if no range and no drying can change it.
func (c *Composition) settled() (exact.Rat, bool) {
	total := c.Added
	for i := range c.Items {
		it := &c.Items[i]
		if it.dried == nil {
			continue
		}
		for p := range it.Material.Parts {
			if it.Material.Parts[p].Dries == Stays {
				continue
			}
			left := it.grams(p, Finished, 0)
			for n := range it.dried.cases {
				if !it.grams(p, Finished, n).Equal(left) {
					return exact.Rat{}, false
				}
			}
			if !left.Equal(it.Weight) && !it.box.parts[p].Fixed() {
				return exact.Rat{}, false
			}
			total = total.Sub(it.Weight.Sub(left).Mul(it.box.parts[p].Lo))
		}
	}
	return total, true
}
