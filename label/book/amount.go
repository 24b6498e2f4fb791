package book

import (
	"fmt"

	"gopkg.in/yaml.v3"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/formula/quantity"
)

// asking is a slot whose amount is written in plain ounces: if a liquid fills
// it, somebody has to say which ounce was meant.
type asking struct {
	page *page
	node *yaml.Node
	slot string
	text string
}

var kindOf = map[quantity.Kind]formula.Kind{quantity.OfWhole: formula.OfWhole, quantity.OnTop: formula.OnTop,
	quantity.OfFats: formula.OfFats, quantity.Parts: formula.Parts, quantity.Rest: formula.Rest}

// amount turns what is written into what is meant for a line. t is nil for a
// slot.
func (l *loader) amount(p *page, n *yaml.Node, q quantity.Quantity, t *thing, name string, ln *formula.Line, in string) bool {
	if q.Unit.Kind != quantity.Rest && q.Number.Sign() <= 0 {
		p.fail("book.amount", n, fmt.Sprintf("“%s” is nothing", clip(q.Text)), "take the line out, or write how much")
		return false
	}
	switch q.Unit.Kind {
	case quantity.Mass:
		l.whichOunce(p, n, q, t, name, ln)
		ln.Amount = formula.Amount{Kind: formula.Grams, Value: q.Value()}
	case quantity.Volume:
		d, ok := l.density(p, n, q, t, name)
		if !ok {
			return false
		}
		ln.Amount = formula.Amount{Kind: formula.Grams, Value: q.Value().Mul(d)}
	default:
		ln.Amount = formula.Amount{Kind: kindOf[q.Unit.Kind], Value: q.Value()}
		return true
	}
	l.Echoes = append(l.Echoes, Echo{Pos: ln.Pos, In: in, Name: name, Text: q.Text, Grams: ln.Amount.Value})
	return true
}

// whichOunce asks whether a plain "oz" of a liquid is meant by weight. It is
// read as a weight meanwhile.
func (l *loader) whichOunce(p *page, n *yaml.Node, q quantity.Quantity, t *thing, name string, ln *formula.Line) {
	switch {
	case !q.Unit.Asks:
	case t == nil:
		l.asking = append(l.asking, asking{p, n, ln.Slot, q.Text})
	case t.liquid:
		p.askOunce(n, q.Text, name)
	}
}

func (p *page) askOunce(n *yaml.Node, text, name string) {
	p.say(finding.Question, "book.which-ounce", n, fmt.Sprintf("“%s” of %s, a liquid, may be an ounce of weight or a fluid ounce; it is read as weight", clip(text), name),
		"write oz wt or fl oz")
}

// askOunces asks the question for slots, once all fillings are known.
func (l *loader) askOunces() {
	for _, a := range l.asking {
		if l.poured[a.slot] {
			a.page.askOunce(a.node, a.text, a.slot)
		}
	}
}

// density returns grams a millilitre for a volume of t: the maker's own figure,
// else the best published one with a warning that says how far they differ.
func (l *loader) density(p *page, n *yaml.Node, q quantity.Quantity, t *thing, name string) (exact.Rat, bool) {
	switch {
	case t == nil:
		p.fail("book.slot-volume", n, fmt.Sprintf("“%s” is a volume, and how much that weighs depends on what fills the slot", clip(q.Text)), "write a weight or a per cent")
		return exact.Rat{}, false
	case t.formula != nil:
		p.fail("book.no-density", n, fmt.Sprintf("“%s” of the formula %s: how much a volume of it weighs is not known", clip(q.Text), name), "weigh it and write grams")
		return exact.Rat{}, false
	}
	d := t.density
	if d.IsZero() {
		if len(t.figures) == 0 {
			p.fail("book.no-density", n, fmt.Sprintf("“%s” is a volume, and no density of %s is known", clip(q.Text), name),
				"weigh it and write grams, or write density: in its material, as in 128 g per cup")
			return exact.Rat{}, false
		}
		d = t.figures[0].GramsPerML
		if !q.Unit.Rough {
			p.publishedDensity(n, q, t, name)
		}
	}
	if q.Unit.Rough {
		p.say(finding.Warning, "book.rough-measure", n, fmt.Sprintf("“%s” of %s is read as %s g, but a %s is no fixed measure", clip(q.Text), name,
			grams(q.Value().Mul(d)), q.Unit.Symbol), "weigh it and write grams")
	}
	return d, true
}

// publishedDensity warns that the weight rests on somebody else's measure, and
// says how far the published figures lie apart.
func (p *page) publishedDensity(n *yaml.Node, q quantity.Quantity, t *thing, name string) {
	best := t.figures[0]
	lo, hi := best.GramsPerML, best.GramsPerML
	for _, f := range t.figures {
		for _, x := range []exact.Rat{f.GramsPerML, f.Low, f.High} {
			if !x.IsZero() {
				lo, hi = exact.Min(lo, x), exact.Max(hi, x)
			}
		}
	}
	v := q.Value()
	msg := fmt.Sprintf("“%s” of %s is read as %s g", clip(q.Text), name, grams(v.Mul(best.GramsPerML)))
	if lo.Equal(hi) {
		msg += fmt.Sprintf(" by a published density of %s g/ml", best.GramsPerML)
	} else {
		msg += fmt.Sprintf("; published densities run from %s to %s g/ml", lo, hi)
		if least, most := grams(v.Mul(lo)), grams(v.Mul(hi)); least != most {
			msg += fmt.Sprintf(", so it may be %s to %s g", least, most)
		}
	}
	p.out.Add(finding.Finding{Rule: "book.published-density", Severity: finding.Warning, Where: p.at(n), Message: msg,
		Cure: "weigh it and write grams, or write density: in its material", Source: best.Source})
}

// grams prints a weight for a message: whole grams from 10 g, else two places.
func grams(x exact.Rat) string {
	if x.Less(exact.Int(10)) {
		return x.Decimal(2, exact.Nearest).String()
	}
	return x.Decimal(0, exact.Nearest).String()
}
