package formula

import (
	"slices"

	"panelwright/formula/exact"
)

// Gap returns the least value of (share of a - share of z) on the basis, as
// grams in the piece, over all feasible compositions. At 0 or above, a never
// weighs less than z.
func (c *Composition) Gap(n Names, b Basis, a, z int) exact.Rat {
	var sum exact.Rat
	dries := false
	for i := range c.Items {
		it, owner := &c.Items[i], n.Owner[i]
		switch {
		case !slices.Contains(owner, a) && !slices.Contains(owner, z):
		case it.dries(b) && it.leaves(owner, a, z):
			dries = true
		default:
			sum = sum.Add(it.box.gap(owner, a, z).Mul(it.Weight))
		}
	}
	if !dries {
		return sum
	}
	var best exact.Rat
	for k := range c.cases {
		all := sum
		for i := range c.Items {
			if it := &c.Items[i]; it.dries(b) && it.leaves(n.Owner[i], a, z) {
				all = all.Add(it.driedGap(k, n.Owner[i], a, z))
			}
		}
		if k == 0 || all.Less(best) {
			best = all
		}
	}
	return best
}

// leaves reports whether a part of name a or z may leave the item on drying.
func (it *Item) leaves(owner []int, a, z int) bool {
	for p, x := range owner {
		if (x == a || x == z) && it.Material.Parts[p].Dries != Stays {
			return true
		}
	}
	return false
}

// driedGap returns the least grams of name a less those of z in case k of drying.
func (it *Item) driedGap(k int, owner []int, a, z int) exact.Rat {
	grams := it.cheapest(k, func(p int) exact.Rat {
		switch owner[p] {
		case a:
			return one
		case z:
			return one.Neg()
		}
		return exact.Rat{}
	})
	return own(grams, owner, a).Sub(own(grams, owner, z))
}

// Rank returns the names in descending order of their typical share. tie
// decides between names whose typical shares are exactly equal; it compares as
// cmp.Compare does and must order all names.
func Rank(shares []Share, tie func(a, b int) int) []int {
	order := make([]int, len(shares))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if c := shares[b].Typical.Cmp(shares[a].Typical); c != 0 {
			return c
		}
		return tie(a, b)
	})
	return order
}
