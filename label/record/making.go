package record

import (
	"fmt"
	"slices"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/label"
)

// RuleSmallBatch is of a batch that makes no whole piece.
const RuleSmallBatch finding.Code = "make.small-batch"

// Request is what is to be made: so many pieces, or a batch of so many grams of
// everything together.
type Request struct {
	Pieces int // as sold: a box of six is one
	Batch  exact.Rat
	Code   string // lot code; "" leaves a space to write in
	Exact  bool   // no spares
}

// Plan is how a request is met: which mixes in which order, in how many bowls,
// as how many lots, and what it takes in all.
type Plan struct {
	Product *label.Product
	Pieces  int       // asked for, or what the batch gives
	Spares  int       // made besides
	Batch   exact.Rat // grams of everything, where a batch was asked for
	Piece   *formula.Composition
	Lots    []PlannedLot
	Needs   []Need // of each material, in order of first use
	Step    exact.Rat
}

// All returns how many pieces are made, spares included.
func (p *Plan) All() int { return p.Pieces + p.Spares }

// Each returns how many single pieces are in what is sold as one.
func (p *Plan) Each() int { return max(p.Product.Count, 1) }

// PlannedLot is what is made and kept together.
type PlannedLot struct {
	Code   string // "" where none was given
	Pieces int    // as sold; 0 for a part of a batch that makes no whole piece
	Mixes  []Mix  // those that others need before them
}

// Mix is how much of a formula one lot takes.
type Mix struct {
	Formula *formula.Formula
	Grams   exact.Rat // of a soap as poured
	Bowls   []Bowl    // kinds of bowls, the fuller first; at least one
	Uses    []*formula.Formula

	Fillings int // of its mould; 0 where it has none, or goes into other mixes
	Over     int // single pieces that full moulds give beyond those of the lot
}

// Bowl is one or more bowls that are weighed alike.
type Bowl struct {
	Count  int
	Pieces int // single pieces out of each; 0 where the mix goes into others, or no whole piece comes out
	Grams  exact.Rat
	Lines  []Amount
}

// Amount is one thing to weigh into a bowl.
type Amount struct {
	formula.Weighing
	Weigh exact.Rat // what the scale is to show: whole steps, hydroxide rounded down
	Alone bool      // it is lye that the lye calculation worked out, without its water
}

// Need is how much of a material an order takes.
type Need struct {
	Material *formula.Material
	Grams    exact.Rat
}

// NewPlan works out how a request is met at a workshop. The findings are errors
// in the recipe; the plan is nil if there is one.
func NewPlan(c *formula.Composer, w *label.Workshop, p *label.Product, o Request) (*Plan, finding.List) {
	comp, bad := c.Compose(&p.Piece)
	if comp == nil {
		return nil, bad
	}
	pl := &Plan{Product: p, Pieces: o.Pieces, Batch: o.Batch, Piece: comp, Step: w.ScaleReads}
	m := &planner{composer: c, plan: pl, bowl: w.Bowl}
	if m.bowl.IsZero() {
		m.bowl = w.ScaleUpTo // what goes on the scale at once
	}
	scale := exact.Int(1) // lots are of whole pieces, or of all that a batch gives
	if o.Batch.Sign() > 0 {
		each := comp.Added.Mul(exact.Int(int64(pl.Each())))
		pl.Pieces = floor(o.Batch.Quo(each))
		if pl.Pieces == 0 {
			return nil, finding.List{{Rule: RuleSmallBatch, Severity: finding.Error, Product: p.Name, Where: p.Pos,
				Message: fmt.Sprintf("%s g make no whole %s, which takes %s g", grams(o.Batch), p.Name, grams(each)), Cure: "ask for a larger batch"}}
		}
		scale = o.Batch.Quo(each.Mul(exact.Int(int64(pl.Pieces))))
	} else if !o.Exact {
		pl.Spares = m.spares()
	}
	for i, n := range m.lots(w) {
		lot := PlannedLot{Code: o.Code, Pieces: n}
		if o.Code != "" && pl.All() > n {
			lot.Code += letters(i)
		}
		lot.Mixes = m.mixes(n, scale)
		pl.Lots = append(pl.Lots, lot)
	}
	if len(m.out) > 0 {
		return nil, m.out
	}
	pl.sumNeeds(scale)
	return pl, nil
}

type planner struct {
	composer *formula.Composer
	plan     *Plan
	bowl     exact.Rat // grams; 0 for no bound
	out      finding.List
}

// lots parts the pieces into lots: each has as many as there is room for to
// dry, in full moulds where one holds several.
func (m *planner) lots(w *label.Workshop) []int {
	all, each := m.plan.All(), m.plan.Each()
	most := max(w.DryingSpace/each, 1)
	if w.DryingSpace == 0 || all <= most {
		return portions(all, all)
	}
	full := 1
	for i := range m.plan.Product.Piece.Lines {
		if f := formulaOf(&m.plan.Product.Piece.Lines[i], m.plan.Product.Piece.Slots); f != nil && f.Mould != nil {
			if c, ok := f.Mould.Cut(); ok && c.Pieces%each == 0 && c.Pieces/each <= most {
				full = max(full, c.Pieces/each)
			}
		}
	}
	out := portions((all+full-1)/full, max(most/full, 1))
	sum := 0
	for i := range out {
		out[i] *= full
		sum += out[i]
	}
	if len(out) > 0 {
		out[len(out)-1] -= sum - all // the last mould is not full
	}
	return out
}

