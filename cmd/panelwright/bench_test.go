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

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/layout"
	"panelwright/label/render/pdf"
	"panelwright/label/scene"
)

// bigBook writes an invented book of n products: ranges over bases, each member
// with a scent and a colour of its own.
func bigBook(tb testing.TB, n int) string {
	tb.Helper()
	const bases, scents, colours = 20, 100, 40
	var b strings.Builder
	b.WriteString("# invented, for measuring\nworkshop: Long Bench Works\nsell in: [us, eu]\ncountry: US\neu countries: [DE]\nresponsible:\n" +
		"  us: {name: Long Bench Works, address: [\"1 Sample Street\", \"Exampleton, VT 05000\"], contact: us@bench.example, country: US}\n" +
		"  eu: {name: Musterhaus GmbH, address: [\"Beispielweg 1\", \"00000 Musterstadt\"], contact: eu@bench.example, country: DE}\n")
	for i := range scents {
		fmt.Fprintf(&b, "---\nmaterial: scent %d\nclass: fragrance\ncovers: eu-81\nallergens:\n  Linalool: %d.%d %%\n  Limonene: 1-%d %%\n  Coumarin: 0.0%d %%\n"+
			"  Geraniol: 120 ppm\n  Citronellol: <0.1 %%\n  Linalyl Acetate: 2-3 %%\n  Vanillin: 0.4 %%\n  Eugenol: 0.2 %%\n", i, 1+i%5, i%10, 2+i%6, 1+i%9)
	}
	for i := range colours {
		fmt.Fprintf(&b, "---\nmaterial: colour %d\nclass: colourant\ncontains:\n  Mica: 50-%d %%\n  CI 77891: 30-40 %%\n  CI 77491: rest\n", i, 55+i%10)
	}
	for i := range bases {
		fmt.Fprintf(&b, "---\nformula: core %d\nmix:\n  - baking soda: 10 oz\n  - citric acid: 5 oz\n  - cocoa butter: %d g\n  - shea butter: 1 oz\n  - scent: 1.5 %%\n"+
			"---\nformula: base %d\ndries: {water: 95 %%}\nmix:\n  - baking soda: 20 oz\n  - citric acid: %d g\n  - corn starch: 100 g\n  - Epsom salt: 4 oz\n  - kaolin: 25 g\n"+
			"  - sweet almond oil: 30 g\n  - water: 6 g\n  - colour: 0.5 %%\n  - scent: 1.5 %%\n", i, 80+i, i, 250+i)
		fmt.Fprintf(&b, "---\nproduct: first %d\ntype: bath fizz\nexposure: rinse-off\nidentity: {en: Bath fizz, de: Badekugel}\npiece:\n  - base %d: 150 g\n  - core %d: 12 g\n"+
			"slots: {scent: scent 0, colour: colour 0}\nnet: 155 g\nkeeps: 18 months\nmade in: {en: Made in USA, de: Hergestellt in den USA}\ncautions: [slippery tub]\npacks:\n"+
			"  - {for: [us], label: rectangle 110 x 70 mm, pack: ball 65 mm, lot goes: on sticker}\n"+
			"  - {for: [eu], label: rectangle 110 x 70 mm, pack: ball 65 mm, lot goes: on sticker}\n", i, i, i)
		fmt.Fprintf(&b, "---\nrange: range %d\nlike: first %d\neach:\n", i, i)
		for k := range n/bases - 1 {
			fmt.Fprintf(&b, "  - {name: fizz %d of %d, scent: scent %d, colour: colour %d}\n", k, i, (k+i)%scents, (k*7+i)%colours)
		}
	}
	dir := tb.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "book.yaml"), []byte(b.String()), 0o644); err != nil {
		tb.Fatal(err)
	}
	return dir
}

func bench(dir string) *call {
	on := date.Of(2026, 11, 25)
	return &call{out: io.Discard, err: io.Discard, args: []string{dir}, on: on, placed: on}
}

