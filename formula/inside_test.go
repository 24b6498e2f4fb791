package formula_test

import (
	"fmt"
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

var citral = formula.Group{Total: "CITRAL", Members: []formula.Key{"GERANIAL", "NERAL"}}

func TestInside(t *testing.T) {
	lemon := stating(plain("LEMON-OIL"), "CITRAL 2.5", "GERANIAL 1", "NERAL 0.9")
	for _, tt := range []struct {
		name  string
		piece *formula.Piece
		want  [3]string // least, typical and greatest, of the whole
	}{
		{
			// the stated 2.5 is more than 1 + 0.9: 2.5 % of 2 g in 100 g
			"stated total is greater", piece(line(soda, "98 g"), line(lemon, "2 g")), [3]string{"0.0005", "0.0005", "0.0005"},
		},
		{
			// 1 + 0.9 is more than the stated 1.5: 1.9 % of 2 g
			"members are greater",
			piece(line(soda, "98 g"), line(stating(plain("OIL"), "CITRAL 1.5", "GERANIAL 1", "NERAL 0.9"), "2 g")),
			[3]string{"0.00038", "0.00038", "0.00038"},
		},
		{
			// least: 1 against 0.4 + 0.5; typical: 1.5 against 0.7 + 0.9; greatest: 2 against 1 + 1.3. In 1 g of 100 g.
			"each end by itself",
			piece(line(soda, "99 g"), line(stating(plain("OIL"), "CITRAL 1-2", "GERANIAL 0.4-1", "NERAL 0.5-1.3"), "1 g")),
			[3]string{"0.0001", "0.00016", "0.00023"},
		},
		{
			// 2.5 % of 2 g + 4 % of 1 g = 0.05 + 0.04 g in 100 g
			"two materials add up",
			piece(line(soda, "97 g"), line(lemon, "2 g"), line(stating(plain("OIL"), "NERAL 4"), "1 g")),
			[3]string{"0.0009", "0.0009", "0.0009"},
		},
		{
			// below 0.1 %: 0 to 0.1 %, 0.05 % typically, of 1 g in 100 g
			"less than", piece(line(soda, "99 g"), line(stating(plain("OIL"), "CITRAL 0-0.1"), "1 g")),
			[3]string{"0", "0.000005", "0.00001"},
		},
		{
			"the sheet's own typical figure", piece(line(soda, "99 g"), line(stating(plain("OIL"), "CITRAL 1-4 =2"), "1 g")),
			[3]string{"0.0001", "0.0002", "0.0004"},
		},
		{
			// added for itself: all of 0.3 g in 100 g
			"a part of its own", piece(line(soda, "99.7 g"), line(plain("CITRAL"), "0.3 g")), [3]string{"0.003", "0.003", "0.003"},
		},
		{
			// the solvent is 60 % at least, so geranial and neral together are 30 to 40 %, not 50, of 1 g;
			// lows 90, highs 120: t = 1/3, so 20 + 10/3 and 10 + 10/3 are 110/3 % typically
			"parts share one whole",
			piece(line(soda, "99 g"), line(blend("drops", "GERANIAL 20-30", "NERAL 10-20", "SOLVENT 60-70"), "1 g")),
			[3]string{"0.003", "11/3000", "0.004"},
		},
		{
			// as a part 10; stated 12 counts the part in: 12 % of 1 g
			"stated figure counts the part in",
			piece(line(soda, "99 g"), line(stating(blend("drops", "CITRAL 10", "SOLVENT 90"), "CITRAL 12"), "1 g")),
			[3]string{"0.0012", "0.0012", "0.0012"},
		},
		{
			// geranial is a part, 10; neral is stated inside an oil, 0.9: another substance, so 10.9 % of 1 g
			"a part and a stated member",
			piece(line(soda, "99 g"), line(stating(blend("drops", "GERANIAL 10", "OIL 90"), "NERAL 0.9"), "1 g")),
			[3]string{"0.00109", "0.00109", "0.00109"},
		},
		{
			// geranial as stated, 12, counts the part in; neral beside: 12.9 % of 1 g
			"a part that is stated too",
			piece(line(soda, "99 g"), line(stating(blend("drops", "GERANIAL 10", "OIL 90"), "GERANIAL 12", "NERAL 0.9"), "1 g")),
			[3]string{"0.00129", "0.00129", "0.00129"},
		},
		{
			// citral is a part, 10; geranial 6 and neral 4 say what it is made of: 10 % of 1 g, not 20
			"members of a total that is a part",
			piece(line(soda, "99 g"), line(stating(blend("drops", "CITRAL 10", "SOLVENT 90"), "GERANIAL 6", "NERAL 4"), "1 g")),
			[3]string{"0.001", "0.001", "0.001"},
		},
		{
			// 10 % of 1 g in 100 g, of which 50 g water are half to all gone: 75 g to 50 g, 62.5 g in the middle
			"of the finished mass",
			piece(line(drying("50-100", line(blend("water", "AQUA 100 water"), "50 g"), line(soda, "49 g"),
				line(stating(plain("OIL"), "CITRAL 10"), "1 g")), "100 g")),
			[3]string{"0.1/75", "0.1/62.5", "0.1/50"},
		},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := compose(t, tt.piece)
			in := c.Inside(citral)
			if in == nil {
				t.Fatal("nothing found")
			}
			want := formula.Share{Min: fraction(tt.want[0]), Typical: fraction(tt.want[1]), Max: fraction(tt.want[2])}
			if d := cmp.Diff(want, in.Share, cmp.Comparer(exact.Rat.Equal)); d != "" {
				t.Errorf("(-want +got):\n%s", d)
			}
		})
	}
	if in := compose(t, piece(line(soda, "1 g"))).Inside(citral); in != nil {
		t.Errorf("soda holds %v citral, want nothing said", in.Share)
	}
}

