package book

import (
	"fmt"

	"panelwright/formula"
	"panelwright/formula/exact"
)

// readWater reads how much of a milk, a juice or a beer is water. It keeps its
// one name on the pack, at the weight it has; but its water dries off as any
// other, so that what is left of it weighs less in the end.
func (mp *materialPage) readWater() {
	v := mp.at["water"]
	if v == nil {
		return
	}
	sh, ok := mp.quantityShare(v, "the water in it")
	if !ok {
		return
	}
	one := exact.Int(1)
	if sh.Rest || sh.NotDetected || sh.Lo.IsZero() || !sh.Hi.Less(one) {
		mp.fail("book.share", v, fmt.Sprintf("“%s” is no share of water in it", clip(v.Value)), "write it as in 87 %, or 85-90 %")
		return
	}
	if mp.t.torn {
		return
	}
	if len(mp.m.Parts) != 1 || mp.m.Parts[0].Dries != formula.Stays || mp.m.Parts[0].Reacts != nil {
		mp.fail("book.form", v, fmt.Sprintf("water: is for what has one name and holds water, such as a milk, a juice or beer; “%s” is something else", clip(mp.m.Name)),
			"take it out, or write Aqua with its share into contains:")
		return
	}
	dry, wet := mp.m.Parts[0], mp.m.Parts[0]
	dry.Range = formula.Interval{Lo: one.Sub(sh.Hi), Hi: one.Sub(sh.Lo)}
	wet.Range, wet.Dries = formula.Interval{Lo: sh.Lo, Hi: sh.Hi}, formula.Water
	dry.Exact, wet.Exact = sh.Stated, sh.Stated
	if sh.Stated {
		dry.Typical, wet.Typical = one.Sub(sh.Typical), sh.Typical
	}
	mp.m.Parts = []formula.Part{dry, wet}
}
