package record

import (
	"slices"

	"panelwright/label"
)

// Inside is what boxes of a set take of one product.
type Inside struct {
	Product *label.Product
	Pieces  int       // in all boxes
	From    []FromLot // lots that are ready, the oldest first
	InHand  int       // pieces of lots that are ready
	Waiting []FromLot // lots that are curing or held, with what is left of them
	Make    int       // pieces that no ready lot has
}

// FromLot is so many pieces of a lot.
type FromLot struct {
	Lot    *Lot
	Pieces int
}

// ForSet says of what lots in hand boxes of a set can be packed. Lots on trial
// and those that are curing or held are not taken.
func (l *Ledger) ForSet(set *label.Set, boxes int) []Inside {
	var out []Inside
	for _, h := range set.Holds {
		x := Inside{Product: h.Product, Pieces: boxes * max(set.Count, 1) * h.Count}
		lots := slices.Clone(l.LotsOf(h.Product.Name))
		InOrder(lots)
		need := x.Pieces
		for _, lot := range lots {
			left := l.Left(lot)
			if left <= 0 || l.OnTrial(lot) {
				continue
			}
			if s := l.StateOf(lot); s != Ready {
				if s != Gone {
					x.Waiting = append(x.Waiting, FromLot{lot, left})
				}
				continue
			}
			x.InHand += left
			if n := min(need, left); n > 0 {
				x.From = append(x.From, FromLot{lot, n})
				need -= n
			}
		}
		x.Make = need
		out = append(out, x)
	}
	return out
}

// BoxesInHand returns how many boxes the lots that are ready are enough for,
// given what one box takes.
func BoxesInHand(one []Inside) int {
	n := -1
	for _, x := range one {
		if k := x.InHand / x.Pieces; n < 0 || k < n {
			n = k
		}
	}
	return max(n, 0)
}
