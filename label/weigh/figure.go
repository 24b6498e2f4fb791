package weigh

import (
	"math/big"
	"strings"

	"panelwright/formula/exact"
)

// shown is how many decimal places are printed where no threshold asks for more.
const shown = 4

// figure prints x with few decimals, but with enough to stand on the same side
// of limit as x itself.
func figure(x, limit exact.Rat) string {
	for places := shown; places < 18; places++ {
		d := x.Decimal(places, exact.Nearest)
		if exact.FromDecimal(d).Cmp(limit) == x.Cmp(limit) {
			return trim(d.StringFixed(int32(places)))
		}
	}
	return x.String()
}

// plain prints x to shown decimals.
func plain(x exact.Rat) string { return trim(x.Decimal(shown, exact.Nearest).StringFixed(shown)) }

func trim(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Root prints the square root of x >= 0 to so many decimal places, half up.
func Root(x exact.Rat, places int) string {
	// floor(sqrt(4 x 100^places)) is twice the root in the last place, so that its last bit rounds.
	r := x.Big()
	scale := new(big.Int).Exp(big.NewInt(100), big.NewInt(int64(places)), nil)
	n := new(big.Int).Mul(r.Num(), scale)
	n.Lsh(n, 2).Div(n, r.Denom())
	n.Sqrt(n).Add(n, big.NewInt(1)).Rsh(n, 1)
	unit := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
	return exact.FromBig(new(big.Rat).SetFrac(n, unit)).Decimal(places, exact.Down).StringFixed(int32(places))
}

func root(x exact.Rat) string { return trim(Root(x, shown)) }

// rootOf returns the square root of x >= 0 rounded down to eight decimals, for
// printing what follows from it; nothing is decided with it.
func rootOf(x exact.Rat) exact.Rat { return exact.Must(Root(x, 8)) }

// atMostRoot reports whether x <= f * sqrt(v) for f, v >= 0, without a root;
// strict asks for x < f * sqrt(v).
func atMostRoot(x, f, v exact.Rat, strict bool) bool {
	if x.Sign() < 0 {
		return true
	}
	c := x.Mul(x).Cmp(f.Mul(f).Mul(v))
	return c < 0 || c == 0 && !strict
}
