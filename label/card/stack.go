package card

import (
	"fmt"
	"strings"

	"panelwright/label/font"
	"panelwright/label/picture"
	"panelwright/label/scene"
)

// NoRoom is text or a code that does not fit at the smallest size that can be read.
type NoRoom struct {
	What       string
	Wide, High scene.Um // missing; one of them is 0
}

func (e *NoRoom) Error() string {
	if e.Wide > 0 {
		return fmt.Sprintf("%s: %v too wide", clip(e.What), upTo(e.Wide))
	}
	return fmt.Sprintf("%s: %v too high", clip(e.What), upTo(e.High))
}

// upTo rounds what is missing up to a tenth of a millimetre.
func upTo(u scene.Um) scene.Um { return (u + 99) / 100 * 100 }

// clip shortens what is far too long to be repeated in a message.
func clip(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return s
}

// least is the smallest lower-case o. Common practice, no source: one millimetre is what most people past forty
// still read at arm's length in fair light.
const least = 1000

// para is a paragraph: its size and the space before it are percentages of the common size.
type para struct {
	lead, text      string // the lead is set in bold
	tail            string // after the text, in the bold of its family
	face            *font.Face
	percent, before scene.Um
	whole           bool // kept on one line
	timer           bool // an egg timer before the text
}

type across uint8

const (
	left across = iota
	centred
)

type down uint8

const (
	upper down = iota
	middle
	lower
)

// word is a part of a paragraph that is not broken.
type word struct {
	glyphs []font.Glyph
	face   *font.Face
	timer  bool // an egg timer instead
}

// row is a line that was set.
type row struct {
	words     []word
	size      scene.Um
	top, tall scene.Um
	wide      scene.Um
}

const (
	leading = 122 // percent of the size from line to line
	step    = 50  // by which sizes are tried
)

// stack sets paragraphs one below the other in a box, as large as fits, up to most.
func stack(box scene.Rect, paras []para, a across, d down, most scene.Um) ([]scene.Item, error) {
	var missing *NoRoom
	for size := most; ; size -= step {
		rows, tall, no, err := set(paras, size, box.Right-box.Left)
		if err != nil {
			return nil, err
		}
		if no == nil && tall > box.Bottom-box.Top {
			no = &NoRoom{What: first(paras), High: tall - (box.Bottom - box.Top)}
		}
		if no == nil {
			return place(rows, box, tall, a, d), nil
		}
		if tooSmall(paras, size-step) {
			missing = no
			break
		}
	}
	return nil, missing
}

func first(paras []para) string {
	for _, p := range paras {
		if p.text != "" {
			return "“" + p.text + "”"
		}
	}
	return "the text"
}

func tooSmall(paras []para, size scene.Um) bool {
	for _, p := range paras {
		if p.text != "" && size*p.percent/100 < scene.Um(p.face.SizeForHeight(least, font.LowerO)) {
			return true
		}
	}
	return false
}

// set breaks paragraphs into rows no wider than width.
func set(paras []para, size, width scene.Um) (rows []row, tall scene.Um, no *NoRoom, err error) {
	for _, p := range paras {
		if p.text == "" {
			continue
		}
		em := size * p.percent / 100
		if len(rows) > 0 {
			tall += size * p.before / 100
		}
		words, err := p.words()
		if err != nil {
			return nil, 0, nil, err
		}
		for len(words) > 0 {
			n, wide := 0, scene.Um(0)
			for n < len(words) {
				w := wordWidth(words[n], em)
				if n > 0 {
					w += space(words[n-1].face, em)
				}
				if wide+w > width {
					break
				}
				wide += w
				n++
			}
			if n == 0 {
				return nil, 0, &NoRoom{What: first([]para{p}), Wide: wordWidth(words[0], em) - width}, nil
			}
			rows = append(rows, row{words: words[:n], size: em, top: tall, tall: em * leading / 100, wide: wide})
			tall += em * leading / 100
			words = words[n:]
		}
	}
	return rows, tall, nil, nil
}

// words parts a paragraph at its spaces, but for no-break spaces.
func (p *para) words() (out []word, err error) {
	if p.timer {
		out = append(out, word{face: p.face, timer: true})
	}
	for _, part := range []struct {
		text string
		face *font.Face
	}{{p.lead, font.TextBold}, {p.text, p.face}, {p.tail, font.SemiBold}} {
		fields := strings.FieldsFunc(part.text, func(r rune) bool { return r == ' ' || r == '\n' })
		if p.whole && part.text != "" {
			fields = []string{part.text}
		}
		for _, w := range fields {
			g, err := part.face.Shape(w)
			if err != nil {
				return nil, err
			}
			out = append(out, word{glyphs: g, face: part.face})
		}
	}
	return out, nil
}

func wordWidth(w word, em scene.Um) scene.Um {
	if w.timer {
		return timerHeight(em) * picture.TimerWide / 100
	}
	t := scene.Text{Face: w.face, Size: em, Glyphs: w.glyphs}
	return t.Width()
}

// timerHeight is that of an egg timer beside letters of an em: as high as the line.
func timerHeight(em scene.Um) scene.Um { return em * 115 / 100 }

func space(f *font.Face, em scene.Um) scene.Um {
	g, err := f.Shape(" ")
	if err != nil {
		return em / 4
	}
	return scene.Um(g[0].Advance) * em / scene.Um(f.UnitsPerEm())
}

// place makes texts of rows: one for each stretch of a face, its words joined by spaces.
func place(rows []row, box scene.Rect, tall scene.Um, a across, d down) (items []scene.Item) {
	y := box.Top
	switch d {
	case middle:
		y += (box.Bottom - box.Top - tall) / 2
	case lower:
		y = box.Bottom - tall
	}
	for _, r := range rows {
		x := box.Left
		if a == centred {
			x += (box.Right - box.Left - r.wide) / 2
		}
		face := r.words[0].face
		capitals := scene.Um(face.HeightAt(int64(r.size), font.Capitals))
		base := y + r.top + (r.tall+capitals)/2
		for i := 0; i < len(r.words); {
			k, wide := i+1, wordWidth(r.words[i], r.size)
			if r.words[i].timer {
				half := timerHeight(r.size) / 2
				items = append(items, picture.EggTimer(scene.Rect{Left: x, Top: base - capitals/2 - half, Right: x + wide, Bottom: base - capitals/2 + half}, scene.Black)...)
				x += wide + space(r.words[i].face, r.size)
				i = k
				continue
			}
			glyphs := append([]font.Glyph(nil), r.words[i].glyphs...)
			for ; k < len(r.words) && r.words[k].face == r.words[i].face; k++ {
				g, err := r.words[i].face.Shape(" ")
				if err != nil {
					break
				}
				glyphs = append(append(glyphs, g...), r.words[k].glyphs...)
				wide += space(r.words[i].face, r.size) + wordWidth(r.words[k], r.size)
			}
			items = append(items, &scene.Text{Face: r.words[i].face, Size: r.size, X: x, Y: base, Glyphs: glyphs, Ink: scene.Black})
			x += wide + space(r.words[i].face, r.size)
			i = k
		}
	}
	return items
}
