package book

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/label"
)

// productKeys are the keys of a product besides its kind; a range and its
// members may have them too.
var productKeys = append([]string{"like", "identity", "title", "type", "used", "exposure", "piece", "slots", "net", "count", "sell in", "packs",
	"function", "directions", "cautions", "keeps", "opened", "single use", "best before", "lot", "made in", "answers",
	"claims", "for children", "adults only", "looks like food", "small parts", "soap exemption", "dose", "list as", "barcode", "qr", "price", "weights", "spares"}, dressKeys...)

// readProduct reads a product, the beginning of a range, or a member, after
// the one it is like.
func (l *loader) readProduct(g *good) {
	if g.state != 0 {
		return
	}
	g.state = 1
	p := g.page
	pr := &label.Product{Fields: map[string]finding.Pos{}}
	if g.of != nil {
		l.readProduct(g.of)
		*pr = *g.of.product
		g.torn = g.of.torn
		if was := g.standsFor; was != nil && was.product != nil {
			pr.Barcode, pr.Link = was.product.Barcode, was.product.Link
			pr.Packs = withoutCodes(pr.Packs, was.product.Packs)
		}
	} else if base := l.likeOf(g); base != nil {
		*pr = *base.product
		pr.Fields = maps.Clone(pr.Fields)
		g.torn = base.torn && !base.unfinished // its slots may be filled here
		pr.Range = ""
		pr.Weights = nil             // what another product weighed says nothing of this one
		pr.Barcode, pr.Link = "", "" // of one product only
		pr.Packs = withoutCodes(pr.Packs, nil)
	}
	g.product = pr
	pr.Name, pr.Pos = g.name, p.at(g.at)
	pr.Piece.Name, pr.Piece.Pos = pr.Name, pr.Pos
	switch g.kind {
	case "member":
		l.readMember(g)
	case "range":
		pr.Range = g.name
		l.readFields(g, append([]string{"range", "each"}, productKeys...))
	default:
		l.readFields(g, append([]string{"product"}, productKeys...))
	}
	g.torn = g.torn || p.torn[g.node]
	if g.kind != "range" && !g.torn && !g.hidden {
		g.torn = !l.finish(g)
		g.unfinished = g.torn
	}
	g.state = 2
}

func (l *loader) readFields(g *good, keys []string) {
	what := "a " + g.kind
	for _, e := range g.page.known(g.node, what, "", keys) {
		l.field(g, e)
	}
}

// field reads one key of a product.
func (l *loader) field(g *good, e entry) {
	p, pr := g.page, g.product
	pr.Fields[e.key] = p.at(e.k)
	ok := true
	switch e.key {
	case "identity":
		pr.Identity, ok = p.wording(e.v, "the identity")
	case "title":
		pr.Title, ok = p.wording(e.v, "the title")
	case "function":
		pr.Function, ok = p.wording(e.v, "the function")
	case "directions":
		pr.Directions, ok = p.wording(e.v, "the directions")
	case "made in":
		pr.MadeIn, ok = p.wording(e.v, "the country of origin")
	case "cautions":
		pr.Cautions = p.cautions(e.v)
	case "type":
		pr.Type, ok = p.types(e.v)
	case "used":
		pr.Used = p.used(e.v)
	case "lot":
		pr.Lot, ok = p.text(e.v, "the lot")
	case "exposure":
		pr.Exposure = p.exposure(e.v)
	case "weights":
		pr.Weights = p.weighed(e.v)
	case "spares":
		pr.Spares, ok = p.spares(e.v)
	case "piece":
		var torn bool
		pr.Piece.Lines, torn = l.lines(p, e.v, pr.Name, true)
		ok = !torn
	case "slots":
		l.slots(g, e.v)
	case "net":
		pr.Net, ok = p.net(e.v)
	case "count":
		pr.Count, pr.CountWords, ok = p.pieces(e.v)
	case "sell in":
		pr.SellIn, _ = p.markets(e.v, nil, false)
	case "packs":
		pr.Packs = l.packs(p, e.v)
	case "keeps", "opened", "single use", "best before":
		p.durability(e, &pr.Keeps)
	case "claims", "for children", "adults only", "looks like food", "small parts", "soap exemption", "dose":
		p.sayings(e, pr)
	case "barcode", "qr", "price":
		ok = p.codes(e, pr)
	case "list as":
		pr.ListAs, ok = p.listAs(e.v)
	case "layout", "accent", "font", "logo", "material codes", "e-mark", "egg timer", "codes", "bleed", "margin", fitKey:
		l.dress(p, e, &pr.Dress)
	case "answers":
		pr.Answers = slices.Clip(pr.Answers)
		for _, n := range list(e.v) {
			if a, ok := p.answer(n, "rule"); ok {
				pr.Answers = append(pr.Answers, a)
			}
		}
	}
	p.contradiction(e, pr)
	g.torn = g.torn || !ok
}

