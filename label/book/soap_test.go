package book_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gopkg.in/yaml.v3"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
)

// soapByHand is what testdata/soap says of a soap of the starter book: worked
// out apart from the program.
type soapByHand struct {
	Product, Formula string
	Lye              []struct {
		Name   string
		Worked string `yaml:"worked out"`
		Weigh  string
	}
	Water, Poured string
	Left          string `yaml:"left over"`
	Worst         string `yaml:"worst case"`
	Made          map[string]string
	Lists         map[string]struct {
		Text   string
		Shares []string
	}
}

func TestSoapsByHand(t *testing.T) {
	b, found := book.Load("../../templates/starter")
	if n := found.Count(finding.Error); n > 0 {
		t.Fatal(found)
	}
	paths, _ := filepath.Glob("../../testdata/soap/*.yaml")
	if len(paths) != 4 {
		t.Fatalf("%d soaps worked out by hand, want 4", len(paths))
	}
	desk := label.NewDesk(&b.Workshop)
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".yaml"), func(t *testing.T) {
			var want soapByHand
			data, err := os.ReadFile(path)
			if err == nil {
				err = yaml.Unmarshal(data, &want)
			}
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range b.Formulas {
				if f.Name == want.Formula {
					checkLye(t, want, f, desk)
				}
			}
			for _, p := range b.Products {
				if p.Name == want.Product {
					checkLists(t, want, p, desk)
				}
			}
		})
	}
}

func checkLye(t *testing.T, want soapByHand, f *formula.Formula, desk *label.Desk) {
	r, _ := desk.Composer.Reaction(f)
	if r == nil {
		t.Fatal("no lye calculation")
	}
	six := func(x exact.Rat) string { return x.Decimal(6, exact.Nearest).StringFixed(6) }
	got := want
	got.Lye = nil
	step := desk.Workshop.ScaleReads
	for i, d := range r.Lye {
		l := want.Lye[i]
		name := map[bool]string{true: "sodium hydroxide", false: "potassium hydroxide"}[d.Soda]
		l.Name, l.Worked, l.Weigh = name, six(d.Grams), r.Weigh(i, step).Decimal(0, exact.Nearest).String()
		got.Lye = append(got.Lye, l)
	}
	got.Water, got.Poured = six(r.Water), six(r.Poured)
	got.Left = six(r.Superfat.Typical.Mul(exact.Int(100)))
	got.Worst = r.Worst(step).Free.Decimal(4, exact.Nearest).StringFixed(4)
	got.Made = map[string]string{}
	for _, m := range r.Made {
		got.Made[inci.Readable(string(m.Key))] = six(m.Grams.Typical)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error("lye by hand (-), by the program (+):\n" + d)
	}
}

func checkLists(t *testing.T, want soapByHand, p *label.Product, desk *label.Desk) {
	for market, list := range want.Lists {
		o := date.Occasion{On: date.Of(2026, 11, 25), Placed: date.Of(2026, 11, 25)}
		x := desk.Declare(p, []inci.Market{inci.Market(market)}, o)[0]
		var names, shares []string
		for _, e := range x.Entries {
			if e.Kind != label.Allergen { // by hand without them: they are judged elsewhere
				names = append(names, e.Name)
				shares = append(shares, label.Percent(e.Share.Typical, 4, exact.Nearest))
			}
		}
		if d := cmp.Diff(list.Text, strings.Join(names, ", ")); d != "" {
			t.Errorf("%s, by hand (-), by the program (+):\n%s", market, d)
		}
		if d := cmp.Diff(list.Shares, shares); d != "" {
			t.Errorf("%s, by hand (-), by the program (+):\n%s", market, d)
		}
		if !x.Verdict().Prints() {
			t.Errorf("%s: %s: %v", market, x.Verdict(), x.Findings)
		}
	}
}

// soapBook is a workshop with n different soaps, each of a recipe of its own. Invented.
func soapBook(n int) (files []book.File) {
	var b strings.Builder
	b.WriteString("workshop: Example Soap Works\nsell in: [us, eu]\n")
	for i := range n {
		if i%1000 == 999 {
			files = append(files, book.File{Name: fmt.Sprintf("soaps-%d.yaml", i), Data: []byte(b.String())})
			b.Reset()
		}
		fmt.Fprintf(&b, "---\nformula: dough %d\nmix:\n  - olive oil: %d g\n  - coconut oil: %d g\n  - castor oil: %d g\n  - cocoa butter: 120 g\n  - citric acid anhydrous: 10 g\n"+
			"saponify: {lye: sodium hydroxide, purity: 98-99 %%, superfat: 6 %%, water: 2 x lye, water left: 9-12 %%}\n"+
			"---\nproduct: bar %d\ntype: bar soap\nexposure: rinse-off\nidentity: Soap\npiece:\n  - dough %d: 120 g\nnet: 90 g\nkeeps: 24 months\n", i, 500+i%97, 300+i%89, 80+i%83, i, i)
	}
	return append(files, book.File{Name: "soaps.yaml", Data: []byte(b.String())})
}

// BenchmarkSoaps composes and declares 10,000 soaps, each of a recipe of its own, by what came out of the
// reaction (us) and by what went in (eu).
func BenchmarkSoaps(b *testing.B) {
	bk, found := book.LoadFiles(soapBook(10000))
	if n := found.Count(finding.Error); n > 0 || len(bk.Products) != 10000 {
		b.Fatal(len(bk.Products), found[:min(3, len(found))])
	}
	o := date.Occasion{On: date.Of(2026, 11, 25), Placed: date.Of(2026, 11, 25)}
	for _, m := range []inci.Market{inci.US, inci.EU} {
		b.Run(string(m), func(b *testing.B) {
			for b.Loop() {
				declareAll(b, bk, m, o)
			}
		})
	}
}

func declareAll(b *testing.B, bk *book.Book, m inci.Market, o date.Occasion) {
	desk := label.NewDesk(&bk.Workshop)
	work := make(chan *label.Product, 64)
	done := make(chan int)
	for range 2 {
		go func() {
			entries := 0
			for p := range work {
				for _, d := range desk.Declare(p, []inci.Market{m}, o) {
					entries += len(d.Entries)
				}
			}
			done <- entries
		}()
	}
	for _, p := range bk.Products {
		work <- p
	}
	close(work)
	if n := <-done + <-done; n < 10000*6 {
		b.Fatal(n)
	}
}
