package layout

import (
	"math"

	"panelwright/label/scene"
)

// balance breaks a flow anew into the same number of lines in the same rooms, so that the lines are as even
// as they can be and as few names as possible are broken. It returns lines as given where they are one.
func (f *flow) balance(lines []line, size scene.Um, last ending, loose bool) []line {
	n := len(lines)
	if n < 2 {
		return lines
	}
	first := f.indexOf(lines[0].a)
	cuts := f.cuts[first:]
	const never = math.MaxInt64 / 4
	// cost[k][j] is the least cost of lines up to k, line k ending at cut j; from[k][j] is where it starts.
	cost := make([]int64, n*len(cuts))
	from := make([]int32, n*len(cuts))
	for i := range cost {
		cost[i] = never
	}
	// A broken name is as bad as a line as empty as one may be to keep it whole, or half that where names may
	// be broken.
	broken := 100 - f.whole
	if loose {
		broken /= 2
	}
	for k := range n {
		wide := lines[k].right - lines[k].left
		units := int64(wide) * f.upem / int64(size)
		for i := -1; i < len(cuts); i++ { // line k starts after cut i
			so := int64(0)
			a := lines[0].a
			switch {
			case i < 0 && k > 0 || i >= 0 && k == 0:
				continue
			case i >= 0:
				if so = cost[(k-1)*len(cuts)+i]; so >= never {
					continue
				}
				a = cuts[i].next
			}
			for j := i + 1; j < len(cuts); j++ {
				u := f.units(a, cuts[j].end)
				if u > units {
					break
				}
				slack := (units - u) * int64(size) / f.upem
				pay := slack * slack
				if cuts[j].inside {
					gap := int64(wide) * broken / 100
					pay += gap * gap
				}
				if j == len(cuts)-1 && k == n-1 {
					pay = last.cost(slack, int64(wide))
				}
				if c := so + pay; c < cost[k*len(cuts)+j] {
					cost[k*len(cuts)+j], from[k*len(cuts)+j] = c, int32(i)
				}
			}
		}
	}
	j := len(cuts) - 1
	if cost[(n-1)*len(cuts)+j] >= never {
		return lines
	}
	out := append([]line(nil), lines...)
	for k := n - 1; k >= 0; k-- {
		i := int(from[k*len(cuts)+j])
		out[k].b, out[k].inside = cuts[j].end, cuts[j].inside
		out[k].a = lines[0].a
		if i >= 0 {
			out[k].a = cuts[i].next
		}
		j = i
	}
	return out
}

// ending is how much the last line of a text may fall short of the others.
type ending uint8

const (
	flush   ending = iota // as in a paragraph: as much as it likes, unless it is a mere remnant
	centred               // less, since both its ends show
	heading               // no more than the others: the words of a name are parted evenly
)

// cost returns what a slack in the last line costs.
func (e ending) cost(slack, wide int64) int64 {
	switch {
	case e == heading:
		return slack * slack
	case e == centred || slack*100 > wide*75:
		return slack * slack / 2
	}
	return 0
}

// ending returns how the text of a block ends in the column.
func (c *column) ending(b *block) ending {
	switch {
	case b.role <= roleIdentity:
		return heading
	case c.centred:
		return centred
	}
	return flush
}

// indexOf returns the index of the first cut that ends a line beginning at glyph a.
func (f *flow) indexOf(a int) int {
	for i, c := range f.cuts {
		if c.end > a {
			return i
		}
	}
	return len(f.cuts) - 1
}
