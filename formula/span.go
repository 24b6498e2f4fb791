package formula

import "panelwright/formula/exact"

// span is a figure of the reaction in least, typical and greatest. Each end is a
// bound by itself: figures that hang together are widened a little by being
// treated apart, never narrowed. A figure with nothing open in it stays exact;
// the bounds of the others are kept to boundGrid, rounded outwards.
type span = Share

// boundGrid is how finely bounds are kept: grams and shares in steps of a
// ten-millionth, far below what any scale and any molar mass can tell.
const boundGrid = 10_000_000

func steady(x exact.Rat) span { return span{x, x, x} }

func (s Share) fixed() bool { return s.Min.Equal(s.Max) }

// outwards returns a span whose bounds are kept to the grid.
func outwards(lo, mid, hi exact.Rat) span {
	return span{exact.Min(lo.Grid(boundGrid, exact.Down), mid), mid, exact.Max(hi.Grid(boundGrid, exact.Up), mid)}
}

// times multiplies two figures that are not negative.
func (s Share) times(o span) span {
	mid := s.Typical.Mul(o.Typical)
	if s.fixed() && o.fixed() {
		return steady(mid)
	}
	return outwards(s.Min.Mul(o.Min), mid, s.Max.Mul(o.Max))
}

func (s Share) scaled(x exact.Rat) span {
	mid := s.Typical.Mul(x)
	if s.fixed() {
		return steady(mid)
	}
	return outwards(s.Min.Mul(x), mid, s.Max.Mul(x))
}

func (s Share) plus(o span) span {
	mid := s.Typical.Add(o.Typical)
	if s.fixed() && o.fixed() {
		return steady(mid)
	}
	return outwards(s.Min.Add(o.Min), mid, s.Max.Add(o.Max))
}

// less returns s - o, each end against the other's opposite one.
func (s Share) less(o span) span {
	mid := s.Typical.Sub(o.Typical)
	if s.fixed() && o.fixed() {
		return steady(mid)
	}
	return outwards(s.Min.Sub(o.Max), mid, s.Max.Sub(o.Min))
}

// over returns s/o, at least 0 and at most 1. Where o is 0 so is the quotient.
func (s Share) over(o span) span {
	quo := func(a, b exact.Rat) exact.Rat {
		switch {
		case a.Sign() <= 0:
			return exact.Rat{}
		case b.Sign() <= 0 || b.Less(a):
			return one
		}
		return a.Quo(b)
	}
	if o.Max.Sign() == 0 {
		return span{}
	}
	mid := quo(s.Typical, o.Typical)
	if s.fixed() && o.fixed() {
		return steady(mid)
	}
	return outwards(quo(s.Min, o.Max), mid, quo(s.Max, o.Min))
}

// rest returns 1 - s.
func (s Share) rest() span { return steady(one).less(s) }

// positive returns what of s lies above 0.
func (s Share) positive() span {
	var zero exact.Rat
	return span{exact.Max(s.Min, zero), exact.Max(s.Typical, zero), exact.Max(s.Max, zero)}
}
