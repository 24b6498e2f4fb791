package book

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula/finding"
	"panelwright/label"
)

// setKeys are the keys of a set: those of a product, without what only a piece
// has.
var setKeys = slices.Concat([]string{"set", "holds"}, slices.DeleteFunc(slices.Clone(productKeys), func(k string) bool {
	return slices.Contains([]string{"like", "piece", "slots", "exposure", "used", "soap exemption", "list as", "dose", "weights", "spares"}, k)
}))

// readSet reads a set. It is left out if one of its products could not be read.
func (l *loader) readSet(g *good) {
	p := g.page
	s := &label.Set{Product: label.Product{Name: g.name, Pos: p.at(g.at), Fields: map[string]finding.Pos{}}}
	g.product = &s.Product
	held, ok := false, true
	for _, e := range p.known(g.node, "a set", "", setKeys) {
		if e.key == "holds" {
			held = true
			s.Fields[e.key] = p.at(e.k)
			s.Holds, ok = l.holds(p, e.v)
			continue
		}
		l.field(g, e)
	}
	switch {
	case p.torn[g.node] || g.torn:
	case !held || ok && len(s.Holds) == 0:
		p.fail("book.missing-key", g.at, fmt.Sprintf("the set “%s” holds nothing", clip(g.name)), "write holds: and how many of each product, as in {hay fizz: 2}")
	case ok:
		l.Sets = append(l.Sets, s)
	}
}

// holds reads "hay fizz: 2" as a mapping or a list, or "2 hay fizz" in a list;
// a name alone is one piece.
func (l *loader) holds(p *page, n *yaml.Node) (all []label.Held, ok bool) {
	ok = !p.torn[n]
	add := func(k *yaml.Node, name string, count int) {
		g := l.goods[foldName(name)]
		switch {
		case g == nil || g.kind != "product" && g.kind != "member":
			p.fail("book.unknown-name", k, fmt.Sprintf("“%s” is not a product", clip(name)), l.nearestProduct(name))
			ok = false
		case g.torn || g.product == nil:
			ok = false
		default:
			for i := range all {
				if all[i].Product == g.product {
					p.fail("book.repeated-name", k, fmt.Sprintf("“%s” is in the set already", clip(name)), "add the numbers up in one line")
					ok = false
					return
				}
			}
			all = append(all, label.Held{Product: g.product, Count: count, Pos: p.at(k)})
		}
	}
	for _, item := range list(n) {
		switch item.Kind {
		case yaml.MappingNode:
			for i := 0; i+1 < len(item.Content); i += 2 {
				k, v := item.Content[i], item.Content[i+1]
				count, read := p.count(v, "how many "+k.Value)
				if !read {
					ok = false
					continue
				}
				add(k, k.Value, count)
			}
		case yaml.ScalarNode:
			name, count := strings.TrimSpace(item.Value), 1
			if first, rest, cut := strings.Cut(name, " "); cut && strings.Trim(first, "0123456789") == "" && l.goods[foldName(name)] == nil {
				number := *item
				number.Value = first
				var read bool
				if count, read = p.count(&number, "how many "+rest); !read {
					ok = false
					continue
				}
				name = rest
			}
			add(item, name, count)
		default:
			p.fail("book.form", item, "a list stands where one product should", "write it as in - hay fizz: 2")
			ok = false
		}
	}
	return all, ok
}

func errorAtPos(rule finding.Code, at finding.Pos, msg, cure string) finding.Finding {
	return finding.Finding{Rule: rule, Severity: finding.Error, Where: at, Message: msg, Cure: cure}
}
