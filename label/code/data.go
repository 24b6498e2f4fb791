package code

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"sync"

	"panelwright/formula/finding"
	"panelwright/label/scene"
)

//go:embed data/*.csv
var files embed.FS

// spec is how one kind of code is built: lengths in modules, but for those in micrometres.
type spec struct {
	name               string
	digits, modules    int
	left, right, guard int // quiet zones, and how far the guard bars reach down
	least, x, most     scene.Um
	height, digit      scene.Um // of the bars and of the figures at the normal size
	source             finding.Citation
}

// character is how a digit is drawn.
type character struct {
	widths     [4]int // space, bar, space, bar of set A; bar, space, bar, space of set C
	first      string // sets of the next six digits where this digit leads
	thirteenth int    // what a bar of set A loses to its space, and one of sets B and C gains, in 1/13 module
}

type tables struct {
	specs    []spec
	digits   [10]character
	prefixes []prefix

	bend       scene.Um // see curve
	bendSource finding.Citation
}

type prefix struct {
	from, to, kind string
	source         finding.Citation
}

var data = sync.OnceValue(func() (t tables) {
	for _, r := range rows("symbols.csv") {
		t.specs = append(t.specs, spec{name: r["symbol"], digits: r.number("digits"), modules: r.number("modules"),
			left: r.number("left"), right: r.number("right"), guard: r.number("guard"),
			least: scene.Um(r.number("x-least")), x: scene.Um(r.number("x")), most: scene.Um(r.number("x-most")),
			height: scene.Um(r.number("height")), digit: scene.Um(r.number("digit")), source: r.cite()})
	}
	for i, r := range rows("digits.csv") {
		c := character{first: r["first"], thirteenth: r.number("thirteenth")}
		for k := range c.widths {
			c.widths[k] = int(r["a"][k] - '0')
		}
		t.digits[i] = c
	}
	for _, r := range rows("prefixes.csv") {
		t.prefixes = append(t.prefixes, prefix{r["from"], r["to"], r["kind"], r.cite()})
	}
	t.curve()
	return t
})

type row map[string]string

func (r row) number(column string) int {
	n, err := strconv.Atoi(r[column])
	if err != nil {
		panic(fmt.Sprintf("code data: %s: %v", column, err)) // embedded, see TestData
	}
	return n
}

func (r row) cite() finding.Citation {
	return finding.Citation{Text: r["source"], Seen: finding.Seen(r["seen"])}
}

func rows(name string) (out []row) {
	f, err := files.Open("data/" + name)
	if err != nil {
		panic(err) // embedded
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		panic(err) // embedded, see TestData
	}
	for _, rec := range all[1:] {
		r := row{}
		for i, v := range rec {
			r[all[0][i]] = v
		}
		out = append(out, r)
	}
	return out
}

// specOf returns how codes of so many digits are built; 0 is the QR code.
func specOf(digits int) (spec, bool) {
	for _, s := range data().specs {
		if s.digits == digits {
			return s, true
		}
	}
	return spec{}, false
}

// LeastBars and LeastQR return the narrowest module that is allowed for goods in shops.
func LeastBars() scene.Um { s, _ := specOf(13); return s.least }

// LeastQR is said with [LeastBars].
func LeastQR() scene.Um { s, _ := specOf(0); return s.least }

// module checks the width asked for, and gives the normal one for 0.
func (s spec) module(x scene.Um) (scene.Um, error) {
	if x == 0 {
		return s.x, nil
	}
	if x < s.least || x > s.most {
		return 0, &SizeError{s.name, x, s.least, s.most, s.source.String()}
	}
	return x, nil
}
