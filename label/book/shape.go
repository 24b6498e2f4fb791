package book

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula/exact"
	"panelwright/formula/quantity"
	"panelwright/label"
	"panelwright/label/market"
)

// shapes are the words for the outline of a label and how many lengths each
// has. Those of a card are the lengths of one of its panels.
var shapes = []struct {
	word    string
	kind    label.ShapeKind
	lengths int
	example string
}{
	{"round", label.Round, 1, "round 64 mm"},
	{"band", label.Band, 2, "band 210 x 50 mm"},
	{"rectangle", label.Rectangle, 2, "rectangle 90 x 55 mm"},
	{"rounded", label.Rounded, 2, "rounded 90 x 55 mm"},
	{"oval", label.Oval, 2, "oval 90 x 60 mm"},
	{"wrap", label.Wrap, 1, "wrap 50 mm"}, // the height alone; the length follows from the pack
	{"lid", label.Round, 1, "lid 60 mm"},
	{"side", label.Band, 2, "side 188 x 40 mm"},
	{"tag", label.HangTag, 2, "tag 50 x 90 mm"},
	{"folded", label.Folded, 2, "folded 60 x 90 mm"},
	{"booklet", label.Booklet, 2, "booklet 60 x 90 mm"},
	{"topper", label.Topper, 2, "topper 80 x 45 mm"},
}

// longWords are what some shapes are called in full.
var longWords = strings.NewReplacer("belly band", "wrap", "hang tag", "tag", "folded card", "folded", "bag topper", "topper", "jar lid", "lid")

// Bounds of a printed label, in micrometres: 3 mm and 2 m.
const (
	leastLabel = 3_000
	mostLabel  = 2_000_000
)

// overlap is how much of a wrap is glued under itself where nothing else is
// said. Common practice, no source.
const overlap = 10_000

// shape reads the outline of a label with its measurements.
func (p *page) shape(n *yaml.Node) label.Shape {
	s, ok := p.text(n, "the label")
	if !ok {
		return label.Shape{}
	}
	plain := strings.ToLower(strings.Join(strings.Fields(s), " "))
	word, rest, _ := strings.Cut(longWords.Replace(plain), " ")
	var words []string
	for _, sh := range shapes {
		words = append(words, sh.word)
		if word != sh.word {
			continue
		}
		out := label.Shape{Kind: sh.kind, Text: s, Pos: p.at(n)}
		if sh.kind == label.Wrap {
			return p.wrapHeight(n, out, rest)
		}
		all, err := quantity.ParseLengths(rest)
		if err != nil {
			p.quantityError("book.label", n, err)
			return label.Shape{}
		}
		if len(all) != sh.lengths {
			p.fail("book.label", n, fmt.Sprintf("“%s”: a %s label has %s, not %d", clip(s), sh.word, [...]string{1: "one measurement", 2: "two measurements"}[sh.lengths], len(all)), "write it as in "+sh.example)
			return label.Shape{}
		}
		out.W, out.H = micrometres(all[0]), micrometres(all[len(all)-1])
		switch sh.kind {
		case label.Folded, label.Booklet:
			out.W *= 2
		case label.Topper:
			out.H *= 2
		}
		if !p.sized(n, out) {
			return label.Shape{}
		}
		return out
	}
	p.fail("book.label", n, fmt.Sprintf("“%s” is not a known shape of label", clip(s)),
		did(nearest(word, words), "write one of "+strings.Join(words, ", ")+" and its measurements, as in round 64 mm"))
	return label.Shape{}
}

func (p *page) sized(n *yaml.Node, s label.Shape) bool {
	if min(s.W, s.H) < leastLabel || max(s.W, s.H) > mostLabel {
		p.fail("book.label", n, fmt.Sprintf("“%s” is no size of a label", clip(s.Text)), "write its measurements, from 3 mm to 2 m")
		return false
	}
	return true
}

// wrapHeight reads the height of a wrap and its overlap, either of which may be
// left out: wrap, wrap 50 mm, wrap 50 mm overlap 8 mm.
func (p *page) wrapHeight(n *yaml.Node, out label.Shape, rest string) label.Shape {
	high, lap, lapped := strings.Cut(rest, "overlap")
	out.Overlap = overlap
	for _, part := range []struct {
		text string
		to   *int64
		due  bool
	}{{strings.Trim(high, " ,"), &out.H, false}, {strings.TrimSpace(lap), &out.Overlap, lapped}} {
		if part.text == "" && !part.due {
			continue
		}
		all, err := quantity.ParseLengths(part.text)
		if err != nil {
			p.quantityError("book.label", n, err)
			return label.Shape{}
		}
		if len(all) != 1 {
			p.fail("book.label", n, fmt.Sprintf("“%s”: a wrap has one measurement, its height; its length follows from the pack", clip(out.Text)), "write it as in wrap 50 mm")
			return label.Shape{}
		}
		*part.to = micrometres(all[0])
	}
	return out
}

// wrap works out how long a wrap round the body must be. A wrap without a height
// covers the whole side of the pack.
func (p *page) wrap(n *yaml.Node, s *label.Shape, body market.Body) {
	if s.Kind != label.Wrap {
		return
	}
	around, high := int64(0), int64(0)
	dims := []int64{body.A, body.B, body.C}
	switch body.Kind {
	case market.Bar: // round the length and the thickness, the largest face in front
		slices.Sort(dims)
		around, high = 2*(dims[2]+dims[0]), dims[1]
	case market.Box:
		around, high = 2*(body.A+body.C), body.B
	case market.Cylinder, market.Jar, market.Tin, market.Tube:
		around, high = round(body.A), body.B
	case market.Ball:
		around = round(body.A)
	case market.NoBody:
		if !p.torn[n] {
			p.fail("book.label", n, "a wrap is as long as the pack is round, and the pack is not measured", "write it as in pack: bar 80 x 55 x 25 mm")
		}
	default:
		p.fail("book.label", n, fmt.Sprintf("a wrap goes round a bar, box, ball, tin, jar, tube or cylinder, not round a %s", body.Kind), "name another shape of label")
	}
	switch {
	case around == 0:
	case s.H == 0 && high == 0:
		p.fail("book.label", n, "how high the wrap is does not follow from a ball", "write it, as in wrap 40 mm")
	case high > 0 && s.H > high:
		p.fail("book.label", n, fmt.Sprintf("“%s” is higher than the side it goes round, which has %s mm", clip(s.Text), exact.Frac(high, 1000)), "make it lower, or measure the pack again")
	default:
		if s.H == 0 {
			s.H = high
		}
		s.W = around + s.Overlap
		if p.sized(n, *s) {
			return
		}
	}
	*s = label.Shape{}
}

// round returns the circumference of a circle, rounded up to a micrometre: 355/113
// is more than pi, by a tenth of a millionth.
func round(diameter int64) int64 { return (diameter*355 + 112) / 113 }

// upTo reads one length of at most so many micrometres.
func (p *page) upTo(n *yaml.Node, what string, most int64) (int64, bool) {
	s, ok := p.text(n, what)
	if !ok {
		return 0, false
	}
	all, err := quantity.ParseLengths(s)
	if err != nil {
		p.quantityError("book.length", n, err)
		return 0, false
	}
	if um := micrometres(all[0]); len(all) == 1 && um <= most {
		return um, true
	}
	p.fail("book.length", n, fmt.Sprintf("%s is written as “%s”", what, clip(s)), fmt.Sprintf("write one length of at most %s mm", exact.Frac(most, 1000)))
	return 0, false
}
