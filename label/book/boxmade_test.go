package book_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/layout"
	"panelwright/label/record"
)

var boxBook = benchBook + `
---
product: plain fizz
like: hill fizz
slots: {scent: sweet almond oil}
---
set: hill box
identity: Gift box
holds: {hill fizz: 1}
net: 37 g
packs:
  - {for: [gb], label: rectangle 120 x 90 mm, pack: box 60 x 60 x 60 mm}
`

// Boxes are made up of the lots in them. The new scent of A17 adds 1.5 % x 0.8 % = 0.012 % citronellol, above 0.01 %.
func TestBoxAsMade(t *testing.T) {
	const lots = `
received: hill scent
lot: A16
on: 2026-05-01
---
received: hill scent
lot: A17
on: 2026-06-01
---
made: hill fizz
lot: OLD
on: 2026-06-10
pieces: 80
used: {hill scent: A16}
---
made: hill fizz
lot: NEW
on: 2026-06-11
pieces: 80
used: {hill scent: A17}
---
made: hill fizz
lot: STOP
on: 2026-06-12
pieces: 80
used: {hill scent: A16}
state: held
---
`
	for _, c := range []struct{ name, box, rule, words string }{
		{"as the book says", "used: {hill fizz: OLD x 5}", "", ""},
		{"another sheet", "used: {hill fizz: NEW x 5}", "lot.list", "it lacks Citronellol"},
		{"two lots in the boxes", "used: {hill fizz: [OLD x 3, NEW x 2]}", "lot.list", "it lacks Citronellol"},
		{"a held lot", "used: {hill fizz: STOP x 5}", string(record.RuleInside), "lot STOP of hill fizz in it is held"},
		{"no lot named", "remarks: in haste", string(record.RuleInside), "which lot of hill fizz is in the boxes is not recorded"},
		{"another product", "swapped: {hill fizz: plain fizz}", "lot.list", "it has no list “Plain fizz: Ingredients”"},
		{"not in it", "swapped: {bath salts: plain fizz}", "lot.swap", "hill box does not hold bath salts"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, bad := book.LoadFiles([]book.File{{Name: "b.yaml", Data: []byte(boxBook)}})
			if bad.Count(finding.Error) > 0 {
				t.Fatal(bad)
			}
			forms, bad := book.ParseForms(book.File{Name: "f", Data: []byte(lots + "made: hill box\nlot: BX\non: 2026-06-20\npieces: 5\n" + c.box + "\n")})
			if len(bad) > 0 {
				t.Fatal(bad)
			}
			var entries []*record.Entry
			for i, f := range forms {
				f.Entry.Number = i + 1
				entries = append(entries, f.Entry)
			}
			l, _ := record.NewLedger(entries)
			desk := label.NewDesk(&b.Workshop)
			product := func(name string) *label.Product {
				for _, p := range b.Products {
					if p.Name == name {
						return p
					}
				}
				return nil
			}
			m, found := l.BoxAsMade(b.Sets[0], l.Lot("BX"), record.Bench{Product: product, Made: func(x *record.Lot) (*label.Product, finding.List) {
				m, bad := l.AsMade(desk.Composer, product(x.Product), x, b)
				return m.Product, bad
			}})
			if found.Count(finding.Error) == 0 {
				on := date.Of(2026, 6, 20)
				j := record.Judge(desk, m, date.Occasion{On: on, Placed: on}, func(*label.Product, *label.Pack) *label.PackCopy { return nil })
				found = append(found, j.Findings...)
				if want := c.rule != "lot.list"; j.Packs[0].True != want {
					t.Errorf("the label is true: %v, want %v", j.Packs[0].True, want)
				}
			}
			found = slices.DeleteFunc(found, func(f finding.Finding) bool { return f.Severity < finding.Warning })
			if c.rule == "" {
				if len(found) > 0 {
					t.Errorf("found %v", found)
				}
				return
			}
			if !slices.ContainsFunc(found, func(f finding.Finding) bool { return string(f.Rule) == c.rule && strings.Contains(f.Message, c.words) }) {
				t.Errorf("no %s with %q in %v", c.rule, c.words, found)
			}
		})
	}
}

// What is frozen, written and read again is laid out as what was approved.
func TestFrozenLaysOutTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Replace(benchBook, "keeps: 18 months", rapid.SampledFrom([]string{"keeps: 18 months", "keeps: 40 months\nopened: 12 months", "keeps: 30 months"}).Draw(t, "keeps"), 1)
		text = strings.Replace(text, "net: 37 g", "net: 37 g\ndirections: '"+rapid.StringMatching(`[A-Z][a-z]{2,8}( [a-z<>&]{1,9}){0,9}`).Draw(t, "directions")+"'\ncautions: [slippery tub]", 1)
		if rapid.Bool().Draw(t, "sticker") {
			text = strings.Replace(text, "pack: box 60 x 60 x 60 mm", "pack: box 60 x 60 x 60 mm, lot goes: on sticker", 1)
		}
		if !rapid.Bool().Draw(t, "single use") {
			again := "opened: 6 months\n"
			if strings.Contains(text, "opened: 12 months") {
				again = ""
			}
			text = strings.Replace(text, "single use: yes\n", again, 1)
		}
		b, bad := book.LoadFiles([]book.File{{Name: "b.yaml", Data: []byte(text)}})
		if bad.Count(finding.Error) > 0 {
			t.Fatal(bad)
		}
		on := date.Of(2026, 6, 20)
		p := b.Products[0]
		pack := p.PackFor("gb")
		copy := label.CopyFor(pack, label.NewDesk(&b.Workshop).Declare(p, p.SellIn, date.Occasion{On: on, Placed: on}))
		data, print := record.Freeze(copy).JSON()
		frozen, err := record.ParseFrozen(data, print)
		if err != nil {
			t.Fatal(err)
		}
		again, err := frozen.Copy(p, pack)
		if err != nil {
			t.Fatal(err)
		}
		want, err1 := layout.Label(copy, layout.Options{})
		got, err2 := layout.Label(again, layout.Options{})
		if (err1 == nil) != (err2 == nil) {
			t.Fatalf("approved: %v; read again: %v", err1, err2)
		}
		if !reflect.DeepEqual(want, got) {
			t.Errorf("what was read again is laid out otherwise:\n%s", data)
		}
		if _, err := record.ParseFrozen(data, "000000000000"); err == nil {
			t.Error("a copy was taken under a fingerprint that is not its own")
		}
	})
}
