package layout

import (
	"slices"
	"strings"

	"panelwright/label"
)

// untried works out which steps that the book does not allow would make the copy fit, and which of those it does
// allow could not change anything. Full is a face that does not hold its blocks without any step.
func (d *dressed) untried(c *label.PackCopy, full *face, e *NoRoom) {
	e.Tried = d.steps(c)
	var rest []label.Step
	for _, s := range label.Steps {
		switch tried := slices.Contains(e.Tried, s); {
		case tried && s != label.Narrower && !d.changing(s, c):
			e.Vain = append(e.Vain, s)
		case !tried && (s == label.Narrower || d.changing(s, c)):
			rest = append(rest, s)
		}
	}
	for _, s := range rest {
		if s == label.ShelfNotice && e.Would != nil {
			break // for want of anything else (Regulation (EC) No 1223/2009 Art. 19(3))
		}
		if d.holds(c, full, append(slices.Clip(e.Tried), s)) {
			e.Would = append(e.Would, s)
		}
	}
	if e.Would != nil || !d.holds(c, full, append(slices.Clip(e.Tried), rest...)) {
		return
	}
	for i := len(rest) - 1; i >= 0; i-- { // leave out what it does without, the last resorts first
		less := slices.Delete(slices.Clone(rest), i, i+1)
		if d.holds(c, full, append(slices.Clip(e.Tried), less...)) {
			rest = less
		}
	}
	e.Together = rest
}

// changing reports whether a step can do anything for the copy of the book.
func (d *dressed) changing(step label.Step, c *label.PackCopy) bool {
	t := *d
	t.rung = c.Rungs()
	return len(t.changes(step, c, c)) > 0
}

// holds reports whether the copy fits where steps are allowed, the face full being one that does not without them.
func (d *dressed) holds(c *label.PackCopy, full *face, steps []label.Step) bool {
	t := *d
	t.widest = normal
	if len(steps) > 1 && steps[0] == label.Narrower { // alone it is tried like any other step
		t.widest, steps = widths-1, steps[1:]
	}
	a := attempt{set: c, full: full}
	return t.try(&a, steps, c) == nil && a.full == nil
}

// Cure says what the maker can do: steps that were not tried yet are named only where they would do.
func (e *NoRoom) Cure() string {
	larger := "change label: in the pack"
	if e.Back {
		larger = "change label: or add back: in the pack"
	}
	if e.NeedW == 0 && !e.Back {
		larger = "say less, or name another shape of label"
	}
	would := e.Would
	if e.Back { // is said above
		would = slices.DeleteFunc(slices.Clone(would), func(s label.Step) bool { return s == label.SecondPanel })
	}
	switch {
	case len(would) == 1:
		return larger + ", or add " + would[0].String() + " to if it does not fit: in the book"
	case len(would) > 1:
		return larger + ", or add one of " + words(would, "or") + " to if it does not fit: in the book"
	case e.Would != nil:
		return larger
	case e.Together != nil:
		return larger + ", or add " + words(e.Together, "and") + " together to if it does not fit: in the book"
	}
	tried := "; nothing else that could be tried would do"
	if useful := slices.DeleteFunc(slices.Clone(e.Tried), func(s label.Step) bool { return slices.Contains(e.Vain, s) }); len(useful) > 0 {
		tried = "; " + words(useful, "and") + plural(len(useful), " was tried, and nothing else would do", " were tried, and nothing else would do")
	}
	if e.Vain != nil {
		tried += " (" + words(e.Vain, "and") + " cannot be used here: the law of a market, or the shape or size of the label, is against it)"
	}
	return larger + tried
}

// words lists steps in the words of the book.
func words(steps []label.Step, join string) string {
	var all []string
	for _, s := range steps {
		all = append(all, s.String())
	}
	if n := len(all); n > 1 {
		return strings.Join(all[:n-1], ", ") + " " + join + " " + all[n-1]
	}
	return all[0]
}
