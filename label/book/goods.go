package book

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula/finding"
	"panelwright/label"
)

// good is a product, a range, a member of one, or a set, while it is read.
type good struct {
	name    string
	page    *page
	node    *yaml.Node // the mapping that says what it is
	at      *yaml.Node // its name; nil if its document could not be read
	kind    string     // product, range, member or set
	of      *good      // the range of a member
	members []*good
	product *label.Product // for a range: what its members begin as
	state   int            // 1 being read, 2 read

	torn       bool  // could not be read whole; the cause has been reported
	unfinished bool  // torn only because its own slots or piece are amiss
	pieceless  bool  // of a range: that it has no piece has been reported
	hidden     bool  // a member takes its place
	standsFor  *good // of a member: the product whose place it takes, or nil
}

func (l *loader) registerGood(p *page, name, key string) {
	if before := l.goods[key]; before != nil && before.at != nil {
		p.fail("book.repeated-name", p.name, fmt.Sprintf("“%s” is already a %s, on %s", clip(name), before.kind, before.page.at(before.at)), "give one of them another name")
		p.kind = ""
		return
	}
	g := &good{name: name, page: p, node: p.root, at: p.name, kind: p.kind}
	l.goods[key] = g
	l.order = append(l.order, g)
	l.noteSlots(g)
}

// noteSlots collects the names of slots, so that formulas know them.
func (l *loader) noteSlots(g *good) {
	c := g.node.Content
	for i := 0; i+1 < len(c); i += 2 {
		switch c[i].Value {
		case "slots":
			if c[i+1].Kind == yaml.MappingNode {
				for j := 0; j+1 < len(c[i+1].Content); j += 2 {
					l.noteSlot(c[i+1].Content[j])
				}
			}
		case "each":
			if g.kind != "range" {
				continue
			}
			for _, m := range list(c[i+1]) {
				for j := 0; m.Kind == yaml.MappingNode && j+1 < len(m.Content); j += 2 {
					if k := m.Content[j]; k.Value != "name" && !slices.Contains(productKeys, k.Value) {
						l.noteSlot(k)
					}
				}
			}
		}
	}
}

func (l *loader) noteSlot(k *yaml.Node) {
	if k.Kind != yaml.ScalarNode {
		return
	}
	if _, ok := l.fillable[k.Value]; ok {
		return
	}
	key := foldName(k.Value)
	slot, ok := l.fillable[key]
	if !ok {
		slot = strings.TrimSpace(k.Value)
		l.fillable[key] = slot
	}
	l.fillable[k.Value] = slot // as typed: found without folding next time
}

// slotNamed returns the one spelling of a slot.
func (l *loader) slotNamed(k *yaml.Node) string {
	if slot, ok := l.fillable[k.Value]; ok {
		return slot
	}
	return strings.TrimSpace(k.Value)
}

func (l *loader) readGoods() {
	for _, g := range l.order {
		if g.kind == "range" {
			l.registerMembers(g)
		}
	}
	for _, g := range l.order {
		switch g.kind {
		case "product":
			l.readProduct(g)
		case "range":
			l.readProduct(g)
			for _, m := range g.members {
				l.readProduct(m)
			}
		}
	}
	for _, g := range l.order {
		for _, m := range append([]*good{g}, g.members...) {
			if (m.kind == "product" || m.kind == "member") && !m.torn && !m.hidden {
				l.Products = append(l.Products, m.product)
			}
		}
	}
	for _, g := range l.order {
		if g.kind == "set" {
			l.readSet(g)
		}
	}
	for _, g := range l.order {
		l.whereSold(g)
	}
}

// whereSold gives what does not say where it is sold the markets of the
// workshop.
func (l *loader) whereSold(g *good) {
	said := false
	for _, m := range append([]*good{g}, g.members...) {
		if m.product == nil || m.torn || len(m.product.SellIn) > 0 {
			continue
		}
		if m.product.SellIn = l.Workshop.SellIn; len(l.Workshop.SellIn) > 0 || said || g.kind == "range" && m == g {
			continue
		}
		if _, wrote := m.product.Fields["sell in"]; !wrote && l.Workshop.Pos != (finding.Pos{}) && !l.torn(l.Workshop.Pos) {
			said = true
			g.page.fail("book.missing-key", g.at, fmt.Sprintf("nothing says where “%s” is sold", clip(g.name)), "write sell in: [us] in it or in the workshop, with every market it is sold in")
		}
	}
}

// torn reports whether the document at a place lost entries to errors.
func (l *loader) torn(at finding.Pos) bool {
	return slices.ContainsFunc(l.pages, func(p *page) bool {
		return p.name != nil && p.at(p.name) == at && (p.torn[p.root] || len(p.out) > 0)
	})
}

// likeOf resolves "like" and reads that product first.
func (l *loader) likeOf(g *good) *good {
	c := g.node.Content
	for i := 0; i+1 < len(c); i += 2 {
		if c[i].Value != "like" {
			continue
		}
		base := l.likeNamed(g, c[i+1])
		if base == nil || base.at == nil {
			g.torn = true
			return nil
		}
		if base.state == 1 {
			g.torn = true
			g.page.fail("book.like-circle", c[i+1], fmt.Sprintf("“%s” is like itself, by way of “%s”", clip(g.name), clip(base.name)), "write out one of them")
			return nil
		}
		l.readProduct(base)
		return base
	}
	return nil
}

// likeNamed finds the product that g is like. A member that stands for the
// product its own range is like is passed over for the product itself.
func (l *loader) likeNamed(g *good, n *yaml.Node) *good {
	name, ok := g.page.text(n, "the product it is like")
	if !ok {
		return nil
	}
	key := foldName(name)
	base := l.goods[key]
	if base != nil && base.of == g {
		base = base.standsFor
	}
	if base == nil || base.kind != "product" && base.kind != "member" {
		g.page.fail("book.unknown-name", n, fmt.Sprintf("“%s” is not a product", clip(name)), l.nearestProduct(name))
		return nil
	}
	return base
}

func (l *loader) nearestProduct(name string) string {
	var names []string
	for _, g := range l.order {
		if g.kind == "product" {
			names = append(names, g.name)
		}
		for _, m := range g.members {
			names = append(names, m.name)
		}
	}
	return did(nearest(name, names), "write a product of that name, or name one of the book's products")
}
