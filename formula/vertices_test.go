package formula_test

import (
	"slices"

	"panelwright/formula"
	"panelwright/formula/exact"
)

// vertices lists every corner of what the supplier's ranges allow: all parts but
// one at an end of their range as stated, the last taking what is left. A linear
// measure, and a quotient of two, is least and greatest at one of them.
func vertices(m *formula.Material) [][]exact.Rat {
	var all [][]exact.Rat
	n := len(m.Parts)
	for free := range n {
		for ends := range 1 << (n - 1) {
			x := make([]exact.Rat, n)
			left := exact.Int(1)
			bit := 0
			for p := range n {
				if p == free {
					continue
				}
				x[p] = m.Parts[p].Range.Lo
				if ends>>bit&1 == 1 {
					x[p] = m.Parts[p].Range.Hi
				}
				left = left.Sub(x[p])
				bit++
			}
			x[free] = left
			if left.Less(m.Parts[free].Range.Lo) || m.Parts[free].Range.Hi.Less(left) {
				continue
			}
			same := func(y []exact.Rat) bool { return slices.EqualFunc(x, y, exact.Rat.Equal) }
			if !slices.ContainsFunc(all, same) {
				all = append(all, x)
			}
		}
	}
	return all
}

// choices calls visit with every combination of one number below each limit.
func choices(limits []int, visit func(at []int)) {
	at := make([]int, len(limits))
	for {
		visit(at)
		i := 0
		for ; i < len(at); i++ {
			if at[i]++; at[i] < limits[i] {
				break
			}
			at[i] = 0
		}
		if i == len(at) {
			return
		}
	}
}

// reach is the least and greatest value seen.
type reach struct {
	lo, hi exact.Rat
	any    bool
}

func (r *reach) see(x exact.Rat) {
	if !r.any {
		*r = reach{x, x, true}
		return
	}
	r.lo, r.hi = exact.Min(r.lo, x), exact.Max(r.hi, x)
}
