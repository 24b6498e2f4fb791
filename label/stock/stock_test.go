package stock

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/label/scene"
)

// three returns an invented sheet: A4, 3 x 7 labels of 63.5 x 38.1 mm.
func three() *Stock {
	return &Stock{Name: "three by seven", Paper: A4, Columns: 3, Rows: 7, Label: Size{63500, 38100}, Corner: 2000,
		Left: 7250, Top: 15150, Across: 66000, Down: 38100, ScaleX: Whole, ScaleY: Whole}
}

func TestCheck(t *testing.T) {
	for _, tt := range []struct {
		name   string
		change func(*Stock)
		want   []string
	}{
		{"sound", func(*Stock) {}, nil},
		{"too wide", func(s *Stock) { s.Left = 15000 }, []string{"the last column ends 0.5 mm outside the paper: 15 mm + 2 x 66 mm + 63.5 mm = 210.5 mm, and the paper is 210 mm wide"}},
		{"too high", func(s *Stock) { s.Rows = 8 }, []string{"the last row ends 22.95 mm outside the paper"}},
		{"overlapping", func(s *Stock) { s.Across = 60000 }, []string{"the columns overlap by 3.5 mm"}},
		{"begins outside", func(s *Stock) { s.Top = -500 }, []string{"the first row starts 0.5 mm outside the paper"}},
		{"no columns", func(s *Stock) { s.Columns = 0 }, []string{"a sheet of 0 x 7 labels"}},
		{"no label", func(s *Stock) { s.Label.H = 0 }, []string{"a label of 63.5 x 0 mm"}},
		{"no paper", func(s *Stock) { s.Paper.W = 0 }, []string{"the paper is 0 x 297 mm"}},
		{"corner", func(s *Stock) { s.Corner = 20000 }, []string{"corners of 20 mm"}},
		{"bleed", func(s *Stock) { s.Bleed = 2000 }, []string{"the gap is 2.5 mm"}},
		{"offset", func(s *Stock) { s.OffsetX = 11000 }, []string{"an offset of 11 mm, 0 mm"}},
		{"scale", func(s *Stock) { s.ScaleY = 94 * Whole / 100 }, []string{"a scale of 100 %, 94 %"}},
		{"nothing reached", func(s *Stock) { s.Columns, s.Rows, s.Edge = 1, 1, 8000 }, []string{"the first lies 0.75 mm inside the 8 mm at the left edge"}},
	} {
		s := three()
		tt.change(s)
		got := s.Check()
		if len(got) != len(tt.want) {
			t.Errorf("%s: %v", tt.name, got)
			continue
		}
		for i, w := range tt.want {
			if !strings.Contains(got[i].Message, w) || got[i].Cure == "" {
				t.Errorf("%s: %q, want %q", tt.name, got[i], w)
			}
		}
	}
}

func TestCell(t *testing.T) {
	s := three()
	for n, want := range map[int]scene.Rect{
		1:  {Left: 7250, Top: 15150, Right: 70750, Bottom: 53250},
		3:  {Left: 139250, Top: 15150, Right: 202750, Bottom: 53250},
		21: {Left: 139250, Top: 243750, Right: 202750, Bottom: 281850},
	} {
		if diff := cmp.Diff(want, s.Cell(n)); diff != "" {
			t.Errorf("cell %d: %s", n, diff)
		}
	}
}

func TestUnreachable(t *testing.T) {
	s := three()
	s.Edge = 8000
	cells, reasons := s.Reach()
	if cells.String() != "2, 5, 8, 11, 14, 17, 20" || len(reasons) != 14 {
		t.Errorf("reached: %v, %q", cells, reasons)
	}
	if want := "cell 1 lies 0.75 mm inside the 8 mm at the left edge that the printer cannot reach"; reasons[0] != want {
		t.Errorf("%q, want %q", reasons[0], want)
	}
	s.OffsetX = 750 // moves the first column into reach, the last one further out
	if by, side := s.Unreachable(1); by != 0 {
		t.Errorf("cell 1: %v at the %s", by, side)
	}
	if by, side := s.Unreachable(3); by != 1500 || side != "right" {
		t.Errorf("cell 3: %v at the %s", by, side)
	}
	s.OffsetX, s.ScaleY = 0, Whole*101/100
	if by, side := s.Unreachable(20); by != 0 && side != "bottom" {
		t.Errorf("cell 20: %v at the %s", by, side)
	}
	if by, _ := s.Unreachable(1); by != 750 {
		t.Errorf("cell 1: %v", by)
	}
}

