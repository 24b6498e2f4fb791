package sheet

import (
	"slices"
	"strings"
)

// wholeRow reads a line with figures and what they are of: one row, or several side
// by side.
func (r *reader) wholeRow(i int, toks []token) {
	rows := r.group(toks)
	for _, e := range rows {
		e.at = []int{i}
	}
	// The first name on the line may have begun on the line before.
	if w := r.waiting(); w != nil && len(w.figures) == 0 {
		e := rows[0]
		joined := w.name() + " " + e.name()
		switch {
		case len(e.names) == 0 && len(w.numbers) == 0 && slices.Contains(w.at, i-1), len(w.names) == 0 && len(e.numbers) == 0 && slices.Contains(w.at, i-1):
			e.names, e.numbers = append(w.names, e.names...), append(w.numbers, e.numbers...)
			e.at = append(w.at, i)
			r.pending = r.pending[:len(r.pending)-1]
		case len(w.names) > 0 && len(e.names) > 0 && slices.Contains(w.at, i-1) && !r.identify(w.name()).ok() && r.identify(joined).ok():
			e.names, e.numbers = append(w.names, e.names...), append(w.numbers, e.numbers...)
			e.at = append(w.at, i)
			r.pending = r.pending[:len(r.pending)-1]
		}
	}
	for _, e := range rows {
		if r.isRow(i, e, len(toks)) {
			r.flush()
			r.close(e)
		}
	}
}

// isRow reports whether names and figures on a line are a row of a table, and not
// an address or a sentence with a number in it.
func (r *reader) isRow(i int, e *entry, n int) bool {
	if r.identify(e.name()).ok() || len(e.numbers)+len(e.blurred) > 0 {
		return true
	}
	words := strings.Fields(strings.ToLower(e.name()))
	if len(words) == 0 {
		return slices.ContainsFunc(e.figures, func(t token) bool { return t.sure })
	}
	if notNames[strings.Trim(words[0], ".:")] {
		return false
	}
	if slices.ContainsFunc(e.figures, func(t token) bool { return hasUnit.MatchString(t.text) }) {
		return len(words) <= 8
	}
	return len(words) <= 8 && (r.columnsFrom > 0 && n > 1 || r.suggest(e.name()) != "")
}

// group puts the tokens of a line together into rows. A name or a number that
// comes after a figure begins another row if a figure follows it in turn.
func (r *reader) group(toks []token) (rows []*entry) {
	figureAfter := func(k int) bool {
		return slices.ContainsFunc(toks[k:], func(t token) bool { return t.kind == "figure" })
	}
	e := &entry{}
	for k, t := range toks {
		closed := len(e.figures) > 0 && !onlyEmpty(e.figures) && (len(e.names) > 0 || len(e.numbers) > 0)
		switch t.kind {
		case "name":
			switch {
			case closed && (figureAfter(k) || r.identify(t.text).entry != nil):
				rows, e = append(rows, e), &entry{names: []string{t.text}}
			case closed:
				e.remarks = append(e.remarks, t.text)
			case len(e.names) == 0:
				e.names = []string{t.text}
			case !r.identify(e.name()).ok() && r.identify(e.name()+" "+t.text).ok():
				e.names = append(e.names, t.text)
			case r.identify(e.name()).ok() || !r.identify(t.text).ok():
				e.remarks = append(e.remarks, t.text)
			default: // the name that is known is the name
				e.remarks, e.names = append(e.remarks, e.names...), []string{t.text}
			}
		case "number", "blurred", "ec", "remark":
			if closed && t.kind == "number" && len(e.numbers) > 0 && figureAfter(k) {
				rows, e = append(rows, e), &entry{}
			}
			e.take(toks[k : k+1])
		default:
			e.addFigures(toks[k : k+1])
		}
	}
	return append(rows, e)
}

func onlyEmpty(figures []token) bool {
	return !slices.ContainsFunc(figures, func(t token) bool { return !isEmpty(t.text) })
}
