// Package paper writes the papers that go with a pack: so far the declaration
// sheet. A Paper is headings, paragraphs and tables without any drawing; Text
// prints it aligned for a terminal or a file, Pages sets it for print. Both say
// the same, word for word.
package paper

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Paper is a document of one or more sections.
type Paper struct {
	Title  string
	Lang   string
	Footer string
	Blocks []Block
}

// Block is one of Heading, Para, Pair, Table, Review, Signature and Keep.
type Block interface{ text(b *strings.Builder) }

// Heading opens a section. Level 1 is the larger.
type Heading struct {
	Level int
	Words string
}

// Keep begins a new page unless so many millimetres are left on this one.
type Keep int

// Para is a paragraph.
type Para struct {
	Words string
	Quiet bool // small and grey in print: sources, captions
	Loud  bool // bold: the verdict, the list itself
}

// Pair is a label and what it labels, on one line where it fits.
type Pair struct{ Label, Words string }

// Contents lists the sections of level 1 that follow, in print with their
// pages.
type Contents struct{}

// NewPage begins a new page.
type NewPage struct{}

// Blank is room for somebody else to write: who it is for, and what.
type Blank struct {
	Who, What string
	Lines     int
}

// Large is a line in large letters, to be read from a step away.
type Large struct{ Words string }

// Table is rows under column heads. Right marks columns set to the right.
type Table struct {
	Heads []string
	Right []bool
	Wide  []int // relative widths in print; 0 for as wide as it takes
	Rows  [][]string
	Bold  []int // rows set bold: headings inside the table, which may lack cells
}

func (p *Paper) add(b ...Block) { p.Blocks = append(p.Blocks, b...) }

// Text writes the paper as aligned plain text.
func (p *Paper) Text(w io.Writer) error {
	var b strings.Builder
	b.WriteString(p.Title + "\n" + strings.Repeat("=", utf8.RuneCountInString(p.Title)) + "\n")
	for _, block := range p.Blocks {
		block.text(&b)
	}
	if p.Footer != "" && !strings.HasSuffix(p.Title, p.Footer) {
		b.WriteString("\n" + p.Footer + "\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func (h Heading) text(b *strings.Builder) {
	line := "-"
	if h.Level == 1 {
		line = "="
	}
	fmt.Fprintf(b, "\n%s\n%s\n", h.Words, strings.Repeat(line, utf8.RuneCountInString(h.Words)))
}

func (Keep) text(*strings.Builder) {}

func (p Para) text(b *strings.Builder) { wrap(b, p.Words, "") }

func (NewPage) text(*strings.Builder) {}

func (Contents) text(*strings.Builder) {}

func (k Blank) text(b *strings.Builder) {
	wrap(b, fmt.Sprintf("[ %s: to be written by %s ]", k.What, k.Who), "  ")
}

func (l Large) text(b *strings.Builder) { wrap(b, l.Words, "") }

func (p Pair) text(b *strings.Builder) { wrap(b, p.Label+": "+p.Words, "    ") }

// textWidth is the line length of plain text, in characters.
const textWidth = 100

// wrap breaks words at spaces; lines after the first begin with indent.
func wrap(b *strings.Builder, words, indent string) {
	col := 0
	for i, w := range strings.Fields(words) {
		n := utf8.RuneCountInString(w)
		switch {
		case i == 0:
		case col+1+n > textWidth:
			b.WriteString("\n" + indent)
			col = len(indent)
		default:
			b.WriteByte(' ')
			col++
		}
		b.WriteString(w)
		col += n
	}
	b.WriteByte('\n')
}

// widestCell is as wide as a column of plain text gets, in characters; what is
// longer goes on in further lines.
const widestCell = 48

func (t Table) text(b *strings.Builder) {
	var rows [][][]string // rows of cells of lines
	width := make([]int, len(t.Heads))
	for _, row := range append([][]string{t.Heads}, t.Rows...) {
		cells := make([][]string, len(t.Heads))
		for i, c := range row {
			cells[i] = cellLines(c)
			for _, l := range cells[i] {
				width[i] = max(width[i], utf8.RuneCountInString(l))
			}
		}
		rows = append(rows, cells)
	}
	for _, cells := range rows {
		tall := 0
		for _, c := range cells {
			tall = max(tall, len(c))
		}
		for n := range tall {
			var l strings.Builder
			for i, c := range cells {
				text := ""
				if n < len(c) {
					text = c[n]
				}
				pad := strings.Repeat(" ", width[i]-utf8.RuneCountInString(text))
				if i > 0 {
					l.WriteString("  ")
				}
				if t.Right[i] {
					l.WriteString(pad + text)
				} else {
					l.WriteString(text + pad)
				}
			}
			b.WriteString("  " + strings.TrimRight(l.String(), " ") + "\n")
		}
	}
}

// cellLines breaks a cell at spaces.
func cellLines(c string) (lines []string) {
	line := ""
	for _, w := range strings.Fields(c) {
		switch {
		case line == "":
			line = w
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > widestCell:
			lines = append(lines, line)
			line = w
		default:
			line += " " + w
		}
	}
	return append(lines, line)
}
