package picture

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"panelwright/label/scene"
)

// unit is how many parts a unit of a drawing has here.
const unit = 10000

// most bounds the numbers in a drawing.
const most = 1e6

// space is the name space of SVG. What stands in another is a drawing program's note to itself.
const space = "http://www.w3.org/2000/svg"

// drawing reads the part of SVG that a logo needs: paths and the basic shapes, in groups, moved and turned, filled
// or stroked in plain colours. What else the file holds is an error that names its line, since leaving it out would
// print another logo.
func (p *Picture) drawing() error {
	d := xml.NewDecoder(bytes.NewReader(p.data))
	within := []paint{{fill: &scene.Ink{K: 100}, colour: &scene.Ink{K: 100}, width: 1, matrix: unmoved}}
	line := 1
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return fmt.Errorf("%s cannot be read as a drawing: %w", p.Name, err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			now := within[len(within)-1]
			skip, err := p.element(t, &now)
			if err == nil && skip {
				err = pass(d, t.Name.Local)
			}
			if err != nil {
				return fmt.Errorf("%s:%d: <%s>: %w", p.Name, line, t.Name.Local, err)
			}
			if !skip {
				within = append(within, now)
			}
		case xml.EndElement:
			within = within[:len(within)-1]
		}
		line, _ = d.InputPos() // where the next one begins
	}
	if p.W == 0 {
		return fmt.Errorf("%s is no SVG drawing", p.Name)
	}
	if len(p.paths) == 0 {
		return fmt.Errorf("%s draws nothing", p.Name)
	}
	return nil
}

// pass goes to the end of an element that is not drawn. A style sheet in it counts all the same.
func pass(d *xml.Decoder, name string) error {
	for depth := 1; depth > 0; {
		token, err := d.Token()
		if err != nil {
			return err
		}
		switch t := token.(type) {
		case xml.StartElement:
			if t.Name.Local == "style" {
				return fmt.Errorf("<style> in it is not understood; let the drawing program write colours into the shapes")
			}
			depth++
		case xml.EndElement:
			depth--
		}
	}
	return nil
}

// element reads one element. It is to be passed over where it draws nothing by itself.
func (p *Picture) element(t xml.StartElement, now *paint) (skip bool, err error) {
	if t.Name.Space != "" && t.Name.Space != space {
		return true, nil
	}
	name := t.Name.Local
	switch name {
	case "title", "desc", "metadata", "defs":
		return true, nil // what is defined is drawn where <use> says so, which is refused
	}
	a, err := attributes(t, name)
	if err != nil {
		return false, err
	}
	if a["display"] == "none" {
		return true, nil
	}
	if err := now.read(a); err != nil {
		return false, err
	}
	if name == "svg" {
		return false, p.viewBox(a)
	}
	if p.W == 0 {
		return false, fmt.Errorf("it stands outside <svg>")
	}
	o, err := shape(name, a)
	if err != nil || o == nil {
		return false, err
	}
	return false, p.add(o, now)
}

// shape returns what an element draws; nil for a group, and for a shape without size.
func shape(name string, a map[string]string) (*outline, error) {
	o := &outline{}
	switch name {
	case "g":
		return nil, nil
	case "path":
		return pathData(a["d"])
	case "polygon", "polyline":
		o, err := pathData("M" + a["points"])
		if err == nil && name == "polygon" {
			o.close()
		}
		return o, err
	case "line":
		n, err := lengths(a, "x1", "y1", "x2", "y2")
		if err != nil {
			return nil, err
		}
		o.move(spot{n[0], n[1]})
		o.line(spot{n[2], n[3]})
	case "rect":
		n, err := lengths(a, "x", "y", "width", "height", "rx", "ry")
		if err != nil {
			return nil, err
		}
		// One radius stands for both (SVG 1.1, 9.2).
		if a["rx"] == "" || a["rx"] == "auto" {
			n[4] = n[5]
		} else if a["ry"] == "" || a["ry"] == "auto" {
			n[5] = n[4]
		}
		if min(n[2], n[3], n[4], n[5]) < 0 {
			return nil, fmt.Errorf("a size is less than nothing")
		}
		if n[2] == 0 || n[3] == 0 {
			return nil, nil
		}
		o.box(n[0], n[1], n[2], n[3], n[4], n[5])
	case "circle", "ellipse":
		n, err := lengths(a, "cx", "cy", "rx", "ry", "r")
		if err != nil {
			return nil, err
		}
		if name == "circle" {
			n[2], n[3] = n[4], n[4]
		}
		if min(n[2], n[3]) < 0 {
			return nil, fmt.Errorf("a radius is less than nothing")
		}
		if n[2] == 0 || n[3] == 0 {
			return nil, nil
		}
		o.ellipse(n[0], n[1], n[2], n[3])
	default:
		return nil, fmt.Errorf("this cannot be printed; let the drawing program turn everything into paths")
	}
	return o, nil
}

