package book

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula"
	"panelwright/formula/finding"
)

// registerMembers enters the members of a range under their names. A member
// may stand for the product that the range is like; it then takes its place.
func (l *loader) registerMembers(g *good) {
	p := g.page
	var each *yaml.Node
	like := ""
	for _, e := range p.entries(g.node, "a range", "") {
		switch e.key {
		case "each":
			each = e.v
		case "like":
			like = foldName(e.v.Value)
		}
	}
	if each == nil {
		if !p.torn[g.node] {
			p.fail("book.missing-key", g.at, fmt.Sprintf("the range “%s” has no members", clip(g.name)), "write each: and one line per member, as in - {name: hay fizz, scent: alpine hay scent oil}")
		}
		return
	}
	g.members = make([]*good, 0, len(each.Content))
	for _, n := range list(each) {
		l.registerMember(g, n, like)
	}
}

func (l *loader) registerMember(g *good, n *yaml.Node, like string) {
	p := g.page
	const cure = "write it as in - {name: hay fizz, scent: alpine hay scent oil}"
	if n.Kind != yaml.MappingNode {
		p.fail("book.form", n, "a member of a range is written as "+formOf(n), cure)
		return
	}
	m := &good{page: p, node: n, kind: "member", of: g}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == "name" {
			m.at = n.Content[i+1]
		}
	}
	if m.at == nil {
		if !p.torn[n] {
			p.fail("book.missing-key", n, "a member of the range has no name", cure)
		}
		return
	}
	var ok bool
	if m.name, ok = p.text(m.at, "the name"); !ok {
		return
	}
	key := foldName(m.name)
	if before := l.goods[key]; before != nil && before.at != nil {
		if key != like || before.kind != "product" {
			p.fail("book.repeated-name", m.at, fmt.Sprintf("“%s” is already a %s, on %s", clip(m.name), before.kind, before.page.at(before.at)), "give one of them another name")
			return
		}
		before.hidden = true
		m.standsFor = before
	}
	l.goods[key] = m
	g.members = append(g.members, m)
}

// readMember reads what a member has of its own. What is no key of a product
// fills a slot. Members share all they do not change.
func (l *loader) readMember(g *good) {
	pr, n := g.product, g.node
	pr.Range = g.of.name
	pr.Piece.Slots = maps.Clone(pr.Piece.Slots)
	own := false
	for i := 0; i+1 < len(n.Content); i += 2 {
		e := entry{n.Content[i].Value, n.Content[i], n.Content[i+1]}
		switch {
		case e.key == "name":
		case e.key == "like" || e.key == "slots":
			g.page.fail("book.unknown-key", e.k, fmt.Sprintf("“%s” is no key of a member of a range", e.key), "fill the slots right here, as in {name: hay fizz, scent: alpine hay scent oil}")
		case slices.Contains(productKeys, e.key):
			if !own {
				pr.Fields, own = maps.Clone(pr.Fields), true
			}
			l.field(g, e)
		default:
			l.fill(g, e)
		}
	}
	l.sameFilling(g)
}

// sameFilling refuses a member that stands for a product and fills its slots
// otherwise: only one of the two can be meant.
func (l *loader) sameFilling(g *good) {
	o := g.standsFor
	if o == nil || o.product == nil {
		return
	}
	for _, slot := range slices.Sorted(maps.Keys(o.product.Piece.Slots)) {
		was, is := o.product.Piece.Slots[slot], g.product.Piece.Slots[slot]
		if was.Material != is.Material || was.Formula != is.Formula {
			g.page.fail("book.slot-conflict", g.at, fmt.Sprintf("“%s” has another %s here than in its own product document", clip(g.name), slot),
				"change one of them, or give the member another name")
			g.torn = true
		}
	}
}

// checkSlots reports slots that are not filled and fillings that no slot takes.
func (l *loader) checkSlots(g *good) (whole bool) {
	pr := g.product
	need := l.slotsOfPiece(pr.Piece.Lines)
	nested := false
	for _, f := range pr.Piece.Slots {
		nested = nested || f.Formula != nil
	}
	if nested {
		var ok bool
		if need, ok = l.slotsOfFillings(g, need); !ok {
			return false
		}
	}
	filled := 0
	whole = true
	for _, slot := range need {
		if _, ok := pr.Piece.Slots[slot]; ok {
			filled++
			continue
		}
		whole = false
		cure := fmt.Sprintf("add it under slots:, as in slots: {%s: …}", slot)
		if g.of != nil {
			cure = fmt.Sprintf("add “%s: …” to this line", slot)
		}
		g.page.fail("book.unfilled-slot", g.at, fmt.Sprintf("“%s” does not fill the slot “%s”", clip(g.name), slot), cure)
	}
	if filled == len(pr.Piece.Slots) {
		return whole
	}
	pr.Piece.Slots = maps.Clone(pr.Piece.Slots) // it may be that of the product it is like
	for _, slot := range slices.Sorted(maps.Keys(pr.Piece.Slots)) {
		if slices.Contains(need, slot) {
			continue
		}
		if !l.wroteSlot(g, slot) {
			delete(pr.Piece.Slots, slot) // of the product it is like, whose piece had it
			continue
		}
		whole = false
		l.unknownSlotAt(g, pr.Piece.Slots[slot].Pos, slot, need)
	}
	return whole
}

// unknownSlot reports a key of a member that is neither a slot nor a key, or a
// slot that the piece does not have.
func (l *loader) unknownSlot(g *good, k *yaml.Node, slot string, need []string) {
	l.unknownSlotAt(g, g.page.at(k), slot, need)
}

func (l *loader) unknownSlotAt(g *good, at finding.Pos, slot string, need []string) {
	known := need
	if g.of != nil {
		known = append(slices.Clone(need), productKeys...)
	}
	cure := "its piece has no slots"
	if len(need) > 0 {
		cure = "its slots are " + strings.Join(need, ", ")
	}
	g.page.out.Add(errorAtPos("book.unknown-slot", at, fmt.Sprintf("“%s” is no slot of “%s”", clip(slot), clip(g.name)), did(nearest(slot, known), cure)))
}

// wroteSlot reports whether g itself, and not what it is like, fills the slot.
func (l *loader) wroteSlot(g *good, slot string) bool {
	at := g.product.Piece.Slots[slot].Pos
	if at.File != g.page.doc.file {
		return false
	}
	first, last := g.page.doc.line+g.node.Line, g.page.doc.line+lastLine(g.node)
	return first <= at.Line && at.Line <= last
}

func lastLine(n *yaml.Node) int {
	for len(n.Content) > 0 {
		n = n.Content[len(n.Content)-1]
	}
	return n.Line
}

// slotsOfPiece returns the slots that the lines of a piece need. Products that
// are alike share their lines, and the answer.
func (l *loader) slotsOfPiece(lines []formula.Line) []string {
	if l.lastLines == &lines[0] {
		return l.lastNeed
	}
	l.lastLines, l.lastNeed = &lines[0], l.slotsOfLines(lines)
	return l.lastNeed
}

// slotsOfFillings adds the slots of formulas that fill slots, and refuses one
// that would come to hold itself.
func (l *loader) slotsOfFillings(g *good, need []string) ([]string, bool) {
	pr := g.product
	need = slices.Clone(need)
	var path []*formula.Formula
	done := map[*formula.Formula]bool{}
	var enter func(f *formula.Formula) bool
	enter = func(f *formula.Formula) bool {
		if slices.Contains(path, f) {
			names := ""
			for _, h := range path[slices.Index(path, f):] {
				names += h.Name + " -> "
			}
			g.page.out.Add(errorAtPos(formula.RuleCycle, pr.Pos, fmt.Sprintf("“%s” fills its slots so that a formula holds itself: %s%s", clip(g.name), names, f.Name), "fill the slot with something else"))
			return false
		}
		if done[f] {
			return true
		}
		done[f] = true
		path = append(path, f)
		defer func() { path = path[:len(path)-1] }()
		for i := range f.Lines {
			inner := f.Lines[i].Formula
			if slot := f.Lines[i].Slot; slot != "" {
				need = appendNew(need, slot)
				inner = pr.Piece.Slots[slot].Formula
			}
			if inner != nil && !enter(inner) {
				return false
			}
		}
		return true
	}
	for i := range pr.Piece.Lines {
		inner := pr.Piece.Lines[i].Formula
		if slot := pr.Piece.Lines[i].Slot; slot != "" {
			inner = pr.Piece.Slots[slot].Formula
		}
		if inner != nil && !enter(inner) {
			return nil, false
		}
	}
	return need, true
}
