package picture

import (
	"fmt"
	"math"
	"strings"
)

// matrix maps places of a shape to places of the drawing: x' = a x + c y + e, y' = b x + d y + f (SVG 1.1, 7.4).
type matrix struct{ a, b, c, d, e, f float64 }

var unmoved = matrix{a: 1, d: 1}

func (m matrix) at(p spot) spot { return spot{m.a*p.x + m.c*p.y + m.e, m.b*p.x + m.d*p.y + m.f} }

// times returns the matrix that maps by n first and then by m.
func (m matrix) times(n matrix) matrix {
	return matrix{
		m.a*n.a + m.c*n.b, m.b*n.a + m.d*n.b,
		m.a*n.c + m.c*n.d, m.b*n.c + m.d*n.d,
		m.a*n.e + m.c*n.f + m.e, m.b*n.e + m.d*n.f + m.f,
	}
}

// scale returns by how much the matrix enlarges, and whether it does so alike in all directions: else a pen would
// draw thicker one way than the other.
func (m matrix) scale() (by float64, alike bool) {
	by = math.Sqrt(math.Abs(m.a*m.d - m.b*m.c))
	x, y := math.Hypot(m.a, m.b), math.Hypot(m.c, m.d)
	const near = 1e-4
	return by, math.Abs(x-by) <= near*by && math.Abs(y-by) <= near*by
}

// transform reads a list of moves, such as "translate(3 4) rotate(45)", the last one done first.
func transform(list string) (matrix, error) {
	m := unmoved
	for rest := strings.TrimLeft(list, " ,\t\r\n"); rest != ""; {
		name, after, ok := strings.Cut(rest, "(")
		inside, next, closed := strings.Cut(after, ")")
		if !ok || !closed {
			return m, fmt.Errorf("%q is no move", rest)
		}
		one, err := move(strings.TrimSpace(name), inside)
		if err != nil {
			return m, err
		}
		m = m.times(one)
		rest = strings.TrimLeft(next, " ,\t\r\n")
	}
	return m, nil
}

// move returns one move of a list.
func move(name, inside string) (matrix, error) {
	var n []float64
	for s := (scanner{text: inside}); ; {
		if s.space(); s.at == len(s.text) {
			break
		}
		v, err := s.number()
		if err != nil {
			return matrix{}, fmt.Errorf("%s: %w", name, err)
		}
		n = append(n, v)
	}
	const radian = math.Pi / 180
	switch {
	case name == "matrix" && len(n) == 6:
		return matrix{n[0], n[1], n[2], n[3], n[4], n[5]}, nil
	case name == "translate" && len(n) == 1:
		return matrix{a: 1, d: 1, e: n[0]}, nil
	case name == "translate" && len(n) == 2:
		return matrix{a: 1, d: 1, e: n[0], f: n[1]}, nil
	case name == "scale" && len(n) == 1:
		return matrix{a: n[0], d: n[0]}, nil
	case name == "scale" && len(n) == 2:
		return matrix{a: n[0], d: n[1]}, nil
	case name == "rotate" && (len(n) == 1 || len(n) == 3):
		sin, cos := math.Sincos(n[0] * radian)
		turn := matrix{a: cos, b: sin, c: -sin, d: cos}
		if len(n) == 3 {
			turn = matrix{a: 1, d: 1, e: n[1], f: n[2]}.times(turn).times(matrix{a: 1, d: 1, e: -n[1], f: -n[2]})
		}
		return turn, nil
	case name == "skewX" && len(n) == 1:
		return matrix{a: 1, d: 1, c: math.Tan(n[0] * radian)}, nil
	case name == "skewY" && len(n) == 1:
		return matrix{a: 1, d: 1, b: math.Tan(n[0] * radian)}, nil
	}
	return matrix{}, fmt.Errorf("%s(%s) is no move", name, inside)
}
