package book

import (
	"fmt"
	"slices"

	"gopkg.in/yaml.v3"

	"panelwright/formula/finding"
	"panelwright/label"
)

// answer reads what the maker answered to a question. first is the key that
// holds the rule.
func (p *page) answer(n *yaml.Node, first string, more ...string) (label.Answer, bool) {
	a := label.Answer{Pos: p.at(n)}
	before := len(p.out)
	for _, e := range p.known(n, "an answer", "write it as in {rule: …, date: 2026-11-01, reason: …}", append([]string{first, "market", "about", "date", "reason"}, more...)) {
		switch e.key {
		case first:
			if s, ok := p.text(e.v, "the rule"); ok {
				a.Rule = finding.Code(s)
				if _, known := label.RuleOf(a.Rule); !known {
					p.fail("book.unknown-rule", e.v, fmt.Sprintf("“%s” is no rule", clip(s)), did(nearest(s, ruleCodes()), "the codes stand in check --rules"))
				}
			}
		case "about":
			a.About, _ = p.text(e.v, "what the answer is about")
		case "market":
			if m, _ := p.markets(e.v, nil, false); len(m) == 1 {
				a.Market = m[0]
			} else if len(m) > 1 {
				p.fail("book.form", e.v, "an answer is for one market, or for all", "write one answer for each market, or leave market out")
			}
		case "date":
			a.Date = p.date(e.v, "the date of the answer")
		case "reason":
			a.Reason, _ = p.text(e.v, "the reason")
		}
	}
	if len(p.out) > before || p.torn[n] {
		return a, false
	}
	for _, missing := range []struct {
		key  string
		gone bool
	}{{first, a.Rule == ""}, {"date", a.Date == 0}, {"reason", a.Reason == ""}} {
		if missing.gone {
			p.fail("book.missing-key", n, "the answer has no "+missing.key, "an answer is kept with its rule, date and reason")
			return a, false
		}
	}
	return a, true
}

// ruleCodes returns the codes of all rules.
func ruleCodes() []string {
	var all []string
	for _, r := range label.Rules() {
		for _, c := range r.Codes() {
			all = append(all, string(c))
		}
	}
	return all
}

// readAnswers gives answers in documents of their own to the products they name.
func (l *loader) readAnswers() {
	for _, p := range l.pages {
		if p.kind != "answer" {
			continue
		}
		a, ok := p.answer(p.root, "answer", "product")
		a.Pos = p.at(p.name)
		var names []*yaml.Node
		for _, e := range p.entries(p.root, "an answer", "") {
			if e.key == "product" {
				names = list(e.v)
			}
		}
		if names == nil && ok {
			p.fail("book.missing-key", p.name, "the answer names no product", "add product: and its name")
		}
		for _, n := range names {
			l.answerFor(p, n, a, ok)
		}
	}
}

func (l *loader) answerFor(p *page, n *yaml.Node, a label.Answer, ok bool) {
	name, read := p.text(n, "the product")
	if !read {
		return
	}
	g := l.goods[foldName(name)]
	switch {
	case g == nil:
		p.fail("book.unknown-name", n, fmt.Sprintf("“%s” is not a product", clip(name)), l.nearestProduct(name))
	case !ok:
	case g.kind == "range":
		for _, m := range g.members {
			if m.product != nil {
				m.product.Answers = append(slices.Clip(m.product.Answers), a)
			}
		}
	case g.product != nil:
		g.product.Answers = append(slices.Clip(g.product.Answers), a)
	}
}
