package record

import (
	"slices"

	"panelwright/inci"
)

// LabelStock is labels of one text that were printed: how many, and how many
// may be left.
type LabelStock struct {
	Product string
	Markets []inci.Market
	Text    string // fingerprint of what they say
	Printed int
	Spoiled int
	Used    int // on pieces of lots that they were printed for
	Left    int // counted last, and printed since; else printed less spoiled and used
	Counted bool
	ForLots []string // the lots that they were printed for; empty for stock
}

// Labels returns the labels printed for a product, by pack and text, in the
// order first printed.
func (l *Ledger) Labels(product string) []LabelStock {
	var out []*LabelStock
	find := func(ms []inci.Market, text string) *LabelStock {
		for _, s := range out {
			if s.Text == text && slices.Equal(s.Markets, ms) {
				return s
			}
		}
		s := &LabelStock{Product: product, Markets: ms, Text: text}
		out = append(out, s)
		return s
	}
	latest := func(ms []inci.Market) *LabelStock {
		for i := len(out) - 1; i >= 0; i-- {
			if len(ms) == 0 || slices.Equal(out[i].Markets, ms) {
				return out[i]
			}
		}
		return nil
	}
	for _, e := range l.labels[inci.Fold(product)] {
		switch x := e.What.(type) {
		case *Printing:
			if x.Stickers {
				continue
			}
			s := find(x.Markets, x.Text)
			s.Printed += x.Copies
			s.Left += x.Copies
			if x.Lot != "" && !slices.Contains(s.ForLots, x.Lot) {
				s.ForLots = append(s.ForLots, x.Lot)
			}
		case *Count:
			s := latest(x.Markets)
			if x.Text != "" {
				s = find(x.Markets, x.Text)
			}
			if s == nil {
				continue
			}
			s.Spoiled += x.Spoiled
			if s.Left -= x.Spoiled; x.Left >= 0 {
				s.Left, s.Counted = x.Left, true
			}
		}
	}
	all := make([]LabelStock, len(out))
	for i, s := range out {
		if !s.Counted {
			for _, code := range s.ForLots {
				if lot := l.Lot(code); lot != nil {
					s.Used += min(lot.Pieces, l.copiesFor(s, code)) // they were printed to go on it
				}
			}
			s.Left = max(s.Left-s.Used, 0)
		}
		all[i] = *s
	}
	return all
}

// copiesFor returns how many labels of a stock were printed for a lot.
func (l *Ledger) copiesFor(s *LabelStock, code string) (n int) {
	for _, p := range l.Printings {
		if p.Text == s.Text && fold(p.Lot) == fold(code) && slices.Equal(p.Markets, s.Markets) {
			n += p.Copies
		}
	}
	return n
}

// Bin is what may be done with labels that are left: the lots with pieces in
// hand that they are true for by their approval, and how many are too many.
type Bin struct {
	LabelStock
	True   []*Lot
	Pieces int  // in hand, of those lots, that no labels were printed for yet
	Bin    int  // labels left that no such piece wants
	Latest bool // it is what is approved for new lots
}

// Leftover sorts the labels of a product that are left by what they are true
// for. Labels of the latest approved text are kept for lots to come.
func (l *Ledger) Leftover(product string) []Bin {
	var out []Bin
	for _, s := range l.Labels(product) {
		if s.Left == 0 {
			continue
		}
		b := Bin{LabelStock: s}
		for _, x := range l.LotsOf(product) {
			a := l.ApprovalFor(product, s.Markets[0], x, x.On)
			if a == nil || a.Text != s.Text || l.Left(x) <= 0 || l.StateOf(x) == Held {
				continue // of a lot that is held it is not known what its label must say
			}
			b.True = append(b.True, x)
			b.Pieces += max(l.Left(x)-l.labelled(x, s.Markets), 0)
		}
		InOrder(b.True)
		if a := l.newest(product, s.Markets[0]); a != nil && a.Text == s.Text {
			b.Latest = true
		} else {
			b.Bin = max(s.Left-b.Pieces, 0)
		}
		out = append(out, b)
	}
	return out
}

// newest returns the latest approval that is not bound to lots or to days that
// are over.
func (l *Ledger) newest(product string, m inci.Market) *Approval {
	for _, a := range slices.Backward(l.approved[inci.Fold(product)]) {
		if slices.Contains(a.Markets, m) && len(a.Lots) == 0 && a.Until == 0 {
			return a
		}
	}
	return nil
}

// labelled returns how many labels for the markets were printed for a lot.
func (l *Ledger) labelled(x *Lot, ms []inci.Market) (n int) {
	for _, p := range l.printed[x] {
		if !p.Stickers && slices.Equal(p.Markets, ms) {
			n += p.Copies
		}
	}
	return n
}
