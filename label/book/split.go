package book

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"panelwright/formula/finding"
)

// Limits on what a book may hold. They are far above any workshop's needs and
// keep a broken or hostile file from filling the memory: what is refused is
// refused by a look at its bytes, before anything is built.
const (
	mostBytes      = 8 << 20  // of one file
	mostSeparators = 300_000  // of one file: commas, colons, dashes and line ends
	mostDocuments  = 20_000   // of one file
	mostLine       = 64 << 10 // bytes of one line
	mostDepth      = 64       // brackets or indents inside one another
	mostDashes     = 8        // list marks in a row at the start of a line
)

// hash stands for a # that has text right after it, as in "Red #33", until the
// YAML is read: YAML would take it for the start of a note.
const hash = '\uE000'

// document is one part of a file between two lines of ---.
type document struct {
	file string
	line int // lines of the file before it
	text []byte
	head string // what stands on the line of its mark: the document is lost

	ofRecords bool // an entry of the records, not a document of the book
}

func (d *document) at(line, col int) finding.Pos {
	return finding.Pos{File: d.file, Line: d.line + line, Col: col}
}

// File is one file of a book.
type File struct {
	Name string // as it is named in findings
	Data []byte
}

// normalise returns the text of a file with plain line ends and no byte order
// mark, or a finding that says why it cannot be read.
func normalise(f File) ([]byte, *finding.Finding) {
	bad := func(rule finding.Code, line int, msg, cure string) ([]byte, *finding.Finding) {
		return nil, &finding.Finding{Rule: rule, Severity: finding.Error, Where: finding.Pos{File: f.Name, Line: line}, Message: msg, Cure: cure}
	}
	data := f.Data
	if len(data) > mostBytes {
		return bad("book.size", 1, fmt.Sprintf("the file is of %d MB, more than the %d MB a book file may be", len(data)>>20, mostBytes>>20),
			"part it into several files")
	}
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	if bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}) || bytes.IndexByte(data, 0) >= 0 {
		return bad("book.encoding", 1, "the file is not plain text in UTF-8, but UTF-16 or no text at all", "save it again as UTF-8 text")
	}
	if !utf8.Valid(data) {
		i := 0
		for i < len(data) {
			r, n := utf8.DecodeRune(data[i:])
			if r == utf8.RuneError && n == 1 {
				break
			}
			i += n
		}
		return bad("book.encoding", 1+bytes.Count(data[:i], []byte("\n")), "the text is not UTF-8", "save the file again as UTF-8 text")
	}
	if bytes.IndexByte(data, '\r') >= 0 {
		data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
		data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	}
	return data, nil
}

// split parts a file into its documents and looks each over before the YAML
// reader gets it. A document that is refused costs itself alone.
func split(name string, data []byte) (docs []document, out finding.List) {
	if n := separators(data); n > mostSeparators {
		out.Add(finding.Finding{Rule: "book.size", Severity: finding.Error, Where: finding.Pos{File: name, Line: 1},
			Message: fmt.Sprintf("the file has %d commas, colons, dashes and lines, more than the %d a book file may have", n, mostSeparators),
			Cure:    "part it into several files"})
		return nil, out
	}
	line, from, at := 0, 0, 0 // at: lines before the document
	head := ""
	emit := func(to int) {
		if text := data[from:to]; head != "" || len(bytes.TrimSpace(text)) > 0 {
			docs = append(docs, document{file: name, line: at, text: text, head: head})
		}
	}
	for i := 0; i < len(data); line++ {
		end := i + bytes.IndexByte(data[i:], '\n')
		if end < i {
			end = len(data)
		}
		if mark := data[i:end]; isMark(mark) {
			emit(i)
			from, at, head = min(end+1, len(data)), line+1, ""
			if note := bytes.TrimSpace(mark[3:]); len(note) > 0 && note[0] != '#' {
				head = string(note)
				out.Add(finding.Finding{Rule: "book.syntax", Severity: finding.Error, Where: finding.Pos{File: name, Line: line + 1, Col: 4},
					Message: fmt.Sprintf("“%s” stands on the line that parts two documents", clip(string(note))), Cure: "write it on the next line"})
			}
		}
		i = end + 1
	}
	emit(len(data))
	if len(docs) > mostDocuments {
		out.Add(finding.Finding{Rule: "book.size", Severity: finding.Error, Where: finding.Pos{File: name, Line: 1},
			Message: fmt.Sprintf("the file has %d documents, more than the %d a book file may have", len(docs), mostDocuments),
			Cure:    "part it into several files"})
		return nil, out
	}
	return docs, out
}

