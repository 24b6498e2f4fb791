package book_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
)

func bookOf(t *testing.T, text string) *book.Book {
	t.Helper()
	b, found := book.LoadFiles([]book.File{{Name: "book.yaml", Data: []byte(text)}})
	if n := found.Count(finding.Error); n > 0 {
		t.Fatal(found)
	}
	return b
}

// A milk in place of water dries like water and keeps its name. By hand, of 1,000 g of oil at 190 mg KOH/g and 5 % left:
// lye 128.676201 g; twice that of liquid, so 57.352402 g of water beside 200 g of milk; poured 1,386.028603 g, of which
// 57.352402 g and 87 % of the milk, 231.352402 g, are water. With 10 % of water left the rest, 1,154.676201 g, is 90 %:
// 1,282.973556 g, with 55.4554 % of each water. Of the milk 26 g and 96.492 g are left.
func TestMilkByHand(t *testing.T) {
	b := bookOf(t, `workshop: Example Soap Works
sell in: [us, eu]
---
material: my oil
inci: Olea Europaea Fruit Oil
class: oil
saponification value: 190 mg KOH/g
---
material: goat milk
same as: goat milk
water: 87 %
---
formula: dough
mix:
  - my oil: 1000 g
  - goat milk: 200 g
saponify: {lye: sodium hydroxide, purity: 100 %, superfat: 5 %, water: 2 x lye, in place of water: [goat milk], water left: 10 %}
---
product: bar
type: bar soap
exposure: rinse-off
identity: Soap
piece:
  - dough: 120 g
net: 90 g
keeps: 24 months
`)
	desk := label.NewDesk(&b.Workshop)
	r, _ := desk.Composer.Reaction(b.Formulas[0])
	six := func(x exact.Rat) string { return x.Decimal(6, exact.Nearest).StringFixed(6) }
	if got := six(r.Poured) + " " + six(r.FreeWater); got != "1386.028603 231.352402" {
		t.Errorf("poured and of it water: %s", got)
	}
	on := date.Occasion{On: date.Of(2026, 11, 25), Placed: date.Of(2026, 11, 25)}
	for _, c := range []struct {
		m    inci.Market
		want []string
	}{
		{inci.US, []string{"Sodium Olivate 76.3785", "Goat Milk 9.5475", "Glycerin 7.6978", "Olea Europaea (Olive) Fruit Oil 3.8972", "Water 2.4790"}},
		// what went in, by weight: the milk whole
		{inci.EU, []string{"Olea Europaea Fruit Oil 72.1486", "Caprae Lac 14.4297", "Sodium Hydroxide 9.2838", "Aqua 4.1379"}},
	} {
		var got []string
		for _, e := range desk.Declare(b.Products[0], []inci.Market{c.m}, on)[0].Entries {
			got = append(got, e.Name+" "+label.Percent(e.Share.Typical, 4, exact.Nearest))
		}
		if d := cmp.Diff(c.want, got); d != "" {
			t.Errorf("%s, by hand (-), by the program (+):\n%s", c.m, d)
		}
	}
}

// What a certificate or a soap may say, and what not: the message tells what was read.
func TestLyeFiguresRead(t *testing.T) {
	const oil = "material: my oil\ninci: Olea Europaea Fruit Oil\nclass: oil\n"
	soap := func(s string) string {
		return "formula: dough\nmix:\n  - olive oil: 1000 g\nsaponify: {lye: sodium hydroxide, purity: 98 %, superfat: 5 %, " + s + "}\n"
	}
	for _, c := range []struct{ name, text, want string }{
		{"grams of potassium hydroxide", oil + "saponification value: 0.19 g KOH/g\n", ""},
		{"an acid value within it", oil + "saponification value: 190 mg KOH/g\nacid value: 2 mg KOH/g\n", ""},
		{"an acid value above it", oil + "saponification value: 190 mg KOH/g\nacid value: 191 mg KOH/g\n",
			"book.yaml:5:13: the acid value is written as “191 mg KOH/g”, more than the saponification value 190 mg KOH/g, which holds it"},
		{"an acid value above the published range", oil + "acid value: 250 mg KOH/g\n", "book.yaml:4:13: the acid value is written as “250 mg KOH/g”, more than"},
		{"a fat that takes up nothing", oil + "saponification value: 0 mg KOH/g\n", "book.yaml:4:23: the saponification value is written as “0 mg KOH/g”: such a fat takes up no lye"},
		{"all the fat left", strings.Replace(soap("water: 2 x lye"), "superfat: 5 %", "superfat: 100 %", 1),
			"book.yaml:4:59: a superfat of 100 % leaves all the fat, and no soap is made"},
		{"a list of lyes", strings.Replace(soap("water: 2 x lye"), "lye: sodium hydroxide", "lye: [sodium hydroxide]", 1), "book.yaml:4:17: lye is written as a list"},
		{"water in a milk", "material: milk\nsame as: goat milk\nwater: 86-88 %\n", ""},
		{"all of it water", "material: milk\nsame as: goat milk\nwater: 100 %\n", "book.yaml:3:8: “100 %” is no share of water in it"},
		{"no share", "material: milk\nsame as: goat milk\nwater: 87\n", "book.yaml:3:8: “87”: the number has no unit"},
		{"water in an oil", oil + "water: 5 %\n", "book.yaml:4:8: water: is for what has one name and holds water"},
		{"water in a blend", "material: brew\ncontains: {Beer: 40 %, Aqua: rest}\nwater: 5 %\n", "book.yaml:3:8: water: is for what has one name and holds water"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, found := book.LoadFiles([]book.File{{Name: "book.yaml", Data: []byte(c.text)}})
			var errs []string
			for _, f := range found {
				if f.Severity == finding.Error && f.Rule != "book.missing-document" && !strings.Contains(f.Message, "workshop") {
					errs = append(errs, f.Line())
				}
			}
			if c.want == "" && len(errs) > 0 || c.want != "" && (len(errs) != 1 || !strings.HasPrefix(errs[0], c.want)) {
				t.Errorf("%q, want %q", errs, c.want)
			}
		})
	}
}
