package layout

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/look"
	"panelwright/label/market"
	"panelwright/label/scene"
)

// accents are inks from dark to nearly white.
var accents = []*scene.Ink{nil, {C: 85, M: 35, Y: 60, K: 30}, {M: 45, Y: 70}, {Y: 20}}

// named returns a layout that comes with the project.
func named(t testing.TB, name string) *look.Look {
	t.Helper()
	l, err := look.Named(name)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// anyCopy draws invented copy for one of the five markets.
func anyCopy(t *rapid.T) *label.PackCopy {
	names := strings.Split(longList, ", ")
	list := strings.Join(rapid.SliceOfN(rapid.SampledFrom(names), 1, 42).Draw(t, "list"), ", ")
	title := strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"Hay", "Märchenwald", "Straße", "Été", "no. 5"}), 1, 3).Draw(t, "title"), " ")
	m := rapid.SampledFrom([]inci.Market{inci.US, inci.EU, inci.GB, inci.NI, inci.CA}).Draw(t, "market")
	var c *label.PackCopy
	switch m {
	case inci.US:
		c = american(title, list)
	case inci.CA: // 1.6 mm for all, and the figures of the quantity 3.2 mm: C.R.C., c. 417 s. 14, 15
		c = american(title, list)
		c.Languages = []string{"en", "fr"}
		for i := range c.Back {
			c.Back[i].Height = market.Height{Min: 1600, On: market.LowerO}
		}
		c.Front = append(c.Front[:2:2], label.Statement{Kind: label.IdentityText, Lang: "fr", Text: "Bombe de bain", Front: true,
			Height: market.Height{Min: 1600, On: market.LowerO}}, label.Statement{Kind: label.NetText, Text: "160 g", Front: true, Bold: true,
			Height: market.Height{Min: 3200, On: market.Numeral}})
	default:
		c = european(title, list)
	}
	c.Dress.EggTimer = label.SaidNo // whose words are looked for, see TestTimerBeforeLeaflet
	c.Markets = []inci.Market{m}
	for _, list := range [][]label.Statement{c.Front, c.Back} {
		for i := range list {
			list[i].Markets = c.Markets
		}
	}
	return c
}

// anyShape draws a label of any kind, and the pack under a wrap.
func anyShape(t *rapid.T, c *label.PackCopy) {
	k := rapid.SampledFrom([]label.ShapeKind{label.Rectangle, label.Rounded, label.Round, label.Band, label.Oval, label.Wrap,
		label.HangTag, label.Folded, label.Booklet, label.Topper}).Draw(t, "shape")
	w := rapid.Int64Range(60_000, 200_000).Draw(t, "width")
	h := rapid.Int64Range(50_000, 120_000).Draw(t, "height")
	s := label.Shape{Kind: k, W: w, H: h}
	switch k {
	case label.Round:
		s.W = min(w, 110_000)
		s.H = s.W
	case label.Wrap:
		c.Pack.Body = market.Body{Kind: market.Bar, A: w / 2, B: h, C: 25_000}
		s.W, s.Overlap = 2*(max(w/2, h)+25_000)+10_000, 10_000
		s.H = min(w/2, h)
	case label.Folded, label.Booklet:
		s.W *= 2
	case label.Topper:
		s.H *= 2
	}
	c.Pack.Label = s
}

// Every layout keeps every rule, whatever the copy, the shape, the market and the colour.
func TestAnyLook(t *testing.T) {
	fitted := 0
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(look.Names()).Draw(t, "layout")
		l, err := look.Named(name)
		if err != nil {
			t.Fatal(err)
		}
		c := anyCopy(t)
		anyShape(t, c)
		o := Options{Look: l, Accent: rapid.SampledFrom(accents).Draw(t, "accent")}
		if rapid.Bool().Draw(t, "bleeds") {
			c.Dress.Bleed = 2000
		}
		anyCodes(t, c)
		scenes, err := Label(c, o)
		var full *NoRoom
		if errors.As(err, &full) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		fitted++
		check(t, c, o, scenes)
	})
	if fitted < 20 {
		t.Errorf("only %d labels were made", fitted)
	}
}

// Layouts differ: no two give the same drawing, on a straight label and on a round one.
func TestLooksDiffer(t *testing.T) {
	for _, s := range []label.Shape{shape(label.Rectangle, 110, 70), shape(label.Round, 80, 80)} {
		var seen []string
		for _, name := range look.Names() {
			l, err := look.Named(name)
			if err != nil {
				t.Fatal(err)
			}
			scenes, err := Label(on(european("Alpine Hay", shortList), s, none), Options{Look: l})
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			got := scenes[0].String()
			if slices.Contains(seen, got) {
				t.Errorf("%s looks like another layout", name)
			}
			seen = append(seen, got)
		}
		if len(seen) < 7 {
			t.Errorf("only %d layouts", len(seen))
		}
	}
}

// The safe oval keeps at least the margin to the edge, and not needlessly more at its sides.
func TestOvalMargin(t *testing.T) {
	p := newPanel("front", label.Shape{Kind: label.Oval, W: 90_000, H: 60_000}, 2500, frame{})
	rim := flatten(scene.Oval(scene.Point{X: p.w / 2, Y: p.h / 2}, p.rx, p.ry, 0))
	least := scene.Um(1 << 40)
	for _, q := range flatten(scene.Elliptic(scene.Rect{Left: p.safe.left, Top: p.safe.top, Right: p.safe.right, Bottom: p.safe.bottom}, p.safe.rx, p.safe.ry)) {
		for _, r := range rim {
			least = min(least, distance(q, r))
		}
	}
	if least < 2495 || least > 2600 {
		t.Errorf("the safe oval keeps %v, want 2.5 mm", least)
	}
}
