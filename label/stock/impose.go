package stock

import (
	"fmt"
	"slices"

	"panelwright/label/scene"
)

// Run says which cells of one sheet hold one label.
type Run struct {
	Sheet int // from 1
	Cells Cells
}

// Imposer lays labels on sheets, one after the other, and hands each sheet over as soon as it is full, so that
// no more than one is held.
type Imposer struct {
	Title, Lang string // of the sheets
	// Outlines draws the edge of each label in thin grey: for a print on plain paper to hold against the sheet.
	Outlines bool

	stock *Stock
	emit  func(*scene.Scene) error
	reach Cells
	sheet int
	used  Cells // of the sheet in hand: before this print, and by it
	free  Cells // of the sheet in hand, in the order they are filled
	page  *scene.Scene
	folds []scene.Item // marks beside their creases
	done  []scene.Rect // labels laid on the sheet in hand by this print
}

// Impose begins with a sheet on which the used cells are taken, and fills it from cell from on; 0 is the first
// free one. Cells before it stay free. It fails where that cell is used, or out of the printer's reach, or not
// on the sheet. Full sheets go to emit. A stock must have passed Check.
func (s *Stock) Impose(used Cells, from int, emit func(*scene.Scene) error) (*Imposer, error) {
	im := &Imposer{stock: s, emit: emit, sheet: 1}
	im.reach, _ = s.Reach()
	im.used = used
	im.free = im.reach.Without(used)
	if len(im.free) == 0 { // the sheet in hand is used up: take a new one
		im.used, im.free = nil, im.reach
	}
	if from == 0 {
		return im, nil
	}
	switch by, side := 0*scene.Mm, ""; {
	case from < 1 || from > s.Cells():
		return nil, fmt.Errorf("there is no cell %d; the sheet has the cells 1 to %d", from, s.Cells())
	case im.used.Has(from):
		return nil, fmt.Errorf("cell %d is used already (used: %v); the first free one is %d", from, im.used, im.free[0])
	default:
		if by, side = s.Unreachable(from); by > 0 {
			return nil, fmt.Errorf("cell %d lies %v inside the %v at the %s edge that the printer cannot reach; the first cell it reaches is %d", from, by, s.Edge, side, im.free[0])
		}
	}
	im.free = slices.DeleteFunc(slices.Clone(im.free), func(n int) bool { return n < from })
	return im, nil
}

// Free returns the cells left to fill on the sheet in hand.
func (im *Imposer) Free() Cells { return im.free }

// Add lays a label on as many cells as count says. It fails where the label does not fit into a cell, before
// anything is laid, and where emit fails.
func (im *Imposer) Add(label *scene.Scene, count int) (runs []Run, err error) {
	if label, err = im.stock.placed(label); err != nil {
		return nil, err
	}
	for ; count > 0; count-- {
		if len(im.free) == 0 {
			if err := im.turn(); err != nil {
				return runs, err
			}
			im.sheet++
			im.used, im.free = nil, im.reach
		}
		n := im.free[0]
		im.free = im.free[1:]
		im.lay(label, n)
		if len(runs) == 0 || runs[len(runs)-1].Sheet != im.sheet {
			runs = append(runs, Run{Sheet: im.sheet})
		}
		last := &runs[len(runs)-1]
		last.Cells = append(last.Cells, n)
	}
	return runs, nil
}

// Close hands over the sheet in hand, unless nothing was laid on it, and returns its used cells: those to
// remember with it. A sheet on which nothing is free any more is none to remember.
func (im *Imposer) Close() (Cells, error) {
	if err := im.turn(); err != nil {
		return nil, err
	}
	if len(im.reach.Without(im.used)) == 0 {
		return nil, nil
	}
	return im.used, nil
}

// Sheets returns how many sheets were begun.
func (im *Imposer) Sheets() int { return im.sheet }

