package book

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula/quantity"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/market"
)

// sayings reads what the maker says of a product that the judgement of claims
// and cautions asks for.
func (p *page) sayings(e entry, pr *label.Product) {
	switch e.key {
	case "claims":
		pr.Claims = nil
		for _, n := range list(e.v) {
			if w, ok := p.wording(n, "the claim"); ok {
				pr.Claims = append(pr.Claims, w)
			}
		}
	case "for children":
		pr.ForChildren = p.yes(e.v, e.key)
	case "adults only":
		pr.AdultsOnly = p.yes(e.v, e.key)
	case "soap exemption":
		pr.SoapExempt = p.yes(e.v, e.key)
	case "looks like food":
		pr.LooksLikeFood = p.stated(e.v, e.key)
	case "small parts":
		pr.SmallParts = p.stated(e.v, e.key)
	case "dose":
		pr.Dose = p.dose(e.v)
	}
}

// contradiction refuses a product that is said to be for children and for adults
// only, where the second of the two is read.
func (p *page) contradiction(e entry, pr *label.Product) {
	if e.key != "for children" && e.key != "adults only" && e.key != "used" {
		return
	}
	if pr.AdultsOnly && (pr.ForChildren || slices.ContainsFunc(pr.Used, usedByChildren)) {
		p.fail("book.form", e.k, "the product is said to be for children and for adults only", "take one of the two out")
	}
}

// usedByChildren reports whether a stated use is one of children.
func usedByChildren(words string) bool {
	u, _ := market.StatedUseOf(words)
	return slices.ContainsFunc(u.Scopes, func(s inci.Scope) bool { return strings.HasPrefix(string(s), "children-") })
}

// types reads the kind of product, or a list of several uses.
func (p *page) types(n *yaml.Node) (string, bool) {
	if n.Kind != yaml.SequenceNode {
		return p.text(n, "the type")
	}
	all := p.texts(n, "the type")
	return strings.Join(all, ", "), len(all) > 0
}

// used reads how a product is used besides its type. What is for adults only has
// a key of its own.
func (p *page) used(n *yaml.Node) (all []string) {
	for _, c := range list(n) {
		s, ok := p.text(c, "the use")
		if !ok {
			continue
		}
		u, known := market.StatedUseOf(s)
		if !known {
			var words []string
			for _, o := range market.StatedUses() {
				words = append(words, o.Words)
			}
			p.fail("book.used", c, fmt.Sprintf("“%s” is no use that is known here", clip(s)), did(nearest(s, words), "known are "+strings.Join(words, ", ")))
			continue
		}
		if !slices.Contains(all, u.Words) {
			all = append(all, u.Words)
		}
	}
	return all
}

// stated reads a yes or no that means something other than silence.
func (p *page) stated(n *yaml.Node, what string) label.Stated {
	before := len(p.out)
	yes := p.yes(n, what)
	switch {
	case len(p.out) > before:
		return label.Unsaid
	case yes:
		return label.SaidYes
	}
	return label.SaidNo
}

// dose reads how much goes into one bath: 1 piece, 2 pieces, 1/2 piece, 20 g.
func (p *page) dose(n *yaml.Node) (d label.Dose) {
	s, ok := p.text(n, "the dose")
	if !ok {
		return d
	}
	d.Text = s
	if number, ok := pieces(s); ok {
		q, err := quantity.Parse(number + " g") // a number, whole or with a fraction
		if err == nil && q.Number.Sign() > 0 {
			d.Pieces = q.Number
			return d
		}
	} else if q, err := quantity.Parse(s); err == nil && q.Unit.Kind == quantity.Mass && q.Number.Sign() > 0 {
		d.Grams = q.Value()
		return d
	}
	p.fail("book.dose", n, fmt.Sprintf("the dose is written as “%s”", clip(s)), "write pieces or a weight for one bath, as in 1 piece or 20 g")
	return label.Dose{}
}

// pieces returns the number before the word piece or pieces.
func pieces(s string) (number string, ok bool) {
	for _, word := range []string{"pieces", "piece"} {
		if number, ok = strings.CutSuffix(strings.ToLower(s), word); ok {
			return strings.TrimSpace(number), true
		}
	}
	return "", false
}
