package font

import "fmt"

// Measure says which letter a height is taken from. The rules differ: the US asks for the capital, or for
// the lower-case o once lower case is used (21 CFR 701.13(h)(2)); the EU asks for the figures of the net
// quantity (Directive 76/211/EEC Annex I point 3.1).
type Measure uint8

const (
	// LowerO is the height of the outline of the lower-case o, from its lowest to its highest point, as a
	// ruler on the printed letter finds it.
	LowerO Measure = iota
	// Capitals is the height of the outline of the capital H. Round capitals overshoot a little and are
	// taller, so H is the smallest that an inspector can find.
	Capitals
	// Numerals is the height of the lowest of the ten figures.
	Numerals

	measures
)

// String returns the measure in words, such as "lower-case o".
func (m Measure) String() string {
	switch m {
	case LowerO:
		return "lower-case o"
	case Capitals:
		return "capitals"
	case Numerals:
		return "numerals"
	}
	return fmt.Sprintf("Measure(%d)", uint8(m))
}

// measured lists the letters whose lowest outline is the measured height.
var measured = [measures]string{
	LowerO:   "o",
	Capitals: "H",
	Numerals: "0123456789",
}

// Height returns the measured height of m in font units.
func (f *Face) Height(m Measure) int64 { return f.table().heights[m] }

// HeightAt returns the measured height of m in micrometres when the face is set at an em of size
// micrometres, rounded down: what is printed is at least this tall.
func (f *Face) HeightAt(size int64, m Measure) int64 {
	return size * f.Height(m) / f.UnitsPerEm()
}

// SizeForHeight returns the smallest em size, in whole micrometres, at which the measured height of m is at
// least height micrometres.
func (f *Face) SizeForHeight(height int64, m Measure) int64 {
	h := f.Height(m)
	return (height*f.UnitsPerEm() + h - 1) / h
}