func drying(water string, lines ...formula.Line) *formula.Formula {
	f := mix("mix", lines...)
	f.Dries.Water = pct(water)
	return f
}

// Two rows of one sheet that turn out to be one substance add up, in any order.
func TestInsideRepeatedConstituent(t *testing.T) {
	for _, key := range []string{"CITRAL", "NERAL"} {
		for _, rows := range [][]string{{key + " 2", key + " 3"}, {key + " 3", key + " 2"}} {
			in := compose(t, piece(line(stating(plain("OIL"), rows...), "1 g"))).Inside(citral)
			if !in.Share.Max.Equal(num("0.05")) {
				t.Errorf("%v: %v, want 5 %%", rows, in.Share.Max)
			}
		}
	}
}

func TestInsideTrail(t *testing.T) {
	guess := stating(plain("OIL"), "CITRAL 1-3", "NERAL 0.5")
	guess.Constituents[0].Estimated = true
	lemon := stating(plain("LEMON-OIL"), "CITRAL 2.5")
	c := compose(t, piece(line(soda, "90 g"), line(guess, "4 g"), line(lemon, "6 g")))
	in := c.Inside(citral)
	want := []formula.Within{
		{Material: guess, Weight: num("4"), Fraction: formula.Share{Min: num("0.01"), Typical: num("0.02"), Max: num("0.03")}, Estimated: true},
		{Material: lemon, Weight: num("6"), Fraction: formula.Share{Min: num("0.025"), Typical: num("0.025"), Max: num("0.025")}},
	}
	if d := cmp.Diff(want, in.From, cmp.Comparer(exact.Rat.Equal)); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	// 4 x 1 % + 6 x 2.5 %, 4 x 2 % + 0.15, 4 x 3 % + 0.15
	grams := formula.Share{Min: num("0.19"), Typical: num("0.23"), Max: num("0.27")}
	if d := cmp.Diff(grams, in.Grams(), cmp.Comparer(exact.Rat.Equal)); d != "" {
		t.Errorf("grams (-want +got):\n%s", d)
	}
}

// Regulation (EC) No 1223/2009, Annex III, entries for fragrance allergens: to be
// named above 0.001 % in leave-on and above 0.01 % in rinse-off products. At the
// threshold itself nothing is due.
func TestThresholds(t *testing.T) {
	for _, limit := range []string{"0.01", "0.001"} {
		for _, tt := range []struct {
			name      string
			of        string // of the oil, as a multiple of what reaches the limit
			can, must bool
		}{
			{"at", "1", false, false},
			{"just below", "0.999999999", false, false},
			{"just above", "1.000000001", true, true},
			{"range up to it", "0.5-1", false, false},
			{"range from it", "1-1.5", true, false},
			{"range across it", "0.9-1.1", true, false},
			{"range above it", "1.000000001-2", true, true},
			{"less than it", "0-1", false, false},
			{"less than twice it", "0-2", true, false},
		} {
			t.Run(limit+" "+tt.name, func(t *testing.T) {
				// One third of an ounce of oil in 10 oz: the oil is 1/30, so the limit is reached at 30 times it.
				oil := plain("OIL")
				r := pct(tt.of)
				full := pct(limit).Lo.Mul(num("3000"))
				oil.Constituents = []formula.Constituent{{Key: "CITRAL", Range: formula.Interval{Lo: r.Lo.Mul(full), Hi: r.Hi.Mul(full)}}}
				oz := num("28.349523125")
				third := oz.Quo(num("3"))
				mixed := mix("mix", line(soda, "1 g"), line(oil, "1 g"))
				mixed.Lines[0].Amount.Value = oz.Mul(num("10")).Sub(third)
				mixed.Lines[1].Amount.Value = third
				in := compose(t, piece(line(mixed, "57 g"))).Inside(citral)
				if got := in.CanExceed(pct(limit).Lo); got != tt.can {
					t.Errorf("can exceed %s %%: %v, want %v (%v)", limit, got, tt.can, in.Share.Max)
				}
				if got := in.MustExceed(pct(limit).Lo); got != tt.must {
					t.Errorf("must exceed %s %%: %v, want %v (%v)", limit, got, tt.must, in.Share.Min)
				}
			})
		}
	}
}

