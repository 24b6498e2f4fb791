package picture

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"panelwright/label/scene"
)

// unit is how many parts a unit of a drawing has here.
const unit = 10000

// drawing reads the part of SVG that a logo needs: paths, polygons, rectangles, circles and ellipses with plain
// colours, in groups without transforms. What else the file holds is an error that names it, since leaving it
// out would print another logo.
func (p *Picture) drawing() error {
	d := xml.NewDecoder(bytes.NewReader(p.data))
	var inks []paint
	top := paint{fill: &scene.Ink{K: 100}, width: unit}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return fmt.Errorf("cannot be read as a drawing: %w", err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			now := top
			if len(inks) > 0 {
				now = inks[len(inks)-1]
			}
			name := t.Name.Local
			if name == "title" || name == "desc" || name == "metadata" {
				if err := d.Skip(); err != nil {
					return fmt.Errorf("cannot be read as a drawing: %w", err)
				}
				continue
			}
			if err := p.element(name, attributes(t), &now); err != nil {
				line, _ := d.InputPos()
				return fmt.Errorf("line %d, <%s>: %w", line, name, err)
			}
			inks = append(inks, now)
		case xml.EndElement:
			inks = inks[:len(inks)-1]
		}
	}
	if p.W == 0 {
		return fmt.Errorf("is no SVG drawing")
	}
	if len(p.paths) == 0 {
		return fmt.Errorf("draws nothing")
	}
	return nil
}

// paint is how shapes are painted where they do not say otherwise themselves.
type paint struct {
	fill, stroke *scene.Ink
	width        int64
}

func attributes(t xml.StartElement) map[string]string {
	all := map[string]string{}
	for _, a := range t.Attr {
		all[a.Name.Local] = strings.TrimSpace(a.Value)
	}
	for _, part := range strings.Split(all["style"], ";") {
		if k, v, ok := strings.Cut(part, ":"); ok {
			all[strings.TrimSpace(k)] = strings.TrimSpace(v)
		}
	}
	return all
}

// element reads one element.
func (p *Picture) element(name string, a map[string]string, now *paint) error {
	for _, bad := range []string{"transform", "clip-path", "mask", "filter", "opacity"} {
		if v := a[bad]; v != "" && !(bad == "opacity" && v == "1") {
			return fmt.Errorf("%s is not understood; let the drawing program flatten it", bad)
		}
	}
	if err := now.read(a); err != nil {
		return err
	}
	var segments []scene.Segment
	var err error
	switch name {
	case "svg":
		return p.viewBox(a)
	case "g":
		return nil
	case "path":
		segments, err = pathData(a["d"])
	case "polygon", "polyline":
		segments, err = pathData("M" + a["points"])
		if err == nil && name == "polygon" {
			segments = append(segments, scene.Segment{Op: scene.Close})
		}
	case "rect":
		var n []int64
		if n, err = lengths(a, "x", "y", "width", "height", "rx"); err == nil {
			segments = scene.Rounded(scene.Rect{Left: scene.Um(n[0]), Top: scene.Um(n[1]), Right: scene.Um(n[0] + n[2]), Bottom: scene.Um(n[1] + n[3])}, scene.Um(n[4]))
		}
	case "circle":
		var n []int64
		if n, err = lengths(a, "cx", "cy", "r"); err == nil {
			segments = scene.Oval(scene.Point{X: scene.Um(n[0]), Y: scene.Um(n[1])}, scene.Um(n[2]), scene.Um(n[2]), 0)
		}
	case "ellipse":
		var n []int64
		if n, err = lengths(a, "cx", "cy", "rx", "ry"); err == nil {
			segments = scene.Oval(scene.Point{X: scene.Um(n[0]), Y: scene.Um(n[1])}, scene.Um(n[2]), scene.Um(n[3]), 0)
		}
	default:
		return fmt.Errorf("this cannot be printed; let the drawing program turn everything into paths")
	}
	if err != nil {
		return err
	}
	if p.W == 0 {
		return fmt.Errorf("it stands outside <svg>")
	}
	if len(segments) > 0 && (now.fill != nil || now.stroke != nil) {
		for i := range segments {
			for j := range segments[i].P {
				segments[i].P[j].X -= p.corner.X
				segments[i].P[j].Y -= p.corner.Y
			}
		}
		p.paths = append(p.paths, scene.Path{Segments: segments, Fill: now.fill, Stroke: now.stroke, Width: scene.Um(now.width)})
	}
	return nil
}

// read takes the colours an element states.
func (now *paint) read(a map[string]string) error {
	if v := a["fill"]; v != "" {
		ink, err := Ink(v)
		if err != nil {
			return fmt.Errorf("fill: %w", err)
		}
		now.fill = ink
	}
	if v := a["stroke"]; v != "" {
		ink, err := Ink(v)
		if err != nil {
			return fmt.Errorf("stroke: %w", err)
		}
		now.stroke = ink
	}
	if v := a["stroke-width"]; v != "" {
		w, err := length(v)
		if err != nil {
			return fmt.Errorf("stroke-width: %w", err)
		}
		now.width = w
	}
	return nil
}

// viewBox reads the frame of the drawing.
func (p *Picture) viewBox(a map[string]string) error {
	box := a["viewBox"]
	if box == "" {
		box = "0 0 " + a["width"] + " " + a["height"]
	}
	f := strings.FieldsFunc(box, func(r rune) bool { return r == ' ' || r == ',' })
	if len(f) != 4 {
		return fmt.Errorf("it states no viewBox")
	}
	var n [4]int64
	for i := range f {
		v, err := length(f[i])
		if err != nil {
			return fmt.Errorf("viewBox: %w", err)
		}
		n[i] = v
	}
	if n[2] <= 0 || n[3] <= 0 {
		return fmt.Errorf("its viewBox is empty")
	}
	p.W, p.H = n[2], n[3]
	p.corner = scene.Point{X: scene.Um(n[0]), Y: scene.Um(n[1])}
	return nil
}

func lengths(a map[string]string, names ...string) ([]int64, error) {
	out := make([]int64, len(names))
	for i, name := range names {
		if a[name] == "" {
			continue
		}
		v, err := length(a[name])
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		out[i] = v
	}
	return out, nil
}

// length reads a number, with px after it or not, in parts of a unit.
func length(s string) (int64, error) {
	v, err := strconv.ParseFloat(strings.TrimSuffix(s, "px"), 64)
	if err != nil || v > 1e6 || v < -1e6 {
		return 0, fmt.Errorf("%q is no length in units of the drawing", s)
	}
	return int64(v * unit), nil
}