// BenchmarkDeclare loads, composes and declares whole books, each product in
// two markets. The figure of the issue: 10,000 products in under 2 s and 300 MB
// on two cores, growing with the number of products.
func BenchmarkDeclare(b *testing.B) {
	for _, n := range []int{1000, 10000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			dir := bigBook(b, n)
			b.ReportAllocs()
			for b.Loop() {
				c := bench(dir)
				book, err := c.open()
				if err != nil {
					b.Fatal(err)
				}
				jobs, _, err := c.judge(book)
				if err != nil {
					b.Fatal(err)
				}
				done := 0
				for j := range jobs {
					if len(j.decls) != 2 || len(j.decls[1].Entries) < 10 {
						b.Fatalf("%s: %d declarations", j.product.Name, len(j.decls))
					}
					done++
				}
				if done != n {
					b.Fatalf("%d products", done)
				}
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				b.ReportMetric(float64(m.HeapSys)/1e6, "heap-MB")
			}
		})
	}
}

// BenchmarkRecheck judges one edited product of a book with all rules, as a page
// that watches the book would: the file is written, read again and resolved. The
// figure of the issue: under 5 ms.
func BenchmarkRecheck(b *testing.B) {
	dir := bigBook(b, 40)
	file := filepath.Join(dir, "book.yaml")
	text, err := os.ReadFile(file)
	if err != nil {
		b.Fatal(err)
	}
	c := bench(dir)
	c.product = "first 0"
	edits := [][]byte{text, bytes.Replace(text, []byte("core 0: 12 g"), []byte("core 0: 13 g"), 1)}
	var r book.Reader
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if err := os.WriteFile(file, edits[i%2], 0o644); err != nil {
			b.Fatal(err)
		}
		read, found := r.Load(dir)
		if len(found) > 0 && found[0].Severity == finding.Error {
			b.Fatal(found)
		}
		jobs, _, err := c.judge(read)
		if err != nil {
			b.Fatal(err)
		}
		for j := range jobs {
			if want := exact.Int(int64(162 + i%2)); len(j.decls) != 2 || !j.decls[0].Composition.Added.Equal(want) {
				b.Fatalf("%d declarations, %v g", len(j.decls), j.decls[0].Composition.Added)
			}
		}
	}
}

// BenchmarkLabels goes from YAML to one PDF of 1,000 different labels. The
// figure of the issue: under 0.6 s.
func BenchmarkLabels(b *testing.B) {
	dir := bigBook(b, 1000)
	b.ReportAllocs()
	for b.Loop() {
		c := bench(dir)
		book, err := c.open()
		if err != nil {
			b.Fatal(err)
		}
		if err := c.setMarkets("us"); err != nil {
			b.Fatal(err)
		}
		jobs, _, err := c.judge(book)
		if err != nil {
			b.Fatal(err)
		}
		type drawn struct {
			job    judged
			scenes []scene.Scene
			err    error
		}
		var all []drawn
		for j := range jobs {
			all = append(all, drawn{job: j})
		}
		var scenes []scene.Scene
		for d := range inOrder(all, func(d drawn) drawn {
			d.scenes, d.err = layout.Label(label.CopyFor(d.job.product.PackFor("us"), d.job.decls), layout.Options{})
			return d
		}) {
			if d.err != nil {
				b.Fatal(d.err)
			}
			scenes = append(scenes, d.scenes...)
		}
		var buf bytes.Buffer
		if err := pdf.Write(&buf, scenes, pdf.Options{}); err != nil {
			b.Fatal(err)
		}
		if len(scenes) != 1000 || buf.Len() < 100000 {
			b.Fatalf("%d scenes, %d bytes", len(scenes), buf.Len())
		}
	}
}

// BenchmarkChanges compares a book of 10,000 products with the same book before
// the sheet of one scent was replaced. To reach: 5 s.
func BenchmarkChanges(b *testing.B) {
	const n = 10000
	old, now := bigBook(b, n), bigBook(b, n)
	name := filepath.Join(now, "book.yaml")
	data, err := os.ReadFile(name)
	if err != nil {
		b.Fatal(err)
	}
	text := strings.Replace(string(data), "Geraniol: 120 ppm", "Geraniol: 1.2 %", 1)
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		var out bytes.Buffer
		c := bench(now)
		c.out = &out
		c.rec.against = old
		if _, err := changes(c); err != nil {
			b.Fatal(err)
		}
		if s := out.String(); !strings.Contains(s, "gains Geraniol") || strings.Count(s, "gains Geraniol") < n/200 {
			b.Fatalf("too little changed: %.300s", s)
		}
	}
}
