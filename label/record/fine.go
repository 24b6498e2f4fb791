package record

import (
	"slices"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/label"
)

// fineness is the most of an amount that one step of the scale may be: 2 %. What
// is less than fifty steps is too fine to weigh. Common practice, no source.
var fineness = exact.Frac(1, 50)

// premixed is how much of a premix is the thing itself: one part in ten. Common
// practice, no source.
const premixed = 10

// Fine is an amount that is too small for the scale.
type Fine struct {
	Formula *formula.Formula
	Amount  Amount    // into the smallest bowl
	Bowl    exact.Rat // grams of that bowl
	Enough  exact.Rat // the bowl in which it would be coarse enough
	Pieces  int       // single pieces out of a bowl of that size; 0 for a mix that goes into others
	Reads   exact.Rat // the coarsest decimal step that would do: 1 g, 0.1 g ...
	Premix  *Premix   // nil where nothing in the mix would carry it, or there is too little of that
}

// Premix is a way to weigh a small amount: with nine times as much of something
// else of the mix, of which so much less is weighed then. Nothing in the piece
// changes.
type Premix struct {
	Carrier   Amount
	Own, With exact.Rat // grams to make the premix of: what is too fine, and the carrier
	Take      exact.Rat // grams of the premix for the bowl
	Left      exact.Rat // grams of the carrier to weigh into the bowl besides
}

// TooFine returns what cannot be weighed well on the scale of the workshop, each
// thing once, in the smallest bowl it goes into; nothing where it is not known
// what the scale reads.
func (pl *Plan) TooFine() []Fine {
	if pl.Step.Sign() == 0 {
		return nil
	}
	least := pl.Step.Quo(fineness)
	var out []Fine
	for _, x := range pl.smallest() {
		for _, a := range x.bowl.Lines {
			if !a.Grams.Less(least) {
				continue
			}
			f := Fine{Formula: x.formula, Amount: a, Bowl: x.bowl.Grams, Enough: x.bowl.Grams.Mul(least).Quo(a.Grams), Reads: exact.Int(1)}
			for f.Reads.Quo(fineness).Cmp(a.Grams) > 0 {
				f.Reads = f.Reads.Quo(exact.Int(10))
			}
			if x.bowl.Pieces > 0 {
				f.Pieces = ceil(exact.Int(int64(x.bowl.Pieces)).Mul(least).Quo(a.Grams))
			}
			f.Premix = premix(x.formula, x.bowl, a, least, pl.Step)
			out = append(out, f)
		}
	}
	return out
}

// smallBowl is the smallest bowl of a formula among all lots.
type smallBowl struct {
	formula *formula.Formula
	bowl    *Bowl
}

func (pl *Plan) smallest() []smallBowl {
	var out []smallBowl
	for l := range pl.Lots {
		for m := range pl.Lots[l].Mixes {
			x := &pl.Lots[l].Mixes[m]
			b := &x.Bowls[len(x.Bowls)-1]
			i := slices.IndexFunc(out, func(s smallBowl) bool { return s.formula == x.Formula })
			switch {
			case i < 0:
				out = append(out, smallBowl{x.Formula, b})
			case b.Grams.Less(out[i].bowl.Grams):
				out[i].bowl = b
			}
		}
	}
	return out
}

// oily and dry are the classes of materials that can carry one another in a
// premix. Scents go into oil, or into powder where there is none.
var (
	oily = []string{"oil", "butter", "essential-oil", "fragrance", "absolute", "fragrance-constituent", "vitamin", "antioxidant"}
	dry  = []string{"colourant", "pigment", "clay", "starch", "base", "salt", "sugar", "milk"}

	oils    = []string{"oil", "butter"}
	powders = []string{"base", "starch", "clay", "salt", "sugar"}
)

// carriers returns the classes that something may be premixed with, the better
// first.
func carriers(m *formula.Material) [][]string {
	switch c := classOf(m); {
	case slices.Contains(oily, c):
		return [][]string{oils, powders}
	case slices.Contains(dry, c):
		return [][]string{powders, oils}
	}
	return nil
}

func classOf(m *formula.Material) string {
	if s, ok := m.Info.(*label.Sheet); ok {
		return s.Class
	}
	return ""
}

// premix finds what of a bowl could carry an amount that is too fine. Soap is
// left out: there the order in which things go in matters.
func premix(f *formula.Formula, b *Bowl, a Amount, least, step exact.Rat) *Premix {
	if a.Material == nil || f.Saponify != nil {
		return nil
	}
	take := a.Grams.Mul(exact.Int(premixed))
	with := a.Grams.Mul(exact.Int(premixed - 1))
	if take.Less(least) {
		return nil // too fine even so
	}
	for _, classes := range carriers(a.Material) {
		var best *Amount
		for i := range b.Lines {
			c := &b.Lines[i]
			if c.Material == nil || c.Material == a.Material || !slices.Contains(classes, classOf(c.Material)) || c.Grams.Less(with) {
				continue
			}
			if best == nil || best.Grams.Less(c.Grams) {
				best = c
			}
		}
		if best == nil {
			continue
		}
		if left := best.Grams.Sub(with); left.Sign() > 0 && left.Less(least) {
			continue // what is left of the carrier could not be weighed
		}
		return &Premix{Carrier: *best, Own: least, With: least.Mul(exact.Int(premixed - 1)), Take: onScale(take, step, false), Left: onScale(best.Grams.Sub(with), step, false)}
	}
	return nil
}
