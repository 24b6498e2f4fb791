package book

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/formula/quantity"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/market"
)

var workshopKeys = []string{"workshop", "sell in", "country", "eu countries", "responsible", "scale", "bowl", "drying space"}

func (l *loader) readWorkshop() {
	var first *page
	for _, p := range l.pages {
		switch {
		case p.kind != "workshop":
		case first != nil:
			p.fail("book.repeated-name", p.name, "the book has a second workshop; the first is on "+first.at(first.name).String(), "keep one of them")
		default:
			first = p
			l.workshopFrom(p)
		}
	}
}

func (l *loader) workshopFrom(p *page) {
	w := &l.Workshop
	w.Pos = p.at(p.name)
	for _, e := range p.known(p.root, "the workshop", "", workshopKeys) {
		switch e.key {
		case "workshop":
			w.Name, _ = p.text(e.v, "the workshop's name")
		case "sell in":
			w.SellIn, w.Countries = p.markets(e.v, w.Countries, true)
		case "country":
			w.Country = p.homeCountry(e.v)
		case "eu countries":
			for _, n := range list(e.v) {
				if s, ok := p.text(n, "the country"); ok {
					w.Countries = p.country(n, s, w.Countries)
				}
			}
		case "responsible":
			p.responsible(e.v, w)
		case "scale":
			p.scale(e.v, w)
		case "bowl":
			w.Bowl, _ = p.weight(e.v, "what a bowl holds")
		case "drying space":
			w.DryingSpace = p.room(e.v, "the drying space")
		}
	}
}

// markets reads a list of markets. A country of the EU stands for the EU; where
// countries is allowed it is added to those that decide the languages.
func (p *page) markets(n *yaml.Node, countries []string, allowed bool) ([]inci.Market, []string) {
	var all []inci.Market
	for _, c := range list(n) {
		s, ok := p.text(c, "the market")
		if !ok {
			continue
		}
		m, country, ok := inci.ParseMarket(s)
		if !ok && strings.EqualFold(s, "uk") {
			p.fail("book.market", c, fmt.Sprintf("“%s” is two markets", clip(s)), "write gb for England, Scotland and Wales, ni for Northern Ireland, or both")
			continue
		}
		if !ok {
			p.fail("book.market", c, fmt.Sprintf("“%s” is not a known market", clip(s)), did(nearest(s, marketWords()), "known are us, eu, gb, ni, ca and the countries of the EU"))
			continue
		}
		if country != "" {
			if !allowed {
				p.fail("book.market", c, fmt.Sprintf("“%s” is one country of the EU", clip(s)), "write eu here, and the country under eu countries: in the workshop")
				continue
			}
			if !slices.Contains(countries, country) {
				countries = append(countries, country)
			}
		}
		if !slices.Contains(all, m) {
			all = append(all, m)
		}
	}
	return all, countries
}

func marketWords() []string {
	var all []string
	for _, m := range inci.Markets {
		all = append(all, string(m), m.Title())
	}
	return all
}

func (p *page) country(n *yaml.Node, s string, countries []string) []string {
	_, country, ok := inci.ParseMarket(s)
	switch {
	case !ok || country == "":
		p.fail("book.country", n, fmt.Sprintf("“%s” is not a country of the EU", clip(s)), "write its two-letter code, one of "+strings.Join(market.MemberStates(), ", "))
	case !slices.Contains(countries, country):
		countries = append(countries, country)
	}
	return countries
}

func (p *page) responsible(n *yaml.Node, w *label.Workshop) {
	w.Responsible = map[inci.Market]label.Responsible{}
	const cure = "write one per market, as in us: {name: …, address: [street, town], contact: …}"
	for _, e := range p.entries(n, "responsible", cure) {
		m, country, ok := inci.ParseMarket(e.key)
		if !ok || country != "" {
			p.fail("book.market", e.k, fmt.Sprintf("“%s” is not a known market", clip(e.key)), did(nearest(e.key, marketWords()), "known are us, eu, gb, ni, ca"))
			continue
		}
		if _, twice := w.Responsible[m]; twice {
			p.fail("book.repeated-key", e.k, fmt.Sprintf("“%s” is a market that stands above under another name", clip(e.key)), "keep one of them")
			continue
		}
		r := label.Responsible{Pos: p.at(e.k)}
		for _, f := range p.known(e.v, "a responsible person", "write it as in {name: …, address: [street, town], contact: …}", []string{"name", "address", "contact", "country", "role"}) {
			switch f.key {
			case "name":
				r.Name, _ = p.text(f.v, "the name")
			case "address":
				r.Address = p.address(f.v)
			case "contact":
				r.Contact, _ = p.text(f.v, "the contact")
			case "role":
				r.Role, _ = p.text(f.v, "the role")
			case "country":
				r.Country = p.homeCountry(f.v)
			}
		}
		w.Responsible[m] = r
	}
}

// address reads a list of lines, or one text with line breaks in it.
func (p *page) address(n *yaml.Node) (lines []string) {
	for _, s := range p.texts(n, "the address") {
		for line := range strings.SplitSeq(s, "\n") {
			if line = strings.TrimSpace(line); line != "" {
				lines = append(lines, line)
			}
		}
	}
	return lines
}

// homeCountry reads where a responsible person is established: NI stands for
// Northern Ireland, apart from GB.
func (p *page) homeCountry(n *yaml.Node) string {
	s, ok := p.text(n, "the country")
	if !ok {
		return ""
	}
	if m, country, ok := inci.ParseMarket(s); ok {
		if country != "" {
			return country
		}
		if m != inci.EU {
			return strings.ToUpper(string(m))
		}
	}
	if c, ok := market.Country(s); ok && !strings.EqualFold(s, "eu") {
		return c
	}
	p.fail("book.country", n, fmt.Sprintf("“%s” is not a country", clip(s)), "write its two-letter code, such as US, DE or NI")
	return ""
}

func (p *page) scale(n *yaml.Node, w *label.Workshop) {
	for _, e := range p.known(n, "a scale", "write it as in {reads: 1 g, up to: 5 kg}", []string{"reads", "up to"}) {
		q, ok := p.weight(e.v, "the scale's "+e.key)
		if !ok {
			continue
		}
		if e.key == "reads" {
			w.ScaleReads = q
		} else {
			w.ScaleUpTo = q
		}
	}
}

// weight reads a weight above zero, in grams.
func (p *page) weight(n *yaml.Node, what string) (exact.Rat, bool) {
	s, ok := p.text(n, what)
	if !ok {
		return exact.Rat{}, false
	}
	q, err := quantity.Parse(s)
	if err != nil {
		p.quantityError("book.amount", n, err)
		return exact.Rat{}, false
	}
	if q.Unit.Kind != quantity.Mass || q.Number.Sign() <= 0 {
		p.fail("book.amount", n, fmt.Sprintf("%s is written as “%s”, which is not a weight", what, clip(s)), "write a weight, such as 1 g")
		return exact.Rat{}, false
	}
	return q.Value(), true
}

// missingWorkshop says that nobody sells what the book holds.
func (l *loader) missingWorkshop() {
	if len(l.order) == 0 || slices.ContainsFunc(l.pages, func(p *page) bool { return p.kind == "workshop" || p.kind == "" }) {
		return
	}
	p := l.order[0].page
	p.out.Add(finding.Finding{Rule: "book.no-workshop", Severity: finding.Error, Where: p.doc.at(1, 1),
		Message: "the book has products but no workshop", Cure: "write a document that begins with workshop: and your name"})
}
