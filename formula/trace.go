package formula

import "panelwright/formula/exact"

// Step is one line on the way from a piece down to a material.
type Step struct {
	Line   *Line
	Within string    // the piece or formula that the line stands in
	Share  exact.Rat // of that formula; 0 on the first step
	Grams  exact.Rat // in the piece
}

// Trace returns every way by which material m gets into piece p, from the
// piece's own line down, with the grams at each step, so that a reader can
// follow the sum with a calculator. The piece must compose without error.
func (c *Composer) Trace(p *Piece, m *Material) [][]Step {
	t := &tracer{walk: walk{c: c, slots: p.Slots}, want: m}
	for i := range p.Lines {
		l := &p.Lines[i]
		t.down(l, Step{Line: l, Within: p.Name, Grams: l.Amount.Value})
	}
	return t.found
}

type tracer struct {
	walk
	want  *Material
	steps []Step
	found [][]Step
}

func (t *tracer) down(l *Line, s Step) {
	t.steps = append(t.steps, s)
	defer func() { t.steps = t.steps[:len(t.steps)-1] }()
	m, f := l.Material, l.Formula
	if l.Slot != "" {
		fill := t.slots[l.Slot]
		m, f = fill.Material, fill.Formula
	}
	if m != nil {
		if m == t.want {
			t.found = append(t.found, append([]Step(nil), t.steps...))
		}
		return
	}
	if f == nil {
		return
	}
	items := make([]weighed, 0, len(f.Lines))
	for i := range f.Lines {
		s, ok := t.item(&f.Lines[i])
		if !ok {
			return
		}
		items = append(items, weighed{line: &f.Lines[i], stuff: s})
	}
	if solve(f, items) != nil {
		return
	}
	scale := one
	if f.Saponify != nil {
		scale = t.soap(f, s)
	}
	for _, it := range items {
		take := it.take.Mul(scale)
		t.down(it.line, Step{Line: it.line, Within: f.Name, Share: take, Grams: take.Mul(s.Grams)})
	}
}

// soap follows the way to what a saponification brings, and returns what share
// of what is poured stands in the mix. The way to the soap itself ends at the
// formula: from there on the lye calculation has the word.
func (t *tracer) soap(f *Formula, s Step) exact.Rat {
	fl := t.formula(f)
	if fl == nil {
		return one
	}
	r := fl.reactions[len(fl.reactions)-1]
	if t.want == r.Product {
		t.found = append(t.found, append([]Step(nil), t.steps...))
	}
	on := func(m *Material, grams exact.Rat, from string) {
		share := grams.Quo(r.Poured)
		l := &Line{Pos: f.Saponify.Pos, Text: m.Name + ", worked out from the " + from, Material: m}
		t.down(l, Step{Line: l, Within: f.Name, Share: share, Grams: share.Mul(s.Grams)})
	}
	for _, d := range r.Lye {
		if d.Worked {
			on(d.Material, d.Grams, "fats")
		}
	}
	if m := r.WaterAdded(); m != nil {
		on(m, r.Water, "lye")
	}
	return r.Batch.Quo(r.Poured)
}
