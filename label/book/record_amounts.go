package book

import (
	"strings"
	"unicode"

	"gopkg.in/yaml.v3"

	"panelwright/formula/exact"
	"panelwright/formula/quantity"
	"panelwright/label/record"
)

// used reads which lots went in: a code, a list of codes, or of a product in a
// box "0614 x 40".
func (r *recordPage) used(n *yaml.Node) (out []record.Used) {
	for _, e := range r.entries(n, "used", "write it as in {alpine hay scent oil: A17, baking soda: [B3, B4]}") {
		u := record.Used{Name: e.key, Pos: r.at(e.k)}
		for _, c := range list(e.v) {
			s, ok := r.text(c, "the lot of "+e.key)
			if !ok {
				continue
			}
			part := record.Portion{Code: s}
			if code, times, ok := cutLast(s, " x "); ok {
				if v := 0; wholeNumber(times, &v) && v > 0 {
					part = record.Portion{Code: code, Pieces: v}
				}
			}
			u.Lots = append(u.Lots, part)
		}
		out = append(out, u)
	}
	return out
}

func cutLast(s, sep string) (before, after string, ok bool) {
	i := strings.LastIndex(s, sep)
	if i < 0 {
		return s, "", false
	}
	return strings.TrimSpace(s[:i]), strings.TrimSpace(s[i+len(sep):]), true
}

// weighings reads what the scale said: {scent: 60 g}, or by formula {melt
// core: {cocoa butter: 90 g}}.
func (r *recordPage) weighings(n *yaml.Node) (out []record.Weighed) {
	const cure = "write it as in {scent: 60 g}, or {melt core: {cocoa butter: 90 g}}"
	one := func(formula string, e entry) {
		if g := r.mass(e.v, "the weight of "+e.key); g.Sign() > 0 {
			out = append(out, record.Weighed{Formula: formula, Name: e.key, Grams: g, Pos: r.at(e.k)})
		}
	}
	for _, item := range list(n) {
		for _, e := range r.entries(item, "weighed", cure) {
			switch e.v.Kind {
			case yaml.MappingNode:
				for _, in := range r.entries(e.v, "weighed", cure) {
					one(e.key, in)
				}
			case yaml.SequenceNode:
				for _, line := range e.v.Content {
					for _, in := range r.entries(line, "weighed", cure) {
						one(e.key, in)
					}
				}
			default:
				one("", e)
			}
		}
	}
	return out
}

// batch reads how much of a formula was made: 3 kg, or {fizz mix: 12 kg}.
func (r *recordPage) batch(n *yaml.Node) (out []record.Weighed) {
	if n.Kind != yaml.MappingNode {
		if g := r.mass(n, "the batch"); g.Sign() > 0 {
			out = append(out, record.Weighed{Grams: g, Pos: r.at(n)})
		}
		return out
	}
	for _, e := range r.entries(n, "the batch", "write it as in {fizz mix: 12 kg}") {
		if g := r.mass(e.v, "the batch of "+e.key); g.Sign() > 0 {
			out = append(out, record.Weighed{Formula: e.key, Grams: g, Pos: r.at(e.k)})
		}
	}
	return out
}

// weights reads weights of single pieces: a list, or one text with spaces.
func (r *recordPage) weights(n *yaml.Node) (out []exact.Rat) {
	for _, item := range list(n) {
		s, ok := r.text(item, "the weights")
		if !ok {
			continue
		}
		words := strings.FieldsFunc(s, func(c rune) bool { return unicode.IsSpace(c) || c == ';' })
		for _, w := range words {
			if w = strings.TrimRight(w, ","); w == "g" || w == "" {
				continue
			}
			if g, err := grammes(w); err != nil {
				r.quantityError("book.weights", item, err)
			} else {
				out = append(out, g)
			}
		}
	}
	return out
}

// mass reads a weight with its unit; a plain number is grams.
func (r *recordPage) mass(n *yaml.Node, what string) exact.Rat {
	s, ok := r.text(n, what)
	if !ok {
		return exact.Rat{}
	}
	g, err := grammes(s)
	if err != nil {
		r.quantityError("book.amount", n, err)
	}
	return g
}

func grammes(s string) (exact.Rat, error) {
	text := s
	if !strings.ContainsFunc(s, unicode.IsLetter) {
		text += " g"
	}
	q, err := quantity.Parse(text)
	if err != nil {
		return exact.Rat{}, err
	}
	if q.Unit.Kind != quantity.Mass || q.Number.Sign() <= 0 {
		return exact.Rat{}, &quantity.Error{Read: s, Wrong: "that is no weight", Cure: "write it as in 60 g"}
	}
	return q.Value(), nil
}
