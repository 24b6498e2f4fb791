package picture

import (
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"

	"panelwright/label/scene"
)

// paint is how shapes are painted, and where, unless they say otherwise themselves.
type paint struct {
	fill, stroke *scene.Ink
	colour       *scene.Ink // what currentColor stands for
	width        float64    // of the stroke, in units of the shape
	pen          scene.Pen
	holes        bool
	hidden       bool
	matrix       matrix
}

// own are the attributes that an element reads for itself, by its name.
var own = map[string]string{
	"svg": " viewBox width height x y preserveAspectRatio version baseProfile zoomAndPan ", "path": " d pathLength ", "polygon": " points ", "polyline": " points ",
	"line": " x1 y1 x2 y2 ", "rect": " x y width height rx ry ", "circle": " cx cy r ", "ellipse": " cx cy rx ry ",
}

// painting are the attributes that [paint.read] reads.
const painting = " fill stroke stroke-width fill-rule stroke-linecap stroke-linejoin color visibility display transform "

// plain are attributes that are understood where they have the value that changes nothing.
var plain = map[string]string{
	"opacity": "1", "fill-opacity": "1", "stroke-opacity": "1", "clip-path": "none", "mask": "none", "filter": "none",
	"stroke-dasharray": "none", "stroke-miterlimit": strconv.Itoa(scene.MiterLimit), "marker": "none", "marker-start": "none", "marker-mid": "none",
	"marker-end": "none", "mix-blend-mode": "normal", "paint-order": "normal", "vector-effect": "none", "solid-opacity": "1",
	"stroke-alignment": "center", "clip": "auto",
}

// mute are the beginnings of attributes that say nothing of how a shape looks: names, notes, and what concerns words,
// gradients and speed of drawing.
var mute = []string{"id", "class", "style", "role", "tabindex", "lang", "aria-", "data-", "font", "text-", "letter-", "word-", "line-", "writing-",
	"direction", "white-space", "unicode-bidi", "baseline-", "dominant-", "alignment-", "block-progression", "inline-size", "shape-", "image-", "color-", "clip-rule",
	"stop-", "flood-", "lighting-", "solid-color", "pointer-events", "cursor", "isolation", "overflow", "enable-background", "stroke-dashoffset", "-inkscape", "-moz-", "-webkit-", "focusable"}

// attributes returns those of an element, with those written as style. One that is not understood and would change
// the drawing is an error.
func attributes(t xml.StartElement, name string) (map[string]string, error) {
	all := map[string]string{}
	var order []string
	set := func(k, v string) {
		if _, ok := all[k]; !ok {
			order = append(order, k)
		}
		all[k] = strings.TrimSpace(v)
	}
	style := ""
	for _, a := range t.Attr {
		switch {
		case a.Name.Space != "" && a.Name.Space != space, a.Name.Local == "xmlns":
		case a.Name.Local == "style":
			style = a.Value
		default:
			set(a.Name.Local, a.Value)
		}
	}
	for _, part := range strings.Split(style, ";") {
		k, v, ok := strings.Cut(part, ":")
		if !ok && strings.TrimSpace(part) != "" {
			return nil, fmt.Errorf("style: %q is no pair of a name and a value", strings.TrimSpace(part))
		}
		if ok {
			set(strings.TrimSpace(k), v) // what stands in style comes before attributes
		}
	}
	for _, k := range order {
		if !understood(name, k, all[k]) {
			return nil, fmt.Errorf("%s %q is not understood; let the drawing program flatten it", k, all[k])
		}
	}
	return all, nil
}

// understood reports whether an attribute is read, or changes nothing.
func understood(name, k, v string) bool {
	if strings.Contains(own[name]+painting, " "+k+" ") {
		return true
	}
	if same, ok := plain[k]; ok {
		n, err := strconv.ParseFloat(v, 64)
		return v == same || err == nil && strconv.FormatFloat(n, 'f', -1, 64) == same
	}
	for _, m := range mute {
		if k == m || strings.HasSuffix(m, "-") && strings.HasPrefix(k, m) || m == "font" && strings.HasPrefix(k, m) {
			return true
		}
	}
	return false
}

// read takes the colours, the pen and the place that an element states.
func (now *paint) read(a map[string]string) error {
	if v := a["transform"]; v != "" {
		m, err := transform(v)
		if err != nil {
			return fmt.Errorf("transform: %w", err)
		}
		now.matrix = now.matrix.times(m)
	}
	for _, c := range []struct {
		name string
		to   **scene.Ink
	}{{"color", &now.colour}, {"fill", &now.fill}, {"stroke", &now.stroke}} {
		switch v := a[c.name]; {
		case v == "" || v == "inherit":
		case strings.EqualFold(v, "currentColor"):
			*c.to = now.colour
		default:
			ink, err := Ink(v)
			if err != nil {
				return fmt.Errorf("%s: %w", c.name, err)
			}
			*c.to = ink
		}
	}
	if v := a["stroke-width"]; v != "" {
		w, err := length(v)
		if err != nil || w < 0 {
			return fmt.Errorf("stroke-width: %q is no width", v)
		}
		now.width = w
	}
	if err := choose(a, "stroke-linecap", map[string]scene.Cap{"butt": scene.ButtCap, "round": scene.RoundCap, "square": scene.SquareCap}, &now.pen.Cap); err != nil {
		return err
	}
	if err := choose(a, "stroke-linejoin", map[string]scene.Join{"miter": scene.MiterJoin, "round": scene.RoundJoin, "bevel": scene.BevelJoin}, &now.pen.Join); err != nil {
		return err
	}
	if err := choose(a, "fill-rule", map[string]bool{"nonzero": false, "evenodd": true}, &now.holes); err != nil {
		return err
	}
	return choose(a, "visibility", map[string]bool{"visible": false, "hidden": true, "collapse": true}, &now.hidden)
}

// choose reads an attribute that is one of a few words.
func choose[T any](a map[string]string, name string, words map[string]T, to *T) error {
	v := a[name]
	if v == "" || v == "inherit" {
		return nil
	}
	w, ok := words[v]
	if !ok {
		return fmt.Errorf("%s %q is not understood", name, v)
	}
	*to = w
	return nil
}

// lengths reads attributes that are lengths; 0 for those that are not stated.
func lengths(a map[string]string, names ...string) ([]float64, error) {
	out := make([]float64, len(names))
	for i, name := range names {
		if a[name] == "" || a[name] == "auto" {
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

// length reads a number, with px after it or not, in units of the drawing.
func length(s string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSuffix(s, "px"), 64)
	if err != nil || !(math.Abs(v) <= most) {
		return 0, fmt.Errorf("%q is no length in units of the drawing", s)
	}
	return v, nil
}
