package journal

import (
	"bytes"
	"fmt"
	"slices"
)

// content is what the bytes of a journal hold.
type content struct {
	data    []byte
	entries []Entry // by number
	damage  []Damage

	kept int    // bytes before the torn tail; all, if nothing is torn
	last int    // the greatest number; 0 if there is no entry
	seal string // of the last entry
}

// sealed is an entry with what is below it and where it begins.
type sealed struct {
	Entry
	trailer
	from, fromLine int  // the end of the entry before it
	intact         bool // it matches its seal
}

// scan goes over a journal line by line and parts it into entries.
type scan struct {
	*content
	lines   lines
	from    int // end of the last entry
	line    int // of from
	marks   []mark
	entries []sealed
}

// mark is a line of --- since the last entry.
type mark struct{ from, to, line int }

// read parts a journal into its entries. It finds them by what stands below them, so that bytes between two
// entries harm neither.
func read(data []byte) *content {
	c := &content{data: data, kept: len(data), seal: noSeal}
	s := &scan{content: c, lines: lines{data: data, number: 1, returns: bytes.IndexByte(data, '\r') >= 0}, line: 1}
	if bytes.HasPrefix(data, []byte("\ufeff")) {
		s.lines.at = len("\ufeff")
		s.from = s.lines.at
	}
	for {
		before := s.lines
		line, ok := s.lines.next()
		switch {
		case !ok:
			s.tail()
			c.order(s.entries)
			return c
		case string(line) == "---":
			after := s.lines
			if t, whole, ok := after.trailer(); ok {
				s.lines = after
				s.entry(t, whole, before)
			} else {
				s.marks = append(s.marks, mark{before.at, s.lines.at, s.lines.number})
			}
		case bytes.HasPrefix(line, []byte("entry: ")):
			// No text has such a line: the --- above it was taken out.
			after := before
			if t, whole, _ := after.trailer(); whole {
				s.lines = after
				s.damage = append(s.damage, Damage{before.number, fmt.Sprintf("the line --- above “entry: %d” is missing", t.number), "put it back; the entry counts"})
				s.entry(t, whole, before)
			}
		}
	}
}

// entry takes what stands between the last entry and end as the text of the next one.
func (s *scan) entry(t trailer, whole bool, end lines) {
	from, line := s.from, s.line
	if n := len(s.marks); n > 0 {
		last := s.marks[n-1]
		from, line = last.to, last.line
		s.foreign(s.from, last.from, s.line, last.line-2)
	} else {
		from, line = s.skipIdle(from, line, end.at)
		s.damage = append(s.damage, Damage{line, fmt.Sprintf("the line --- above the text of entry %d is missing", t.number), "put it back; the entry counts"})
	}
	text := normalise(s.data[from:end.at])
	intact := whole && t.sealOf(text) == t.seal
	s.entries = append(s.entries, sealed{
		Entry:   Entry{Number: t.number, Recorded: t.recorded, Text: text, Line: line, Seal: t.seal, Changed: !intact},
		trailer: t, from: s.from, fromLine: s.line, intact: intact})
	s.from, s.line, s.marks = s.lines.at, s.lines.number, s.marks[:0]
}

// skipIdle passes over comments and blank lines.
func (s *scan) skipIdle(from, line, end int) (int, int) {
	l := lines{data: s.data[:end], at: from, number: line, returns: s.lines.returns}
	for {
		before := l
		if _, ok := l.next(); !ok || !idle(s.data[before.at:l.at]) {
			return before.at, before.number
		}
	}
}

// foreign says that the bytes between two places are no entry, unless they are comments or blank.
func (s *scan) foreign(from, to, first, last int) {
	if idle(s.data[from:to]) {
		return
	}
	s.damage = append(s.damage, Damage{first, lineRange(first, last) + " no entry: there is no number and seal below",
		"look what it is; what should count, record again, and then take the lines out"})
}

// tail looks at what stands below the last entry. What is torn there is no entry, and of documents that were
// appended together none is one if the last of them is not there.
func (s *scan) tail() {
	torn := !idle(s.data[s.from:])
	if n := len(s.entries); n > 0 && s.entries[n-1].last > s.entries[n-1].number {
		of := s.entries[n-1]
		for n > 0 && s.entries[n-1].intact && s.entries[n-1].first == of.first && s.entries[n-1].last == of.last {
			n--
			s.from, s.line, torn = s.entries[n].from, s.entries[n].fromLine, true
		}
		s.entries = s.entries[:n]
	}
	if !torn {
		return
	}
	s.kept = s.from
	s.damage = append(s.damage, Damage{s.line, lineRange(s.line, s.lines.number-1) + " no entry: the work stopped before it was recorded, or it was changed by hand",
		"look what it is, and record it again if it should count; the next record moves it into a file " + Folder + "/torn-1.txt, or of the next free number"})
}

