package formula_test

import (
	"fmt"
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// loss is what one formula loses of its water and its alcohol.
type loss struct{ water, alcohol exact.Rat }

// sold weighs a piece as it is sold, from the bottom up as it happens: what a
// formula holds is mixed, then dries. All lines are in grams, so no amount needs
// solving. It returns the grams of every part of every material.
func sold(p *formula.Piece, x map[*formula.Material][]exact.Rat, lost map[*formula.Formula]loss) map[*formula.Material][]exact.Rat {
	out := map[*formula.Material][]exact.Rat{}
	for _, l := range p.Lines {
		for m, parts := range held(l, l.Amount.Value, x, lost) {
			pour(out, m, parts)
		}
	}
	return out
}

func held(l formula.Line, grams exact.Rat, x map[*formula.Material][]exact.Rat, lost map[*formula.Formula]loss) map[*formula.Material][]exact.Rat {
	out := map[*formula.Material][]exact.Rat{}
	if m := l.Material; m != nil {
		parts := make([]exact.Rat, len(m.Parts))
		for p := range parts {
			parts[p] = x[m][p].Mul(grams)
		}
		pour(out, m, parts)
		return out
	}
	f := l.Formula
	var whole exact.Rat
	for _, in := range f.Lines {
		whole = whole.Add(in.Amount.Value)
	}
	for _, in := range f.Lines {
		for m, parts := range held(in, in.Amount.Value.Mul(grams).Quo(whole), x, lost) {
			pour(out, m, parts)
		}
	}
	for m, parts := range out {
		for p := range parts {
			switch m.Parts[p].Dries {
			case formula.Water:
				parts[p] = parts[p].Mul(exact.Int(1).Sub(lost[f].water))
			case formula.Alcohol:
				parts[p] = parts[p].Mul(exact.Int(1).Sub(lost[f].alcohol))
			}
		}
	}
	return out
}

func pour(into map[*formula.Material][]exact.Rat, m *formula.Material, parts []exact.Rat) {
	if into[m] == nil {
		into[m] = make([]exact.Rat, len(parts))
	}
	for p := range parts {
		into[m][p] = into[m][p].Add(parts[p])
	}
}

// used lists the distinct materials and formulas of a piece.
func used(lines []formula.Line, ms *[]*formula.Material, fs *[]*formula.Formula) {
	for _, l := range lines {
		if l.Material != nil {
			if !contains(*ms, l.Material) {
				*ms = append(*ms, l.Material)
			}
			continue
		}
		if !contains(*fs, l.Formula) {
			*fs = append(*fs, l.Formula)
		}
		used(l.Formula.Lines, ms, fs)
	}
}

func contains[T comparable](all []T, x T) bool {
	for _, y := range all {
		if x == y {
			return true
		}
	}
	return false
}

// extremes calls visit for the piece as sold with every material at every corner
// of its ranges and every formula at both ends of what it loses.
func extremes(p *formula.Piece, visit func(sold map[*formula.Material][]exact.Rat)) {
	var ms []*formula.Material
	var fs []*formula.Formula
	used(p.Lines, &ms, &fs)
	corners := make([][][]exact.Rat, len(ms))
	limits := make([]int, 0, len(ms)+2*len(fs))
	for i, m := range ms {
		corners[i] = vertices(m)
		limits = append(limits, len(corners[i]))
	}
	ends := func(i formula.Interval) []exact.Rat {
		if i.Fixed() {
			return []exact.Rat{i.Lo}
		}
		return []exact.Rat{i.Lo, i.Hi}
	}
	for _, f := range fs {
		limits = append(limits, len(ends(f.Dries.Water)), len(ends(f.Dries.Alcohol)))
	}
	choices(limits, func(at []int) {
		x, lost := map[*formula.Material][]exact.Rat{}, map[*formula.Formula]loss{}
		for i, m := range ms {
			x[m] = corners[i][at[i]]
		}
		for j, f := range fs {
			k := len(ms) + 2*j
			lost[f] = loss{ends(f.Dries.Water)[at[k]], ends(f.Dries.Alcohol)[at[k+1]]}
		}
		visit(sold(p, x, lost))
	})
}

// drawDrying draws a piece of two formulas, one inside the other or side by
// side, that dry.
func drawDrying(t *rapid.T, ranges bool) *formula.Piece {
	keys := []formula.Key{"A", "B", "C", "D"}
	var ms []*formula.Material
	for i := range rapid.IntRange(1, 3).Draw(t, "materials") {
		ms = append(ms, drawMaterial(t, fmt.Sprint("m", i), 3, keys, true))
	}
	grams := func(what string) string { return fmt.Sprint(rapid.IntRange(1, 60).Draw(t, what), " g") }
	dries := func(what string) formula.Interval {
		lo := rapid.Int64Range(0, 19).Draw(t, what)
		hi := lo
		if ranges {
			hi = rapid.Int64Range(lo, 19).Draw(t, what+" at most")
		}
		return formula.Interval{Lo: exact.Frac(lo, 20), Hi: exact.Frac(hi, 20)}
	}
	make := func(name string) *formula.Formula {
		f := mix(name)
		for _, m := range ms {
			if len(f.Lines) == 0 || rapid.Bool().Draw(t, name+" uses "+m.Name) {
				f.Lines = append(f.Lines, line(m, grams(name+" grams")))
			}
		}
		f.Dries = formula.Drying{Water: dries(name + " water"), Alcohol: dries(name + " alcohol")}
		return f
	}
	in, out := make("in"), make("out")
	p := piece(line(out, grams("out")))
	if rapid.Bool().Draw(t, "nested") {
		out.Lines = append(out.Lines, line(in, grams("in")))
	}
	if rapid.Bool().Draw(t, "beside") {
		p.Lines = append(p.Lines, line(in, grams("in")))
	}
	if rapid.Bool().Draw(t, "straight") {
		p.Lines = append(p.Lines, line(ms[0], grams("straight")))
	}
	return p
}

func TestDryingAgreesWithExtremes(t *testing.T) {
	for _, ranges := range []bool{false, true} {
		t.Run(fmt.Sprintf("ranges=%v", ranges), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) { checkDrying(t, drawDrying(t, ranges)) })
		})
	}
}

