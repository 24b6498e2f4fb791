package formula

import (
	"slices"

	"panelwright/formula/exact"
)

// saponify turns the flat of a formula, so far what is weighed into it, into
// what lye makes of it. It returns false after an error.
func (w *walk) saponify(f *Formula, items []weighed, fl *flat) bool {
	inputs := make([]input, 0, len(fl.items))
	whole, sized := wholeOf(items)
	if !sized {
		if fl.fat.Sign() == 0 {
			whole = thousand
		} else {
			whole = thousand.Quo(fl.fat)
		}
	}
	for _, it := range fl.weighed() {
		if f.Saponify.reads(it.material) {
			inputs = append(inputs, input{it.material, it.share.Mul(whole), it.spent})
		}
	}
	r, ok := w.c.reactionOf(f, inputs, whole, sized, w)
	if !ok {
		return false
	}
	went, items2 := fl.weighed(), fl.items
	fl.went, fl.items = make([]flatItem, 0, len(went)+3), make([]flatItem, 0, len(items2)+2)
	scale := whole.Quo(r.Poured)
	for _, it := range went {
		it.share, it.spent = it.share.Mul(scale), true
		put(&fl.went, it)
	}
	for _, it := range items2 {
		if !it.spent && slices.Contains(r.reacted, it.material) {
			continue
		}
		it.share, it.spent = it.share.Mul(scale), true
		it.kept = it.kept.after(it.material, r.dryer)
		put(&fl.items, it)
	}
	for _, d := range r.Lye {
		if d.Worked {
			put(&fl.went, flatItem{material: d.Material, share: d.Grams.Quo(r.Poured), spent: true})
		}
	}
	if m := r.WaterAdded(); m != nil {
		share := r.Water.Quo(r.Poured)
		put(&fl.went, flatItem{material: m, share: share, spent: true})
		put(&fl.items, flatItem{m, share, (*kept)(nil).after(m, r.dryer), true})
	}
	put(&fl.items, flatItem{r.Product, r.Weight.Quo(r.Poured), (*kept)(nil).after(r.Product, r.dryer), true})
	sharesOnGrid(fl.went)
	sharesOnGrid(fl.items)
	fl.fat = exact.Rat{} // soap is no fat
	fl.reactions = append(fl.reactions, r)
	return true
}

func sharesOnGrid(items []flatItem) {
	shares := make([]exact.Rat, len(items))
	for i := range items {
		shares[i] = items[i].share
	}
	onGrid(shares)
	for i := range items {
		items[i].share = shares[i]
	}
}

// reads reports whether the lye calculation depends on how much of m there is.
func (s *Saponify) reads(m *Material) bool {
	return m.Fat || slices.Contains(s.After, m) || slices.Contains(s.InPlace, m) ||
		slices.ContainsFunc(m.Parts, func(p Part) bool { return p.Reacts != nil || p.Dries != Stays })
}

// wholeOf returns the grams of a mix, if some line of it is in grams.
func wholeOf(items []weighed) (exact.Rat, bool) {
	for _, it := range items {
		if it.line.Amount.Kind == Grams && it.take.Sign() > 0 {
			return it.line.Amount.Value.Quo(it.take), true
		}
	}
	return exact.Rat{}, false
}

// reactionOf returns the reaction of a formula, worked out once for all pieces
// whose slots bring the same: only what is poured on top of the soap differs
// between most products of a range.
func (c *Composer) reactionOf(f *Formula, inputs []input, whole exact.Rat, sized bool, w *walk) (*Reaction, bool) {
	known := func() *Reaction {
		for _, r := range c.reactions[f] {
			if r.Batch.Equal(whole) && sameInputs(r.inputs, inputs) {
				return r
			}
		}
		return nil
	}
	c.mu.RLock()
	r := known()
	c.mu.RUnlock()
	if r != nil {
		return r, true
	}
	r, bad := react(f, inputs, whole, sized)
	if bad != nil {
		w.fail(*bad)
		return nil, false
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if other := known(); other != nil { // another goroutine was quicker
		return other, true
	}
	c.reactions[f] = append(c.reactions[f], r)
	return r, true
}

// Reaction works out the lye calculation of a formula by itself. It returns nil
// if lye does nothing in it, or with the findings that keep it from being worked
// out. Slots are left out.
func (c *Composer) Reaction(f *Formula) (*Reaction, []*Reaction) {
	w := &walk{c: c, open: true}
	fl := w.formula(f)
	if fl == nil || len(fl.reactions) == 0 {
		return nil, nil
	}
	n := len(fl.reactions) - 1
	if fl.reactions[n].Formula != f {
		return nil, fl.reactions
	}
	return fl.reactions[n], fl.reactions[:n]
}
