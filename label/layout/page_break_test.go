package layout

import (
	"strings"
	"testing"

	"panelwright/label/scene"
)

// A short paragraph is not parted, and of a long one no line stands alone on a page.
func TestNoLineAlone(t *testing.T) {
	for _, c := range []struct {
		name  string
		lines int // of the paragraph
		room  int // lines left on the page
		first int // lines of it on the first page
	}{
		{"all of it fits", 3, 3, 3},
		{"short, one line too many", 3, 2, 0},
		{"one line at the foot", 5, 1, 0},
		{"one line at the head", 5, 4, 3},
		{"two and three", 5, 2, 2},
	} {
		q := NewPages(A4, "A", "en")
		q.Text(Body, "start")
		q.Space(q.Paper.H - q.Paper.Bottom - q.Y() - scene.Um(c.room)*Body.Lead)
		word := strings.Repeat("m", 12)
		q.Block(Body, 0, 40*scene.Mm, strings.TrimSuffix(strings.Repeat(word+" ", c.lines), " "))
		scenes, err := q.Scenes()
		if err != nil {
			t.Fatal(err)
		}
		got := 0
		for _, s := range strs(scenes[0]) {
			if s == word {
				got++
			}
		}
		if got != c.first {
			t.Errorf("%s: %d lines on the first page, want %d", c.name, got, c.first)
		}
	}
}

// Of a table no row stands alone on a page: the last but one goes over with the last.
func TestNoRowAlone(t *testing.T) {
	for rows := 40; rows < 60; rows++ {
		p := NewPages(A4, "A", "en")
		table := Table{Columns: []Column{{Head: "what", Width: p.Width()}}}
		for range rows {
			table.Rows = append(table.Rows, Row{Cells: []string{"row"}})
		}
		p.Table(table)
		scenes, err := p.Scenes()
		if err != nil {
			t.Fatal(err)
		}
		sum := 0
		for i, s := range scenes {
			n := 0
			for _, text := range strs(s) {
				if text == "row" {
					n++
				}
			}
			if sum += n; n < 2 {
				t.Errorf("%d rows: %d on page %d", rows, n, i+1)
			}
		}
		if sum != rows {
			t.Errorf("%d rows, %d printed", rows, sum)
		}
	}
}

// A per cent sign stays with its figure.
func TestPercentSignStartsNoLine(t *testing.T) {
	p := NewPages(A4, "A", "en")
	for w := 20 * scene.Mm; w < 60*scene.Mm; w += scene.Mm {
		p.Block(Body, 0, w, "Water is 4.98 to 8.03 %, Glycerin is 5.24 to 6.24 %.")
	}
	scenes, err := p.Scenes()
	if err != nil {
		t.Fatal(err)
	}
	lines := 0
	for _, s := range scenes {
		for _, l := range strs(s) {
			lines++
			if strings.HasPrefix(l, "%") {
				t.Errorf("a line begins %q", l)
			}
		}
	}
	if lines < 80 {
		t.Errorf("only %d lines", lines)
	}
}
