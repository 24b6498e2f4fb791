package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/finding"
	"panelwright/formula/outside"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/market"
	"panelwright/label/stock"
)

func TestPrintList(t *testing.T) {
	for _, tt := range []struct{ name, file, text, want string }{
		{"lines", "a.txt", "# Saturday\nhay fizz x 20\n\n3 pine fizz\n2 x plum fizz, eu  # a note\n", "2: hay fizz 20 | 4: pine fizz 3 | 5: plum fizz [eu] 2"},
		{"a name with an x", "a.txt", "fizz x mas x 4\n", "1: fizz x mas 4"},
		{"a name with a comma", "a.txt", "salt, coarse x 4\n", "1: salt, coarse 4"},
		{"CSV", "a.csv", "product,count,market\nhay fizz,20,us\n\"salt, coarse\",3\n", "2: hay fizz [us] 20 | 3: salt, coarse 3"},
		{"CSV of a spreadsheet", "a.csv", "\ufeffhay fizz;20;gb\r\n", "1: hay fizz [gb] 20"},
		{"YAML list", "a.yaml", "- hay fizz: 20\n- pine fizz, us: 3\n- plum fizz x 2\n", "1: hay fizz 20 | 2: pine fizz [us] 3 | 3: plum fizz 2"},
		{"YAML", "a.yml", "hay fizz: 20\npine fizz: 3\n", "1: hay fizz 20 | 2: pine fizz 3"},
		{"no count", "a.txt", "hay fizz\n", "a.txt:1: “hay fizz” does not say how many"},
		{"too many", "a.txt", "hay fizz x 100000\n", "a.txt:1: “100000” is no number of labels"},
		{"no market", "a.csv", "hay fizz,2,mars\n", "a.csv:1: “mars” is not a market"},
		{"one field", "a.csv", "hay fizz\n", "a.csv:1: the line has 1 fields"},
		{"not CSV", "a.csv", "hay \"fizz,2\n", "a.csv:1: the line is not CSV"},
		{"not YAML", "a.yaml", "a: [\n", "a.yaml:1: yaml:"},
		{"YAML alias", "a.yaml", "- &a hay fizz: 2\n- *a\n", "a.yaml:"},
		{"empty", "a.txt", "\n", "a.txt:1: the print list is empty"},
	} {
		path := filepath.Join(t.TempDir(), tt.file)
		if err := os.WriteFile(path, []byte(tt.text), 0o600); err != nil {
			t.Fatal(err)
		}
		wants, found, err := printList(path)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, w := range wants {
			m := ""
			if w.market != "" {
				m = " [" + string(w.market) + "]"
			}
			got = append(got, fmt.Sprintf("%d: %s%s %d", w.at.Line, w.product, m, w.count))
		}
		s := strings.Join(got, " | ")
		if len(found) > 0 {
			s = found[0].Line()
			if found[0].Cure == "" || found[0].Severity != finding.Error {
				t.Errorf("%s: %+v", tt.name, found[0])
			}
			if strings.HasPrefix(s, tt.want) {
				continue
			}
		}
		if diff := cmp.Diff(tt.want, s); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

// What is remembered of a sheet is written whole or not at all, and never over what another print wrote meanwhile.
func TestRemember(t *testing.T) {
	s := &stock.Stock{Name: "my sheets", Columns: 2, Rows: 3}
	dir := t.TempDir()
	c := &call{args: []string{dir}}
	hand := func() *inHand {
		h, err := c.inHand(s)
		if err != nil {
			t.Fatal(err)
		}
		return h
	}
	if err := hand().remember(stock.Cells{1, 2}); err != nil {
		t.Fatal(err)
	}
	first, second := hand(), hand()
	if first.used.String() != "1-2" {
		t.Fatalf("used: %v", first.used)
	}
	if err := first.remember(stock.Cells{1, 2, 3}); err != nil {
		t.Fatal(err)
	}
	if err := second.remember(stock.Cells{1, 2, 3, 4}); err == nil || !strings.Contains(err.Error(), "another print has taken cells") {
		t.Errorf("the second print: %v", err)
	}
	if got := hand().used.String(); got != "1-3" {
		t.Errorf("remembered: %s", got)
	}
	// A crash before the rename leaves the temporary file behind: the old state stands, and the book is not touched.
	part := filepath.Join(dir, "sheets", ".part-1")
	if err := os.WriteFile(part, []byte("sheet of: my"), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := hand().used.String(); got != "1-3" {
		t.Errorf("after a crash: %s", got)
	}
	// Where the file cannot be put in its place, nothing is left of the new one.
	path := filepath.Join(dir, "taken")
	if err := os.MkdirAll(filepath.Join(path, "in the way"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := writeWhole(path, []byte("x")); err == nil {
		t.Error("a folder was written over")
	}
	left, err := filepath.Glob(filepath.Join(dir, ".part-*"))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %q, %v", left, err)
	}
}

// The text of a sheet reads back label by label, and so many times as was asked for; a card's barcode is read by a
// decoder from the printed page.
func TestPrintedPages(t *testing.T) {
	dir := t.TempDir()
	book, err := os.ReadFile("testdata/script/cards.txtar")
	if err != nil {
		t.Fatal(err)
	}
	_, text, _ := strings.Cut(string(book), "-- book.yaml --\n")
	if err := os.WriteFile(filepath.Join(dir, "book.yaml"), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	do := func(args ...string) {
		t.Helper()
		var out, errs bytes.Buffer
		if code := run(args, &out, &errs, scriptDay); code == exitFailed {
			t.Fatalf("%q: %s", args, errs.String())
		}
	}
	do("print", dir, "--stock", "my sheets", "--product", "salt soak", "--market", "us", "--copies", "8")
	file := filepath.Join(dir, "printed", "my-sheets-1.pdf")
	got := outside.Run(t, "pdftotext", "-raw", file, "-")
	if n := strings.Count(got, "Ingredients: Magnesium Sulfate"); n != 8 {
		t.Errorf("the list stands %d times on the sheets:\n%s", n, got)
	}
	outside.SoundPDF(t, file)
	do("cards", dir, "--product", "salt soak", "--market", "us")
	cards := filepath.Join(dir, "printed", "cards-1")
	outside.Run(t, "pdftoppm", "-r", "300", "-png", "-singlefile", cards+".pdf", cards)
	codes := outside.Run(t, "zbarimg", "-q", cards+".png")
	for _, want := range []string{"EAN-13:9520000000004\n", "QR-Code:https://id.gs1.org/01/09520000000004\n"} {
		if !strings.Contains(codes, want) {
			t.Errorf("no %q among what the decoder reads: %s", want, codes)
		}
	}
}

// A card bears the codes of the pack that its market gets, and the product's where the pack has none.
func TestCardOfAPack(t *testing.T) {
	p := &label.Product{Name: "salt soak", Barcode: "9520000000004", Link: "https://tub.example/soak",
		Packs: []label.Pack{{For: []inci.Market{inci.US}}, {For: []inci.Market{inci.EU}, Barcode: "9520000000011", Link: "https://tub.example/eu"}}}
	for m, want := range map[inci.Market][2]string{inci.US: {"9520000000004", "https://tub.example/soak"}, inci.EU: {"9520000000011", "https://tub.example/eu"}} {
		g := goods(&label.Declaration{Product: p, Market: m, Rules: market.For(m)})
		if got := [2]string{string(g.Barcode), g.Link}; got != want {
			t.Errorf("%s: %q, want %q", m, got, want)
		}
	}
}

// BenchmarkPrint goes from YAML to the bytes of sheets with n different labels, for a print list that names each
// once. The figures of the issue: 1,000 under 0.6 s; 10,000 under 5 s and 300 MB.
func BenchmarkPrint(b *testing.B) {
	for _, n := range []int{1000, 10000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			dir := bigBook(b, n)
			const sheet = "stock: long sheets\npaper: A4\nlabels: 1 x 4\nsize: 110 x 70 mm\nmargins: {left: 50 mm, top: 5 mm}\ngaps: {down: 1 mm}\n"
			if err := os.WriteFile(filepath.Join(dir, "stock.yaml"), []byte(sheet), 0o600); err != nil {
				b.Fatal(err)
			}
			book, err := bench(dir).open()
			if err != nil {
				b.Fatal(err)
			}
			var list strings.Builder
			for _, p := range book.Products {
				fmt.Fprintf(&list, "%s x 1\n", p.Name)
			}
			path := filepath.Join(dir, "list.txt")
			if err := os.WriteFile(path, []byte(list.String()), 0o600); err != nil {
				b.Fatal(err)
			}
			book = nil
			runtime.GC()
			b.ReportAllocs()
			for b.Loop() {
				c := bench(dir)
				c.err = io.Discard
				c.sheets.stock, c.sheets.list, c.sheets.used = "long sheets", path, "none"
				if err := c.setMarkets("us"); err != nil {
					b.Fatal(err)
				}
				if code, err := printSheets(c); code != exitClean || err != nil {
					b.Fatal(code, err)
				}
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				b.ReportMetric(float64(m.HeapSys)/1e6, "heap-MB")
			}
			files, err := filepath.Glob(filepath.Join(dir, "printed", "long-sheets-*.pdf"))
			if err != nil || len(files) == 0 {
				b.Fatal(files, err)
			}
			info, err := os.Stat(files[0])
			if err != nil || info.Size() < int64(n)*500 {
				b.Fatal(info.Size(), err)
			}
			b.ReportMetric(float64(info.Size())/1e6, "file-MB")
		})
	}
}
