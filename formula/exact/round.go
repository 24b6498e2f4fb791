package exact

import (
	"math/big"
	"math/bits"

	"github.com/shopspring/decimal"
)

// Side says which way a number may move when it is printed.
type Side int

const (
	Down    Side = iota // towards minus infinity: a minimum
	Up                  // towards plus infinity: a maximum
	Nearest             // half away from zero: a typical figure
)

// Decimal returns a rounded to places digits after the point (0 to 18)
// towards side.
func (a Rat) Decimal(places int, side Side) decimal.Decimal {
	if a.big == nil && a.n >= 0 && places >= 0 && places <= 18 {
		hi, lo := bits.Mul64(uint64(a.n), pow10[places])
		d := uint64(a.den())
		if hi < d {
			q, rem := bits.Div64(hi, lo, d)
			if (side == Up && rem > 0 || side == Nearest && rem >= d-rem) && q < 1<<62 {
				q++
			}
			if q < 1<<62 {
				return decimal.New(int64(q), int32(-places))
			}
		}
	}
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
	r := a.view()
	n := new(big.Int).Mul(r.Num(), scale)
	q, m := new(big.Int).DivMod(n, r.Denom(), new(big.Int))
	switch {
	case m.Sign() == 0:
	case side == Up:
		q.Add(q, big.NewInt(1))
	case side == Nearest:
		// DivMod floors; a negative half goes down to stay away from zero.
		twice := m.Lsh(m, 1).Cmp(r.Denom())
		if twice > 0 || twice == 0 && r.Sign() > 0 {
			q.Add(q, big.NewInt(1))
		}
	}
	return decimal.NewFromBigInt(q, int32(-places))
}

// Floor returns the greatest whole number not above a.
func (a Rat) Floor() *big.Int {
	r := a.view()
	return new(big.Int).Div(r.Num(), r.Denom())
}

var pow10 = func() (p [19]uint64) {
	p[0] = 1
	for i := 1; i < len(p); i++ {
		p[i] = p[i-1] * 10
	}
	return
}()

// finitePlaces returns how many decimal places 1/den needs, if finite.
func finitePlaces(den *big.Int) (int, bool) {
	d := new(big.Int).Set(den)
	count := func(p int64) (n int) {
		f, m := big.NewInt(p), new(big.Int)
		for {
			q, r := new(big.Int).QuoRem(d, f, m)
			if r.Sign() != 0 {
				return n
			}
			d = q
			n++
		}
	}
	twos, fives := count(2), count(5)
	return max(twos, fives), d.IsInt64() && d.Int64() == 1
}
