package weigh

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/formula/quantity"
)

// Read reads weighings from a text file: one figure a line, and beside it, set
// off by a semicolon or a tab, the batch and the date if there are several.
//
//	# hay fizz, on the blue scale
//	160.2
//	159,8 g; 0614; 2026-11-20
//
// Between a weight and a day a comma or a blank will do as well. A first line of names
// (weight, batch, date) sets the order of the columns; set off by commas it also
// makes commas part the columns of the other lines. Figures may have a decimal
// point or comma and a unit; without one they are in unit, "g" or "ml". Batches
// come back in the order met.
//
// A line that cannot be read is an error with its place and its cure; no line is
// passed over. With errors the weighings are not to be used.
func Read(name string, data []byte, unit string) ([]Weighing, finding.List) {
	r := reader{file: name, unit: unit}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if !utf8.Valid(data) || bytes.IndexByte(data, 0) >= 0 {
		r.fail(0, "the file is not plain text", "save it as text (CSV, UTF-8)")
		return nil, r.out
	}
	text := strings.ReplaceAll(string(data), "\r\n", "\n")
	for i, line := range strings.Split(text, "\n") {
		r.read(i+1, line)
	}
	if len(r.all) == 0 && len(r.out) == 0 {
		r.fail(0, "there is no figure in it", "write one weight a line, as in 160.2")
	}
	return r.all, r.out
}

// Typed reads figures as typed on the command line: "160.2 159.8 g, 161".
func Typed(text, unit string) (Weighing, finding.List) {
	r := reader{unit: unit}
	words := strings.FieldsFunc(text, func(c rune) bool { return c == ';' || unicode.IsSpace(c) })
	for i := 0; i < len(words); i++ {
		word := strings.TrimSuffix(words[i], ",")
		for i+1 < len(words) && word == words[i] && startsWithLetter(words[i+1]) { // a unit of its own
			i++
			word += " " + strings.TrimSuffix(words[i], ",")
			break
		}
		r.figure(0, word, "", 0)
	}
	if len(r.all) == 0 {
		if len(r.out) == 0 {
			r.fail(0, "there is no figure", `write the weights with spaces between, as in "160.2 159.8"`)
		}
		return Weighing{}, r.out
	}
	return r.all[0], r.out
}

func startsWithLetter(s string) bool {
	c, _ := utf8.DecodeRuneInString(s)
	return unicode.IsLetter(c)
}

// reader reads one file.
type reader struct {
	file, unit string
	columns    []string // as named by the first line; empty without one
	comma      bool     // columns are parted by commas
	begun      bool
	all        []Weighing
	out        finding.List
}

func (r *reader) fail(line int, message, cure string) {
	r.out.Add(finding.Finding{Rule: "net.weights", Severity: finding.Error, Where: r.at(line), Message: message, Cure: cure})
}

func (r *reader) at(line int) finding.Pos {
	if r.file == "" {
		return finding.Pos{}
	}
	return finding.Pos{File: r.file, Line: line}
}

func (r *reader) read(n int, line string) {
	if i := strings.IndexByte(line, '#'); i == 0 || i > 0 && (line[i-1] == ' ' || line[i-1] == '\t') {
		line = line[:i] // a lot may be called A#1, so a note needs a space before it
	}
	if strings.TrimSpace(line) == "" {
		return
	}
	if !r.begun {
		r.begun = true
		if !strings.ContainsFunc(line, unicode.IsDigit) {
			r.header(n, line)
			return
		}
	}
	fields := r.split(line)
	names := r.columns
	if len(names) == 0 {
		if len(fields) == 1 {
			fields = dayApart(fields[0])
		}
		names = r.guess(fields)
	}
	for len(fields) > len(names) && fields[len(fields)-1] == "" {
		fields = fields[:len(fields)-1]
	}
	if len(fields) > len(names) {
		r.fail(n, fmt.Sprintf("“%s” has more columns than are known", strings.TrimSpace(line)), "write the weight; the batch; the date")
		return
	}
	var weight, batch string
	var day date.Date
	for i, f := range fields {
		switch names[i] {
		case "weight":
			weight = f
		case "batch":
			batch = f
		case "date":
			d, err := date.Parse(f)
			if err != nil && f != "" {
				r.fail(n, fmt.Sprintf("“%s” is not a day of the calendar", f), "write year-month-day, as in 2026-11-20")
				return
			}
			day = d
		}
	}
	r.figure(n, weight, batch, day)
}

// dateLike is the form of a day, whether or not there is such a day.
var dateLike = regexp.MustCompile(`^\d{4}-\d{1,2}-\d{1,2}$`)

// dayApart parts a weight from the day before or after it where only a comma or
// a blank stands between them. Any other comma is a decimal one.
func dayApart(field string) []string {
	if day, rest, ok := strings.Cut(field, ","); ok && dateLike.MatchString(strings.TrimSpace(day)) {
		return []string{strings.TrimSpace(day), strings.TrimSpace(rest)}
	}
	if i := strings.LastIndexByte(field, ','); i >= 0 && dateLike.MatchString(strings.TrimSpace(field[i+1:])) {
		return []string{strings.TrimSpace(field[:i]), strings.TrimSpace(field[i+1:])}
	}
	if words := strings.Fields(field); len(words) > 1 {
		first, last := words[0], words[len(words)-1]
		switch {
		case dateLike.MatchString(last) && !dateLike.MatchString(first):
			return []string{strings.Join(words[:len(words)-1], " "), last}
		case dateLike.MatchString(first) && !dateLike.MatchString(last):
			return []string{first, strings.Join(words[1:], " ")}
		}
	}
	return []string{field}
}

