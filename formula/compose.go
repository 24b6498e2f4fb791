package formula

import (
	"slices"
	"strings"
	"sync"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Composition is what a piece holds: an exact weight of each distinct material,
// in order of first use, times what may be in that material. Of a soap it is
// what came out of the reaction; Weighed is what went in.
type Composition struct {
	Items []Item
	Added exact.Rat // grams as weighed, before drying

	finished exact.Rat // grams once dried, if steady
	steady   bool      // no range and no drying can change the finished mass
	cases    int       // cases of drying in every Item.dried

	mass        Interval  // grams once dried, if not steady
	typicalMass exact.Rat // the same, typical
	weighedUp   bool      // they have been worked out

	weighed   *Composition // before anything reacted; nil if nothing does
	reactions []*Reaction
	steps     []Step // the lines of the piece
}

// Weighed returns the composition as weighed, before anything reacted: c itself
// where nothing does. Its drying is that of what does not react; what dries
// after a reaction is in c.
func (c *Composition) Weighed() *Composition {
	if c.weighed == nil {
		return c
	}
	return c.weighed
}

// Reactions returns the saponifications that the piece comes out of, in order
// of first use.
func (c *Composition) Reactions() []*Reaction { return c.reactions }

// Item is one material of a composition.
type Item struct {
	Material *Material
	Weight   exact.Rat // grams as weighed
	dried    *dried    // nil if nothing in it dries
	box      *box
}

// Composer composes pieces and remembers what it has worked out of formulas and
// materials, so that thousands of products on a few bases cost little. It may
// be used by several goroutines.
type Composer struct {
	mu    sync.RWMutex
	flats map[*Formula]*flat
	boxes map[*Material]*box

	reactions map[*Formula][]*Reaction
}

// NewComposer returns a Composer that knows nothing yet. The formulas and
// materials given to it must not change afterwards.
func NewComposer() *Composer {
	return &Composer{flats: map[*Formula]*flat{}, boxes: map[*Material]*box{}, reactions: map[*Formula][]*Reaction{}}
}

// flat is a formula or material worked down to materials: shares of one gram.
type flat struct {
	formula *Formula
	mix     []weighed // its lines
	items   []flatItem
	fat     exact.Rat // share that is fat
	slots   bool      // depends on how slots are filled

	went      []flatItem  // what went in, where something reacted; else nil
	reactions []*Reaction // of this formula last, those inside it before
}

type flatItem struct {
	material *Material
	share    exact.Rat
	kept     *kept // nil where nothing dries
	spent    bool  // came out of a reaction, or went in: it does not react again
}

// weighed returns what went into the flat.
func (f *flat) weighed() []flatItem {
	if f.went == nil {
		return f.items
	}
	return f.went
}

// Compose works out what a piece holds. The findings are errors in the piece or
// the formulas it uses; the composition is nil if there is one.
func (c *Composer) Compose(p *Piece) (*Composition, finding.List) {
	w := &walk{c: c, slots: p.Slots}
	stuffs := make([]stuff, len(p.Lines))
	count := 0
	for i := range p.Lines {
		l := &p.Lines[i]
		s, ok := w.item(l)
		if !ok {
			continue
		}
		if l.Amount.Kind != Grams || l.Amount.Value.Sign() <= 0 {
			w.fail(finding.Finding{Rule: RuleNotGrams, Severity: finding.Error, Where: l.Pos,
				Message: p.Name + ": " + l.Text + ": a piece holds weights", Cure: "write how many grams of it are in one piece"})
			continue
		}
		stuffs[i] = s
		count += s.count()
	}
	if len(p.Lines) == 0 {
		w.fail(finding.Finding{Rule: RuleEmpty, Severity: finding.Error, Where: p.Pos,
			Message: p.Name + ": the piece holds nothing", Cure: "write piece: with the formulas it is made of and their grams"})
	}
	if len(w.findings) > 0 {
		return nil, w.findings
	}
	comp := c.gather(p, w, stuffs, count, false)
	comp.steps = firstSteps(p, stuffs)
	for _, s := range stuffs {
		if s.flat != nil && s.flat.went != nil {
			comp.weighed = c.gather(p, w, stuffs, count, true)
			comp.weighed.steps = comp.steps
			break
		}
	}
	for _, s := range stuffs {
		if s.flat == nil {
			continue
		}
		for _, r := range s.flat.reactions {
			if !slices.Contains(comp.reactions, r) {
				comp.reactions = append(comp.reactions, r)
			}
		}
	}
	if len(w.findings) > 0 {
		return nil, w.findings
	}
	return comp, nil
}

// gather adds up the materials of a piece: what came out of any reaction, or
// what went in.
func (c *Composer) gather(p *Piece, w *walk, stuffs []stuff, count int, weighed bool) *Composition {
	g := gathering{comp: &Composition{Items: make([]Item, 0, count)}, at: make(map[*Material]int, count)}
	for i := range stuffs {
		g.take(stuffs[i], p.Lines[i].Amount.Value, weighed)
	}
	c.box(g.comp, w)
	if len(w.findings) == 0 {
		g.dry(p, w)
	}
	return g.comp
}

// Check works out a formula on its own and returns the errors in it. Slots
// that only a piece can fill are not errors here.
func (c *Composer) Check(f *Formula) finding.List {
	w := &walk{c: c, open: true}
	w.formula(f)
	return w.findings
}

// gathering is a composition in the making.
type gathering struct {
	comp  *Composition
	at    map[*Material]int
	drops []drop
}

func (g *gathering) take(s stuff, grams exact.Rat, weighed bool) {
	g.comp.Added = g.comp.Added.Add(grams)
	if s.material != nil {
		g.add(s.material, grams)
		return
	}
	items := s.flat.items
	if weighed {
		items = s.flat.weighed()
	}
	for _, fi := range items {
		weight := fi.share.Mul(grams)
		i := g.add(fi.material, weight)
		if fi.kept != nil {
			g.drops = append(g.drops, drop{i, weight, fi.kept})
		}
	}
}

func (g *gathering) add(m *Material, weight exact.Rat) int {
	i, ok := g.at[m]
	if !ok {
		i = len(g.comp.Items)
		g.at[m] = i
		g.comp.Items = append(g.comp.Items, Item{Material: m})
	}
	it := &g.comp.Items[i]
	it.Weight = it.Weight.Add(weight)
	return i
}

// walk is one descent through formulas, with the slots of one piece.
type walk struct {
	c        *Composer
	slots    map[string]Filling
	open     bool // unfilled slots are left out instead of reported
	path     []*Formula
	done     map[*Formula]*flat // what this walk alone may remember; nil where the formula has errors
	findings finding.List
}

func (w *walk) fail(f finding.Finding) { w.findings.Add(f) }

// stuff is what a line is made of: a material, or a formula worked down.
type stuff struct {
	material *Material
	flat     *flat
	slot     bool // filled by the piece
}

func (s stuff) count() int {
	if s.material != nil {
		return 1
	}
	return len(s.flat.items)
}

// fat returns the share of it that is fat.
func (s stuff) fat() exact.Rat {
	switch {
	case s.material == nil:
		return s.flat.fat
	case s.material.Fat:
		return one
	}
	return exact.Rat{}
}

// item returns what a line is made of, or false if that is an error.
func (w *walk) item(l *Line) (stuff, bool) {
	switch {
	case l.Material != nil:
		return stuff{material: l.Material}, true
	case l.Formula != nil:
		f := w.formula(l.Formula)
		return stuff{flat: f}, f != nil
	}
	fill := w.slots[l.Slot]
	switch {
	case fill.Material != nil:
		return stuff{material: fill.Material, slot: true}, true
	case fill.Formula != nil:
		f := w.formula(fill.Formula)
		return stuff{flat: f, slot: true}, f != nil
	case w.open:
		return stuff{flat: &flat{}, slot: true}, true
	}
	w.fail(finding.Finding{Rule: RuleUnfilledSlot, Severity: finding.Error, Where: l.Pos,
		Message: "the slot \"" + l.Slot + "\" is not filled", Cure: "add it to slots: in the product, or name a material here"})
	return stuff{}, false
}

// formula works f down to materials, once: what holds for every piece is kept
// by the Composer, the rest by this walk, so that a formula used along many
// ways costs, and is complained of, once. It returns nil after an error.
func (w *walk) formula(f *Formula) *flat {
	w.c.mu.RLock()
	known := w.c.flats[f]
	w.c.mu.RUnlock()
	if known != nil {
		return known
	}
	if known, ok := w.done[f]; ok {
		return known
	}
	if i := slices.Index(w.path, f); i >= 0 {
		w.fail(cycle(w.path[i:]))
		return nil
	}
	w.path = append(w.path, f)
	out := w.mixed(f)
	w.path = w.path[:len(w.path)-1]
	if out != nil && !out.slots && !w.open {
		w.c.mu.Lock()
		w.c.flats[f] = out
		w.c.mu.Unlock()
		return out
	}
	if w.done == nil {
		w.done = map[*Formula]*flat{}
	}
	w.done[f] = out
	return out
}

func (w *walk) mixed(f *Formula) *flat {
	if !f.Dries.sound() {
		w.fail(finding.Finding{Rule: RuleDrying, Severity: finding.Error, Where: f.Pos,
			Message: f.Name + ": it dries by less than nothing or by more than all", Cure: "write a loss from 0 % to 100 %"})
		return nil
	}
	items := make([]weighed, 0, len(f.Lines))
	slots, ofFats, failed, count := false, false, false, 0
	for i := range f.Lines {
		l := &f.Lines[i]
		s, ok := w.item(l)
		if !ok {
			failed = true
			continue
		}
		slots = slots || s.slot || s.flat != nil && s.flat.slots
		ofFats = ofFats || l.Amount.Kind == OfFats
		count += s.count()
		items = append(items, weighed{line: l, stuff: s})
	}
	if failed {
		return nil
	}
	if w.open && slots && ofFats && f.Saponify == nil {
		return &flat{slots: true} // the fats are known only once the slots are filled
	}
	if bad := solve(f, items); bad != nil {
		w.fail(*bad)
		return nil
	}
	out := &flat{formula: f, mix: items, items: make([]flatItem, 0, count), slots: slots}
	for _, it := range items {
		out.take(it, f)
	}
	if f.Saponify != nil && !w.saponify(f, items, out) {
		return nil
	}
	return out
}

// take adds one line of formula f. What a soap dries by is known only when it
// has been worked out.
func (f *flat) take(it weighed, of *Formula) {
	if m := it.stuff.material; m != nil {
		k := (*kept)(nil)
		if of.Saponify == nil {
			k = k.after(m, of)
		}
		if f.went != nil {
			put(&f.went, flatItem{material: m, share: it.take, kept: k})
		}
		put(&f.items, flatItem{material: m, share: it.take, kept: k})
	} else {
		inner := it.stuff.flat
		if inner.went != nil && f.went == nil {
			f.went = slices.Clone(f.items)
		}
		f.reactions = append(f.reactions, inner.reactions...)
		scale := func(to *[]flatItem, from []flatItem) {
			for _, fi := range from {
				fi.share = fi.share.Mul(it.take)
				if of.Saponify == nil {
					fi.kept = fi.kept.after(fi.material, of)
				}
				put(to, fi)
			}
		}
		scale(&f.items, inner.items)
		if f.went != nil {
			scale(&f.went, inner.weighed())
		}
	}
	if fat := it.stuff.fat(); fat.Sign() != 0 {
		f.fat = f.fat.Add(it.take.Mul(fat))
	}
}

// put adds a share, merging it with one of the same material that dries alike.
// Lines are few, so a scan beats a map.
func put(items *[]flatItem, add flatItem) {
	for i := range *items {
		if it := &(*items)[i]; it.material == add.material && it.spent == add.spent && it.kept.equal(add.kept) {
			it.share = it.share.Add(add.share)
			return
		}
	}
	*items = append(*items, add)
}

func cycle(path []*Formula) finding.Finding {
	names := make([]string, 0, len(path)+1)
	first := path[0]
	for _, f := range path {
		names = append(names, f.Name)
	}
	names = append(names, first.Name)
	return finding.Finding{Rule: RuleCycle, Severity: finding.Error, Where: first.Pos,
		Message: "formulas use one another in a circle: " + strings.Join(names, " -> "), Cure: "take one of them out of the other"}
}
