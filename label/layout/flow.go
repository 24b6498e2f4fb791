package layout

import (
	"strings"
	"unicode"

	"panelwright/label/font"
	"panelwright/label/scene"
)

// span is a stretch of text in one face. The spans of a flow are of faces with the same units per em.
type span struct {
	text  string
	face  *font.Face
	space int // added between letters, in thousandths of the em
}

// flow is a text, measured once in font units, that can be broken into lines at any size.
type flow struct {
	glyphs      []font.Glyph
	pos         []int64 // pos[i] is where glyph i starts; pos[len(glyphs)] is the end
	cuts        []cut   // where a line may end, the end of the text being the last
	runs        []run
	upem        int64
	top, bottom int64 // highest and lowest ink of any letter, above and below the baseline
	whole       int64 // how full a line must be, in percent, for a name to be moved whole to the next one
	side        int64 // the most that the ink of any letter sticks out at the side of its own width
	tail        int64 // room for the e-mark after the last letter, with the gap before it
	mark        int64 // height of the e-mark; 0 for none
	wideN       int64 // width of the capital N, by which some statements keep their distance
}

// run is where a face ends in a flow.
type run struct {
	face *font.Face
	end  int
}

// cut is a place where a line may end: before glyph end, the next line starting at glyph next.
type cut struct {
	end, next int
	inside    bool // inside a name: only as a last resort
}

// breaking says where lines of a text may end. A word is never broken, and hyphenated names are words.
type breaking uint8

const (
	atSpaces  breaking = iota // at any space
	atCommas                  // after a comma; at other spaces as a last resort
	atAddress                 // after a comma or the small words before a name; never beside a figure; else as a last resort
	atGroups                  // before an opening bracket and after punctuation; before a figure as a last resort
)

// separators may end a line but not start one.
const separators = "·•/|–—-+,;:.)×%"

// measure returns the flow of spans.
func measure(how breaking, spans ...span) (*flow, error) {
	f, err := shaped(spans...)
	if err == nil {
		f.cut(how)
	}
	return f, err
}

// measureAs returns the flow of spans that hold the text of f in other faces: it may be broken at the same places.
func (f *flow) measureAs(how breaking, spans ...span) (*flow, error) {
	g, err := shaped(spans...)
	switch {
	case err != nil:
	case len(g.glyphs) == len(f.glyphs):
		g.cuts, g.whole = f.cuts, f.whole
	default: // an accent is a letter of its own in one of the faces
		g.cut(how)
	}
	return g, err
}

// in reports whether the flow is of the faces of spans that hold its text.
func (f *flow) in(spans []span) bool {
	i := 0
	for _, s := range spans {
		if s.text == "" {
			continue
		}
		if i == len(f.runs) || f.runs[i].face != s.face {
			return false
		}
		i++
	}
	return i == len(f.runs)
}

// shaped returns the flow of spans without the places where it may be broken.
func shaped(spans ...span) (*flow, error) {
	f := &flow{upem: 1} // of an empty text, whose width is 0 at any size
	n := 0
	for _, s := range spans {
		n += len(s.text)
	}
	f.glyphs = make([]font.Glyph, 0, n)
	for _, s := range spans {
		if s.text == "" {
			continue
		}
		start := len(f.glyphs)
		var reach font.Reach
		var err error
		if f.glyphs, reach, err = s.face.AppendShape(f.glyphs, s.text); err != nil {
			return nil, err
		}
		f.upem = s.face.UnitsPerEm()
		if s.space > 0 {
			for i := start; i < len(f.glyphs); i++ {
				f.glyphs[i].Kern += int16(int64(s.space) * f.upem / 1000)
			}
		}
		f.runs = append(f.runs, run{s.face, len(f.glyphs)})
		f.top, f.bottom, f.side = max(f.top, int64(reach.Up)), max(f.bottom, int64(reach.Down)), max(f.side, int64(reach.Side))
	}
	f.pos = make([]int64, len(f.glyphs)+1)
	for i, g := range f.glyphs {
		f.pos[i+1] = f.pos[i] + int64(g.Advance) + int64(g.Kern)
	}
	return f, nil
}