// lay puts a label into a cell, in its middle if it is smaller.
func (im *Imposer) lay(label *scene.Scene, n int) {
	s := im.stock
	if im.page == nil {
		im.page = &scene.Scene{W: s.Paper.W, H: s.Paper.H, Title: im.Title, Lang: im.Lang}
	}
	cell := s.Cell(n)
	x, y := cell.Left+(s.Label.W-label.W)/2, cell.Top+(s.Label.H-label.H)/2
	if im.Outlines {
		die := label.Die
		if len(die.Segments) == 0 {
			die.Segments = scene.Rounded(scene.Rect{Right: label.W, Bottom: label.H}, 0)
		}
		die.Stroke, die.Width = &outlineInk, outlineWidth
		im.page.Items = appendMoved(im.page.Items, []scene.Item{&die}, x, y)
	}
	im.page.Items = appendMoved(im.page.Items, label.Items, x, y)
	im.done = append(im.done, scene.Rect{Left: x, Top: y, Right: x + label.W, Bottom: y + label.H})
	if s.CropMarks {
		im.page.Items = append(im.page.Items, punches(label, x, y)...)
		im.folds = append(im.folds, s.creases(label, x, y)...)
	}
	im.used = im.used.With(Cells{n})
}

var outlineInk = scene.Ink{K: 30}

const outlineWidth scene.Um = 90

// turn hands over the sheet in hand.
func (im *Imposer) turn() error {
	if im.page == nil {
		return nil
	}
	if im.stock.CropMarks {
		im.page.Items = append(im.page.Items, im.stock.marks(im.done)...)
		im.page.Items = append(im.page.Items, im.stock.clear(im.folds, im.done)...)
	}
	page := im.page
	im.page, im.done, im.folds = nil, nil, nil
	return im.emit(page)
}

// clear returns the marks that run into no label and lie where the printer reaches.
func (s *Stock) clear(marks []scene.Item, laid []scene.Rect) (out []scene.Item) {
	reach := scene.Rect{Left: s.Edge, Top: s.Edge, Right: s.Paper.W - s.Edge, Bottom: s.Paper.H - s.Edge}
	for _, m := range marks {
		b := m.(*scene.Path).Bounds()
		in := b.Left >= reach.Left && b.Top >= reach.Top && b.Right <= reach.Right && b.Bottom <= reach.Bottom
		for _, r := range laid {
			in = in && !b.Overlaps(scene.Rect{Left: r.Left - s.Bleed, Top: r.Top - s.Bleed, Right: r.Right + s.Bleed, Bottom: r.Bottom + s.Bleed})
		}
		if in {
			out = append(out, m)
		}
	}
	return out
}

// appendMoved appends items moved right by dx and down by dy.
func appendMoved(dst, items []scene.Item, dx, dy scene.Um) []scene.Item {
	texts := make([]scene.Text, 0, len(items))
	for _, item := range items {
		switch item := item.(type) {
		case *scene.Text:
			texts = append(texts, *item)
			t := &texts[len(texts)-1]
			t.X, t.Y = t.X+dx, t.Y+dy
			dst = append(dst, t)
		case *scene.Path:
			p := *item
			p.Segments = slices.Clone(p.Segments)
			for i := range p.Segments {
				for k := range p.Segments[i].P {
					p.Segments[i].P[k].X += dx
					p.Segments[i].P[k].Y += dy
				}
			}
			dst = append(dst, &p)
		case *scene.Image:
			m := *item
			m.Box.Left, m.Box.Right, m.Box.Top, m.Box.Bottom = m.Box.Left+dx, m.Box.Right+dx, m.Box.Top+dy, m.Box.Bottom+dy
			dst = append(dst, &m)
		}
	}
	return dst
}

// Sheet returns one sheet with labels in the cells that are named.
func (s *Stock) Sheet(title, lang string, labels map[int]*scene.Scene) *scene.Scene {
	im := &Imposer{Title: title, Lang: lang, stock: s, page: &scene.Scene{W: s.Paper.W, H: s.Paper.H, Title: title, Lang: lang}}
	for n := 1; n <= s.Cells(); n++ {
		if l := labels[n]; l != nil {
			if turned, err := s.placed(l); err == nil {
				l = turned
			}
			im.lay(l, n)
		}
	}
	return im.page
}

// Mirrored returns the stock as it lies when the sheet is turned over like the leaf of a book, and the cell of it
// that lies behind each cell of s.
func (s *Stock) Mirrored() (back *Stock, behind func(n int) int) {
	b := *s
	b.Left = s.Paper.W - s.Cell(s.Columns).Right
	return &b, func(n int) int {
		row, column := (n-1)/s.Columns, (n-1)%s.Columns
		return row*s.Columns + s.Columns - column
	}
}
