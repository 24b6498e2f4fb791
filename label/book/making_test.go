package book_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/record"
)

// An invented book with a fizz in a fizz: the core is mixed first, goes into the outer mix, and by itself into the
// piece as well.
const nestedBook = `
workshop: Invented Bench
sell in: [gb]
responsible:
  gb: {name: Invented Bench, address: [1 Lane, Exampleton, EX1 1EX], country: GB, contact: hello@bench.example}
scale: {reads: 1 g, up to: 5 kg}
bowl: 4 kg
---
material: hill scent
class: fragrance
allergens: {Geraniol: 0.66 %}
covers: gb
use limit: {bath: 12 %}
---
material: spare salt
inci: Sodium Chloride
class: salt
---
formula: crumb
mix:
  - baking soda: 60 %
  - citric acid anhydrous: 40 %
---
formula: outer mix
mix:
  - crumb: 200 g
  - baking soda: 10 oz
  - citric acid anhydrous: 500.754768750 g
  - hill scent: 1.5 %
---
product: nested fizz
identity: Bath fizz
type: bath fizz
exposure: rinse-off
piece:
  - outer mix: 100 g
  - crumb: 10 g
  - spare salt: 2 g
net: 110 g
keeps: 18 months
single use: yes
packs:
  - {for: [gb], label: rectangle 90 x 60 mm, pack: box 60 x 60 x 60 mm}
---
product: spared fizz
like: nested fizz
spares: 2 %
---
product: bowl fizz
like: nested fizz
spares: 1 a bowl
`

func bench(t *testing.T, more string) *book.Book {
	t.Helper()
	b, found := book.LoadFiles([]book.File{{Name: "bench.yaml", Data: []byte(nestedBook + more)}})
	if n := found.Count(finding.Error); n > 0 {
		t.Fatalf("the book: %v", found)
	}
	return b
}

func product(t *testing.T, b *book.Book, name string) *label.Product {
	t.Helper()
	for _, p := range b.Products {
		if p.Name == name {
			return p
		}
	}
	t.Fatalf("no product %s", name)
	return nil
}

func plan(t *testing.T, b *book.Book, name string, r record.Request) *record.Plan {
	t.Helper()
	pl, bad := record.NewPlan(label.NewDesk(&b.Workshop).Composer, &b.Workshop, product(t, b, name), r)
	if pl == nil {
		t.Fatalf("no plan: %v", bad)
	}
	return pl
}

func g2(x exact.Rat) string { return x.Decimal(2, exact.Nearest).String() }

// mixesOf prints the mixes of a lot: "crumb 2424.24: 1 x 2424.24 (0)".
func mixesOf(lot record.PlannedLot) (out []string) {
	for _, x := range lot.Mixes {
		s := x.Formula.Name + " " + g2(x.Grams) + ":"
		for _, b := range x.Bowls {
			s += fmt.Sprintf(" %d x %s (%d)", b.Count, g2(b.Grams), b.Pieces)
		}
		out = append(out, s)
	}
	return out
}

// The mix as written: 200 g of crumb, 283.49523125 g of soda, 500.75476875 g of acid, in all 984.25 g, which are
// 98.5 % with 1.5 % of scent. So the whole is 984.25 / 0.985 = 999.238579 g, and 80 pieces of 100 g are 8000 g, a
// factor of 8.00609602. Of that crumb takes 200 x 8.00609602 = 1601.22 g, and 80 x 10 g more into the pieces: 2401.22 g.
func TestEightyNested(t *testing.T) {
	b := bench(t, "")
	pl := plan(t, b, "nested fizz", record.Request{Pieces: 80, Code: "0614"})
	want := []string{
		"crumb 2401.22: 1 x 2401.22 (0)", // it goes into another mix, so its bowls are not counted in pieces
		"outer mix 8000: 2 x 4000 (40)",
	}
	if diff := cmp.Diff(want, mixesOf(pl.Lots[0])); diff != "" {
		t.Errorf("mixes (-want +got):\n%s", diff)
	}
	var lines []string
	for _, a := range pl.Lots[0].Mixes[1].Bowls[0].Lines { // one bowl of two: a factor of 4.00304801
		lines = append(lines, fmt.Sprintf("%s %s -> %s", a.Name(), g2(a.Grams), g2(a.Weigh)))
	}
	want = []string{"crumb 800.61 -> 801", "baking soda 1134.85 -> 1135", "citric acid anhydrous 2004.55 -> 2005", "hill scent 60 -> 60"}
	if diff := cmp.Diff(want, lines); diff != "" {
		t.Errorf("lines (-want +got):\n%s", diff)
	}
	// Soda: 0.6 x 2401.22 + 2 x 1134.85; acid: 0.4 x 2401.22 + 2 x 2004.55; salt: 80 x 2 g.
	var needs []string
	var sum exact.Rat
	for _, n := range pl.Needs {
		needs = append(needs, n.Name()+" "+g2(n.Grams))
		sum = sum.Add(n.Grams)
	}
	want = []string{"baking soda 3710.42", "citric acid anhydrous 4969.58", "hill scent 120", "spare salt 160"}
	if diff := cmp.Diff(want, needs); diff != "" {
		t.Errorf("needs (-want +got):\n%s", diff)
	}
	if !sum.Equal(exact.Int(80 * 112)) { // whatever the nesting, nothing is lost
		t.Errorf("all needs weigh %s g, 80 pieces of 112 g weigh 8960 g", sum)
	}
}

