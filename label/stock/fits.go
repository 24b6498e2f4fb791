package stock

import (
	"fmt"

	"panelwright/label/scene"
)

// NoFit is a label that does not go into a cell.
type NoFit struct {
	Label, Cell Size
	Why         string // with millimetres
}

func (e *NoFit) Error() string {
	return fmt.Sprintf("the label is %v and a cell of this stock %v: %s", e.Label, e.Cell, e.Why)
}

// slack is what a circle drawn as cubic curves, and rounding, may differ by.
const slack = 30

// Fits returns nil where the label goes into a cell, and else a [*NoFit] that says by how much it does not. A
// label smaller than the cell goes into its middle.
func (s *Stock) Fits(label *scene.Scene) error {
	size := Size{label.W, label.H}
	no := func(why string) error { return &NoFit{size, s.Label, why} }
	switch {
	case size.W > s.Label.W && size.H > s.Label.H:
		return no(fmt.Sprintf("%v too wide and %v too high", size.W-s.Label.W, size.H-s.Label.H))
	case size.W > s.Label.W:
		return no(fmt.Sprintf("%v too wide", size.W-s.Label.W))
	case size.H > s.Label.H:
		return no(fmt.Sprintf("%v too high", size.H-s.Label.H))
	case 2*label.Bleed > min(s.gap(s.Columns, s.Across, s.Label.W), s.gap(s.Rows, s.Down, s.Label.H)):
		return no(fmt.Sprintf("its bleed of %v runs into the next cell", label.Bleed))
	case s.Round && s.sticksOut(label):
		return no("its corners stick out of the round cell")
	}
	return nil
}

// placed returns a label as it lies in a cell: turned by a quarter if the stock asks for that, or if it fits only so.
// The error is that of the label as it is.
func (s *Stock) placed(label *scene.Scene) (*scene.Scene, error) {
	if s.Turn {
		label = label.QuarterTurned()
		return label, s.Fits(label)
	}
	err := s.Fits(label)
	if err == nil {
		return label, nil
	}
	if turned := label.QuarterTurned(); s.Fits(turned) == nil {
		return turned, nil
	}
	return label, err
}

// Turns reports whether a label goes into a cell only when it is turned by a quarter.
func (s *Stock) Turns(label *scene.Scene) bool {
	return s.Fits(label) != nil && s.Fits(label.QuarterTurned()) == nil
}

// sticksOut reports whether the outline of a label leaves an oval as large as the cell.
func (s *Stock) sticksOut(label *scene.Scene) bool {
	outline := label.Die.Segments
	if len(outline) == 0 {
		outline = scene.Rounded(scene.Rect{Right: label.W, Bottom: label.H}, 0)
	}
	// In units of the half axes: (x/a)^2 + (y/b)^2 <= 1, without division.
	a, b := int64(s.Label.W/2+slack), int64(s.Label.H/2+slack)
	for _, seg := range outline {
		at := seg.P[0]
		switch seg.Op {
		case scene.CurveTo:
			at = seg.P[2]
		case scene.Close:
			continue
		}
		x, y := int64(at.X-label.W/2), int64(at.Y-label.H/2)
		// Lengths are below 2 m, or 2^21 micrometres: halve the bits before the squares of squares.
		if square(x*b>>12)+square(y*a>>12) > square(a*b>>12) {
			return true
		}
	}
	return false
}

func square(x int64) int64 { return x * x }
