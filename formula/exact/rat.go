// Package exact holds the one number type that decisions are made with: a
// rational number without rounding.
//
// Recipes are thirds of cups and ounces of 28.349523125 g; a threshold such as
// 0.01 % is strict, so a result that is off in the last digit prints a wrong
// pack. Rat keeps numerator and denominator in machine words while they fit
// and moves to math/big when they do not; both give the same answers.
//
// A Rat is rounded only when it is printed, and always towards a side that the
// caller names.
package exact

import (
	"fmt"
	"math"
	"math/big"
	"math/bits"

	"github.com/shopspring/decimal"
)

// Rat is an exact rational number. The zero value is 0. A Rat is never changed
// after it is made and may be copied; compare with Cmp or Equal, not ==.
type Rat struct {
	n   int64    // numerator, with the sign
	d   int64    // denominator, > 0; 0 stands for 1 so that the zero value is 0
	big *big.Rat // used instead of n/d when they do not fit
}

// Int returns n as a Rat.
func Int(n int64) Rat {
	if n == math.MinInt64 {
		return fromBig(new(big.Rat).SetInt64(n))
	}
	return Rat{n: n, d: 1}
}

// Frac returns n/d. It panics if d is 0: a zero denominator in the source code
// is a mistake of the programmer, not of the reader's input.
func Frac(n, d int64) Rat {
	if d == 0 {
		panic("exact: zero denominator")
	}
	if n == math.MinInt64 || d == math.MinInt64 {
		return fromBig(big.NewRat(n, d))
	}
	if d < 0 {
		n, d = -n, -d
	}
	if n == 0 {
		return Rat{d: 1}
	}
	g := int64(gcd(abs(n), uint64(d)))
	return Rat{n: n / g, d: d / g}
}

// FromDecimal returns d exactly.
func FromDecimal(d decimal.Decimal) Rat { return fromBig(d.Rat()) }

// FromBig returns r exactly. It keeps no reference to r.
func FromBig(r *big.Rat) Rat { return fromBig(new(big.Rat).Set(r)) }

// Parse reads a plain decimal ("0.25", "-3", "12.50") or a fraction of whole
// numbers ("1/3"). It takes no exponent, no sign but a leading minus, and no
// white space.
func Parse(s string) (Rat, error) {
	bad := func() (Rat, error) { return Rat{}, fmt.Errorf("%q is not a number", s) }
	if s == "" || len(s) > 200 {
		return bad()
	}
	digits, slash, point := 0, -1, -1
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c >= '0' && c <= '9':
			digits++
		case c == '-' && i == 0:
		case c == '/' && slash < 0 && point < 0 && digits > 0 && i+1 < len(s):
			slash = i
		case c == '.' && point < 0 && slash < 0:
			point = i
		default:
			return bad()
		}
	}
	if digits == 0 {
		return bad()
	}
	if digits <= 18 && slash < 0 {
		var n int64
		var neg bool
		d := int64(1)
		for i := 0; i < len(s); i++ {
			switch c := s[i]; c {
			case '-':
				neg = true
			case '.':
			default:
				n = n*10 + int64(c-'0')
				if point >= 0 && i > point {
					d *= 10
				}
			}
		}
		if neg {
			n = -n
		}
		return Frac(n, d), nil
	}
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		return bad()
	}
	return fromBig(r), nil
}

// Must is Parse for constants in source code and tables that a test has read
// already. It panics on an error.
func Must(s string) Rat {
	r, err := Parse(s)
	if err != nil {
		panic("exact: " + err.Error())
	}
	return r
}

// Big returns the value as a new big.Rat.
func (a Rat) Big() *big.Rat {
	if a.big != nil {
		return new(big.Rat).Set(a.big)
	}
	return big.NewRat(a.n, a.den())
}

// Add returns a + b.
func (a Rat) Add(b Rat) Rat {
	switch {
	case a.Sign() == 0:
		return b
	case b.Sign() == 0:
		return a
	case a.big == nil && b.big == nil:
		if r, ok := addSmall(a.n, a.den(), b.n, b.den()); ok {
			return r
		}
	}
	return fromBig(new(big.Rat).Add(a.view(), b.view()))
}

// Sub returns a - b.
func (a Rat) Sub(b Rat) Rat {
	if b.big == nil {
		return a.Add(b.Neg())
	}
	return fromBig(new(big.Rat).Sub(a.view(), b.big))
}

// Neg returns -a.
func (a Rat) Neg() Rat {
	if a.big != nil {
		return fromBig(new(big.Rat).Neg(a.big))
	}
	return Rat{n: -a.n, d: a.den()}
}

// Mul returns a * b.
func (a Rat) Mul(b Rat) Rat {
	switch {
	case a.Sign() == 0 || b.Sign() == 0:
		return Rat{d: 1}
	case a.isOne():
		return b
	case b.isOne():
		return a
	case a.big == nil && b.big == nil:
		if r, ok := mulSmall(a.n, a.den(), b.n, b.den()); ok {
			return r
		}
	}
	return fromBig(new(big.Rat).Mul(a.view(), b.view()))
}

// Quo returns a / b. It panics if b is 0.
func (a Rat) Quo(b Rat) Rat {
	if b.Sign() == 0 {
		panic("exact: division by zero")
	}
	if a.big == nil && b.big == nil {
		if a.n == 0 {
			return Rat{d: 1}
		}
		n, d := b.den(), b.n
		if d < 0 {
			n, d = -n, -d
		}
		if r, ok := mulSmall(a.n, a.den(), n, d); ok {
			return r
		}
	}
	return fromBig(new(big.Rat).Quo(a.view(), b.view()))
}

