package exact

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// The oracle is math/big: every operation must agree with it, in and out of
// the machine-word range.
func TestAgreesWithBig(t *testing.T) {
	gen := rapid.Custom(func(t *rapid.T) *big.Rat {
		n := rapid.Int64().Draw(t, "n")
		d := rapid.Int64Range(1, 1<<62).Draw(t, "d")
		if rapid.Bool().Draw(t, "small") {
			n, d = n%1000, d%1000+1
		}
		return big.NewRat(n, d)
	})
	rapid.Check(t, func(t *rapid.T) {
		x, y := gen.Draw(t, "x"), gen.Draw(t, "y")
		a, b := FromBig(x), FromBig(y)
		same := func(op string, got Rat, want *big.Rat) {
			if got.Big().Cmp(want) != 0 {
				t.Fatalf("%s: got %v want %v", op, got, want)
			}
		}
		same("add", a.Add(b), new(big.Rat).Add(x, y))
		same("sub", a.Sub(b), new(big.Rat).Sub(x, y))
		same("mul", a.Mul(b), new(big.Rat).Mul(x, y))
		if y.Sign() != 0 {
			same("quo", a.Quo(b), new(big.Rat).Quo(x, y))
		}
		if a.Cmp(b) != x.Cmp(y) {
			t.Fatalf("cmp: got %d want %d", a.Cmp(b), x.Cmp(y))
		}
		for _, places := range []int{0, 3, 9} {
			lo, hi := a.Decimal(places, Down), a.Decimal(places, Up)
			if lo.Rat().Cmp(x) > 0 || hi.Rat().Cmp(x) < 0 {
				t.Fatalf("%v is not within [%v, %v]", x, lo, hi)
			}
			mid := FromDecimal(a.Decimal(places, Nearest)).Sub(a)
			if mid.Sign() < 0 {
				mid = mid.Neg()
			}
			if FromBig(hi.Rat()).Sub(FromBig(lo.Rat())).Quo(Int(2)).Less(mid) && !hi.Equal(lo) {
				t.Fatalf("nearest of %v at %d places is off by %v", x, places, mid)
			}
		}
	})
}

func TestParse(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"0.25", "0.25"}, {"10", "10"}, {"-3", "-3"}, {"1/3", "1/3"}, {"28.349523125", "28.349523125"},
		{".5", "0.5"}, {"2/4", "0.5"}, {"123456789012345678901234567890", "123456789012345678901234567890"},
	} {
		r, err := Parse(c.in)
		if err != nil || r.String() != c.want {
			t.Errorf("Parse(%q) = %v, %v; want %s", c.in, r, err, c.want)
		}
	}
	for _, in := range []string{"", "-", ".", "1e3", " 1", "1 ", "+1", "1/", "/2", "1/2/3", "0x1", "1.2.3", "1,5", "1/0"} {
		if r, err := Parse(in); err == nil {
			t.Errorf("Parse(%q) = %v, want an error", in, r)
		}
	}
}

func TestThirds(t *testing.T) {
	third := Frac(1, 3)
	if got := Sum(third, third, third); !got.Equal(Int(1)) {
		t.Errorf("a third times three = %v", got)
	}
	if got := Frac(2, 3).Decimal(2, Nearest).StringFixed(2); got != "0.67" {
		t.Errorf("2/3 to two places = %s", got)
	}
}

func BenchmarkAdd(b *testing.B) {
	x, y := Must("28.349523125"), Frac(85, 7)
	for b.Loop() {
		_ = x.Add(y)
	}
}

func BenchmarkMul(b *testing.B) {
	x, y := Must("28.349523125"), Frac(85, 7)
	for b.Loop() {
		_ = x.Mul(y)
	}
}