func TestFits(t *testing.T) {
	box := func(w, h scene.Um) *scene.Scene { return &scene.Scene{W: w, H: h} }
	disc := func(d scene.Um) *scene.Scene {
		return &scene.Scene{W: d, H: d, Die: scene.Path{Segments: scene.Rounded(scene.Rect{Right: d, Bottom: d}, d/2)}}
	}
	round := &Stock{Columns: 1, Rows: 1, Paper: A4, Label: Size{64000, 64000}, Round: true}
	bled := box(63500, 38100)
	bled.Bleed = 1000
	for _, tt := range []struct {
		name  string
		s     *Stock
		label *scene.Scene
		want  string
	}{
		{"the same", three(), box(63500, 38100), ""},
		{"smaller", three(), box(40000, 20000), ""},
		{"wider", three(), box(64000, 38100), "0.5 mm too wide"},
		{"higher", three(), box(63500, 40000), "1.9 mm too high"},
		{"both", three(), box(90000, 55000), "26.5 mm too wide and 16.9 mm too high"},
		{"bleed", three(), bled, "runs into the next cell"},
		{"round in round", round, disc(64000), ""},
		{"small round in round", round, disc(62000), ""},
		{"square in round", round, box(60000, 60000), "its corners stick out"},
		{"small square in round", round, box(45000, 45000), ""},
		{"round in square", three(), disc(38000), ""},
	} {
		err := tt.s.Fits(tt.label)
		var no *NoFit
		if (err == nil) != (tt.want == "") || err != nil && (!errors.As(err, &no) || !strings.Contains(err.Error(), tt.want)) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
}

func TestParseCells(t *testing.T) {
	for _, tt := range []struct{ in, want, err string }{
		{"1-5,9", "1-5, 9", ""}, {"9, 1 - 5", "1-5, 9", ""}, {"3", "3", ""}, {"none", "none", ""}, {"2,1,2", "1-2", ""}, {"4–6", "4-6", ""},
		{"22", "", "is not on the sheet, which has the cells 1 to 21"}, {"0", "", "is not on the sheet"}, {"5-3", "", "is not on the sheet"},
		{"", "", "names no cells"}, {"a", "", "names no cells"}, {"1,,2", "", "names no cells"}, {"1-99999999999999999999", "", "names no cells"},
	} {
		c, err := ParseCells(tt.in, 21)
		if tt.err == "" && (err != nil || c.String() != tt.want) || tt.err != "" && (err == nil || !strings.Contains(err.Error(), tt.err)) {
			t.Errorf("%q: %v, %v", tt.in, c, err)
		}
	}
}

func TestReadUsed(t *testing.T) {
	s := three()
	text := string(WriteUsed(s, Cells{1, 2, 3, 9}))
	if c, err := ReadUsed(s, []byte(text)); err != nil || c.String() != "1-3, 9" {
		t.Errorf("%v, %v", c, err)
	}
	other := three()
	other.Name = "other"
	larger := three()
	larger.Rows = 8
	for _, tt := range []struct {
		name string
		s    *Stock
		text string
		want string
	}{
		{"another stock", other, text, `it is of the stock "three by seven", not of "other"`},
		{"another count", larger, text, "it counts 21 cells to a sheet, and the stock has 24"},
		{"torn", s, text[:len(text)-len("used: 1-3, 9\n")], "it has no line “used:”"},
		{"nonsense", s, text + "hello\n", `the line "hello" is none of`},
		{"twice", s, text + "used: 4\n", `the line "used: 4" is none of`},
		{"cells that are none", s, strings.Replace(text, "1-3, 9", "1-30", 1), "is not on the sheet"},
	} {
		if _, err := ReadUsed(tt.s, []byte(tt.text)); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
}
