package layout

import (
	"fmt"
	"slices"

	"panelwright/label"
	"panelwright/label/scene"
)

// proofScale is how many times its size a label is drawn on its proof page.
const proofScale = 3

// red is the ink of what is not part of the label on a proof page.
var red = scene.Ink{M: 90, Y: 85, K: 10}

// Proof draws what an inspector would measure: each label at three times its size, the measured letter of each
// statement marked, and beside it the height it has, the height the law asks, the rule, how far the words stay
// from the edge, and pass or fail. Every figure is measured anew on the scene: on the outlines of the letters
// where they lie.
func Proof(c *label.PackCopy, scenes []scene.Scene) ([]scene.Scene, error) {
	var out []scene.Scene
	for i := range scenes {
		pages, err := proofPages(c, &scenes[i])
		if err != nil {
			return nil, err
		}
		out = append(out, pages...)
	}
	return out, nil
}

// proofPages returns the proof of one scene. The table is to end on the page it begins on: the page is as long as it
// takes, up to rows of the height at which one is hard to handle.
func proofPages(c *label.PackCopy, s *scene.Scene) (pages []scene.Scene, err error) {
	checks := measureScene(c, s)
	for row := leastRow; row <= mostRow; row += leastRow / 5 {
		if pages, err = proofOn(c, s, checks, row); err != nil || len(pages) == 1 {
			return pages, err
		}
	}
	return pages, nil
}

// A row of the table takes 10 mm where its rule is broken into three lines, and three times that where several
// markets have long ones.
const leastRow, mostRow = 10 * scene.Mm, 30 * scene.Mm

// widestTable is as wide as a table may be for its rows to be read across, however long the label is.
const widestTable = 270 * scene.Mm

// proofOn returns the proof of one scene on a page long enough for a table with rows of that height.
func proofOn(c *label.PackCopy, s *scene.Scene, checks []measured, row scene.Um) ([]scene.Scene, error) {
	const side, top = 12 * scene.Mm, 26 * scene.Mm
	table := scene.Um(len(checks)+3) * row
	paper := Paper{W: max(A4.W, s.W*proofScale+2*side), H: max(A4.H, s.H*proofScale+top+table),
		Left: side, Right: side, Top: 12 * scene.Mm, Bottom: 16 * scene.Mm}
	p := NewPages(paper, "Proof of "+s.Title, "en")
	p.Footer = fmt.Sprintf("%s, %s, label of %s", s.Title, marketCodes(c), dimensions(label.Shape{W: int64(s.W), H: int64(s.H)}))
	p.Text(Head, fmt.Sprintf("%s: the label at %d %%", s.Title, proofScale*100))
	p.Text(Quiet, "Heights are measured on the outlines of the letters; a ruler on this page finds three times as much.")
	p.Space(3 * scene.Mm)
	x, y := (paper.W-s.W*proofScale)/2, p.Y()
	die := s.Die
	die.Stroke, die.Width = &Grey, 30
	enlarged := append([]scene.Item{&die}, s.Items...)
	for _, f := range s.Folds {
		enlarged = append(enlarged, dashed(f.A, f.B)...)
	}
	for _, item := range enlarged {
		p.Item(larger(item, x, y))
	}
	for _, item := range newCallouts(s, x, y).draw(checks) {
		p.Item(item)
	}
	p.Space(s.H*proofScale + 6*scene.Mm)
	p.Table(checkTable(min(p.Width(), widestTable), checks))
	return p.Scenes()
}

func marketCodes(c *label.PackCopy) string {
	out := ""
	for i, m := range c.Markets {
		if i > 0 {
			out += "+"
		}
		out += string(m)
	}
	return out
}

// larger returns an item at proofScale times its size, the corner of its label at (x, y).
func larger(item scene.Item, x, y scene.Um) scene.Item {
	at := func(p scene.Point) scene.Point {
		return scene.Point{X: x + p.X*proofScale, Y: y + p.Y*proofScale}
	}
	switch item := item.(type) {
	case *scene.Text:
		t := *item
		p := at(scene.Point{X: t.X, Y: t.Y})
		t.X, t.Y, t.Size, t.Mark = p.X, p.Y, t.Size*proofScale, nil
		return &t
	case *scene.Path:
		q := *item
		q.Width *= proofScale
		q.Segments = slices.Clone(q.Segments)
		for i := range q.Segments {
			for j := range q.Segments[i].P {
				q.Segments[i].P[j] = at(q.Segments[i].P[j])
			}
		}
		return &q
	case *scene.Image:
		m := *item
		a, b := at(scene.Point{X: m.Box.Left, Y: m.Box.Top}), at(scene.Point{X: m.Box.Right, Y: m.Box.Bottom})
		m.Box = scene.Rect{Left: a.X, Top: a.Y, Right: b.X, Bottom: b.Y}
		return &m
	}
	return item
}

// checkTable sets the checks as a table.
func checkTable(width scene.Um, checks []measured) Table {
	t := Table{}
	for _, col := range []struct {
		head  string
		share scene.Um
	}{{"", 4}, {"statement", 15}, {"measured on", 13}, {"is", 9}, {"must be", 14}, {"to the edge", 11}, {"", 6}, {"rule", 28}} {
		t.Columns = append(t.Columns, Column{Head: col.head, Width: width * col.share / 100})
	}
	for i, m := range checks {
		must := "at least " + m.must.String()
		if m.must == 0 {
			must = "no rule"
		}
		if m.below {
			must = m.must.String() + " or lower"
		}
		verdict := "pass"
		if !m.passes() {
			verdict = "FAIL"
		}
		rule := m.rule
		if m.source != "" {
			rule += " (" + m.source + ")"
		}
		t.Rows = append(t.Rows, Row{Cells: []string{fmt.Sprint(i + 1), m.what, m.on, m.is.String(), must, m.edge.String(), verdict, rule}})
	}
	return t
}
