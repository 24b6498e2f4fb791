package book

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"

	"gopkg.in/yaml.v3"

	"panelwright/formula/finding"
)

// page is a document that was read as YAML, cleaned of what a book may not
// hold. Its scalars are the text as typed.
type page struct {
	doc  *document
	root *yaml.Node
	out  finding.List
	// torn holds nodes that lost an entry to an error: what is missing there has
	// been reported, and is not reported again.
	torn map[*yaml.Node]bool

	bangs map[int]string // lines with a "! " in them, by number; nil until asked

	lost []lostName // what a document that could not be read would have named

	kind string // workshop, material, formula, product, range, set or answer
	name *yaml.Node
}

func (p *page) at(n *yaml.Node) finding.Pos { return p.doc.at(n.Line, n.Column) }

// fail adds an error at a node.
func (p *page) fail(rule finding.Code, n *yaml.Node, msg, cure string) {
	p.say(finding.Error, rule, n, msg, cure)
}

// mostFindings bounds what is said of one document: past it a page of errors
// helps nobody.
const mostFindings = 1000

func (p *page) say(s finding.Severity, rule finding.Code, n *yaml.Node, msg, cure string) {
	if len(p.out) > mostFindings {
		return
	}
	if len(p.out) == mostFindings {
		rule, msg, cure = "book.size", "the document has more than 1000 things to say about; the rest is not listed", "mend those above first"
		s = finding.Error
	}
	p.out.Add(finding.Finding{Rule: rule, Severity: s, Where: p.at(n), Message: msg, Cure: cure})
}

func (p *page) tear(n *yaml.Node) {
	if p.torn == nil {
		p.torn = map[*yaml.Node]bool{}
	}
	p.torn[n] = true
}

// clean walks the tree once: refuses anchors, aliases, merge keys, tags, empty
// values and repeated keys, and turns every scalar into the text as typed. What
// it refuses it takes out, so that later readers meet only good entries.
func (p *page) clean(n *yaml.Node, depth int) bool {
	switch {
	case depth > mostDepth:
		p.fail("book.depth", n, "too many lists and entries inside one another", "a book needs no more than five or six steps")
		return false
	case n.Kind == yaml.AliasNode || n.Anchor != "":
		p.fail("book.anchor", n, "a value begins with * or &, which would refer to another place", "write the value out, or put quotes round it")
		return false
	case n.Style&yaml.TaggedStyle != 0 || p.tagged(n):
		p.fail("book.tag", n, "a value begins with !", "take the word with the ! out, or put quotes round the whole")
		return false
	}
	n.HeadComment, n.LineComment, n.FootComment = "", "", ""
	switch n.Kind {
	case yaml.ScalarNode:
		n.Value = asTyped(n)
	case yaml.SequenceNode:
		kept := n.Content[:0]
		for i, c := range n.Content {
			switch {
			case !p.clean(c, depth+1):
				p.tear(n)
			case isNull(c):
				p.fail("book.empty-value", c, "the entry is empty", "write it, or take the dash or comma out")
				p.tear(n)
			case n.Style&yaml.FlowStyle != 0 && p.commaInList(n, i):
				p.tear(n)
			default:
				kept = append(kept, c)
			}
		}
		n.Content = kept
	case yaml.MappingNode:
		p.cleanMapping(n, depth)
	}
	return true
}

// tagged finds the tag "!", which the YAML reader drops without a word.
func (p *page) tagged(n *yaml.Node) bool {
	if n.Kind != yaml.ScalarNode || n.Style != 0 || n.Value == "" || n.Value[0] == '!' {
		return false
	}
	if p.bangs == nil {
		p.bangs = map[int]string{}
		if bytes.Contains(p.doc.text, []byte("! ")) {
			for i, line := range bytes.Split(p.doc.text, []byte("\n")) {
				if bytes.Contains(line, []byte("! ")) {
					p.bangs[i+1] = string(line)
				}
			}
		}
	}
	line, ok := p.bangs[n.Line]
	if !ok {
		return false
	}
	r := []rune(line)
	return n.Column-1 < len(r) && r[n.Column-1] == '!'
}

func (p *page) cleanMapping(n *yaml.Node, depth int) {
	kept := n.Content[:0]
	var seen map[string]int
	if len(n.Content) > 24 {
		seen = make(map[string]int, len(n.Content)/2)
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if n.Style&yaml.FlowStyle != 0 {
			if skip := p.splitByComma(n, i); skip > 0 {
				p.tear(n)
				i += 2 * (skip - 1)
				continue
			}
		}
		if !p.clean(k, depth+1) || !p.clean(v, depth+1) {
			p.tear(n)
			continue
		}
		first := 0
		switch {
		case k.Kind != yaml.ScalarNode:
			p.fail("book.form", k, "a list stands where a word should", "write key: value, one per line")
		case isNull(k):
			p.fail("book.form", k, "a colon stands alone", "write a word in front of it, or take it out")
		case k.Value == "<<":
			p.fail("book.anchor", k, "“<<” would copy entries from another place", "write the entries out, or use like: in a product")
		case isNull(v):
			p.fail("book.empty-value", k, fmt.Sprintf("“%s” has no value", clip(k.Value)), "write one after the colon, or take the line out; quote it if the word itself is meant")
		default:
			if first = repeated(kept, seen, k); first == 0 {
				if seen != nil {
					seen[k.Value] = k.Line
				}
				kept = append(kept, k, v)
				continue
			}
			p.fail("book.repeated-key", k, fmt.Sprintf("“%s” stands twice here, first on line %d", clip(k.Value), p.doc.line+first), "keep one of them")
		}
		p.tear(n)
	}
	n.Content = kept
}

