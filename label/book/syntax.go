package book

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula/finding"
)

// parse reads one document. A syntax error loses the document, not the book.
func (d *document) parse() (*yaml.Node, *finding.Finding) {
	text, bad := d.lookOver()
	if bad != nil {
		return nil, bad
	}
	root, err := decode(text)
	if err != nil {
		return nil, d.syntaxError(text, err)
	}
	if root.Kind != yaml.DocumentNode || len(root.Content) == 0 {
		return nil, nil // nothing but notes
	}
	return root.Content[0], nil
}

// decode calls the YAML reader, which panics on some broken input.
func decode(text []byte) (root *yaml.Node, err error) {
	defer func() {
		if r := recover(); r != nil {
			root, err = nil, errors.New("yaml: the text cannot be read")
		}
	}()
	root = new(yaml.Node)
	r := yaml.NewDecoder(bytes.NewReader(text))
	if err = r.Decode(root); err == io.EOF {
		return root, nil // nothing but notes
	}
	if err != nil {
		return root, err
	}
	// What stands after the closing brace of a document in braces would be lost without a word.
	if more := r.Decode(new(yaml.Node)); more != io.EOF {
		return root, errors.New("yaml: something stands after the end of the document")
	}
	return root, nil
}

var yamlLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?`)

// syntaxError turns what the YAML reader says into plain words. The line is as
// near as the reader knows; it has no column.
func (d *document) syntaxError(text []byte, err error) *finding.Finding {
	msg := err.Error()
	m := yamlLine.FindStringSubmatch(msg)
	said := strings.TrimPrefix(msg, m[0])
	line, _ := strconv.Atoi(m[1])
	said, line = d.findLine(text, said, max(line, 1))
	f := &finding.Finding{Rule: "book.syntax", Severity: finding.Error, Where: d.at(line, 0)}
	read := lineOf(text, line)
	for _, e := range syntaxErrors {
		if strings.Contains(said, e.said) {
			f.Message, f.Cure = e.message, e.cure
			break
		}
	}
	if f.Message == "" {
		f.Message, f.Cure = "the line cannot be read", "put quotes round texts with special characters in them"
	}
	switch {
	case strings.ContainsAny(read, "“”„‘’"):
		f.Cure = "use straight quotes, \" or ', or none; curly quotes do not hold a text together"
	case strings.Contains(said, "mapping values") && strings.Count(read, ": ") > 1:
		f.Message = "a second colon stands on the line"
	}
	if read != "" {
		f.Message = fmt.Sprintf("“%s”: %s", clip(read), f.Message)
	}
	return f
}

var syntaxErrors = []struct{ said, message, cure string }{
	{"mapping values are not allowed", "a colon stands where none can, or the line is indented too far",
		"put quotes round a text with a colon in it, and start entries that belong together in the same column"},
	{"did not find expected ',' or '}'", "the { is not closed by a }", "close it, or write one entry per line"},
	{"did not find expected ',' or ']'", "the [ is not closed by a ]", "close it, or write one entry per line with a dash in front"},
	{"did not find expected '-' indicator", "the line does not fit the list it stands in", "start every dash of a list in the same column"},
	{"did not find expected key", "the line does not fit what it stands in", "start entries that belong together in the same column, and put quotes round a whole text or not at all"},
	{"did not find expected node content", "a comma or bracket stands where an entry should", "take it out, or write the entry"},
	{"could not find expected ':'", "the line has no colon", "write it as key: value, or indent it under the line above"},
	{"unexpected end of stream", "the quotation mark is not closed", "close it on the same line"},
	{"unknown anchor", "a value begins with *", "put quotes round it"},
	{"alphabetic or numeric character", "a value begins with * or &", "put quotes round it"},
	{"cannot start any token", "a value begins with a character that means something else here", "put quotes round it"},
	{"escape", "the backslash in the quotes starts nothing known", "use single quotes, or write the backslash twice"},
	{"block sequence entries are not allowed", "a dash stands where no list can", "start the list on the next line"},
	{"tab character", "the line is indented with a tab", "indent with spaces, two for each step"},
	{"after the end of the document", "something stands after the closing brace", "take it out, or move it into the braces"},
	{"control characters", "the text holds a character that does not show", "type the line again"},
}

// findLine makes the reader's line better: it counts some from 0, and for some
// gives the start of the list instead of the line that broke it.
func (d *document) findLine(text []byte, said string, line int) (string, int) {
	lines := bytes.Count(text, []byte("\n"))
	switch {
	case strings.Contains(said, "unknown anchor"):
		_, name, _ := strings.Cut(said, "'")
		name, _, _ = strings.Cut(name, "'")
		if i := bytes.Index(text, []byte("*"+name)); i >= 0 {
			return said, 1 + bytes.Count(text[:i], []byte("\n"))
		}
	case strings.Contains(said, "did not find expected ',' or"):
		return said, min(line+1, lines)
	case strings.Contains(said, "did not find expected"):
		// The first so many lines read well, one more does not: that is the line.
		lo, hi := min(line, lines), lines
		for lo < hi {
			mid := (lo + hi) / 2
			if _, err := decode(text[:lineEnd(text, mid)]); err != nil && strings.Contains(err.Error(), said) {
				hi = mid
			} else {
				lo = mid + 1
			}
		}
		return said, hi
	}
	return said, min(line, max(lines, 1))
}

// lineEnd returns the offset after the n-th line.
func lineEnd(text []byte, n int) int {
	at := 0
	for ; n > 0 && at < len(text); n-- {
		i := bytes.IndexByte(text[at:], '\n')
		if i < 0 {
			return len(text)
		}
		at += i + 1
	}
	return at
}

func lineOf(text []byte, n int) string {
	line := string(text[lineEnd(text, n-1):lineEnd(text, n)])
	return strings.TrimSpace(strings.ReplaceAll(line, string(hash), "#"))
}
