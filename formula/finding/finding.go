// Package finding holds what a check has to say: rule code, severity, place,
// what is wrong, the cure and the source. Every package may import it.
//
// A message states what was read and what is wrong. A cure says what to do,
// with figures where there are any. Neither shouts, and neither promises that
// a pack obeys the law.
package finding

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Severity says what a finding does to the verdict.
type Severity int

const (
	Note     Severity = iota // worth knowing; changes nothing
	Warning                  // probably a mistake; prints
	Question                 // only the maker can answer; holds the print back
	Error                    // wrong; forbids the print
)

var severities = [...]string{"note", "warning", "question", "error"}

// String returns the word used in output: note, warning, question or error.
func (s Severity) String() string { return severities[s] }

// MarshalText writes the word.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Pos is a place in the book. Line and Col count from 1; 0 means unknown.
type Pos struct {
	File string
	Line int
	Col  int
}

// String returns file:line:col, leaving out what is unknown.
func (p Pos) String() string {
	switch {
	case p.File == "":
		return ""
	case p.Line == 0:
		return p.File
	case p.Col == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}

// MarshalText writes the place as String does.
func (p Pos) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

func (p Pos) compare(q Pos) int {
	return cmp.Or(cmp.Compare(p.File, q.File), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Col, q.Col))
}

// Seen says how a fact was come by.
type Seen string

const (
	Yes       Seen = "yes"       // read in a stored copy of the source
	Secondary Seen = "secondary" // quoted by another text
	Memory    Seen = "memory"    // not seen; to be confirmed
	Practice  Seen = "practice"  // common practice of the trade, no source
)

// Citation is where a rule or figure comes from.
type Citation struct {
	Text string `json:"text"`
	Seen Seen   `json:"seen"`
}

// Unverified reports whether the fact still wants a look at its source.
func (c Citation) Unverified() bool { return c.Seen == Secondary || c.Seen == Memory }

// String returns the text, with "(unverified)" where that is so.
func (c Citation) String() string {
	switch {
	case c.Text == "":
		return ""
	case c.Unverified():
		return c.Text + " (unverified: " + string(c.Seen) + ")"
	}
	return c.Text
}

// Code names a rule: lower-case words joined by "-" within parts joined by
// ".", as in "eu.allergen.uncovered".
type Code string

// Finding is one thing a check has to say. Product and Market are empty where
// it concerns the book as a whole.
type Finding struct {
	Rule     Code
	Severity Severity
	Product  string
	Market   string
	Where    Pos
	Message  string
	Cure     string
	Source   Citation
}

// Line returns the finding as one line: place: message; cure. Line breaks in
// the parts become spaces.
func (f Finding) Line() string {
	var b strings.Builder
	if s := f.Where.String(); s != "" {
		b.WriteString(s + ": ")
	}
	b.WriteString(f.Message)
	if f.Cure != "" {
		b.WriteString("; " + f.Cure)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// compareText orders by everything that is said, source included: findings that
// differ in anything have one order only.
func (f Finding) compareText(g Finding) int {
	return cmp.Or(cmp.Compare(f.Rule, g.Rule), cmp.Compare(f.Message, g.Message), cmp.Compare(f.Cure, g.Cure),
		cmp.Compare(f.Source.Text, g.Source.Text), cmp.Compare(f.Source.Seen, g.Source.Seen))
}

// List is a collection of findings.
type List []Finding

// Add appends a finding.
func (l *List) Add(f Finding) { *l = append(*l, f) }

// Sort orders findings worst first, then by product, market, place, rule and
// message, and drops exact repeats, so that the same book gives the same list.
func (l *List) Sort() {
	slices.SortFunc(*l, func(a, b Finding) int {
		return cmp.Or(-cmp.Compare(a.Severity, b.Severity), cmp.Compare(a.Product, b.Product), cmp.Compare(a.Market, b.Market),
			a.Where.compare(b.Where), a.compareText(b))
	})
	*l = slices.Compact(*l)
}

// SortByPlace orders findings as a reader of the files meets them, and drops
// exact repeats.
func (l *List) SortByPlace() {
	slices.SortFunc(*l, func(a, b Finding) int {
		return cmp.Or(a.Where.compare(b.Where), -cmp.Compare(a.Severity, b.Severity), cmp.Compare(a.Product, b.Product),
			cmp.Compare(a.Market, b.Market), a.compareText(b))
	})
	*l = slices.Compact(*l)
}

// Count returns how many findings have severity s.
func (l List) Count(s Severity) (n int) {
	for _, f := range l {
		if f.Severity == s {
			n++
		}
	}
	return n
}

// Verdict is the gate: what may be printed.
type Verdict struct {
	errors, questions int
}

// Verdict returns the gate over the list: any error forbids, any question
// holds back.
func (l List) Verdict() Verdict { return Verdict{l.Count(Error), l.Count(Question)} }

// Prints reports whether sale labels may be printed.
func (v Verdict) Prints() bool { return v.errors == 0 && v.questions == 0 }

// String returns PRINT, ANSWER n QUESTIONS FIRST or DO NOT PRINT.
func (v Verdict) String() string {
	switch {
	case v.errors > 0:
		return "DO NOT PRINT"
	case v.questions == 1:
		return "ANSWER 1 QUESTION FIRST"
	case v.questions > 1:
		return fmt.Sprintf("ANSWER %d QUESTIONS FIRST", v.questions)
	}
	return "PRINT"
}

// MarshalText writes the verdict as String does.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }
