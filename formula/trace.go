package formula

import (
	"slices"

	"panelwright/formula/exact"
)

// Step is one line on the way from a piece down to a material, with what it
// brings into the piece.
type Step struct {
	Line   *Line
	Within string    // the piece or formula that the line stands in
	Share  exact.Rat // of that formula; 0 in the piece itself
	Grams  exact.Rat // in the piece
	of     stuff
}

// Steps returns the lines of the piece itself.
func (c *Composition) Steps() []Step { return c.steps }

func firstSteps(p *Piece, stuffs []stuff) []Step {
	all := make([]Step, len(stuffs))
	for i := range stuffs {
		l := &p.Lines[i]
		all[i] = Step{Line: l, Within: p.Name, Grams: l.Amount.Value, of: stuffs[i]}
	}
	return all
}

// Inside returns the lines of the formula that the line is of, nil for a
// material. What a saponification brings besides, lye and water, comes first.
func (s Step) Inside() []Step {
	f := s.of.flat
	if f == nil {
		return nil
	}
	all := make([]Step, 0, len(f.mix)+3)
	add := func(l *Line, share exact.Rat, of stuff) {
		all = append(all, Step{l, f.formula.Name, share, share.Mul(s.Grams), of})
	}
	scale := one // what share of what is poured stands in the mix
	if r := f.reaction(); r != nil {
		worked := func(m *Material, grams exact.Rat, from string) {
			add(&Line{Pos: f.formula.Saponify.Pos, Text: m.Name + ", worked out from the " + from, Material: m}, grams.Quo(r.Poured), stuff{material: m})
		}
		for _, d := range r.Lye {
			if d.Worked {
				worked(d.Material, d.Grams, "fats")
			}
		}
		if m := r.WaterAdded(); m != nil {
			worked(m, r.Water, "lye")
		}
		scale = r.Batch.Quo(r.Poured)
	}
	for _, it := range f.mix {
		add(it.line, it.take.Mul(scale), it.stuff)
	}
	return all
}

// reaction returns what lye does in the formula itself, nil for nothing.
func (f *flat) reaction() *Reaction {
	if f.formula.Saponify == nil {
		return nil
	}
	return f.reactions[len(f.reactions)-1]
}

// Brings reports whether the line is of material m, or of the formula that m is
// the soap of: from there on the lye calculation has the word.
func (s Step) Brings(m *Material) bool {
	if f := s.of.flat; f != nil {
		r := f.reaction()
		return r != nil && r.Product == m
	}
	return s.of.material == m
}

// Holds reports whether material m comes into the piece by this line, as it
// is or on the way into soap.
func (s Step) Holds(m *Material) bool {
	is := func(it flatItem) bool { return it.material == m }
	if f := s.of.flat; f != nil {
		return slices.ContainsFunc(f.items, is) || slices.ContainsFunc(f.went, is)
	}
	return s.of.material == m
}

// Weighed returns the grams of material m that are weighed in by this line.
func (s Step) Weighed(m *Material) (grams exact.Rat) {
	f := s.of.flat
	if f == nil {
		if s.of.material == m {
			grams = s.Grams
		}
		return grams
	}
	for _, it := range f.weighed() {
		if it.material == m {
			grams = grams.Add(it.share)
		}
	}
	return grams.Mul(s.Grams)
}

// mostWays bounds what Trace lists: formulas that use one another twice have
// twice as many ways with every step.
const mostWays = 100

// Trace returns the ways by which material m gets into the piece, from the
// piece's own line down, with the grams at each step, so that a reader can
// follow the sum with a calculator. It lists 100 ways at most; more says that
// there are others.
func (c *Composition) Trace(m *Material) (ways [][]Step, more bool) {
	var way []Step
	var down func([]Step)
	down = func(steps []Step) {
		for _, s := range steps {
			switch {
			case more || !s.Holds(m):
				continue
			case len(ways) == mostWays:
				more = true
				return
			}
			way = append(way, s)
			if s.Brings(m) {
				ways = append(ways, slices.Clone(way))
			}
			down(s.Inside())
			way = way[:len(way)-1]
		}
	}
	down(c.steps)
	return ways, more
}
