package formula

import (
	"slices"

	"panelwright/formula/exact"
)

// make works out what is in the soap. Mass is kept: the soap of a fat is the
// fat that reacted and the lye that it took up, less the glycerol or the water
// that came of it. So no table of fatty acids is needed, and what a fat holds
// that does not react stays in its soap.
func (r *Reaction) make() {
	by := r.s.By
	soda, potash := r.shares()
	bases := []struct {
		share span
		grams exact.Rat // for a gram of potassium hydroxide
		key   func(*Reactant) Key
		of    portion
	}{
		{soda, by.Soda, func(v *Reactant) Key { return v.Sodium }, sodaSoap},
		{potash, one, func(v *Reactant) Key { return v.Potassium }, potashSoap},
	}
	done := r.Superfat.rest()
	var glycerol, water span
	for _, u := range r.Fats {
		v := u.Reacts
		fat := u.Grams.times(done)
		perGram := span{v.Value.Lo, v.Typical, v.Value.Hi}.scaled(exact.Frac(1, 1000))
		acid := span{v.Acid.Lo, v.Acid.Lo.Add(v.Acid.Hi).Quo(exact.Int(2)), v.Acid.Hi}.scaled(exact.Frac(1, 1000))
		leaves := exact.Rat{} // grams of glycerol or water for a gram of potassium hydroxide
		switch v.Kind {
		case Glyceride:
			leaves = by.Glycerol
			glycerol = glycerol.plus(fat.times(perGram.less(acid).positive()).scaled(leaves))
			water = water.plus(fat.times(acid).scaled(by.Water))
		case FattyAcid:
			leaves = by.Water
			water = water.plus(fat.times(perGram).scaled(leaves))
		}
		for _, b := range bases {
			if b.share.Max.Sign() == 0 {
				continue
			}
			gain := steady(one).plus(perGram.scaled(b.grams.Sub(leaves)))
			if v.Kind == Glyceride {
				gain = gain.plus(acid.scaled(leaves.Sub(by.Water)))
			}
			r.merge(Made{b.key(v), fat.times(gain).times(b.share), Stays, b.of, u.Grams.times(gain)})
		}
		r.merge(Made{u.Key, u.Grams.times(r.Superfat), Stays, left, u.Grams})
	}
	r.add(by.Glycerin, glycerol, Stays)
	for _, u := range r.Acids {
		v := u.Reacts
		perGram := span{v.Value.Lo, v.Typical, v.Value.Hi}.scaled(exact.Frac(1, 1000))
		crystal := span{v.Crystal.Lo, v.crystal(), v.Crystal.Hi}
		water = water.plus(u.Grams.times(perGram.scaled(by.Water).plus(crystal)))
		for _, b := range bases {
			if b.share.Max.Sign() == 0 {
				continue
			}
			// The range of an acid is that of its crystal water: what takes up
			// less lye sets more water free, so the ends belong together crosswise.
			gain := steady(one).plus(perGram.scaled(b.grams.Sub(by.Water))).less(crystal)
			r.add(b.key(v), u.Grams.times(gain).times(b.share), Stays)
		}
	}
	r.addLye(soda, potash)
	r.add(by.Aqua, water, Water)
	r.passOn()
	r.finish()
}

// crystal is the crystal water that belongs to the typical figure: an acid that
// takes up the least holds the most.
func (v *Reactant) crystal() exact.Rat {
	span := v.Value.Hi.Sub(v.Value.Lo)
	if span.Sign() == 0 {
		return v.Crystal.Lo
	}
	t := v.Value.Hi.Sub(v.Typical).Quo(span)
	return v.Crystal.Lo.Add(t.Mul(v.Crystal.Hi.Sub(v.Crystal.Lo)))
}

// shares returns how much of the reaction is done by sodium hydroxide and by
// potassium hydroxide.
func (r *Reaction) shares() (soda, potash span) {
	var na, k span
	for _, d := range r.Lye {
		if d.Soda {
			na = na.plus(d.Worth)
		} else {
			k = k.plus(d.Worth)
		}
	}
	of := func(a, b span) span {
		if a.Max.Sign() == 0 {
			return span{}
		}
		return span{a.Min.Quo(a.Min.Add(b.Max)), a.Typical.Quo(a.Typical.Add(b.Typical)), a.Max.Quo(a.Max.Add(b.Min))}
	}
	return of(na, k), of(k, na)
}

// addLye adds the lye that finds nothing to react with. It is left only in the
// worst case, or by mistake.
func (r *Reaction) addLye(soda, potash span) {
	if r.FreeLye.Max.Sign() == 0 {
		return
	}
	for _, d := range r.Lye {
		for i := range d.Material.Parts {
			p := &d.Material.Parts[i]
			switch {
			case p.Reacts == nil:
			case p.Reacts.Kind == SodaLye:
				r.add(p.Key, r.FreeLye.times(soda).scaled(r.s.By.Soda), Stays)
				soda = span{} // once
			case p.Reacts.Kind == PotashLye:
				r.add(p.Key, r.FreeLye.times(potash), Stays)
				potash = span{}
			}
		}
	}
}

