// Package layout turns pack copy into scenes: what a label says, set in the shape of the label.
//
//	laid, err := layout.Lay(copy, layout.Options{})
//
// gives the front label and, where the pack has one, the back label; a card folded from one piece is one scene.
// Text flows in the shape: in a circle a line is as long as the circle is wide at its height. Letters are as
// large as fits, up to a comfortable size, and never smaller than the law asks, measured on the outlines of the
// letters themselves. Where the copy does not fit, what the book allows is tried in its order: narrower faces
// of the same family, a second label, a fold, then a leaflet or tag where the law of every market of the label
// lets a statement go there. After that the error is a [NoRoom], which says how large a label would do, and what else
// that was not tried. Type is never made smaller instead.
//
// How a label looks is a layout file, see package look. [Proof] draws what an inspector would measure, and
// [Pages] sets plain documents in the same types.
package layout

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/look"
	"panelwright/label/scene"
)

// Options says how a label is laid out beyond what the pack copy settles. What is zero is taken from the
// choices of the book.
type Options struct {
	Margin scene.Um   // of blank label around the text; 2.5 mm if nowhere said
	Accent *scene.Ink // of the name, the rules and the solid areas; black if nowhere said
	Bleed  scene.Um   // that solid areas reach beyond the edge, where the sheet is cut; none if nowhere said
	Look   *look.Look // the plain one if nowhere said
}

// safeMargin is what a cutter or a desktop printer may be off. Common practice, no source.
const safeMargin = 2500

// Laid is a label set in type.
type Laid struct {
	Scenes []scene.Scene

	// Findings say what was done so that it fits, and what does not print well. They hold no error.
	Findings finding.List
}

// Label sets the pack copy c as [Lay] does and returns its scenes alone.
func Label(c *label.PackCopy, o Options) ([]scene.Scene, error) {
	l, err := Lay(c, o)
	if err != nil {
		return nil, err
	}
	return l.Scenes, nil
}

// Lay sets the pack copy c on its label, with its back label if it has one and what goes with them. The error
// is a [*NoRoom] where the copy does not fit, and a [*font.Missing] where a letter cannot be set.
func Lay(c *label.PackCopy, o Options) (*Laid, error) {
	if c.Pack == nil || c.Pack.Label.Kind == label.NoShape {
		return nil, fmt.Errorf("%s: no label is named for this pack, so there is nothing to print on", c.Name)
	}
	return newDressed(c, o).climb(c)
}

// dressed is how a label is to look, settled from the options and the choices of the book.
type dressed struct {
	label.Dress
	margin scene.Um
	ink    scene.Ink // of rules, frames and solid areas
	name   scene.Ink // of the name: the same, unless that is too light to read
	widest width     // the last width of the text family that may be used
	bare   bool      // the frame is left out for lack of room
	sheet  bool      // goes with a label, and is no label itself
	rung   int       // the last rung of the law's ladders that may be used
	timed  bool      // the egg timer has led in a date
	bent   bool      // a barcode bends too far round the pack
	stood  bool      // a barcode stands upright because it would bend so
	lies   bool      // it may not, for lack of room
	large  bool      // a code is larger than it has to be
	small  bool      // none may be, for lack of room
	named  []string  // the names that say what the product is, so that it is not said twice
}

func newDressed(c *label.PackCopy, o Options) *dressed {
	d := &dressed{Dress: c.Dress, margin: o.Margin, ink: scene.Black, name: scene.Black, widest: widths - 1}
	if d.margin == 0 {
		d.margin = scene.Um(d.Dress.Margin)
	}
	if d.margin == 0 {
		d.margin = safeMargin
	}
	if d.Bleed == 0 {
		d.Bleed = int64(o.Bleed)
	}
	if o.Accent != nil {
		d.Accent = o.Accent
	}
	if d.Accent != nil {
		d.ink, d.name = *d.Accent, *d.Accent
		if light(d.ink) > legible {
			d.name = scene.Black
		}
	}
	if o.Look != nil {
		d.Look = o.Look
	}
	if d.Look == nil {
		d.Look = look.Plain
	}
	return d
}

