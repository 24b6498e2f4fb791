package exact

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

func TestGrid(t *testing.T) {
	for _, tt := range []struct {
		a, want string
		per     int64
		side    Side
	}{
		{"1/3", "33/100", 100, Down}, {"1/3", "34/100", 100, Up}, {"1/3", "33/100", 100, Nearest},
		{"-1/3", "-34/100", 100, Down}, {"-1/3", "-33/100", 100, Up}, {"-1/3", "-33/100", 100, Nearest},
		{"0.125", "0.13", 100, Nearest}, {"-0.125", "-0.13", 100, Nearest},
		{"0.25", "0.25", 100, Down}, {"0.25", "0.25", 100, Up}, {"0", "0", 100, Up},
	} {
		r, ok := new(big.Rat).SetString(tt.want)
		a, _ := new(big.Rat).SetString(tt.a)
		if got := FromBig(a).Grid(tt.per, tt.side); !ok || !got.Equal(FromBig(r)) {
			t.Errorf("%s on 1/%d, side %d: %s, want %s", tt.a, tt.per, tt.side, got, tt.want)
		}
	}
}

// Whatever the size of the number, the grid brackets it within one step.
func TestGridBrackets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := new(big.Rat).SetFrac64(rapid.Int64().Draw(t, "n"), rapid.Int64Range(1, 1<<62).Draw(t, "d"))
		if rapid.Bool().Draw(t, "large") {
			a.Mul(a, new(big.Rat).SetFrac64(rapid.Int64().Draw(t, "n2"), rapid.Int64Range(1, 1<<62).Draw(t, "d2")))
		}
		per := rapid.Int64Range(1, 1_000_000_000).Draw(t, "per")
		x := FromBig(a)
		lo, hi, mid := x.Grid(per, Down), x.Grid(per, Up), x.Grid(per, Nearest)
		step := Frac(1, per)
		if x.Less(lo) || hi.Less(x) || step.Less(hi.Sub(lo)) || mid.Less(lo) || hi.Less(mid) || !lo.Mul(Int(per)).Equal(FromBig(new(big.Rat).SetInt(lo.Mul(Int(per)).Floor()))) {
			t.Fatalf("%s on 1/%d: %s, %s, %s", x, per, lo, mid, hi)
		}
	})
}
