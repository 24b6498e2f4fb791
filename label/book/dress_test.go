package book

import (
	"strings"
	"testing"
	"testing/fstest"

	"panelwright/label"
	"panelwright/label/font"
)

const dressBook = `workshop: Copper Kettle Baths
sell in: [us]
responsible:
  us: {name: Copper Kettle Baths, address: ["4 Sample Row", "Exampleton, VT 05000"], contact: hello@kettle.example}
---
formula: base
mix: [baking soda: 10 g]
---
product: one
exposure: rinse-off
identity: Bath salts
piece: [base: 10 g]
net: 10 g
keeps: 18 months
layout: mine
accent: C20 Y60 K10
font: {title: fonts/mine.ttf, text: fonts/mine.ttf}
logo: pictures/logo.svg
if it does not fit: [back, narrower]
packs:
  - {for: [us], label: wrap 50 mm, pack: bar 80 x 55 x 25 mm, accent: K60, corners: 4 mm}
  - {for: [ca], label: wrap, back: wrap 20 mm overlap 5 mm, pack: tin 66 x 25 mm}
  - {for: [gb], label: Hang Tag 50 x 90 mm}
  - {for: [eu], label: bag topper 80 x 45 mm, e-mark: yes}
  - {for: [ni], label: rounded 90 x 55 mm, corners: 4 mm, margin: 3 mm, bleed: 2 mm}
`

// Fonts, pictures and layouts of the maker's own are read from the book's folder; a file is read once.
func TestDress(t *testing.T) {
	b, out := LoadFS(fstest.MapFS{
		"book.yaml":         {Data: []byte(dressBook)},
		"looks/mine.yaml":   {Data: []byte("layout: mine\nframe: leaves\n")},
		"fonts/mine.ttf":    {Data: font.Slab.Data()},
		"pictures/logo.svg": {Data: []byte(`<svg viewBox="0 0 4 2"><path d="M0 0H4V2Z"/></svg>`)},
	})
	if len(out) > 0 {
		t.Fatal(lines(out))
	}
	p := b.Products[0]
	d := p.Dress
	if d.Look == nil || d.Look.Name != "mine" || d.Accent == nil || d.Accent.Y != 60 || d.Logo == nil || d.Logo.W != 2*d.Logo.H {
		t.Errorf("%+v", d)
	}
	if d.Title == nil || d.Title != d.Text || d.Title.Name() != "mine" {
		t.Error("one font file is not one font")
	}
	if len(d.Ladder) != 2 || d.Ladder[0] != label.SecondPanel || d.Ladder[1] != label.Narrower {
		t.Errorf("ladder: %v", d.Ladder)
	}
	for i, want := range []label.Shape{
		// 2 x (80 + 25) + 10 mm; 66 x 355/113 + 10 mm.
		{Kind: label.Wrap, W: 220_000, H: 50_000, Overlap: 10_000}, {Kind: label.Wrap, W: 217_346, H: 25_000, Overlap: 10_000},
		{Kind: label.HangTag, W: 50_000, H: 90_000}, {Kind: label.Topper, W: 80_000, H: 90_000}, {Kind: label.Rounded, W: 90_000, H: 55_000, Corner: 4000},
	} {
		got := p.Packs[i].Label
		got.Text, got.Pos = "", want.Pos
		if got != want {
			t.Errorf("pack %d: %+v, want %+v", i, got, want)
		}
	}
	if back := p.Packs[1].Back; back.W != 212_346 || back.H != 20_000 {
		t.Errorf("the side of the tin: %+v", back)
	}
	if all := p.Packs[0].Dress.Over(&p.Dress); all.Accent.K != 60 || all.Look != d.Look || all.Logo != d.Logo {
		t.Errorf("the pack's own choices do not come first: %+v", all)
	}
	if p.Packs[3].Dress.EMark != label.SaidYes || p.Packs[4].Dress.Bleed != 2000 || p.Packs[4].Dress.Margin != 3000 {
		t.Errorf("%+v %+v", p.Packs[3].Dress, p.Packs[4].Dress)
	}
}

func TestDressFiles(t *testing.T) {
	_, out := LoadFS(fstest.MapFS{
		"book.yaml":         {Data: []byte(dressBook)},
		"mine.yaml":         {Data: []byte("layout: mine\n")},
		"fonts/mine.ttf":    {Data: append([]byte("OTTO"), font.Slab.Data()[4:]...)},
		"pictures/logo.svg": {Data: []byte(`<svg viewBox="0 0 4 2"><text>Hay</text></svg>`)},
	})
	got := strings.Join(lines(out), "\n")
	for _, want := range []string{"the font file has no outlines", "pictures/logo.svg:1: <text>"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	_, out = LoadFS(fstest.MapFS{"book.yaml": {Data: []byte(dressBook)}, "mine.yaml": {Data: []byte("layout: mine\n")}})
	if got := strings.Join(lines(out), "\n"); !strings.Contains(got, "“fonts/mine.ttf” cannot be read") {
		t.Errorf("a font that is not there:\n%s", got)
	}
}
