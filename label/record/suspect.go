package record

import (
	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/inci"
	"panelwright/label"
)

// Suspects returns the lots that may hold a lot of a material though they do
// not say so: their recipe has the material, no lot of it is recorded for them,
// and they were made on or after the day it came in. holds says whether the
// recipe of a lot has the material, which is asked for each lot that may. The
// boxes that such lots went into are among them.
func (l *Ledger) Suspects(material string, from date.Date, holds func(x *Lot) bool) []*Lot {
	var out []*Lot
	for _, x := range l.Lots {
		if x.On >= from && !l.says(x, material) && holds(x) {
			out = append(out, x)
		}
	}
	return l.reached(out)
}

// says reports whether the lots of a material are recorded for a lot, or for a
// mix in it.
func (l *Ledger) says(x *Lot, material string) bool {
	for _, u := range l.usedIn(x) {
		if inci.Fold(u.Name) == inci.Fold(material) {
			return true
		}
	}
	return false
}

// Holds reports whether the recipe of a product has a material of that name.
func Holds(p *label.Product, material string) bool {
	for _, m := range materialsOf(&p.Piece) {
		if inci.Fold(m.Name) == inci.Fold(material) {
			return true
		}
	}
	return false
}

// Scents returns the names of the materials of a product that are scents or
// hold what suppliers' sheets list: those with constituents.
func Scents(p *label.Product) []string {
	var out []string
	for _, m := range materialsOf(&p.Piece) {
		if len(m.Constituents) > 0 {
			out = append(out, m.Name)
		}
	}
	return out
}

// FormulasOf returns the formulas of a product, each once, those that use
// others before them.
func FormulasOf(p *label.Product) []*formula.Formula { return formulasOf(p) }