// legible is the lightness, in percent, above which a name in an ink is hard to read on white. Common practice,
// no source.
const legible = 60

// light returns how light an ink is, in percent: 100 for bare paper. The weights are those of the eye for red,
// green and blue (ITU-R BT.601).
func light(i scene.Ink) int {
	through := func(own uint8) int { return (100 - int(own)) * (100 - int(i.K)) }
	return (299*through(i.C) + 587*through(i.M) + 114*through(i.Y)) / 100_000
}

// on returns the ink of words that stand on a solid area: paper, or black where the area is light.
func (d *dressed) on() scene.Ink {
	if light(d.ink) > legible {
		return scene.Black
	}
	return scene.Ink{}
}

// frame returns what is drawn along the edge of a face of the given shorter side.
func (d *dressed) frame(short scene.Um) frame {
	if d.bare {
		return frame{}
	}
	return frame{kind: d.Look.Frame, strip: short * scene.Um(d.Look.Strip) / 1000, pad: short * scene.Um(d.Look.Pad) / 1000}
}

// face is a panel with the blocks that stand on it, and where it lies on its sheet.
type face struct {
	*dressed
	panel  *panel
	front  []*block // but for the net quantity
	net    []*block
	back   []*block
	x, y   scene.Um
	turned bool // upside down on the sheet
	best   *arrangement
}

// deal measures the statements of c and deals them to the faces of its label.
func (d *dressed) deal(c *label.PackCopy) ([]*flat, error) {
	d.timed, d.bent, d.stood, d.large, d.named = false, false, false, false, namedSo(c)
	sheets := d.flats(c)
	var front, rest *face
	for _, s := range sheets {
		for _, f := range s.faces {
			if f.panel.name == "front" {
				front = f
			}
			if f.panel.name == "back" {
				rest = f
			}
		}
	}
	if rest == nil {
		rest = front
	}
	if d.Logo != nil {
		front.front = append(front.front, d.logoBlock())
	}
	for _, list := range [][]label.Statement{c.Front, runOn(c.Back)} {
		for i := range list {
			b, err := d.newBlock(&list[i])
			switch {
			case err != nil:
				return nil, fmt.Errorf("%s: %w", c.Name, err)
			case b == nil: // another stands for it
			case b.role == roleNet:
				b.addMark(c.EMark.Min)
				front.net = append(front.net, b)
				if b.apart && c.EMark.Min > 0 {
					front.front = append(front.front, d.markBlock(c))
				}
			case list[i].Front:
				front.front = append(front.front, b)
			default:
				rest.back = append(rest.back, b)
			}
		}
	}
	codes, err := d.codesBlock(c, rest.panel)
	if err != nil {
		return nil, err
	}
	if codes != nil {
		rest.back = append(rest.back, codes)
	}
	for _, s := range sheets {
		for _, f := range s.faces {
			f.front, f.back = rows(d.inOrder(f.front, c.Languages, f.panel.round())), rows(d.inOrder(f.back, c.Languages, f.panel.round()))
		}
	}
	return sheets, nil
}

// runOn makes one paragraph of the cautions of a language, sentence after sentence. What begins with a word that calls
// for attention, as sentences of law do (“Caution—Use only as directed.”, 21 CFR 740.17), stands for itself.
func runOn(list []label.Statement) []label.Statement {
	out := make([]label.Statement, 0, len(list))
	for _, s := range list {
		i := -1
		if s.Kind == label.CautionText && s.Lead == "" && !calls(s.Text) {
			i = slices.IndexFunc(out, func(o label.Statement) bool {
				return o.Kind == s.Kind && o.Lang == s.Lang && o.Bold == s.Bold && o.Front == s.Front && o.Height == s.Height &&
					slices.Equal(o.Markets, s.Markets) && !calls(o.Text) && strings.HasSuffix(strings.TrimSpace(o.Text), ".")
			})
		}
		if i < 0 {
			out = append(out, s)
			continue
		}
		out[i].Text += " " + s.Text
	}
	return out
}

