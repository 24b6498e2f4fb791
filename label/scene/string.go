package scene

import (
	"fmt"
	"strings"
)

// String lists the scene line by line, for reading and for comparing: sizes and places in micrometres.
func (s *Scene) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "scene %d x %d %q %s\n", s.W, s.H, s.Title, s.Lang)
	for _, item := range s.Items {
		switch item := item.(type) {
		case *Text:
			if item.Turned {
				b.WriteString("turned ")
			}
			if item.Quarter {
				b.WriteString("quarter ")
			}
			fmt.Fprintf(&b, "text %6d %6d  %5d %s %v %q", item.X, item.Y, item.Size, item.Face.Name(), item.Ink, item)
			if m := item.Mark; m != nil {
				fmt.Fprintf(&b, "  %s: %v %d", m.Statement, m.On, m.Height)
				if m.MinHeight > 0 {
					fmt.Fprintf(&b, " of %d", m.MinHeight)
				}
			}
			b.WriteByte('\n')
		case *Path:
			b.WriteString("path ")
			if item.Behind {
				b.WriteString("behind ")
			}
			fmt.Fprintf(&b, "%v", item.Bounds())
			if item.Fill != nil {
				fmt.Fprintf(&b, " fill %v", *item.Fill)
			}
			if item.Stroke != nil {
				fmt.Fprintf(&b, " stroke %d %v", item.Width, *item.Stroke)
			}
			fmt.Fprintf(&b, " %s", ops(item.Segments))
			if m := item.Mark; m != nil {
				fmt.Fprintf(&b, "  %s: %d of %d", m.Statement, m.Height, m.MinHeight)
			}
			b.WriteByte('\n')
		case *Image:
			fmt.Fprintf(&b, "image %s %q %v\n", item.Format, item.Name, item.Box)
		}
	}
	return b.String()
}

// String returns the ink as its percentages, such as "K100" or "C60 M10 Y55 K45".
func (i Ink) String() string {
	var parts []string
	for _, p := range []struct {
		name    string
		percent uint8
	}{{"C", i.C}, {"M", i.M}, {"Y", i.Y}, {"K", i.K}} {
		if p.percent > 0 {
			parts = append(parts, fmt.Sprintf("%s%d", p.name, p.percent))
		}
	}
	if parts == nil {
		return "none"
	}
	return strings.Join(parts, " ")
}

// ops returns the steps of a path as letters.
func ops(segments []Segment) string {
	b := make([]byte, len(segments))
	for i, s := range segments {
		b[i] = "mlch"[s.Op]
	}
	return string(b)
}
