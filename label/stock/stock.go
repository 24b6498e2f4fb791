// Package stock knows blank labels: sheets and label printers described by their measurements alone, and how
// labels are laid on them.
//
//	s := &stock.Stock{Name: "my sheets", Paper: stock.A4, Columns: 3, Rows: 7, Label: stock.Size{W: 63500, H: 38100}, ...}
//	for _, p := range s.Check() { ... }            // does it add up?
//	im, err := s.Impose(used, 0, emit)             // cells used before, first cell, what to do with a full sheet
//	runs, err := im.Add(label, 20)                 // which cells hold these twenty
//	used, err = im.Close()                         // what to remember with the sheet in hand
//
// Cells are counted from 1, row by row from the top left corner, as one reads. A cell that the printer cannot
// reach is left empty, and so is a cell that was used before. All lengths are whole micrometres.
package stock

import (
	"fmt"

	"panelwright/formula/finding"
	"panelwright/label/scene"
)

// Size is a width and a height.
type Size struct{ W, H scene.Um }

// String returns the size as in "63.5 x 38.1 mm".
func (s Size) String() string {
	w := s.W.String()
	return w[:len(w)-len(" mm")] + " x " + s.H.String()
}

// Papers, upright.
var (
	A4     = Size{210 * scene.Mm, 297 * scene.Mm}
	Letter = Size{17 * scene.Inch / 2, 11 * scene.Inch}
)

// Whole is a scale of 100 %.
const Whole = 1_000_000

// Stock is a sheet of blank labels, or the page of a label printer.
type Stock struct {
	Name          string
	Pos           finding.Pos
	Paper         Size // for one label a page, the label itself
	Columns, Rows int
	Label         Size
	Round         bool     // a circle or an oval
	Corner        scene.Um // radius of the corners
	Left, Top     scene.Um // from the edge of the paper to the first label
	Across, Down  scene.Um // from the left edge of a label to that of the next, and from top to top

	// Edge is how much of the paper the printer cannot reach, on all four sides.
	Edge scene.Um
	// Bleed is how far a printed ground runs over the edge of a label, so that the cutter may be off by as much.
	Bleed scene.Um
	// Turn asks for labels turned by a quarter; else one is turned where it fits only so.
	Turn bool
	// CropMarks asks for marks to cut along.
	CropMarks bool

	// What the printer has to be told so that the print lies where it should: everything is enlarged by the
	// scales, in millionths, from the top left corner, then moved right and down by the offsets.
	OffsetX, OffsetY scene.Um
	ScaleX, ScaleY   int64
}

// Single reports whether a page holds one label and no more, as with a label printer.
func (s *Stock) Single() bool { return s.Columns == 1 && s.Rows == 1 && s.Paper == s.Label }

// Whole reports whether every print begins a new page: with a label printer, and on plain paper that is cut.
// Nothing is then left over to remember.
func (s *Stock) Whole() bool { return s.Single() || s.CropMarks }

// Cells returns how many labels a sheet has.
func (s *Stock) Cells() int { return s.Columns * s.Rows }

// Cell returns the place of cell n, from 1, on the sheet.
func (s *Stock) Cell(n int) scene.Rect {
	column, row := scene.Um((n-1)%s.Columns), scene.Um((n-1)/s.Columns)
	x, y := s.Left+column*s.Across, s.Top+row*s.Down
	return scene.Rect{Left: x, Top: y, Right: x + s.Label.W, Bottom: y + s.Label.H}
}

// corrected returns where the printer is told to print a box, rounded outwards.
func (s *Stock) corrected(r scene.Rect) scene.Rect {
	return scene.Rect{
		Left:   r.Left*scene.Um(s.ScaleX)/Whole + s.OffsetX,
		Top:    r.Top*scene.Um(s.ScaleY)/Whole + s.OffsetY,
		Right:  (r.Right*scene.Um(s.ScaleX)+Whole-1)/Whole + s.OffsetX,
		Bottom: (r.Bottom*scene.Um(s.ScaleY)+Whole-1)/Whole + s.OffsetY,
	}
}

// Unreachable returns by how much cell n lies in the strip at the edge of the paper that the printer cannot
// reach, and at which side; 0 where the whole cell can be printed. The correction of the printer counts.
func (s *Stock) Unreachable(n int) (by scene.Um, side string) {
	r := s.corrected(s.Cell(n))
	for _, e := range []struct {
		side string
		by   scene.Um
	}{
		{"left", s.Edge - r.Left}, {"right", r.Right - (s.Paper.W - s.Edge)},
		{"top", s.Edge - r.Top}, {"bottom", r.Bottom - (s.Paper.H - s.Edge)},
	} {
		if e.by > by {
			by, side = e.by, e.side
		}
	}
	return by, side
}

// Reach returns the cells that the printer can print, and those it cannot, each with the reason.
func (s *Stock) Reach() (cells Cells, reasons []string) {
	for n := 1; n <= s.Cells(); n++ {
		by, side := s.Unreachable(n)
		if by == 0 {
			cells = append(cells, n)
			continue
		}
		reasons = append(reasons, fmt.Sprintf("cell %d lies %v inside the %v at the %s edge that the printer cannot reach", n, by, s.Edge, side))
	}
	return cells, reasons
}
