package book

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula/exact"
	"panelwright/formula/quantity"
	"panelwright/label"
)

// room reads for how many pieces there is room: 200 pieces, or 200.
func (p *page) room(n *yaml.Node, what string) int {
	s, ok := p.text(n, what)
	if !ok {
		return 0
	}
	count, v := counted(s, "piece"), 0
	if !wholeNumber(count, &v) || v < 1 || v > mostCounted {
		p.fail("book.form", n, fmt.Sprintf("%s is written as “%s”, which is no number of pieces", what, clip(s)), "write it as in 200 pieces")
		return 0
	}
	return v
}

// counted takes the word for things off a number of them: 4 of "4 pieces".
func counted(s, thing string) string {
	s = strings.ToLower(strings.TrimSpace(s))
	return strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(s, "s"), thing))
}

// spares reads how many pieces are made besides: 2 %, 1 a bowl, or 3 pieces.
func (p *page) spares(n *yaml.Node) (out label.Spares, ok bool) {
	s, ok := p.text(n, "the spares")
	if !ok {
		return out, false
	}
	if number, per := strings.CutSuffix(strings.ToLower(s), "bowl"); per {
		for _, word := range []string{"a", "per", "each", "for each"} {
			if v := 0; wholeNumber(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(number), word)), &v) && v > 0 && v <= mostSpares {
				return label.Spares{Bowl: v}, true
			}
		}
	}
	if v := 0; wholeNumber(counted(s, "piece"), &v) && v <= mostCounted {
		return label.Spares{Pieces: v}, true
	}
	if q, err := quantity.Parse(s); err == nil && q.Unit.Kind == quantity.OfWhole && q.Number.Sign() >= 0 && q.Value().Less(exact.Int(1)) {
		return label.Spares{Share: q.Value()}, true
	}
	p.fail("book.form", n, fmt.Sprintf("the spares are written as “%s”", clip(s)), "write them as in 2 %, 1 a bowl, or 3 pieces")
	return out, false
}

// mostSpares bounds the spares of one bowl.
const mostSpares = 1000
