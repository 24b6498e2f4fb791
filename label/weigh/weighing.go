package weigh

import (
	"slices"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Weighing is one batch as weighed: packs that state the same quantity, made in
// one run.
type Weighing struct {
	Batch    string      // "" if it has no name
	Date     date.Date   // 0 if not stated
	Figures  []Figure    // as read off the scale, in the order weighed
	Tares    []exact.Rat // weights of empty packs; their average is taken off every figure; none: figures are net
	Lot      int         // packs in the batch; 0: those weighed
	Division exact.Rat   // the smallest step of the scale in grams; 0: not stated
	Capacity exact.Rat   // the most the scale takes, in grams; 0: not stated
}

// Figure is one reading: grams, or millilitres where the statement is a volume.
type Figure struct {
	Amount exact.Rat
	Step   exact.Rat   // the last place of the figure as written: 0.1 for 160.2; 0: not known
	Date   date.Date   // 0 if not stated
	Where  finding.Pos // where it was written; zero if it was not in a file
}

// Sample is what the figures of a weighing come to.
type Sample struct {
	N, Lot             int
	Tare               exact.Rat // average; 0 for none
	Sum, Mean          exact.Rat // of the net amounts
	Variance           exact.Rat // s squared, divisor n - 1; 0 for one piece
	Lightest, Heaviest exact.Rat

	net    []exact.Rat // in the order weighed
	sorted []exact.Rat
}

// Sample works out the figures. A weighing without figures gives the zero Sample.
func (w *Weighing) Sample() Sample {
	n := len(w.Figures)
	if n == 0 {
		return Sample{}
	}
	s := Sample{N: n, Lot: max(w.Lot, n), Tare: average(w.Tares), net: make([]exact.Rat, n)}
	// Squares are summed around the first piece: small numbers stay in machine words.
	var off, squares exact.Rat
	first := w.Figures[0].Amount
	for i, f := range w.Figures {
		s.net[i] = f.Amount.Sub(s.Tare)
		d := f.Amount.Sub(first)
		off, squares = off.Add(d), squares.Add(d.Mul(d))
	}
	count := exact.Int(int64(n))
	s.Sum = first.Sub(s.Tare).Mul(count).Add(off)
	s.Mean = s.Sum.Quo(count)
	if n > 1 {
		s.Variance = squares.Sub(off.Mul(off).Quo(count)).Quo(exact.Int(int64(n - 1)))
	}
	s.sorted = slices.Clone(s.net)
	slices.SortFunc(s.sorted, exact.Rat.Cmp)
	s.Lightest, s.Heaviest = s.sorted[0], s.sorted[n-1]
	return s
}

func average(xs []exact.Rat) exact.Rat {
	if len(xs) == 0 {
		return exact.Rat{}
	}
	return exact.Sum(xs...).Quo(exact.Int(int64(len(xs))))
}

// Net returns the net amounts in the order weighed. The slice is shared.
func (s *Sample) Net() []exact.Rat { return s.net }

// Whole reports whether every piece of the lot was weighed.
func (s *Sample) Whole() bool { return s.N == s.Lot }

// below returns how many pieces are lighter than limit.
func (s *Sample) below(limit exact.Rat) int {
	n, _ := slices.BinarySearchFunc(s.sorted, limit, exact.Rat.Cmp)
	return n
}
