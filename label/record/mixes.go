package record

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
)

// RuleMix is the code of what is wrong with a mix that was made beforehand and
// recorded as a lot of its own.
const RuleMix finding.Code = "lot.mix"

// IsMix reports whether a lot is of a formula that was mixed beforehand, a
// premix or a blend of scents, and not of pieces.
func (x *Lot) IsMix() bool { return x.Pieces == 0 && len(x.Batch) > 0 }

// MixProduct makes a product of a lot of a mix, so that it can be made up as
// one is: a piece of the whole batch.
func MixProduct(f *formula.Formula, x *Lot) *label.Product {
	grams, _ := x.stated(f.Name)
	return &label.Product{Name: f.Name, Pos: f.Pos, Piece: formula.Piece{Name: f.Name, Pos: f.Pos,
		Lines: []formula.Line{{Formula: f, Text: f.Name, Pos: f.Pos, Amount: formula.Amount{Kind: formula.Grams, Value: grams}}}}}
}

// MixNotes says what was weighed otherwise than the recipe into a mix.
func MixNotes(m *Made) finding.List {
	j := &Judgement{Made: m}
	j.deviations()
	return j.Findings
}

// mixesIn returns the lots of mixes that went into a lot, and into those, each
// once.
func (l *Ledger) mixesIn(x *Lot) (out []*Lot) {
	for next := l.mixes[x]; len(next) > 0; next = next[1:] {
		if m := next[0]; m != x && !slices.Contains(out, m) {
			out = append(out, m)
			next = append(slices.Clone(next), l.mixes[m]...)
		}
	}
	return out
}

// usedIn returns the lots of everything that went into a lot, with those that
// went into the mixes in it.
func (l *Ledger) usedIn(x *Lot) []Used {
	if len(l.mixes[x]) == 0 {
		return x.Used
	}
	out := slices.Clone(x.Used)
	for _, m := range l.mixesIn(x) {
		out = append(out, m.Used...)
	}
	return out
}

// isMix reports whether a lot of a mix is recorded for something used.
func (l *Ledger) isMix(u Used) bool {
	return slices.ContainsFunc(u.Lots, func(part Portion) bool {
		x := l.inner(u.Name, part.Code)
		return x != nil && x.IsMix()
	})
}

// mixed returns the lots of mixes that went in, by the folded name of the mix.
func (m *making) mixed() map[string][]*Lot {
	out := map[string][]*Lot{}
	for _, x := range m.ledger.mixesIn(m.made.Lot) {
		key := inci.Fold(x.Product)
		out[key] = append(out[key], x)
	}
	return out
}

// asMixed returns a formula as the lots of it were weighed; f itself where they
// were weighed as the recipe says.
func (m *making) asMixed(piece *formula.Piece, f *formula.Formula, lots []*Lot) *formula.Formula {
	if own := m.of(m.made.Lot, f); len(own) > 0 {
		m.fail(RuleMix, own[0].Pos, fmt.Sprintf("%s was weighed with lot %s of %s, which was made beforehand", own[0].Name, lots[0].Code, f.Name), "correct that lot, if it was weighed otherwise")
		return f
	}
	as := f
	for _, x := range lots {
		mine := m.of(x, f)
		if len(mine) == 0 {
			continue
		}
		if len(lots) > 1 {
			m.fail(RuleMix, m.made.Lot.Entry.Pos, fmt.Sprintf("lots %s of %s went into it, and lot %s was not weighed by the recipe", lotList(lots), f.Name, x.Code),
				"make the pieces of each a lot of their own; a mixture of two is not worked out")
			return f
		}
		grams, ok := x.stated(f.Name)
		if !ok {
			return f
		}
		recipe, bad := m.composer.Batch(f, piece.Slots, grams)
		if len(bad) > 0 {
			m.out = append(m.out, bad...)
			return f
		}
		weighed := slices.Clone(recipe)
		for _, w := range mine {
			if n := m.lineOf(recipe, w.Name); n >= 0 {
				weighed[n].Grams = w.Grams
			}
		}
		as = f.As(weighed)
		m.made.Mixed = append(m.made.Mixed, BatchAsMade{f, recipe, weighed})
	}
	return as
}

func lotList(lots []*Lot) string {
	var all []string
	for _, x := range lots {
		all = append(all, x.Code)
	}
	return strings.Join(all, " and ")
}

// stated returns how much of a formula a lot says was made, by its name, or of
// a lot of that formula in all.
func (x *Lot) stated(name string) (exact.Rat, bool) {
	for _, b := range x.Batch {
		if inci.Fold(b.Formula) == inci.Fold(name) || b.Formula == "" && x.Pieces == 0 && inci.Fold(x.Product) == inci.Fold(name) {
			return b.Grams, true
		}
	}
	return exact.Rat{}, false
}

// whole returns how much a lot says was made of everything together.
func (x *Lot) whole() (exact.Rat, bool) {
	for _, b := range x.Batch {
		if b.Formula == "" {
			return b.Grams, true
		}
	}
	return exact.Rat{}, false
}

// outer returns how many grams were made of each formula that stands in a piece
// itself: what the lot says of it, its part of what the lot says of all, or what
// its pieces hold.
func (x *Lot) outer(p *formula.Piece, count int) map[*formula.Formula]exact.Rat {
	each := map[*formula.Formula]exact.Rat{}
	var sum exact.Rat
	for i := range p.Lines {
		if f := formulaOf(&p.Lines[i], p.Slots); f != nil {
			each[f] = each[f].Add(p.Lines[i].Amount.Value)
			sum = sum.Add(p.Lines[i].Amount.Value)
		}
	}
	pieces := exact.Int(int64(x.Pieces * max(count, 1)))
	all, whole := x.whole()
	for f, g := range each {
		if named, ok := x.stated(f.Name); ok {
			each[f] = named
		} else if whole && sum.Sign() > 0 {
			each[f] = all.Mul(g).Quo(sum)
		} else {
			each[f] = g.Mul(pieces)
		}
	}
	return each
}
