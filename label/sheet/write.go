package sheet

import (
	"fmt"
	"io"
	"regexp"
	"strings"

	"panelwright/formula/date"
	"panelwright/inci"
)

// Material is what a document for the book says besides what was read.
type Material struct {
	Name        string
	Class       string // "" writes none
	INCI        string // of an oil: its ingredient name; "" writes none
	Ref         string // "" takes the sheet's
	Date        date.Date
	File        string // where the sheet is kept, inside the book's folder
	Fingerprint string // of that file, SHA-256 in hexadecimal
}

// Write writes the material as a document of the book. Open questions stand on top
// as notes: the document is not finished while there are any.
func (s *Sheet) Write(w io.Writer, m Material) error {
	var b strings.Builder
	if n := len(s.Questions); n > 0 {
		b.WriteString("# Not finished: questions are open.\n")
		for _, q := range s.Questions {
			fmt.Fprintf(&b, "# %s%s\n", place(q.Lines), strings.Join(strings.Fields(q.brief()), " "))
		}
	}
	pair := func(indent, key, value string) {
		if value != "" {
			fmt.Fprintf(&b, "%s%s: %s\n", indent, scalar(key), scalar(value))
		}
	}
	name := m.Name
	if name == "" {
		name = "name it"
	}
	pair("", "material", name)
	pair("", "inci", m.INCI)
	pair("", "class", m.Class)
	if len(s.Figures) > 0 {
		b.WriteString(s.As.String() + ":\n")
	}
	for _, f := range s.Figures {
		pair("  ", f.Name, f.Text)
	}
	pair("", "covers", s.covered())
	if len(s.Limits) > 0 {
		b.WriteString("use limit:\n")
	}
	for _, l := range s.Limits {
		pair("  ", l.Category, l.Text)
	}
	if m.Ref == "" {
		m.Ref = s.Ref
	}
	if m.Date == 0 {
		m.Date = s.Date
	}
	if m.Ref+m.File+m.Fingerprint != "" || m.Date != 0 {
		b.WriteString("sheet:\n")
		pair("  ", "ref", m.Ref)
		pair("  ", "date", m.Date.String())
		pair("  ", "file", m.File)
		pair("  ", "fingerprint", m.Fingerprint)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// covered writes the lists as a book does.
func (s *Sheet) covered() string {
	var names []string
	for _, l := range s.Covers {
		names = append(names, string(l))
	}
	if len(names) > 1 {
		return "[" + strings.Join(names, ", ") + "]"
	}
	return strings.Join(names, "")
}

// place says where a question stands: "line 7: ", "lines 4, 9 to 12: ".
func place(lines []int) string {
	if len(lines) == 0 {
		return ""
	}
	var parts []string
	for i := 0; i < len(lines); {
		k := i
		for k+1 < len(lines) && lines[k+1] == lines[k]+1 {
			k++
		}
		switch {
		case k > i+1:
			parts = append(parts, decimal(lines[i])+" to "+decimal(lines[k]))
		case k > i:
			parts = append(parts, decimal(lines[i]), decimal(lines[k]))
		default:
			parts = append(parts, decimal(lines[i]))
		}
		i = k + 1
	}
	word := "lines "
	if len(lines) == 1 {
		word = "line "
	}
	return word + strings.Join(parts, ", ") + ": "
}

// Place says where the question stands, as in "line 7: ", or "" for the whole.
func (q Question) Place() string { return place(q.Lines) }

var (
	bare  = regexp.MustCompile(`^[\pL0-9<][\pL0-9 .()/+%,<-]*$`)
	flow  = regexp.MustCompile(`^\[[a-z0-9, -]+\]$`)
	lists = func() map[string]bool {
		m := map[string]bool{}
		for _, l := range inci.Lists() {
			m[l] = true
		}
		return m
	}()
)

// scalar quotes a text for the book where it would be read as something else.
func scalar(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if bare.MatchString(s) || lists[s] || flow.MatchString(s) && strings.Contains(s, "eu-") {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", "''") + "'"
}
