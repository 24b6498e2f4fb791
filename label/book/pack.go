package book

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/formula/quantity"
	"panelwright/label"
	"panelwright/label/market"
)

var packKeys = append([]string{"for", "languages", "label", "back", "pack", "lot goes", "corners", "barcode", "qr"}, dressKeys...)

func (l *loader) packs(p *page, n *yaml.Node) (all []label.Pack) {
	for _, item := range list(n) {
		all = append(all, l.pack(p, item))
	}
	return all
}

func (l *loader) pack(p *page, n *yaml.Node) label.Pack {
	corners := int64(0)
	pk := label.Pack{Pos: p.at(n)}
	const cure = "write it as in - {for: [us], label: round 64 mm, pack: ball 65 mm}"
	for _, e := range p.known(n, "a pack", cure, packKeys) {
		switch e.key {
		case "for":
			pk.For, _ = p.markets(e.v, nil, false)
		case "languages":
			for _, c := range list(e.v) {
				if lang, ok := p.language(c); ok && !slices.Contains(pk.Languages, lang) {
					pk.Languages = append(pk.Languages, lang)
				}
			}
		case "label":
			pk.Label = p.shape(e.v)
		case "back":
			pk.Back = p.shape(e.v)
		case "pack":
			s, ok := p.text(e.v, "the pack")
			if !ok {
				break
			}
			body, err := market.ParseBody(s)
			if err != nil {
				p.errorAt("book.pack", e.v, err)
				break
			}
			body.Pos = p.at(e.v)
			pk.Body = body
		case "lot goes":
			pk.Lot = p.lotPlace(e.v)
		case "corners":
			corners, _ = p.upTo(e.v, "the radius of the corners", 40_000)
		case "barcode", "qr":
			if pk.CodesAt == (finding.Pos{}) {
				pk.CodesAt = p.at(e.k)
			}
			if !p.code(e, &pk.Barcode, &pk.Link) {
				l.badCodes[pk.Pos] = true
			}
		default:
			l.dress(p, e, &pk.Dress)
		}
	}
	for _, s := range []*label.Shape{&pk.Label, &pk.Back} {
		p.wrap(n, s, pk.Body)
		if s.Kind == label.Rounded {
			s.Corner = corners
		}
	}
	if len(pk.For) == 0 && n.Kind == yaml.MappingNode && !p.torn[n] && !slices.ContainsFunc(n.Content, func(c *yaml.Node) bool { return c.Value == "for" }) {
		p.fail("book.missing-key", n, "the pack does not say for which market", "add for: [us], or all the markets it serves")
	}
	return pk
}

func (p *page) lotPlace(n *yaml.Node) label.LotPlace {
	s, ok := p.text(n, "where the lot goes")
	switch strings.ToLower(s) {
	case "on sticker", "on a sticker", "sticker":
		return label.LotOnSticker
	case "on label", "on the label", "label":
	default:
		if ok {
			p.fail("book.form", n, fmt.Sprintf("the lot goes “%s”", clip(s)), "write on label or on sticker")
		}
	}
	return label.LotOnLabel
}

func micrometres(q quantity.Quantity) int64 {
	um := q.Value().Mul(exact.Int(1000))
	if exact.Int(2 * mostLabel).Less(um) {
		return 2 * mostLabel
	}
	return um.Decimal(0, exact.Nearest).IntPart()
}

// netUnits are the units a net quantity may be stated in.
var netUnits = []string{"g", "kg", "oz", "lb", "ml", "l", "fl oz", "pt", "qt", "gal"}

// net reads a net quantity.
func (p *page) net(n *yaml.Node) (market.Quantity, bool) {
	s, ok := p.text(n, "the net quantity")
	if !ok {
		return market.Quantity{}, false
	}
	q, err := quantity.Parse(s)
	if err != nil {
		p.quantityError("book.net", n, err)
		return market.Quantity{}, false
	}
	unit := q.Unit.Symbol
	if unit == "oz wt" {
		unit = "oz"
	}
	if !slices.Contains(netUnits, unit) || q.Number.Sign() <= 0 {
		p.fail("book.net", n, fmt.Sprintf("“%s” is no net quantity", clip(s)), "write a weight or volume in one of "+strings.Join(netUnits, ", "))
		return market.Quantity{}, false
	}
	return market.Quantity{Amount: q.Value(), Volume: q.Unit.Kind == quantity.Volume, Text: s, Unit: unit, Pos: p.at(n)}, true
}

// count reads a whole number from 1.
func (p *page) count(n *yaml.Node, what string) (int, bool) {
	s, ok := p.text(n, what)
	if !ok {
		return 0, false
	}
	c, err := strconv.Atoi(s)
	if err != nil || c < 1 || c > 100_000 {
		p.fail("book.count", n, fmt.Sprintf("%s is written as “%s”", what, clip(s)), "write a whole number from 1")
		return 0, false
	}
	return c, true
}

// pieces reads how many pieces a pack holds, and what they are called: "6" or
// "6 bath fizzes".
func (p *page) pieces(n *yaml.Node) (int, string, bool) {
	s, ok := p.text(n, "the count")
	if !ok {
		return 0, "", false
	}
	number, words, _ := strings.Cut(s, " ")
	c, err := strconv.Atoi(number)
	if err != nil || c < 1 || c > 100_000 {
		p.fail("book.count", n, fmt.Sprintf("the count is written as “%s”", clip(s)), "write a whole number from 1 and what the pieces are called, as in 6 bath fizzes")
		return 0, "", false
	}
	return c, strings.TrimSpace(words), true
}
