package book

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/formula/quantity"
)

// entry is a key with its value.
type entry struct {
	key  string
	k, v *yaml.Node
}

// entries returns the entries of a mapping; anything else is an error.
func (p *page) entries(n *yaml.Node, what, cure string) []entry {
	if n.Kind != yaml.MappingNode {
		p.fail("book.form", n, fmt.Sprintf("%s is written as %s", what, formOf(n)), cure)
		p.tear(n)
		return nil
	}
	all := make([]entry, 0, len(n.Content)/2)
	for i := 0; i+1 < len(n.Content); i += 2 {
		all = append(all, entry{n.Content[i].Value, n.Content[i], n.Content[i+1]})
	}
	return all
}

func formOf(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "key: value entries"
	case yaml.SequenceNode:
		return "a list"
	}
	return "“" + clip(n.Value) + "”"
}

// known checks the keys of a mapping against those it may have, and returns
// the good entries.
func (p *page) known(n *yaml.Node, what, cure string, keys []string) []entry {
	all := p.entries(n, what, cure)
	good := all[:0]
	for _, e := range all {
		if slices.Contains(keys, e.key) {
			good = append(good, e)
			continue
		}
		if near := slices.IndexFunc(keys, func(k string) bool { return strings.EqualFold(k, strings.TrimSpace(e.key)) }); near >= 0 {
			p.fail("book.unknown-key", e.k, fmt.Sprintf("“%s” is no key of %s", clip(e.key), what), "write it in small letters: "+keys[near])
			continue
		}
		p.unknownKey(e.k, what, keys)
	}
	return good
}

func (p *page) unknownKey(k *yaml.Node, what string, keys []string) {
	cure := "known are " + strings.Join(keys, ", ")
	if near := nearest(k.Value, keys); near != "" {
		cure = "did you mean " + near + "?"
	}
	p.fail("book.unknown-key", k, fmt.Sprintf("“%s” is no key of %s", clip(k.Value), what), cure)
}

// text returns the text of a scalar; a list or mapping is an error.
func (p *page) text(n *yaml.Node, what string) (string, bool) {
	if n.Kind != yaml.ScalarNode {
		p.fail("book.form", n, fmt.Sprintf("%s is written as %s", what, formOf(n)), "write it as one text")
		return "", false
	}
	s := strings.TrimSpace(n.Value)
	if s == "" {
		p.fail("book.empty-value", n, what+" is empty", "write it, or take the line out")
		return "", false
	}
	return s, true
}

// list returns the entries of a list; one value counts as a list of one.
func list(n *yaml.Node) []*yaml.Node {
	if n.Kind == yaml.SequenceNode {
		return n.Content
	}
	return []*yaml.Node{n}
}

// texts returns a list of texts.
func (p *page) texts(n *yaml.Node, what string) (all []string) {
	for _, c := range list(n) {
		if s, ok := p.text(c, what); ok {
			all = append(all, s)
		}
	}
	return all
}

func (p *page) yes(n *yaml.Node, what string) bool {
	s, ok := p.text(n, what)
	if !ok {
		return false
	}
	switch strings.ToLower(s) {
	case "yes", "true":
		return true
	case "no", "false":
	default:
		p.fail("book.form", n, fmt.Sprintf("%s is written as “%s”", what, clip(s)), "write yes or no")
	}
	return false
}

func (p *page) date(n *yaml.Node, what string) date.Date {
	s, ok := p.text(n, what)
	if !ok {
		return 0
	}
	d, err := date.Parse(s)
	if err != nil {
		p.fail("book.date", n, fmt.Sprintf("%s: “%s” is not a day of the calendar", what, clip(s)), "write year-month-day, as in 2026-08-01")
	}
	return d
}

// nearest returns the candidate that differs least from word, or "" if none is
// near enough to be meant.
func nearest(word string, candidates []string) string {
	w := strings.ToLower(strings.TrimSpace(word))
	if len(w) > 60 {
		return ""
	}
	best, found := 1+len(w)/3, ""
	begun := "" // a candidate that the word is the beginning of, or that begins the word
	for _, c := range candidates {
		low := strings.ToLower(c)
		if begun == "" && len(w) > 2 && len(c) > 2 && (strings.HasPrefix(low, w) || strings.HasPrefix(w, low)) {
			begun = c
		}
		if len(low)-len(w) <= best && len(w)-len(low) <= best {
			if d := quantity.Distance(w, low); d < best {
				best, found = d, c
			}
		}
	}
	if found == "" {
		return begun
	}
	return found
}

// did returns the cure that names the nearest of some names, or the other cure.
func did(near, otherwise string) string {
	if near == "" {
		return otherwise
	}
	return "did you mean " + near + "?"
}

// errorAt adds an error about a node that another package explained.
func (p *page) errorAt(rule finding.Code, n *yaml.Node, err error) {
	msg, cure, _ := strings.Cut(err.Error(), "; ")
	p.fail(rule, n, msg, cure)
}
