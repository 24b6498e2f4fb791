package formula

import (
	"slices"

	"panelwright/formula/exact"
)

// Basis says which mass a share is taken of.
type Basis uint8

const (
	AsAdded  Basis = iota // weight at the time of adding
	Finished              // mass once it has dried
)

// Share is a fraction of the whole composition: the least and greatest that the
// suppliers' ranges and the drying allow, and the typical figure.
type Share struct{ Min, Typical, Max exact.Rat }

// Names sorts the parts of a composition under names: part p of item i counts
// under name Owner[i][p], a number from 0 to Count-1.
type Names struct {
	Count int
	Owner [][]int
}

// middle stands for the case in which every drying range is at its middle.
const middle = -1

// dries reports whether the item's parts weigh less on the basis than as added.
func (it *Item) dries(b Basis) bool { return b == Finished && it.dried != nil }

// grams returns what one whole gram-share of part p of the item weighs in case
// n of drying.
func (it *Item) grams(p int, b Basis, n int) exact.Rat {
	if it.dries(b) {
		switch it.Material.Parts[p].Dries {
		case Water:
			return it.dried.at(n).water
		case Alcohol:
			return it.dried.at(n).alcohol
		}
	}
	return it.Weight
}

// cheapest returns the finished grams of each part in case n, at shares at
// which the sum of coef x grams is least.
func (it *Item) cheapest(n int, coef func(p int) exact.Rat) []exact.Rat {
	whole := make([]exact.Rat, len(it.box.parts))
	cost := make([]exact.Rat, len(whole))
	for p := range whole {
		whole[p] = it.grams(p, Finished, n)
		cost[p] = coef(p).Mul(whole[p])
	}
	x := make([]exact.Rat, len(whole))
	it.box.fill(x, cost)
	for p := range x {
		x[p] = x[p].Mul(whole[p])
	}
	return x
}

// steadyMass returns the whole mass in grams if no range and no drying can change it.
func (c *Composition) steadyMass(b Basis) (exact.Rat, bool) {
	if b == AsAdded {
		return c.Added, true
	}
	return c.finished, c.steady
}

// Mass returns the mass of the piece in grams on the basis: the least and
// greatest that ranges and drying allow. On AsAdded both are Added.
func (c *Composition) Mass(b Basis) Interval {
	if t, ok := c.steadyMass(b); ok {
		return Point(t)
	}
	if c.weighedUp {
		return c.mass
	}
	var out Interval
	w := c.wets()
	for n := range c.cases {
		lo, hi := c.Added, c.Added
		for _, i := range w.items {
			t := c.Items[i].tallyOf(nil, 0)
			_, most := t.fill(n, little, little)
			_, least := t.fill(n, much, much)
			lo, hi = lo.Sub(most), hi.Sub(least)
		}
		if n == 0 {
			out = Interval{lo, hi}
		}
		out = Interval{exact.Min(out.Lo, lo), exact.Max(out.Hi, hi)}
	}
	return out
}

// TypicalMass returns the typical mass of the piece in grams on the basis: the
// typical share of every part, each drying in the middle of its range.
func (c *Composition) TypicalMass(b Basis) exact.Rat {
	if t, ok := c.steadyMass(b); ok {
		return t
	}
	if c.weighedUp {
		return c.typicalMass
	}
	var sum exact.Rat
	for i := range c.Items {
		it := &c.Items[i]
		if it.dried == nil {
			sum = sum.Add(it.Weight)
			continue
		}
		for p, x := range it.box.typical {
			sum = sum.Add(it.grams(p, b, middle).Mul(x))
		}
	}
	return sum
}

// PartGrams returns what part p of item i weighs in the piece on the basis:
// typical, least and greatest, each on its own.
func (c *Composition) PartGrams(i, p int, b Basis) (typical, least, greatest exact.Rat) {
	it := &c.Items[i]
	r := it.box.parts[p]
	// The first case is the greatest drying, the last the least.
	return it.grams(p, b, middle).Mul(it.box.typical[p]), it.grams(p, b, 0).Mul(r.Lo), it.grams(p, b, c.cases-1).Mul(r.Hi)
}

// Shares returns the share of every name.
func (c *Composition) Shares(n Names, b Basis) []Share {
	out := make([]Share, n.Count)
	total, steady := c.steadyMass(b)
	for i := range c.Items {
		if it := &c.Items[i]; !it.dries(b) {
			it.spread(out, n.Owner[i])
		} else if steady {
			it.spreadDried(out, n.Owner[i])
		}
	}
	if !steady {
		c.quotients(out, n)
		return out
	}
	for x := range out {
		s := &out[x]
		fixed := s.Min.Equal(s.Max)
		s.Typical = s.Typical.Quo(total)
		if fixed {
			s.Min, s.Max = s.Typical, s.Typical
			continue
		}
		s.Min, s.Max = s.Min.Quo(total), s.Max.Quo(total)
	}
	return out
}

// spread adds the grams of an item that does not dry to the names that own its
// parts.
func (it *Item) spread(out []Share, owner []int) {
	if len(owner) == 1 {
		out[owner[0]].add(it.Weight, it.Weight, it.Weight)
		return
	}
	for p, x := range owner {
		if slices.Contains(owner[:p], x) {
			continue
		}
		lo, hi := it.box.bounds(owner, x)
		lo = lo.Mul(it.Weight)
		if it.box.fixed {
			out[x].add(lo, lo, lo)
			continue
		}
		var mid exact.Rat
		for q, z := range owner {
			if z == x {
				mid = mid.Add(it.box.typical[q])
			}
		}
		out[x].add(lo, mid.Mul(it.Weight), hi.Mul(it.Weight))
	}
}

// spreadDried does the same for an item that dries, in a piece whose finished
// mass is steady: all cases of drying are alike.
func (it *Item) spreadDried(out []Share, owner []int) {
	for p, x := range owner {
		if slices.Contains(owner[:p], x) {
			continue
		}
		lo, hi := own(it.cheapest(0, pull(owner, x, one)), owner, x), own(it.cheapest(0, pull(owner, x, one.Neg())), owner, x)
		out[x].add(lo, it.typicalGrams(owner, x), hi)
	}
}

func (it *Item) typicalGrams(owner []int, x int) (sum exact.Rat) {
	for p, z := range owner {
		if z == x {
			sum = sum.Add(it.grams(p, Finished, middle).Mul(it.box.typical[p]))
		}
	}
	return sum
}

// pull counts c for a gram of name x and nothing for another.
func pull(owner []int, x int, c exact.Rat) func(int) exact.Rat {
	return func(p int) exact.Rat {
		if owner[p] == x {
			return c
		}
		return exact.Rat{}
	}
}

// own sums the grams of name x.
func own(grams []exact.Rat, owner []int, x int) (sum exact.Rat) {
	for p, g := range grams {
		if owner[p] == x {
			sum = sum.Add(g)
		}
	}
	return sum
}

func (s *Share) add(lo, mid, hi exact.Rat) {
	s.Min, s.Typical, s.Max = s.Min.Add(lo), s.Typical.Add(mid), s.Max.Add(hi)
}
