package card

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"panelwright/formula/outside"
	"panelwright/label/font"
	"panelwright/label/render/pdf"
	"panelwright/label/scene"
	"panelwright/label/stock"
)

var (
	visiting = stock.Size{W: 85000, H: 55000}
	small    = stock.Size{W: 38100, H: 21200}
)

// invented is what a card says of an invented product.
func invented() *Goods {
	return &Goods{Lang: "en", Name: "Hay Meadow", Identity: "Bath fizz with a butter core", Net: "160 g", Price: "6.50 EUR",
		Barcode: "9520000000004", Link: "https://fernhollow.example/hay",
		Notes: []Note{{"Ingredients:", "Sodium Bicarbonate, Citric Acid, Parfum, Linalool"}, {"Fragrance allergens:", "Linalool"}}}
}

// words returns the texts of a scene in their order, and checks that each lies in the scene, can be read, and that
// none overlaps another.
func words(t *testing.T, s *scene.Scene, edge scene.Um) string {
	t.Helper()
	var out []string
	var boxes []scene.Rect
	for _, item := range s.Items {
		w, ok := item.(*scene.Text)
		if !ok {
			continue
		}
		b := w.Bounds()
		if b.Left < edge-200 || b.Top < edge-200 || b.Right > s.W-edge+200 || b.Bottom > s.H-edge+400 {
			t.Errorf("%q lies at %v", w, b)
		}
		if w.Face.HeightAt(int64(w.Size), font.LowerO) < least && strings.Trim(w.String(), "0123456789") != "" {
			t.Errorf("%q is too small to read", w)
		}
		for i, o := range boxes {
			if b.Overlaps(o) {
				t.Errorf("%q overlaps %q", w, out[i])
			}
		}
		boxes = append(boxes, b)
		out = append(out, w.String())
	}
	return strings.Join(out, "|")
}

func TestFront(t *testing.T) {
	for _, tt := range []struct {
		name   string
		change func(*Goods)
		want   string
		lines  int // drawn, besides codes: the line for the price
	}{
		{"whole", func(*Goods) {}, "Hay Meadow|Bath fizz with a butter core|160 g|6.50 EUR|9|520000|000004", 0},
		{"no price", func(g *Goods) { g.Price = "" }, "Hay Meadow|Bath fizz with a butter core|160 g|9|520000|000004", 1},
		{"no codes", func(g *Goods) { g.Barcode, g.Link = "", "" }, "Hay Meadow|Bath fizz with a butter core|160 g|6.50 EUR", 0},
		{"long name", func(g *Goods) { g.Name, g.Link = "Long Evening by the Lake with Pine", "" },
			"Long Evening by the Lake|with Pine|Bath fizz with a butter core|160 g|6.50 EUR|9|520000|000004", 0},
	} {
		g := invented()
		tt.change(g)
		s, err := Front(g, visiting)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if got := words(t, s, margin); got != tt.want {
			t.Errorf("%s: %q", tt.name, got)
		}
		lines := 0
		for _, item := range s.Items {
			if p, ok := item.(*scene.Path); ok && p.Stroke != nil {
				lines++
			}
		}
		if lines != tt.lines {
			t.Errorf("%s: %d lines", tt.name, lines)
		}
	}
}

func TestTooSmall(t *testing.T) {
	var room *NoRoom
	if _, err := Front(invented(), small); !errors.As(err, &room) || room.What != "the codes" || room.Wide <= 0 {
		t.Errorf("codes on a small card: %v", err)
	}
	g := invented()
	g.Notes[0].Text = strings.Repeat("Theobroma Cacao Seed Butter, ", 60)
	if _, err := Back(g, visiting); !errors.As(err, &room) || room.High <= 0 {
		t.Errorf("a long list: %v", err)
	}
	g.Notes[0].Text = strings.Repeat("x", 200)
	if _, err := Back(g, visiting); !errors.As(err, &room) || room.Wide <= 0 {
		t.Errorf("a long word: %v", err)
	}
	if _, err := Back(&Goods{Name: "名"}, visiting); err == nil {
		t.Error("a missing letter is no error")
	}
}

func TestSticker(t *testing.T) {
	l := &Lot{Lang: "en", Name: "Hay Meadow", Lead: "Lot", Code: "0614", Number: "1 of 60",
		Dates: []Date{{Lead: "best used before the end of / mindestens haltbar bis Ende", Text: "04/2028"}}}
	for _, round := range []bool{false, true} {
		size := small
		if round {
			size = stock.Size{W: 40000, H: 40000}
		}
		s, err := Sticker(l, size, round)
		if err != nil {
			t.Fatal(err)
		}
		got := words(t, s, stickerMargin)
		for _, want := range []string{"Hay Meadow", "Lot 0614", "04/2028", "1 of 60"} {
			if !strings.Contains(got, want) {
				t.Errorf("no %q in %q", want, got)
			}
		}
		if !round {
			continue
		}
		r := int64(size.W / 2)
		for _, item := range s.Items {
			b := item.(*scene.Text).Bounds()
			for _, x := range []scene.Um{b.Left, b.Right} {
				for _, y := range []scene.Um{b.Top, b.Bottom} {
					if dx, dy := int64(x)-r, int64(y)-r; dx*dx+dy*dy > (r-1000)*(r-1000) {
						t.Errorf("%q comes near the edge of the round sticker", item)
					}
				}
			}
		}
	}
	if s, err := Sticker(&Lot{Lead: "Lot", Code: "7"}, stock.Size{W: 20000, H: 10000}, false); err != nil || words(t, s, stickerMargin) != "Lot 7" {
		t.Errorf("a small sticker: %v", err)
	}
}

