package book

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/inci"
	"panelwright/label"
)

// listAs reads how a soap is listed: in or out, for all markets or for each.
func (p *page) listAs(n *yaml.Node) (map[inci.Market]label.ListAs, bool) {
	const cure = "write in (fats, lye and water), out (soaps, glycerin and what is left), or {eu: out, us: in}"
	m := map[inci.Market]label.ListAs{}
	read := func(n *yaml.Node, to inci.Market) bool {
		s, ok := p.text(n, "list as")
		if !ok {
			return false
		}
		switch strings.ToLower(s) {
		case "in", "what went in":
			m[to] = label.WentIn
		case "out", "what came out":
			m[to] = label.CameOut
		default:
			p.fail("book.form", n, fmt.Sprintf("list as is written as “%s”", clip(s)), cure)
			return false
		}
		return true
	}
	if n.Kind == yaml.ScalarNode {
		return m, read(n, "")
	}
	good := true
	for _, e := range p.entries(n, "list as", cure) {
		to, _, ok := inci.ParseMarket(strings.TrimSpace(e.key))
		if !ok {
			p.fail("book.market", e.k, fmt.Sprintf("“%s” is not a market", clip(e.key)), "known are us, eu, gb, ni, ca")
			good = false
			continue
		}
		good = read(e.v, to) && good
	}
	return m, good
}
