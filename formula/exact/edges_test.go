package exact

import (
	"math"
	"math/big"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

// edge draws numbers where machine words end, and small ones.
func edge(t *rapid.T, name string) *big.Rat {
	word := rapid.SampledFrom([]int64{0, 1, -1, 2, 10, 1 << 31, 1<<32 + 1, math.MaxInt64, math.MaxInt64 - 1, math.MinInt64, math.MinInt64 + 1})
	n, d := word.Draw(t, name+" n"), word.Filter(func(n int64) bool { return n != 0 }).Draw(t, name+" d")
	return big.NewRat(n, d)
}

func TestEdgesAgreeWithBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := edge(t, "x"), edge(t, "y")
		a, b := FromBig(x), FromBig(y)
		check := func(op string, got Rat, want *big.Rat) {
			t.Helper()
			if got.Big().Cmp(want) != 0 {
				t.Errorf("%s of %v and %v: %v, want %v", op, x, y, got, want)
			}
			// One number has one form, so that sums of many steps stay small.
			if fits := want.Num().IsInt64() && want.Denom().IsInt64() && want.Num().Int64() != math.MinInt64; fits != (got.big == nil) {
				t.Errorf("%s of %v and %v is kept in the wrong form", op, x, y)
			}
			if got.big == nil && (gcd(abs(got.n), uint64(got.den())) != 1 && got.n != 0) {
				t.Errorf("%s of %v and %v is not in lowest terms: %d/%d", op, x, y, got.n, got.d)
			}
		}
		check("add", a.Add(b), new(big.Rat).Add(x, y))
		check("sub", a.Sub(b), new(big.Rat).Sub(x, y))
		check("mul", a.Mul(b), new(big.Rat).Mul(x, y))
		check("neg", a.Neg(), new(big.Rat).Neg(x))
		if y.Sign() != 0 {
			check("quo", a.Quo(b), new(big.Rat).Quo(x, y))
		}
		if got, want := a.Cmp(b), x.Cmp(y); got != want || a.Less(b) != (want < 0) || a.Equal(b) != (want == 0) {
			t.Errorf("%v compared with %v: %d, want %d", x, y, got, want)
		}
		lo, hi := Min(a, b), Max(a, b)
		if hi.Less(lo) || !lo.Add(hi).Equal(a.Add(b)) {
			t.Errorf("min and max of %v and %v: %v, %v", x, y, lo, hi)
		}
		if got, want := a.Sign(), x.Sign(); got != want || a.IsZero() != (want == 0) {
			t.Errorf("sign of %v: %d", x, got)
		}
		if f := a.Floor(); new(big.Rat).SetInt(f).Cmp(x) > 0 || new(big.Rat).SetInt(new(big.Int).Add(f, big.NewInt(1))).Cmp(x) <= 0 {
			t.Errorf("floor of %v: %v", x, f)
		}
	})
}

func TestFracAndInt(t *testing.T) {
	for _, n := range []int64{0, 1, -1, 6, math.MaxInt64, math.MinInt64} {
		if got := Int(n).Big(); got.Cmp(big.NewRat(n, 1)) != 0 {
			t.Errorf("Int(%d) = %v", n, got)
		}
		for _, d := range []int64{1, -1, 4, -6, math.MaxInt64, math.MinInt64} {
			if got := Frac(n, d).Big(); got.Cmp(big.NewRat(n, d)) != 0 {
				t.Errorf("Frac(%d, %d) = %v", n, d, got)
			}
		}
	}
	for name, f := range map[string]func(){
		"Frac with 0 below": func() { Frac(1, 0) },
		"division by 0":     func() { Int(1).Quo(Rat{}) },
		"Must of a word":    func() { Must("much") },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s does not panic", name)
				}
			}()
			f()
		}()
	}
}

// The zero value is the number 0 in every operation.
func TestZeroValue(t *testing.T) {
	var z Rat
	third := Frac(1, 3)
	for _, c := range []struct {
		name      string
		got, want Rat
	}{
		{"z + 1/3", z.Add(third), third}, {"1/3 + z", third.Add(z), third}, {"1/3 - z", third.Sub(z), third},
		{"z * 1/3", z.Mul(third), Int(0)}, {"z / 1/3", z.Quo(third), Int(0)}, {"-z", z.Neg(), Int(0)},
		{"z + z", z.Add(z), z}, {"sum of none", Sum(), Frac(0, 5)},
	} {
		if !c.got.Equal(c.want) {
			t.Errorf("%s = %v", c.name, c.got)
		}
	}
	if z.String() != "0" || !z.Decimal(2, Up).IsZero() {
		t.Errorf("zero prints as %s and %s", z, z.Decimal(2, Up))
	}
}

func TestDecimalSides(t *testing.T) {
	for _, c := range []struct {
		in                string
		places            int
		down, up, nearest string
	}{
		{"1/3", 2, "0.33", "0.34", "0.33"},
		{"2/3", 2, "0.66", "0.67", "0.67"},
		{"-1/3", 2, "-0.34", "-0.33", "-0.33"},
		{"0.125", 2, "0.12", "0.13", "0.13"}, // half goes away from zero
		{"-0.125", 2, "-0.13", "-0.12", "-0.13"},
		{"2.5", 0, "2", "3", "3"},
		{"-2.5", 0, "-3", "-2", "-3"},
		{"7", 3, "7.000", "7.000", "7.000"},
		{"0.0100000001", 4, "0.0100", "0.0101", "0.0100"},
		{"123456789012345678901234567890.5", 0, "123456789012345678901234567890", "123456789012345678901234567891", "123456789012345678901234567891"},
		{"9223372036854775807", 18, "9223372036854775807.000000000000000000", "9223372036854775807.000000000000000000", "9223372036854775807.000000000000000000"},
		{"1/3", 18, "0.333333333333333333", "0.333333333333333334", "0.333333333333333333"},
	} {
		for side, want := range map[Side]string{Down: c.down, Up: c.up, Nearest: c.nearest} {
			if got := Must(c.in).Decimal(c.places, side).StringFixed(int32(c.places)); got != want {
				t.Errorf("%s to %d places, side %d: %s, want %s", c.in, c.places, side, got, want)
			}
		}
	}
}

func TestString(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"0.5", "0.5"}, {"-0.125", "-0.125"}, {"1/3", "1/3"}, {"-22/7", "-22/7"}, {"100", "100"},
		{"0.000000000000000001", "0.000000000000000001"},    // 18 places
		{"0.0000000000000000001", "1/10000000000000000000"}, // 19 places
		{"28349.523125", "28349.523125"}, {"1/1024", "0.0009765625"},
	} {
		if got := Must(c.in).String(); got != c.want {
			t.Errorf("%s prints as %s, want %s", c.in, got, c.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a := FromBig(edge(t, "a"))
		if b, err := Parse(a.String()); err != nil || !b.Equal(a) {
			t.Errorf("%v is read back as %v, %v", a, b, err)
		}
	})
}

// Parse agrees with math/big on every plain decimal, short or long.
func TestParseAgreesWithBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`-?[0-9]{1,25}(\.[0-9]{1,25})?`).Draw(t, "number")
		want, ok := new(big.Rat).SetString(s)
		if !ok {
			t.Fatalf("%q is no number to math/big", s)
		}
		got, err := Parse(s)
		if err != nil || got.Big().Cmp(want) != 0 {
			t.Errorf("Parse(%q) = %v, %v; want %v", s, got, err, want)
		}
	})
}

func TestFromDecimal(t *testing.T) {
	for _, s := range []string{"0", "28.349523125", "-0.0001", "123456789012345678901234567890.25", "12000"} {
		d := decimal.RequireFromString(s)
		if got := FromDecimal(d); !got.Equal(Must(s)) {
			t.Errorf("%s becomes %v", s, got)
		}
	}
}

// A Rat made from a big.Rat, or turned into one, shares nothing with it.
func TestBigIsCopied(t *testing.T) {
	x, _ := new(big.Rat).SetString("123456789012345678901234567890/7")
	a := FromBig(x)
	x.SetInt64(1)
	a.Big().SetInt64(2)
	if want := Must("123456789012345678901234567890/7"); !a.Equal(want) {
		t.Errorf("%v, want %v", a, want)
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"", "0.25", "-3", "1/3", "1.", ".5", "-", "1e9", "00012", "1/0", "٣", "0x1p4", "1_000"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := Parse(s)
		if err != nil {
			return
		}
		want, ok := new(big.Rat).SetString(s)
		if !ok || a.Big().Cmp(want) != 0 {
			t.Errorf("Parse(%q) = %v, math/big says %v, %v", s, a, want, ok)
		}
	})
}
