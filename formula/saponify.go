package formula

import (
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// ReactantKind says how a substance takes up lye.
type ReactantKind uint8

const (
	Glyceride  ReactantKind = iota // 1 fat + 3 lye -> 3 soap + 1 glycerol
	FattyAcid                      // 1 acid + 1 lye -> 1 soap + 1 water
	WaxEster                       // soap, and fatty alcohols that stay under the soap's name; no glycerol
	PlainAcid                      // citric, lactic, acetic: neutralised before any fat
	SodaLye                        // sodium hydroxide
	PotashLye                      // potassium hydroxide
	Unreactive                     // counts as fat, takes up no lye: mineral oil
)

// Fat reports whether it is something that becomes soap.
func (k ReactantKind) Fat() bool { return k <= WaxEster }

// Lye reports whether it is a base.
func (k ReactantKind) Lye() bool { return k == SodaLye || k == PotashLye }

// Reactant is what lye does with a substance. The figures are those of its
// saponification value: milligrams of potassium hydroxide for a gram. For lye
// they stay 0; what it is worth follows from Stoichiometry.
type Reactant struct {
	Kind    ReactantKind
	Value   Interval  // mg KOH/g that it takes up: the supplier's certificate, else the published range
	Typical exact.Rat // mg KOH/g that lye is worked out from
	Acid    Interval  // mg KOH/g of Value that free fatty acids of a glyceride take up: they give water, no glycerol
	Crystal Interval  // grams of crystal water for a gram, set free in the reaction

	Sodium, Potassium Key // what becomes of it

	Published Interval // mg KOH/g; zero where nothing is published
	Certified bool     // Value is the supplier's
	Source    finding.Citation
	Pos       finding.Pos // where the maker wrote Value
}

// Stoichiometry is what goes with a gram of potassium hydroxide in a reaction,
// in grams, and the keys of what is formed.
type Stoichiometry struct {
	Soda     exact.Rat // sodium hydroxide that does the same
	Glycerol exact.Rat // from a glyceride
	Water    exact.Rat // from an acid
	Glycerin Key
	Aqua     Key
}

// WaterKind says what the amount of water to add is measured by.
type WaterKind uint8

const (
	NoWater       WaterKind = iota // all of it stands in the mix
	PerLye                         // Value grams for a gram of lye as weighed; of a solution, for a gram of the hydroxide in it
	Concentration                  // Value is the share of lye in lye and water together
	WaterGrams                     // Value grams
	PerFats                        // Value grams for a gram of fats
)

// Base is a lye that Saponify works out, as it is bought. Its parts are the
// hydroxide, in the range of its purity, and water.
type Base struct {
	Material *Material
	Share    exact.Rat // of the reaction with the fats (and acids) that it does: of the molecules, not of the weight
}

// Saponify says that lye turns the fats of a formula into soap. Lye and water
// come on top of the lines of the mix; the shares of those lines are of the mix
// without them. Where the lye stands in the mix there are no Bases, and the fat
// left over is what follows.
type Saponify struct {
	Pos         finding.Pos
	Bases       []Base
	Superfat    exact.Rat // share of the fats that is to be left, worked out by typical figures; lye discount is another word for it
	WaterBy     WaterKind
	WaterValue  exact.Rat
	Water       *Material   // what is added as water
	InPlace     []*Material // liquids of the mix that stand for part of that water
	After       []*Material // stirred in once no lye is left: they stay as they are
	Left        *Interval   // water in the finished soap, as a share of it; nil: not known
	KeepsAll    bool        // nothing dries off
	Hot         bool        // cooked; else a cold process
	Cure        int         // days; 0 if not stated
	PurityKnown bool        // the purity of the lye is stated, not taken as 100 %
	Stated      []*Material // lyes of the purity that is stated here, not in their material
	By          *Stoichiometry
	Info        any // of the material that the soap is: what the caller knows besides; not read here
}

// added returns the grams of water to add to grams of lye and fats, the liquids
// in its place not counted.
func (s *Saponify) added(lye, fats exact.Rat) exact.Rat {
	switch s.WaterBy {
	case PerLye:
		return s.WaterValue.Mul(lye)
	case Concentration:
		return lye.Mul(one.Sub(s.WaterValue)).Quo(s.WaterValue)
	case WaterGrams:
		return s.WaterValue
	case PerFats:
		return s.WaterValue.Mul(fats)
	}
	return exact.Rat{}
}
