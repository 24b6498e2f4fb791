package formula_test

import (
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"

	"github.com/google/go-cmp/cmp"
)

// Materials of the amount tests. COCOA and SHEA count as fat, the rest do not.
var (
	soda   = plain("SODA")
	citric = plain("CITRIC")
	salt   = plain("SALT")
	scent  = plain("SCENT")
	wax    = plain("WAX")
	poly   = plain("POLY")
	cocoa  = fat("COCOA")
	shea   = fat("SHEA")
)

func TestAmounts(t *testing.T) {
	// 60 g cocoa and 40 g wax: three fifths fat.
	butter := mix("butter base", line(cocoa, "60 g"), line(wax, "40 g"))
	// a quarter butter base, a quarter shea, half soda: 0.25 x 0.6 + 0.25 = 0.4 fat.
	core := mix("core", line(butter, "25 %"), line(shea, "25 %"), line(soda, "rest"))
	for _, tt := range []struct {
		name string
		mix  []formula.Line
		want map[formula.Key]string // sums to one
	}{
		{
			// 30 + 10 + 10 = 50
			"grams", []formula.Line{line(soda, "30 g"), line(citric, "10 g"), line(salt, "10 g")},
			map[formula.Key]string{"SODA": "3/5", "CITRIC": "1/5", "SALT": "1/5"},
		},
		{
			// the same material on two lines is one weight
			"grams, one material twice", []formula.Line{line(soda, "30 g"), line(citric, "10 g"), line(soda, "10 g")},
			map[formula.Key]string{"SODA": "4/5", "CITRIC": "1/5"},
		},
		{
			"per cents that fill the mix", []formula.Line{line(soda, "66.6 %"), line(citric, "33.4 %")},
			map[formula.Key]string{"SODA": "0.666", "CITRIC": "0.334"},
		},
		{
			// 100 - 60 - 1.5 = 38.5
			"per cents and rest", []formula.Line{line(salt, "60 %"), line(scent, "1.5 %"), line(soda, "rest")},
			map[formula.Key]string{"SALT": "0.6", "SCENT": "0.015", "SODA": "0.385"},
		},
		{
			// 300 g are 98 % of the whole: 300/0.98 = 306.12... g; soda 200 x 0.98/300 = 196/300
			"per cent with grams", []formula.Line{line(soda, "200 g"), line(citric, "100 g"), line(scent, "2 %")},
			map[formula.Key]string{"SODA": "49/75", "CITRIC": "49/150", "SCENT": "1/50"},
		},
		{
			// 2 % of 300 g is 6 g on top: 306 g in all
			"on top of grams", []formula.Line{line(soda, "200 g"), line(citric, "100 g"), line(scent, "2 % on top")},
			map[formula.Key]string{"SODA": "200/306", "CITRIC": "100/306", "SCENT": "6/306"},
		},
		{
			// the base is 3 parts; 5 % of 3 is 0.15: 3.15 in all
			"on top of parts", []formula.Line{line(soda, "2 parts"), line(citric, "1 parts"), line(scent, "5 % on top")},
			map[formula.Key]string{"SODA": "40/63", "CITRIC": "20/63", "SCENT": "3/63"},
		},
		{
			// with B the base, W = 1.25 B; B = 300 + 0.04 W = 300 + 0.05 B: B = 6000/19, W = 7500/19;
			// soda 300 x 19/7500 = 0.76, on top 0.25/1.25 = 0.2
			"per cent of the whole and on top", []formula.Line{line(soda, "300 g"), line(scent, "4 %"), line(salt, "25 % on top")},
			map[formula.Key]string{"SODA": "0.76", "SCENT": "0.04", "SALT": "0.2"},
		},
		{
			// W = 1, base 1/1.25 = 0.8; 0.8 - 0.3 = 0.5 is left
			"on top of per cents and rest", []formula.Line{line(soda, "30 %"), line(citric, "rest"), line(scent, "25 % on top")},
			map[formula.Key]string{"SODA": "0.3", "CITRIC": "0.5", "SCENT": "0.2"},
		},
		{
			// 100 g fat, 1 % of it is 1 g: 201 g in all
			"of fats in grams", []formula.Line{line(cocoa, "80 g"), line(shea, "20 g"), line(soda, "100 g"), line(poly, "1 % of fats")},
			map[formula.Key]string{"COCOA": "80/201", "SHEA": "20/201", "SODA": "100/201", "POLY": "1/201"},
		},
		{
			// shea is a fat itself: F = 80 + 0.2 F = 100, shea 20 g, 200 g in all
			"of fats by a fat", []formula.Line{line(cocoa, "80 g"), line(soda, "100 g"), line(shea, "20 % of fats")},
			map[formula.Key]string{"COCOA": "0.4", "SODA": "0.5", "SHEA": "0.1"},
		},
		{
			// fats 50 x 0.6 + 20 = 50 g, 10 % of it 5 g: 205 g in all; cocoa 30 g, wax 20 g
			"of fats in a nested formula", []formula.Line{line(butter, "50 g"), line(shea, "20 g"), line(soda, "130 g"), line(poly, "10 % of fats")},
			map[formula.Key]string{"COCOA": "30/205", "WAX": "20/205", "SHEA": "20/205", "SODA": "130/205", "POLY": "5/205"},
		},
		{
			// fats 50 x 0.4 = 20 g, 10 % of it 2 g: 102 g; cocoa 50 x 0.15, wax 50 x 0.1, shea 12.5, soda 25 + 50
			"of fats two levels down", []formula.Line{line(core, "50 g"), line(soda, "50 g"), line(poly, "10 % of fats")},
			map[formula.Key]string{"COCOA": "7.5/102", "WAX": "5/102", "SHEA": "12.5/102", "SODA": "75/102", "POLY": "2/102"},
		},
		{
			// 5 % of 40 % is 2 %; 58 % is left
			"of fats in per cents", []formula.Line{line(cocoa, "40 %"), line(poly, "5 % of fats"), line(soda, "rest")},
			map[formula.Key]string{"COCOA": "0.4", "POLY": "0.02", "SODA": "0.58"},
		},
		{
			// 50 + 45 + a tenth of 50
			"of fats fills the mix", []formula.Line{line(cocoa, "50 %"), line(soda, "45 %"), line(poly, "10 % of fats")},
			map[formula.Key]string{"COCOA": "0.5", "SODA": "0.45", "POLY": "0.05"},
		},
		{
			// x + 0.25 x = 0.5: x = 0.4
			"of fats, rest is the fat", []formula.Line{line(soda, "50 %"), line(poly, "25 % of fats"), line(cocoa, "rest")},
			map[formula.Key]string{"SODA": "0.5", "POLY": "0.1", "COCOA": "0.4"},
		},
		{
			// all fats are 0.5; a fifth of them shea, the rest cocoa
			"of fats by a fat, rest is the fat", []formula.Line{line(soda, "50 %"), line(shea, "20 % of fats"), line(cocoa, "rest")},
			map[formula.Key]string{"SODA": "0.5", "SHEA": "0.1", "COCOA": "0.4"},
		},
		{
			// 3 parts fat and a tenth of it: 3 + 1 + 0.3 = 4.3 parts
			"of fats in parts", []formula.Line{line(cocoa, "3 parts"), line(soda, "1 parts"), line(poly, "10 % of fats")},
			map[formula.Key]string{"COCOA": "30/43", "SODA": "10/43", "POLY": "3/43"},
		},
		{
			// W = 100 + 0.2 W + 0.1 x 0.2 W: W = 100/0.78
			"of fats in per cents of grams", []formula.Line{line(cocoa, "20 %"), line(soda, "100 g"), line(poly, "10 % of fats")},
			map[formula.Key]string{"COCOA": "0.2", "SODA": "0.78", "POLY": "0.02"},
		},
		{
			// Shea on top is a fat too. B = 200 + 0.05 F, F = 100 + 0.1 B: B = 205/0.995 = 41000/199,
			// F = 24000/199, W = 1.1 B = 45100/199. Cocoa = soda = 19900/45100, shea 0.1/1.1, poly 1200/45100.
			"of fats, some on top", []formula.Line{line(cocoa, "100 g"), line(soda, "100 g"), line(poly, "5 % of fats"), line(shea, "10 % on top")},
			map[formula.Key]string{"COCOA": "199/451", "SODA": "199/451", "SHEA": "41/451", "POLY": "12/451"},
		},
		{
			// 2 + 1 + 0.5 = 3.5
			"parts", []formula.Line{line(soda, "2 parts"), line(citric, "1 parts"), line(salt, "0.5 parts")},
			map[formula.Key]string{"SODA": "4/7", "CITRIC": "2/7", "SALT": "1/7"},
		},
		{
			// 40 % salt; 60 % in three parts
			"parts and per cents", []formula.Line{line(soda, "2 parts"), line(citric, "1 parts"), line(salt, "40 %")},
			map[formula.Key]string{"SODA": "0.4", "CITRIC": "0.2", "SALT": "0.4"},
		},
		{
			// soda 0.8 + 0.2 x 0.5, cocoa 0.2 x 0.15, wax 0.2 x 0.1, shea 0.2 x 0.25
			"three levels", []formula.Line{line(core, "20 %"), line(soda, "rest")},
			map[formula.Key]string{"SODA": "0.9", "COCOA": "0.03", "WAX": "0.02", "SHEA": "0.05"},
		},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := compose(t, piece(line(mix("mix", tt.mix...), "50 g")))
			got := sharesOf(c, formula.AsAdded)
			want := map[formula.Key]formula.Share{}
			var sum exact.Rat
			for k, s := range tt.want {
				x := fraction(s)
				sum = sum.Add(x)
				want[k] = formula.Share{Min: x, Typical: x, Max: x}
			}
			if !sum.Equal(exact.Int(1)) {
				t.Fatalf("the shares expected sum to %v", sum)
			}
			if d := cmp.Diff(want, got, cmp.Comparer(exact.Rat.Equal)); d != "" {
				t.Errorf("shares (-want +got):\n%s", d)
			}
		})
	}
}