// Groups against every corner of ranges and drying: the greatest share exactly,
// the least exactly where no member is a part, else no more than the truth.
func TestInsideAgreesWithExtremes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawDrying(t, rapid.Bool().Draw(t, "ranges"))
		var ms []*formula.Material
		var fs []*formula.Formula
		used(p.Lines, &ms, &fs)
		g := formula.Group{Total: "TOTAL", Members: []formula.Key{"A", "Y", "Z"}}
		for _, m := range ms {
			for _, k := range []formula.Key{"TOTAL", "Y", "Z"} { // A is a part, the others are not
				if !rapid.Bool().Draw(t, fmt.Sprintf("%s states %s", m.Name, k)) {
					continue
				}
				lo := rapid.Int64Range(0, 200).Draw(t, "per mille")
				hi := rapid.Int64Range(lo, 300).Draw(t, "at most")
				m.Constituents = append(m.Constituents, formula.Constituent{Key: k, Typical: exact.Frac(lo+hi, 2000),
					Range: formula.Interval{Lo: exact.Frac(lo, 1000), Hi: exact.Frac(hi, 1000)}})
			}
		}
		c := compose(t, p)
		in := c.Inside(g)
		if in == nil {
			return
		}
		weight := map[*formula.Material]exact.Rat{}
		for _, it := range c.Items {
			weight[it.Material] = it.Weight
		}
		corners := map[*formula.Material][][]exact.Rat{}
		limits := []int{}
		for _, m := range ms {
			corners[m] = vertices(m)
			limits = append(limits, len(corners[m]))
		}
		var share reach
		parts := false
		dry := dryings(p, fs)
		choices(limits, func(at []int) {
			x := map[*formula.Material][]exact.Rat{}
			var lo, hi exact.Rat
			for i, m := range ms {
				x[m] = corners[m][at[i]]
				a, z, direct := figure(m, x[m], g)
				parts = parts || direct
				lo, hi = lo.Add(a.Mul(weight[m])), hi.Add(z.Mul(weight[m]))
			}
			for _, lost := range dry {
				var whole exact.Rat
				for _, grams := range sold(p, x, lost) {
					whole = whole.Add(exact.Sum(grams...))
				}
				share.see(lo.Quo(whole))
				share.see(hi.Quo(whole))
			}
		})
		if !in.Share.Max.Equal(share.hi) {
			t.Errorf("at most %v, want %v", in.Share.Max, share.hi)
		}
		if share.lo.Less(in.Share.Min) || !parts && !in.Share.Min.Equal(share.lo) {
			t.Errorf("at least %v, want %v", in.Share.Min, share.lo)
		}
		if in.Share.Typical.Less(in.Share.Min) || in.Share.Max.Less(in.Share.Typical) {
			t.Errorf("typical %v is outside %v to %v", in.Share.Typical, in.Share.Min, in.Share.Max)
		}
	})
}

// dryings lists every choice of ends of what the formulas lose.
func dryings(p *formula.Piece, fs []*formula.Formula) []map[*formula.Formula]loss {
	out := []map[*formula.Formula]loss{}
	limits := make([]int, 2*len(fs))
	for i := range limits {
		limits[i] = 2
	}
	choices(limits, func(at []int) {
		lost := map[*formula.Formula]loss{}
		for j, f := range fs {
			w, a := f.Dries.Water, f.Dries.Alcohol
			lost[f] = loss{[]exact.Rat{w.Lo, w.Hi}[at[2*j]], []exact.Rat{a.Lo, a.Hi}[at[2*j+1]]}
		}
		out = append(out, lost)
	})
	return out
}

// figure is the group in one gram of m at the shares x, at the ends of what is
// stated. A, where it is a part, and Y and Z, where stated, are three substances.
func figure(m *formula.Material, x []exact.Rat, g formula.Group) (lo, hi exact.Rat, direct bool) {
	var total, members formula.Interval
	for _, k := range m.Constituents {
		to := &members
		if k.Key == g.Total {
			to = &total
		}
		to.Lo, to.Hi = to.Lo.Add(k.Range.Lo), to.Hi.Add(k.Range.Hi)
	}
	for p, part := range m.Parts {
		if part.Key == "A" {
			direct = true
			members.Lo, members.Hi = members.Lo.Add(x[p]), members.Hi.Add(x[p])
		}
	}
	return exact.Max(total.Lo, members.Lo), exact.Max(total.Hi, members.Hi), direct
}
