package exact

import (
	"math/big"
	"math/bits"
)

// Grid returns the multiple of 1/per that lies nearest to a on the given side;
// per is greater than 0. A bound moved outwards on a grid is still a bound, and
// is a small number again.
func (a Rat) Grid(per int64, side Side) Rat {
	if a.big == nil {
		if hi, lo := bits.Mul64(abs(a.n), uint64(per)); hi < uint64(a.den()) {
			q, rem := bits.Div64(hi, lo, uint64(a.den()))
			up := side == Up && a.n > 0 || side == Down && a.n < 0
			if up && rem > 0 || side == Nearest && rem >= uint64(a.den())-rem {
				q++
			}
			if q < 1<<62 {
				if a.n < 0 {
					return Frac(-int64(q), per)
				}
				return Frac(int64(q), per)
			}
		}
	}
	r := a.view()
	q, m := new(big.Int).DivMod(new(big.Int).Mul(r.Num(), big.NewInt(per)), r.Denom(), new(big.Int))
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
	if q.IsInt64() && q.Int64() > -1<<62 && q.Int64() < 1<<62 {
		return Frac(q.Int64(), per)
	}
	return fromBig(new(big.Rat).SetFrac(q, big.NewInt(per)))
}
