package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
)

// The library writes a sound file without tags, and has no place to put any. So its file is written on with them:
// its objects as they are, but for the pages, which say where their tags are, what is drawn on them, of which the
// library knows nothing, and the root of the file, which is written anew; then the objects of the tags; then the
// table of places of all (PDF 1.7, 7.5.8).

// file is a PDF file that is being written.
type file struct {
	to    io.Writer
	err   error
	at    int
	place []place // of each object, by its number
	buf   []byte
	bundles

	subsets map[string]string // names of the fonts, by what the library calls them
}

// place is where an object stands: at a byte of the file, or as the at-th object of the bundle of that number.
type place struct {
	at     int
	bundle int
}

// most is how much is gathered before it is written.
const most = 1 << 16

// grabbed takes the library's file as it is handed over, in one piece and without a copy: the library is not used
// again.
type grabbed []byte

func (g *grabbed) Write(p []byte) (int, error) {
	if *g == nil {
		*g = p
	} else {
		*g = append(*g, p...)
	}
	return len(p), nil
}

// finish writes the library's file to out, with what is drawn on its pages and with their tags.
func finish(out io.Writer, raw []byte, w *Writer) error {
	t, lang := &w.tags, w.o.Lang
	places, table, err := objects(raw)
	if err != nil {
		return fmt.Errorf("the PDF file as it was begun: %w", err)
	}
	n := len(places) - 1 // the root is the last object, the information the one before; 0 stands for none
	f := &file{to: out, place: make([]place, n+1), bundles: bundles{plain: w.o.Plain}, subsets: subsets(w.faces)}
	f.buf = append(f.buf, "%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"...)
	pages := make([]int, 0, len(t.pages))
	order := make([]int, 0, n)
	for i := 1; i <= n; i++ {
		order = append(order, i)
	}
	slices.SortFunc(order, func(a, b int) int { return places[a] - places[b] })
	for i, number := range order {
		end := table
		if i+1 < len(order) {
			end = places[order[i+1]]
		}
		switch {
		case number == n:
		case len(pages) > 0 && number == pages[len(pages)-1]+1: // what is drawn follows its page
			f.content(number, "", w.drawn[len(pages)-1])
		default:
			f.copy(number, raw[places[number]:end], &pages)
		}
	}
	if len(pages) != len(t.pages) {
		return fmt.Errorf("the PDF file as it was begun has %d pages, and %d were drawn", len(pages), len(t.pages))
	}
	tree := f.structure(t, pages, lang)
	f.begin(n)
	f.buf = append(f.buf, "<</Type/Catalog/Pages 1 0 R/MarkInfo<</Marked true>>/ViewerPreferences<</DisplayDocTitle true>>/StructTreeRoot "...)
	f.refer(tree)
	f.language(lang)
	f.end()
	f.table(n)
	return f.err
}

// objects returns the place of each object of the library's file by its number, and that of the table at its end,
// which says so.
func objects(raw []byte) (places []int, table int, err error) {
	broken := errors.New("it has no table of places")
	_, tail, ok := bytes.Cut(raw[max(0, len(raw)-100):], []byte("startxref\n"))
	digits, _, _ := bytes.Cut(tail, []byte("\n"))
	table, err = strconv.Atoi(string(digits))
	if !ok || err != nil || table < 0 || table > len(raw) {
		return nil, 0, broken
	}
	head, rows, _ := bytes.Cut(raw[table:], []byte("\n0 "))
	count, rows, _ := bytes.Cut(rows, []byte("\n"))
	n, err := strconv.Atoi(string(count))
	const row, wide = 20, 10
	if err != nil || string(head) != "xref" || n < 1 || len(rows) < n*row {
		return nil, 0, broken
	}
	places = make([]int, n)
	for i := 1; i < n; i++ {
		if places[i], err = strconv.Atoi(string(rows[i*row : i*row+wide])); err != nil || places[i] > table {
			return nil, 0, broken
		}
	}
	return places, table, nil
}

// copy writes an object as it is. A page is noted, and says in addition that its tags are the next in the tree of
// parents, and that it is read in their order.
func (f *file) copy(number int, object []byte, pages *[]int) {
	f.place[number].at = f.at + len(f.buf)
	const reach = 40
	page := []byte("<</Type /Page\n")
	if i := bytes.Index(object[:min(len(object), reach)], page); i >= 0 {
		f.buf = append(f.buf, object[:i+len(page)]...)
		f.buf = append(f.buf, "/Tabs /S\n/StructParents "...)
		f.buf = append(strconv.AppendInt(f.buf, int64(len(*pages)), 10), '\n')
		*pages = append(*pages, number)
		object = object[i+len(page):]
	}
	object = f.renamed(object)
	if len(object) > most {
		f.flush()
		f.write(object)
		return
	}
	f.buf = append(f.buf, object...)
	if len(f.buf) > most {
		f.flush()
	}
}

