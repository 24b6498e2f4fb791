package paper

import (
	"slices"
	"strings"

	"panelwright/label/layout"
	"panelwright/label/scene"
)

// Room is empty space of so many millimetres, to be written in.
type Room int

func (Room) text(b *strings.Builder) { b.WriteString("\n\n") }

func (r Room) set(p *layout.Pages) {
	if p.Left() < scene.Um(r)*scene.Mm {
		p.Break()
		return
	}
	p.Space(scene.Um(r) * scene.Mm)
}

// Bench is a table to work from: large letters, squares to tick and lines to
// write on. Its columns are named by their numbers.
type Bench struct {
	Heads  []string
	Wide   []int // relative widths
	Right  []bool
	Tick   []int
	Write  []int
	Strong []int // bold
	Loud   []int // bold, and the largest
	Rows   [][]string
}

// The letters of a bench table: read standing, with wet hands.
var (
	benchText   = layout.Style{Face: layout.Body.Face, Size: 3500, Lead: 4600, Ink: scene.Black}
	benchStrong = layout.Style{Face: layout.Strong.Face, Size: 3900, Lead: 4900, Ink: scene.Black}
	benchLoud   = layout.Style{Face: layout.Strong.Face, Size: 5200, Lead: 5800, Ink: scene.Black}
)

func (t Bench) set(p *layout.Pages) {
	sum := 0
	for _, w := range t.Wide {
		sum += w
	}
	out := layout.Table{Style: benchText, Roomy: len(t.Write) > 0}
	for i, h := range t.Heads {
		c := layout.Column{Head: h, Width: p.Width() * scene.Um(t.Wide[i]) / scene.Um(sum), Tick: slices.Contains(t.Tick, i), Write: slices.Contains(t.Write, i)}
		if t.Right[i] {
			c.Align = layout.AlignRight
		}
		switch {
		case slices.Contains(t.Loud, i):
			c.Style = benchLoud
		case slices.Contains(t.Strong, i):
			c.Style = benchStrong
		}
		out.Columns = append(out.Columns, c)
	}
	for _, r := range t.Rows {
		out.Rows = append(out.Rows, layout.Row{Cells: r})
	}
	p.Table(out)
	p.Space(2 * scene.Mm)
}

func (t Bench) text(b *strings.Builder) {
	plain := Table{Heads: t.Heads, Right: t.Right}
	for _, r := range t.Rows {
		row := make([]string, len(t.Heads))
		copy(row, r)
		for i := range row {
			if slices.Contains(t.Tick, i) {
				row[i] = "[ ]"
			}
			if slices.Contains(t.Write, i) {
				row[i] = strings.TrimSpace(row[i] + " ........")
			}
		}
		plain.Rows = append(plain.Rows, row)
	}
	plain.text(b)
}
