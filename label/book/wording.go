package book

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"

	"panelwright/formula/date"
	"panelwright/formula/quantity"
	"panelwright/label"
)

// wording reads a text in one or more languages: plain text is English.
func (p *page) wording(n *yaml.Node, what string) (label.Wording, bool) {
	if n.Kind != yaml.MappingNode {
		s, ok := p.text(n, what)
		return label.Wording{"en": s}, ok
	}
	w := label.Wording{}
	for _, e := range p.entries(n, what, "") {
		lang, ok := p.language(e.k)
		if !ok {
			continue
		}
		if s, ok := p.text(e.v, what+" in "+lang); ok {
			w[lang] = s
		}
	}
	return w, len(w) > 0
}

// language reads a two-letter language code.
func (p *page) language(n *yaml.Node) (string, bool) {
	s := strings.ToLower(strings.TrimSpace(n.Value))
	if n.Kind == yaml.ScalarNode && len(s) == 2 && strings.Trim(s, "abcdefghijklmnopqrstuvwxyz") == "" {
		return s, true
	}
	p.fail("book.language", n, formOf(n)+" is not a language code", "write the two letters for the language, such as en or de")
	return "", false
}

//go:embed cautions.csv
var cautionsCSV string

type cautionTable struct {
	words []string
	id    map[string]string
}

// stockCautions are the short words for cautions that have a wording in every
// language known to the market's table of phrases.
var stockCautions = sync.OnceValue(func() cautionTable {
	rows, err := csv.NewReader(strings.NewReader(cautionsCSV)).ReadAll()
	if err != nil {
		panic("book: cautions.csv: " + err.Error())
	}
	t := cautionTable{id: map[string]string{}}
	for _, r := range rows[1:] {
		t.words = append(t.words, r[0])
		t.id[r[0]] = r[1]
	}
	return t
})

// cautions reads a list of cautions: texts of the maker's own, or the words for
// a stock phrase, which are kept as Wording{"phrase": id}.
func (p *page) cautions(n *yaml.Node) (all []label.Wording) {
	stock := stockCautions()
	for _, c := range list(n) {
		if c.Kind == yaml.ScalarNode {
			words := strings.ToLower(strings.Join(strings.Fields(strings.TrimRight(c.Value, ". ")), " "))
			if id, ok := stock.id[words]; ok {
				all = append(all, label.Wording{"phrase": id})
				continue
			}
			if near := nearest(words, stock.words); near != "" && quantity.Distance(words, near) <= 2 {
				p.fail("book.caution", c, fmt.Sprintf("“%s” is almost the words for a stock caution", clip(c.Value)),
					fmt.Sprintf("write %s for the stock caution, or your own text in full: {en: …}", near))
				continue
			}
		}
		if w, ok := p.wording(c, "the caution"); ok {
			all = append(all, w)
		}
	}
	return all
}

// months reads a span of months or years: 24 months, 2 years, 12 M.
func (p *page) months(n *yaml.Node, what string) (int, bool) {
	s, ok := p.text(n, what)
	if !ok {
		return 0, false
	}
	digits := strings.TrimRight(s, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ. ")
	unit := strings.ToLower(strings.Trim(s[len(digits):], " ."))
	count, err := strconv.Atoi(digits)
	switch {
	case err != nil || count <= 0:
	case slices.Contains([]string{"month", "months", "mo", "m"}, unit):
	case slices.Contains([]string{"year", "years", "yr", "yrs", "y"}, unit):
		count *= 12
	default:
		err = strconv.ErrSyntax
	}
	if err != nil || count <= 0 || count > 240 {
		p.fail("book.months", n, fmt.Sprintf("%s is written as “%s”", what, clip(s)), "write whole months or years, up to 20 years, as in 24 months")
		return 0, false
	}
	return count, true
}

// lastDay reads a day, or a month that means its last day: 2028-05 is
// 2028-05-31.
func (p *page) lastDay(n *yaml.Node, what string) date.Date {
	s, ok := p.text(n, what)
	if !ok {
		return 0
	}
	if first, err := date.Parse(s + "-01"); err == nil {
		return first.AddMonths(1).AddDays(-1)
	}
	return p.date(n, what)
}