// order sorts the entries by number and looks for what is missing, doubled or replaced.
func (c *content) order(all []sealed) {
	for i := 1; i < len(all); i++ {
		if all[i].number < all[i-1].number {
			c.damage = append(c.damage, Damage{all[i].Line, fmt.Sprintf("entry %d stands below entry %d", all[i].number, all[i-1].number),
				"it is read in the order of the numbers; put it back in its place"})
		}
	}
	slices.SortStableFunc(all, func(a, b sealed) int { return a.number - b.number })
	all = c.dropDoubles(all)
	c.entries = make([]Entry, 0, len(all))
	for from := 0; from < len(all); {
		to := from + 1
		for to < len(all) && all[to].number == all[from].number {
			to++
		}
		c.follow(all[:from], all[from:to])
		from = to
	}
	for i := range all {
		c.entries = append(c.entries, all[i].Entry)
	}
	if n := len(all); n > 0 {
		c.last, c.seal = all[n-1].number, all[n-1].Seal
		if c.seal == "" {
			c.seal = noSeal
		}
	}
	slices.SortStableFunc(c.damage, func(a, b Damage) int { return a.Line - b.Line })
}

// dropDoubles takes out entries that stand in the file twice, and says so. Different entries of one number stay.
func (c *content) dropDoubles(all []sealed) []sealed {
	out := all[:0]
	for _, e := range all {
		if n := len(out); n > 0 && out[n-1].number == e.number {
			if out[n-1].Seal == e.Seal && bytes.Equal(out[n-1].Text, e.Text) {
				c.damage = append(c.damage, Damage{e.Line, fmt.Sprintf("entry %d stands here again, as on line %d", e.number, out[n-1].Line), "it counts once; take one of them out"})
				continue
			}
			c.damage = append(c.damage, Damage{e.Line, fmt.Sprintf("there are two different entries %d; the other one is on line %d", e.number, out[n-1].Line),
				"two copies of the book were put together; both are read: say in a new entry which of them counts"})
		}
		out = append(out, e)
	}
	return out
}

// follow compares the entries of one number, nearly always one, with those before them.
func (c *content) follow(before, same []sealed) {
	e := same[0]
	previous := 0
	if n := len(before); n > 0 {
		previous = before[n-1].number
	}
	if missing := e.number - 1 - previous; missing > 0 {
		what := fmt.Sprintf("entry %d is missing", previous+1)
		if missing > 1 {
			what = fmt.Sprintf("entries %d to %d are missing", previous+1, e.number-1)
		}
		c.damage = append(c.damage, Damage{e.Line, what, "look for the lines in a kept copy of the book; the other entries count"})
		return
	}
	// The seal of an intact entry names the one it was written after. If that is not the one that stands
	// there, then somebody put another in its place, seal and all.
	for i := len(before) - 1; i >= 0 && before[i].number == previous; i-- {
		if !e.intact || before[i].Seal == e.after || before[i].Seal == "" {
			return
		}
	}
	for i := len(before) - 1; i >= 0 && before[i].number == previous; i-- {
		before[i].Changed = true
	}
	if previous == 0 && e.intact && e.after != noSeal {
		c.damage = append(c.damage, Damage{e.Line, "entry 1 was not written as the first", "look for the lines in a kept copy of the book"})
	}
}

// idle reports whether there is nothing but blank lines and comments.
func idle(b []byte) bool {
	b = normalise(b)
	for len(b) > 0 {
		b = bytes.TrimLeft(b, " \t\n")
		if len(b) > 0 && b[0] != '#' {
			return false
		}
		_, b, _ = bytes.Cut(b, []byte("\n"))
	}
	return true
}

func lineRange(first, last int) string {
	if last <= first {
		return fmt.Sprintf("line %d is", first)
	}
	return fmt.Sprintf("lines %d to %d are", first, last)
}

// lines yields the lines of a text, without their ends and blanks before those.
type lines struct {
	data    []byte
	at      int
	number  int  // of the next line, from 1
	returns bool // there are carriage returns in data
}

func (l *lines) next() ([]byte, bool) {
	rest := l.data[l.at:]
	if len(rest) == 0 {
		return nil, false
	}
	end, size := bytes.IndexByte(rest, '\n'), 1
	if end < 0 {
		end, size = len(rest), 0
	}
	if l.returns {
		if r := bytes.IndexByte(rest[:end], '\r'); r >= 0 {
			if r+1 == end && size == 1 {
				size = 2
			} else {
				size = 1
			}
			end = r
		}
	}
	l.at += end + size
	l.number++
	return bytes.TrimRight(rest[:end], " \t"), true
}

// value returns what stands behind the key in the next line, and passes over the line if it has that key.
func (l *lines) value(key string) (string, bool) {
	look := *l
	line, _ := look.next()
	v, ok := bytes.CutPrefix(line, []byte(key+": "))
	if !ok || len(v) > mostValue {
		return "", false
	}
	*l = look
	return string(v), true
}

// mostValue is longer than any value below an entry.
const mostValue = 200

// trailer reads the short document below an entry, and is behind it then. One in which only the number can be
// read is not whole; it is one only if the next document follows, for at the end of the file it may be torn.
func (l *lines) trailer() (t trailer, whole, ok bool) {
	v, ok := l.value("entry")
	if !ok || !t.parseEntry(v) {
		return t, false, false
	}
	look := *l
	t.recorded, ok = look.value("recorded")
	if ok {
		v, ok = look.value("seal")
	}
	if ok && t.parseSeal(v) {
		*l = look
		return t, true, true
	}
	for look = *l; look.number <= l.number+2; {
		before := look
		line, more := look.next()
		if !more {
			break
		}
		if string(line) == "---" {
			*l = before
			return t, false, true
		}
	}
	return t, false, false
}
