package formula

import (
	"slices"

	"panelwright/formula/exact"
)

// Group is a figure that constituents add up to: a stated total and the
// members that it covers. A single substance is a group of one.
type Group struct {
	Total   Key
	Members []Key
	Weigh   func(Key) exact.Rat  // grams counted for a gram of a key; nil: each counts as it is
	Of      func(*Material) bool // the materials looked at; nil: all of them
}

func (g Group) weight(k Key) exact.Rat {
	if g.Weigh == nil {
		return one
	}
	return g.Weigh(k)
}

func (g Group) has(k Key) bool { return k == g.Total || slices.Contains(g.Members, k) }

// Within is what one material brings to a group.
type Within struct {
	Material  *Material
	Weight    exact.Rat // grams of the material in the piece, as weighed
	Fraction  Share     // of the group in the material
	Estimated bool      // rests on published figures
}

// Inside is how much of a group is in a composition: as constituents, and as
// parts in their own right.
type Inside struct {
	Share Share // of the finished mass
	From  []Within

	comp *Composition
	with []within
}

// within is what an item has of a group.
type within struct {
	item   int
	stated Share       // the greater of stated total and sum of stated members
	direct bool        // some part is a member: there is as much as of those parts, and beside
	beside Share       // beside them, the stated members that are no parts
	coef   []exact.Rat // of the parts: what a gram of a member counts, 0 for the others
	parts  Share       // of the member parts
}

func (w *within) fraction() Share {
	s := w.stated
	if w.direct {
		own := w.beside
		own.add(w.parts.Min, w.parts.Typical, w.parts.Max)
		s = s.atLeast(own)
	}
	return s
}

func (s Share) atLeast(o Share) Share {
	return Share{exact.Max(s.Min, o.Min), exact.Max(s.Typical, o.Typical), exact.Max(s.Max, o.Max)}
}

// Inside measures a group. In each material the group's figure is the greater
// of the stated total and the sum of the members: as stated, and with the parts
// that are members themselves. Materials then add up. It returns nil if no
// material mentions the group.
func (c *Composition) Inside(g Group) *Inside {
	in := &Inside{comp: c}
	for i := range c.Items {
		it := &c.Items[i]
		if !it.Material.mentions(g) || g.Of != nil && !g.Of(it.Material) {
			continue
		}
		w, estimated := it.within(g)
		w.item = i
		in.with = append(in.with, w)
		in.From = append(in.From, Within{it.Material, it.Weight, w.fraction(), estimated})
	}
	if len(in.with) == 0 {
		return nil
	}
	in.bounds()
	return in
}

// mentions reports whether a part or a constituent of m is of the group.
func (m *Material) mentions(g Group) bool {
	for i := range m.Parts {
		if g.has(m.Parts[i].Key) {
			return true
		}
	}
	for i := range m.Constituents {
		if g.has(m.Constituents[i].Key) {
			return true
		}
	}
	return false
}

func (it *Item) within(g Group) (w within, estimated bool) {
	whole := false // the total itself is a part
	for p, part := range it.Material.Parts {
		if !g.has(part.Key) {
			continue
		}
		if w.coef == nil {
			w.coef = make([]exact.Rat, len(it.Material.Parts))
		}
		w.coef[p], w.direct = g.weight(part.Key), true
		whole = whole || part.Key == g.Total
		w.parts.Typical = w.parts.Typical.Add(it.box.typical[p].Mul(w.coef[p]))
	}
	if w.direct {
		w.parts.Min, w.parts.Max = it.box.extremes(w.coef)
	}
	var total, members Share
	for i := range it.Material.Constituents {
		k := &it.Material.Constituents[i]
		if !g.has(k.Key) {
			continue
		}
		f := g.weight(k.Key)
		lo, mid, hi := k.Range.Lo.Mul(f), k.Typical.Mul(f), k.Range.Hi.Mul(f)
		switch {
		case k.Key == g.Total:
			total.add(lo, mid, hi)
		default:
			members.add(lo, mid, hi)
			if w.direct && !whole && !it.Material.has(k.Key) {
				w.beside.add(lo, mid, hi)
			}
		}
		estimated = estimated || k.Estimated
	}
	w.stated = total.atLeast(members)
	return w, estimated
}

// has reports whether k is a part of m.
func (m *Material) has(k Key) bool {
	return slices.ContainsFunc(m.Parts, func(p Part) bool { return p.Key == k })
}

