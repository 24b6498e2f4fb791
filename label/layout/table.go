package layout

import (
	"strings"

	"panelwright/label/scene"
)

// Align says to which side of its column a text is set.
type Align uint8

const (
	AlignLeft Align = iota
	AlignRight
	AlignCentre
)

// Column is a column of a table.
type Column struct {
	Head  string
	Width scene.Um // 0: an equal share of what the others leave
	Align Align
	Style Style // of its cells; that of the table if zero
	Write bool  // to be written on: a rule at the foot of each cell
	Tick  bool  // to be ticked: a small square in each cell
}

// Row is a row of a table. Missing cells are empty.
type Row struct {
	Cells []string
	Bold  bool
}

// Table is a table as wide as the page, with hairlines between its rows. Its head is repeated on each page;
// a row stays on one page unless it is taller than one.
type Table struct {
	Columns []Column
	Rows    []Row
	Style   Style // of the cells; Fine if zero
	Roomy   bool  // more height, for a pen
	NoHead  bool
	NoRules bool
}

// gutter is the space between columns, and cellSpace that above and below the text of a cell.
const (
	gutter     = 3 * scene.Mm
	cellSpace  = 550
	roomySpace = 1900
)

// Table sets a table.
func (p *Pages) Table(t Table) {
	if p.err != nil {
		return
	}
	if t.Style.Face == nil {
		t.Style = Fine
	}
	bold := t.Style
	bold.Face = Bold.Face
	widths := t.widths(p.Width())
	var head *tableRow
	if !t.NoHead {
		cells := make([]string, len(t.Columns))
		for i, c := range t.Columns {
			cells[i] = c.Head
		}
		head = p.row(cells, widths, bold, Table{})
		if head == nil {
			return
		}
	}
	rows := make([]*tableRow, len(t.Rows))
	for i, r := range t.Rows {
		style := t.Style
		if r.Bold {
			style = bold
		}
		if rows[i] = p.row(r.Cells, widths, style, t); rows[i] == nil {
			return
		}
	}
	for i, row := range rows {
		height := row.height()
		if i == 0 && head != nil {
			height += head.height()
		}
		// No row stands alone under a head at the foot of a page, or on the page after, and no heading within the
		// table without a row.
		if last := len(rows) - 1; (i == 0 || i == last-1 || t.Rows[i].Bold) && i < last && rows[i+1].lines+row.lines <= 12 {
			height += rows[i+1].height() + Hairline
		}
		fresh := i == 0
		if p.Left() < height && !p.blank() {
			p.Break()
			fresh = true
		}
		if fresh && head != nil {
			p.draw(head, 0, head.lines, widths, t.Columns)
			if !t.NoRules {
				p.Rule()
			}
		}
		p.tall(row, head, widths, t)
		if !t.NoRules {
			p.add(scene.Line(p.Paper.Left, p.y, p.Paper.W-p.Paper.Right, p.y, Hairline, scene.Ink{K: 30}))
			p.y += Hairline
		}
	}
}

// tall draws a row, over several pages where one is not enough.
func (p *Pages) tall(row, head *tableRow, widths []scene.Um, t Table) {
	for from := 0; from < row.lines; {
		room := int((p.Left() - 2*row.space) / row.style.Lead)
		to := min(row.lines, from+max(room, 1))
		p.draw(row, from, to, widths, t.Columns)
		if from = to; from < row.lines {
			p.Break()
			if head != nil {
				p.draw(head, 0, head.lines, widths, t.Columns)
			}
		}
	}
}

// widths returns the width of each column without its gutter.
func (t *Table) widths(all scene.Um) []scene.Um {
	out := make([]scene.Um, len(t.Columns))
	left, open := all, scene.Um(0)
	for i, c := range t.Columns {
		out[i] = c.Width
		left -= c.Width
		if c.Width == 0 {
			open++
		}
	}
	for i, c := range t.Columns {
		if c.Width == 0 {
			out[i] = max(left/open, gutter+scene.Mm)
		}
		if i < len(t.Columns)-1 {
			out[i] -= gutter
		}
	}
	return out
}

// tableRow is a row broken into lines.
type tableRow struct {
	cells []*flow
	wraps [][]line
	lines int // of the tallest cell
	style Style
	own   []Style  // of each cell
	space scene.Um // above and below the text
	fill  []Column // what is drawn into the cells; nil in a head
}

