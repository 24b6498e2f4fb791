package paper_test

import (
	"bytes"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/layout"
	"panelwright/label/paper"
	"panelwright/label/record"
	"panelwright/label/scene"
)

// An invented book with lines in ounces, cups, pounds and per cents.
const unitsBook = `
workshop: Invented Bench
sell in: [us]
responsible:
  us: {name: Invented Bench, address: [1 Lane, "Exampleton, VT 05000"], country: US, contact: hello@bench.example}
scale: {reads: 1 g, up to: 5 kg}
---
material: corn starch
inci: Zea Mays Starch
class: starch
density: 1 cup = 128 g
---
formula: units mix
mix:
  - baking soda: 10 oz
  - 1 1/2 cups corn starch
  - 1 lb 2 oz citric acid anhydrous
  - cocoa butter: 85 g
  - kaolin: 1.5 %
---
product: units fizz
identity: Bath fizz
type: bath fizz
exposure: rinse-off
piece: [units mix: 100 g]
net: 100 g
keeps: 18 months
packs:
  - {for: [us], label: rectangle 90 x 60 mm, pack: box 60 x 60 x 60 mm}
`

func unitsSheet(t *testing.T, pieces int) *paper.Making {
	t.Helper()
	b, found := book.LoadFiles([]book.File{{Name: "units.yaml", Data: []byte(unitsBook)}})
	if found.Count(finding.Error) > 0 {
		t.Fatal(found)
	}
	pl, bad := record.NewPlan(formula.NewComposer(), &b.Workshop, b.Products[0], record.Request{Pieces: pieces, Code: "U1"})
	if pl == nil {
		t.Fatal(bad)
	}
	return &paper.Making{Plan: pl, Workshop: &b.Workshop, On: date.Of(2026, 6, 14), Fine: pl.TooFine()}
}

// As written the mix weighs (283.49523125 + 192 + 510.29141625 + 85) / 0.985 = 1087.09 g. Twice that is twice each line.
func TestWrittenInHerUnits(t *testing.T) {
	whole := exact.Must("1070.7866475").Quo(exact.Must("0.985"))
	b, _ := book.LoadFiles([]book.File{{Name: "units.yaml", Data: []byte(unitsBook)}})
	lines, bad := formula.NewComposer().Batch(b.Formulas[0], nil, whole.Mul(exact.Int(2)))
	if len(bad) > 0 {
		t.Fatal(bad)
	}
	want := []string{"20 oz", "3 cups", "36 oz wt", "", "1.5 %"}
	for i, w := range lines {
		if got := paper.Written(&record.Amount{Weighing: w}); got != want[i] {
			t.Errorf("twice “%s” is %q, want %q", w.Line.Text, got, want[i])
		}
	}
	if got := paper.Written(&record.Amount{}); got != "worked out" {
		t.Errorf("lye that was worked out is written as %q", got)
	}
}