// fraction reads a quotient of decimals.
func fraction(s string) exact.Rat {
	n, d, ok := strings.Cut(s, "/")
	if !ok {
		return num(s)
	}
	return num(n).Quo(num(d))
}

func TestMistakes(t *testing.T) {
	a, b := mix("a"), mix("b")
	a.Lines = []formula.Line{line(soda, "50 %"), line(b, "rest")}
	b.Lines = []formula.Line{line(citric, "50 %"), line(a, "rest")}
	self := mix("self")
	self.Lines = []formula.Line{line(soda, "50 %"), line(self, "rest")}
	wet := mix("wet", line(blend("water", "AQUA 100 water"), "10 g"))
	wet.Dries.Water = pct("50-100")
	odd := mix("odd", line(soda, "10 g"))
	odd.Dries.Water = pct("50-101")
	many := mix("many")
	for range 9 {
		many.Lines = append(many.Lines, line(drying("50-60", line(blend("milk", "AQUA 80 water", "MILK 20"), "1 g")), "1 g"))
	}
	of := func(lines ...formula.Line) *formula.Piece { return piece(line(mix("mix", lines...), "100 g")) }
	for _, tt := range []struct {
		name  string
		piece *formula.Piece
		rule  finding.Code
		want  string
	}{
		{"circle of two", piece(line(a, "10 g")), formula.RuleCycle,
			"book.yaml:7: formulas use one another in a circle: a -> b -> a; take one of them out of the other"},
		{"circle of one", piece(line(self, "10 g")), formula.RuleCycle,
			"book.yaml:7: formulas use one another in a circle: self -> self; take one of them out of the other"},
		{"empty mix", of(), formula.RuleEmpty, "book.yaml:7: mix: the mix has no lines; write what is weighed into it"},
		{"empty piece", piece(), formula.RuleEmpty,
			"book.yaml:70: piece: the piece holds nothing; write piece: with the formulas it is made of and their grams"},
		{"per cents over the whole", of(line(soda, "70 %"), line(citric, "40 %")), formula.RuleOverWhole,
			"book.yaml:7: mix: the per cents leave nothing for the other lines (they reach 110 %); lower a per cent, or write what goes in after the base as \"% on top\""},
		{"per cents leave no rest", of(line(soda, "70 %"), line(citric, "30 %"), line(salt, "rest")), formula.RuleOverWhole,
			"book.yaml:7: mix: the per cents leave nothing for the other lines (they reach 100 %); lower a per cent, or write what goes in after the base as \"% on top\""},
		{"per cents leave no room for grams", of(line(soda, "100 %"), line(citric, "30 g")), formula.RuleOverWhole,
			"book.yaml:7: mix: the per cents leave nothing for the other lines (they reach 100 %); lower a per cent, or write what goes in after the base as \"% on top\""},
		{
			// 25 % on top is a fifth of the whole: 85 + 20
			"on top leaves no room for grams", of(line(soda, "85 %"), line(citric, "30 g"), line(salt, "25 % on top")), formula.RuleOverWhole,
			"book.yaml:7: mix: the per cents leave nothing for the other lines (they reach 105 %); lower a per cent, or write what goes in after the base as \"% on top\"",
		},
		{
			// 80 + 50 % of 80
			"of fats over the whole", of(line(cocoa, "80 %"), line(poly, "50 % of fats"), line(citric, "30 g")), formula.RuleOverWhole,
			"book.yaml:7: mix: the per cents leave nothing for the other lines (they reach 120 %); lower a per cent, or write what goes in after the base as \"% on top\"",
		},
		{"fats that are all the fats", of(line(cocoa, "80 g"), line(shea, "100 % of fats")), formula.RuleOverWhole,
			"book.yaml:7: mix: the fats given as per cents of the fats leave nothing for the other fats (they reach 100 %); lower a per cent, or give one of those fats another amount"},
		{
			"fats that are more than the fats", of(line(soda, "120 %"), line(shea, "150 % of fats"), line(cocoa, "rest")), formula.RuleOverWhole,
			"book.yaml:7: mix: the fats given as per cents of the fats leave nothing for the other fats (they reach 150 %); lower a per cent, or give one of those fats another amount",
		},
		{"per cents under the whole", of(line(soda, "70 %"), line(citric, "20 %")), formula.RuleUnderWhole,
			"book.yaml:7: mix: the per cents add up to 90 %, not 100 %; write \"rest\" for the line that takes what is left"},
		{
			// 25 % on top is a fifth of the whole: 70 + 20
			"under the whole with some on top", of(line(soda, "70 %"), line(citric, "25 % on top")), formula.RuleUnderWhole,
			"book.yaml:7: mix: the per cents add up to 90 %, not 100 %; write \"rest\" for the line that takes what is left",
		},
		{"a trace under the whole", of(line(soda, "33.33333 %"), line(citric, "33.33333 %"), line(salt, "33.33333 %")), formula.RuleUnderWhole,
			"book.yaml:7: mix: the per cents add up to 99.9999 %, not 100 %; write \"rest\" for the line that takes what is left"},
		{"a trace over the whole", of(line(soda, "50 %"), line(citric, "50.00001 %")), formula.RuleOverWhole,
			"book.yaml:7: mix: the per cents leave nothing for the other lines (they reach 100.0001 %); lower a per cent, or write what goes in after the base as \"% on top\""},
		{"rest twice", of(line(soda, "rest"), line(citric, "rest")), formula.RuleRest,
			"book.yaml:7: mix: \"rest\" stands twice in one mix; leave one and give the others an amount"},
		{"rest and parts", of(line(soda, "rest"), line(citric, "2 parts")), formula.RuleRest,
			"book.yaml:7: mix: \"rest\" and parts stand in one mix; give the parts as per cents, or the rest as parts"},
		{"rest and weights", of(line(soda, "rest"), line(citric, "2 g")), formula.RuleRest,
			"book.yaml:7: mix: \"rest\" needs every other line as a per cent, but some lines are weights; write all lines as per cents, or the rest as a weight"},
		{"parts and weights", of(line(soda, "3 parts"), line(citric, "2 g")), formula.RulePartsMixed,
			"book.yaml:7: mix: parts and weights stand in one mix; write all of them as parts or all as weights"},
		{"no fats", of(line(soda, "3 g"), line(poly, "2 % of fats")), formula.RuleNoFats,
			"book.yaml:7: mix: an amount is a per cent of the fats, but the mix has no fat; give that line as a per cent of the whole, or give the fats their class (oil, butter)"},
		{"unfilled slot", of(line("colour", "rest")), formula.RuleUnfilledSlot,
			"the slot \"colour\" is not filled; add it to slots: in the product, or name a material here"},
		{"parts over the whole", of(line(blend("blend", "A 60-70", "B 41"), "1 g")), formula.RuleInfeasible,
			"materials.yaml:1: blend: its parts cannot sum to 100 %: at least 101 %, at most 111 %; check the figures against the supplier's sheet; write what it does not disclose as \"undisclosed: rest\""},
		{"parts under the whole", of(line(blend("blend", "A 50-60", "B 39.9"), "1 g")), formula.RuleInfeasible,
			"materials.yaml:1: blend: its parts cannot sum to 100 %: at least 89.9 %, at most 99.9 %; check the figures against the supplier's sheet; write what it does not disclose as \"undisclosed: rest\""},
		{"no parts", of(line(blend("blend"), "1 g")), formula.RuleInfeasible,
			"materials.yaml:1: blend: its parts cannot sum to 100 %: at least 0 %, at most 0 %; check the figures against the supplier's sheet; write what it does not disclose as \"undisclosed: rest\""},
		{"piece in per cents", piece(line(soda, "10 %")), formula.RuleNotGrams,
			"piece: SODA: 10 %: a piece holds weights; write how many grams of it are in one piece"},
		{"piece of nothing", piece(line(soda, "0 g")), formula.RuleNotGrams,
			"piece: SODA: 0 g: a piece holds weights; write how many grams of it are in one piece"},
		{"nothing left once dry", piece(line(wet, "10 g")), formula.RuleDrying,
			"book.yaml:70: piece: nothing may be left of it once it has dried; check what dries off under dries: in its formulas"},
		{"too many ranges of drying", piece(line(many, "10 g")), formula.RuleDrying,
			"book.yaml:70: piece: too many of its formulas dry by a range of their own to weigh every case; write one figure under dries: in the formulas where the range matters least"},
		{"more than all dries off", piece(line(odd, "10 g")), formula.RuleDrying,
			"book.yaml:7: odd: it dries by less than nothing or by more than all; write a loss from 0 % to 100 %"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c, bad := formula.NewComposer().Compose(tt.piece)
			if c != nil {
				t.Error("there is a composition in spite of the error")
			}
			if len(bad) != 1 {
				t.Fatalf("findings: %v, want one", bad)
			}
			if bad[0].Rule != tt.rule || bad[0].Severity != finding.Error {
				t.Errorf("got %s of rule %s, want an error of rule %s", bad[0].Severity, bad[0].Rule, tt.rule)
			}
			if d := cmp.Diff(tt.want, bad[0].Line()); d != "" {
				t.Errorf("(-want +got):\n%s", d)
			}
		})
	}
}