// A ruler on the page finds the bars and the cross where the words say they are, read off the printed page by an
// independent reader.
func TestCalibration(t *testing.T) {
	s := &stock.Stock{Name: "my sheets", Paper: stock.A4, Columns: 3, Rows: 7, Label: stock.Size{W: 63500, H: 38100}, Left: 7250, Top: 15150,
		Across: 66000, Down: 38100, ScaleX: 1_002_000, ScaleY: stock.Whole, OffsetX: 500, OffsetY: -250, Edge: 4000}
	page, err := Calibration(s)
	if err != nil {
		t.Fatal(err)
	}
	across, upright, cross := false, false, 0
	for _, item := range page.Items {
		p, ok := item.(*scene.Path)
		if !ok || len(p.Segments) != 2 {
			continue
		}
		a, b := p.Segments[0].P[0], p.Segments[1].P[0]
		across = across || a.Y == b.Y && b.X-a.X == 100*scene.Mm
		upright = upright || a.X == b.X && b.Y-a.Y == 100*scene.Mm
		if a.Y == b.Y && a.Y == 20*scene.Mm && (a.X+b.X)/2 == 20*scene.Mm || a.X == b.X && a.X == 20*scene.Mm && (a.Y+b.Y)/2 == 20*scene.Mm {
			cross++
		}
	}
	if !across || !upright || cross != 2 {
		t.Errorf("bars: %v, %v; strokes of the cross: %d", across, upright, cross)
	}
	var b bytes.Buffer
	if err := pdf.Write(&b, []scene.Scene{*page}, pdf.Options{}); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "page.pdf")
	if err := os.WriteFile(name, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(strings.ReplaceAll(outside.Run(t, "pdftotext", "-raw", name, "-"), "\u00a0", " ")), " ")
	for _, want := range []string{"Print at actual size", "this bar is 100 mm", "New scale x = 100.2 % x 100 / what you measured",
		"New offset x = 0.5 mm + 20 mm - what you measured from the left", "new offset y = -0.25 mm + 20 mm", "printer edge: 4 mm, or more"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// On a small label only a bar and the rulers are drawn, inside the label.
func TestSmallCalibration(t *testing.T) {
	s := &stock.Stock{Name: "small", Paper: stock.Size{W: 57000, H: 32000}, Columns: 1, Rows: 1, Label: stock.Size{W: 57000, H: 32000}, ScaleX: stock.Whole, ScaleY: stock.Whole}
	page, err := Calibration(s)
	if err != nil {
		t.Fatal(err)
	}
	if got := words(t, page, 0); got != "this bar is 30 mm" {
		t.Errorf("%q", got)
	}
}

// The egg timer stands for the words before the date, on the line of the date and within the sticker.
func TestStickerTimer(t *testing.T) {
	size := stock.Size{W: 30_000, H: 14_000}
	s, err := Sticker(&Lot{Lead: "Lot", Code: "0614", Dates: []Date{{Lead: "best used before the end of", Text: "04/2028", Timer: true}}}, size, false)
	if err != nil {
		t.Fatal(err)
	}
	var timer, date scene.Rect
	for _, item := range s.Items {
		switch item := item.(type) {
		case *scene.Path:
			b := item.Bounds()
			if timer == (scene.Rect{}) {
				timer = b
			}
			timer = scene.Rect{Left: min(timer.Left, b.Left), Top: min(timer.Top, b.Top), Right: max(timer.Right, b.Right), Bottom: max(timer.Bottom, b.Bottom)}
		case *scene.Text:
			if strings.Contains(item.String(), "best") {
				t.Errorf("words stand beside the timer: %q", item)
			}
			if strings.Contains(item.String(), "04/2028") {
				date = item.Bounds()
			}
		}
	}
	if timer.Bottom-timer.Top < 3000 || timer.Right > date.Left || timer.Top > date.Top || timer.Bottom < date.Bottom {
		t.Errorf("the timer is at %v, the date at %v", timer, date)
	}
	if timer.Left < stickerMargin || timer.Top < stickerMargin || timer.Bottom > size.H-stickerMargin {
		t.Errorf("the timer at %v leaves the sticker", timer)
	}
	for _, item := range s.Items {
		if w, ok := item.(*scene.Text); ok && w.Bounds().Overlaps(timer) {
			t.Errorf("%q runs into the timer", w)
		}
	}
}
