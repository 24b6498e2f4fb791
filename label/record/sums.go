package record

import (
	"slices"

	"panelwright/inci"
)

// Pieces sums what became of the pieces of lots. Those made are those in hand,
// in boxes and still out, less those that came back from nobody knows where.
type Pieces struct {
	Lots, Made, Left, Boxed int

	Went map[Buyer]int // less what came back from there
	Back int           // came back, and where from is not recorded
}

// PiecesOf counts what became of the pieces of lots, and of the boxes among the
// lots apart: a piece in a box is counted once, and the box that holds it is
// another thing to ask back.
func (l *Ledger) PiecesOf(lots []*Lot) (pieces, boxes Pieces) {
	pieces.Went, boxes.Went = map[Buyer]int{}, map[Buyer]int{}
	for _, x := range lots {
		if x.IsMix() {
			continue
		}
		p := &pieces
		if l.IsBox(x) {
			p = &boxes
		}
		p.Lots++
		p.Made += x.Pieces
		p.Left += l.Left(x)
		p.Boxed += l.boxed[x]
		out, back := l.StillOut(x)
		for _, o := range out {
			p.Went[o.Kind] += o.Pieces
		}
		p.Back += back
	}
	return pieces, boxes
}

// IsBox reports whether a lot is of boxes: pieces of other lots went into it.
func (l *Ledger) IsBox(x *Lot) bool { return l.boxes[x] }

// Out is a shipment and what of it has not come back.
type Out struct {
	*Shipment
	Pieces int // none where all of it came back
}

// StillOut returns the shipments of a lot, each less what came back from the
// place it went to, and how many pieces came back from a place that is not
// recorded. Where a lot went to one place only, they came from there.
func (l *Ledger) StillOut(x *Lot) (out []Out, back int) {
	places := map[string]bool{}
	for _, s := range l.shipped[x] {
		if s.Kind != BackInHand {
			out = append(out, Out{s, s.Pieces})
			places[inci.Fold(s.To)] = true
		}
	}
	for _, s := range l.shipped[x] {
		if s.Kind != BackInHand {
			continue
		}
		left := s.Pieces
		for i := range slices.Backward(out) { // the last to go first: of those it is known best
			o := &out[i]
			if inci.Fold(o.To) == inci.Fold(s.To) || s.To == "" && len(places) == 1 {
				n := min(left, o.Pieces)
				o.Pieces -= n
				left -= n
			}
		}
		back += left
	}
	return out, back
}

// Sold reports whether pieces of a lot are with shops or customers, in boxes
// too.
func (l *Ledger) Sold(x *Lot) bool {
	return slices.ContainsFunc(l.reached([]*Lot{x}), func(y *Lot) bool {
		out, _ := l.StillOut(y)
		return slices.ContainsFunc(out, func(o Out) bool { return o.Pieces > 0 && o.Kind.Buys() })
	})
}

// Buys reports whether pieces that went so are with a shop or a customer.
func (b Buyer) Buys() bool { return b == Shop || b == Order || b == MarketDay }
