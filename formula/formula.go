// Package formula says what is in a piece, by weight.
//
// A maker weighs materials together; that is a Formula, and a Formula may use
// other Formulas. What one buyer holds is a Piece: so many grams of one or more
// Formulas. A Material is one substance or a blend whose supplier gives ranges.
//
// Compose flattens a Piece to one exact weight for each distinct Material. The
// weights are certain; what is inside a blend is not. So a Composition is
// weights times boxes: for every Material the shares of its parts lie in the
// supplier's ranges and sum to one. Every question asked of it (the least and
// greatest share of a name, whether one name always outweighs another, whether
// a threshold can be passed) is a linear measure over those boxes, and is
// answered exactly: the boxes are separate, so a greedy fill of each one finds
// the optimum. Intervals are never pushed through nested formulas.
//
// The package knows no names, no market and no files. Substances are opaque
// Keys; numbers are exact; weights are grams; shares are fractions of one.
package formula

import (
	"slices"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Interval is a closed range, Lo <= Hi.
type Interval struct{ Lo, Hi exact.Rat }

// Point returns the range that holds x alone.
func Point(x exact.Rat) Interval { return Interval{x, x} }

// Fixed reports whether the range holds one number.
func (i Interval) Fixed() bool { return i.Lo.Equal(i.Hi) }

// Volatile says what may leave a part while a piece dries. Only free water and
// alcohol dry off; scent never does.
type Volatile uint8

const (
	Stays Volatile = iota
	Water
	Alcohol
)

// Part is one ingredient of a Material. The parts of a Material sum to one.
type Part struct {
	Key     Key
	Range   Interval  // fraction of the material, as the supplier states it
	Exact   bool      // the sheet gives a typical figure of its own, in Typical
	Typical exact.Rat // fraction of the material; read only if Exact
	Dries   Volatile
	Reacts  *Reactant // what lye does with it; nil: nothing
}

// Constituent is a substance inside a Material's ingredients, such as linalool
// in a scent: counted "of which". It adds no mass, and constituents have no sum.
type Constituent struct {
	Key       Key
	Range     Interval  // fraction of the material
	Typical   exact.Rat // fraction of the material; the middle of Range where the sheet gives none
	Estimated bool      // from published figures, not from the supplier
	Pos       finding.Pos
	Text      string // as written, for the trail
	Source    finding.Citation
}

// Material is what the maker buys.
type Material struct {
	Name         string
	Pos          finding.Pos
	Parts        []Part
	Constituents []Constituent
	Fat          bool // counts as fat for "% of fats"
	Info         any  // what the caller knows besides; not read here
}

// OwnWater reports whether part p is the water inside a part of the same name
// that stays, as in a milk: it dries off, and has no name of its own.
func (m *Material) OwnWater(p int) bool {
	return m.Parts[p].Dries == Water && slices.ContainsFunc(m.Parts, func(q Part) bool { return q.Key == m.Parts[p].Key && q.Dries == Stays })
}

// Kind says what the number of an Amount means.
type Kind uint8

const (
	Grams   Kind = iota // Value in grams
	OfWhole             // Value is a fraction of the whole mix as weighed, itself included
	OnTop               // Value is a fraction of everything in the mix that is not on top
	OfFats              // Value is a fraction of the fats in the mix
	Parts               // Value is a number of equal parts
	Rest                // whatever is left of the whole; Value unused
)

// Amount is how much of something a Line asks for.
type Amount struct {
	Kind  Kind
	Value exact.Rat
}

// Line is one line of a mix. Exactly one of Material, Formula and Slot is set.
type Line struct {
	Pos      finding.Pos
	Text     string // as written, for the trail
	Material *Material
	Formula  *Formula
	Slot     string // filled by each Piece
	Amount   Amount
}

// Drying is the fraction of the free water and of the alcohol that a formula
// loses before it is sold.
type Drying struct{ Water, Alcohol Interval }

// Formula is what is weighed together.
type Formula struct {
	Name     string
	Pos      finding.Pos
	Lines    []Line
	Dries    Drying
	Saponify *Saponify // nil: nothing in it reacts
	Mould    *Mould    // nil: not stated
}

// Filling is what a Piece puts in a slot: a Material or a Formula.
type Filling struct {
	Material *Material
	Formula  *Formula
	Pos      finding.Pos
}

// Piece is what one buyer holds. The amounts of its Lines are grams as weighed,
// before drying.
type Piece struct {
	Name  string
	Pos   finding.Pos
	Lines []Line
	Slots map[string]Filling
}