// repeated returns the line where the key was before, or 0.
func repeated(kept []*yaml.Node, seen map[string]int, k *yaml.Node) int {
	if seen != nil {
		return seen[k.Value]
	}
	for j := 0; j < len(kept); j += 2 {
		if kept[j].Value == k.Value {
			return kept[j].Line
		}
	}
	return 0
}

// splitByComma finds the trap of { }, where a comma parts entries: {Linalool:
// 4,2 %} reads as "Linalool: 4" and an empty "2 %", {1,2-Hexanediol: 3 %} as an
// empty "1" and "2-Hexanediol". It reports the trap and returns how many entries
// fell into it, 0 for none.
func (p *page) splitByComma(n *yaml.Node, i int) int {
	if i+3 >= len(n.Content) {
		return 0
	}
	k, v, k2, v2 := n.Content[i], n.Content[i+1], n.Content[i+2], n.Content[i+3]
	if !plainScalar(k) || !plainScalar(v) || !plainScalar(k2) || k2.Value == "" || isNull(k2) {
		return 0
	}
	adjacent := k2.Line == k.Line && isDigit(k2.Value[0])
	switch {
	case adjacent && v.Value != "" && isDigit(v.Value[len(v.Value)-1]) && v2.Kind == yaml.ScalarNode && isNull(v2):
		whole := v.Value + "," + k2.Value
		p.fail("book.split-comma", v, fmt.Sprintf("inside { } the comma parts “%s” in two", clip(whole)),
			fmt.Sprintf("write “%s: %s.%s”, put quotes round \"%s\", or write one entry per line", clip(k.Value), v.Value, clip(k2.Value), clip(whole)))
		return 2
	case adjacent && isNull(v) && isDigit(k.Value[len(k.Value)-1]):
		whole := k.Value + "," + k2.Value
		p.fail("book.split-comma", k, fmt.Sprintf("inside { } the comma parts “%s” in two", clip(whole)),
			fmt.Sprintf("put quotes round \"%s\", or write one entry per line", clip(whole)))
		return 2
	}
	return 0
}

// commaInList finds the same trap in a list: [4,2 %]. Entry i and the next must
// touch at the comma, each with a digit there.
func (p *page) commaInList(n *yaml.Node, i int) bool {
	if i+1 >= len(n.Content) {
		return false
	}
	a, b := n.Content[i], n.Content[i+1]
	if !plainScalar(a) || !plainScalar(b) || a.Value == "" || b.Value == "" || a.Line != b.Line {
		return false
	}
	touch := b.Column == a.Column+len([]rune(a.Value))+1
	if !touch || !isDigit(a.Value[len(a.Value)-1]) || !isDigit(b.Value[0]) {
		return false
	}
	whole := a.Value + "," + b.Value
	p.fail("book.split-comma", a, fmt.Sprintf("inside [ ] the comma parts “%s” in two", clip(whole)),
		fmt.Sprintf("put quotes round \"%s\", or a space after the comma if two are meant", clip(whole)))
	return true
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func plainScalar(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Style == 0 }

// isNull reports whether a scalar says nothing: empty, ~ or null without quotes.
func isNull(n *yaml.Node) bool {
	if n.Kind != yaml.ScalarNode || n.Style != 0 {
		return false
	}
	switch n.Value {
	case "", "~", "null", "Null", "NULL":
		return true
	}
	return false
}

// asTyped returns the text of a scalar as it was typed. Curly quotes round the
// whole are quotes.
func asTyped(n *yaml.Node) string {
	s := n.Value
	if strings.ContainsRune(s, hash) {
		s = strings.ReplaceAll(s, string(hash), "#")
	}
	if n.Style != 0 {
		return s
	}
	s = strings.TrimFunc(s, unicode.IsSpace)
	for _, q := range curly {
		if inner, ok := strings.CutPrefix(s, q[0]); ok {
			if inner, ok = strings.CutSuffix(inner, q[1]); ok && !strings.ContainsAny(inner, q[0]+q[1]) {
				n.Style = yaml.DoubleQuotedStyle
				return inner
			}
		}
	}
	return s
}

var curly = [][2]string{{"“", "”"}, {"„", "“"}, {"„", "”"}, {"”", "”"}, {"‘", "’"}, {"«", "»"}, {"»", "«"}}
