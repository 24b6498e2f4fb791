package market

import (
	"fmt"
	"regexp"
	"strings"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// BodyKind is the shape of a pack.
type BodyKind uint8

const (
	NoBody   BodyKind = iota
	Ball              // A diameter
	Box               // A width, B height, C depth; the front is A x B
	Cylinder          // A diameter, B height
	Jar               // as Cylinder, without shoulder, neck and lid
	Tin               // A diameter, B height; a flat round tin whose top is the obvious panel
	Bag               // A width, B height
	Bar               // A, B, C; the largest side is the panel
	Tube              // a lip tube: A diameter, B height
	Card              // A width, B height
)

// form is how a body is written: its word, and what each measurement is.
type form struct {
	word string
	dims []string
}

var forms = [...]form{
	NoBody:   {"", nil},
	Ball:     {"ball", []string{"diameter"}},
	Box:      {"box", []string{"width", "height", "depth"}},
	Cylinder: {"cylinder", []string{"diameter", "height"}},
	Jar:      {"jar", []string{"diameter", "height"}},
	Tin:      {"tin", []string{"diameter", "height"}},
	Bag:      {"bag", []string{"width", "height"}},
	Bar:      {"bar", []string{"length", "width", "thickness"}},
	Tube:     {"tube", []string{"diameter", "height"}},
	Card:     {"card", []string{"width", "height"}},
}

// String returns the word of the book format, or "" for NoBody.
func (k BodyKind) String() string { return forms[k].word }

// Body is the pack under the label. Measurements that its kind does not have
// are 0.
type Body struct {
	Kind    BodyKind
	A, B, C int64 // micrometres
	Text    string
	Pos     finding.Pos
}

// largestBody is the longest side that is believed, in micrometres: 2 m.
const largestBody = 2_000_000

var bodyNumber = regexp.MustCompile(`^(\d{1,6}(?:[.,]\d{1,6})?|\d{1,6} \d{1,3}/\d{1,3}|\d{1,3}/\d{1,3}) ?(mm|cm|in|inch|inches|")?$`)

// ParseBody reads a pack as a maker measures it: a word for its shape, then its
// measurements between x or ×, then mm, cm or in. A decimal comma is understood,
// and fractions such as 2 1/2 in. Parts of a micrometre are rounded up.
func ParseBody(text string) (Body, error) {
	word, rest, _ := strings.Cut(strings.Join(strings.Fields(strings.ToLower(text)), " "), " ")
	var kind BodyKind
	for k, f := range forms {
		if f.word == word {
			kind = BodyKind(k)
		}
	}
	if kind == NoBody {
		return Body{}, fmt.Errorf("%q is not a pack that is understood; write one of %s", text, bodyForms())
	}
	parts := strings.Split(strings.ReplaceAll(rest, "×", "x"), "x")
	want := forms[kind].dims
	if len(parts) != len(want) {
		return Body{}, fmt.Errorf("%q has %d measurements where a %s has %d; write %s",
			text, len(parts), kind, len(want), forms[kind].example())
	}
	b := Body{Kind: kind, Text: text}
	unit := ""
	for i := len(parts) - 1; i >= 0; i-- { // the last unit serves those before it
		m := bodyNumber.FindStringSubmatch(strings.TrimSpace(parts[i]))
		if m == nil {
			return Body{}, fmt.Errorf("%q: the %s is not a number; write %s", text, want[i], forms[kind].example())
		}
		if m[2] != "" {
			unit = strings.Replace(m[2], `"`, "in", 1)
		}
		if unit == "" {
			return Body{}, fmt.Errorf("%q has no unit; write mm, cm or in, as in %s", text, forms[kind].example())
		}
		size, err := micrometres(m[1], unit)
		if err != nil {
			return Body{}, fmt.Errorf("%q: the %s %w", text, want[i], err)
		}
		*[]*int64{&b.A, &b.B, &b.C}[i] = size
	}
	return b, nil
}

func micrometres(number, unit string) (int64, error) {
	whole, part, mixed := strings.Cut(strings.ReplaceAll(number, ",", "."), " ")
	n, err := exact.Parse(whole)
	if err == nil && mixed {
		var f exact.Rat
		f, err = exact.Parse(part)
		n = n.Add(f)
	}
	if err != nil {
		return 0, fmt.Errorf("cannot be read: %w", err)
	}
	size := n.Mul(mustUnit(unit).Factor).Mul(exact.Int(1000)).Decimal(0, exact.Up)
	if size.Sign() <= 0 || size.IntPart() > largestBody {
		return 0, fmt.Errorf("is %s %s; it must be more than 0 and at most 2 m", number, unit)
	}
	return size.IntPart(), nil
}

// String returns the body in millimetres, as ParseBody reads it, or "" for none.
func (b Body) String() string {
	if b.Kind == NoBody {
		return ""
	}
	var dims []string
	for _, d := range []int64{b.A, b.B, b.C}[:len(forms[b.Kind].dims)] {
		dims = append(dims, exact.Frac(d, 1000).String())
	}
	return b.Kind.String() + " " + strings.Join(dims, " x ") + " mm"
}

func (f form) example() string { return `"` + f.word + " " + strings.Join(f.dims, " x ") + ` mm"` }

func bodyForms() string {
	var all []string
	for _, f := range forms[Ball:] {
		all = append(all, f.example())
	}
	return strings.Join(all, ", ")
}