// cut finds the places where a line may end.
func (f *flow) cut(how breaking) {
	f.whole = 50
	if how == atAddress {
		f.whole = 15
	}
	for i := 1; i < len(f.glyphs); i++ {
		if f.glyphs[i].Rune != ' ' || f.glyphs[i-1].Rune == ' ' {
			continue
		}
		next := i
		for next < len(f.glyphs) && f.glyphs[next].Rune == ' ' {
			next++
		}
		if next == len(f.glyphs) {
			break // the spaces at the end are part of no line
		}
		before, after := f.glyphs[i-1].Rune, f.glyphs[next].Rune
		if strings.ContainsRune(separators, after) {
			continue
		}
		good := strings.ContainsRune(",;:.·•/|", before) && !(how == atCommas && before == '/') // “Ingredients / Ingrédients:”
		if how == atAddress && !strings.ContainsRune(",;", before) {
			if f.figure(i-1, -1) || f.figure(next, 1) {
				continue // a house number stays with its street, a postal code with its town
			}
			good = f.small(i-1) && unicode.IsUpper(after) // “imported by” before the name of a firm
		}
		switch {
		case how == atGroups && !good && after != '(':
			// As a last resort between "Net Wt" and the figure, but never between a figure and its unit.
			if unicode.IsLetter(before) && unicode.IsDigit(after) {
				f.cuts = append(f.cuts, cut{i, next, true})
			}
		case how == atCommas || how == atAddress:
			f.cuts = append(f.cuts, cut{i, next, !good})
		default: // the figure of “No. 5” stays with it
			f.cuts = append(f.cuts, cut{i, next, before == '.' && unicode.IsDigit(after) && f.short(i-1)})
		}
	}
	end := len(f.glyphs)
	for end > 0 && f.glyphs[end-1].Rune == ' ' {
		end--
	}
	if end > 0 {
		f.cuts = append(f.cuts, cut{end, end, false})
	}
}

// figure reports whether the word that holds glyph i, and from there on runs in a direction, has a figure in it.
func (f *flow) figure(i, step int) bool {
	for ; i >= 0 && i < len(f.glyphs) && f.glyphs[i].Rune != ' '; i += step {
		if unicode.IsDigit(f.glyphs[i].Rune) {
			return true
		}
	}
	return false
}

// short reports whether the word that ends with glyph i is an abbreviation of three letters at most.
func (f *flow) short(i int) bool {
	for n := 0; n <= 3; n++ {
		if i -= 1; i < 0 || f.glyphs[i].Rune == ' ' {
			return n > 0
		}
	}
	return false
}

// small reports whether the word that ends with glyph i begins with a small letter.
func (f *flow) small(i int) bool {
	for i > 0 && f.glyphs[i-1].Rune != ' ' {
		i--
	}
	return unicode.IsLower(f.glyphs[i].Rune)
}

// units returns the width of the line from glyph a up to glyph b, in font units.
func (f *flow) units(a, b int) int64 {
	if a == b {
		return 0
	}
	wide := f.pos[b] - f.pos[a] - int64(f.glyphs[b-1].Kern)
	if b == len(f.glyphs) {
		wide += f.tail
	}
	return wide
}

// follow leaves room after the last letter for an e-mark that is height high at an em of size, and grows with it.
func (f *flow) follow(height, size scene.Um) {
	f.mark = (int64(height)*f.upem + int64(size) - 1) / int64(size)
	f.tail = f.mark * 135 / 100
	f.top = max(f.top, f.mark)
}

// width returns the width of the line from glyph a up to glyph b at an em of size, rounded up.
func (f *flow) width(a, b int, size scene.Um) scene.Um {
	return scene.Um((f.units(a, b)*int64(size) + f.upem - 1) / f.upem)
}