// guess names the columns of a line without a header: a day is seen by its
// form; the others are the weight, the batch and the day in this order.
func (r *reader) guess(fields []string) []string {
	names := make([]string, 0, 3)
	left := []string{"weight", "batch", "date"}
	for _, f := range fields {
		i := 0
		if at := slices.Index(left, "date"); at >= 0 && dateLike.MatchString(f) {
			i = at
		}
		if len(left) > 0 {
			names, left = append(names, left[i]), slices.Delete(left, i, i+1)
		}
	}
	return names
}

func (r *reader) split(line string) []string {
	sep := func(c rune) bool { return c == ';' || c == '\t' || r.comma && c == ',' }
	var fields []string
	quoted, from := false, 0
	for i, c := range line {
		switch {
		case c == '"':
			quoted = !quoted
		case sep(c) && !quoted:
			fields, from = append(fields, line[from:i]), i+1
		}
	}
	fields = append(fields, line[from:])
	for i, f := range fields {
		fields[i] = strings.TrimSpace(strings.Trim(strings.TrimSpace(f), `"`))
	}
	return fields
}

var columnNames = map[string]string{
	"weight": "weight", "weights": "weight", "grams": "weight", "g": "weight", "gram": "weight", "net": "weight", "gross": "weight",
	"batch": "batch", "lot": "batch", "date": "date", "day": "date",
}

func (r *reader) header(n int, line string) {
	r.comma = !strings.ContainsAny(line, ";\t") && strings.Contains(line, ",")
	seen := map[string]bool{}
	for _, f := range r.split(line) {
		name, ok := columnNames[strings.ToLower(f)]
		if !ok || seen[name] {
			r.fail(n, fmt.Sprintf("“%s” is no column, or stands twice", f), "name the columns weight, batch and date")
			name = ""
		}
		seen[name] = true
		r.columns = append(r.columns, name)
	}
	if !seen["weight"] && len(r.out) == 0 {
		r.fail(n, fmt.Sprintf("no column of “%s” holds the weight", strings.TrimSpace(line)), "name it weight")
	}
}

// figure reads one weight into its batch.
func (r *reader) figure(line int, text, batch string, day date.Date) {
	f, err := parseFigure(text, r.unit)
	var bad *quantity.Error
	if errors.As(err, &bad) {
		r.fail(line, fmt.Sprintf("“%s”: %s", bad.Read, bad.Wrong), bad.Cure)
		return
	}
	f.Where, f.Date = r.at(line), day
	for i := range r.all {
		if r.all[i].Batch == batch {
			r.all[i].Figures = append(r.all[i].Figures, f)
			if r.all[i].Date == 0 {
				r.all[i].Date = day
			}
			return
		}
	}
	r.all = append(r.all, Weighing{Batch: batch, Date: day, Figures: []Figure{f}})
}

// parseFigure reads a weight, or a volume if unit is "ml". Every error is a
// *quantity.Error.
func parseFigure(text, unit string) (Figure, error) {
	if text == "" {
		return Figure{}, &quantity.Error{Read: text, Wrong: "there is no weight", Cure: "write it, or take the line out"}
	}
	kind, what := quantity.Mass, "a weight"
	if unit == "ml" {
		kind, what = quantity.Volume, "a volume"
	}
	given := text
	if !strings.ContainsFunc(text, unicode.IsLetter) {
		given += " " + unit
	}
	q, err := quantity.Parse(given)
	var bad *quantity.Error
	switch {
	case errors.As(err, &bad):
		cure := bad.Cure
		if strings.Contains(cure, "10 oz, 250 g") {
			cure = "write the weight of one piece, as in 160.2 or 160.2 g"
		}
		return Figure{}, &quantity.Error{Read: text, Wrong: bad.Wrong, Cure: cure}
	case q.Unit.Kind != kind:
		return Figure{}, &quantity.Error{Read: text, Wrong: "that is not " + what, Cure: "write each figure in " + unit + ", as in 160.2 " + unit}
	case q.Number.Sign() <= 0:
		return Figure{}, &quantity.Error{Read: text, Wrong: "a piece cannot weigh nothing", Cure: "write what the scale read"}
	}
	return Figure{Amount: q.Value(), Step: lastPlace(text).Mul(q.Unit.Factor)}, nil
}

// lastPlace returns the worth of the last decimal place of a number: 0.1 for
// 160.2 and 160,2, 1 for 160, and 0 for a fraction.
func lastPlace(text string) exact.Rat {
	number := strings.TrimRightFunc(text, func(c rune) bool { return !unicode.IsDigit(c) })
	if strings.Contains(number, "/") || strings.ContainsAny(number, "½¼¾⅓⅔⅛⅜⅝⅞") {
		return exact.Rat{}
	}
	step := exact.Int(1)
	if i := strings.LastIndexAny(number, ".,"); i >= 0 {
		for range min(len(number)-i-1, 18) {
			step = step.Quo(exact.Int(10))
		}
	}
	return step
}
