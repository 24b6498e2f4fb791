package layout

import (
	"fmt"

	"panelwright/label/font"
	"panelwright/label/scene"
)

// Paper is a size of paper with its margins.
type Paper struct {
	W, H                     scene.Um
	Left, Right, Top, Bottom scene.Um
}

// Papers, upright. The left margin leaves room for the holes of a binder.
var (
	A4     = Paper{210 * scene.Mm, 297 * scene.Mm, 22 * scene.Mm, 18 * scene.Mm, 18 * scene.Mm, 22 * scene.Mm}
	Letter = Paper{17 * scene.Inch / 2, 11 * scene.Inch, 22 * scene.Mm, 18 * scene.Mm, 18 * scene.Mm, 22 * scene.Mm}
)

// Style is how a piece of text on a page is set.
type Style struct {
	Face *font.Face
	Size scene.Um // of the em
	Lead scene.Um // from baseline to baseline
	Ink  scene.Ink
}

// Grey is the ink of second thoughts: captions, footers, sources.
var Grey = scene.Ink{K: 62}

// The styles of a page. A copy with another ink or size serves where these do not.
var (
	Title  = Style{font.Display, 7800, 9000, scene.Black}
	Head   = Style{font.TextBold, 4200, 5300, scene.Black}
	Body   = Style{font.Text, 3300, 4500, scene.Black}
	Strong = Style{font.TextBold, 3300, 4500, scene.Black}
	Fine   = Style{font.Text, 2750, 3650, scene.Black}
	Bold   = Style{font.TextBold, 2750, 3650, scene.Black}
	Quiet  = Style{font.Text, 2750, 3650, Grey}
)

// Hairline is the width of the thin rules.
const Hairline scene.Um = 90

// Pages sets text and tables on as many pages as they take, from top to bottom:
//
//	p := layout.NewPages(layout.A4, "Declaration of Hay Fizz", "en")
//	p.Text(layout.Title, "Hay Fizz")
//	p.Space(3 * scene.Mm)
//	p.Text(layout.Body, list)
//	p.Table(table)
//	p.Footer = "Hay Fizz, European Union"
//	scenes, err := p.Scenes()
//
// The first error, such as a letter that no face has, is kept and returned by Scenes; what follows it is
// ignored.
type Pages struct {
	Paper  Paper
	Footer string // at the foot of each page, left of "page n of m"

	title, lang string
	pages       [][]scene.Item
	y           scene.Um // where the next line begins
	err         error
}

// NewPages returns a first empty page. Title and lang are those of the document.
func NewPages(paper Paper, title, lang string) *Pages {
	p := &Pages{Paper: paper, title: title, lang: lang}
	p.Break()
	return p
}

// Width returns the width between the margins.
func (p *Pages) Width() scene.Um { return p.Paper.W - p.Paper.Left - p.Paper.Right }

// Left returns how much height is left on the page.
func (p *Pages) Left() scene.Um { return p.Paper.H - p.Paper.Bottom - p.y }

// Break begins a new page.
func (p *Pages) Break() {
	p.pages = append(p.pages, nil)
	p.y = p.Paper.Top
}

// Keep begins a new page unless height is left on this one: call it before what should stay together, such
// as a heading with the lines under it.
func (p *Pages) Keep(height scene.Um) {
	if p.Left() < height && !p.blank() {
		p.Break()
	}
}

// blank reports whether the page has nothing on it yet.
// Number returns the number of the page that is being set, from 1.
func (p *Pages) Number() int { return len(p.pages) }

func (p *Pages) blank() bool { return len(p.pages[len(p.pages)-1]) == 0 }

// Space leaves height empty. At the top of a page it does nothing.
func (p *Pages) Space(height scene.Um) {
	if !p.blank() {
		p.y += height
	}
}

// Rule draws a hairline from margin to margin.
func (p *Pages) Rule() {
	p.Keep(Hairline)
	p.add(scene.Line(p.Paper.Left, p.y, p.Paper.W-p.Paper.Right, p.y, Hairline, scene.Black))
	p.y += Hairline
}

