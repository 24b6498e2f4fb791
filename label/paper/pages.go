package paper

import (
	"fmt"
	"slices"

	"panelwright/label/layout"
	"panelwright/label/scene"
)

// Pages sets the paper on sheets of the given size. A paper with contents is
// set twice: the first time tells on which page each section begins.
func (p *Paper) Pages(size layout.Paper) ([]scene.Scene, error) {
	pages, begins := p.lay(size, nil)
	for _, b := range p.Blocks {
		if _, ok := b.(Contents); ok {
			pages, _ = p.lay(size, begins)
			break
		}
	}
	return pages.Scenes()
}

// lay sets the blocks, and returns the page that each heading of level 1 stands on. Begins are those pages, where
// they are known.
func (p *Paper) lay(size layout.Paper, begins []int) (*layout.Pages, []int) {
	pages := layout.NewPages(size, p.Title, p.Lang)
	pages.Footer = p.Footer
	pages.Text(layout.Title, p.Title)
	pages.Space(2 * scene.Mm)
	var found []int
	for _, b := range p.Blocks {
		switch b := b.(type) {
		case Contents:
			p.contents().page(begins).set(pages)
			continue
		case Heading:
			b.set(pages)
			if b.Level == 1 {
				found = append(found, pages.Number())
			}
			continue
		}
		b.(setter).set(pages)
	}
	return pages, found
}

// contents is the table of contents, without its pages.
func (p *Paper) contents() Table {
	t := Table{Heads: []string{"contents", "page"}, Right: []bool{false, true}, Wide: []int{120, 16}}
	for _, b := range p.Blocks {
		if h, ok := b.(Heading); ok && h.Level == 1 {
			t.Rows = append(t.Rows, []string{h.Words, ""})
		}
	}
	return t
}

// page fills in the pages.
func (t Table) page(begins []int) Table {
	for i := range t.Rows {
		if i < len(begins) {
			t.Rows[i][1] = fmt.Sprint(begins[i])
		}
	}
	return t
}

// setter is a block that can be set for print.
type setter interface{ set(p *layout.Pages) }

func (h Heading) set(p *layout.Pages) {
	if h.Level == 1 {
		p.Space(4 * scene.Mm)
		p.Keep(45 * scene.Mm)
		p.Rule()
		p.Space(2 * scene.Mm)
	}
	p.Heading(h.Words)
}

func (k Keep) set(p *layout.Pages) { p.Keep(scene.Um(k) * scene.Mm) }

func (t Para) set(p *layout.Pages) {
	switch {
	case t.Loud:
		p.Text(layout.Strong, t.Words)
	case t.Quiet:
		p.Text(layout.Quiet, t.Words)
	default:
		p.Text(layout.Body, t.Words)
	}
	p.Space(scene.Mm)
}

// lineGap is between the lines that somebody writes on.
const lineGap = 8 * scene.Mm

func (k Blank) set(p *layout.Pages) {
	p.Keep(lineGap * scene.Um(k.Lines+1))
	p.Spans(0, p.Width(), layout.Body,
		layout.Span{Text: k.What + "  ", Face: layout.Strong.Face}, layout.Span{Text: "to be written by " + k.Who, Face: layout.Body.Face})
	for range k.Lines {
		p.Space(lineGap)
		p.Rule()
	}
	p.Space(2 * scene.Mm)
}

func (NewPage) set(p *layout.Pages) { p.Break() }

func (l Large) set(p *layout.Pages) {
	p.Text(layout.Title, l.Words)
	p.Space(3 * scene.Mm)
}

func (t Pair) set(p *layout.Pages) {
	p.Spans(0, p.Width(), layout.Body,
		layout.Span{Text: t.Label + ":  ", Face: layout.Strong.Face}, layout.Span{Text: t.Words, Face: layout.Body.Face})
	p.Space(scene.Mm)
}

func (t Table) set(p *layout.Pages) {
	var sum int
	for _, w := range t.Wide {
		sum += w
	}
	out := layout.Table{}
	for i, h := range t.Heads {
		c := layout.Column{Head: h, Width: p.Width() * scene.Um(t.Wide[i]) / scene.Um(sum)}
		if t.Right[i] {
			c.Align = layout.AlignRight
		}
		out.Columns = append(out.Columns, c)
	}
	for i, r := range t.Rows {
		out.Rows = append(out.Rows, layout.Row{Cells: r, Bold: slices.Contains(t.Bold, i)})
	}
	p.Table(out)
	p.Space(2 * scene.Mm)
}
