package formula

import (
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Weighing is one thing to weigh into a batch of a formula.
type Weighing struct {
	Line     *Line     // of the mix; nil for lye and water that the lye calculation adds
	Material *Material // what is weighed; nil for a formula made beforehand
	Formula  *Formula  // what is weighed; nil for a material
	Slot     string    // the slot that it fills, or ""
	Grams    exact.Rat
	Lye      bool // worked out by the lye calculation
}

// Name returns the name of what is weighed.
func (w *Weighing) Name() string {
	if w.Material != nil {
		return w.Material.Name
	}
	return w.Formula.Name
}

// Batch returns what is weighed into so many grams of a formula, in the order
// of its lines, with the slots filled as a piece fills them. Of a soap grams
// are what is poured; the lye and the water that are worked out come last. The
// weights sum to grams exactly.
func (c *Composer) Batch(f *Formula, slots map[string]Filling, grams exact.Rat) ([]Weighing, finding.List) {
	w := &walk{c: c, slots: slots}
	items := make([]weighed, 0, len(f.Lines))
	for i := range f.Lines {
		if s, ok := w.item(&f.Lines[i]); ok {
			items = append(items, weighed{line: &f.Lines[i], stuff: s})
		}
	}
	if len(w.findings) > 0 {
		return nil, w.findings
	}
	if bad := solve(f, items); bad != nil {
		return nil, finding.List{*bad}
	}
	mix := grams
	var lye []Weighing
	if f.Saponify != nil {
		fl := w.formula(f)
		if fl == nil {
			return nil, w.findings
		}
		r := fl.reactions[len(fl.reactions)-1]
		mix = grams.Mul(r.Batch).Quo(r.Poured)
		scale := grams.Quo(r.Poured)
		for _, d := range r.Lye {
			if d.Worked {
				lye = append(lye, Weighing{Material: d.Material, Grams: d.Grams.Mul(scale), Lye: true})
			}
		}
		if m := r.WaterAdded(); m != nil {
			lye = append(lye, Weighing{Material: m, Grams: r.Water.Mul(scale), Lye: true})
		}
	}
	out := make([]Weighing, 0, len(items)+len(lye))
	for _, it := range items {
		x := Weighing{Line: it.line, Material: it.line.Material, Formula: it.line.Formula, Slot: it.line.Slot, Grams: it.take.Mul(mix)}
		if x.Slot != "" {
			fill := slots[x.Slot]
			x.Material, x.Formula = fill.Material, fill.Formula
		}
		out = append(out, x)
	}
	return append(out, lye...), nil
}

// As returns the formula with its lines as they were weighed: so many grams of
// each. Where lye or water was worked out they stand in the mix now, and the
// fat left over is what follows from them.
func (f *Formula) As(weighed []Weighing) *Formula {
	g := *f
	g.Lines = make([]Line, len(weighed))
	for i, w := range weighed {
		l := Line{Pos: f.Pos, Text: w.Name() + ": as weighed"}
		if w.Line != nil {
			l = *w.Line
		}
		if l.Slot == "" {
			l.Material, l.Formula = w.Material, w.Formula
		}
		l.Amount = Amount{Kind: Grams, Value: w.Grams}
		g.Lines[i] = l
	}
	if s := f.Saponify; s != nil {
		t := *s
		t.Bases, t.WaterBy, t.WaterValue = nil, NoWater, exact.Rat{}
		g.Saponify = &t
	}
	return &g
}

// Change says what stands in place of a material or a formula. Each returns
// what it was given where nothing changes; either may be nil.
type Change struct {
	Material func(*Material) *Material
	Formula  func(*Formula) *Formula
}

// Changed returns the piece with what c puts in the place of its materials and
// formulas, however deep they lie. The piece itself stays as it is. Formulas
// must not use one another in a circle.
func (p *Piece) Changed(c Change) *Piece {
	ch := changer{Change: c, done: map[*Formula]*Formula{}}
	q := *p
	q.Lines = ch.lines(p.Lines)
	q.Slots = make(map[string]Filling, len(p.Slots))
	for name, fill := range p.Slots {
		fill.Material, fill.Formula = ch.material(fill.Material), ch.formula(fill.Formula)
		q.Slots[name] = fill
	}
	return &q
}

type changer struct {
	Change
	done map[*Formula]*Formula
}

func (c *changer) lines(ls []Line) []Line {
	out := make([]Line, len(ls))
	for i, l := range ls {
		l.Material, l.Formula = c.material(l.Material), c.formula(l.Formula)
		out[i] = l
	}
	return out
}

func (c *changer) material(m *Material) *Material {
	if m == nil || c.Change.Material == nil {
		return m
	}
	return c.Change.Material(m)
}

func (c *changer) formula(f *Formula) *Formula {
	if f == nil {
		return nil
	}
	if g, ok := c.done[f]; ok {
		return g
	}
	g := f
	if c.Change.Formula != nil {
		g = c.Change.Formula(f)
	}
	h := *g
	h.Lines = c.lines(g.Lines)
	if s := g.Saponify; s != nil {
		t := *s
		t.Water = c.material(s.Water)
		t.Bases = make([]Base, len(s.Bases))
		for i, b := range s.Bases {
			b.Material = c.material(b.Material)
			t.Bases[i] = b
		}
		t.InPlace, t.After, t.Stated = c.materials(s.InPlace), c.materials(s.After), c.materials(s.Stated)
		h.Saponify = &t
	}
	c.done[f] = &h
	return &h
}

func (c *changer) materials(ms []*Material) []*Material {
	out := make([]*Material, len(ms))
	for i, m := range ms {
		out[i] = c.material(m)
	}
	return out
}