// Sign returns -1, 0 or +1.
func (a Rat) Sign() int {
	switch {
	case a.big != nil:
		return a.big.Sign()
	case a.n < 0:
		return -1
	case a.n > 0:
		return 1
	}
	return 0
}

// IsZero reports whether a is 0.
func (a Rat) IsZero() bool { return a.Sign() == 0 }

// Cmp returns -1, 0 or +1 as a is less than, equal to or greater than b.
func (a Rat) Cmp(b Rat) int {
	if a.big != nil || b.big != nil {
		return a.view().Cmp(b.view())
	}
	sa, sb := a.Sign(), b.Sign()
	if sa != sb {
		if sa < sb {
			return -1
		}
		return 1
	}
	ad, bd := a.den(), b.den()
	if ad == bd {
		switch {
		case a.n < b.n:
			return -1
		case a.n > b.n:
			return 1
		}
		return 0
	}
	h1, l1 := bits.Mul64(abs(a.n), uint64(bd))
	h2, l2 := bits.Mul64(abs(b.n), uint64(ad))
	c := 0
	switch {
	case h1 < h2 || h1 == h2 && l1 < l2:
		c = -1
	case h1 > h2 || h1 == h2 && l1 > l2:
		c = 1
	}
	return c * sa
}

// Equal reports whether a and b are the same number.
func (a Rat) Equal(b Rat) bool { return a.Cmp(b) == 0 }

// Less reports whether a < b.
func (a Rat) Less(b Rat) bool { return a.Cmp(b) < 0 }

// Min returns the lesser of a and b.
func Min(a, b Rat) Rat {
	if b.Less(a) {
		return b
	}
	return a
}

// Max returns the greater of a and b.
func Max(a, b Rat) Rat {
	if a.Less(b) {
		return b
	}
	return a
}

// Sum returns the sum of all terms, 0 for none.
func Sum(terms ...Rat) Rat {
	var t Rat
	for _, x := range terms {
		t = t.Add(x)
	}
	return t
}

// String returns the exact value: a plain decimal where it is finite and
// short, else "n/d".
func (a Rat) String() string {
	r := a.view()
	if r.IsInt() {
		return r.Num().String()
	}
	if n, ok := finitePlaces(r.Denom()); ok && n <= 18 {
		return decimal.NewFromBigRat(r, int32(n)).String()
	}
	return r.String()
}

func (a Rat) den() int64 {
	if a.d == 0 {
		return 1
	}
	return a.d
}

func (a Rat) isOne() bool { return a.n == 1 && a.d == 1 && a.big == nil }

func (a Rat) view() *big.Rat {
	if a.big != nil {
		return a.big
	}
	r := new(big.Rat).SetInt64(a.n)
	if a.den() != 1 {
		r.Denom().SetInt64(a.d) // a reference; n/d is in lowest terms already, which NewRat would work out anew
	}
	return r
}

// fromBig takes ownership of r.
func fromBig(r *big.Rat) Rat {
	if r.Num().IsInt64() && r.Denom().IsInt64() && r.Num().Int64() != math.MinInt64 {
		return Rat{n: r.Num().Int64(), d: r.Denom().Int64()}
	}
	return Rat{big: r}
}

func addSmall(an, ad, bn, bd int64) (Rat, bool) {
	if ad == bd {
		s, ok := addOK(an, bn)
		if !ok {
			return Rat{}, false
		}
		if ad == 1 {
			return Rat{n: s, d: 1}, s != math.MinInt64
		}
		if s == math.MinInt64 {
			return Rat{}, false
		}
		return Frac(s, ad), true
	}
	g := int64(gcd(uint64(ad), uint64(bd)))
	x, ok1 := mulOK(an, bd/g)
	y, ok2 := mulOK(bn, ad/g)
	if !ok1 || !ok2 {
		return Rat{}, false
	}
	t, ok := addOK(x, y)
	if !ok || t == math.MinInt64 {
		return Rat{}, false
	}
	if t == 0 {
		return Rat{d: 1}, true
	}
	g2 := int64(1)
	if g != 1 {
		g2 = int64(gcd(abs(t), uint64(g)))
	}
	d, ok := mulOK(ad/g, bd/g2)
	if !ok {
		return Rat{}, false
	}
	return Rat{n: t / g2, d: d}, true
}

func mulSmall(an, ad, bn, bd int64) (Rat, bool) {
	g1 := int64(gcd(abs(an), uint64(bd)))
	g2 := int64(gcd(abs(bn), uint64(ad)))
	n, ok1 := mulOK(an/g1, bn/g2)
	d, ok2 := mulOK(ad/g2, bd/g1)
	return Rat{n: n, d: d}, ok1 && ok2
}

func addOK(a, b int64) (int64, bool) {
	c := a + b
	return c, (c > a) == (b > 0) || b == 0
}

func mulOK(a, b int64) (int64, bool) {
	hi, lo := bits.Mul64(abs(a), abs(b))
	if hi != 0 || lo > math.MaxInt64 {
		return 0, false
	}
	if (a < 0) != (b < 0) {
		return -int64(lo), true
	}
	return int64(lo), true
}

func abs(n int64) uint64 {
	if n < 0 {
		return uint64(-n)
	}
	return uint64(n)
}

func gcd(a, b uint64) uint64 {
	if a == 0 {
		return b
	}
	if b == 0 {
		return a
	}
	shift := bits.TrailingZeros64(a | b)
	a >>= bits.TrailingZeros64(a)
	for b != 0 {
		b >>= bits.TrailingZeros64(b)
		if a > b {
			a, b = b, a
		}
		b -= a
	}
	return a << shift
}