// add puts what a shape draws where the drawing has it.
func (p *Picture) add(o *outline, now *paint) error {
	q := scene.Path{Fill: now.fill, Holes: now.holes}
	if now.width > 0 && now.stroke != nil {
		by, alike := now.matrix.scale()
		if !alike {
			return fmt.Errorf("its line is stretched by the transform; let the drawing program turn strokes into shapes")
		}
		q.Stroke, q.Pen = now.stroke, now.pen
		q.Width = scene.Um(math.Round(now.width * by * unit))
	}
	if len(o.steps) == 0 || now.hidden || q.Fill == nil && q.Stroke == nil {
		return nil
	}
	for _, s := range o.steps {
		seg := scene.Segment{Op: s.op}
		for i, at := range s.p {
			if s.op == scene.Close || s.op != scene.CurveTo && i > 0 {
				break
			}
			at = now.matrix.at(at)
			if max(math.Abs(at.x), math.Abs(at.y)) > most {
				return fmt.Errorf("it reaches beyond what can be drawn")
			}
			seg.P[i] = scene.Point{X: scene.Um(math.Round(at.x*unit)) - p.corner.X, Y: scene.Um(math.Round(at.y*unit)) - p.corner.Y}
		}
		q.Segments = append(q.Segments, seg)
	}
	if side := p.outside(&q); side != "" {
		return fmt.Errorf("it reaches over the %s edge of the drawing (viewBox), where a screen cuts it off; crop it in the drawing program", side)
	}
	p.paths = append(p.paths, q)
	return nil
}

// outside returns the edge of the drawing that a path reaches over by more than a hundredth of the drawing, which
// no eye would miss; "" where it does not. A stroke that runs along the edge is printed in its whole width.
func (p *Picture) outside(q *scene.Path) string {
	var ends []scene.Point
	pen := scene.Point{}
	for _, s := range q.Segments {
		switch s.Op {
		case scene.CurveTo:
			const steps = 16
			for i := range scene.Um(steps + 1) {
				u := steps - i
				at := func(a, b, c, d scene.Um) scene.Um {
					return (u*u*u*a + 3*u*u*i*b + 3*u*i*i*c + i*i*i*d) / (steps * steps * steps)
				}
				ends = append(ends, scene.Point{X: at(pen.X, s.P[0].X, s.P[1].X, s.P[2].X), Y: at(pen.Y, s.P[0].Y, s.P[1].Y, s.P[2].Y)})
			}
			pen = s.P[2]
		case scene.MoveTo, scene.LineTo:
			pen = s.P[0]
			ends = append(ends, pen)
		}
	}
	const percent = 100
	w, h := scene.Um(p.W), scene.Um(p.H)
	slack := max(w, h) / percent
	for _, e := range ends {
		switch {
		case e.X < -slack:
			return "left"
		case e.X > w+slack:
			return "right"
		case e.Y < -slack:
			return "top"
		case e.Y > h+slack:
			return "bottom"
		}
	}
	return ""
}

// viewBox reads the frame of the drawing.
func (p *Picture) viewBox(a map[string]string) error {
	if p.W != 0 {
		return fmt.Errorf("a drawing within the drawing is not understood; let the drawing program flatten it")
	}
	if strings.Contains(a["preserveAspectRatio"], "none") || strings.Contains(a["preserveAspectRatio"], "slice") {
		return fmt.Errorf("preserveAspectRatio %q is not understood: the drawing is printed whole, in its own proportions", a["preserveAspectRatio"])
	}
	box := a["viewBox"]
	if box == "" {
		box = "0 0 " + a["width"] + " " + a["height"]
	}
	f := strings.FieldsFunc(box, func(r rune) bool { return strings.ContainsRune(" ,\t\r\n", r) })
	if len(f) != 4 {
		return fmt.Errorf("it states no viewBox")
	}
	var n [4]scene.Um
	for i := range f {
		v, err := length(f[i])
		if err != nil {
			return fmt.Errorf("viewBox: %w", err)
		}
		n[i] = scene.Um(math.Round(v * unit))
	}
	if n[2] <= 0 || n[3] <= 0 {
		return fmt.Errorf("its viewBox is empty")
	}
	p.W, p.H = int64(n[2]), int64(n[3])
	p.corner = scene.Point{X: n[0], Y: n[1]}
	return nil
}
