package formula

import (
	"slices"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// RuleWaterLeft is the code of a share of water that a cure cannot reach.
const RuleWaterLeft finding.Code = "soap.water-left"

// dry works out how much of the water leaves. How much stays cannot be known
// from chemistry: it is what the maker found by weighing, as a share x of the
// finished soap. With M poured and W of it water, the finished soap weighs
// (M - W)/(1 - x), so of the water the share 1 - x(M - W)/(W(1 - x)) is lost.
func (r *Reaction) dry() *finding.Finding {
	r.dryer = &Formula{Name: r.Formula.Name, Pos: r.Formula.Pos}
	r.FreeWater = r.Water
	free := func(m *Material, grams exact.Rat) *finding.Finding {
		b, bad := newBox(m)
		if bad != nil {
			return bad
		}
		for i := range m.Parts {
			if m.Parts[i].Dries == Water {
				r.FreeWater = r.FreeWater.Add(grams.Mul(b.typical[i]))
			}
		}
		return nil
	}
	if bad := free(r.Product, r.Weight); bad != nil {
		return bad
	}
	for _, in := range r.inputs {
		if !r.takesPart(in) {
			if bad := free(in.material, in.grams); bad != nil {
				return bad
			}
		}
	}
	own := r.Formula.Dries
	switch {
	case own.Water.Hi.Sign() > 0:
		r.Loss, r.LossKnown = own, true
	case r.s.KeepsAll || r.FreeWater.Sign() == 0:
		r.Loss, r.LossKnown = Drying{Alcohol: own.Alcohol}, true
	case r.s.Left == nil:
		r.Loss = Drying{Water: Interval{Hi: one}, Alcohol: own.Alcohol}
	default:
		r.LossKnown = true
		most, least := r.lost(r.s.Left.Lo), r.lost(r.s.Left.Hi)
		if most.Sign() < 0 {
			cure := "weigh a bar when it is poured and when it is cured, and write the share of water that is left"
			if i := slices.IndexFunc(r.s.InPlace, (*Material).dry); i >= 0 {
				cure = "write how much of " + r.s.InPlace[i].Name + " is water, as in water: 87 %, in a material of the name that the mix uses; or " + cure
			}
			return r.bad(RuleWaterLeft, "more water is said to be left than went in: of "+r.Poured.Decimal(1, exact.Nearest).String()+" g poured "+
				r.FreeWater.Decimal(1, exact.Nearest).String()+" g are water", cure)
		}
		if r.s.Left.Fixed() {
			least = least.Grid(lossGrid, exact.Nearest)
			most = least
		} else {
			least, most = least.Grid(lossGrid, exact.Down), most.Grid(lossGrid, exact.Up)
		}
		r.Loss = Drying{Water: Interval{exact.Max(least, exact.Rat{}), exact.Min(most, one)}, Alcohol: own.Alcohol}
	}
	r.dryer.Dries = r.Loss
	return nil
}

// dry reports whether nothing in m is known to be water.
func (m *Material) dry() bool {
	return !slices.ContainsFunc(m.Parts, func(p Part) bool { return p.Dries == Water })
}

// lossGrid is how finely the share of the water that leaves is kept, outwards:
// as finely as the shares of the soap, so that 8-12 % of water left is 8 and 12
// to every digit that is printed.
const lossGrid = shareGrid

// lost returns the share of the water that leaves if x of the finished soap is water.
func (r *Reaction) lost(x exact.Rat) exact.Rat {
	if !x.Less(one) {
		return one.Neg()
	}
	return one.Sub(x.Mul(r.Poured.Sub(r.FreeWater)).Quo(one.Sub(x).Mul(r.FreeWater)))
}

// WaterAdded returns the material that is added as water, or nil if none is.
func (r *Reaction) WaterAdded() *Material {
	if r.Water.Sign() == 0 {
		return nil
	}
	return r.s.Water
}

// Hot reports whether the soap is cooked, Cure for how many days it cures (0 if
// not stated), and Asked what superfat was asked for.
func (r *Reaction) Hot() bool        { return r.s.Hot }
func (r *Reaction) Cure() int        { return r.s.Cure }
func (r *Reaction) Asked() exact.Rat { return r.s.Superfat }

// After returns the materials stirred in once no lye is left.
func (r *Reaction) After() []*Material { return slices.Clone(r.s.After) }
