package book

import (
	"fmt"
	"strings"
	"unicode"

	"gopkg.in/yaml.v3"

	"panelwright/formula/quantity"
	"panelwright/label"
)

// weighed reads what a piece weighed on several days.
func (p *page) weighed(n *yaml.Node) []label.Weighed {
	var out []label.Weighed
	for _, each := range list(n) {
		w := label.Weighed{Pos: p.at(each)}
		before := len(p.out)
		for _, e := range p.known(each, "a weighing", "write it as in {date: 2026-11-20, grams: 162.4}", []string{"date", "grams"}) {
			switch e.key {
			case "date":
				w.Day = p.date(e.v, "the day of the weighing")
			case "grams":
				p.grams(e.v, &w)
			}
		}
		if len(p.out) > before {
			continue
		}
		if w.Day == 0 || w.Grams.IsZero() {
			p.fail("book.missing-key", each, "the weighing lacks its date or its grams", "write it as in {date: 2026-11-20, grams: 162.4}")
			continue
		}
		out = append(out, w)
	}
	return out
}

// grams reads a weight in grams, with or without the unit.
func (p *page) grams(n *yaml.Node, w *label.Weighed) {
	s, ok := p.text(n, "the weight")
	if !ok {
		return
	}
	text := s
	if !strings.ContainsFunc(s, unicode.IsLetter) {
		text += " g"
	}
	q, err := quantity.Parse(text)
	switch {
	case err != nil:
		p.quantityError("book.weights", n, err)
	case q.Unit.Kind != quantity.Mass || q.Number.Sign() <= 0:
		p.fail("book.weights", n, fmt.Sprintf("“%s” is not the weight of a piece", clip(s)), "write grams, as in 162.4")
	default:
		w.Grams = q.Value()
	}
}