// isMark reports whether a line parts documents: --- or ... and nothing but a
// note after it.
func isMark(line []byte) bool {
	return len(line) >= 3 && (string(line[:3]) == "---" || string(line[:3]) == "...") &&
		(len(line) == 3 || line[3] == ' ' || line[3] == '\t')
}

func separators(data []byte) (n int) {
	for _, c := range data {
		switch c {
		case ',', ':', '-', '\n', '?':
			n++
		}
	}
	return n
}

// lookOver refuses what the YAML reader should not meet and returns the text
// it may read. Notes are blanked out: they cost the reader most.
func (d *document) lookOver() ([]byte, *finding.Finding) {
	bad := func(rule finding.Code, line, col int, msg, cure string) ([]byte, *finding.Finding) {
		return nil, &finding.Finding{Rule: rule, Severity: finding.Error, Where: d.at(line, col), Message: msg, Cure: cure}
	}
	out := make([]byte, 0, len(d.text)+64)
	var indents []int
	brackets, n := 0, 0
	for rest := d.text; len(rest) > 0; {
		line := rest
		if i := bytes.IndexByte(rest, '\n'); i >= 0 {
			line, rest = rest[:i], rest[i+1:]
		} else {
			rest = nil
		}
		n++
		if len(line) > mostLine {
			return bad("book.size", n, 1, fmt.Sprintf("the line has %d bytes, more than the %d a line may have", len(line), mostLine), "write a long text on several lines")
		}
		indent := len(line) - len(bytes.TrimLeft(line, " "))
		body := line[indent:]
		switch {
		case len(bytes.TrimSpace(body)) == 0 || body[0] == '#':
			// A line of a long text may begin with #, but only a note can stand
			// at the very left.
			if indent == 0 {
				out = append(out, '\n')
				continue
			}
		case body[0] == '\t':
			return bad("book.tab", n, indent+1, "the line is indented with a tab", "indent with spaces, two for each step")
		case body[0] == '%' && indent == 0:
			return bad("book.syntax", n, 1, "the line begins with %", "put quotes round it, or take it out")
		}
		for len(indents) > 0 && indents[len(indents)-1] >= indent {
			indents = indents[:len(indents)-1]
		}
		if indents = append(indents, indent); len(indents) > mostDepth {
			return bad("book.depth", n, indent+1, "too many lists and entries inside one another", "a book needs no more than five or six steps")
		}
		if marks(body) > mostDashes {
			return bad("book.depth", n, indent+1, "too many list marks in a row", "write one dash for each entry")
		}
		if brackets = depth(brackets, body); brackets > mostDepth {
			return bad("book.depth", n, indent+1, "too many brackets inside one another", "a book needs no more than two or three")
		}
		out = hideHashes(out, line)
		out = append(out, '\n')
	}
	return out, nil
}

// marks counts the list marks at the start of a line.
func marks(body []byte) (n int) {
	for len(body) >= 2 && (body[0] == '-' || body[0] == '?') && body[1] == ' ' {
		n++
		body = bytes.TrimLeft(body[1:], " ")
	}
	return n
}

// depth follows opening and closing brackets. Brackets inside quotes count
// too: sixty-four of them are as suspect there.
func depth(open int, line []byte) int {
	most := open
	for _, c := range line {
		switch c {
		case '[', '{':
			open++
			most = max(most, open)
		case ']', '}':
			open = max(0, open-1)
		}
	}
	if most > mostDepth {
		return most
	}
	return open
}

// hideHashes appends the line with each # that has a space before and text
// after it replaced, so that "Red #33" is read as typed. "# note" stays a note.
func hideHashes(out, line []byte) []byte {
	for i, c := range line {
		hidden := c == '#' && i > 0 && (line[i-1] == ' ' || line[i-1] == '\t') && i+1 < len(line) && line[i+1] != ' ' && line[i+1] != '\t' &&
			line[i+1] != '#' && len(bytes.TrimSpace(line[:i])) > 0
		if hidden {
			out = utf8.AppendRune(out, hash)
		} else {
			out = append(out, c)
		}
	}
	return out
}

// clip shortens what is quoted in a message.
func clip(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return s
}
