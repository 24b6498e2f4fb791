package formula_test

import (
	"fmt"
	"slices"
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// drawNested draws a piece of up to four formulas that use one another, with
// amounts of every kind, on up to five materials.
func drawNested(t *rapid.T) *formula.Piece {
	keys := []formula.Key{"A", "B", "C", "D", "E", "F"}
	ms := []*formula.Material{fat("FAT")}
	for i := range rapid.IntRange(1, 4).Draw(t, "materials") {
		ms = append(ms, drawMaterial(t, fmt.Sprint("m", i), 4, keys, true))
	}
	var fs []*formula.Formula
	for i := range rapid.IntRange(1, 4).Draw(t, "formulas") {
		f := mix(fmt.Sprint("f", i), drawLines(t, ms, fs)...)
		if rapid.IntRange(0, 2).Draw(t, "dries") == 0 {
			lo := rapid.Int64Range(0, 9).Draw(t, "loss")
			f.Dries.Water = formula.Interval{Lo: exact.Frac(lo, 10), Hi: exact.Frac(rapid.Int64Range(lo, 9).Draw(t, "most"), 10)}
			f.Dries.Alcohol = formula.Point(exact.Frac(lo, 10))
		}
		fs = append(fs, f)
	}
	p := piece(line(fs[len(fs)-1], "12.5 g"))
	if rapid.Bool().Draw(t, "two parts") {
		p.Lines = append(p.Lines, line(rapid.SampledFrom(fs).Draw(t, "beside"), "3 g"), line(ms[0], "1 g"))
	}
	return p
}

func drawLines(t *rapid.T, ms []*formula.Material, fs []*formula.Formula) []formula.Line {
	whats := make([]any, 0, len(ms)+len(fs))
	for _, m := range ms {
		whats = append(whats, m)
	}
	for _, f := range fs {
		whats = append(whats, f)
	}
	what := func() any { return rapid.SampledFrom(whats).Draw(t, "what") }
	lines := []formula.Line{}
	n := rapid.IntRange(1, 4).Draw(t, "lines")
	unit := rapid.SampledFrom([]string{"g", "parts", "%"}).Draw(t, "unit")
	for range n {
		lines = append(lines, line(what(), fmt.Sprint(rapid.IntRange(1, 18).Draw(t, "amount"), " ", unit)))
	}
	switch {
	case unit == "%": // at most 72 % above, 2 % of fats, 8 % of what is on top
		lines = append(lines, line(what(), "rest"))
	case rapid.Bool().Draw(t, "per cent too"):
		lines = append(lines, line(what(), "7.5 %"))
	}
	if rapid.Bool().Draw(t, "on top") {
		lines = append(lines, line(what(), "8 % on top"))
	}
	if rapid.Bool().Draw(t, "of fats") {
		lines = append(lines, line(ms[0], "1 "+unit), line(what(), "2 % of fats"))
	}
	return lines
}

// rebuilt copies a piece and its formulas, with change made to every mix.
func rebuilt(p *formula.Piece, change func(lines []formula.Line) []formula.Line) *formula.Piece {
	done := map[*formula.Formula]*formula.Formula{}
	var lines func(old []formula.Line) []formula.Line
	lines = func(old []formula.Line) []formula.Line {
		fresh := slices.Clone(old)
		for i := range fresh {
			f := fresh[i].Formula
			if f == nil {
				continue
			}
			if done[f] == nil {
				g := *f
				g.Lines = change(lines(f.Lines))
				done[f] = &g
			}
			fresh[i].Formula = done[f]
		}
		return fresh
	}
	q := *p
	q.Lines = lines(p.Lines)
	return &q
}

// seen is all that a reader sees of a composition.
type seen struct {
	Shares [2]map[formula.Key]formula.Share
	Mass   formula.Interval // as a fraction of what was added
	Order  []string
}

func look(t failer, p *formula.Piece) seen {
	c := compose(t, p)
	keys, n := byKey(c)
	var s seen
	for _, b := range []formula.Basis{formula.AsAdded, formula.Finished} {
		shares := c.Shares(n, b)
		s.Shares[b] = map[formula.Key]formula.Share{}
		for x, k := range keys {
			s.Shares[b][k] = shares[x]
		}
		order := formula.Rank(shares, func(a, z int) int { return a - z })
		for i, x := range order {
			text := string(keys[x])
			if i > 0 && c.Gap(n, b, order[i-1], x).Sign() >= 0 {
				text = "proven " + text
			}
			s.Order = append(s.Order, text)
		}
	}
	m := c.Mass(formula.Finished)
	s.Mass = formula.Interval{Lo: m.Lo.Quo(c.Added), Hi: m.Hi.Quo(c.Added)}
	return s
}

// However a recipe is written down, the pack says the same.
func TestWritingChangesNothing(t *testing.T) {
	for _, tt := range []struct {
		name   string
		change func(t *rapid.T, lines []formula.Line) []formula.Line
	}{
		{"reordering lines", func(t *rapid.T, lines []formula.Line) []formula.Line {
			return rapid.Permutation(lines).Draw(t, "order")
		}},
		{"nesting lines", nest},
		{"splitting a line", func(t *rapid.T, lines []formula.Line) []formula.Line {
			i := rapid.IntRange(0, len(lines)-1).Draw(t, "which")
			if lines[i].Amount.Kind == formula.Rest {
				return lines
			}
			more := lines[i]
			share := exact.Frac(rapid.Int64Range(1, 6).Draw(t, "share"), 7)
			more.Amount.Value = lines[i].Amount.Value.Mul(share)
			lines[i].Amount.Value = lines[i].Amount.Value.Sub(more.Amount.Value)
			return append(lines, more)
		}},
		{"scaling weights and parts", func(t *rapid.T, lines []formula.Line) []formula.Line {
			by := exact.Frac(rapid.Int64Range(1, 1000).Draw(t, "by"), 37)
			for i := range lines {
				if k := lines[i].Amount.Kind; k == formula.Grams || k == formula.Parts {
					lines[i].Amount.Value = lines[i].Amount.Value.Mul(by)
				}
			}
			return lines
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				p := drawNested(t)
				want := look(t, p)
				q := rebuilt(p, func(lines []formula.Line) []formula.Line { return tt.change(t, lines) })
				if tt.name == "scaling weights and parts" {
					q.Lines = tt.change(t, q.Lines)
				}
				if d := cmp.Diff(want, look(t, q), cmp.Comparer(exact.Rat.Equal)); d != "" {
					t.Errorf("(-want +got):\n%s", d)
				}
			})
		})
	}
}

// nest weighs some lines of one kind together first.
func nest(t *rapid.T, lines []formula.Line) []formula.Line {
	kind := lines[0].Amount.Kind
	if kind == formula.Rest {
		return lines
	}
	inner := mix("weighed together")
	var sum exact.Rat
	var rest []formula.Line
	for _, l := range lines {
		if l.Amount.Kind != kind || !rapid.Bool().Draw(t, "inside") {
			rest = append(rest, l)
			continue
		}
		sum = sum.Add(l.Amount.Value)
		l.Amount.Kind = formula.Parts
		inner.Lines = append(inner.Lines, l)
	}
	if len(inner.Lines) == 0 {
		return lines
	}
	return append(rest, formula.Line{Formula: inner, Amount: formula.Amount{Kind: kind, Value: sum}})
}

func TestSharesSumToTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := compose(t, drawNested(t))
		var grams exact.Rat
		for _, it := range c.Items {
			grams = grams.Add(it.Weight)
		}
		if !grams.Equal(c.Added) {
			t.Errorf("the materials weigh %v g, the piece %v g", grams, c.Added)
		}
		_, n := byKey(c)
		for _, b := range []formula.Basis{formula.AsAdded, formula.Finished} {
			var typical exact.Rat
			for x, s := range c.Shares(n, b) {
				typical = typical.Add(s.Typical)
				if s.Min.Sign() < 0 || s.Typical.Less(s.Min) || s.Max.Less(s.Typical) || exact.Int(1).Less(s.Max) {
					t.Errorf("basis %d, name %d: %v, %v, %v are not in order within the whole", b, x, s.Min, s.Typical, s.Max)
				}
			}
			if !typical.Equal(exact.Int(1)) {
				t.Errorf("basis %d: typical shares sum to %v", b, typical)
			}
		}
		var parts exact.Rat
		for i, it := range c.Items {
			for p := range it.Material.Parts {
				typ, lo, hi := c.PartGrams(i, p, formula.Finished)
				parts = parts.Add(typ)
				if typ.Less(lo) || hi.Less(typ) {
					t.Errorf("part %d of item %d: %v g is not within %v to %v g", p, i, typ, lo, hi)
				}
			}
		}
		if !parts.Equal(c.TypicalMass(formula.Finished)) {
			t.Errorf("the parts weigh %v g, the piece %v g", parts, c.TypicalMass(formula.Finished))
		}
	})
}