// ascent returns how far the ink rises above the baseline at an em of size, descent how far it falls below.
func (f *flow) ascent(size scene.Um) scene.Um {
	return scene.Um((f.top*int64(size) + f.upem - 1) / f.upem)
}

func (f *flow) descent(size scene.Um) scene.Um {
	return scene.Um((f.bottom*int64(size) + f.upem - 1) / f.upem)
}

// overhang returns how much the ink of a line may stick out at either side of its width at an em of size.
func (f *flow) overhang(size scene.Um) scene.Um {
	return scene.Um((f.side*int64(size) + f.upem - 1) / f.upem)
}

// hang returns how much the ink of a line that begins with glyph a sticks out at its left.
func (f *flow) hang(a int, size scene.Um) scene.Um {
	for _, r := range f.runs {
		if a < r.end {
			left := r.face.Extent(f.glyphs[a : a+1]).Left
			return scene.Um(max(0, (-left*int64(size)+f.upem-1)/f.upem))
		}
	}
	return 0
}

// line is a line of a flow: glyphs a up to b, in a room from left to right.
type line struct {
	a, b        int
	left, right scene.Um
	inside      bool // ends inside a name
}

// room gives the space for line i of a flow.
type room func(i int) (left, right scene.Um)

// within is the room of lines that are all as wide as width.
func within(width scene.Um) room {
	return func(int) (scene.Um, scene.Um) { return 0, width }
}

// lines breaks the flow at an em of size into as few lines as the room allows, at most most of them, filling
// each line before the next, and appends them to dst. Unless loose is set, names stay whole, but where one is
// wider than its line or would leave half of the line before it empty. It returns false where a word is wider
// than its line, or the lines are too many.
func (f *flow) lines(dst []line, size scene.Um, space room, loose bool, most int) ([]line, bool) {
	first := 0 // cut
	for a, i := 0, 0; first < len(f.cuts); i++ {
		if i == most {
			return dst, false
		}
		left, right := space(i)
		fits := f.fitting(a, first, size, right-left)
		if fits < 0 {
			return dst, false
		}
		if !loose && f.cuts[fits].inside {
			least := int64(right-left) * f.upem / int64(size) * f.whole / 100
			for whole := fits - 1; whole >= first && f.units(a, f.cuts[whole].end) >= least; whole-- {
				if !f.cuts[whole].inside {
					fits = whole
					break
				}
			}
		}
		c := f.cuts[fits]
		dst = append(dst, line{a, c.end, left, right, c.inside})
		a, first = c.next, fits+1
	}
	return dst, true
}

// fitting returns the last cut from first on that ends a line from glyph a no wider than width, or -1.
func (f *flow) fitting(a, first int, size, width scene.Um) int {
	if width <= 0 {
		return -1
	}
	most := int64(width) * f.upem / int64(size)
	i := first
	for i < len(f.cuts) && f.units(a, f.cuts[i].end) <= most {
		i++
	}
	if i == first {
		return -1
	}
	return i - 1
}

// texts appends to items the texts of the line from glyph a up to glyph b with its baseline from (x, y).
func (f *flow) texts(items []scene.Item, a, b int, x, y, size scene.Um, ink scene.Ink, mark *scene.Mark) []scene.Item {
	for i, r := range f.runs {
		from, to := a, min(b, r.end)
		if i > 0 {
			from = max(a, f.runs[i-1].end)
		}
		if from >= to {
			continue
		}
		off := (f.pos[from] - f.pos[a]) * int64(size) / f.upem
		items = append(items, &scene.Text{
			Face: r.face, Size: size, X: x + scene.Um(off), Y: y,
			Glyphs: f.glyphs[from:to:to], Ink: ink, Mark: mark,
			Space: to == b && b < len(f.glyphs) && f.glyphs[b].Rune == ' ',
		})
	}
	return items
}