// Heading sets a heading with space around it, and starts a new page rather than part it from what follows.
func (p *Pages) Heading(text string) {
	p.Space(5 * scene.Mm)
	p.Keep(22 * scene.Mm)
	p.Text(Head, text)
	p.Space(1200)
}

// Text sets a paragraph, broken at spaces. Line breaks in text are kept.
func (p *Pages) Text(s Style, text string) { p.Block(s, 0, p.Width(), text) }

// Block sets a paragraph like Text, in a column width wide that starts indent from the left margin.
func (p *Pages) Block(s Style, indent, width scene.Um, text string) {
	for _, part := range paragraphs(text) {
		p.Spans(indent, width, s, Span{part, s.Face})
	}
}

// Span is a stretch of a paragraph in a face of its own.
type Span struct {
	Text string
	Face *font.Face
}

// Spans sets one paragraph of several faces, such as a bold word before a text, all at the size of s.
func (p *Pages) Spans(indent, width scene.Um, s Style, spans ...Span) {
	if p.err != nil {
		return
	}
	own := make([]span, len(spans))
	for i, sp := range spans {
		own[i] = span{text: sp.Text, face: sp.Face}
	}
	f, err := measure(atSpaces, own...)
	if err != nil {
		p.err = err
		return
	}
	lines := f.wrap(s.Size, width)
	for i, l := range lines {
		p.Keep(scene.Um(together(i, len(lines))) * s.Lead)
		p.pages[len(p.pages)-1] = f.texts(p.pages[len(p.pages)-1], l.a, l.b,
			p.Paper.Left+indent, p.y+baseline(s), s.Size, s.Ink, nil)
		p.y += s.Lead
	}
}

// together returns how many lines of a paragraph of n, from line i, stand on one page: a paragraph of up to three is
// not parted, and of a longer one no line stands alone at the foot or the head of a page.
func together(i, n int) int {
	switch {
	case i == 0 && n <= 3:
		return n
	case i == 0 || i == n-2:
		return 2
	}
	return 1
}

// Item places an item of your own on the page; its position is on the page and nothing else moves.
func (p *Pages) Item(item scene.Item) { p.add(item) }

// Y returns where on the page the next line begins.
func (p *Pages) Y() scene.Um { return p.y }

func (p *Pages) add(item scene.Item) {
	last := len(p.pages) - 1
	p.pages[last] = append(p.pages[last], item)
}

// baseline returns how far below the top of its line the baseline of a style lies, the capitals being
// centred in the line.
func baseline(s Style) scene.Um {
	capitals := scene.Um(s.Face.HeightAt(int64(s.Size), font.Capitals))
	return (s.Lead + capitals) / 2
}

// Scenes returns the pages, with their footers.
func (p *Pages) Scenes() ([]scene.Scene, error) {
	if p.err != nil {
		return nil, p.err
	}
	out := make([]scene.Scene, len(p.pages))
	for i, items := range p.pages {
		items = append([]scene.Item(nil), items...)
		foot := p.Paper.H - p.Paper.Bottom + 6*scene.Mm
		items = append(items, scene.Line(p.Paper.Left, foot, p.Paper.W-p.Paper.Right, foot, Hairline, Grey))
		number, err := measure(atSpaces, span{text: fmt.Sprintf("page %d of %d", i+1, len(p.pages)), face: Quiet.Face})
		if err != nil {
			return nil, err
		}
		base := foot + baseline(Quiet) + 800
		wide := number.width(0, len(number.glyphs), Quiet.Size)
		if p.Footer != "" {
			left, err := measure(atSpaces, span{text: p.Footer, face: Quiet.Face})
			if err != nil {
				return nil, err
			}
			l := left.wrap(Quiet.Size, p.Width()-wide-5*scene.Mm)[0] // what is too long is cut, not set over the number
			items = left.texts(items, l.a, l.b, p.Paper.Left, base, Quiet.Size, Quiet.Ink, nil)
		}
		items = number.texts(items, 0, len(number.glyphs), p.Paper.W-p.Paper.Right-wide, base, Quiet.Size, Quiet.Ink, nil)
		out[i] = scene.Scene{W: p.Paper.W, H: p.Paper.H, Title: p.title, Lang: p.lang, Items: items}
	}
	return out, nil
}