// What the supplier in truth delivered, and how far it in truth dried, is within
// what was reported.
func TestTruthIsWithinBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawDrying(t, true)
		c := compose(t, p)
		keys, n := byKey(c)
		var ms []*formula.Material
		var fs []*formula.Formula
		used(p.Lines, &ms, &fs)
		x, lost := map[*formula.Material][]exact.Rat{}, map[*formula.Formula]loss{}
		for _, m := range ms {
			x[m] = drawInside(t, m)
		}
		for _, f := range fs {
			between := func(i formula.Interval) exact.Rat {
				return i.Lo.Add(i.Hi.Sub(i.Lo).Mul(exact.Frac(rapid.Int64Range(0, 10).Draw(t, "dried"), 10)))
			}
			lost[f] = loss{between(f.Dries.Water), between(f.Dries.Alcohol)}
		}
		truth := sold(p, x, lost)
		grams := make([]exact.Rat, len(keys))
		var whole exact.Rat
		for i, it := range c.Items {
			for q, g := range truth[it.Material] {
				grams[n.Owner[i][q]] = grams[n.Owner[i][q]].Add(g)
				whole = whole.Add(g)
			}
		}
		if m := c.Mass(formula.Finished); whole.Less(m.Lo) || m.Hi.Less(whole) {
			t.Errorf("the piece weighs %v g, reported %v to %v g", whole, m.Lo, m.Hi)
		}
		for a, s := range c.Shares(n, formula.Finished) {
			if got := grams[a].Quo(whole); got.Less(s.Min) || s.Max.Less(got) {
				t.Errorf("%s is %v of the piece, reported %v to %v", keys[a], got, s.Min, s.Max)
			}
			for z := range keys {
				gap := c.Gap(n, formula.Finished, a, z)
				if a != z && gap.Sign() >= 0 && grams[a].Less(grams[z]) {
					t.Errorf("%s before %s is called proven, yet they weigh %v and %v g", keys[a], keys[z], grams[a], grams[z])
				}
			}
		}
	})
}

// A blend used in two formulas is bought from one supplier: one unknown.
func TestMaterialUsedTwiceIsOneUnknown(t *testing.T) {
	cut := blend("cut colour", "MICA 40-60", "STARCH 40-60")
	top, core := mix("top", line(cut, "1 g"), line(soda, "9 g")), mix("core", line(cut, "3 g"), line(citric, "7 g"))
	c := compose(t, piece(line(top, "10 g"), line(core, "10 g"), line(cut, "1 g")))
	if len(c.Items) != 3 || !c.Items[0].Weight.Equal(num("5")) {
		t.Fatalf("items: %v, want 5 g of the cut colour in one, soda and citric", c.Items)
	}
	// Two names that split the blend by formula would be free of one another if it
	// were two unknowns; as one, 1 g + 3 g + 1 g of it hold 2 to 3 g of mica.
	want := formula.Share{Min: fraction("2/21"), Typical: fraction("2.5/21"), Max: fraction("3/21")}
	if d := cmp.Diff(want, sharesOf(c, formula.AsAdded)["MICA"], cmp.Comparer(exact.Rat.Equal)); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if len(compose(t, piece(line(top, "10 g"), line(top, "5 g"))).Items) != 2 {
		t.Error("a formula on two lines makes a material of its own")
	}
}

func TestRank(t *testing.T) {
	share := func(s string) formula.Share { return formula.Share{Typical: num(s)} }
	shares := []formula.Share{share("0.1"), share("0.4"), share("0.1"), share("0.3"), share("0.1")}
	got := formula.Rank(shares, func(a, b int) int { return b - a })
	if d := cmp.Diff([]int{1, 3, 4, 2, 0}, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}
