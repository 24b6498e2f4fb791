package stock

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Cells is a set of cells of one sheet, ascending, each once.
type Cells []int

// ParseCells reads cells of a sheet that has n of them, as in "1-5, 9"; "none" is the empty set.
func ParseCells(text string, n int) (Cells, error) {
	text = strings.NewReplacer("–", "-", "−", "-").Replace(text)
	var out Cells
	if strings.EqualFold(strings.TrimSpace(text), "none") {
		return out, nil
	}
	for part := range strings.SplitSeq(text, ",") {
		first, last, isRange := strings.Cut(part, "-")
		a, err := strconv.Atoi(strings.TrimSpace(first))
		b := a
		if err == nil && isRange {
			b, err = strconv.Atoi(strings.TrimSpace(last))
		}
		if err != nil {
			return nil, fmt.Errorf("%q names no cells; write them as in 1-5,9, or none", strings.TrimSpace(text))
		}
		if a < 1 || b > n || a > b {
			return nil, fmt.Errorf("%q is not on the sheet, which has the cells 1 to %d", strings.TrimSpace(part), n)
		}
		for c := a; c <= b; c++ {
			out = append(out, c)
		}
	}
	slices.Sort(out)
	return slices.Compact(out), nil
}

// Has reports whether cell n is in the set.
func (c Cells) Has(n int) bool {
	_, ok := slices.BinarySearch(c, n)
	return ok
}

// With returns the set with the cells of another added.
func (c Cells) With(more Cells) Cells {
	out := slices.Concat(c, more)
	slices.Sort(out)
	return slices.Compact(out)
}

// Without returns the set with the cells of another taken out.
func (c Cells) Without(less Cells) Cells {
	return slices.DeleteFunc(slices.Clone(c), less.Has)
}

// String returns the cells as in "1-5, 9"; "none" for the empty set.
func (c Cells) String() string {
	if len(c) == 0 {
		return "none"
	}
	var parts []string
	for i := 0; i < len(c); {
		k := i
		for k+1 < len(c) && c[k+1] == c[k]+1 {
			k++
		}
		part := strconv.Itoa(c[i])
		if k > i {
			part += "-" + strconv.Itoa(c[k])
		}
		parts = append(parts, part)
		i = k + 1
	}
	return strings.Join(parts, ", ")
}
