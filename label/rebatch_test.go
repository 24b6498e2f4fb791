package label_test

import (
	"testing"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
)

// By hand: 1,393.9067 g poured, of which 265.2305 g are water, are 1,254.0847 g with 10 % of water left: 1.1115 times less.
func TestRebatchSaysWhatWasPoured(t *testing.T) {
	for _, c := range []struct{ amount, want string }{
		{"500 g", "if it is cured soap that is melted again, write what it weighed when it was poured: 556 g"},
		{"3 parts", "if it is cured soap that is melted again, write what it weighed when it was poured, 1.11 times as much"},
	} {
		water := "60 g"
		if c.amount == "3 parts" {
			water = "1 part"
		}
		b, found := book.LoadFiles([]book.File{{Name: "book.yaml", Data: []byte(`workshop: Example Soap Works
sell in: [us]
---
material: my oil
inci: Olea Europaea Fruit Oil
class: oil
saponification value: 190 mg KOH/g
---
formula: dough
mix: [my oil: 1000 g]
saponify: {lye: sodium hydroxide, purity: 98 %, superfat: 5 %, water: 2 x lye, water left: 10 %}
---
formula: second melt
mix:
  - dough: ` + c.amount + `
  - deionised water: ` + water + `
---
product: bar
type: bar soap
exposure: rinse-off
identity: Soap
piece: {second melt: 120 g}
net: 90 g
`)}})
		if found.Count(finding.Error) > 0 {
			t.Fatal(found)
		}
		on := date.Of(2026, 11, 25)
		x := label.NewDesk(&b.Workshop).Declare(b.Products[0], []inci.Market{inci.US}, date.Occasion{On: on, Placed: on})[0]
		got := ""
		for _, f := range x.Findings {
			if f.Rule == "soap.rebatch" {
				got += f.Cure
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.amount, got, c.want)
		}
	}
}
