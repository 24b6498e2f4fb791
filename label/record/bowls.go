package record

import (
	"panelwright/formula"
	"panelwright/formula/exact"
)

// portion is the least of a mix that a bowl should hold whole numbers of: a
// piece, or the filling of a slab.
type portion struct{ count, pieces int }

// fill counts the moulds that so many single pieces take. A slab is poured
// full, whatever is cut of it: then the mix is what the moulds hold.
func (x *Mix) fill(single int) portion {
	u := portion{count: single, pieces: 1}
	mould := x.Formula.Mould
	if mould == nil {
		return u
	}
	n, over := mould.Fillings(single)
	if n == 0 {
		return u
	}
	x.Fillings = n
	if mould.Pieces == 0 && mould.Holds.Sign() > 0 {
		x.Over = over
		x.Grams = mould.Holds.Mul(exact.Int(int64(n)))
		return portion{count: n, pieces: (single + over) / n}
	}
	return u
}

// bowls parts a mix into bowls that hold it: each of whole portions where they
// are counted, all alike where they are not.
func (m *planner) bowls(x *Mix, u portion) []Bowl {
	var out []Bowl
	whole := exact.Int(int64(max(u.count, 1)))
	each := x.Grams.Quo(whole)
	switch {
	case m.bowl.Sign() == 0:
		out = []Bowl{{Count: 1, Pieces: u.count * u.pieces, Grams: x.Grams}}
	case u.count > 0 && !m.bowl.Less(each):
		for _, n := range portions(u.count, floor(m.bowl.Quo(each))) {
			if k := len(out) - 1; k >= 0 && out[k].Pieces == n*u.pieces {
				out[k].Count++
				continue
			}
			out = append(out, Bowl{Count: 1, Pieces: n * u.pieces, Grams: each.Mul(exact.Int(int64(n)))})
		}
	default:
		n := max(ceil(x.Grams.Quo(m.bowl)), 1)
		out = []Bowl{{Count: n, Grams: x.Grams.Quo(exact.Int(int64(n)))}}
	}
	for i := range out {
		out[i].Lines = m.amounts(x.Formula, out[i].Grams)
	}
	return out
}

// amounts returns what is weighed into so many grams of a formula.
func (m *planner) amounts(f *formula.Formula, grams exact.Rat) []Amount {
	lines, bad := m.composer.Batch(f, m.plan.Product.Piece.Slots, grams)
	m.out = append(m.out, bad...)
	r, _ := m.composer.Reaction(f)
	var out []Amount
	for _, w := range lines {
		a := Amount{Weighing: w}
		a.Alone = w.Lye && r != nil && w.Material != r.WaterAdded()
		a.Weigh = onScale(w.Grams, m.plan.Step, a.Alone)
		out = append(out, a)
	}
	return out
}

// onScale rounds to whole steps of the scale: lye down, so that rounding never
// adds alkali, all else to the nearest. What is less than half a step stays as
// it is, for nothing is no amount.
func onScale(x, step exact.Rat, down bool) exact.Rat {
	if step.Sign() == 0 {
		return x
	}
	side := exact.Nearest
	if down {
		side = exact.Down
	}
	w := exact.FromDecimal(x.Quo(step).Decimal(0, side)).Mul(step)
	if w.Sign() == 0 {
		return x
	}
	return w
}

// portions parts n into as few parts of at most most as will do, as even as
// whole numbers can be, the larger first.
func portions(n, most int) []int {
	if n <= 0 {
		return nil
	}
	parts := (n + most - 1) / most
	out := make([]int, parts)
	for i := range out {
		out[i] = n / parts
		if i < n%parts {
			out[i]++
		}
	}
	return out
}
