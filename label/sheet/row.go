package sheet

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// entry is a row while it is put together; it may stand on several lines.
type entry struct {
	at      []int // indexes into reader.lines
	names   []string
	numbers []string
	blurred []string
	ecs     []string
	figures []token
	remarks []string
	says    []string
	id      ident
	share   share
}

func (e *entry) name() string { return strings.Join(e.names, " ") }

func (e *entry) on(i int) {
	if !slices.Contains(e.at, i) {
		e.at = append(e.at, i)
	}
}

var (
	rowNumber = regexp.MustCompile(`^[0-9]{1,3}[.)]?$`)
	led       = regexp.MustCompile(`^([0-9]{1,3})[.)]?\s+(\S.*)$`)
)

// mostLine bounds a line that is read as a row.
const mostLine = 4000

// readRows goes through all lines that are not understood yet.
func (r *reader) readRows() {
	for i := range r.lines {
		if r.lines[i].done {
			continue
		}
		if n := len(r.lines[i].text); n > mostLine {
			r.ask(Question{Read: r.lines[i].text, Wrong: "the line has " + decimal(n) + " letters, and no row of a table is so long", Cure: "break it up, a row a line"}, r.lines[i].at)
			r.lines[i].done = true
			continue
		}
		if r.limitRow(i) {
			r.lines[i].done = true
			continue
		}
		r.row(i)
	}
	r.flush()
}

// row reads one line.
func (r *reader) row(i int) {
	toks := r.withoutRowNumber(i, r.tokens(i))
	if len(toks) == 0 {
		return
	}
	count := map[string]int{}
	for _, t := range toks {
		count[t.kind]++
	}
	figures := count["figure"]
	switch {
	case figures == 0 && count["name"] == 0 && count["unit"] > 0 && count["number"]+count["blurred"]+count["ec"] == 0:
		r.unitAlone(i, toks[0])
	case figures == 0 && count["name"] == 0:
		r.numberAlone(i, toks)
	case figures == 0:
		r.nameAlone(i, toks)
	case count["name"] == 0 && count["number"]+count["blurred"] == 0:
		r.figureAlone(i, toks)
	default:
		r.wholeRow(i, toks)
	}
}

// withoutRowNumber takes a running number off the front of a line.
func (r *reader) withoutRowNumber(i int, toks []token) []token {
	if len(toks) == 0 {
		return toks
	}
	if t := &toks[0]; t.kind == "name" {
		if m := led.FindStringSubmatch(t.text); m != nil && !r.identify(t.text).ok() {
			more := r.wordTokens(m[2])
			if r.identify(m[2]).ok() || m[1] == strconv.Itoa(r.counted+1) || len(more) > 1 {
				r.counted, _ = strconv.Atoi(m[1])
				return append(more, toks[1:]...)
			}
		}
	}
	if len(toks) > 1 && toks[0].kind == "figure" && rowNumber.MatchString(toks[0].text) && (toks[1].kind == "name" || toks[1].kind == "number" || toks[1].kind == "blurred") {
		r.counted, _ = strconv.Atoi(strings.Trim(toks[0].text, ".)"))
		return toks[1:]
	}
	return toks
}

// unitAlone gives a unit on a line of its own to the figure before it.
func (r *reader) unitAlone(i int, t token) {
	e := r.last
	if e == nil || len(r.pending) > 0 || len(e.figures) == 0 || hasUnit.MatchString(e.figures[len(e.figures)-1].text) {
		return
	}
	e.figures[len(e.figures)-1].text += " " + t.text
	e.on(i)
}

// numberAlone keeps a registry number on a line of its own for the name before or
// after it.
func (r *reader) numberAlone(i int, toks []token) {
	e := r.waiting()
	switch {
	case e != nil && (len(e.names) > 0 || len(e.numbers) == 0):
	case e == nil && r.last != nil && r.last.id.ok() && r.ownNumber(r.last, toks):
		e = r.last
	default:
		e = &entry{}
		r.pending = append(r.pending, e)
	}
	e.take(toks)
	e.on(i)
}

// ownNumber reports whether the numbers are known to be those of a row.
func (r *reader) ownNumber(e *entry, toks []token) bool {
	for _, t := range toks {
		if t.kind != "number" {
			continue
		}
		id := byNumber([]string{t.text})
		if id.entry == nil || id.entry != e.id.entry {
			return false
		}
	}
	return true
}

// take puts numbers and names of a line into the row.
func (e *entry) take(toks []token) {
	for _, t := range toks {
		switch t.kind {
		case "number":
			e.numbers = append(e.numbers, t.text)
		case "blurred":
			e.blurred = append(e.blurred, t.text)
		case "ec":
			e.ecs = append(e.ecs, t.text)
		case "name":
			e.names = append(e.names, t.text)
		case "remark":
			e.remarks = append(e.remarks, t.text)
		}
	}
}

// waiting returns the last row that waits for its figure.
func (r *reader) waiting() *entry {
	if n := len(r.pending); n > 0 {
		return r.pending[n-1]
	}
	return nil
}