func TestSparesBowlsAndLots(t *testing.T) {
	cases := []struct {
		name, product, workshop string
		request                 record.Request
		spares                  int
		lots                    []string
	}{
		{"2 % of 600 are 12", "spared fizz", "", record.Request{Pieces: 600}, 12, []string{" 612"}},
		{"2 % of 10 are one, for a fifth of a piece is none", "spared fizz", "", record.Request{Pieces: 10}, 1, []string{" 11"}},
		// 80 pieces are two bowls of 4000 g; two spares make a third bowl, and that a third spare.
		{"one a bowl", "bowl fizz", "", record.Request{Pieces: 80}, 3, []string{" 83"}},
		{"one a bowl that is not full", "bowl fizz", "", record.Request{Pieces: 70}, 2, []string{" 72"}},
		{"room to dry parts an order into even lots", "spared fizz", "drying space: 200 pieces", record.Request{Pieces: 600, Code: "W"}, 12, []string{"Wa 153", "Wb 153", "Wc 153", "Wd 153"}},
		{"the last lots are the smaller", "nested fizz", "drying space: 200", record.Request{Pieces: 401, Code: "W"}, 0, []string{"Wa 134", "Wb 134", "Wc 133"}},
		// 112 g a piece: 10 kg are 89.28 pieces.
		{"a batch by weight", "spared fizz", "", record.Request{Batch: exact.Int(10000)}, 0, []string{" 89"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			b := bench(t, "")
			if c.workshop != "" {
				var found finding.List
				b, found = book.LoadFiles([]book.File{{Name: "bench.yaml", Data: []byte(strings.Replace(nestedBook, "bowl: 4 kg", "bowl: 4 kg\n"+c.workshop, 1))}})
				if found.Count(finding.Error) > 0 {
					t.Fatal(found)
				}
			}
			pl := plan(t, b, c.product, c.request)
			var lots []string
			for _, l := range pl.Lots {
				lots = append(lots, fmt.Sprintf("%s %d", l.Code, l.Pieces))
			}
			if diff := cmp.Diff(c.lots, lots); diff != "" || pl.Spares != c.spares {
				t.Errorf("%d spares, want %d; lots (-want +got):\n%s", pl.Spares, c.spares, diff)
			}
			var sum exact.Rat
			for _, n := range pl.Needs {
				sum = sum.Add(n.Grams)
			}
			due := exact.Int(int64(112 * pl.All()))
			if c.request.Batch.Sign() > 0 {
				due = c.request.Batch
			}
			if !sum.Equal(due) {
				t.Errorf("needs weigh %s g, want %s g", g2(sum), g2(due))
			}
		})
	}
}

func TestBatchTooSmall(t *testing.T) {
	b := bench(t, "")
	pl, bad := record.NewPlan(label.NewDesk(&b.Workshop).Composer, &b.Workshop, product(t, b, "nested fizz"), record.Request{Batch: exact.Int(111)})
	if pl != nil || len(bad) != 1 || bad[0].Rule != record.RuleSmallBatch {
		t.Errorf("a batch of 111 g for pieces of 112 g: %v", bad)
	}
}

