package formula

import "panelwright/formula/exact"

// quotients turns the grams of the items that do not dry into shares of a whole
// that varies with drying and ranges.
func (c *Composition) quotients(out []Share, n Names) {
	mass, typical := c.Mass(Finished), c.TypicalMass(Finished)
	dries := make([]bool, len(out))
	for i := range c.Items {
		it, owner := &c.Items[i], n.Owner[i]
		if it.dried == nil {
			continue
		}
		for p, x := range owner {
			dries[x] = true
			out[x].Typical = out[x].Typical.Add(it.grams(p, Finished, middle).Mul(it.box.typical[p]))
		}
	}
	w := c.wets()
	for x := range out {
		s := &out[x]
		s.Typical = s.Typical.Quo(typical)
		if !dries[x] { // what there is of it and the whole vary apart
			s.Min, s.Max = s.Min.Quo(mass.Hi), s.Max.Quo(mass.Lo)
			continue
		}
		s.Min, s.Max = w.quotient(n, x, s.Min, s.Max)
	}
}

// wets are the items of a composition that dry.
type wets struct {
	comp  *Composition
	items []int
}

func (c *Composition) wets() wets {
	w := wets{comp: c}
	for i := range c.Items {
		if c.Items[i].dried != nil {
			w.items = append(w.items, i)
		}
	}
	return w
}

// quotient returns the least and the greatest share of name x, of which the
// items that do not dry hold least and most grams.
//
// For a given quotient q the optimum makes mine - q*whole least. For every q
// between 0 and 1 that is the same greedy fill: what is of the name counts 1 - q
// a gram, the rest -q, so the order of filling does not depend on q. One fill
// for each case of drying is enough.
func (w *wets) quotient(n Names, x int, least, most exact.Rat) (lo, hi exact.Rat) {
	var buf [4]tally
	dry, leaves := buf[:0], false
	for _, i := range w.items {
		it := &w.comp.Items[i]
		dry = append(dry, it.tallyOf(n.Owner[i], x))
		leaves = leaves || it.leaves(n.Owner[i], x, x)
	}
	at := func(k int, mine exact.Rat, ours, theirs want) exact.Rat {
		whole := w.comp.Added
		for i := range dry {
			m, lost := dry[i].fill(k, ours, theirs)
			mine, whole = mine.Add(m), whole.Sub(lost)
		}
		return mine.Quo(whole)
	}
	if !leaves {
		// Drying only makes the whole lighter: the first case is the greatest
		// drying, the last the least.
		return at(w.comp.cases-1, least, little, much), at(0, most, much, little)
	}
	for k := range w.comp.cases {
		a, b := at(k, least, little, much), at(k, most, much, little)
		if k == 0 {
			lo, hi = a, b
		}
		lo, hi = exact.Min(lo, a), exact.Max(hi, b)
	}
	return lo, hi
}

// settle finds the least quotient mine/whole, from any q to begin with. It is
// the q for which the least of mine - q*whole is 0; at returns the two sums at
// that optimum, each round moves q to their quotient, and rounds end because
// there are finitely many corners (W. Dinkelbach, Management Science 13 (1967)
// 492-498). The greatest quotient is found in the same way.
func settle(q exact.Rat, at func(q exact.Rat) (mine, whole exact.Rat)) exact.Rat {
	for {
		mine, whole := at(q)
		next := mine.Quo(whole)
		if next.Equal(q) {
			return q
		}
		q = next
	}
}
