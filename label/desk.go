// Package label turns a composition and a market into what must be said: the
// ingredient list, the allergens, the net statement and every other statement
// of the pack, with the findings and the verdict over them.
//
// A Desk judges the products of one workshop. Declare measures first and judges
// afterwards: it sorts the parts of the composition under the names the market
// prints, measures each name and each listed allergen, puts them in the
// market's order, and then says what is wrong. Nothing is decided on a rounded
// number, and what could not be judged is said.
//
// What the law says of a substance is in package inci; what it says of a pack
// is in package market. Neither is repeated here.
package label

import (
	"sync"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// Desk holds what the judgements of one workshop share. It may be used by
// several goroutines.
type Desk struct {
	Workshop *Workshop
	Composer *formula.Composer

	printed sync.Map // nameKey -> named
	touched sync.Map // *formula.Material -> []formula.Key
	due     sync.Map // dueKey -> map[string]market.Requirement
	topics  sync.Map // *formula.Material -> []onTopic
	said    sync.Map // saidKey -> []market.Said
	lye     sync.Map // *formula.Reaction -> formula.WorstCase
	banned  sync.Map // materialIn -> []banned
	dated   sync.Map // materialIn -> []date.Duty
	asked   map[bookLine]finding.List
}

// NewDesk returns a Desk for the workshop.
func NewDesk(w *Workshop) *Desk {
	return &Desk{Workshop: w, Composer: formula.NewComposer()}
}

// Declare judges a product in each of the markets on the occasion. It composes
// the piece once. A piece that does not compose gives declarations that hold
// findings only.
func (d *Desk) Declare(p *Product, markets []inci.Market, o date.Occasion) []*Declaration {
	comp, bad := d.Composer.Compose(&p.Piece)
	out := make([]*Declaration, len(markets))
	for i, m := range markets {
		out[i] = d.declare(p, comp, bad, m, o)
		d.judgeSheets(out[i])
	}
	return out
}

// declare judges a composed product in one market; comp is nil if the piece
// does not compose, and bad says why.
func (d *Desk) declare(p *Product, comp *formula.Composition, bad finding.List, m inci.Market, o date.Occasion) *Declaration {
	x := &Declaration{Product: p, Market: m, Rules: market.For(m), Occasion: o, Composition: comp}
	if comp == nil {
		for _, f := range bad {
			x.add(f)
		}
		return x
	}
	d.judge(x)
	x.judgeNet()
	x.judgeDried()
	x.judgeMoulds()
	d.judgePack(x, nil)
	x.answer(p.Answers)
	x.Findings.Sort()
	return x
}

// judge works out the list and the allergens, and judges the materials.
func (d *Desk) judge(x *Declaration) {
	x.chooseList()
	x.judgeExposure()
	d.measureAllergens(x)
	d.sortUnderNames(x)
	x.order()
	d.judgeMaterials(x)
	d.judgeLye(x)
	d.judgeLimits(x)
	d.judgeColours(x)
	x.judgeCarriers()
	x.judgeAllergens()
	d.judgeLines(x)
	d.judgeCautions(x)
	d.judgeWords(x)
}

type nameKey struct {
	key    formula.Key
	market inci.Market
}

type named struct {
	inci.Printed
	colour bool
}

// name returns how a market prints a substance, and whether it counts there as
// a colourant.
func (d *Desk) name(k formula.Key, m inci.Market) named {
	if v, ok := d.printed.Load(nameKey{k, m}); ok {
		return v.(named)
	}
	n := named{inci.Name(k, m), inci.ColourIn(k, m)}
	d.printed.Store(nameKey{k, m}, n)
	return n
}

// required returns what the market asks of a pack on the occasion, by kind.
func (d *Desk) required(r *market.Rules, o date.Occasion) map[string]market.Requirement {
	k := dueKey{r.Market, o}
	if v, ok := d.due.Load(k); ok {
		return v.(map[string]market.Requirement)
	}
	due := map[string]market.Requirement{}
	for _, q := range r.Required(o) {
		if _, ok := due[q.Kind]; !ok {
			due[q.Kind] = q
		}
	}
	d.due.Store(k, due)
	return due
}

// sheet returns what the maker knows of a material. A material without a sheet
// of its own is one that a test made.
func sheet(m *formula.Material) *Sheet {
	if s, ok := m.Info.(*Sheet); ok {
		return s
	}
	return &Sheet{}
}

var practice = finding.Citation{Text: "common practice, no source", Seen: finding.Practice}
