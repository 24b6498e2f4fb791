package label

import (
	"fmt"
	"slices"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// carried is an oil that is known to hold a limited substance, and whose sheet
// leaves it open how much.
type carried struct {
	material *formula.Material
	carrier  inci.Carrier
	grams    exact.Rat // the most there can be, as far as it is published
}

// judgeCarriers reports oils that are known to hold a limited or prohibited
// substance, where the sheet gives no figure for it and answers no list that it
// stands on. What is published decides nothing but whether it could matter: for
// that, all oils without a figure are added to what the other sheets state.
func (x *Declaration) judgeCarriers() {
	whole := x.Composition.Mass(formula.Finished).Lo
	if whole.Sign() <= 0 {
		return
	}
	kinds, _ := kindsOf(x.Product)
	for _, c := range x.carriers() {
		l := x.strictest(c[0].carrier.Constituent, kinds)
		if l == nil {
			continue
		}
		most := x.statedGrams(l, c)
		for _, o := range c {
			most = most.Add(o.grams)
		}
		if !l.Max.Mul(whole).Less(most) {
			continue
		}
		for _, o := range c {
			name := inci.Readable(string(o.carrier.Constituent))
			x.add(finding.Finding{Rule: "oil.no-figure", Severity: finding.Error, Where: firstPos(o.material.Pos, x.Product.Pos),
				Message: fmt.Sprintf("%s is known to hold %s, which is limited to %s %% of the finished piece, and its sheet gives no figure", o.material.Name, name, l.Max.Mul(hundred)),
				Cure:    fmt.Sprintf("ask the supplier for a figure and write %s: under allergens: of the material", name), Source: o.carrier.Source})
		}
	}
}

// carriers gathers the oils whose sheets leave a substance open, by substance, in
// the order of the piece.
func (x *Declaration) carriers() (all [][]carried) {
	at := map[formula.Key]int{}
	for i := range x.Composition.Items {
		it := &x.Composition.Items[i]
		for _, p := range it.Material.Parts {
			for _, c := range inci.Carries(p.Key) {
				if x.answered(it.Material, c.Constituent) {
					continue
				}
				high := exact.Int(1) // unknown: the oil could be nothing else
				if c.HasHigh {
					high = c.High
				}
				n, ok := at[c.Constituent]
				if !ok {
					n = len(all)
					at[c.Constituent] = n
					all = append(all, nil)
				}
				all[n] = append(all[n], carried{it.Material, c, it.Weight.Mul(p.Range.Hi).Mul(high)})
			}
		}
	}
	return all
}

// answered reports whether a sheet says how much of a substance there is: by a
// figure of the supplier's for it or for the members of its entry, or by covering
// a list that names it, where silence says that it is below what the sheet lists.
func (x *Declaration) answered(m *formula.Material, k formula.Key) bool {
	if slices.ContainsFunc(m.Constituents, func(o formula.Constituent) bool { return o.Key == k && !o.Estimated }) {
		return true
	}
	for _, a := range allergenIndexes()[inci.EU][k] {
		if a.Oil || !sheet(m).answers(a, m, x.Occasion) {
			continue
		}
		return true
	}
	return false
}

// strictest returns the row with the lowest maximum that binds for a substance
// in this product, or nil.
func (x *Declaration) strictest(k formula.Key, kinds kinds) (best *inci.Limit) {
	for _, l := range inci.LimitsOf(k, x.Market) {
		if l.HasMax && l.Duty.Binds(x.Occasion) && kinds.in(&l.Applies) && (best == nil || l.Max.Less(best.Max)) {
			best = l
		}
	}
	return best
}

// statedGrams returns how many grams of what a row limits the sheets state, and
// the recipe weighs, outside the oils that are open.
func (x *Declaration) statedGrams(l *inci.Limit, open []carried) exact.Rat {
	k := open[0].carrier.Constituent
	in := x.Composition.Inside(formula.Group{Total: totalOf(k, l), Members: l.Sum, Weigh: l.Most, Of: func(m *formula.Material) bool {
		return !slices.ContainsFunc(open, func(o carried) bool { return o.material == m })
	}})
	if in == nil {
		return exact.Rat{}
	}
	return in.Grams().Max
}