// A slab of 1000 g is cut into 8 bars of 115 g; what the cuts take is poured too.
func TestSlabsAreFull(t *testing.T) {
	b := bench(t, `
---
formula: slab mix
mix: [cocoa butter: 70 %, beeswax: 30 %]
mould: {holds: 1000 g, slab: 250 x 80 x 50 mm, cut: 8 x 1, kerf: 2 mm, ends: 3 mm}
---
product: slab bar
identity: Body bar
type: body balm
exposure: leave-on
piece: [slab mix: 115 g]
net: 115 g
keeps: 18 months
opened: 12 months
packs:
  - {for: [gb], label: rectangle 90 x 60 mm, pack: box 60 x 60 x 60 mm}
`)
	pl := plan(t, b, "slab bar", record.Request{Pieces: 20})
	x := pl.Lots[0].Mixes[0]
	if x.Fillings != 3 || x.Over != 4 || !x.Grams.Equal(exact.Int(3000)) {
		t.Errorf("20 bars: %d fillings, %d over, %s g; want 3, 4 and 3000 g", x.Fillings, x.Over, g2(x.Grams))
	}
	if got := mixesOf(pl.Lots[0]); got[0] != "slab mix 3000: 1 x 3000 (24)" {
		t.Errorf("bowls: %s", got[0])
	}
	// 47 bars are 6 slabs: two bowls of 3 slabs, for a bowl holds 4 kg.
	if got := mixesOf(plan(t, b, "slab bar", record.Request{Pieces: 47}).Lots[0]); got[0] != "slab mix 6000: 2 x 3000 (24)" {
		t.Errorf("bowls: %s", got[0])
	}
}

// 30 g of scent into a bowl of 2000 g on a scale of 1 g: less than fifty steps. Fifty are reached with 3333.33 g, that
// is 33.33, so 34 pieces. A premix of 50 g scent and 450 g soda; 300 g of it hold the 30 g, and 270 g of the soda.
func TestTooFine(t *testing.T) {
	b := bench(t, "")
	pl := plan(t, b, "nested fizz", record.Request{Pieces: 20})
	all := pl.TooFine()
	if len(all) != 1 {
		t.Fatalf("%d amounts are too fine: %v", len(all), all)
	}
	f := all[0]
	got := []string{f.Amount.Name(), g2(f.Amount.Grams), g2(f.Enough), fmt.Sprint(f.Pieces), f.Reads.String()}
	if diff := cmp.Diff([]string{"hill scent", "30", "3333.33", "34", "0.1"}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	x := f.Premix
	if x == nil {
		t.Fatal("no premix")
	}
	got = []string{x.Carrier.Name(), g2(x.Own), g2(x.With), g2(x.Take), g2(x.Left)}
	// Of the powders soda carries it, not acid: 283.49523 x 2000 / 999.238579 = 567.42 g of it, less 270 g.
	if diff := cmp.Diff([]string{"baking soda", "50", "450", "300", "297"}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	// The bowl by the premix holds what the bowl by the recipe holds: the scent and the carrier, before rounding.
	tenth := exact.Frac(1, 10)
	take := f.Amount.Grams.Mul(exact.Int(10))
	carrier := x.Carrier.Grams.Sub(f.Amount.Grams.Mul(exact.Int(9))).Add(take.Mul(exact.Int(1).Sub(tenth)))
	if !take.Mul(tenth).Equal(f.Amount.Grams) || !carrier.Equal(x.Carrier.Grams) {
		t.Errorf("a premix changes what is in the piece: %s g of scent, %s g of carrier", g2(take.Mul(tenth)), g2(carrier))
	}
	if pl := plan(t, b, "nested fizz", record.Request{Pieces: 34}); len(pl.TooFine()) != 0 {
		t.Errorf("34 pieces are still too fine: %v", pl.TooFine())
	}
}

// Geraniol is 0.66 % of the scent. A piece of 112 g has 1.5 g of scent: 0.0088 %, not above 0.01 % and not named. Five
// pieces take 7.5 g of scent, rounded to 8 g: 0.0094 %. With half a gram more and all else half a gram less it is
// 0.0101 %, and named.
func TestScaleAtItsWorst(t *testing.T) {
	b := bench(t, "")
	desk := label.NewDesk(&b.Workshop)
	day := date.Occasion{On: date.Of(2026, 6, 14), Placed: date.Of(2026, 6, 14)}
	five := plan(t, b, "nested fizz", record.Request{Pieces: 5}).AtWorst(desk, day)
	if len(five) != 1 || five[0].Rule != record.RuleScaleWorst || !strings.Contains(five[0].Message, "it lacks Geraniol") || !strings.Contains(five[0].Message, "with hill scent so much over") {
		t.Errorf("five pieces: %v", five)
	}
	if many := plan(t, b, "nested fizz", record.Request{Pieces: 80}).AtWorst(desk, day); len(many) != 0 {
		t.Errorf("80 pieces: %v", many)
	}
}
