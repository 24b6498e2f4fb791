package record

import (
	"fmt"
	"slices"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
)

// RuleScaleWorst is of what the scale may do to a declaration.
const RuleScaleWorst finding.Code = "make.scale-worst"

// watched are the classes of materials whose limits and allergens lie near:
// scents, colours and what keeps the piece.
var watched = []string{"essential-oil", "fragrance", "absolute", "fragrance-constituent", "colourant", "pigment", "glitter", "preservative"}

// AtWorst declares the product as it may come out on the scale, in the smallest
// bowl of each mix: as rounded to its steps, and for every scent, colour and
// preservative with half a step too much of that and half a step too little of
// everything else. What is then said otherwise than of the recipe is a warning.
func (pl *Plan) AtWorst(desk *label.Desk, o date.Occasion) finding.List {
	if pl.Step.Sign() == 0 {
		return nil
	}
	book := desk.Declare(pl.Product, pl.Product.SellIn, o)
	var out finding.List
	seen := map[string]bool{}
	for _, m := range append([]*formula.Material{nil}, pl.watch()...) {
		p := *pl.Product
		p.Piece = *pl.weighedOff(m)
		for i, d := range desk.Declare(&p, p.SellIn, o) {
			for _, words := range saidOtherwise(book[i], d) {
				if key := string(d.Market) + words; !seen[key] {
					seen[key] = true
					out.Add(pl.otherwise(m, d.Market, words))
				}
			}
		}
	}
	return out
}

func (pl *Plan) otherwise(m *formula.Material, market inci.Market, words string) finding.Finding {
	f := finding.Finding{Rule: RuleScaleWorst, Severity: finding.Warning, Product: pl.Product.Name, Market: string(market), Where: pl.Product.Pos}
	step := grams(pl.Step) + " g"
	if m == nil {
		f.Message = fmt.Sprintf("rounded to whole steps of %s the label is no longer true: %s", step, words)
		f.Cure = "make more at once, or weigh the small amounts on a finer scale"
		return f
	}
	f.Message = fmt.Sprintf("a scale that reads %s may be off by half of that; with %s so much over and the rest under, the label is no longer true: %s", step, m.Name, words)
	f.Cure = fmt.Sprintf("weigh %s on a finer scale, make more at once, or keep further from the limit", m.Name)
	return f
}

// saidOtherwise words what a list and the findings that hold back a label say
// otherwise.
func saidOtherwise(was, is *label.Declaration) (out []string) {
	if a, b := was.Text(), is.Text(); a != b {
		out = append(out, textDifference(a, b))
	}
	for _, f := range label.Differences(was, is) {
		if f.Severity >= finding.Question && !slices.ContainsFunc(was.Findings, func(o finding.Finding) bool { return o.Rule == f.Rule && o.Severity >= f.Severity }) {
			out = append(out, f.Message)
		}
	}
	return out
}

// watch returns the materials of the mixes that are watched, each once.
func (pl *Plan) watch() []*formula.Material {
	var out []*formula.Material
	for _, x := range pl.smallest() {
		for _, a := range x.bowl.Lines {
			m := a.Material
			if m != nil && !slices.Contains(out, m) && (slices.Contains(watched, classOf(m)) || len(m.Constituents) > 0) {
				out = append(out, m)
			}
		}
	}
	return out
}

// weighedOff returns the piece as the scale may make it: with half a step too
// much of one material and half a step too little of all else, or for nil as
// rounded only.
func (pl *Plan) weighedOff(over *formula.Material) *formula.Piece {
	half := pl.Step.Quo(exact.Int(2))
	as := map[*formula.Formula]*formula.Formula{}
	for _, x := range pl.smallest() {
		lines := make([]formula.Weighing, len(x.bowl.Lines))
		for i, a := range x.bowl.Lines {
			lines[i] = a.Weighing
			lines[i].Grams = a.Weigh
			switch {
			case over == nil:
			case a.Material == over:
				lines[i].Grams = a.Weigh.Add(half)
			case half.Less(a.Weigh):
				lines[i].Grams = a.Weigh.Sub(half)
			}
		}
		as[x.formula] = x.formula.As(lines)
	}
	return pl.Product.Piece.Changed(formula.Change{Formula: func(f *formula.Formula) *formula.Formula {
		if g := as[f]; g != nil {
			return g
		}
		return f
	}})
}

// WorstLye judges the lye of the plan's soaps as it will be weighed into their
// smallest bowls. It returns what a worst case leaves, by formula; a formula
// whose lye cannot be worked out so is left out.
func (pl *Plan) WorstLye(desk *label.Desk) map[*formula.Formula]formula.WorstCase {
	out := map[*formula.Formula]formula.WorstCase{}
	for _, x := range pl.smallest() {
		if x.formula.Saponify == nil {
			continue
		}
		lines := make([]formula.Weighing, len(x.bowl.Lines))
		for i, a := range x.bowl.Lines {
			lines[i] = a.Weighing
			lines[i].Grams = a.Weigh
		}
		if r, _ := desk.Composer.Reaction(x.formula.As(lines)); r != nil {
			out[x.formula] = desk.WorstLye(r)
		}
	}
	return out
}
