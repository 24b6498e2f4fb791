package book_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/date"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/record"
)

// received and made, joined to a ledger.
func ledger(t *testing.T, entries string) *record.Ledger {
	t.Helper()
	forms, found := book.ParseForms(book.File{Name: "form.yaml", Data: []byte(entries)})
	if len(found) > 0 {
		t.Fatalf("the form: %v", found)
	}
	var all []*record.Entry
	for i, f := range forms {
		f.Entry.Number = i + 1
		all = append(all, f.Entry)
	}
	l, _ := record.NewLedger(all)
	return l
}

const cameIn = `
received: hill scent
lot: A17
on: 2026-05-01
amount: 200 g
---
received: hill scent
lot: A18
on: 2026-06-01
amount: 1 kg
expires: 2026-12-31
---
received: hill scent
lot: A9
on: 2025-06-01
amount: 500 g
expires: 2026-06-01
---
received: baking soda
lot: B3
on: 2026-05-01
amount: 10 kg
---
received: spare salt
lot: S1
on: 2026-05-01
---
made: nested fizz
lot: "0601"
on: 2026-06-05
pieces: 80
used: {hill scent: [A17, A18], baking soda: B3}
---
made: nested fizz
lot: "0602"
on: 2026-06-06
pieces: 100
used: {hill scent: A18}
weighed: {outer mix: {hill scent: 160 g}}
`

// Lot 0601 took 120 g of scent, all of A17. Lot 0602 took 160 g of A18 as weighed, and soda without saying of which
// lot. Soda: 80 pieces take 3710.42 g, see above; 100 pieces take 0.6 x 3001.52 + 10000/999.238579 x 283.49523 = 4638.03 g.
func TestStock(t *testing.T) {
	b := bench(t, "")
	l := ledger(t, cameIn)
	desk := label.NewDesk(&b.Workshop)
	var takes []record.Take
	for _, x := range l.Lots {
		made, bad := l.AsMade(desk.Composer, product(t, b, x.Product), x, b)
		if len(bad) > 0 {
			t.Fatal(bad)
		}
		takes = append(takes, record.Take{Lot: x, Needs: made.Took(desk.Composer)})
	}
	s := l.Stock(b, takes)
	var got []string
	for _, name := range []string{"hill scent", "baking soda", "spare salt"} {
		for _, x := range s.Of(b.Material(name)) {
			got = append(got, fmt.Sprintf("%s took %s left %s guessed %s known %t", x.Receipt.Code, g2(x.Took), g2(x.Left), g2(x.Guessed), x.Known))
		}
	}
	want := []string{
		"A9 took 0 left 500 guessed 0 known true", // the first to expire first
		"A18 took 160 left 840 guessed 0 known true",
		"A17 took 120 left 80 guessed 0 known true",
		"B3 took 8348.45 left 1651.55 guessed 4638.03 known true",
		"S1 took 0 left 0 guessed 0 known false",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("balances (-want +got):\n%s", diff)
	}
	on := date.Of(2026, 6, 14)
	for _, x := range s.Supplies(plan(t, b, "nested fizz", record.Request{Pieces: 80}).Needs, on, nil) {
		got := fmt.Sprintf("%s in hand, %s to buy, %d expired", g2(x.InHand), g2(x.Buy), len(x.Expired))
		want := map[string]string{"hill scent": "920 in hand, 0 to buy, 1 expired", "baking soda": "1651.55 in hand, 2058.87 to buy, 0 expired",
			"citric acid anhydrous": "0 in hand, 4969.58 to buy, 0 expired", "spare salt": "0 in hand, 160 to buy, 0 expired"}[x.Name()]
		if got != want {
			t.Errorf("%s: %s; want %s", x.Name(), got, want)
		}
	}
	// 1651.55 g of soda at 46.3803 g a piece are enough for 35; of scent from A17 alone for 80/1.5 = 53.
	if n, short := s.Enough(desk.Composer, &b.Workshop, product(t, b, "nested fizz"), on, nil); n != 35 || strings.Join(short, " ") != "baking soda" {
		t.Errorf("enough for %d, then short of %v; want 35 and soda", n, short)
	}
	// 35 pieces of soda are 34 and a spare: 2 % of 34 are one.
	if n, _ := s.Enough(desk.Composer, &b.Workshop, product(t, b, "spared fizz"), on, nil); n != 34 {
		t.Errorf("with spares enough for %d, want 34", n)
	}
	all := s.Supplies(plan(t, b, "nested fizz", record.Request{Pieces: 80}).Needs, on, []string{"A17"})
	for _, x := range all {
		if x.Name() == "hill scent" && g2(x.Buy) != "40" { // 120 g less the 80 g of A17
			t.Errorf("from lot A17 alone %s g are missing, want 40", g2(x.Buy))
		}
	}
}

func TestForSet(t *testing.T) {
	b := bench(t, `
---
set: box of fizzes
identity: Gift box
holds: {nested fizz: 2, spared fizz: 1}
net: 330 g
packs:
  - {for: [gb], label: rectangle 90 x 60 mm, pack: box 120 x 80 x 60 mm}
`)
	l := ledger(t, `
made: nested fizz
lot: "0602"
on: 2026-06-02
pieces: 30
---
made: nested fizz
lot: "0601"
on: 2026-06-01
pieces: 15
---
made: nested fizz
lot: "0603"
on: 2026-06-03
pieces: 90
state: held
---
made: spared fizz
lot: "0611"
on: 2026-06-01
pieces: 12
---
went: "0601"
on: 2026-06-05
pieces: 5
to: Harbour Shop
`)
	inside := l.ForSet(b.Sets[0], 25)
	var got []string
	for _, x := range inside {
		s := fmt.Sprintf("%s %d, %d to make:", x.Product.Name, x.Pieces, x.Make)
		for _, f := range x.From {
			s += fmt.Sprintf(" %s %d", f.Lot.Code, f.Pieces)
		}
		for _, f := range x.Waiting {
			s += fmt.Sprintf(" (%s %d)", f.Lot.Code, f.Pieces)
		}
		got = append(got, s)
	}
	want := []string{"nested fizz 50, 10 to make: 0601 10 0602 30 (0603 90)", "spared fizz 25, 13 to make: 0611 12"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if n := record.BoxesInHand(l.ForSet(b.Sets[0], 1)); n != 12 {
		t.Errorf("enough for %d boxes, want 12: 40/2 and 12/1", n)
	}
}
