package book

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/label"
)

func TestSayings(t *testing.T) {
	b := load(t, shop+`product: x
piece: {baking soda: 1 g}
claims: [Cruelty free, {en: Softens the skin, de: Macht die Haut weich}]
for children: yes
looks like food: no
small parts: yes
soap exemption: yes
dose: 1 1/2 pieces
---
product: y
like: x
for children: no
adults only: yes
looks like food: yes
dose: 1/2 oz
---
product: z
piece: {baking soda: 1 g}
`)
	x, y, z := b.Products[0], b.Products[1], b.Products[2]
	want := []label.Wording{{"en": "Cruelty free"}, {"en": "Softens the skin", "de": "Macht die Haut weich"}}
	if diff := cmp.Diff(want, x.Claims); diff != "" {
		t.Error(diff)
	}
	if !x.ForChildren || x.AdultsOnly || x.LooksLikeFood != label.SaidNo || x.SmallParts != label.SaidYes || !x.SoapExempt ||
		!x.Dose.Pieces.Equal(exact.Frac(3, 2)) || x.Dose.Grams.Sign() != 0 || x.Dose.Text != "1 1/2 pieces" {
		t.Errorf("%+v", x)
	}
	if y.ForChildren || !y.AdultsOnly || y.LooksLikeFood != label.SaidYes || y.SmallParts != label.SaidYes || len(y.Claims) != 2 ||
		!y.Dose.Grams.Equal(exact.Must("14.1747615625")) || y.Dose.Pieces.Sign() != 0 { // half of 28.349523125 g
		t.Errorf("%+v", y)
	}
	if z.ForChildren || z.AdultsOnly || z.LooksLikeFood != label.Unsaid || z.SmallParts != label.Unsaid || z.SoapExempt || z.Dose != (label.Dose{}) || z.Claims != nil {
		t.Errorf("nothing said: %+v", z)
	}
	if at := y.At("dose"); at.Line != 18 {
		t.Errorf("the place of the dose: %v", at)
	}
}

func TestSayingsRefused(t *testing.T) {
	for _, c := range []struct{ name, line, rule, says string }{
		{"no number", "dose: some pieces", "book.dose", "“some pieces”"},
		{"a volume", "dose: 20 ml", "book.dose", "1 piece or 20 g"},
		{"nothing", "dose: 0 g", "book.dose", "“0 g”"},
		{"neither yes nor no", "looks like food: maybe", "book.form", "write yes or no"},
		{"both at once", "for children: yes\nadults only: yes", "book.form", "for children and for adults only"},
		{"a key misspelt", "claim: soft", "book.unknown-key", "claims"},
		{"a list in a list", "claims: [[soft]]", "book.form", "the claim"},
	} {
		_, out := LoadFiles([]File{{"book.yaml", []byte(shop + "product: x\npiece: {baking soda: 1 g}\n" + c.line + "\n")}})
		if len(out) != 1 || string(out[0].Rule) != c.rule || out[0].Severity != finding.Error || !strings.Contains(out[0].Line(), c.says) {
			t.Errorf("%s: %v", c.name, lines(out))
		}
	}
	_, out := LoadFiles([]File{{"book.yaml", []byte(shop + "product: x\npiece: {baking soda: 1 g}\n---\nset: s\nholds: {x: 2}\ndose: 1 piece\n")}})
	if len(out) != 1 || out[0].Rule != "book.unknown-key" {
		t.Errorf("a set has no dose: %v", lines(out))
	}
}
