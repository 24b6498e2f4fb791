package formula_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula"
	"panelwright/formula/exact"
)

// Invented moulds, worked by hand. The first: a slab of 250 x 90 x 60 mm that
// was weighed at 1,210 g. 3 mm go at either end and 1 mm at each of nine cuts:
// 250 - 6 - 9 = 235 mm, ten pieces of 23.5 mm. They are 235/250 of the slab,
// 1,137.4 g, or 113.74 g each; 72.6 g are lost.
func TestMould(t *testing.T) {
	slab := formula.Mould{Holds: exact.Int(1210), Length: 250_000, Width: 90_000, Height: 60_000, Along: 10, Across: 1, Kerf: 1_000, Ends: 3_000}
	changed := func(f func(*formula.Mould)) formula.Mould { m := slab; f(&m); return m }
	for _, tt := range []struct {
		name        string
		mould       formula.Mould
		pieces      int
		fresh, lost string
		size, cured [3]int64
		ok          bool
	}{
		{"ends and cuts", slab, 10, "113.74", "72.6", [3]int64{90_000, 60_000, 23_500}, [3]int64{}, true},
		// 1 g off each of ten pieces.
		{"planed", changed(func(m *formula.Mould) { m.Planed = exact.Int(1) }), 10, "112.74", "82.6", [3]int64{90_000, 60_000, 23_500}, [3]int64{}, true},
		// (90 - 1)/2 = 44.5 mm; 2250 x 235/250 x 89/90 = 2091.5 g, twenty of 104.575 g.
		{"two rows", changed(func(m *formula.Mould) { m.Across, m.Holds = 2, exact.Int(2250) }), 20, "104.575", "158.5", [3]int64{60_000, 44_500, 23_500}, [3]int64{}, true},
		{"shrunk by 2 %", changed(func(m *formula.Mould) { m.Shrinks, m.Shrunk = exact.Frac(2, 100), true }), 10, "113.74", "72.6", [3]int64{90_000, 60_000, 23_500}, [3]int64{88_200, 58_800, 23_030}, true},
		{"never weighed", changed(func(m *formula.Mould) { m.Holds = exact.Rat{} }), 10, "0", "0", [3]int64{90_000, 60_000, 23_500}, [3]int64{}, true},
		{"single cavities", formula.Mould{Holds: exact.Int(960), Pieces: 6, Planed: exact.Int(2)}, 6, "158", "12", [3]int64{}, [3]int64{}, true},
		{"all of it cut away", changed(func(m *formula.Mould) { m.Kerf = 30_000 }), 0, "0", "0", [3]int64{}, [3]int64{}, false},
		{"all of it planed away", formula.Mould{Holds: exact.Int(10), Pieces: 5, Planed: exact.Int(2)}, 5, "0", "10", [3]int64{}, [3]int64{}, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c, ok := tt.mould.Cut()
			want := formula.Cutting{Pieces: tt.pieces, Fresh: exact.Must(tt.fresh), Lost: exact.Must(tt.lost), Size: tt.size, Cured: tt.cured}
			if ok != tt.ok || !cmp.Equal(c, want, cmp.Comparer(exact.Rat.Equal)) {
				t.Errorf("%v: %s", ok, cmp.Diff(want, c, cmp.Comparer(exact.Rat.Equal), cmp.Transformer("say", exact.Rat.String)))
			}
		})
	}
	if n, over := slab.Fillings(61); n != 7 || over != 9 {
		t.Errorf("61 pieces of ten a mould take %d moulds with %d over, want 7 with 9", n, over)
	}
}
