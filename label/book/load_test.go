package book

import (
	"fmt"
	"os"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/finding"
)

// manyProducts returns a book with a range of n members over some dozens of
// scents and colours. All of it is invented.
func manyProducts(n int) []File {
	var b strings.Builder
	b.WriteString("workshop: Example Bath Works\nsell in: [us, eu]\n---\nformula: fizz mix\nmix:\n  - baking soda: 60 %\n  - citric acid anhydrous: 30 %\n  - scent: 1.5 %\n  - colour: 0.5 %\n  - corn starch: rest\n")
	for i := range 40 {
		fmt.Fprintf(&b, "---\nmaterial: scent %02d\nclass: fragrance\nallergens:\n  Linalool: %d.%d %%\n  Coumarin: 0.5-1.2 %%\n  Limonene: <0.1 %%\ncovers: eu-81\n", i, i%7, i%10)
		fmt.Fprintf(&b, "---\nmaterial: colour %02d\nclass: colourant\ncontains:\n  Mica: 50-62 %%\n  CI 77891: 30-40 %%\n  CI 77288: rest\n", i)
	}
	b.WriteString("---\nproduct: base fizz\nidentity: {en: Bath fizz}\ntype: bath fizz\nexposure: rinse-off\npiece:\n  - fizz mix: 150 g\nslots: {scent: scent 00, colour: colour 00}\nnet: 150 g\npacks:\n  - {for: [us], label: round 64 mm, pack: ball 65 mm}\n")
	b.WriteString("---\nrange: many fizzes\nlike: base fizz\neach:\n")
	for i := range n {
		fmt.Fprintf(&b, "  - {name: fizz %05d, scent: scent %02d, colour: colour %02d}\n", i, i%40, i/40%40)
	}
	return []File{{"many.yaml", []byte(b.String())}}
}

func BenchmarkLoad10000(b *testing.B) {
	files := manyProducts(10_000)
	b.SetBytes(int64(len(files[0].Data)))
	b.ReportAllocs()
	for b.Loop() {
		book, out := LoadFiles(files)
		if len(out) > 0 || len(book.Products) != 10_001 {
			b.Fatal(len(book.Products), out[:min(3, len(out))])
		}
	}
	runtime.GC()
	var after runtime.MemStats
	book, _ := LoadFiles(files)
	runtime.GC()
	runtime.ReadMemStats(&after)
	b.ReportMetric(float64(after.HeapAlloc)/float64(len(book.Products)), "heap-B/product")
	runtime.KeepAlive(book)
}

func line(f finding.Finding) string {
	return fmt.Sprintf("%s %s %s", f.Severity, f.Rule, f.Line())
}

func lines(l finding.List) (all []string) {
	for _, f := range l {
		all = append(all, line(f))
	}
	return all
}

// A member of a range that stands for the product the range is like takes its
// place: the example of the design page.
func TestDesignExample(t *testing.T) {
	data, err := os.ReadFile("testdata/design.yaml")
	if err != nil {
		t.Fatal(err)
	}
	b, out := LoadFiles([]File{{"design.yaml", data}})
	if out.Count(finding.Error) > 0 {
		t.Fatal(strings.Join(lines(out), "\n"))
	}
	var got []string
	for _, p := range b.Products {
		s := fmt.Sprintf("%s of %s, %s, %s:", p.Name, p.Range, p.Exposure, p.Net.Text)
		for _, l := range p.Piece.Lines {
			s += fmt.Sprintf(" %s g %s", l.Amount.Value, l.Formula.Name)
		}
		slots := []string{}
		for k, f := range p.Piece.Slots {
			slots = append(slots, k+"="+f.Material.Name)
		}
		slices.Sort(slots)
		s += " " + strings.Join(slots, " ")
		for _, k := range p.Packs {
			s += fmt.Sprintf(" | %v %v %s on %s", k.For, k.Languages, k.Label.Text, k.Body)
		}
		got = append(got, s)
	}
	const packs = " | [us] [] round 64 mm on ball 65 mm | [eu] [en de] band 210 x 50 mm on ball 65 mm"
	want := []string{
		"hay fizz of alpine fizzes, rinse-off, 160 g: 150 g fizz mix 12 g melt core colour=meadow green cut scent=alpine hay scent oil" + packs,
		"pine fizz of alpine fizzes, rinse-off, 160 g: 150 g fizz mix 12 g melt core colour=pine cut scent=stone pine scent oil" + packs,
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("products (-want +got):\n%s", d)
	}
	if b.Sets[0].Holds[0].Product != b.Products[0] || b.Sets[0].Holds[1].Count != 2 {
		t.Errorf("the set holds %v", b.Sets[0].Holds)
	}
	w := b.Workshop
	if w.Name != "Fernhollow Bath Works" || len(w.Responsible["us"].Address) != 2 || w.ScaleUpTo.String() != "5000" || fmt.Sprint(w.Countries) != "[DE IE]" {
		t.Errorf("the workshop is %+v", w)
	}
	// 10 oz and a cup and a half at the first published density of corn starch, 0.541 g/ml.
	core := b.Formulas[0]
	if got := core.Lines[0].Amount.Value.String(); got != "283.49523125" {
		t.Errorf("10 oz = %s g", got)
	}
	if got := core.Lines[2].Amount.Value.String(); got != "191.99135391975" {
		t.Errorf("1 1/2 cups of corn starch = %s g", got)
	}
}