// spares returns how many pieces are made besides, as the product says: a share
// of the pieces, or so many for each bowl.
func (m *planner) spares() int {
	s := m.plan.Product.Spares
	n := ceil(s.Share.Mul(exact.Int(int64(m.plan.Pieces)))) + s.Pieces
	if s.Bowl == 0 {
		return n
	}
	for range 1000 { // more pieces may take one bowl more
		bowls := 0
		for _, x := range m.mixes(m.plan.Pieces+n, exact.Int(1)) {
			sum := 0
			for _, b := range x.Bowls {
				sum += b.Count
			}
			bowls = max(bowls, sum)
		}
		if s.Bowl*bowls <= n {
			break
		}
		n = s.Bowl * bowls
	}
	return n
}

// mixes returns what so many pieces take of each formula, times scale.
func (m *planner) mixes(pieces int, scale exact.Rat) []Mix {
	p := &m.plan.Product.Piece
	single := pieces * m.plan.Each()
	mix := map[*formula.Formula]*Mix{}
	order := outerFirst(formulasIn(p), p.Slots)
	inside := map[*formula.Formula]bool{} // it goes into another formula
	for _, f := range order {
		mix[f] = &Mix{Formula: f}
		for i := range f.Lines {
			if g := formulaOf(&f.Lines[i], p.Slots); g != nil {
				mix[f].Uses = append(mix[f].Uses, g)
				inside[g] = true
			}
		}
	}
	for i := range p.Lines {
		if f := formulaOf(&p.Lines[i], p.Slots); f != nil {
			mix[f].Grams = mix[f].Grams.Add(p.Lines[i].Amount.Value.Mul(exact.Int(int64(single))).Mul(scale))
		}
	}
	whole := scale.Equal(exact.Int(1))
	for _, f := range order {
		x := mix[f]
		unit := portion{}
		if whole && !inside[f] {
			unit = x.fill(single)
		}
		lines, bad := m.composer.Batch(f, p.Slots, x.Grams)
		if len(bad) > 0 {
			m.out = append(m.out, bad...)
			continue
		}
		for _, w := range lines {
			if w.Formula != nil {
				mix[w.Formula].Grams = mix[w.Formula].Grams.Add(w.Grams)
			}
		}
		x.Bowls = m.bowls(x, unit)
	}
	slices.Reverse(order)
	var out []Mix
	for _, f := range order {
		out = append(out, *mix[f])
	}
	return out
}

func formulaOf(l *formula.Line, slots map[string]formula.Filling) *formula.Formula {
	if l.Slot != "" {
		return slots[l.Slot].Formula
	}
	return l.Formula
}

// outerFirst sorts formulas so that each stands before those it uses. They do
// not use one another in a circle: then the piece would not have composed.
func outerFirst(all []*formula.Formula, slots map[string]formula.Filling) []*formula.Formula {
	var out []*formula.Formula
	done := map[*formula.Formula]bool{}
	var visit func(f *formula.Formula)
	visit = func(f *formula.Formula) {
		if done[f] {
			return
		}
		done[f] = true
		for i := len(f.Lines) - 1; i >= 0; i-- {
			if g := formulaOf(&f.Lines[i], slots); g != nil {
				visit(g)
			}
		}
		out = append(out, f)
	}
	for _, f := range slices.Backward(all) {
		visit(f)
	}
	slices.Reverse(out)
	return out
}

// letters returns a, b … z, aa, ab … for 0, 1 …
func letters(i int) string {
	s := ""
	for i++; i > 0; i = (i - 1) / 26 {
		s = string(rune('a'+(i-1)%26)) + s
	}
	return s
}

// floor and ceil return the whole numbers on both sides of x, which is not
// below zero.
func floor(x exact.Rat) int { return int(x.Decimal(0, exact.Down).IntPart()) }
func ceil(x exact.Rat) int  { return int(x.Decimal(0, exact.Up).IntPart()) }

// sumNeeds adds up what all lots take of each material.
func (pl *Plan) sumNeeds(scale exact.Rat) {
	var sum needs
	for _, lot := range pl.Lots {
		for _, x := range lot.Mixes {
			for _, b := range x.Bowls {
				for _, a := range b.Lines {
					if a.Material != nil {
						sum.add(a.Material, a.Grams.Mul(exact.Int(int64(b.Count))))
					}
				}
			}
		}
	}
	all := exact.Int(int64(pl.All() * pl.Each())).Mul(scale)
	for _, l := range pl.Loose() {
		sum.add(l.Material, l.Grams.Mul(all))
	}
	pl.Needs = sum
}

// Loose returns what goes into each single piece by itself, in no mix.
func (pl *Plan) Loose() []Need {
	var out needs
	p := &pl.Product.Piece
	for i := range p.Lines {
		l := &p.Lines[i]
		m := l.Material
		if l.Slot != "" {
			m = p.Slots[l.Slot].Material
		}
		if m != nil {
			out.add(m, l.Amount.Value)
		}
	}
	return out
}

// needs are materials in order of first use.
type needs []Need

func (n *needs) add(m *formula.Material, grams exact.Rat) {
	for i := range *n {
		if (*n)[i].Material == m {
			(*n)[i].Grams = (*n)[i].Grams.Add(grams)
			return
		}
	}
	*n = append(*n, Need{m, grams})
}

// Name returns what the material is called.
func (n *Need) Name() string { return n.Material.Name }