// calls reports whether a text begins with one word and a dash, a colon or an exclamation mark.
func calls(text string) bool {
	rest := strings.TrimLeftFunc(text, unicode.IsLetter)
	return len(rest) < len(text) && strings.ContainsRune("—–:!", []rune(strings.TrimSpace(rest) + " ")[0])
}

// namedSo returns the names of the product that are its identity too, word for word.
func namedSo(c *label.PackCopy) (out []string) {
	for _, title := range c.Front {
		if title.Kind != label.TitleText {
			continue
		}
		for _, identity := range c.Front {
			if identity.Kind == label.IdentityText && plain(identity.Text) == plain(title.Text) {
				out = append(out, plain(title.Text))
				break
			}
		}
	}
	return out
}

// plain returns a text without what the eye does not tell apart in a name: capitals and spaces.
func plain(text string) string { return strings.ToLower(strings.Join(strings.Fields(text), " ")) }

// inOrder puts blocks in the order they are read on a pack: name and identity; the list; what to do and what
// to mind, one language after the other; who answers for it; where to write the lot and the date. A layout may
// order the small print otherwise.
func (d *dressed) inOrder(blocks []*block, languages []string, round bool) []*block {
	rank := func(b *block) int {
		at := 3
		if b.codes != nil {
			if round {
				return 3 // where a circle is wide
			}
			return 1003
		}
		switch b.s.Kind {
		case label.TitleText:
			switch {
			case b.logo == nil:
				return 0
			case d.Look.Block == look.BlockName: // the picture is not set on the solid area
				return 2
			}
			return -1
		case label.IdentityText:
			return 1
		case label.ListText, label.NoticeText:
			at = d.place("list", 3)
		case label.DirectionsText:
			at = d.place("directions", 4+max(slices.Index(languages, b.s.Lang), 0))
		case label.CautionText:
			at = d.place("cautions", 4+max(slices.Index(languages, b.s.Lang), 0))
		case label.ResponsibleText, label.ContactText, label.MakerText:
			at = d.place("responsible", 1000)
		case label.OriginText:
			at = d.place("origin", 1001)
		case label.LotText, label.DurabilityText, label.CodeText:
			at = d.place("lot", 1002)
		default:
			return 2
		}
		return at
	}
	slices.SortStableFunc(blocks, func(a, b *block) int { return rank(a) - rank(b) })
	for i, b := range blocks {
		if b.role == roleTitle && b.logo == nil && i > 0 && blocks[i-1].role <= roleSecond && blocks[i-1].logo == nil {
			b.role = roleSecond
		}
	}
	return blocks
}

// place returns where a kind of small print comes: as the layout says, else at usual.
func (d *dressed) place(r look.Role, usual int) int {
	if i := slices.Index(d.Look.Order, r); i >= 0 {
		return 3 + i
	}
	return usual
}

// rows gathers neighbouring spaces to write in, and symbols, into rows.
func rows(blocks []*block) []*block {
	var out []*block
	for _, b := range blocks {
		if !b.fill && b.symbol == noSymbol { // words alone
			out = append(out, b)
			continue
		}
		if n := len(out); n > 0 && len(out[n-1].parts) > 0 && out[n-1].group == b.group {
			parts := out[n-1].parts
			if last := parts[len(parts)-1]; last.fill && b.fill && last.s.Kind == b.s.Kind && last.s.Lang != b.s.Lang {
				last.fill, b.joined = false, true // one space to write in serves the words of all languages
				last.slash()
			}
			out[n-1].parts = append(parts, b)
			continue
		}
		out = append(out, &block{s: b.s, role: roleText, group: b.group, scale: 100, parts: []*block{b}})
	}
	return out
}

// words measures all blocks in one width of the text family. They have been measured in the normal width
// before, and the widths hold the same letters, so that there is nothing left to fail.
func (f *face) words(w width) bool {
	for _, list := range [][]*block{f.front, f.net, f.back} {
		for _, b := range list {
			parts := b.parts
			if len(parts) == 0 {
				parts = []*block{b}
			}
			for _, p := range parts {
				if _, err := p.flow(w); err != nil {
					return false
				}
			}
		}
	}
	return true
}
