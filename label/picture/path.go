package picture

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"panelwright/label/scene"
)

// spot is a place on a drawing, in its own units.
type spot struct{ x, y float64 }

// outline is what a shape or a path draws, in the units of the drawing.
type outline struct {
	steps []step
	pen   spot
	start spot // of the contour that is being drawn
}

type step struct {
	op scene.Op
	p  [3]spot
}

func (o *outline) move(to spot) {
	o.steps = append(o.steps, step{scene.MoveTo, [3]spot{to}})
	o.pen, o.start = to, to
}

func (o *outline) line(to spot) {
	o.reopen()
	o.steps = append(o.steps, step{scene.LineTo, [3]spot{to}})
	o.pen = to
}

func (o *outline) cubic(c1, c2, to spot) {
	o.reopen()
	o.steps = append(o.steps, step{scene.CurveTo, [3]spot{c1, c2, to}})
	o.pen = to
}

// quadratic draws a curve with one control point, which is a cubic one with both at two thirds of the way to it.
func (o *outline) quadratic(c, to spot) {
	third := func(a spot) spot { return spot{a.x + (c.x-a.x)*2/3, a.y + (c.y-a.y)*2/3} }
	o.cubic(third(o.pen), third(to), to)
}

func (o *outline) close() {
	o.steps = append(o.steps, step{op: scene.Close})
	o.pen = o.start
}

// reopen begins a contour where the one before was closed, as a path may do without saying so.
func (o *outline) reopen() {
	if n := len(o.steps); n > 0 && o.steps[n-1].op == scene.Close {
		o.move(o.pen)
	}
}

// operands is how many numbers each step of a path takes.
var operands = map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7, 'Z': 0}

// pathData reads the steps of a path, large and small letters (SVG 1.1, 8.3).
func pathData(d string) (*outline, error) {
	s := scanner{text: d}
	o := &outline{}
	var control spot
	var op, last byte
	for {
		s.space()
		if s.at == len(s.text) {
			return o, nil
		}
		if _, ok := operands[s.text[s.at]&^0x20]; ok && s.text[s.at] >= 'A' {
			op = s.text[s.at]
			s.at++
		} else if op == 0 || op|0x20 == 'z' {
			return nil, fmt.Errorf("the path has %q where a step is due", s.text[s.at])
		}
		up := op &^ 0x20
		if len(o.steps) == 0 && up != 'M' {
			return nil, fmt.Errorf("a path begins with M")
		}
		n, err := s.operands(up)
		if err != nil {
			return nil, err
		}
		var base spot
		if op >= 'a' {
			base = o.pen
		}
		at := func(i int) spot { return spot{base.x + n[i], base.y + n[i+1]} }
		mirrored := func(of string) spot {
			if strings.IndexByte(of, last) < 0 {
				return o.pen
			}
			return spot{2*o.pen.x - control.x, 2*o.pen.y - control.y}
		}
		switch up {
		case 'M':
			o.move(at(0))
			op-- // from M to L: further pairs are lines
		case 'L':
			o.line(at(0))
		case 'H':
			o.line(spot{base.x + n[0], o.pen.y})
		case 'V':
			o.line(spot{o.pen.x, base.y + n[0]})
		case 'C':
			control = at(2)
			o.cubic(at(0), control, at(4))
		case 'S':
			first := mirrored("CS")
			control = at(0)
			o.cubic(first, control, at(2))
		case 'Q':
			control = at(0)
			o.quadratic(control, at(2))
		case 'T':
			control = mirrored("QT")
			o.quadratic(control, at(0))
		case 'A':
			o.arc(n[0], n[1], n[2], n[3] != 0, n[4] != 0, at(5))
		case 'Z':
			o.close()
		}
		last = up
	}
}

// scanner reads the numbers of a path, which may stand without spaces between them.
type scanner struct {
	text string
	at   int
}

// operands reads the numbers of a step.
func (s *scanner) operands(op byte) (n [7]float64, err error) {
	const large, sweep = 3, 4 // of an arc: each is one figure, 0 or 1
	for i := range operands[op] {
		if op == 'A' && (i == large || i == sweep) {
			n[i], err = s.flag()
		} else {
			n[i], err = s.number()
		}
		if err != nil {
			return n, err
		}
	}
	return n, nil
}

func (s *scanner) space() {
	for s.at < len(s.text) && strings.IndexByte(" ,\t\r\n", s.text[s.at]) >= 0 {
		s.at++
	}
}

func (s *scanner) flag() (float64, error) {
	s.space()
	if s.at == len(s.text) || s.text[s.at] != '0' && s.text[s.at] != '1' {
		return 0, s.fault("0 or 1", s.at)
	}
	s.at++
	return float64(s.text[s.at-1] - '0'), nil
}

func (s *scanner) number() (float64, error) {
	s.space()
	from, point, power := s.at, false, false
	for ; s.at < len(s.text); s.at++ {
		c := s.text[s.at]
		switch {
		case c >= '0' && c <= '9':
		case (c == '-' || c == '+') && (s.at == from || s.text[s.at-1]|0x20 == 'e'):
		case c == '.' && !point && !power:
			point = true
		case c|0x20 == 'e' && s.at > from && !power:
			power = true
		default:
			return s.parse(from)
		}
	}
	return s.parse(from)
}

func (s *scanner) parse(from int) (float64, error) {
	v, err := strconv.ParseFloat(s.text[from:s.at], 64)
	if err != nil || math.Abs(v) > most {
		return 0, s.fault("a number", from)
	}
	return v, nil
}

func (s *scanner) fault(due string, from int) error {
	rest := s.text[from:]
	return fmt.Errorf("there is %q where %s is due", rest[:min(len(rest), 12)], due)
}