func (p *page) durability(e entry, d *label.Durability) {
	if d.Pos == (finding.Pos{}) {
		d.Pos = p.at(e.k)
	}
	switch e.key {
	case "keeps":
		d.Keeps, _ = p.months(e.v, "how long it keeps")
	case "opened":
		d.Opened, _ = p.months(e.v, "how long it keeps opened")
	case "single use":
		d.SingleUse = p.yes(e.v, "single use")
	case "best before":
		d.Before = p.lastDay(e.v, "best before")
	}
}

func (p *page) exposure(n *yaml.Node) label.Exposure {
	s, ok := p.text(n, "the exposure")
	if !ok {
		return label.Unstated
	}
	switch strings.ReplaceAll(strings.ToLower(s), " ", "-") {
	case "rinse-off", "wash-off":
		return label.RinseOff
	case "leave-on", "stay-on":
		return label.LeaveOn
	}
	p.fail("book.exposure", n, fmt.Sprintf("“%s” is not a known exposure", clip(s)), "write rinse-off or leave-on")
	return label.Unstated
}

// slots reads what a product puts in its slots, over what it has from the
// product it is like.
func (l *loader) slots(g *good, n *yaml.Node) {
	pr := g.product
	pr.Piece.Slots = maps.Clone(pr.Piece.Slots)
	for _, e := range g.page.entries(n, "slots", "write it as in {scent: alpine hay scent oil}") {
		l.fill(g, e)
	}
	g.torn = g.torn || g.page.torn[n]
}

func (l *loader) fill(g *good, e entry) {
	name, ok := g.page.text(e.v, "what fills "+e.key)
	if !ok {
		g.torn = true
		return
	}
	slot := l.slotNamed(e.k)
	if lines := g.product.Piece.Lines; g.of != nil && len(lines) > 0 && l.lookup(name) == nil {
		if need := l.slotsOfPiece(lines); !slices.Contains(need, slot) { // a key misspelt
			g.torn = true
			l.unknownSlot(g, e.k, slot, need)
			return
		}
	}
	t := l.resolve(g.page, e.v, name)
	if t == nil || t.torn {
		g.torn = true
		return
	}
	if t.liquid {
		l.poured[slot] = true
	}
	if g.product.Piece.Slots == nil {
		g.product.Piece.Slots = map[string]formula.Filling{}
	}
	g.product.Piece.Slots[slot] = formula.Filling{Material: t.material, Formula: t.formula, Pos: g.page.at(e.k)}
}

// finish checks what only the whole product shows. It returns false if the
// product cannot be made up.
func (l *loader) finish(g *good) bool {
	pr := g.product
	if len(pr.Piece.Lines) == 0 {
		if g.of != nil {
			if g.of.pieceless {
				return false // said of the first member
			}
			g.of.pieceless = true
		}
		g.page.fail("book.missing-key", g.at, fmt.Sprintf("“%s” does not say what one piece is made of", clip(g.name)), "write piece: with the formulas and how many grams of each, as in - fizz mix: 150 g")
		return false
	}
	for i := range pr.Piece.Lines {
		if f := pr.Piece.Lines[i].Formula; f != nil && l.own[foldName(f.Name)].torn {
			return false
		}
	}
	return l.checkSlots(g)
}