// A mistake in a shared formula is told once, however many ways lead to it, and
// all mistakes are told.
func TestEveryMistakeOnce(t *testing.T) {
	short := mix("short", line(soda, "70 %"))
	empty := mix("empty")
	left, right := mix("left", line(short, "1 g"), line(empty, "1 g")), mix("right", line(short, "1 g"))
	_, bad := formula.NewComposer().Compose(piece(line(left, "1 g"), line(right, "1 g"), line(short, "1 g"), line(soda, "2 %")))
	var rules []finding.Code
	for _, f := range bad {
		rules = append(rules, f.Rule)
	}
	if d := cmp.Diff([]finding.Code{formula.RuleUnderWhole, formula.RuleEmpty, formula.RuleNotGrams}, rules); d != "" {
		t.Errorf("rules (-want +got):\n%s", d)
	}
}

// Each formula uses the one below twice, so 2 to the 60 ways lead down to the
// slot: a walk along every way would never end.
func TestManyWaysDown(t *testing.T) {
	for _, filled := range []bool{true, false} {
		f := mix("bottom", line(soda, "50 %"), line("colour", "rest"))
		for range 60 {
			f = mix("above", line(f, "1 parts"), line(f, "1 parts"))
		}
		p := piece(line(f, "8 g"))
		if !filled {
			if _, bad := formula.NewComposer().Compose(p); len(bad) != 1 {
				t.Errorf("findings: %v, want one unfilled slot", bad)
			}
			continue
		}
		p.Slots = map[string]formula.Filling{"colour": {Material: citric}}
		if got := sharesOf(compose(t, p), formula.AsAdded)["CITRIC"].Typical; !got.Equal(num("0.5")) {
			t.Errorf("share %v, want 0.5", got)
		}
	}
}

func TestSlots(t *testing.T) {
	base := mix("base", line(soda, "rest"), line("scent", "2 %"), line("colour", "1 %"))
	cut := mix("cut colour", line(plain("MICA"), "1 parts"), line(plain("STARCH"), "3 parts"))
	c := formula.NewComposer()
	if bad := c.Check(base); len(bad) > 0 {
		t.Errorf("a formula with slots is no mistake, got %v", bad)
	}
	p := piece(line(base, "100 g"))
	p.Slots = map[string]formula.Filling{"scent": {Material: scent}, "colour": {Formula: cut}}
	q := piece(line(base, "100 g"), line("scent", "1 g"))
	q.Slots = map[string]formula.Filling{"scent": {Material: citric}, "colour": {Material: salt}}
	above := mix("above", line(base, "1 parts"))
	deep := func(p *formula.Piece) *formula.Piece {
		d := piece(line(above, "100 g"))
		d.Slots = p.Slots
		return d
	}
	for _, tt := range []struct {
		piece *formula.Piece
		want  map[formula.Key]string // grams
	}{
		{p, map[formula.Key]string{"SODA": "97", "SCENT": "2", "MICA": "0.25", "STARCH": "0.75"}},
		{q, map[formula.Key]string{"SODA": "97", "CITRIC": "3", "SALT": "1"}},
		{p, map[formula.Key]string{"SODA": "97", "SCENT": "2", "MICA": "0.25", "STARCH": "0.75"}},
		{deep(p), map[formula.Key]string{"SODA": "97", "SCENT": "2", "MICA": "0.25", "STARCH": "0.75"}},
		{deep(q), map[formula.Key]string{"SODA": "97", "CITRIC": "2", "SALT": "1"}},
	} {
		comp, bad := c.Compose(tt.piece) // one Composer: what one piece fills must not stay for the next
		if comp == nil {
			t.Fatal(bad)
		}
		got, want := map[formula.Key]exact.Rat{}, map[formula.Key]exact.Rat{}
		for _, it := range comp.Items {
			got[it.Material.Parts[0].Key] = it.Weight
		}
		for k, g := range tt.want {
			want[k] = num(g)
		}
		if d := cmp.Diff(want, got, cmp.Comparer(exact.Rat.Equal)); d != "" {
			t.Errorf("grams (-want +got):\n%s", d)
		}
	}
}

func TestCheck(t *testing.T) {
	c := formula.NewComposer()
	for _, tt := range []struct {
		name string
		f    *formula.Formula
		want []finding.Code
	}{
		{"sound", mix("m", line(soda, "70 %"), line(citric, "rest")), nil},
		{"under the whole", mix("m", line(soda, "70 %"), line("scent", "10 %")), []finding.Code{formula.RuleUnderWhole}},
		{"the slot may bring the fats", mix("m", line("butter", "70 %"), line(poly, "10 % of fats"), line(soda, "rest")), nil},
		{"mistake one level down", mix("m", line(mix("n", line(soda, "1 g"), line(citric, "rest")), "rest")), []finding.Code{formula.RuleRest}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var got []finding.Code
			for _, f := range c.Check(tt.f) {
				got = append(got, f.Rule)
			}
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Errorf("rules (-want +got):\n%s", d)
			}
		})
	}
}
