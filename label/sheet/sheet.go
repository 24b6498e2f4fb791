package sheet

import (
	"strings"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/quantity"
	"panelwright/inci"
)

// Options are answers that hold for the whole text. The zero Options ask.
type Options struct {
	Unit  string    // of figures that no unit stands beside: "%", "ppm" ...; "" takes it from the headings
	As    Kind      // Unsettled takes it from what is found
	Empty string    // what a dash or an empty cell means, as a share: "nd" or "nd <10 ppm"; "" asks
	Date  date.Date // of the sheet; 0 looks for it in the text
	// Lines are read in place of those of the text, by number: what stands on the
	// sheet where a line was misread. One without a word leaves its line out.
	Lines map[int]string
}

// Kind says what a table of figures is about.
type Kind int

// The kinds of table.
const (
	Unsettled Kind = iota
	Allergens      // what is inside a scent or an oil: of which, without a sum
	Contains       // what a material is made of: sums to 100 %
)

// String returns the key of the book under which such a table stands.
func (k Kind) String() string { return [...]string{"", "allergens", "contains"}[k] }

// Meaning says what a line was understood as.
type Meaning int

// What a line can be. Of two, the later counts.
const (
	Words   Meaning = iota // words without a figure
	Heading                // a heading of columns, or words that set the unit
	Fact                   // something about the sheet: its date, its reference
	Limit                  // a highest use by category
	Row                    // a figure of a substance, or a part of its row
	Asked                  // a question; see Sheet.Questions
)

// String returns a word for the meaning.
func (m Meaning) String() string {
	return [...]string{"words", "heading", "fact", "use limit", "figure", "question"}[m]
}

// Line is one line of the text that has something on it.
type Line struct {
	Number int    // counted from 1, blank lines counted too
	Text   string // as pasted, without the line end
	Is     Meaning
	Says   []string // what was understood, and what was changed for it
	Unused bool     // words that hold a number nobody made use of
}

// Understood returns what was understood in one text.
func (l *Line) Understood() string { return strings.Join(l.Says, "; ") }

// Figure is a share of a substance.
type Figure struct {
	Lines  []int          // where it stands; the first is where it begins
	Found  string         // the name as it stands there, "" where only a number does
	Name   string         // a name that a book is sure to take
	Key    formula.Key    // the substance
	Entry  *inci.Allergen // its entry in the list of fragrance allergens, or nil
	Number string         // the registry numbers beside it
	Share  quantity.Share // as understood
	Text   string         // the share as a book writes it
}

// UseLimit is the supplier's highest use in products of a category.
type UseLimit struct {
	Line     int
	Category string // category id of the fragrance-use standards
	Words    string // a plain word for it, if there is one
	Text     string // the share as a book writes it, or "not permitted"
}

// Question is what only the maker or her supplier can answer.
type Question struct {
	Lines             []int // may be empty: it is about the whole
	Read, Wrong, Cure string
}

// String returns the question in one line, without its place.
func (q Question) String() string {
	if s := q.brief(); strings.HasSuffix(s, "?") {
		return s + " " + strings.ToUpper(q.Cure[:1]) + q.Cure[1:]
	}
	return q.brief() + "; " + q.Cure
}

// brief leaves the cure out.
func (q Question) brief() string {
	if q.Read == "" {
		return q.Wrong
	}
	return "“" + shorten(q.Read) + "”: " + q.Wrong
}

// Sheet is a text as understood.
type Sheet struct {
	As        Kind
	Because   string // why it was taken for that kind
	Lines     []Line
	Figures   []Figure // in the order of the text, each substance once
	Limits    []UseLimit
	Date      date.Date
	Ref       string
	Covers    []inci.List // the lists of allergens that it answers in full
	Nearest   inci.List   // where it answers none in full: the one that lacks least
	Lacking   []string    // the entries of Nearest that it does not answer
	Noughts   bool        // some figure is written as noughts alone, and taken as up to its last digit
	Questions []Question
}

// Read reads a text. It never fails: what it does not understand is a question or
// words.
func Read(text string, o Options) *Sheet {
	r := &reader{o: o, s: &Sheet{}, known: map[string]ident{}}
	for i, t := range splitLines(text) {
		if strings.TrimSpace(plain(t)) == "" {
			continue
		}
		p := pasted{at: len(r.s.Lines), text: plain(t)}
		r.s.Lines = append(r.s.Lines, Line{Number: i + 1, Text: t})
		if other, ok := o.Lines[i+1]; ok {
			p.text = plain(strings.Join(strings.Fields(other), " "))
			if p.text == "" {
				r.mark(p.at, Words, "left out, as answered")
				continue
			}
			r.mark(p.at, Words, "read as “"+shorten(p.text)+"”, as answered")
		}
		r.lines = append(r.lines, p)
	}
	r.findHeadings()
	r.findFacts()
	r.readRows()
	r.settle()
	return r.s
}

// reader is a text while it is read.
type reader struct {
	o     Options
	s     *Sheet
	lines []pasted
	known map[string]ident // names looked up

	units       []headed // units set by headings, in the order of the lines
	columnsFrom int      // 1 + the first line with a heading of columns; 0 for none
	none        string   // what "nd" means by a legend: "nd <10 ppm"
	noneLine    int
	dates       []dated
	refs        []string
	wantUnit    []int // lines whose figures have no unit
	empties     []int // lines whose figure is a dash or nothing
	pending     []*entry
	last        *entry // the row read before
	counted     int    // row numbers seen so far
	suggested   int
	all         []*entry
}

// pasted is a line while it is read.
type pasted struct {
	at      int    // in Sheet.Lines
	text    string // made plain
	columns []role // of a heading
	done    bool   // understood by an earlier pass
	head    int    // 1 + the line with the columns that hold here; 0 for none
	unit    *headed
	opens   string // of a heading: "limits" for a certificate of highest uses, "table" for another
	limits  bool   // the line stands under one of those
}

func (r *reader) line(at int) *Line  { return &r.s.Lines[at] }
func (r *reader) number(at int) int  { return r.s.Lines[at].Number }
func (r *reader) said(at int) string { return r.s.Lines[at].Text }

// mark says what a line is. Of two meanings the later counts, and both are told.
func (r *reader) mark(at int, m Meaning, says ...string) {
	l := r.line(at)
	l.Is = max(l.Is, m)
	for _, s := range says {
		if s != "" {
			l.Says = append(l.Says, s)
		}
	}
}

// ask puts a question about lines.
func (r *reader) ask(q Question, at ...int) {
	for k, i := range at {
		q.Lines = append(q.Lines, r.number(i))
		if k == 0 {
			r.mark(i, Asked, q.brief())
		} else {
			r.mark(i, Asked, "the same question as on line "+decimal(q.Lines[0]))
		}
	}
	r.s.Questions = append(r.s.Questions, q)
}

// shorten keeps what is quoted on one line of a screen.
func shorten(s string) string {
	const most = 48
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}
