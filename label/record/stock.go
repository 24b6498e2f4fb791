package record

import (
	"cmp"
	"slices"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
)

// RuleNoTake is of a lot that took nobody knows how much of its materials.
const RuleNoTake finding.Code = "make.not-counted"

// Balance is a lot of a material and what the records leave of it.
type Balance struct {
	Receipt *Receipt
	Took    exact.Rat // grams that recorded lots took
	Guessed exact.Rat // of those, grams of lots that do not say which lot of it they took: the oldest is assumed
	Left    exact.Rat // grams; below zero where more went than came. Means nothing where Known is false
	Known   bool      // how much came in was recorded
}

// Usable reports whether something of the lot may go into a batch on a day: it
// came in, is not used up by the records, and has not expired.
func (b *Balance) Usable(on date.Date) bool {
	r := b.Receipt
	return (r.On == 0 || r.On <= on) && (r.Expires == 0 || r.Expires >= on) && (!b.Known || b.Left.Sign() > 0)
}

// Take is what a recorded lot took of each material.
type Take struct {
	Lot   *Lot
	Needs []Need
}

// Stock is what the records leave of every lot of every material.
type Stock struct {
	shelf Shelf
	lots  map[string][]*Balance
}

// Of returns the lots of a material, the first to expire first, then in the
// order they came in.
func (s *Stock) Of(m *formula.Material) []*Balance { return s.lots[s.key(m.Name)] }

// Stock works out what is left of the lots of materials: what came in, less
// what recorded lots took. A lot that says which lots of a material went in
// took from the first of those until it was used up, then from the next; one
// that does not say took from those in hand, the oldest first.
func (l *Ledger) Stock(shelf Shelf, takes []Take) *Stock {
	s := &Stock{shelf: shelf, lots: map[string][]*Balance{}}
	for _, r := range l.Received {
		k := s.key(r.Material)
		s.lots[k] = append(s.lots[k], &Balance{Receipt: r, Left: r.Grams, Known: r.Grams.Sign() > 0})
	}
	takes = slices.Clone(takes)
	slices.SortStableFunc(takes, func(a, b Take) int { return cmp.Compare(a.Lot.On, b.Lot.On) })
	for _, t := range takes {
		for _, n := range t.Needs {
			s.take(t.Lot, n)
		}
	}
	for _, all := range s.lots {
		slices.SortStableFunc(all, func(a, b *Balance) int { return cmp.Compare(lastDay(a.Receipt), lastDay(b.Receipt)) })
	}
	return s
}

// lastDay sorts lots that do not expire after those that do.
func lastDay(r *Receipt) date.Date {
	if r.Expires == 0 {
		return 1<<31 - 1
	}
	return r.Expires
}

// key is one for all names of a material.
func (s *Stock) key(name string) string {
	if m := s.shelf.Material(name); m != nil {
		return inci.Fold(m.Name)
	}
	return inci.Fold(name)
}

func (s *Stock) take(x *Lot, n Need) {
	k := s.key(n.Name())
	var from []*Balance
	said := false
	for _, u := range x.Used {
		if s.key(u.Name) != k {
			continue
		}
		said = true
		for _, part := range u.Lots {
			for _, b := range s.lots[k] {
				if fold(b.Receipt.Code) == fold(part.Code) {
					from = append(from, b)
				}
			}
		}
	}
	if !said {
		for _, b := range s.lots[k] {
			if b.Known && b.Usable(x.On) {
				from = append(from, b)
			}
		}
	}
	left := n.Grams
	for i, b := range from {
		part := left
		if i < len(from)-1 && b.Known {
			part = exact.Min(left, exact.Max(b.Left, exact.Rat{}))
		}
		b.Took = b.Took.Add(part)
		b.Left = b.Left.Sub(part)
		if !said {
			b.Guessed = b.Guessed.Add(part)
		}
		left = left.Sub(part)
	}
}

// Took returns what a lot took of each material, as it was weighed where that
// was recorded, else by its recipe. What is in mixes made beforehand was taken
// when those were made.
func (m *Made) Took(c *formula.Composer) []Need {
	p := &m.Product.Piece
	single := exact.Int(int64(m.Lot.Pieces * max(m.Book.Count, 1)))
	of := m.Lot.outer(p, m.Book.Count)
	var out needs
	for i := range p.Lines {
		l := &p.Lines[i]
		if formulaOf(l, p.Slots) != nil {
			continue
		}
		x := l.Material
		if l.Slot != "" {
			x = p.Slots[l.Slot].Material
		}
		out.add(x, l.Amount.Value.Mul(single))
	}
	for _, f := range outerFirst(formulasIn(p), p.Slots) {
		if len(m.taken[inci.Fold(f.Name)]) > 0 {
			continue
		}
		grams := of[f]
		if g, ok := m.madeOf(f); ok {
			grams = g
		}
		lines, _ := c.Batch(f, p.Slots, grams)
		for _, w := range lines {
			if w.Formula != nil {
				of[w.Formula] = of[w.Formula].Add(w.Grams)
			} else {
				out.add(w.Material, w.Grams)
			}
		}
	}
	return out
}

// madeOf returns how much of a formula the lot says was made.
func (m *Made) madeOf(f *formula.Formula) (exact.Rat, bool) {
	for _, b := range m.Batches {
		if inci.Fold(b.Formula.Name) == inci.Fold(f.Name) {
			return sumOf(b.Weighed), true
		}
	}
	return m.Lot.stated(f.Name)
}

// Supply is one material of a plan against what is in hand.
type Supply struct {
	Need
	Lots     []*Balance // that may be used on the day
	Expired  []*Balance // that may not any more, though something is left
	InHand   exact.Rat  // grams in Lots
	Recorded bool       // lots of it are recorded, with how much came
	Buy      exact.Rat  // grams that are missing; all of it where none is recorded
}

// Supplies compares needs with what is in hand on a day. Where only names codes
// of lots, a material that has one of them is taken from those alone.
func (s *Stock) Supplies(needs []Need, on date.Date, only []string) []Supply {
	named := func(b *Balance) bool {
		return slices.ContainsFunc(only, func(c string) bool { return fold(c) == fold(b.Receipt.Code) })
	}
	var out []Supply
	for _, n := range needs {
		x := Supply{Need: n}
		all := s.Of(n.Material)
		pick := slices.ContainsFunc(all, named)
		for _, b := range all {
			switch {
			case pick && !named(b):
			case b.Usable(on):
				x.Lots = append(x.Lots, b)
				x.Recorded = x.Recorded || b.Known
				if b.Known {
					x.InHand = x.InHand.Add(b.Left)
				}
			default:
				x.Recorded = true
				if b.Receipt.Expires != 0 && b.Receipt.Expires < on && (!b.Known || b.Left.Sign() > 0) {
					x.Expired = append(x.Expired, b)
				}
			}
		}
		x.Buy = exact.Max(n.Grams.Sub(x.InHand), exact.Rat{})
		out = append(out, x)
	}
	return out
}

// Enough returns how many pieces could be made, spares besides, of what is in
// hand on a day, and the materials that end first. Materials of which no lot is
// recorded with its weight are counted as enough. It returns -1 where none is
// recorded at all.
func (s *Stock) Enough(c *formula.Composer, w *label.Workshop, p *label.Product, on date.Date, only []string) (int, []string) {
	const most = 1_000_000
	single, _ := NewPlan(c, w, p, Request{Pieces: 1, Exact: true})
	if single == nil {
		return -1, nil
	}
	n := -1
	all := s.Supplies(single.Needs, on, only)
	for _, x := range all {
		if x.Recorded && x.Grams.Sign() > 0 {
			if k := min(floor(exact.Min(x.InHand.Quo(x.Grams), exact.Int(most))), most); n < 0 || k < n {
				n = k
			}
		}
	}
	short := func(pieces int) (names []string) { // spares come out of the same stock
		pl, _ := NewPlan(c, &label.Workshop{Bowl: w.Bowl, ScaleUpTo: w.ScaleUpTo}, p, Request{Pieces: pieces})
		for _, x := range all {
			if x.Recorded && x.InHand.Less(x.Grams.Mul(exact.Int(int64(pl.All())))) {
				names = append(names, x.Name())
			}
		}
		return names
	}
	if n < 0 {
		return n, nil
	}
	lo, hi := 0, n
	for lo < hi {
		if k := (lo + hi + 1) / 2; len(short(k)) > 0 {
			hi = k - 1
		} else {
			lo = k
		}
	}
	return lo, short(lo + 1)
}
