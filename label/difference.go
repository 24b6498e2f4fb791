package label

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/finding"
)

// difference is one thing that differs between two declarations of the same
// product in the same market on two occasions.
type difference struct {
	about   string // what it is about, whatever exactly is said of it
	key     string // what is said, in full
	finding finding.Finding
	sources []finding.Citation
}

func (f difference) worse() bool { return f.finding.Severity > finding.Note }

// Codes of what a calendar says besides the findings of a declaration.
const (
	ruleListChanges      finding.Code = "calendar.list"
	ruleStatementChanges finding.Code = "calendar.statement"
	ruleLapses           finding.Code = "calendar.lapses"
)

// differences returns what next says that last did not: findings that appear,
// those that fall away, names and statements that come or go. Notes that come or
// go change nothing and are left out.
func differences(last, next *Declaration) []difference {
	var out []difference
	out = append(out, appearing(last, next)...)
	out = append(out, lapsing(last, next)...)
	out = append(out, listChange(last, next)...)
	return append(out, statementChanges(last, next)...)
}

// subject is what a finding is about: the rule, and where it was met.
func subject(f finding.Finding) string {
	return string(f.Rule) + "\x00" + f.Product + "\x00" + f.Where.String()
}

// wording is all that a finding says. A message that names the day it was
// judged on says the same on another day.
func wording(f finding.Finding, o date.Occasion) string {
	s := f.Message
	for _, day := range []date.Date{o.On, o.Placed} {
		if day != 0 {
			s = strings.ReplaceAll(s, day.String(), "that day")
		}
	}
	return subject(f) + "\x00" + f.Severity.String() + "\x00" + s
}

func appearing(last, next *Declaration) []difference {
	said := map[string]bool{}
	for _, f := range last.Findings {
		said[wording(f, last.Occasion)], said[wording(f, date.Occasion{})] = true, true
	}
	var out []difference
	for _, f := range next.Findings {
		key := wording(f, next.Occasion)
		if f.Severity == finding.Note || said[key] || said[wording(f, date.Occasion{})] {
			continue
		}
		out = append(out, difference{about: subject(f), key: key, finding: f, sources: cited(f.Source)})
	}
	return out
}

// lapsing returns the errors and questions that nothing has taken the place of.
func lapsing(last, next *Declaration) []difference {
	still := map[string]bool{}
	for _, f := range next.Findings {
		still[subject(f)] = true
	}
	var out []difference
	for _, f := range last.Findings {
		if f.Severity < finding.Question || still[subject(f)] {
			continue
		}
		g := finding.Finding{Rule: ruleLapses, Product: f.Product, Where: f.Where, Message: "no longer so: " + f.Message, Source: f.Source}
		out = append(out, difference{about: "lapses " + subject(f), key: "lapses " + wording(f, last.Occasion), finding: g, sources: cited(f.Source)})
	}
	return out
}

// listChange returns how the list of ingredients differs.
func listChange(last, next *Declaration) []difference {
	if last.printedLists() == next.printedLists() {
		return nil
	}
	was, is := last.listed(), next.listed()
	var gains, loses []string
	f := finding.Finding{Rule: ruleListChanges, Severity: finding.Warning, Product: next.Product.Name, Where: next.Product.Pos,
		Cure: "print labels with the list of that day"}
	var sources []finding.Citation
	for _, e := range is {
		if !slices.ContainsFunc(was, func(o Entry) bool { return o.Name == e.Name }) {
			gains = append(gains, e.Name)
			sources = append(sources, asks(e))
		}
	}
	for _, e := range was {
		if !slices.ContainsFunc(is, func(o Entry) bool { return o.Name == e.Name }) {
			loses = append(loses, e.Name)
		}
	}
	switch {
	case gains != nil && loses != nil:
		f.Message = fmt.Sprintf("the list of ingredients gains %s and loses %s", inWords(gains), inWords(loses))
	case gains != nil:
		f.Message = "the list of ingredients gains " + inWords(gains)
	case loses != nil:
		f.Message = "the list of ingredients loses " + inWords(loses)
	default:
		f.Message = "the names of the list of ingredients stand in another order"
	}
	if len(sources) == 0 {
		sources = []finding.Citation{next.Rules.BasisSource}
	}
	f.Source = sources[0]
	return []difference{{about: "list", key: f.Message, finding: f, sources: cited(sources...)}}
}

// asks returns what asks for a name in the list: the entry of the allergen list,
// else where the name comes from.
func asks(e Entry) finding.Citation {
	if e.allergen != nil {
		return e.allergen.Source
	}
	return e.Source
}

// printedLists is the list, or all lists of a set, as printed.
func (d *Declaration) printedLists() string {
	s := d.Text()
	for _, m := range d.Members {
		s += "\n" + m.Text()
	}
	return s
}

// listed returns the names of the list; of a set, those of all products in it.
func (d *Declaration) listed() []Entry {
	all := slices.Clone(d.Entries)
	for _, m := range d.Members {
		for _, e := range m.Entries {
			if !slices.ContainsFunc(all, func(o Entry) bool { return o.Name == e.Name }) {
				all = append(all, e)
			}
		}
	}
	return all
}

// statementChanges returns the statements that the pack must carry from then
// on, and those that it need not carry any more. The list is told apart.
func statementChanges(last, next *Declaration) []difference {
	has := func(d *Declaration, s Statement) bool {
		return slices.ContainsFunc(d.Statements, func(o Statement) bool {
			return o.Kind == s.Kind && o.Lang == s.Lang && o.Lead == s.Lead && o.Text == s.Text
		})
	}
	var out []difference
	tell := func(s Statement, sev finding.Severity, what, cure string) {
		words := strings.TrimSpace(s.Lead + " " + s.Text)
		f := finding.Finding{Rule: ruleStatementChanges, Severity: sev, Product: next.Product.Name, Where: next.Product.Pos,
			Message: fmt.Sprintf("the pack %s “%s”", what, words), Cure: cure}
		if len(s.Sources) > 0 {
			f.Source = s.Sources[0]
		}
		out = append(out, difference{about: fmt.Sprint("statement ", s.Kind, s.Lang, words), key: f.Message, finding: f, sources: cited(s.Sources...)})
	}
	for _, s := range next.Statements {
		if s.Kind != ListText && !has(last, s) {
			tell(s, finding.Warning, "must also say", "print labels that say it")
		}
	}
	for _, s := range last.Statements {
		if s.Kind != ListText && !has(next, s) {
			tell(s, finding.Note, "need no longer say", "")
		}
	}
	return out
}

// cited leaves out citations without words, and repeats.
func cited(all ...finding.Citation) []finding.Citation {
	var out []finding.Citation
	for _, c := range all {
		if c.Text != "" && !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out
}