func (r *tableRow) height() scene.Um { return scene.Um(r.lines)*r.style.Lead + 2*r.space }

// row breaks cells into lines. It returns nil and keeps the error where a letter is missing.
func (p *Pages) row(cells []string, widths []scene.Um, s Style, t Table) *tableRow {
	r := &tableRow{style: s, lines: 1, space: cellSpace, fill: t.Columns}
	if t.Roomy {
		r.space = roomySpace
	}
	for _, c := range t.Columns {
		r.style.Lead = max(r.style.Lead, c.Style.Lead)
	}
	for i := range widths {
		s := s
		if len(t.Columns) > 0 && t.Columns[i].Style.Face != nil {
			s = t.Columns[i].Style
		}
		s.Lead = r.style.Lead
		r.own = append(r.own, s)
		text := ""
		if i < len(cells) {
			text = strings.Join(strings.Fields(cells[i]), " ")
		}
		f, err := measure(atSpaces, span{text: text, face: s.Face})
		if err != nil {
			p.err = err
			return nil
		}
		wrap := f.wrap(s.Size, widths[i])
		r.cells, r.wraps = append(r.cells, f), append(r.wraps, wrap)
		r.lines = max(r.lines, len(wrap))
	}
	return r
}

// draw sets lines from up to to of a row and moves below it.
func (p *Pages) draw(r *tableRow, from, to int, widths []scene.Um, columns []Column) {
	x := p.Paper.Left
	last := len(p.pages) - 1
	for i, f := range r.cells {
		for n, l := range r.wraps[i] {
			if n < from || n >= to {
				continue
			}
			at := x
			s := r.own[i]
			switch slack := widths[i] - f.width(l.a, l.b, s.Size); columns[i].Align {
			case AlignRight:
				at += slack
			case AlignCentre:
				at += slack / 2
			}
			y := p.y + r.space + scene.Um(n-from)*s.Lead + baseline(s)
			p.pages[last] = f.texts(p.pages[last], l.a, l.b, at, y, s.Size, s.Ink, nil)
		}
		if from == 0 && len(r.fill) > 0 {
			p.toFillIn(r.fill[i], x, widths[i], scene.Um(to-from)*r.style.Lead+2*r.space)
		}
		x += widths[i] + gutter
	}
	p.y += scene.Um(to-from)*r.style.Lead + 2*r.space
}

// tick is the side of a square to be ticked.
const tick = 4 * scene.Mm

// toFillIn draws what a pen needs in a cell that begins at x on this line and is wide by high.
func (p *Pages) toFillIn(c Column, x, wide, high scene.Um) {
	last := len(p.pages) - 1
	if c.Tick {
		top := p.y + (high-tick)/2
		ink := scene.Black
		p.pages[last] = append(p.pages[last], &scene.Path{Segments: scene.Rounded(scene.Rect{Left: x, Top: top, Right: x + tick, Bottom: top + tick}, 500), Stroke: &ink, Width: 250})
		x, wide = x+tick+scene.Mm, wide-tick-scene.Mm
	}
	if c.Write {
		y := p.y + high - 1500
		p.pages[last] = append(p.pages[last], scene.Line(x, y, x+wide, y, 150, Grey))
	}
}

// paragraphs splits text at its line breaks and evens out its spaces.
func paragraphs(text string) []string {
	parts := strings.Split(text, "\n")
	for i, part := range parts {
		parts[i] = strings.Join(strings.Fields(part), " ")
	}
	return parts
}

// wrap breaks a flow into lines no wider than width. On a page a word that is wider than its column is
// broken, so that a web address cannot stop a document.
func (f *flow) wrap(size, width scene.Um) []line {
	if len(f.cuts) == 0 {
		return []line{{}}
	}
	if lines, ok := f.lines(nil, size, within(width), true, -1); ok {
		return lines
	}
	var out []line
	for a, first := 0, 0; first < len(f.cuts); {
		if fits := f.fitting(a, first, size, width); fits >= 0 {
			out = append(out, line{a: a, b: f.cuts[fits].end, right: width})
			a, first = f.cuts[fits].next, fits+1
			continue
		}
		b := a + 1
		for b < f.cuts[first].end && f.width(a, b+1, size) <= width {
			b++
		}
		out = append(out, line{a: a, b: b, right: width})
		if a = b; a >= f.cuts[first].end {
			a, first = f.cuts[first].next, first+1
		}
	}
	return out
}