func checkDrying(t failer, p *formula.Piece) {
	c := compose(t, p)
	keys, n := byKey(c)
	var mass reach
	shares := make([]reach, len(keys))
	gaps := make([]reach, len(keys)*len(keys))
	extremes(p, func(sold map[*formula.Material][]exact.Rat) {
		var whole exact.Rat
		grams := make([]exact.Rat, len(keys))
		for i, it := range c.Items {
			for q, g := range sold[it.Material] {
				whole = whole.Add(g)
				grams[n.Owner[i][q]] = grams[n.Owner[i][q]].Add(g)
			}
		}
		mass.see(whole)
		for x := range keys {
			shares[x].see(grams[x].Quo(whole))
			for z := range keys {
				gaps[x*len(keys)+z].see(grams[x].Sub(grams[z]))
			}
		}
	})
	if got := c.Mass(formula.Finished); !got.Lo.Equal(mass.lo) || !got.Hi.Equal(mass.hi) {
		t.Errorf("mass %v to %v, want %v to %v", got.Lo, got.Hi, mass.lo, mass.hi)
	}
	var sum exact.Rat
	for x, s := range c.Shares(n, formula.Finished) {
		if !s.Min.Equal(shares[x].lo) || !s.Max.Equal(shares[x].hi) {
			t.Errorf("share of %s: %v to %v, want %v to %v", keys[x], s.Min, s.Max, shares[x].lo, shares[x].hi)
		}
		if s.Typical.Less(s.Min) || s.Max.Less(s.Typical) {
			t.Errorf("share of %s: typical %v is outside %v to %v", keys[x], s.Typical, s.Min, s.Max)
		}
		sum = sum.Add(s.Typical)
		for z := range keys {
			if want := gaps[x*len(keys)+z].lo; z != x && !c.Gap(n, formula.Finished, x, z).Equal(want) {
				t.Errorf("gap of %s to %s: %v, want %v", keys[x], keys[z], c.Gap(n, formula.Finished, x, z), want)
			}
		}
	}
	if !sum.Equal(exact.Int(1)) {
		t.Errorf("typical shares sum to %v", sum)
	}
}

