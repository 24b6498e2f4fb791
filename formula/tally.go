package formula

import "panelwright/formula/exact"

// tally sorts the parts of an item that dries by what decides over them: whether
// they are of one name, and what leaves them on drying. Within such a class all
// parts weigh and count alike, so a greedy fill needs only the sums.
type tally struct {
	item    *Item
	classes [2][Alcohol + 1]class // [of the name][volatile]
}

type class struct {
	lo, room exact.Rat // sum of the least shares, and how far they can rise
	any      bool
}

// tallyOf tallies the item for name x; owner may be nil where no name matters.
func (it *Item) tallyOf(owner []int, x int) tally {
	t := tally{item: it}
	for p, r := range it.box.parts {
		mine := 0
		if owner != nil && owner[p] == x {
			mine = 1
		}
		c := &t.classes[mine][it.Material.Parts[p].Dries]
		c.lo, c.any = c.lo.Add(r.Lo), true
		if !it.box.fixed {
			c.room = c.room.Add(r.Hi.Sub(r.Lo))
		}
	}
	return t
}

// want says whether a gram is to be as little or as much as can be.
type want int

const (
	little want = 1
	much   want = -1
)

// fill returns the finished grams of the name, and the grams that the item loses
// on drying, in case n, where there is as little or as much of the name and of
// the rest as can be. It is the greedy fill of box.fill, class by class: what is
// wanted much comes first, the heaviest before the lighter, then what is wanted
// little, the lightest first.
func (t *tally) fill(n int, ours, theirs want) (mine, lost exact.Rat) {
	var shares [2][Alcohol + 1]exact.Rat
	var left [Alcohol + 1]exact.Rat // grams of a whole share, once dried
	var full [2][Alcohol + 1]bool
	for v := range left {
		left[v] = t.item.left(Volatile(v), n)
		for m := range shares {
			c := &t.classes[m][v]
			shares[m][v], full[m][v] = c.lo, c.room.Sign() == 0
		}
	}
	wants := [2]want{theirs, ours}
	before := func(m, v, o, w int) bool {
		if wants[m] != wants[o] {
			return wants[m] == much
		}
		return left[v].Cmp(left[w])*int(wants[m]) < 0
	}
	for spare := t.item.box.spare; spare.Sign() > 0; {
		m, v := -1, 0
		for o := range full {
			for w := range full[o] {
				if !full[o][w] && (m < 0 || before(o, w, m, v)) {
					m, v = o, w
				}
			}
		}
		take := exact.Min(spare, t.classes[m][v].room)
		spare = spare.Sub(take)
		shares[m][v], full[m][v] = shares[m][v].Add(take), true
	}
	for v := range left {
		if s := shares[1][v]; s.Sign() > 0 {
			mine = mine.Add(s.Mul(left[v]))
		}
		if s := shares[0][v].Add(shares[1][v]); Volatile(v) != Stays && s.Sign() > 0 {
			lost = lost.Add(s.Mul(t.item.Weight.Sub(left[v])))
		}
	}
	return mine, lost
}

// left returns what a whole gram-share of a part that dries as v weighs in case n.
func (it *Item) left(v Volatile, n int) exact.Rat {
	switch v {
	case Water:
		return it.dried.at(n).water
	case Alcohol:
		return it.dried.at(n).alcohol
	}
	return it.Weight
}