// passOn adds the parts of the materials that take no part: the water of the
// lye and of a vinegar.
func (r *Reaction) passOn() {
	pass := func(m *Material, grams exact.Rat) {
		b, bad := newBox(m)
		if bad != nil {
			return // reported when it was taken
		}
		for i := range m.Parts {
			p := &m.Parts[i]
			if p.Reacts == nil || p.Reacts.Kind == Unreactive {
				r.add(p.Key, span{b.parts[i].Lo, b.typical[i], b.parts[i].Hi}.scaled(grams), p.Dries)
			}
		}
	}
	for _, in := range r.inputs {
		if r.takesPart(in) {
			pass(in.material, in.grams)
			r.Weight = r.Weight.Add(in.grams)
		}
	}
	for _, d := range r.Lye {
		if d.Worked {
			pass(d.Material, d.Grams)
			r.Weight = r.Weight.Add(d.Grams)
		}
	}
}

func (r *Reaction) takesPart(in input) bool {
	return !in.spent && slices.Contains(r.reacted, in.material) && !slices.Contains(r.s.After, in.material)
}

func (r *Reaction) add(k Key, g Share, d Volatile) { r.merge(Made{Key: k, Grams: g, Dries: d}) }

// merge adds an amount to those made, if there is any of it.
func (r *Reaction) merge(add Made) {
	if add.Grams.Max.Sign() <= 0 {
		return
	}
	for i := range r.Made {
		m := &r.Made[i]
		if m.Key != add.Key || m.Dries != add.Dries {
			continue
		}
		m.Grams, m.bare = m.Grams.plus(add.Grams), m.bare.plus(add.bare)
		if m.of != add.of {
			m.of = mixed
		}
		return
	}
	r.Made = append(r.Made, add)
}

// finish makes the soap a material: a box of parts whose typical shares are
// those of the reaction.
func (r *Reaction) finish() {
	m := &Material{Name: r.Formula.Name, Pos: r.Formula.Pos, Parts: make([]Part, len(r.Made)), Info: r.s.Info}
	shares := make([]exact.Rat, len(r.Made))
	for i := range r.Made {
		shares[i] = r.Made[i].Grams.Typical.Quo(r.Weight)
	}
	light, heavy := r.Weight.Grid(boundGrid, exact.Down), r.Weight.Grid(boundGrid, exact.Up)
	onGrid(shares)
	for i := range r.Made {
		g := &r.Made[i].Grams
		g.Min, g.Max = exact.Max(g.Min, exact.Rat{}), exact.Min(g.Max, r.Weight)
		p := Part{Key: r.Made[i].Key, Dries: r.Made[i].Dries, Exact: true, Typical: shares[i], Range: Point(shares[i])}
		if !g.fixed() {
			p.Range = Interval{exact.Min(g.Min.Quo(heavy).Grid(shareGrid, exact.Down), shares[i]), exact.Max(g.Max.Quo(light).Grid(shareGrid, exact.Up), shares[i])}
		}
		m.Parts[i] = p
	}
	for _, in := range r.inputs {
		if r.takesPart(in) {
			m.carry(in.material, in.grams.Quo(r.Weight))
		}
	}
	r.Product = m
}

// shareGrid is how finely the shares of a soap are kept: a hundred-millionth,
// 10 µg in a kilogram. The grams of the lye calculation itself stay exact; what
// is made of them here goes on into thousands of sums, and no molar mass is
// known more finely.
const shareGrid = 100_000_000

// onGrid puts shares that sum to one on the grid, so that they still do: the
// largest takes up the difference.
func onGrid(shares []exact.Rat) {
	largest, sum := 0, exact.Rat{}
	for i := range shares {
		shares[i] = shares[i].Grid(shareGrid, exact.Nearest)
		sum = sum.Add(shares[i])
		if shares[largest].Less(shares[i]) {
			largest = i
		}
	}
	shares[largest] = shares[largest].Add(one.Sub(sum))
}

// carry takes over what a material that reacted holds of which: lye is not
// credited with destroying any of it.
func (m *Material) carry(from *Material, share exact.Rat) {
	for _, c := range from.Constituents {
		c.Range = Interval{c.Range.Lo.Mul(share), c.Range.Hi.Mul(share)}
		c.Typical = c.Typical.Mul(share)
		i := slices.IndexFunc(m.Constituents, func(o Constituent) bool { return o.Key == c.Key })
		if i < 0 {
			m.Constituents = append(m.Constituents, c)
			continue
		}
		o := &m.Constituents[i]
		o.Range = Interval{o.Range.Lo.Add(c.Range.Lo), o.Range.Hi.Add(c.Range.Hi)}
		o.Typical, o.Estimated = o.Typical.Add(c.Typical), o.Estimated || c.Estimated
	}
}
