package stock

import (
	"fmt"

	"panelwright/label/scene"
)

// Problem is something that does not add up, with its cure.
type Problem struct{ Message, Cure string }

// Bounds. No printer is off by more, and no workshop prints larger sheets; a figure beyond them is a slip of the
// pen. Common practice, no source.
const (
	mostPaper  = 2000 * scene.Mm
	leastLabel = 3 * scene.Mm
	mostOff    = 10 * scene.Mm
	mostScale  = Whole * 5 / 100
	mostCells  = 1000
)

// Check says what does not add up: labels that end outside the paper, that overlap, or that no printer reaches.
func (s *Stock) Check() (out []Problem) {
	say := func(cure, format string, args ...any) {
		out = append(out, Problem{fmt.Sprintf(format, args...), cure})
	}
	switch {
	case s.Paper.W <= 0 || s.Paper.H <= 0 || s.Paper.W > mostPaper || s.Paper.H > mostPaper:
		say("measure the sheet", "the paper is %v", s.Paper)
	case s.Columns < 1 || s.Rows < 1 || s.Columns > mostCells || s.Rows > mostCells || s.Cells() > mostCells:
		say("count the labels across and down", "a sheet of %d x %d labels", s.Columns, s.Rows)
	case s.Label.W < leastLabel || s.Label.H < leastLabel:
		say(fmt.Sprintf("measure one label; the smallest is %v", leastLabel), "a label of %v", s.Label)
	}
	if out != nil {
		return out
	}
	if 2*s.Corner > min(s.Label.W, s.Label.H) {
		say("measure the radius of the corner, at most half the shorter side", "corners of %v on a label of %v", s.Corner, s.Label)
	}
	out = append(out, s.line("column", "wide", s.Columns, s.Label.W, s.Across, s.Left, s.Paper.W)...)
	out = append(out, s.line("row", "high", s.Rows, s.Label.H, s.Down, s.Top, s.Paper.H)...)
	if s.Bleed < 0 || s.Edge < 0 {
		say("measure from the edge inwards", "a printer's edge or a bleed below nothing")
	}
	for _, gap := range []scene.Um{s.gap(s.Columns, s.Across, s.Label.W), s.gap(s.Rows, s.Down, s.Label.H)} {
		if s.Bleed > 0 && 2*s.Bleed > gap {
			say("leave gaps of twice the bleed", "a bleed of %v runs into the next label: the gap is %v", s.Bleed, gap)
			break
		}
	}
	if max(s.OffsetX, -s.OffsetX, s.OffsetY, -s.OffsetY) > mostOff {
		say("print a calibration page and measure again", "an offset of %v, %v", s.OffsetX, s.OffsetY)
	}
	if max(s.ScaleX-Whole, Whole-s.ScaleX, s.ScaleY-Whole, Whole-s.ScaleY) > mostScale {
		say("print at actual size, with no fitting to the page, and measure again",
			"a scale of %s, %s", Percent(s.ScaleX), Percent(s.ScaleY))
	}
	if out != nil {
		return out
	}
	if cells, _ := s.Reach(); len(cells) == 0 {
		by, side := s.Unreachable(1)
		say("measure the printer's edge again; for one label a page leave it out",
			"the printer reaches no cell: the first lies %v inside the %v at the %s edge", by, s.Edge, side)
	}
	return out
}

// gap returns the space between neighbours, or a space without end where there are none.
func (s *Stock) gap(n int, pitch, size scene.Um) scene.Um {
	if n == 1 {
		return mostPaper
	}
	return pitch - size
}

// line checks n labels in a row or in a column.
func (s *Stock) line(word, wide string, n int, size, pitch, start, paper scene.Um) (out []Problem) {
	if n > 1 && pitch < size {
		out = append(out, Problem{fmt.Sprintf("the %ss overlap by %v: they are %v %s and start %v apart", word, size-pitch, size, wide, pitch),
			"measure the pitch from the edge of one label to the same edge of the next"})
	}
	if start < 0 {
		out = append(out, Problem{fmt.Sprintf("the first %s starts %v outside the paper", word, -start), "measure the margin again"})
	}
	if end := start + scene.Um(n-1)*pitch + size; end > paper {
		sum := fmt.Sprintf("%v + %v", start, size)
		if n > 1 {
			sum = fmt.Sprintf("%v + %d x %v + %v", start, n-1, pitch, size)
		}
		out = append(out, Problem{fmt.Sprintf("the last %s ends %v outside the paper: %s = %v, and the paper is %v %s", word, end-paper, sum, end, paper, wide),
			"measure the margin, the label and the gap again"})
	}
	return out
}

// Percent prints a scale in millionths as a percentage, such as "100.2 %".
func Percent(millionths int64) string {
	u := scene.Um(millionths / 10).String() // thousandths of a per cent, as a length prints thousandths
	return u[:len(u)-len("mm")] + "%"
}