// The page says what the text says, and has a square to tick for each thing to fetch and for each thing to weigh, and a
// line to write on for its lot and its weight. A bowl of 4500 g is 1173.52 + 794.78 + 2112.34 + 351.86 + 67.5 g, in steps
// of 1 g 1174 + 795 + 2112 + 352 + 68 = 4501 g.
func TestMakeSheet(t *testing.T) {
	m := unitsSheet(t, 90) // two bowls of 45 pieces
	doc := paper.Make(m)
	var b bytes.Buffer
	if err := doc.Text(&b); err != nil {
		t.Fatal(err)
	}
	scenes, err := doc.Pages(layout.A4)
	if err != nil {
		t.Fatal(err)
	}
	var set strings.Builder
	squares := 0
	for _, s := range scenes {
		for _, item := range s.Items {
			switch x := item.(type) {
			case *scene.Text:
				set.WriteString(x.String() + " ")
			case *scene.Path:
				if x.Stroke != nil && len(x.Segments) > 4 {
					squares++
				}
			}
		}
	}
	text, printed := flat(b.String()), flat(set.String())
	for _, words := range []string{"Make units fizz", "90 pieces", "Lot U1: 90 pieces", "2 of 4500 g (45 pieces)", "Bowls 1 and 2, each: 4500 g, 45 pieces", "Dust: mask and goggles",
		"bowl 1", "bowl 2", "Together 4501 g", "Pieces that came out", "the official texts, local law and a qualified safety assessor have the last word"} {
		if !strings.Contains(text, words) || !strings.Contains(printed, words) {
			t.Errorf("%q: in the text %t, on the page %t", words, strings.Contains(text, words), strings.Contains(printed, words))
		}
	}
	if want := 5 + 2*5; squares != want || strings.Count(text, "[ ]") != want {
		t.Errorf("%d squares drawn and %d written, want %d", squares, strings.Count(text, "[ ]"), want)
	}
	for _, bad := range []string{"compliant", "approved", "lawful"} {
		if strings.Contains(strings.ToLower(text), bad) {
			t.Errorf("the sheet says %q", bad)
		}
	}
}

// What is out of date, used up or not recorded is told apart.
func TestMakeSheetStock(t *testing.T) {
	m := unitsSheet(t, 10)
	day := date.Of(2026, 6, 1)
	for i, n := range m.Plan.Needs {
		s := record.Supply{Need: n}
		known := func(code string, left int64) *record.Balance {
			return &record.Balance{Receipt: &record.Receipt{Material: n.Name(), Code: code, On: day}, Left: exact.Int(left), Known: true}
		}
		switch i {
		case 0:
			s.Recorded, s.Lots, s.InHand, s.Buy = true, []*record.Balance{known("B3", 100)}, exact.Int(100), n.Grams.Sub(exact.Int(100))
		case 1:
			old := known("C1", 500)
			old.Receipt.Expires = date.Of(2026, 6, 2)
			s.Recorded, s.Expired, s.Buy = true, []*record.Balance{old}, n.Grams
		case 2:
			s.Recorded, s.Buy = true, n.Grams
		default:
			s.Buy = n.Grams
		}
		m.Supplies = append(m.Supplies, s)
	}
	var b bytes.Buffer
	if err := paper.Make(m).Text(&b); err != nil {
		t.Fatal(err)
	}
	text := flat(b.String())
	// 1000 g take 283.49523 x 1000 / 1087.09 = 260.78 g of soda: 161 g are missing, rounded up.
	for _, words := range []string{"261 g B3: 100 g 161 g", "C1 expired on 2026-06-02: not counted", "used up", "white kaolin clay 15 g not recorded"} {
		if !strings.Contains(text, words) {
			t.Errorf("not said: %q in\n%s", words, b.String())
		}
	}
}

func TestPackingSheet(t *testing.T) {
	m := unitsSheet(t, 1)
	lot := &record.Lot{Code: "0601"}
	set := &label.Set{Product: label.Product{Name: "winter box"}}
	inside := []record.Inside{{Product: m.Plan.Product, Pieces: 40, From: []record.FromLot{{Lot: lot, Pieces: 30}}, Make: 10, Waiting: []record.FromLot{{Lot: &record.Lot{Code: "0602"}, Pieces: 8}}}}
	var b bytes.Buffer
	if err := paper.MakeSet(set, 20, "G1", inside, date.Of(2026, 6, 14), "box.form.yaml").Text(&b); err != nil {
		t.Fatal(err)
	}
	text := flat(b.String())
	for _, words := range []string{"Pack winter box", "Boxes: 20", "units fizz 40 0601: 30; 10 to make 2", "10 of units fizz: panelwright make 'units fizz' --pieces 10", "Lot 0602 has 8, which are not ready", "fill in box.form.yaml"} {
		if !strings.Contains(text, words) {
			t.Errorf("not said: %q in\n%s", words, b.String())
		}
	}
}
