package book_test

import (
	"strings"
	"testing"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/book"
)

func TestSparesAsWritten(t *testing.T) {
	cases := []struct {
		written string
		want    label.Spares
		ok      bool
	}{
		{"2 %", label.Spares{Share: exact.Frac(1, 50)}, true},
		{"1 a bowl", label.Spares{Bowl: 1}, true},
		{"2 per bowl", label.Spares{Bowl: 2}, true},
		{"1 for each bowl", label.Spares{Bowl: 1}, true},
		{"3 pieces", label.Spares{Pieces: 3}, true},
		{"1 piece", label.Spares{Pieces: 1}, true},
		{"3", label.Spares{Pieces: 3}, true},
		{"100 %", label.Spares{}, false},
		{"a few", label.Spares{}, false},
		{"2 % of fats", label.Spares{}, false},
		{"20 g", label.Spares{}, false},
		{"0 a bowl", label.Spares{}, false},
	}
	for _, c := range cases {
		t.Run(c.written, func(t *testing.T) {
			b, found := book.LoadFiles([]book.File{{Name: "bench.yaml", Data: []byte(strings.Replace(nestedBook, "spares: 2 %", "spares: "+c.written, 1))}})
			if bad := found.Count(finding.Error) > 0; bad == c.ok {
				t.Fatalf("read as %v", found)
			}
			if !c.ok {
				return
			}
			got := product(t, b, "spared fizz").Spares
			if !got.Share.Equal(c.want.Share) || got.Pieces != c.want.Pieces || got.Bowl != c.want.Bowl {
				t.Errorf("%q is %+v, want %+v", c.written, got, c.want)
			}
		})
	}
}

func TestWorkshopBench(t *testing.T) {
	read := func(lines string) (*book.Book, int) {
		b, found := book.LoadFiles([]book.File{{Name: "bench.yaml", Data: []byte(strings.Replace(nestedBook, "bowl: 4 kg", lines, 1))}})
		return b, found.Count(finding.Error)
	}
	b, bad := read("bowl: 9 lb\ndrying space: 200 pieces")
	if bad > 0 || !b.Workshop.Bowl.Equal(exact.Must("4082.33133")) || b.Workshop.DryingSpace != 200 {
		t.Errorf("a bowl of 9 lb is %s g, room for %d", b.Workshop.Bowl, b.Workshop.DryingSpace)
	}
	for _, wrong := range []string{"bowl: 4 l", "bowl: large", "drying space: two shelves", "drying space: 0", "drying space: 2 m"} {
		if _, bad := read(wrong); bad != 1 {
			t.Errorf("%q: %d errors, want one", wrong, bad)
		}
	}
}

// A product like another that needs fewer slots takes none from that other.
func TestLikeLeavesSlotsAlone(t *testing.T) {
	b := bench(t, `
---
formula: scented
mix: [baking soda: 99 %, perfume: 1 %]
---
product: scented fizz
like: nested fizz
piece: [scented: 112 g]
slots: {perfume: hill scent}
---
product: plain fizz
like: scented fizz
piece: [crumb: 112 g]
`)
	if n := len(product(t, b, "scented fizz").Piece.Slots); n != 1 {
		t.Errorf("the scented fizz has %d slots filled, want 1", n)
	}
	if n := len(product(t, b, "plain fizz").Piece.Slots); n != 0 {
		t.Errorf("the plain fizz has %d slots filled, want none", n)
	}
}
