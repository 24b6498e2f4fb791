package weigh

import (
	"fmt"
	"strings"

	"panelwright/formula/exact"
)

// Outlier is a piece that does not look like the others. It is judged all the
// same.
type Outlier struct {
	Index  int // in the order weighed, from 0
	Name   string
	Amount exact.Rat
	Why    string
}

// farFrom is how many s a piece lies from the mean before it is named. With
// fewer than 11 pieces none can: (n - 1) / root n is the most there is.
const farFrom = 3

// outliers names pieces more than farFrom s from the mean, and those that weigh
// less than half or more than twice what is stated, as a slipped decimal point
// makes them.
func (j *judge) outliers() {
	// Both are matters of the ends: between two pieces that are none there is none.
	from, to := 0, j.s.N
	for from < j.s.N && j.odd(j.s.sorted[from]) != "" {
		from++
	}
	for to > from && j.odd(j.s.sorted[to-1]) != "" {
		to--
	}
	if from == 0 && to == j.s.N {
		return
	}
	for i, x := range j.s.net {
		if from < to && j.s.sorted[from].Cmp(x) <= 0 && x.Cmp(j.s.sorted[to-1]) <= 0 {
			continue
		}
		j.out.Outliers = append(j.out.Outliers, Outlier{i, j.w.name(i), x, j.odd(x)})
	}
}

// odd says what is odd about a weight, or "".
func (j *judge) odd(x exact.Rat) string {
	two := exact.Int(2)
	d := x.Sub(j.s.Mean)
	switch {
	case x.Mul(two).Less(j.q) || j.q.Mul(two).Less(x):
		return "less than half or more than twice what is stated: a slipped decimal point?"
	case d.Mul(d).Cmp(exact.Int(farFrom*farFrom).Mul(j.s.Variance)) > 0:
		return fmt.Sprintf("more than %d s from the mean", farFrom)
	}
	return ""
}

// name names a piece by its number, and by its line where it came from a file.
func (w *Weighing) name(i int) string {
	s := fmt.Sprintf("piece %d", i+1)
	if at := w.Figures[i].Where.String(); at != "" {
		s += " (" + at + ")"
	}
	return s
}

// mostNamed is how many pieces are named before the rest is counted.
const mostNamed = 8

// names lists the pieces below limit, as the end of a sentence.
func (j *judge) names(limit exact.Rat) string {
	if j.s.below(limit) == 0 {
		return ""
	}
	var list []string
	n := 0
	for i, x := range j.s.net {
		if x.Less(limit) {
			if n++; n <= mostNamed {
				list = append(list, fmt.Sprintf("%s %s", j.w.name(i), j.of(x)))
			}
		}
	}
	if n > mostNamed {
		list = append(list, fmt.Sprintf("and %d more", n-mostNamed))
	}
	return ": " + strings.Join(list, ", ")
}
