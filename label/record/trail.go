package record

import (
	"slices"
)

// Trail is what one or more lots of a material, or a lot of a product, reached
// or came from, each once and in the order recorded.
type Trail struct {
	Receipts   []*Receipt
	Lots       []*Lot // of products and of boxes
	Shipments  []*Shipment
	Printings  []*Printing
	Complaints []*Complaint

	// Unrecorded names the lots of materials that a lot says it used and that were never recorded as received.
	Unrecorded []Unrecorded
}

// Unrecorded is a lot of a material that a lot was made of, and of which no
// receipt was recorded.
type Unrecorded struct {
	Material, Code string
	Lot            *Lot
}

// Forward follows lots of material out: to the lots made of them, the boxes
// those went into, the labels printed for them, where pieces went and what was
// said of them.
func (l *Ledger) Forward(from []*Receipt) *Trail {
	t := &Trail{Receipts: from}
	var lots []*Lot
	for _, r := range from {
		lots = append(lots, l.users[useKey(r.Material, r.Code)]...)
	}
	l.reach(t, lots)
	return t
}

// ForwardLots follows lots of products out in the same way.
func (l *Ledger) ForwardLots(lots []*Lot) *Trail {
	t := &Trail{}
	l.reach(t, lots)
	return t
}

// ForwardUse follows a lot of a material that was used but never recorded as
// received.
func (l *Ledger) ForwardUse(material, code string) *Trail {
	t := &Trail{}
	l.reach(t, l.users[useKey(material, code)])
	return t
}

// reach adds lots and all that comes after them.
func (l *Ledger) reach(t *Trail, lots []*Lot) {
	t.Lots = l.reached(lots)
	for _, x := range t.Lots {
		t.Shipments = append(t.Shipments, l.shipped[x]...)
		t.Printings = append(t.Printings, l.printed[x]...)
		t.Complaints = append(t.Complaints, l.complains[x]...)
	}
}

// reached returns lots and those that they went into, in order.
func (l *Ledger) reached(lots []*Lot) (out []*Lot) {
	seen := map[*Lot]bool{}
	for next := slices.Clone(lots); len(next) > 0; {
		x := next[0]
		next = next[1:]
		if seen[x] {
			continue
		}
		seen[x] = true
		out = append(out, x)
		for _, code := range l.codesOf(x) {
			next = append(next, l.users[useKey(x.Product, code)]...) // boxes
		}
	}
	InOrder(out)
	return out
}

// codesOf returns the codes of a lot: its own, and those it had before it was
// corrected.
func (l *Ledger) codesOf(x *Lot) []string {
	all := []string{x.Code}
	for was, now := range l.renamed {
		if l.lotBy(now) == x && l.lots[was] == nil {
			all = append(all, was)
		}
	}
	slices.Sort(all[1:])
	return all
}

// Back follows a lot to what it was made of, through the lots in a box to
// their materials. The lot itself stands first in Lots.
func (l *Ledger) Back(x *Lot) *Trail {
	t := &Trail{}
	l.into(t, x, map[*Lot]bool{})
	return t
}

func (l *Ledger) into(t *Trail, x *Lot, seen map[*Lot]bool) {
	if seen[x] {
		return
	}
	seen[x] = true
	t.Lots = append(t.Lots, x)
	for _, u := range x.Used {
		for _, part := range u.Lots {
			if r := l.Receipt(u.Name, part.Code); r != nil {
				if !slices.Contains(t.Receipts, r) {
					t.Receipts = append(t.Receipts, r)
				}
				continue
			}
			if inner := l.inner(u.Name, part.Code); inner != nil {
				l.into(t, inner, seen)
				continue
			}
			t.Unrecorded = append(t.Unrecorded, Unrecorded{u.Name, part.Code, x})
		}
	}
}

// Users returns the lots that used a lot of a material.
func (l *Ledger) Users(material, code string) []*Lot { return l.users[useKey(material, code)] }
