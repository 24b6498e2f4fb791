package picture

import (
	"fmt"
	"strconv"
	"strings"

	"panelwright/label/scene"
)

// pathData reads the steps of a path: M, L, H, V, C, S, Q, T and Z, large and small. Arcs (A) are refused: a
// drawing program turns them into curves when it saves plain paths.
func pathData(d string) ([]scene.Segment, error) {
	s := scanner{text: d}
	var out []scene.Segment
	var pen, start, control scene.Point
	var last byte
	op := byte(0)
	for {
		s.space()
		if s.at == len(s.text) {
			break
		}
		if c := s.text[s.at]; strings.IndexByte("MmLlHhVvCcSsQqTtZz", c) >= 0 {
			op = c
			s.at++
		} else if c == 'A' || c == 'a' {
			return nil, fmt.Errorf("the path has an arc (A), which is not understood; save it as curves")
		} else if op == 0 || op == 'Z' || op == 'z' {
			return nil, fmt.Errorf("the path has %q where a step is due", c)
		}
		var base scene.Point
		if op >= 'a' {
			base = pen
		}
		up := op &^ 0x20
		var n [6]int64
		for i := range map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2}[up] {
			v, err := s.number()
			if err != nil {
				return nil, err
			}
			n[i] = v
		}
		at := func(i int) scene.Point { return scene.Point{X: base.X + scene.Um(n[i]), Y: base.Y + scene.Um(n[i+1])} }
		mirrored := func(of string) scene.Point {
			if strings.IndexByte(of, last) < 0 {
				return pen
			}
			return scene.Point{X: 2*pen.X - control.X, Y: 2*pen.Y - control.Y}
		}
		curve := func(c1, c2, to scene.Point) {
			out = append(out, scene.Segment{Op: scene.CurveTo, P: [3]scene.Point{c1, c2, to}})
			pen = to
		}
		quad := func(c, to scene.Point) {
			third := func(a, b scene.Point) scene.Point { return scene.Point{X: a.X + (b.X-a.X)*2/3, Y: a.Y + (b.Y-a.Y)*2/3} }
			c1, c2 := third(pen, c), third(to, c)
			curve(c1, c2, to)
			control = c
		}
		line := func(to scene.Point) {
			out = append(out, scene.Segment{Op: scene.LineTo, P: [3]scene.Point{to}})
			pen = to
		}
		if len(out) == 0 && up != 'M' {
			return nil, fmt.Errorf("a path begins with M")
		}
		switch up {
		case 'M':
			pen = at(0)
			start = pen
			out = append(out, scene.Segment{Op: scene.MoveTo, P: [3]scene.Point{pen}})
			op-- // from M to L: further pairs are lines
		case 'L':
			line(at(0))
		case 'H':
			line(scene.Point{X: base.X + scene.Um(n[0]), Y: pen.Y})
		case 'V':
			line(scene.Point{X: pen.X, Y: base.Y + scene.Um(n[0])})
		case 'C':
			control = at(2)
			curve(at(0), at(2), at(4))
		case 'S':
			first := mirrored("CS")
			control = at(0)
			curve(first, at(0), at(2))
		case 'Q':
			quad(at(0), at(2))
		case 'T':
			quad(mirrored("QT"), at(0))
		case 'Z':
			out = append(out, scene.Segment{Op: scene.Close})
			pen = start
		}
		last = up
	}
	return out, nil
}

// scanner reads the numbers of a path, which may stand without spaces between them.
type scanner struct {
	text string
	at   int
}

func (s *scanner) space() {
	for s.at < len(s.text) && strings.IndexByte(" ,\t\r\n", s.text[s.at]) >= 0 {
		s.at++
	}
}

func (s *scanner) number() (int64, error) {
	s.space()
	from, point := s.at, false
	for s.at < len(s.text) {
		switch c := s.text[s.at]; {
		case c >= '0' && c <= '9':
		case (c == '-' || c == '+') && (s.at == from || s.text[s.at-1]|0x20 == 'e'):
		case c == '.' && !point:
			point = true
		case c|0x20 == 'e' && s.at > from:
		default:
			goto done
		}
		s.at++
	}
done:
	v, err := strconv.ParseFloat(s.text[from:s.at], 64)
	if err != nil || v > 1e6 || v < -1e6 {
		rest := s.text[from:]
		return 0, fmt.Errorf("the path has %q where a number is due", rest[:min(len(rest), 12)])
	}
	return int64(v * unit), nil
}
