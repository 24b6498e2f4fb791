package stock

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"panelwright/label/scene"
)

// dummy is a label with a line round its edge, so that its place on a sheet can be found again.
func dummy(w, h scene.Um) *scene.Scene {
	return &scene.Scene{W: w, H: h, Items: []scene.Item{
		&scene.Path{Segments: scene.Rounded(scene.Rect{Right: w, Bottom: h}, 0), Fill: &scene.Black},
	}}
}

func keep(sheets *[]*scene.Scene) func(*scene.Scene) error {
	return func(s *scene.Scene) error { *sheets = append(*sheets, s); return nil }
}

func words(runs []Run) string {
	var out []string
	for _, r := range runs {
		out = append(out, fmt.Sprintf("%d: %v", r.Sheet, r.Cells))
	}
	return strings.Join(out, "; ")
}

func TestImpose(t *testing.T) {
	for _, tt := range []struct {
		name   string
		used   Cells
		from   int
		edge   scene.Um
		counts []int
		runs   []string
		left   string // used cells to remember
		sheets int
	}{
		{"one", nil, 0, 0, []int{1}, []string{"1: 1"}, "1", 1},
		{"mixed", nil, 0, 0, []int{5, 3}, []string{"1: 1-5", "1: 6-8"}, "1-8", 1},
		{"gaps are filled", Cells{1, 2, 5}, 0, 0, []int{4}, []string{"1: 3-4, 6-7"}, "1-7", 1},
		{"from a cell", Cells{1}, 6, 0, []int{2}, []string{"1: 6-7"}, "1, 6-7", 1},
		{"over the end", Cells{1, 2, 3}, 0, 0, []int{20}, []string{"1: 4-21; 2: 1-2"}, "1-2", 2},
		{"just full", nil, 0, 0, []int{21}, []string{"1: 1-21"}, "none", 1},
		{"used up before", allCells(21), 0, 0, []int{2}, []string{"1: 1-2"}, "1-2", 1},
		{"out of reach", nil, 0, 8000, []int{3}, []string{"1: 2, 5, 8"}, "2, 5, 8", 1},
		{"nothing", Cells{4}, 0, 0, nil, nil, "4", 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := three()
			s.Edge = tt.edge
			var sheets []*scene.Scene
			im, err := s.Impose(tt.used, tt.from, keep(&sheets))
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, n := range tt.counts {
				runs, err := im.Add(dummy(63500, 38100), n)
				if err != nil {
					t.Fatal(err)
				}
				got = append(got, words(runs))
			}
			left, err := im.Close()
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.runs, got); diff != "" {
				t.Error(diff)
			}
			if left.String() != tt.left || len(sheets) != tt.sheets {
				t.Errorf("remembers %v on %d sheets", left, len(sheets))
			}
		})
	}
}

func allCells(n int) (c Cells) {
	for i := range n {
		c = append(c, i+1)
	}
	return c
}

func TestImposeRefuses(t *testing.T) {
	s := three()
	s.Edge = 8000
	for _, tt := range []struct {
		used Cells
		from int
		want string
	}{
		{nil, 22, "there is no cell 22; the sheet has the cells 1 to 21"},
		{nil, -1, "there is no cell -1"},
		{Cells{5}, 5, "cell 5 is used already (used: 5); the first free one is 2"},
		{nil, 1, "cell 1 lies 0.75 mm inside the 8 mm at the left edge"},
	} {
		if _, err := s.Impose(tt.used, tt.from, nil); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("from %d: %v", tt.from, err)
		}
	}
	im, err := s.Impose(nil, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := im.Add(dummy(90000, 20000), 1); err == nil || im.Sheets() != 1 || len(im.Free()) != 7 {
		t.Errorf("a label too wide: %v", err)
	}
}

// anyStock draws a stock that adds up.
func anyStock(t *rapid.T) *Stock {
	um := func(name string, lo, hi scene.Um) scene.Um {
		return scene.Um(rapid.Int64Range(int64(lo), int64(hi)).Draw(t, name))
	}
	s := &Stock{Name: "any", Columns: rapid.IntRange(1, 8).Draw(t, "columns"), Rows: rapid.IntRange(1, 12).Draw(t, "rows"),
		Label: Size{um("w", 5000, 90000), um("h", 5000, 90000)}, ScaleX: Whole + int64(um("scale x", -9000, 9000)), ScaleY: Whole + int64(um("scale y", -9000, 9000)),
		OffsetX: um("offset x", -2000, 2000), OffsetY: um("offset y", -2000, 2000), Edge: um("edge", 0, 6000), CropMarks: rapid.Bool().Draw(t, "marks")}
	s.Bleed = um("bleed", 0, 3000)
	s.Across, s.Down = s.Label.W+2*s.Bleed+um("gap x", 0, 5000), s.Label.H+2*s.Bleed+um("gap y", 0, 5000)
	s.Left, s.Top = um("left", 0, 15000), um("top", 0, 15000)
	s.Paper = Size{s.Left + scene.Um(s.Columns)*s.Across + um("right", 0, 9000), s.Top + scene.Um(s.Rows)*s.Down + um("bottom", 0, 9000)}
	if s.Check() != nil {
		t.Skip("the printer reaches nothing")
	}
	return s
}

