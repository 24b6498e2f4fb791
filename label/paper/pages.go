package paper

import (
	"slices"

	"panelwright/label/layout"
	"panelwright/label/scene"
)

// Pages sets the paper on sheets of the given size.
func (p *Paper) Pages(size layout.Paper) ([]scene.Scene, error) {
	pages := layout.NewPages(size, p.Title, p.Lang)
	pages.Footer = p.Footer
	pages.Text(layout.Title, p.Title)
	pages.Space(2 * scene.Mm)
	for _, b := range p.Blocks {
		b.(setter).set(pages)
	}
	return pages.Scenes()
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
