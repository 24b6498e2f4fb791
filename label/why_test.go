package label

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

var update = flag.Bool("update", false, "rewrite the golden texts")

// nested is a fizz with a melt in it: starch comes by four ways through two
// nested formulas and a cut colour with a range, linalool from two scents.
func nested() *Product {
	line := 0
	at := func(l formula.Line) formula.Line {
		line++
		l.Pos = finding.Pos{File: "book.yaml", Line: line}
		return l
	}
	starch := of("ZEA MAYS STARCH")
	starch.Pos = finding.Pos{File: "materials.yaml", Line: 4}
	cut := blend("green cut", "colourant", part("CI 77288", "30-40"), part("ZEA MAYS STARCH", "60-70"))
	hay, plum := fragrance("hay oil", "LINALOOL 4.2"), fragrance("plum oil", "LINALOOL 0.5-1.5")
	colour := mix("colour mix", "", at(weigh(cut, "1")), at(weigh(starch, "3")))
	core := mix("melt core", "", at(weigh(of("THEOBROMA CACAO SEED BUTTER"), "60")), at(weigh(starch, "30")), at(weigh(colour, "8")), at(weigh(hay, "2")))
	fizz := mix("fizz mix", "50", at(weigh(of("SODIUM BICARBONATE"), "80")), at(weigh(water(), "10")), at(weigh(starch, "9")), at(weigh(plum, "1")))
	return rinseOff(at(weigh(fizz, "90")), at(weigh(core, "30")))
}

func golden(t *testing.T, file string, b Branch) {
	t.Helper()
	path := filepath.Join("testdata", file)
	got := strings.Join(b.Lines(), "\n") + "\n"
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s:\n got\n%s\nwant\n%s", path, got, want)
	}
}

func TestWhyName(t *testing.T) {
	for file, c := range map[string]struct {
		market inci.Market
		name   string
	}{
		"why-starch-eu.txt": {inci.EU, "zea mays starch"},
		"why-starch-us.txt": {inci.US, "Zea Mays (Corn) Starch"},
	} {
		d := NewDesk(workshop())
		x := d.Declare(nested(), []inci.Market{c.market}, today)[0]
		b, ok := d.Why(x, c.name)
		if !ok {
			t.Fatalf("%s: nothing found", c.name)
		}
		golden(t, file, b)
		addsUp(t, b, "0.006")
	}
}

func TestWhyAllergen(t *testing.T) {
	d := NewDesk(workshop())
	x := d.Declare(nested(), []inci.Market{inci.EU}, today)[0]
	b, ok := d.Why(x, "linalool")
	if !ok {
		t.Fatal("nothing found")
	}
	golden(t, "why-linalool-eu.txt", b)
	addsUp(t, b, "0.00006")
}

func TestWhyNothing(t *testing.T) {
	d := NewDesk(workshop())
	x := d.Declare(nested(), []inci.Market{inci.EU}, today)[0]
	if b, ok := d.Why(x, "gold"); ok {
		t.Errorf("found %v", b.Lines())
	}
}

var (
	headFigures = regexp.MustCompile(`: ([0-9.]+) %.* of ([0-9.]+) g `)
	leadGrams   = regexp.MustCompile(`^([0-9.]+) g`)
	ofMaterial  = regexp.MustCompile(` from ([0-9.]+) g of `)
)

// addsUp follows the tree with a calculator: the grams of the branches are the
// share of the whole to its last digit, the ways of a material are its weight.
func addsUp(t *testing.T, b Branch, digit string) {
	t.Helper()
	number := func(re *regexp.Regexp, s string, n int) exact.Rat {
		m := re.FindStringSubmatch(s)
		if m == nil {
			t.Fatalf("no figure in %q", s)
		}
		return exact.Must(m[n])
	}
	share, mass := number(headFigures, b.Text, 1), number(headFigures, b.Text, 2)
	var sum exact.Rat
	for _, k := range b.Kids {
		if strings.HasPrefix(k.Text, "place: ") {
			continue
		}
		sum = sum.Add(number(leadGrams, k.Text, 1))
		var ways exact.Rat
		for _, w := range k.Kids {
			if leadGrams.MatchString(w.Text) {
				for len(w.Kids) > 0 {
					w = w.Kids[0]
				}
				ways = ways.Add(number(leadGrams, w.Text, 1))
			}
		}
		near(t, k.Text, ways, number(ofMaterial, k.Text, 1), "0.0006")
	}
	near(t, b.Text, sum.Quo(mass).Mul(hundred), share, digit)
}

func near(t *testing.T, what string, a, b exact.Rat, within string) {
	t.Helper()
	d := a.Sub(b)
	if d.Sign() < 0 {
		d = d.Neg()
	}
	if exact.Must(within).Less(d) {
		t.Errorf("%s: %v and %v do not agree", what, a.Decimal(5, exact.Nearest), b.Decimal(5, exact.Nearest))
	}
}

// With a range of drying the typical figure is of the typical mass, the
// greatest of the least; the tree names both.
func TestWhyNamesTheMassItTakesSharesOf(t *testing.T) {
	d := NewDesk(workshop())
	wet := mix("wet mix", "0-100", weigh(water(), "50"), weigh(of("KAOLIN"), "48"), weigh(fragrance("hay oil", "LINALOOL 1"), "2"))
	x := d.Declare(rinseOff(weigh(wet, "100")), []inci.Market{inci.EU}, today)[0]
	b, ok := d.Why(x, "Linalool")
	if !ok {
		t.Fatal("nothing found")
	}
	want := "Linalool in hay fizz, European Union: 0.0267 % (up to 0.0400 %) of 75 g finished, 50 g at the greatest drying; limit above 0.01 %: declared"
	if b.Text != want {
		t.Errorf("\n got %s\nwant %s", b.Text, want)
	}
	addsUp(t, b, "0.00006")
}

// Formulas that hold the one before twice bring a butter by 2^40 ways. It is judged like any other, and the ways
// that are not listed are spoken of.
func TestWhyOfManyWays(t *testing.T) {
	f := mix("mix 0", "", weigh(of("SODIUM BICARBONATE"), "60"), weigh(pure("cocoa butter", "THEOBROMA CACAO SEED BUTTER", "butter"), "40"))
	for range 40 {
		f = mix("mix", "", weigh(f, "1"), weigh(f, "1"))
	}
	d := NewDesk(workshop())
	x := d.Declare(rinseOff(weigh(f, "100")), []inci.Market{inci.EU}, today)[0]
	b, ok := d.Why(x, "Theobroma Cacao Seed Butter")
	if !ok {
		t.Fatal(x.Findings)
	}
	lines := b.Lines()
	if last := lines[len(lines)-1]; !strings.Contains(last, "more ways than the 100 above") {
		t.Errorf("%d lines, the last: %s", len(lines), last)
	}
}