// extremes returns the least and greatest sum of coef times share.
func (b *box) extremes(coef []exact.Rat) (lo, hi exact.Rat) {
	if len(coef) == 1 {
		return coef[0], coef[0]
	}
	x := make([]exact.Rat, len(b.parts))
	sum := func(sign exact.Rat) (s exact.Rat) {
		cost := make([]exact.Rat, len(coef))
		for p := range coef {
			cost[p] = coef[p].Mul(sign)
		}
		b.fill(x, cost)
		for p := range x {
			s = s.Add(coef[p].Mul(x[p]))
		}
		return s
	}
	return sum(one), sum(one.Neg())
}

// CanExceed reports whether the group can pass limit, a fraction of the
// finished mass, in some feasible composition at the greatest drying: whether
// the greatest A - limit*T is above 0. A share equal to the limit does not.
func (in *Inside) CanExceed(limit exact.Rat) bool { return limit.Less(in.Share.Max) }

// MustExceed reports whether the group passes limit in every feasible
// composition.
func (in *Inside) MustExceed(limit exact.Rat) bool { return limit.Less(in.Share.Min) }

// Grams returns the group's mass in the piece. Constituents do not dry off.
func (in *Inside) Grams() Share {
	var s Share
	for n := range in.From {
		f, weight := &in.From[n].Fraction, in.From[n].Weight
		s.add(f.Min.Mul(weight), f.Typical.Mul(weight), f.Max.Mul(weight))
	}
	return s
}

// bounds works out the share. Where the whole varies, Min is the least mass of
// the group in the greatest whole: the least share, or a little less if a
// material both dries and has members among its parts.
func (in *Inside) bounds() {
	g, c := in.Grams(), in.comp
	if t, ok := c.steadyMass(Finished); ok {
		in.Share = Share{g.Min.Quo(t), g.Typical.Quo(t), g.Max.Quo(t)}
		return
	}
	in.Share.Min = g.Min.Quo(c.Mass(Finished).Hi)
	in.Share.Typical = g.Typical.Quo(c.TypicalMass(Finished))
	in.Share.Max = settle(in.Share.Typical, in.most)
}

// most returns the group's grams A and the whole mass T where A - q*T is greatest.
func (in *Inside) most(q exact.Rat) (mine, whole exact.Rat) {
	var best exact.Rat
	for n := range in.comp.cases {
		var a, t exact.Rat
		next := 0
		for i := range in.comp.Items {
			it := &in.comp.Items[i]
			if next == len(in.with) || in.with[next].item != i {
				t = t.Add(it.lightest(n))
				continue
			}
			mineHere, wholeHere := it.most(&in.with[next], n, q)
			a, t = a.Add(mineHere), t.Add(wholeHere)
			next++
		}
		if v := a.Sub(q.Mul(t)); n == 0 || best.Less(v) {
			best, mine, whole = v, a, t
		}
	}
	return mine, whole
}

// lightest returns the least finished mass of the item in case n of drying.
func (it *Item) lightest(n int) exact.Rat {
	if it.dried == nil {
		return it.Weight
	}
	t := it.tallyOf(nil, 0)
	_, lost := t.fill(n, little, little)
	return it.Weight.Sub(lost)
}

// most returns the item's grams of the group and its finished mass where the
// first less q times the second is greatest. The stated figure holds for any
// shares of the parts, so the lightest serve; member parts, counted as weighed,
// ask for shares of their own.
func (it *Item) most(w *within, n int, q exact.Rat) (mine, whole exact.Rat) {
	if it.dried == nil {
		return w.fraction().Max.Mul(it.Weight), it.Weight
	}
	mine, whole = w.stated.Max.Mul(it.Weight), it.lightest(n)
	if !w.direct {
		return mine, whole
	}
	x := make([]exact.Rat, len(it.box.parts))
	cost := make([]exact.Rat, len(x))
	for p := range cost {
		cost[p] = q.Mul(it.grams(p, Finished, n)).Sub(w.coef[p].Mul(it.Weight))
	}
	it.box.fill(x, cost)
	parts, heavy := w.beside.Max, exact.Rat{}
	for p := range x {
		parts = parts.Add(w.coef[p].Mul(x[p]))
		heavy = heavy.Add(x[p].Mul(it.grams(p, Finished, n)))
	}
	if parts = parts.Mul(it.Weight); mine.Sub(q.Mul(whole)).Less(parts.Sub(q.Mul(heavy))) {
		return parts, heavy
	}
	return mine, whole
}
