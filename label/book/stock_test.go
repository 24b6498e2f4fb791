package book

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/label/stock"
)

func TestSampleStocks(t *testing.T) {
	all := SampleStocks()
	if len(all) < 8 {
		t.Errorf("%d stocks", len(all))
	}
	for _, s := range all {
		if _, out := s.Reach(); len(out) > 0 {
			t.Errorf("%s: %v", s.Name, out)
		}
		// Sheets are as wide at the right as at the left, as they are cut.
		if last := s.Cell(s.Cells()); !s.CropMarks {
			if right, bottom := s.Paper.W-last.Right, s.Paper.H-last.Bottom; max(right-s.Left, s.Left-right, bottom-s.Top, s.Top-bottom) > 3 {
				t.Errorf("%s leaves %v at the left and %v at the right, %v at the top and %v at the bottom", s.Name, s.Left, right, s.Top, bottom)
			}
		}
	}
}

func TestStock(t *testing.T) {
	const head = "stock: mine\n"
	for _, tt := range []struct {
		name, text string
		want       stock.Stock
	}{
		{"gaps", "paper: A4\nlabels: 3 x 7\nsize: 63.5 x 38.1 mm\nmargins: {left: 7.25 mm, top: 15.15 mm}\ngaps: {across: 2.5 mm, down: 0 mm}\n",
			stock.Stock{Paper: stock.A4, Columns: 3, Rows: 7, Label: stock.Size{W: 63500, H: 38100}, Left: 7250, Top: 15150, Across: 66000, Down: 38100}},
		{"pitch", "paper: letter\nlabels: 2 x 2\nsize: 2 x 1 in\nmargins: {left: 1 in, top: 1 in}\npitch: {across: 3 in, down: 2 in}\n",
			stock.Stock{Paper: stock.Letter, Columns: 2, Rows: 2, Label: stock.Size{W: 50800, H: 25400}, Left: 25400, Top: 25400, Across: 76200, Down: 50800}},
		{"four margins", "paper: 100 x 50 mm\nlabels: 2 x 1\nsize: round 30 mm\nmargins: {left: 10 mm, right: 10 mm, top: 10 mm, bottom: 10 mm}\n",
			stock.Stock{Paper: stock.Size{W: 100000, H: 50000}, Columns: 2, Rows: 1, Label: stock.Size{W: 30000, H: 30000}, Round: true, Left: 10000, Top: 10000, Across: 50000, Down: 30000}},
		{"from the right", "paper: A4\nsize: 100 x 50 mm\nmargins: {right: 10 mm, bottom: 7 mm}\n",
			stock.Stock{Paper: stock.A4, Columns: 1, Rows: 1, Label: stock.Size{W: 100000, H: 50000}, Left: 100000, Top: 240000, Across: 100000, Down: 50000}},
		{"label printer", "size: 57 x 32 mm\ncorner: 2 mm\n",
			stock.Stock{Paper: stock.Size{W: 57000, H: 32000}, Columns: 1, Rows: 1, Label: stock.Size{W: 57000, H: 32000}, Corner: 2000, Across: 57000, Down: 32000}},
		{"printer", "paper: A4 landscape\nsize: oval 100 x 50 mm\nmargins: {left: 10 mm, top: 7 mm}\nprinter edge: 4 mm\noffset: {x: 0.5 mm, y: -0.3 mm}\nscale: {x: 100.2 %, y: \"99,8 %\"}\ncrop marks: yes\nbleed: 2 mm\n",
			stock.Stock{Paper: stock.Size{W: 297000, H: 210000}, Columns: 1, Rows: 1, Label: stock.Size{W: 100000, H: 50000}, Round: true, Left: 10000, Top: 7000, Across: 100000, Down: 50000,
				Edge: 4000, OffsetX: 500, OffsetY: -300, ScaleX: 1_002_000, ScaleY: 998_000, CropMarks: true, Bleed: 2000}},
	} {
		b, out := LoadFiles([]File{{"b.yaml", []byte(head + tt.text)}})
		if len(out) > 0 || len(b.Stocks) != 1 {
			t.Errorf("%s: %v", tt.name, lines(out))
			continue
		}
		got := *b.Stocks[0]
		got.Pos = tt.want.Pos
		tt.want.Name = "mine"
		if tt.want.ScaleX == 0 {
			tt.want.ScaleX, tt.want.ScaleY = stock.Whole, stock.Whole
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

func TestStockAmiss(t *testing.T) {
	const sheet = "stock: mine\npaper: A4\nlabels: 3 x 7\nsize: 63.5 x 38.1 mm\n"
	const good = "margins: {left: 7 mm, top: 15 mm}\ngaps: {across: 2.5 mm, down: 0 mm}\n"
	for _, tt := range []struct{ name, text, want string }{
		{"too wide", sheet + "margins: {left: 15 mm, top: 15 mm}\ngaps: {across: 2.5 mm, down: 0 mm}\n", "the last column ends 0.5 mm outside the paper"},
		{"no margin", sheet + "margins: {top: 15 mm}\ngaps: {across: 2.5 mm, down: 0 mm}\n", "does not say where on the paper the labels begin: no margin at the left"},
		{"no gap", sheet + "margins: {left: 7 mm, top: 15 mm}\ngaps: {down: 0 mm}\n", "does not say how far apart its labels are (across)"},
		{"does not add up", sheet + "margins: {left: 7 mm, right: 9 mm, top: 15 mm}\ngaps: {across: 2.5 mm, down: 0 mm}\n", "the measures do not add up: 7 mm + 2 x 66 mm + 63.5 mm + 9 mm = 211.5 mm, and the paper is 210 mm"},
		{"both", sheet + good + "pitch: {across: 66 mm, down: 38.1 mm}\n", "has gaps and a pitch"},
		{"no size", "stock: mine\npaper: A4\n", "how large a label is"},
		{"no paper", "stock: mine\nlabels: 3 x 7\nsize: 63.5 x 38.1 mm\n", "on a sheet of no size"},
		{"labels in words", "stock: mine\npaper: A4\nlabels: many\nsize: 63.5 x 38.1 mm\n", "no number of labels across and down"},
		{"one length", "stock: mine\npaper: A4\nsize: 63.5 mm\n", "no width and height"},
		{"unit missing", sheet + "margins: {left: 7, top: 15 mm}\n", "margins left is written as “7”"},
		{"scale without a sign", sheet + good + "scale: 100.2\n", "the scale is written as “100.2”"},
		{"printer reaches nothing", "stock: mine\nsize: 57 x 32 mm\nprinter edge: 3 mm\n", "the printer reaches no cell"},
		{"key misspelt", sheet + good + "printr edge: 4 mm\n", "did you mean printer edge?"},
		{"twice", "stock: a\nsize: 57 x 32 mm\n---\nstock: A\nsize: 57 x 32 mm\n", "is already a stock"},
		{"overlap", sheet + "margins: {left: 7 mm, top: 15 mm}\npitch: {across: 60 mm, down: 38.1 mm}\n", "the columns overlap by 3.5 mm"},
	} {
		b, out := LoadFiles([]File{{"b.yaml", []byte(tt.text)}})
		if len(out) != 1 || !strings.Contains(out[0].Line(), tt.want) || out[0].Cure == "" || out[0].Where.Line == 0 {
			t.Errorf("%s: %v, want %q", tt.name, lines(out), tt.want)
		}
		if len(b.Stocks) > 0 && tt.name != "twice" {
			t.Errorf("%s: the stock is there all the same", tt.name)
		}
	}
}

func TestCodes(t *testing.T) {
	const head = "workshop: Example Bath Works\nsell in: [us]\n---\n"
	product := func(name, more string) string {
		return "product: " + name + "\ntype: bath salts\nexposure: rinse-off\npiece:\n  - Epsom salt: 100 g\nnet: 100 g\n" + more
	}
	b, out := LoadFiles([]File{{"b.yaml", []byte(head + product("a", "barcode: 9520000000004\nqr: digital link\nprice: 6.50 EUR\n") + "---\nproduct: b\nlike: a\nqr: https://fernhollow.example/b\n")}})
	if len(b.Products) != 2 || out.Count(3) > 0 {
		t.Fatal(lines(out))
	}
	for i, want := range []string{"9520000000004 https://id.gs1.org/01/09520000000004 6.50 EUR", " https://fernhollow.example/b 6.50 EUR"} {
		p := b.Products[i]
		if got := p.Barcode + " " + p.Link + " " + p.Price; got != want {
			t.Errorf("%s: %q, want %q", p.Name, got, want)
		}
	}
	for _, tt := range []struct{ name, text, want string }{
		{"demonstration number", product("a", "barcode: 9520000000004\n"), "is a demonstration number"},
		{"wrong check digit", product("a", "barcode: 9520000000005\n"), "the check digit of “9520000000005” is 5 and should be 4"},
		{"shared", product("a", "barcode: 1234567890128\n") + "---\n" + product("b", "barcode: 1234567890128\n"), "“a” and “b” have the same item number"},
		{"no number", product("a", "qr: digital link\n"), "no item number to make a GS1 Digital Link of"},
		{"no address", product("a", "qr: fernhollow.example\n"), "no web address"},
		{"a label with no number", product("a", "codes: [barcode]\n"), "“a” is to bear a code, but the product has no barcode:"},
		{"a label with no address", product("a", "packs:\n  - {for: [us], label: round 64 mm, codes: qr}\n"), "the product has no qr:"},
		{"a label whose number is wrong", product("a", "codes: [barcode]\nbarcode: 9520000000005\n"), "should be 4"},
		{"another code", product("a", "codes: [dots]\n"), "“dots” is no code of a product"},
		{"price in words", product("a", "price: cheap\n"), "no price"},
		{"no currency", product("a", "price: 6.50\n"), "no price"},
	} {
		_, out := LoadFiles([]File{{"b.yaml", []byte(head + tt.text)}})
		if len(out) != 1 || !strings.Contains(out[0].Line(), tt.want) || out[0].Cure == "" {
			t.Errorf("%s: %v, want %q", tt.name, lines(out), tt.want)
		}
	}
}
