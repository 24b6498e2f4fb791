// Package scene is the drawing of a label or a page as plain data: texts and lines with their places, and
// nothing left to decide.
//
// Places and lengths are whole micrometres, widths of letters whole font units, so that the same copy gives
// the same scene on every machine. The origin is the top left corner and y grows downwards. Items are in
// reading order, which is also the order of painting.
//
// Package layout makes scenes; packages render/pdf and render/svg write them to files.
package scene

import (
	"fmt"
	"strings"

	"panelwright/label/font"
)

// Um is a length in micrometres.
type Um int64

// Lengths to multiply by.
const (
	Mm   Um = 1000
	Inch Um = 25400
)

// String returns the length in millimetres, such as "2.5 mm".
func (u Um) String() string {
	sign := ""
	if u < 0 {
		sign, u = "-", -u
	}
	s := fmt.Sprintf("%s%d.%03d", sign, u/Mm, u%Mm)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".") + " mm"
}

// Scene is one drawing of a size of its own: one label, or one page.
type Scene struct {
	W, H  Um
	Title string
	Lang  string // of the document, such as "en"; "" if it has none
	Die   Path   // the outline of the label with its holes, never drawn; zero for a page
	Bleed Um     // by how much items may reach beyond the edge, to be cut off; 0 for none
	Folds []Fold // where it is to be folded, never drawn
	Items []Item
}

// Fold is a straight crease from one point to another.
type Fold struct{ A, B Point }

// Item is a *Text, a *Path or an *Image.
type Item interface{ item() }

func (*Text) item()  {}
func (*Path) item()  {}
func (*Image) item() {}

// Image is a picture made of dots, drawn to fill a box.
type Image struct {
	Box    Rect
	Format string // "png" or "jpeg"
	Data   []byte // the file
	Name   string // unique to the data
	Alt    string // what it shows, for readers that speak
	Turned bool   // drawn upside down

	Quarter bool // drawn a further quarter turn to the left, to fill the box
}

// Text is one line of text in one face, size and ink.
type Text struct {
	Face   *font.Face
	Size   Um // of the em
	X, Y   Um // start of the baseline
	Glyphs []font.Glyph
	Ink    Ink
	Mark   *Mark // what it is there for; nil for plain text
	Space  bool  // a space parts it from the next line of its statement, for whoever copies the words out
	Turned bool  // upside down: runs to the left of (X, Y), its head towards the foot of the drawing

	Quarter bool // a further quarter turn to the left: runs upwards from (X, Y), or downwards if Turned too
}

// String returns the text.
func (t *Text) String() string { return font.String(t.Glyphs) }

// Width returns the width of the text, rounded up.
func (t *Text) Width() Um {
	return ceil(Um(font.Width(t.Glyphs))*t.Size, Um(t.Face.UnitsPerEm()))
}

// Bounds returns the smallest box around the ink of the text.
func (t *Text) Bounds() Rect {
	e, upem := t.Face.Extent(t.Glyphs), Um(t.Face.UnitsPerEm())
	if t.Quarter && t.Turned {
		return Rect{
			Left:   t.X + floor(Um(e.Bottom)*t.Size, upem),
			Right:  t.X + ceil(Um(e.Top)*t.Size, upem),
			Top:    t.Y + floor(Um(e.Left)*t.Size, upem),
			Bottom: t.Y + ceil(Um(e.Right)*t.Size, upem),
		}
	}
	if t.Quarter {
		return Rect{
			Left:   t.X - ceil(Um(e.Top)*t.Size, upem),
			Right:  t.X - floor(Um(e.Bottom)*t.Size, upem),
			Top:    t.Y - ceil(Um(e.Right)*t.Size, upem),
			Bottom: t.Y - floor(Um(e.Left)*t.Size, upem),
		}
	}
	if t.Turned {
		return Rect{
			Left:   t.X - ceil(Um(e.Right)*t.Size, upem),
			Right:  t.X - floor(Um(e.Left)*t.Size, upem),
			Top:    t.Y + floor(Um(e.Bottom)*t.Size, upem),
			Bottom: t.Y + ceil(Um(e.Top)*t.Size, upem),
		}
	}
	return Rect{
		Left:   t.X + floor(Um(e.Left)*t.Size, upem),
		Right:  t.X + ceil(Um(e.Right)*t.Size, upem),
		Top:    t.Y - ceil(Um(e.Top)*t.Size, upem),
		Bottom: t.Y - floor(Um(e.Bottom)*t.Size, upem),
	}
}

// Mark says which statement a text belongs to, and the height of letters that the law asks of it and that
// the outlines have. It is shared by the texts of one statement.
type Mark struct {
	Statement string // kind of the statement in words, such as "ingredients"
	Lang      string
	On        font.Measure // what the heights are measured on
	MinHeight Um           // 0 where no rule sets one
	Height    Um           // measured on the outline, rounded down
	Rule      string       // the rule in words
	Source    string       // where it stands
}

// Path is an outline that is filled, stroked, or both.
type Path struct {
	Segments []Segment
	Fill     *Ink
	Stroke   *Ink
	Width    Um    // of the stroke, centred on the outline
	Pen      Pen   // how the stroke ends and turns
	Holes    bool  // the fill leaves out what lies inside an even number of contours, however they run
	Mark     *Mark // of a symbol whose height the law sets; nil for all others
	Behind   bool  // part of the background: texts may stand on it

	// Alt says in words what a symbol shows, for readers that speak; "" for decoration. Paths that follow each
	// other with the same words are one symbol.
	Alt string
}

// Op is a step of a path.
type Op uint8

const (
	MoveTo  Op = iota // to P[0], beginning a new contour
	LineTo            // to P[0]
	CurveTo           // a cubic curve by control points P[0] and P[1] to P[2]
	Close             // back to where the contour began
)

// Segment is a step of a path with its points.
type Segment struct {
	Op Op
	P  [3]Point
}

// Point is a place on the drawing.
type Point struct{ X, Y Um }

// Ink is a printing ink in percent of cyan, magenta, yellow and black.
type Ink struct{ C, M, Y, K uint8 }

// Black is pure black: no other ink under it that could misregister and blur small letters.
var Black = Ink{K: 100}

// Rect is a box; Left <= Right and Top <= Bottom.
type Rect struct{ Left, Top, Right, Bottom Um }

// Overlaps reports whether the insides of two boxes share a point.
func (r Rect) Overlaps(s Rect) bool {
	return r.Left < s.Right && s.Left < r.Right && r.Top < s.Bottom && s.Top < r.Bottom
}

// floor returns a/b rounded down, for b > 0.
func floor(a, b Um) Um {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// ceil returns a/b rounded up, for b > 0.
func ceil(a, b Um) Um { return -floor(-a, b) }
