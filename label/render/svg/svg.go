// Package svg writes a scene as an SVG drawing, for screens and cutters.
//
// Letters are drawn as outlines, so that they look the same everywhere, at the same places as in the PDF
// file; each line of text carries its words as a label for readers that speak. The drawing counts in
// micrometres and has the true size in millimetres. Inks are shown in the screen's red, green and blue
// without a colour profile: an impression, while the PDF file holds the inks themselves.
package svg

import (
	"bufio"
	"encoding/base64"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"

	"panelwright/label/scene"
)

// Options says what to draw besides the scene.
type Options struct {
	Watermark string // large and grey across the drawing, behind all else; "" for none
}

// Write writes s to w as one SVG document.
func Write(w io.Writer, s *scene.Scene, o Options) error {
	b := bufio.NewWriter(w)
	wide, high := s.W+2*s.Bleed, s.H+2*s.Bleed
	fmt.Fprintf(b, `<svg xmlns="http://www.w3.org/2000/svg" width="%s" height="%s" viewBox="%d %d %d %d"`,
		millimetres(wide), millimetres(high), -s.Bleed, -s.Bleed, wide, high)
	if s.Lang != "" {
		fmt.Fprintf(b, ` xml:lang="%s"`, escape(s.Lang))
	}
	b.WriteString(">\n")
	title := s.Title
	if o.Watermark != "" {
		title = o.Watermark + ": " + title
	}
	fmt.Fprintf(b, "<title>%s</title>\n", escape(title))
	if o.Watermark != "" {
		mark, err := scene.Watermark(s.W, s.H, o.Watermark)
		if err != nil {
			return err
		}
		path(b, mark, "")
	}
	for _, item := range s.Items {
		switch item := item.(type) {
		case *scene.Text:
			ink := item.Ink
			path(b, &scene.Path{Segments: item.Outlines(), Fill: &ink}, item.String())
		case *scene.Path:
			path(b, item, "")
		case *scene.Image:
			image(b, item)
		}
	}
	b.WriteString("</svg>\n")
	return b.Flush()
}

// image writes a picture with its data.
func image(b *bufio.Writer, m *scene.Image) {
	r := m.Box
	midX, midY, turn := (r.Left+r.Right)/2, (r.Top+r.Bottom)/2, 0
	if m.Turned {
		turn = 180
	}
	if m.Quarter { // about its middle, from where it lay before
		wide, high := r.Bottom-r.Top, r.Right-r.Left
		r = scene.Rect{Left: midX - wide/2, Top: midY - high/2, Right: midX - wide/2 + wide, Bottom: midY - high/2 + high}
		turn += 270
	}
	fmt.Fprintf(b, `<image x="%d" y="%d" width="%d" height="%d" preserveAspectRatio="none"`, r.Left, r.Top, r.Right-r.Left, r.Bottom-r.Top)
	if turn %= 360; turn != 0 {
		fmt.Fprintf(b, ` transform="rotate(%d %d %d)"`, turn, midX, midY)
	}
	fmt.Fprintf(b, " href=\"data:image/%s;base64,%s\"/>\n", m.Format, base64.StdEncoding.EncodeToString(m.Data))
}

// path writes an outline, with the words it stands for, if any.
func path(b *bufio.Writer, p *scene.Path, words string) {
	if len(p.Segments) == 0 {
		return
	}
	b.WriteString("<path")
	if words == "" {
		words = p.Alt
	}
	if words != "" {
		fmt.Fprintf(b, ` role="img" aria-label="%s"`, escape(words))
	}
	fill := "none"
	if p.Fill != nil {
		fill = colour(*p.Fill)
	}
	fmt.Fprintf(b, ` fill="%s"`, fill)
	if p.Stroke != nil {
		fmt.Fprintf(b, ` stroke="%s" stroke-width="%d"`, colour(*p.Stroke), p.Width)
		pen(b, p.Pen)
	}
	if p.Holes {
		b.WriteString(` fill-rule="evenodd"`)
	}
	b.WriteString(` d="`)
	for _, s := range p.Segments {
		switch s.Op {
		case scene.MoveTo:
			points(b, 'M', s.P[:1])
		case scene.LineTo:
			points(b, 'L', s.P[:1])
		case scene.CurveTo:
			points(b, 'C', s.P[:3])
		case scene.Close:
			b.WriteByte('Z')
		}
	}
	b.WriteString("\"/>\n")
}

// pen says how strokes end and turn, where they do not as is usual.
func pen(b *bufio.Writer, p scene.Pen) {
	switch p.Cap {
	case scene.RoundCap:
		b.WriteString(` stroke-linecap="round"`)
	case scene.SquareCap:
		b.WriteString(` stroke-linecap="square"`)
	}
	switch p.Join {
	case scene.RoundJoin:
		b.WriteString(` stroke-linejoin="round"`)
	case scene.BevelJoin:
		b.WriteString(` stroke-linejoin="bevel"`)
	}
}

func points(b *bufio.Writer, op byte, ps []scene.Point) {
	for _, p := range ps {
		b.WriteByte(op)
		op = ' '
		b.Write(strconv.AppendInt(b.AvailableBuffer(), int64(p.X), 10))
		b.WriteByte(' ')
		b.Write(strconv.AppendInt(b.AvailableBuffer(), int64(p.Y), 10))
	}
}

// millimetres returns a length as SVG writes it.
func millimetres(u scene.Um) string { return strings.ReplaceAll(u.String(), " ", "") }

// colour returns the screen's colour for an ink, by the plain formula: each of red, green and blue is what
// its own ink and black let through.
func colour(ink scene.Ink) string {
	through := func(own uint8) int { return (255*(100-int(own))*(100-int(ink.K)) + 5000) / 10000 }
	return fmt.Sprintf("#%02x%02x%02x", through(ink.C), through(ink.M), through(ink.Y))
}

func escape(s string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		return ""
	}
	return b.String()
}
