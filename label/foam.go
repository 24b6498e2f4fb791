package label

import (
	"fmt"
	"slices"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// judgeFoamBath adds the caution of foaming detergent bath products and asks for
// directions. The rule is about what goes into a bath, is to foam, and holds a
// detergent or foaming ingredient: here that is a type of product that says so,
// or a surfactant that is bought or sold as one. A solubiliser is a surfactant
// too, but not there to foam.
func (d *Desk) judgeFoamBath(x *Declaration, u uses) {
	c := x.Rules.Caution("foam-bath", x.Occasion, u.has)
	if c == nil {
		return
	}
	var from []source
	for i := range x.Composition.Items {
		it := &x.Composition.Items[i]
		bought := slices.Contains(c.Classes, sheet(it.Material).Class)
		for p, part := range it.Material.Parts {
			if (bought || soldAs(part.Key, c.Classes)) && inci.Surfactant(part.Key) {
				_, _, g := x.Composition.PartGrams(i, p, formula.Finished)
				from = append(from, source{it.Material, part.Key, g})
			}
		}
	}
	p := x.Product
	if len(from) == 0 && !u.has("foam") {
		return
	}
	ask := func(topic, key string) {
		if r := x.Rules.Caution(topic, x.Occasion, u.has); r != nil {
			x.add(finding.Finding{Rule: r.Rule, Severity: r.Severity, Where: p.At(key), Message: r.Says, Cure: r.Cure, Source: r.Source})
		}
	}
	if len(p.Directions) == 0 {
		ask("foam-bath-directions", "directions")
	}
	if adults := x.Rules.Caution("foam-bath-adults", x.Occasion, u.has); p.AdultsOnly && adults != nil {
		if !slices.ContainsFunc(append([]Wording{p.Identity, p.Directions, p.Title}, p.Cautions...), func(w Wording) bool { return says(w, adults) }) {
			ask("foam-bath-adults", "adults only")
		}
		return
	}
	words := market.FoamBathCaution(u.has("children"))
	if own := x.Rules.Caution("foam-bath-words", x.Occasion, u.has); own != nil && p.cautions(own) && p.cautionSaying(words.Text) == nil {
		ask("foam-bath-words", "cautions")
		return
	}
	what := "the type " + p.Type
	if len(from) > 0 {
		what = x.amounts(from)
	}
	x.warn(Warning{Text: words.Text, Why: "a foaming bath product", Source: words.Source})
	x.add(finding.Finding{Rule: c.Rule, Severity: c.Severity, Where: p.Pos, Message: fmt.Sprintf("%s: %s", what, c.Says), Cure: c.Cure, Source: c.Source})
}
