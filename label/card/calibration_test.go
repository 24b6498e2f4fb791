package card

import (
	"testing"

	"panelwright/label/scene"
	"panelwright/label/stock"
)

// Every cell that the words of the page leave free anywhere has its number there, clear of the words; one all under
// them has none.
func TestCellNumbers(t *testing.T) {
	words := scene.Rect{Left: 30_000, Top: 40_000, Right: 90_000, Bottom: 80_000}
	for _, tt := range []struct {
		name string
		cell scene.Rect
		ok   bool
	}{
		{"away from the words", scene.Rect{Left: 30_000, Top: 0, Right: 60_000, Bottom: 30_000}, true},
		{"its top under them", scene.Rect{Left: 30_000, Top: 60_000, Right: 90_000, Bottom: 100_000}, true},
		{"its middle under them", scene.Rect{Left: 30_000, Top: 20_000, Right: 90_000, Bottom: 100_000}, true},
		{"free at the left alone", scene.Rect{Left: 12_000, Top: 45_000, Right: 80_000, Bottom: 75_000}, true},
		{"free at the right alone", scene.Rect{Left: 35_000, Top: 45_000, Right: 105_000, Bottom: 75_000}, true},
		{"all under them", scene.Rect{Left: 35_000, Top: 45_000, Right: 85_000, Bottom: 75_000}, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			box, ok := numberBox(tt.cell, words, 210*scene.Mm)
			if ok != tt.ok {
				t.Fatalf("has a number: %v", ok)
			}
			if ok && (box.Left < tt.cell.Left || box.Right > tt.cell.Right || box.Top < tt.cell.Top || box.Bottom > tt.cell.Bottom) {
				t.Errorf("the number stands at %v, outside the cell", box)
			}
		})
	}
	s := &stock.Stock{Name: "rounds", Paper: stock.A4, Columns: 3, Rows: 4, Label: stock.Size{W: 64_000, H: 64_000}, Round: true, Left: 6000, Top: 16_000,
		Across: 67_000, Down: 67_000, ScaleX: stock.Whole, ScaleY: stock.Whole, Edge: 4000}
	page, err := Calibration(s)
	if err != nil {
		t.Fatal(err)
	}
	texts, numbers := []*scene.Text(nil), []*scene.Text(nil)
	for _, item := range page.Items {
		if text, ok := item.(*scene.Text); ok {
			texts = append(texts, text)
		}
	}
	numbers = texts[len(texts)-s.Cells():]
	for n, number := range numbers {
		c, b := s.Cell(n+1), number.Bounds()
		if b.Left < c.Left || b.Right > c.Right || b.Top < c.Top || b.Bottom > c.Bottom {
			t.Errorf("%q at %v is not in cell %d", number, b, n+1)
		}
		for _, other := range texts[:len(texts)-s.Cells()] {
			if b.Overlaps(other.Bounds()) {
				t.Errorf("the number of cell %d lies on %q", n+1, other)
			}
		}
	}
}
