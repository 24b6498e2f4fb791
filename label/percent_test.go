package label

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelwright/formula"
	"panelwright/formula/exact"
)

func drawShare(t *rapid.T, name string) exact.Rat {
	d := rapid.Int64Range(1, 1<<40).Draw(t, name+" of")
	return exact.Frac(rapid.Int64Range(0, d).Draw(t, name), d)
}

// S1: whatever is printed beside a limit stands on its own side of it.
func TestPercentBesideStandsOnItsSide(t *testing.T) {
	limits := []exact.Rat{percent("0.001"), percent("0.01"), percent("1"), percent("1.2")}
	rapid.Check(t, func(t *rapid.T) {
		limit := limits[rapid.IntRange(0, len(limits)-1).Draw(t, "limit")]
		x := drawShare(t, "share")
		if rapid.Bool().Draw(t, "near") { // as near as recipes and sheets come, and nearer
			x = limit.Add(drawShare(t, "off").Quo(exact.Int(rapid.Int64Range(1, 1<<60).Draw(t, "nearer"))))
			if rapid.Bool().Draw(t, "below") {
				x = limit.Add(limit).Sub(x)
			}
		}
		for _, side := range []exact.Side{exact.Down, exact.Up, exact.Nearest} {
			s := PercentBeside(x, limit, side)
			y := percent(strings.TrimSuffix(s, " %"))
			if y.Cmp(limit) != x.Cmp(limit) {
				t.Fatalf("%v beside %v is printed as %s", x, limit, s)
			}
			if side == exact.Down && x.Less(y) || side == exact.Up && y.Less(x) {
				t.Fatalf("%v is rounded the wrong way to %s", x, s)
			}
		}
	})
}

// The printed bounds enclose the exact ones, those of Show to a thousandth of
// their last place, and each stands on its side of the threshold.
func TestShownEncloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo, mid, hi := drawShare(t, "a"), drawShare(t, "b"), drawShare(t, "c")
		if mid.Less(lo) {
			lo, mid = mid, lo
		}
		if hi.Less(mid) {
			mid, hi = hi, mid
		}
		if mid.Less(lo) {
			lo, mid = mid, lo
		}
		small := exact.Int(rapid.Int64Range(1, 1000000).Draw(t, "small"))
		s := formula.Share{Min: lo.Quo(small), Typical: mid.Quo(small), Max: hi.Quo(small)}
		r := AllergenRow{Share: s, Threshold: percent("0.01")}
		for _, v := range []Shown{Show(s), r.Shown()} {
			_, places, _ := strings.Cut(v.Max, ".")
			hair := percent("0." + strings.Repeat("0", len(places)+2) + "1")
			if s.Min.Add(hair).Less(percent(v.Min)) || percent(v.Max).Less(s.Max.Sub(hair)) || percent(v.Typical).Less(percent(v.Min)) || percent(v.Max).Less(percent(v.Typical)) {
				t.Fatalf("%v is shown as %v", s, v)
			}
		}
		v := r.Shown()
		for _, c := range []struct {
			x    exact.Rat
			text string
		}{{s.Min, v.Min}, {s.Typical, v.Typical}, {s.Max, v.Max}} {
			if percent(c.text).Cmp(r.Threshold) != c.x.Cmp(r.Threshold) {
				t.Fatalf("%v is shown as %s beside a threshold of 0.01", c.x, c.text)
			}
		}
	})
}

func TestShow(t *testing.T) {
	for _, c := range []struct{ share, want string }{
		{"51.2820512", "51.28"}, {"1", "1.00"}, {"0.99994", "1.000"}, {"0.5", "0.500"}, {"0.05", "0.0500"}, {"0.005", "0.00500"},
		{"0.0005", "0.000500"}, {"0.00005", "0.000050"}, {"0", "0.00"},
	} {
		x := percent(c.share)
		if got := Show(formula.Share{Min: x, Typical: x, Max: x}).Typical; got != c.want {
			t.Errorf("%s: %s, want %s", c.share, got, c.want)
		}
	}
	bounds := func(lo, mid, hi string) Shown {
		return Show(formula.Share{Min: percent(lo), Typical: percent(mid), Max: percent(hi)})
	}
	if got := bounds("7.9999998", "10.04", "12.0000007"); got != (Shown{"8.00", "10.04", "12.00"}) {
		t.Errorf("bounds a hair outside what was written: %v", got)
	}
	if got := bounds("7.99998", "10.04", "12.00002"); got != (Shown{"7.99", "10.04", "12.01"}) {
		t.Errorf("bounds that are really outside: %v", got)
	}
	third := exact.Frac(1, 3)
	if got := Show(formula.Share{Min: third, Typical: third, Max: third}); got != (Shown{"33.33", "33.33", "33.34"}) {
		t.Errorf("a third: %v", got)
	}
}

// A share without a range is told without one, finite in decimals or not.
func TestExactShareIsToldOnce(t *testing.T) {
	third := exact.Frac(1, 3)
	if got := shareText(formula.Share{Min: third, Typical: third, Max: third}); got != "33.33 %" {
		t.Errorf("%q", got)
	}
	if got := rangeOf(formula.Share{Min: third, Typical: third, Max: third}); got != "33.33 %" {
		t.Errorf("%q", got)
	}
}