// nameAlone keeps a name for the figure that may come on a later line, or adds it
// to the name before.
func (r *reader) nameAlone(i int, toks []token) {
	var names []string
	numbered := false
	for _, t := range toks {
		if t.kind == "name" {
			names = append(names, t.text)
		}
		numbered = numbered || t.kind == "number" || t.kind == "blurred"
	}
	name := names[0]
	if len(names) > 1 {
		if joined := strings.Join(names, " "); r.identify(joined).ok() {
			name = joined
		} else if !numbered {
			for _, n := range names {
				if r.identify(n).ok() {
					r.pending = append(r.pending, &entry{names: []string{n}, at: []int{i}})
				}
			}
			return
		}
	}
	if !numbered && len(strings.Fields(name)) > 9 {
		return // a sentence
	}
	if !numbered && r.continues(i, name) {
		return
	}
	e := r.waiting()
	if e == nil || len(e.names) > 0 || len(e.numbers)+len(e.blurred) == 0 || numbered {
		e = &entry{}
		r.pending = append(r.pending, e)
	}
	e.take(toks)
	e.names = []string{name}
	for _, n := range names {
		if !strings.Contains(name, n) {
			e.remarks = append(e.remarks, n)
		}
	}
	e.on(i)
}

// continues adds a line to the name on the line just before, if the two together
// are a name that is known.
func (r *reader) continues(i int, name string) bool {
	e := r.waiting()
	if e == nil {
		e = r.last
	}
	if e == nil || len(e.names) == 0 || !slices.Contains(e.at, i-1) {
		return false
	}
	joined := r.identify(e.name() + " " + name)
	if !joined.ok() || r.identify(name).ok() && r.identify(e.name()).ok() {
		return false
	}
	before := r.identify(e.name())
	if before.ok() && (before.key != joined.key || before.part != joined.part) {
		e.says = append(e.says, "the name goes on in the line after")
	}
	e.names = append(e.names, name)
	e.id = joined
	e.on(i)
	return true
}

// figureAlone gives a figure on a line of its own to the name before it.
func (r *reader) figureAlone(i int, toks []token) {
	t := toks[0]
	bare := rowNumber.MatchString(t.text) && len(toks) == 1
	n, _ := strconv.Atoi(strings.Trim(t.text, ".)"))
	next := ""
	if i+1 < len(r.lines) {
		next = trimCell(r.lines[i+1].text)
	}
	if bare && n == r.counted+1 && (len(r.pending) == 0 || r.counted > 0) && !figureLike(next) {
		r.counted = n
		r.mark(r.lines[i].at, Words, "a row number")
		r.lines[i].done = true
		return
	}
	if len(r.pending) == 0 {
		if t.sure {
			r.ask(Question{Read: strings.TrimSpace(r.lines[i].text), Wrong: "there is no name for this figure", Cure: "write the name in front of it, or leave the line out"}, r.lines[i].at)
			r.lines[i].done = true
		}
		return
	}
	known := slices.DeleteFunc(slices.Clone(r.pending), func(e *entry) bool { return !r.identify(e.name()).ok() && len(e.numbers) == 0 })
	if counts := r.counted > 0 && strings.Trim(next, ".)") == decimal(r.counted+1); len(known) > 1 && figureLike(next) && !counts {
		r.byColumns(i)
		return
	}
	e := r.waiting()
	r.pending = r.pending[:len(r.pending)-1]
	if len(e.names) == 1 && !r.identify(e.name()).ok() && len(r.pending) > 0 {
		// The name may have begun on the line before.
		if b := r.waiting(); slices.Contains(b.at, e.at[0]-1) && r.identify(b.name()+" "+e.name()).ok() {
			b.names, b.at = append(b.names, e.names...), append(b.at, e.at...)
			b.numbers = append(b.numbers, e.numbers...)
			r.pending, e = r.pending[:len(r.pending)-1], b
		}
	}
	e.on(i)
	e.addFigures(toks)
	r.close(e)
}

// byColumns asks about a table that was copied column by column.
func (r *reader) byColumns(i int) {
	var at []int
	for _, e := range r.pending {
		for _, k := range e.at {
			at = append(at, r.lines[k].at)
			r.lines[k].done = true
		}
	}
	r.pending = nil
	for k := i; k < len(r.lines) && !r.lines[k].done && figureLike(trimCell(r.lines[k].text)); k++ {
		at = append(at, r.lines[k].at)
		r.lines[k].done = true
	}
	slices.Sort(at)
	r.ask(Question{Wrong: "the names stand here one after another, and the figures after them: the table was copied column by column",
		Cure: "copy it row by row, or write each figure behind its name; which belongs to which is not guessed"}, slices.Compact(at)...)
}

func (e *entry) addFigures(toks []token) {
	for _, t := range toks {
		switch n := len(e.figures); {
		case t.kind == "figure":
			e.figures = append(e.figures, t)
		case t.kind == "unit" && n > 0 && !hasUnit.MatchString(e.figures[n-1].text):
			e.figures[n-1].text += " " + t.text
			e.figures[n-1].sure = true
		}
	}
}

// close ends a row.
func (r *reader) close(e *entry) {
	e.id = r.identify(e.name())
	for _, i := range e.at {
		r.lines[i].done = true
	}
	r.all = append(r.all, e)
	r.last = e
	r.flush()
}

// flush gives up on what still waits for a figure.
func (r *reader) flush() {
	waiting := r.pending
	r.pending = nil
	for _, e := range waiting {
		for _, i := range e.at {
			r.lines[i].done = true
		}
		id := r.identify(e.name())
		if !id.ok() && len(e.numbers) == 0 {
			for _, i := range e.at {
				r.lines[i].done = false // words
			}
			continue
		}
		if len(r.all) == 0 && (r.columnsFrom == 0 || r.columnsFrom > e.at[0]) && len(e.numbers) == 0 {
			r.mark(r.lines[e.at[0]].at, Fact, "taken for the title: no figure stands with it")
			continue
		}
		e.id = id
		r.all = append(r.all, e)
	}
}
