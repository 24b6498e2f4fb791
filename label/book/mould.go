package book

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/quantity"
)

var mouldKeys = []string{"holds", "weighed", "slab", "cut", "kerf", "ends", "planed", "pieces", "shrinks"}

// largestSlab is the longest side of a slab that is believed, in micrometres: 2 m.
const largestSlab = 2_000_000

const mouldCure = "write it as in {holds: 1210 g, slab: 250 x 90 x 60 mm, cut: 10 x 1}, or {holds: 960 g, pieces: 6}"

// mould reads what a formula is poured into, nil if that makes no sense.
func (p *page) mould(n *yaml.Node) *formula.Mould {
	m := &formula.Mould{Pos: p.at(n)}
	before := len(p.out)
	for _, e := range p.known(n, "a mould", mouldCure, mouldKeys) {
		switch e.key {
		case "holds":
			m.Holds, _ = p.weight(e.v, "what the mould holds")
		case "planed":
			m.Planed, _ = p.weight(e.v, "what is planed off a piece")
		case "weighed":
			m.Weighed = p.date(e.v, "the day of the weighing")
		case "slab":
			p.slab(e.v, m)
		case "cut":
			m.Along, m.Across = p.cuts(e.v)
		case "kerf":
			m.Kerf, _ = p.upTo(e.v, "the kerf", 20_000)
		case "ends":
			m.Ends, _ = p.upTo(e.v, "the end pieces", largestSlab)
		case "pieces":
			m.Pieces, _ = p.count(e.v, "the pieces of a mould")
		case "shrinks":
			p.shrinks(e.v, m)
		}
	}
	if len(p.out) > before || p.torn[n] {
		return nil
	}
	slab := m.Length > 0 || m.Along > 0 || m.Kerf > 0 || m.Ends > 0
	switch {
	case slab && m.Pieces > 0:
		p.fail("book.mould", n, "the mould gives pieces as they are, and a slab that is cut", "keep either pieces: or slab: and cut:")
	case m.Pieces == 0 && (m.Length == 0 || m.Along == 0):
		p.fail("book.mould", n, "what comes out of the mould is not stated", mouldCure)
	default:
		if _, ok := m.Cut(); ok {
			return m
		}
		p.fail("book.mould", n, "cuts, ends and planing leave nothing of it for a piece", "measure them again")
	}
	return nil
}

// slab reads the length, width and height of a slab.
func (p *page) slab(n *yaml.Node, m *formula.Mould) {
	s, ok := p.text(n, "the slab")
	if !ok {
		return
	}
	all, err := quantity.ParseLengths(s)
	if err != nil {
		p.quantityError("book.length", n, err)
		return
	}
	if len(all) == 3 {
		m.Length, m.Width, m.Height = micrometres(all[0]), micrometres(all[1]), micrometres(all[2])
		if min(m.Length, m.Width, m.Height) >= leastLabel && max(m.Length, m.Width, m.Height) <= largestSlab {
			return
		}
	}
	p.fail("book.mould", n, fmt.Sprintf("“%s” is no size of a slab", clip(s)), "write its length, width and height, as in 250 x 90 x 60 mm")
}

// cuts reads into how many pieces a slab is cut, along its length and across
// its width.
func (p *page) cuts(n *yaml.Node) (along, across int) {
	s, ok := p.text(n, "the cut")
	if !ok {
		return 0, 0
	}
	a, b, _ := strings.Cut(strings.ReplaceAll(strings.ToLower(s), "×", "x"), "x")
	if wholeNumber(a, &along) && wholeNumber(b, &across) && min(along, across) > 0 && max(along, across) <= 1000 {
		return along, across
	}
	p.fail("book.mould", n, fmt.Sprintf("“%s” does not say how the slab is cut", clip(s)), "write the pieces along its length and across its width, as in 10 x 1")
	return 0, 0
}

// shrinks reads which share of each length a piece loses in drying.
func (p *page) shrinks(n *yaml.Node, m *formula.Mould) {
	sh, ok := p.quantityShare(n, "what a piece shrinks by")
	switch {
	case !ok:
	case sh.Rest || sh.NotDetected || !sh.Lo.Equal(sh.Hi) || exact.Frac(1, 2).Less(sh.Hi):
		p.fail("book.mould", n, fmt.Sprintf("“%s” is not how much shorter a piece gets", clip(n.Value)), "measure a fresh and a cured one, and write one share, as in 2 %")
	default:
		m.Shrinks, m.Shrunk = sh.Hi, true
	}
}
