package formula_test

import (
	"slices"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"

	"pgregory.net/rapid"
)

// All materials, formulas and pieces in the tests of this package are invented,
// except where a test says otherwise.

func num(s string) exact.Rat { return exact.Must(s) }

// pct reads "5" or "2-7.5", in per cent.
func pct(s string) formula.Interval {
	lo, hi, ok := strings.Cut(s, "-")
	if !ok {
		hi = lo
	}
	hundred := exact.Int(100)
	return formula.Interval{Lo: num(lo).Quo(hundred), Hi: num(hi).Quo(hundred)}
}

// plain is a material that is one substance.
func plain(key string) *formula.Material {
	return blend(key, key+" 100")
}

// fat is a plain material that counts as fat.
func fat(key string) *formula.Material {
	m := plain(key)
	m.Fat = true
	return m
}

// blend is a material of parts written "key range", in per cent; "key range
// water" and "key range alcohol" are volatile, "key range =5" has a typical
// figure of the sheet's own.
func blend(name string, parts ...string) *formula.Material {
	m := &formula.Material{Name: name, Pos: finding.Pos{File: "materials.yaml", Line: 1}}
	for _, text := range parts {
		f := strings.Fields(text)
		p := formula.Part{Key: formula.Key(f[0]), Range: pct(f[1])}
		for _, more := range f[2:] {
			switch {
			case more == "water":
				p.Dries = formula.Water
			case more == "alcohol":
				p.Dries = formula.Alcohol
			default:
				p.Exact, p.Typical = true, pct(more[1:]).Lo
			}
		}
		m.Parts = append(m.Parts, p)
	}
	return m
}

// stating adds of-which constituents written "key range" or "key range =typical".
func stating(m *formula.Material, constituents ...string) *formula.Material {
	for _, text := range constituents {
		f := strings.Fields(text)
		c := formula.Constituent{Key: formula.Key(f[0]), Range: pct(f[1])}
		c.Typical = c.Range.Lo.Add(c.Range.Hi).Quo(exact.Int(2))
		if len(f) > 2 {
			c.Typical = pct(f[2][1:]).Lo
		}
		m.Constituents = append(m.Constituents, c)
	}
	return m
}

// line asks for an amount of a *formula.Material, a *formula.Formula or a slot
// (a string). The amount is "10 g", "2 %", "2 % on top", "2 % of fats",
// "3 parts" or "rest".
func line(what any, amount string) formula.Line {
	l := formula.Line{Text: amount}
	switch w := what.(type) {
	case *formula.Material:
		l.Material, l.Text = w, w.Name+": "+amount
	case *formula.Formula:
		l.Formula, l.Text = w, w.Name+": "+amount
	case string:
		l.Slot, l.Text = w, w+": "+amount
	}
	n, unit, _ := strings.Cut(amount, " ")
	kind, ok := map[string]formula.Kind{"g": formula.Grams, "%": formula.OfWhole, "% on top": formula.OnTop,
		"% of fats": formula.OfFats, "parts": formula.Parts, "": formula.Rest}[unit]
	if !ok {
		panic("no such amount: " + amount)
	}
	l.Amount.Kind = kind
	switch kind {
	case formula.Rest:
		return l
	case formula.Grams, formula.Parts:
		l.Amount.Value = num(n)
	default:
		l.Amount.Value = num(n).Quo(exact.Int(100))
	}
	return l
}

func mix(name string, lines ...formula.Line) *formula.Formula {
	return &formula.Formula{Name: name, Pos: finding.Pos{File: "book.yaml", Line: 7}, Lines: lines}
}

func piece(lines ...formula.Line) *formula.Piece {
	return &formula.Piece{Name: "piece", Pos: finding.Pos{File: "book.yaml", Line: 70}, Lines: lines}
}

// compose fails the test on any finding.
func compose(t failer, p *formula.Piece) *formula.Composition {
	t.Helper()
	c, bad := formula.NewComposer().Compose(p)
	for _, f := range bad {
		t.Errorf("unexpected finding: %s", f.Line())
	}
	if c == nil {
		t.Fatalf("%s does not compose", p.Name)
	}
	return c
}