// Whatever the sheet and the print list: every label is laid once, no two overlap, none lies where the printer
// cannot print, no used cell is touched, and what is remembered is what was used.
func TestImposition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyStock(t)
		var used Cells
		for n := range s.Cells() {
			if rapid.Bool().Draw(t, "used") {
				used = append(used, n+1)
			}
		}
		counts := rapid.SliceOfN(rapid.IntRange(0, 30), 1, 5).Draw(t, "counts")
		var sheets []*scene.Scene
		im, err := s.Impose(used, 0, keep(&sheets))
		if err != nil {
			t.Fatal(err)
		}
		begun := im.used // none where the sheet was used up
		filled := map[int]Cells{}
		last := 0
		for _, n := range counts {
			runs, err := im.Add(dummy(s.Label.W, s.Label.H), n)
			if err != nil {
				t.Fatal(err)
			}
			sum := 0
			for _, r := range runs {
				sum += len(r.Cells)
				for _, c := range r.Cells {
					if filled[r.Sheet].Has(c) {
						t.Fatalf("cell %d of sheet %d is filled twice", c, r.Sheet)
					}
					if by, _ := s.Unreachable(c); by > 0 {
						t.Fatalf("cell %d is out of reach", c)
					}
					if r.Sheet == 1 && begun.Has(c) {
						t.Fatalf("cell %d was used", c)
					}
				}
				filled[r.Sheet] = filled[r.Sheet].With(r.Cells)
				last = max(last, r.Sheet)
			}
			if sum != n {
				t.Fatalf("%d labels laid, want %d", sum, n)
			}
		}
		left, err := im.Close()
		if err != nil {
			t.Fatal(err)
		}
		want := filled[last]
		if last <= 1 {
			want = want.With(begun)
		}
		if len(im.reach.Without(want)) == 0 {
			want = nil
		}
		if left.String() != want.String() {
			t.Fatalf("remembers %v, used are %v", left, want)
		}
		if len(sheets) != last {
			t.Fatalf("%d sheets, the last is %d", len(sheets), last)
		}
		for i, sheet := range sheets {
			checkSheet(t, s, sheet, filled[i+1])
		}
	})
}

// checkSheet looks at what is drawn: labels where the cells are, inside what can be printed, marks clear of them.
func checkSheet(t *rapid.T, s *Stock, sheet *scene.Scene, filled Cells) {
	var labels, marks []scene.Rect
	for _, item := range sheet.Items {
		p := item.(*scene.Path)
		if p.Fill != nil {
			labels = append(labels, p.Bounds())
		} else {
			marks = append(marks, p.Bounds())
		}
	}
	if len(labels) != len(filled) {
		t.Fatalf("%d labels drawn in %d cells", len(labels), len(filled))
	}
	for i, r := range labels {
		if !slices.ContainsFunc(filled, func(n int) bool { return s.Cell(n) == r }) {
			t.Fatalf("a label at %v is in none of the cells", r)
		}
		c := s.corrected(r)
		if c.Left < s.Edge || c.Top < s.Edge || c.Right > s.Paper.W-s.Edge || c.Bottom > s.Paper.H-s.Edge {
			t.Fatalf("a label at %v cannot be printed", c)
		}
		for _, q := range labels[:i] {
			if r.Overlaps(q) {
				t.Fatalf("%v and %v overlap", r, q)
			}
		}
		for _, m := range marks {
			if m.Overlaps(r) {
				t.Fatalf("a mark at %v runs into the label at %v", m, r)
			}
		}
	}
}

// Cells written and read again are the same.
func TestCellsThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := three()
		c := Cells(rapid.SliceOfDistinct(rapid.IntRange(1, 21), rapid.ID).Draw(t, "cells"))
		slices.Sort(c)
		got, err := ReadUsed(s, WriteUsed(s, c))
		if err != nil || got.String() != c.String() {
			t.Fatalf("%v became %v, %v", c, got, err)
		}
	})
}

func BenchmarkImpose1000(b *testing.B) {
	s, l := three(), dummy(63500, 38100)
	for b.Loop() {
		n := 0
		im, err := s.Impose(nil, 0, func(*scene.Scene) error { n++; return nil })
		if err != nil {
			b.Fatal(err)
		}
		for range 1000 {
			if _, err := im.Add(l, 1); err != nil {
				b.Fatal(err)
			}
		}
		if _, err := im.Close(); err != nil || n != 48 {
			b.Fatal(n, err)
		}
	}
}