// Two formulas on one base that has itself dried three times: five losses, each
// its own unknown.
func TestDryingOnOneBase(t *testing.T) {
	milk := blend("milk", "AQUA 70-80 water", "MILK 20-30")
	base := drying("10-20", line(milk, "1 g"))
	base = drying("30-40", line(base, "1 g"))
	base = drying("5-15", line(base, "1 g"))
	left := drying("50-90", line(base, "3 g"), line(blend("juice", "JUICE 100 water"), "2 g"))
	right := drying("0-30", line(base, "1 g"), line(soda, "1 g"))
	checkDrying(t, piece(line(left, "10 g"), line(right, "10 g")))
}

// By hand: 100 g of milk soap batter holds 60 g oil, 30 g water, 10 g milk
// (of which 8 g is its own water).
func TestDryingByHand(t *testing.T) {
	oil, water, milk := fat("OIL"), blend("water", "AQUA 100 water"), blend("milk", "AQUA 80 water", "MILK-SOLIDS 20")
	batter := func(w string) *formula.Formula {
		f := mix("batter", line(oil, "60 g"), line(water, "30 g"), line(milk, "10 g"))
		f.Dries.Water = pct(w)
		return f
	}
	nested := mix("bar", line(batter("50"), "100 g"), line(oil, "19 g"))
	nested.Dries.Water = pct("50")
	for _, tt := range []struct {
		name      string
		piece     *formula.Piece
		mass      formula.Interval
		typical   exact.Rat
		aqua, oil formula.Share
	}{
		{
			// 38 g water, half of it lost: 19 g stay, 81 g in all.
			"fixed", piece(line(batter("50"), "100 g")), formula.Point(num("81")), num("81"),
			formula.Share{Min: num("19/81"), Typical: num("19/81"), Max: num("19/81")},
			formula.Share{Min: num("60/81"), Typical: num("60/81"), Max: num("60/81")},
		},
		{
			// 19 g to 0 g of 38 g stay: 81 g to 62 g in all; in the middle 9.5 g of 71.5 g.
			"range", piece(line(batter("50-100"), "100 g")), formula.Interval{Lo: num("62"), Hi: num("81")}, num("71.5"),
			formula.Share{Min: num("0"), Typical: num("19/143"), Max: num("19/81")},
			formula.Share{Min: num("60/81"), Typical: num("120/143"), Max: num("60/62")},
		},
		{
			// Half of the water is gone when the batter goes in, half of the rest after:
			// the shares are of what was weighed, so 119 g hold 38/4 = 9.5 g water, 90.5 g in all.
			"nested", piece(line(nested, "119 g")), formula.Point(num("90.5")), num("90.5"),
			formula.Share{Min: num("19/181"), Typical: num("19/181"), Max: num("19/181")},
			formula.Share{Min: num("158/181"), Typical: num("158/181"), Max: num("158/181")},
		},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := compose(t, tt.piece)
			s := sharesOf(c, formula.Finished)
			eq := cmp.Comparer(exact.Rat.Equal)
			if d := cmp.Diff(tt.mass, c.Mass(formula.Finished), eq); d != "" {
				t.Errorf("mass: %s", d)
			}
			if d := cmp.Diff(tt.typical, c.TypicalMass(formula.Finished), eq); d != "" {
				t.Errorf("typical mass: %s", d)
			}
			if d := cmp.Diff(tt.aqua, s["AQUA"], eq); d != "" {
				t.Errorf("AQUA: %s", d)
			}
			if d := cmp.Diff(tt.oil, s["OIL"], eq); d != "" {
				t.Errorf("OIL: %s", d)
			}
			// Drying is no business of the weights as added.
			if got, want := sharesOf(c, formula.AsAdded)["AQUA"].Typical, num("38").Quo(c.Added); !got.Equal(want) {
				t.Errorf("AQUA as added: %v, want %v", got, want)
			}
		})
	}
}
