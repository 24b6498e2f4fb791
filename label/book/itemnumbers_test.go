package book

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/finding"
)

// A pack's own number and address go before those of its product, and belong to one product only.
func TestCodesOfPacks(t *testing.T) {
	b := load(t, shop+`product: a
piece: {baking soda: 1 g}
barcode: 9520000001100
qr: digital link
packs:
  - {for: [us], label: round 64 mm, pack: ball 65 mm}
  - {for: [eu], label: round 64 mm, pack: ball 65 mm, barcode: 9520000001117}
  - {for: [gb], label: round 64 mm, pack: ball 65 mm, barcode: 9520000001124, qr: https://tub.example/gb}
---
product: b
like: a
---
range: c
like: b
qr: digital link
packs:
  - {for: [us], label: round 64 mm, pack: ball 65 mm, qr: digital link}
each:
  - {name: d, barcode: 9520000001131}
  - {name: e, barcode: 9520000001148}
---
range: f
like: a
each:
  - {name: a}
  - {name: g}
---
set: s
holds: {b: 2}
qr: digital link
packs:
  - {for: [us], label: round 64 mm, pack: box 60 x 60 x 60 mm, barcode: 9520000001155}
`)
	got := map[string][]string{}
	add := func(name string, number, link string) { got[name] = append(got[name], number+" "+link) }
	for _, p := range b.Products {
		for i := range p.Packs {
			add(p.Name, p.BarcodeOn(&p.Packs[i]), p.LinkOn(&p.Packs[i]))
		}
	}
	for _, s := range b.Sets {
		add(s.Name, s.BarcodeOn(&s.Packs[0]), s.LinkOn(&s.Packs[0]))
	}
	link := func(n string) string { return n + " https://id.gs1.org/01/0" + n }
	want := map[string][]string{
		"a": {link("9520000001100"), link("9520000001117"), "9520000001124 https://tub.example/gb"},
		"b": {" ", " ", " "}, "g": {" ", " ", " "},
		"d": {link("9520000001131")}, "e": {link("9520000001148")},
		"s": {link("9520000001155")},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestItemNumbersTold(t *testing.T) {
	const pack = "label: round 64 mm, pack: ball 65 mm"
	product := func(name, more string) string {
		return "product: " + name + "\npiece: {baking soda: 1 g}\nsell in: [us, eu]\n" + more
	}
	for _, tt := range []struct {
		name, text string
		severity   finding.Severity
		rule, want string
	}{
		{"packs of a different size", product("a", "barcode: 9520000001100\npacks:\n  - {for: [us], label: round 64 mm, pack: jar 50 x 40 mm}\n  - {for: [eu], label: round 64 mm, pack: jar 70 x 60 mm}\n"),
			finding.Warning, "book.barcode-packs", "not alike (jar 50 x 40 mm, jar 70 x 60 mm)"},
		{"packs of one size", product("a", "barcode: 9520000001100\npacks:\n  - {for: [us], "+pack+"}\n  - {for: [eu], "+pack+"}\n"),
			finding.Note, "book.barcode-packs", "2 packs of “a” have the one item number 9520000001100"},
		{"one pack with the product's number, one without", product("a", "barcode: 9520000001100\npacks:\n  - {for: [us], "+pack+"}\n  - {for: [eu], "+pack+", barcode: 9520000001100}\n"),
			finding.Note, "book.barcode-packs", "2 packs"},
		{"two packs with one number", product("a", "packs:\n  - {for: [us], "+pack+", barcode: 9520000001100}\n  - {for: [eu], "+pack+", barcode: 9520000001100}\n"),
			finding.Error, "book.barcode", "two packs of “a” have the same item number 9520000001100"},
		{"a pack with the number of another product", product("a", "barcode: 9520000001100\n") + "---\n" + product("b", "packs:\n  - {for: [us], "+pack+", barcode: 9520000001100}\n"),
			finding.Error, "book.barcode", "“a” and “b” have the same item number"},
		{"as EAN-13 and as UPC-A", product("a", "barcode: 012345678905\n") + "---\n" + product("b", "packs:\n  - {for: [us], "+pack+", barcode: '0012345678905'}\n"),
			finding.Error, "book.barcode", "“a” and “b” have the same item number"},
		{"members that share a pack with a number", product("a", "") + "---\nrange: r\nlike: a\npacks:\n  - {for: [us], " + pack + ", barcode: 9520000001100}\neach:\n  - {name: b}\n  - {name: c}\n",
			finding.Error, "book.barcode", "“b” and “c” have the same item number"},
		{"a pack without a number for its address", product("a", "packs:\n  - {for: [us], "+pack+", qr: digital link}\n"),
			finding.Error, "book.qr", "a pack of “a” has no item number"},
		{"one of two packs without a number for the product's address", product("a", "qr: digital link\npacks:\n  - {for: [us], "+pack+"}\n  - {for: [eu], "+pack+", barcode: 9520000001100}\n"),
			finding.Error, "book.qr", "“a” has no item number to make a GS1 Digital Link of"},
		{"a code that one of two packs lacks", product("a", "codes: [barcode]\npacks:\n  - {for: [us], "+pack+"}\n  - {for: [eu], "+pack+", barcode: 9520000001100}\n"),
			finding.Error, "book.barcode", "the label of “a” for us is to bear a code, but neither that pack nor the product has a barcode:"},
		{"a wrong digit in a pack is said once", product("a", "codes: [barcode]\npacks:\n  - for: [us]\n    label: round 64 mm\n    pack: ball 65 mm\n    barcode: 9520000001101\n"),
			finding.Error, "book.barcode", "should be 0"},
	} {
		_, out := LoadFiles([]File{{"b.yaml", []byte(shop + tt.text)}})
		var told finding.List
		for _, f := range out {
			if f.Rule == "book.barcode" || f.Rule == "book.barcode-packs" || f.Rule == "book.qr" {
				told = append(told, f)
			}
		}
		if len(told) != 1 || told[0].Severity != tt.severity || string(told[0].Rule) != tt.rule || !strings.Contains(told[0].Message, tt.want) || told[0].Cure == "" || told[0].Where.Line == 0 {
			t.Errorf("%s: %v, want %v %s %q", tt.name, lines(told), tt.severity, tt.rule, tt.want)
		}
	}
	for name, text := range map[string]string{
		"each its own":                 product("a", "codes: [barcode]\nqr: digital link\npacks:\n  - {for: [us], "+pack+", barcode: 9520000001100}\n  - {for: [eu], "+pack+", barcode: 9520000001117}\n"),
		"one pack, both said":          product("a", "barcode: 9520000001100\npacks:\n  - {for: [us], "+pack+", barcode: 9520000001100}\n"),
		"sold in one market":           strings.Replace(product("a", "barcode: 9520000001100\npacks:\n  - {for: [us], "+pack+"}\n  - {for: [eu], "+pack+"}\n"), "[us, eu]", "[us]", 1),
		"none on the one pack without": product("a", "codes: [barcode]\npacks:\n  - {for: [us], "+pack+", codes: none}\n  - {for: [eu], "+pack+", barcode: 9520000001117}\n"),
	} {
		if _, out := LoadFiles([]File{{"b.yaml", []byte(shop + text)}}); strings.Contains(strings.Join(lines(out), "\n"), "item number") || out.Count(finding.Error) > 0 {
			t.Errorf("%s: %v", name, lines(out))
		}
	}
}
