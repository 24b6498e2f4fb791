package formula

import (
	"slices"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Mould is what a formula is poured into, and how pieces are made of what
// comes out: a slab that is cut, or so many pieces as they are.
//
// What it holds is what the maker weighed. It never follows from its size:
// how much air is stirred in, and how full it is poured, nobody can compute.
// Sizes only say which share of the weighed slab a piece is.
type Mould struct {
	Pos     finding.Pos
	Holds   exact.Rat // grams of one filling, as weighed; 0 if it never was
	Weighed date.Date // 0 if not stated

	Length, Width, Height int64 // of the slab in micrometres; 0 where nothing is cut
	Along, Across         int   // pieces along the length and across the width
	Kerf                  int64 // micrometres lost at each cut between two pieces
	Ends                  int64 // micrometres cut off at either end of the length, and not sold

	Pieces  int       // that come out as they are; 0 for a slab
	Planed  exact.Rat // grams planed off each piece
	Shrinks exact.Rat // share of each length that a piece loses in drying, as measured
	Shrunk  bool      // Shrinks is stated
}

// Cutting is what one filling of a mould gives.
type Cutting struct {
	Pieces int
	Fresh  exact.Rat // grams of each piece before it dries; 0 if the mould was never weighed
	Lost   exact.Rat // grams of cuts, ends and planing in all

	Size  [3]int64 // of a piece as cut, the longest first, in micrometres; zero where nothing is cut
	Cured [3]int64 // the same once it has shrunk as the maker measured; zero where that is not stated
}

// Cut works out what one filling gives. A slab is taken to be as high
// everywhere, so that the share of its area is the share of its weight. It
// returns false where nothing of the slab is left for a piece.
func (m *Mould) Cut() (Cutting, bool) {
	if m.Pieces > 0 {
		each := m.Holds.Quo(exact.Int(int64(m.Pieces)))
		return m.planed(Cutting{Pieces: m.Pieces, Fresh: each})
	}
	if m.Along < 1 || m.Across < 1 {
		return Cutting{}, false
	}
	// A piece is (length - 2 ends - (n - 1) kerf) / n long.
	long := m.Length - 2*m.Ends - int64(m.Along-1)*m.Kerf
	wide := m.Width - int64(m.Across-1)*m.Kerf
	if long <= 0 || wide <= 0 || m.Height <= 0 {
		return Cutting{}, false
	}
	c := Cutting{Pieces: m.Along * m.Across}
	share := exact.Frac(long, m.Length).Mul(exact.Frac(wide, m.Width))
	c.Fresh = m.Holds.Mul(share).Quo(exact.Int(int64(c.Pieces)))
	c.Size = longestFirst(long/int64(m.Along), wide/int64(m.Across), m.Height)
	if m.Shrunk {
		for i, um := range c.Size {
			c.Cured[i] = exact.Int(um).Mul(one.Sub(m.Shrinks)).Floor().Int64()
		}
	}
	return m.planed(c)
}

func (m *Mould) planed(c Cutting) (Cutting, bool) {
	if m.Holds.IsZero() {
		return c, true
	}
	c.Fresh = c.Fresh.Sub(m.Planed)
	c.Lost = m.Holds.Sub(c.Fresh.Mul(exact.Int(int64(c.Pieces))))
	return c, c.Fresh.Sign() > 0
}

func longestFirst(a, b, c int64) [3]int64 {
	all := []int64{a, b, c}
	slices.Sort(all)
	return [3]int64{all[2], all[1], all[0]}
}

// Fillings returns how many moulds it takes for so many pieces, and how many
// pieces those give besides. It returns 0 where nothing comes out of a filling.
func (m *Mould) Fillings(pieces int) (fillings, over int) {
	c, ok := m.Cut()
	if !ok || pieces <= 0 {
		return 0, 0
	}
	fillings = (pieces + c.Pieces - 1) / c.Pieces
	return fillings, fillings*c.Pieces - pieces
}
