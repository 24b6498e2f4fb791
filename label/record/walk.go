package record

import (
	"slices"

	"panelwright/formula"
	"panelwright/inci"
	"panelwright/label"
)

func formulasOf(p *label.Product) []*formula.Formula { return formulasIn(&p.Piece) }

// formulasIn returns the formulas of a piece, each once, those that use others
// before them.
func formulasIn(p *formula.Piece) []*formula.Formula {
	var out []*formula.Formula
	walkPiece(p, func(f *formula.Formula) { out = append(out, f) }, nil)
	return out
}

// materialsOf returns the materials of a piece, each once, in order of use.
func materialsOf(p *formula.Piece) []*formula.Material {
	var out []*formula.Material
	seen := map[*formula.Material]bool{}
	walkPiece(p, nil, func(m *formula.Material) {
		if !seen[m] {
			seen[m] = true
			out = append(out, m)
		}
	})
	return out
}

// walkPiece calls on for every formula once and for every use of a material.
func walkPiece(p *formula.Piece, onFormula func(*formula.Formula), onMaterial func(*formula.Material)) {
	seen := map[*formula.Formula]bool{}
	var lines func(ls []formula.Line)
	enter := func(m *formula.Material, f *formula.Formula) {
		switch {
		case m != nil && onMaterial != nil:
			onMaterial(m)
		case f != nil && !seen[f]:
			seen[f] = true
			if onFormula != nil {
				onFormula(f)
			}
			lines(f.Lines)
			if s := f.Saponify; s != nil && onMaterial != nil {
				for _, b := range s.Bases {
					onMaterial(b.Material)
				}
				if s.Water != nil {
					onMaterial(s.Water)
				}
			}
		}
	}
	lines = func(ls []formula.Line) {
		for i := range ls {
			l := &ls[i]
			if l.Slot != "" {
				fill := p.Slots[l.Slot]
				enter(fill.Material, fill.Formula)
				continue
			}
			enter(l.Material, l.Formula)
		}
	}
	lines(p.Lines)
}

// SlotsOf returns the slots that a formula leaves open, and those in it, each
// once and in order of use.
func SlotsOf(f *formula.Formula) (out []string) {
	for _, g := range formulasIn(&formula.Piece{Lines: []formula.Line{{Formula: f}}}) {
		for i := range g.Lines {
			if s := g.Lines[i].Slot; s != "" && !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	return out
}

// Uses reports whether a formula is in a product, however deep.
func Uses(p *label.Product, f *formula.Formula) bool {
	return slices.ContainsFunc(formulasOf(p), func(g *formula.Formula) bool { return inci.Fold(g.Name) == inci.Fold(f.Name) })
}
