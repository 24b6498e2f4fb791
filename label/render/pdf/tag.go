package pdf

import (
	"strconv"

	"panelwright/label/scene"
)

// Tags say what a page shows and in which order to read it, for readers that speak (PDF 1.7, 14.7 and 14.8): a
// paragraph for each statement, with its language, and a figure for each picture or symbol, with its words. What
// is neither, such as rules and backgrounds, is marked as decoration.
type tags struct {
	pages []tagged
}

// tagged is a page's elements in reading order. Each part of the page's drawing that belongs to one has a number
// on the page.
type tagged struct {
	lang     string // of the scene
	elements []element
	owners   []int32 // the element of each numbered part
}

type element struct {
	figure bool
	mark   *scene.Mark // of the statement
	alt    string      // of a figure: its words
}

// lang returns the language of the element's words, "" where it is the page's. Words for figures are the
// project's own.
func (e *element) lang() string {
	switch {
	case e.figure:
		return "en"
	case e.mark == nil:
		return ""
	}
	return e.mark.Lang
}

// decoration stands for the element of a part that belongs to none.
const decoration = -1

// between stands for no part at all.
const between = -2

// begin starts the elements of a page.
func (t *tags) begin(lang string) *tagged {
	t.pages = append(t.pages, tagged{lang: lang})
	return &t.pages[len(t.pages)-1]
}

// of returns the element that an item belongs to: the last one where it goes on with the same statement or figure,
// else a new one.
func (t *tagged) of(item scene.Item) int {
	var e element
	switch item := item.(type) {
	case *scene.Text:
		e.mark = item.Mark
		if e.mark == nil {
			return t.add(e) // a line by itself
		}
	case *scene.Path:
		if item.Alt == "" && item.Mark == nil {
			return decoration
		}
		e = element{figure: true, mark: item.Mark, alt: item.Alt}
		if e.alt == "" {
			e.alt = item.Mark.Statement
		}
	case *scene.Image:
		e = element{figure: true, alt: item.Alt}
		if e.alt == "" {
			e.alt = "picture"
		}
	}
	if n := len(t.elements); n > 0 && t.elements[n-1] == e {
		return n - 1
	}
	return t.add(e)
}

func (t *tagged) add(e element) int {
	t.elements = append(t.elements, e)
	return len(t.elements) - 1
}

// tag writes the operators that end one part of the drawing and begin another, that of element e, where they are
// not the same.
func (p *page) tag(t *tagged, e int) {
	if e == p.part {
		return
	}
	p.untag()
	p.part = e
	if e == decoration {
		p.buf = append(p.buf, "/Artifact BMC\n"...)
		return
	}
	p.buf = append(p.buf, '/')
	p.buf = append(p.buf, t.elements[e].kind()...)
	p.buf = append(p.buf, "<</MCID "...)
	p.buf = strconv.AppendInt(p.buf, int64(len(t.owners)), 10)
	p.buf = append(p.buf, ">>BDC\n"...)
	t.owners = append(t.owners, int32(e))
}

// untag ends the part that is being drawn.
func (p *page) untag() {
	if p.part != between {
		p.buf = append(p.buf, "EMC\n"...)
		p.part = between
	}
}

// kind returns the name of the element's type in the file format.
func (e *element) kind() string {
	if e.figure {
		return "Figure"
	}
	return "P"
}
