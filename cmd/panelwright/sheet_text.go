package main

import (
	"fmt"
	"os"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"panelwright/label/sheet"
)

// print prints the verdict, the table of lines, what is open, the document, and
// what it would change in the book.
func (j *sheetJob) print() error {
	w, s := j.c.out, j.s
	figures := fmt.Sprintf("%d %s, %d %s", len(s.Lines), plural(len(s.Lines), "line"), len(s.Figures), plural(len(s.Figures), "figure"))
	if n := len(s.Limits); n > 0 {
		figures += fmt.Sprintf(", %d %s", n, plural(n, "use limit"))
	}
	switch n := len(s.Questions); {
	case n > 0:
		fmt.Fprintf(w, "ANSWER %d %s FIRST: %s read\n\n", n, strings.ToUpper(plural(n, "question")), figures)
	case len(s.Figures)+len(s.Limits) == 0:
		fmt.Fprintf(w, "NOTHING FOUND: %s\n\n", figures)
	default:
		fmt.Fprintf(w, "READ: all %s, nothing to ask\n\n", figures)
	}
	j.lines()
	if len(s.Questions) > 0 {
		fmt.Fprintf(w, "\nQuestions (%d)\n", len(s.Questions))
		for _, q := range s.Questions {
			write(w, "  "+q.Place()+q.String(), "      ")
		}
		write(w, "Correct the text, or answer with --line \"N: what stands there\" (\"N:\" leaves line N out), and read it again.", "")
	}
	j.summary()
	later := ""
	if len(s.Questions) > 0 {
		later = ", when the questions are answered"
	}
	if j.to.Name == "" {
		later += "; say what it is called with --material NAME"
	}
	fmt.Fprintf(w, "\nFor the book%s:\n\n%s", later, j.yaml)
	for i, f := range j.found {
		if i == 0 {
			fmt.Fprintln(w, "\nReading this, a book says")
		}
		write(w, "  "+f.Severity.String()+": "+f.Message+"; "+f.Cure, "      ")
	}
	return j.against()
}

// screen is how many columns the lines are laid out for: what the shell says, or
// the least that every screen has.
func screen() int {
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n >= 60 {
		return min(n, 200)
	}
	return 80
}

// lines prints each line as pasted beside what was understood.
func (j *sheetJob) lines() {
	wide := screen()
	num := len(strconv.Itoa(j.s.Lines[len(j.s.Lines)-1].Number))
	num = max(num, len("line"))
	left := len("as pasted")
	for _, l := range j.s.Lines {
		left = max(left, len([]rune(shown(l.Text))))
	}
	left = min(left, (wide-num-6)*45/100)
	right := wide - num - left - 6
	row := func(n, pasted, mark, says string) {
		a, b := broken(pasted, left), broken(says, right)
		for i := 0; i < max(len(a), len(b)); i++ {
			x, y := "", ""
			if i < len(a) {
				x = a[i]
			}
			if i < len(b) {
				y = b[i]
			}
			if i > 0 {
				n, mark = "", ""
			}
			line := fmt.Sprintf("%*s  %s%s %1s %s", num, n, x, strings.Repeat(" ", left-len([]rune(x))), mark, y)
			fmt.Fprintln(j.c.out, strings.TrimRight(line, " "))
		}
	}
	row("line", "as pasted", "", "understood")
	for i := range j.s.Lines {
		l := &j.s.Lines[i]
		mark := ""
		if l.Is == sheet.Asked {
			mark = "?"
		}
		row(strconv.Itoa(l.Number), shown(l.Text), mark, l.Understood())
	}
}

// wideGap is what stands between the cells of a pasted table.
var wideGap = regexp.MustCompile(`\t| {3,}`)

// shown is a pasted line as a screen can show it.
func shown(s string) string {
	s = wideGap.ReplaceAllString(strings.TrimRight(s, " \t"), "  ")
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) && r != ' ' {
			if unicode.IsSpace(r) {
				return ' '
			}
			return -1
		}
		return r
	}, s)
}

// broken breaks a text into lines of at most n letters, at blanks where it can.
func broken(s string, n int) (out []string) {
	r := []rune(s)
	for len(r) > n {
		at := n
		for at > 0 && (r[at] != ' ' || r[at+1] == '%') { // "12 %" stays together
			at--
		}
		if at <= n/3 {
			at = n
		}
		out = append(out, strings.TrimRight(string(r[:at]), " "))
		for r = r[at:]; len(r) > 0 && r[0] == ' '; {
			r = r[1:]
		}
	}
	return append(out, string(r))
}

// write prints a text in lines that fit the screen; those after the first begin
// with an indent.
func write(w interface{ Write([]byte) (int, error) }, s, indent string) {
	for i, l := range broken(s, screen()-len(indent)) {
		if i > 0 {
			l = indent + l
		}
		fmt.Fprintln(w, l)
	}
}

// summary says what kind of table it is, which list it answers, and which numbers
// were not made use of.
func (j *sheetJob) summary() {
	w, s := j.c.out, j.s
	fmt.Fprintln(w)
	what := "Taken for the allergens inside a scent or an oil"
	if s.As == sheet.Contains {
		what = "Taken for what a material is made of"
	}
	write(w, what+": "+s.Because+".", "")
	switch {
	case len(s.Covers) > 0:
		var names []string
		for _, l := range s.Covers {
			names = append(names, string(l))
		}
		write(w, "It answers every entry of "+strings.Join(names, " and of ")+".", "")
	case len(s.Lacking) > 0:
		const most = 12
		names := s.Lacking
		more := ""
		if len(names) > most {
			more = fmt.Sprintf(" and %d more", len(names)-most)
			names = names[:most]
		}
		write(w, fmt.Sprintf("covers: is not written: of %s %d %s unanswered: %s%s. If the sheet says in words that the others are not in it, write covers: yourself.",
			s.Nearest, len(s.Lacking), entriesAre(len(s.Lacking)), strings.Join(names, ", "), more), "")
	}
	if s.Noughts {
		write(w, "A figure of noughts is taken as up to one of its last digit: sheets round and cut off, and nothing is known below.", "")
	}
	var unused []string
	for _, l := range s.Lines {
		if l.Unused {
			unused = append(unused, strconv.Itoa(l.Number))
		}
	}
	if len(unused) > 0 {
		write(w, "Numbers that no use was made of: "+plural(len(unused), "line")+" "+strings.Join(unused, ", ")+".", "")
	}
}

func entriesAre(n int) string {
	if n == 1 {
		return "entry is"
	}
	return "entries are"
}