// structure writes the tree of the elements, and returns the number of its root: the document holds a section for
// each page, a section its elements.
func (f *file) structure(t *tags, pages []int, lang string) int {
	root := len(f.place)
	document, parents, section := root+1, root+2, root+3
	last := parents
	for i := range t.pages {
		last += 1 + len(t.pages[i].elements)
	}
	f.bundleFrom(last + 1)
	f.begin(root)
	f.buf = append(f.buf, "<</Type/StructTreeRoot/K "...)
	f.refer(document)
	f.buf = append(f.buf, "/ParentTree "...)
	f.refer(parents)
	f.buf = append(f.buf, "/ParentTreeNextKey "...)
	f.buf = strconv.AppendInt(f.buf, int64(len(pages)), 10)
	f.end()

	f.begin(document)
	f.element("Document", root)
	f.buf = append(f.buf, "/K["...)
	at := section
	for i := range t.pages {
		f.refer(at)
		at += 1 + len(t.pages[i].elements)
	}
	f.buf = append(f.buf, ']')
	f.end()

	f.begin(parents)
	f.buf = append(f.buf, "<</Nums["...)
	at = section
	for i := range t.pages {
		f.buf = strconv.AppendInt(f.buf, int64(i), 10)
		f.buf = append(f.buf, '[')
		for _, e := range t.pages[i].owners {
			f.refer(at + 1 + int(e))
		}
		f.buf = append(f.buf, ']')
		at += 1 + len(t.pages[i].elements)
	}
	f.buf = append(f.buf, ']')
	f.end()

	at = section
	for i := range t.pages {
		f.section(at, &t.pages[i], document, pages[i], lang)
		at += 1 + len(t.pages[i].elements)
	}
	f.bundleEnd()
	return root
}

// section writes the elements of a page, as a section of that number; they have the numbers after it.
func (f *file) section(number int, t *tagged, document, page int, lang string) {
	f.begin(number)
	f.element("Sect", document)
	if t.lang != lang {
		f.language(t.lang)
		lang = t.lang
	}
	f.buf = append(f.buf, "/K["...)
	for i := range t.elements {
		f.refer(number + 1 + i)
	}
	f.buf = append(f.buf, ']')
	f.end()
	parts := make([][]int32, len(t.elements))
	for part, e := range t.owners {
		parts[e] = append(parts[e], int32(part))
	}
	for i := range t.elements {
		e := &t.elements[i]
		f.begin(number + 1 + i)
		f.element(e.kind(), number)
		f.buf = append(f.buf, "/Pg "...)
		f.refer(page)
		if l := e.lang(); l != lang && l != "" {
			f.language(l)
		}
		if e.figure {
			f.buf = append(f.buf, "/Alt"...)
			f.text(e.alt)
		}
		f.buf = append(f.buf, "/K["...)
		for _, part := range parts[i] {
			f.buf = append(strconv.AppendInt(f.buf, int64(part), 10), ' ')
		}
		f.buf = append(f.buf, ']')
		f.end()
	}
}

// element begins the dictionary of an element.
func (f *file) element(kind string, parent int) {
	f.buf = append(f.buf, "<</Type/StructElem/S/"...)
	f.buf = append(f.buf, kind...)
	f.buf = append(f.buf, "/P "...)
	f.refer(parent)
}

// begin starts an object.
func (f *file) begin(number int) {
	for number >= len(f.place) {
		f.place = append(f.place, place{})
	}
	if f.open {
		f.member(number)
		return
	}
	f.place[number].at = f.at + len(f.buf)
	f.buf = append(strconv.AppendInt(f.buf, int64(number), 10), " 0 obj\n"...)
}

// end closes an object that is a dictionary.
func (f *file) end() {
	if f.open {
		f.buf = append(f.buf, ">>\n"...)
		return
	}
	f.buf = append(f.buf, ">>\nendobj\n"...)
	if len(f.buf) > most {
		f.flush()
	}
}

func (f *file) refer(number int) {
	f.buf = append(strconv.AppendInt(f.buf, int64(number), 10), " 0 R "...)
}

// language states the language of words; none where it is not known.
func (f *file) language(lang string) {
	if lang != "" {
		f.buf = append(f.buf, "/Lang "...)
		f.text(lang)
	}
}

// text writes words as a string: plain where they are plain, else of two bytes a letter.
func (f *file) text(words string) {
	if !strings.ContainsFunc(words, func(r rune) bool { return r < ' ' || r > '~' || r == '(' || r == ')' || r == '\\' }) {
		f.buf = append(append(append(f.buf, '('), words...), ')')
		return
	}
	f.buf = append(f.buf, "<feff"...)
	for _, c := range utf16.Encode([]rune(words)) {
		f.buf = fmt.Appendf(f.buf, "%04x", c)
	}
	f.buf = append(f.buf, '>')
}

func (f *file) flush() {
	f.write(f.buf)
	f.buf = f.buf[:0]
}

func (f *file) write(b []byte) {
	f.at += len(b)
	if f.err == nil {
		_, f.err = f.to.Write(b)
	}
}