// failer is what *testing.T, *testing.B and *rapid.T share.
type failer interface {
	Helper()
	Errorf(string, ...any)
	Fatalf(string, ...any)
}

var _ = []failer{(*testing.T)(nil), (*testing.B)(nil), (*rapid.T)(nil)}

// byKey gives every key its own name, in alphabetical order.
func byKey(c *formula.Composition) ([]formula.Key, formula.Names) {
	var keys []formula.Key
	for _, it := range c.Items {
		for _, p := range it.Material.Parts {
			keys = append(keys, p.Key)
		}
	}
	slices.Sort(keys)
	keys = slices.Compact(keys)
	n := formula.Names{Count: len(keys)}
	for _, it := range c.Items {
		owner := make([]int, len(it.Material.Parts))
		for p := range owner {
			owner[p], _ = slices.BinarySearch(keys, it.Material.Parts[p].Key)
		}
		n.Owner = append(n.Owner, owner)
	}
	return keys, n
}

// sharesOf returns the shares by key.
func sharesOf(c *formula.Composition, b formula.Basis) map[formula.Key]formula.Share {
	keys, n := byKey(c)
	out := map[formula.Key]formula.Share{}
	for x, s := range c.Shares(n, b) {
		out[keys[x]] = s
	}
	return out
}

// drawMaterial draws a material whose ranges can be met: a composition in
// thousandths, and a range about each part.
func drawMaterial(t *rapid.T, name string, most int, keys []formula.Key, volatile bool) *formula.Material {
	n := rapid.IntRange(1, most).Draw(t, name+" parts")
	point := make([]int64, n)
	left := int64(1000)
	for i := range point {
		point[i] = left
		if i < n-1 {
			point[i] = rapid.Int64Range(0, left).Draw(t, name+" part")
		}
		left -= point[i]
	}
	m := &formula.Material{Name: name, Fat: rapid.Bool().Draw(t, name+" fat")}
	loose := rapid.Bool().Draw(t, name+" has ranges")
	for _, x := range point {
		lo, hi := x, x
		if loose {
			lo = max(0, x-rapid.Int64Range(0, 300).Draw(t, name+" down"))
			hi = min(1000, x+rapid.Int64Range(0, 300).Draw(t, name+" up"))
		}
		p := formula.Part{Key: rapid.SampledFrom(keys).Draw(t, name+" key"),
			Range: formula.Interval{Lo: exact.Frac(lo, 1000), Hi: exact.Frac(hi, 1000)}}
		if loose && rapid.IntRange(0, 3).Draw(t, name+" typical") == 0 {
			p.Exact, p.Typical = true, exact.Frac(x, 1000)
		}
		if volatile {
			p.Dries = rapid.SampledFrom([]formula.Volatile{formula.Stays, formula.Stays, formula.Water, formula.Alcohol}).Draw(t, name+" dries")
		}
		m.Parts = append(m.Parts, p)
	}
	return m
}

// drawInside draws shares of the parts of m that its supplier's ranges allow.
func drawInside(t *rapid.T, m *formula.Material) []exact.Rat {
	x := make([]exact.Rat, len(m.Parts))
	left := exact.Int(1)
	for i, p := range m.Parts {
		var lo, hi exact.Rat // of the parts still to come
		for _, q := range m.Parts[i+1:] {
			lo, hi = lo.Add(q.Range.Lo), hi.Add(q.Range.Hi)
		}
		from := exact.Max(p.Range.Lo, left.Sub(hi))
		to := exact.Min(p.Range.Hi, left.Sub(lo))
		at := exact.Frac(rapid.Int64Range(0, 12).Draw(t, m.Name+" drawn"), 12)
		x[i] = from.Add(at.Mul(to.Sub(from)))
		left = left.Sub(x[i])
	}
	return x
}
