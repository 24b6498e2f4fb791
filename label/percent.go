package label

import (
	"strings"

	"panelwright/formula"
	"panelwright/formula/exact"
)

var hundred = exact.Int(100)

// Percent prints a fraction as a per cent with the given number of decimals,
// rounded towards side, without a sign: "4.20".
func Percent(x exact.Rat, places int, side exact.Side) string {
	return x.Mul(hundred).Decimal(places, side).StringFixed(int32(places))
}

// PercentBeside prints a fraction as a per cent with at least four decimals and
// as many more as it takes for the printed figure to stand on the same side of
// limit as the exact one. Only a fraction equal to a limit that no decimal
// states is cut short, at 18.
func PercentBeside(x, limit exact.Rat, side exact.Side) string {
	want := x.Cmp(limit)
	p, l := x.Mul(hundred), limit.Mul(hundred)
	for places := 4; ; places += 2 {
		d := p.Decimal(places, side)
		if exact.FromDecimal(d).Cmp(l) == want || want == 0 && places >= 18 {
			return d.StringFixed(int32(places)) + " %"
		}
	}
}

// Shown is a share made ready for print: per cents with the least rounded down,
// the greatest rounded up, and enough digits to tell them apart.
type Shown struct {
	Min     string `json:"min"`
	Typical string `json:"typical"`
	Max     string `json:"max"`
}

// Show prints a share as per cents without a sign. Shares of a whole per cent
// get two decimals, smaller ones up to six so that three figures stand.
//
// Bounds are kept on a grid, moved outwards (formula.Reaction), so that one of
// 8 % may come as 7.9999998 %. What lies within a thousandth of the last printed
// place of a figure is printed as that figure.
func Show(s formula.Share) Shown {
	places, hair := 2, exact.Frac(1, 10_000_000)
	for t := s.Max; places < 6 && t.Sign() > 0 && t.Less(exact.Frac(1, 100)); places++ {
		t, hair = t.Mul(exact.Int(10)), hair.Quo(exact.Int(10))
	}
	least, most := exact.Min(s.Min.Add(hair), s.Typical), exact.Max(s.Max.Sub(hair), s.Typical)
	return Shown{Percent(least, places, exact.Down), Percent(s.Typical, places, exact.Nearest), Percent(most, places, exact.Up)}
}

// Greatest prints the row's greatest share as a per cent without a sign, on its
// own side of the threshold.
func (r AllergenRow) Greatest() string { return r.beside(r.Share.Max, exact.Up) }

// Shown returns the row's share for print, each figure on its own side of the
// threshold.
func (r AllergenRow) Shown() Shown {
	return Shown{r.beside(r.Share.Min, exact.Down), r.beside(r.Share.Typical, exact.Nearest), r.Greatest()}
}

func (r AllergenRow) beside(x exact.Rat, side exact.Side) string {
	return strings.TrimSuffix(PercentBeside(x, r.Threshold, side), " %")
}

// Limit prints the threshold as a per cent without a sign.
func (r AllergenRow) Limit() string { return r.Threshold.Mul(hundred).String() }
