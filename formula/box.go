package formula

import (
	"fmt"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// box is what may be in one gram of a material: every part within its range,
// all parts together one. The ranges are tightened, so each bound is reached by
// some feasible composition.
type box struct {
	parts   []Interval
	typical []exact.Rat
	spare   exact.Rat // one less the sum of the lower bounds
	fixed   bool      // every range holds one number: spare is 0
}

// box gives every item of the composition its box.
func (c *Composer) box(comp *Composition, w *walk) {
	c.mu.RLock()
	for i := range comp.Items {
		comp.Items[i].box = c.boxes[comp.Items[i].Material]
	}
	c.mu.RUnlock()
	for i := range comp.Items {
		it := &comp.Items[i]
		if it.box != nil {
			continue
		}
		b, bad := c.boxOf(it.Material)
		if bad != nil {
			w.fail(*bad)
		}
		it.box = b
	}
}

func (c *Composer) boxOf(m *Material) (*box, *finding.Finding) {
	b, bad := newBox(m)
	if bad != nil {
		return nil, bad
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if other := c.boxes[m]; other != nil { // another goroutine was quicker
		return other, nil
	}
	c.boxes[m] = b
	return b, nil
}

// newBox tightens the ranges of m once:
//
//	lo = max(lo, 1 - sum of the other hi), hi = min(hi, 1 - sum of the other lo)
//
// One pass suffices for a box cut by one equation.
func newBox(m *Material) (*box, *finding.Finding) {
	var los, his exact.Rat
	for _, p := range m.Parts {
		los, his = los.Add(p.Range.Lo), his.Add(p.Range.Hi)
	}
	if len(m.Parts) == 0 || one.Less(los) || his.Less(one) {
		return nil, &finding.Finding{Rule: RuleInfeasible, Severity: finding.Error, Where: m.Pos,
			Message: fmt.Sprintf("%s: its parts cannot sum to 100 %%: at least %s %%, at most %s %%", m.Name, percent(los, exact.Up), percent(his, exact.Down)),
			Cure:    "check the figures against the supplier's sheet; write what it does not disclose as \"undisclosed: rest\""}
	}
	b := &box{parts: make([]Interval, len(m.Parts)), fixed: true}
	for i, p := range m.Parts {
		lo := exact.Max(p.Range.Lo, one.Sub(his.Sub(p.Range.Hi)))
		hi := exact.Min(p.Range.Hi, one.Sub(los.Sub(p.Range.Lo)))
		b.parts[i] = Interval{lo, hi}
		b.fixed = b.fixed && lo.Equal(hi)
	}
	b.spare = one
	for _, p := range b.parts {
		b.spare = b.spare.Sub(p.Lo)
	}
	b.typical = typical(m, b.parts)
	return b, nil
}

// typical is the sheet's own figures where it gives them for every open part
// and they sum to one, else lo + t(hi - lo) with one t for the material.
func typical(m *Material, parts []Interval) []exact.Rat {
	out := make([]exact.Rat, len(parts))
	var stated, lo, hi exact.Rat
	for i, p := range parts {
		if m.Parts[i].Exact {
			out[i] = exact.Min(exact.Max(m.Parts[i].Typical, p.Lo), p.Hi)
			stated = stated.Add(out[i])
			continue
		}
		lo, hi = lo.Add(p.Lo), hi.Add(p.Hi)
	}
	left := one.Sub(stated)
	if left.Less(lo) || hi.Less(left) {
		// The stated figures leave no room for the others: fall back on the ranges alone.
		bare := *m
		bare.Parts = append([]Part(nil), m.Parts...)
		for i := range bare.Parts {
			bare.Parts[i].Exact = false
		}
		return typical(&bare, parts)
	}
	var t exact.Rat
	if span := hi.Sub(lo); span.Sign() > 0 {
		t = left.Sub(lo).Quo(span)
	}
	for i, p := range parts {
		if !m.Parts[i].Exact {
			out[i] = p.Lo.Add(t.Mul(p.Hi.Sub(p.Lo)))
		}
	}
	return out
}

// fill sets x to shares at which the sum of coef times share is least: every
// part at its lower bound, and what is left to the cheapest parts first. For
// one equation over a box that is the optimum.
func (b *box) fill(x, coef []exact.Rat) {
	for i, p := range b.parts {
		x[i] = p.Lo
	}
	left := b.spare
	for left.Sign() > 0 {
		best := -1
		for i := range x {
			if x[i].Less(b.parts[i].Hi) && (best < 0 || coef[i].Less(coef[best])) {
				best = i
			}
		}
		room := exact.Min(left, b.parts[best].Hi.Sub(x[best]))
		x[best] = x[best].Add(room)
		left = left.Sub(room)
	}
}

// bounds returns the least and greatest sum of the parts that name x owns.
func (b *box) bounds(owner []int, x int) (lo, hi exact.Rat) {
	var room, others exact.Rat // how far those parts and the others can rise
	for p, r := range b.parts {
		if owner[p] == x {
			lo = lo.Add(r.Lo)
			if !b.fixed {
				room = room.Add(r.Hi.Sub(r.Lo))
			}
		} else if !b.fixed {
			others = others.Add(r.Hi.Sub(r.Lo))
		}
	}
	if b.fixed {
		return lo, lo
	}
	return lo.Add(exact.Max(exact.Rat{}, b.spare.Sub(others))), lo.Add(exact.Min(room, b.spare))
}

// gap returns the least value of the parts of name a less those of name z: what
// is spare goes to z first, then to the others, to a only when they are full.
func (b *box) gap(owner []int, a, z int) exact.Rat {
	var least, toZ, toOthers exact.Rat
	for p, r := range b.parts {
		switch owner[p] {
		case a:
			least = least.Add(r.Lo)
		case z:
			least = least.Sub(r.Lo)
			if !b.fixed {
				toZ = toZ.Add(r.Hi.Sub(r.Lo))
			}
		default:
			if !b.fixed {
				toOthers = toOthers.Add(r.Hi.Sub(r.Lo))
			}
		}
	}
	if b.fixed {
		return least
	}
	toZ = exact.Min(toZ, b.spare)
	toA := exact.Max(exact.Rat{}, b.spare.Sub(toZ).Sub(toOthers))
	return least.Sub(toZ).Add(toA)
}
