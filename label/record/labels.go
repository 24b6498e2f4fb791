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
			if serves(out[i].Markets, ms) {
				return out[i]
			}
		}
		return nil
	}
	saying := func(ms []inci.Market, text string) *LabelStock {
		for i := len(out) - 1; i >= 0; i-- {
			if out[i].Text == text && serves(out[i].Markets, ms) {
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
				s = saying(x.Markets, x.Text)
			}
			if s == nil {
				continue // Doubts asks about it
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

// serves reports whether a label for some markets is one for those that are
// asked for; none asked for is any.
func serves(label, asked []inci.Market) bool {
	return !slices.ContainsFunc(asked, func(m inci.Market) bool { return !slices.Contains(label, m) })
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
	Latest bool // it is what is approved for new lots, in every market of the label
	Open   bool // nothing is approved for new lots in one of its markets: it may be this yet

	// Only are the markets in which the words are still approved, where that is
	// not all that the label was printed for: no lot can wear it everywhere.
	Only []inci.Market
}

// Unknown reports whether it is not recorded what the labels say.
func (b *Bin) Unknown() bool { return b.Text == "" || len(b.Markets) == 0 }

// Leftover sorts the labels of a product that are left by what they are true
// for. A label for several markets must be true in each. Labels of the latest
// approved text are kept for lots to come, all of them where nothing is approved
// for those, and labels of words that are not recorded are not judged.
func (l *Ledger) Leftover(product string) []Bin {
	var out []Bin
	for _, s := range l.Labels(product) {
		if s.Left == 0 {
			continue
		}
		b := Bin{LabelStock: s}
		if !b.Unknown() {
			l.sortOut(product, &b)
		}
		out = append(out, b)
	}
	return out
}

// sortOut finds what labels of known words are good for.
func (l *Ledger) sortOut(product string, b *Bin) {
	says := func(a *Approval) bool { return a != nil && a.Text == b.Text }
	still := map[inci.Market]bool{} // where the words are approved for lots in hand or to come
	latest := 0
	for _, m := range b.Markets {
		a := l.newest(product, m)
		b.Open = b.Open || a == nil
		if says(a) {
			still[m] = true
			latest++
		}
	}
	for _, x := range l.LotsOf(product) {
		if l.Left(x) <= 0 || l.StateOf(x) == Held {
			continue // of a lot that is held it is not known what its label must say
		}
		in := 0
		for _, m := range b.Markets {
			if says(l.ApprovalFor(product, m, x, x.On)) {
				still[m] = true
				in++
			}
		}
		if in == len(b.Markets) {
			b.True = append(b.True, x)
			b.Pieces += max(l.Left(x)-l.Labelled(x, b.Markets), 0)
		}
	}
	InOrder(b.True)
	switch b.Latest = latest == len(b.Markets); {
	case b.Latest, b.Open:
	case len(b.True) == 0 && len(still) > 0:
		for _, m := range b.Markets {
			if still[m] {
				b.Only = append(b.Only, m)
			}
		}
	default:
		b.Bin = max(b.Left-b.Pieces, 0)
	}
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

// Labelled returns how many labels for the markets were printed for a lot.
func (l *Ledger) Labelled(x *Lot, ms []inci.Market) (n int) {
	for _, p := range l.printed[x] {
		if !p.Stickers && slices.Equal(p.Markets, ms) {
			n += p.Copies
		}
	}
	return n
}
