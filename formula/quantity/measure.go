package quantity

import (
	"regexp"
	"strings"

	"panelwright/formula/exact"
)

// atTemperature is the "at 20 °C" of a sheet: the figure holds there, and
// nothing here needs it.
var atTemperature = regexp.MustCompile(`(?i)\s*\(?\s*(at|@)?\s*[0-9]{1,2}([.,][0-9])?\s*(°|º|deg)?\s*C\s*\)?$`)

// mostDense is above every material that is poured or weighed here, in grams
// a millilitre; a figure above it is a slip of the unit.
var mostDense = exact.Int(20)

// ParseDensity reads a mass for a volume and returns grams a millilitre: 0.97
// g/ml, 970 g/l, 128 g per cup, 310 g per 2 cups, "1 cup = 128 g", 0.97 g/ml at
// 20 °C. Every error is an *Error.
func ParseDensity(text string) (exact.Rat, error) {
	s := atTemperature.ReplaceAllString(plain(text), "")
	mass, volume, ok := halves(s)
	if !ok {
		return exact.Rat{}, &Error{Read: text, Wrong: "a density is a weight for a volume", Cure: "write it as in 0.97 g/ml or 128 g per cup"}
	}
	m, err := Parse(counted(mass))
	if err != nil {
		return exact.Rat{}, inside(text, err)
	}
	v, err := Parse(counted(volume))
	if err != nil {
		return exact.Rat{}, inside(text, err)
	}
	if m.Unit.Kind == Volume && v.Unit.Kind == Mass {
		m, v = v, m
	}
	if m.Unit.Kind != Mass || v.Unit.Kind != Volume {
		return exact.Rat{}, &Error{Read: text, Wrong: "a density is a weight for a volume", Cure: "write it as in 0.97 g/ml or 128 g per cup"}
	}
	if m.Number.IsZero() || v.Number.IsZero() {
		return exact.Rat{}, &Error{Read: text, Wrong: "a density cannot be nothing", Cure: "write it as in 0.97 g/ml or 128 g per cup"}
	}
	d := m.Value().Quo(v.Value())
	if mostDense.Less(d) {
		return exact.Rat{}, &Error{Read: text, Wrong: "no material is that dense", Cure: "check the unit: g/ml or g/l"}
	}
	return d, nil
}

// counted puts the 1 that is meant before a bare unit.
func counted(s string) string {
	if isLetter(s[0]) {
		return "1 " + s
	}
	return s
}

// halves parts a density at its slash, "per", "=" or "weighs".
func halves(s string) (a, b string, ok bool) {
	low := strings.ToLower(s)
	for _, mark := range []string{" per ", "=", " weighs "} {
		if i := strings.Index(low, mark); i > 0 {
			return trimHalves(s[:i], s[i+len(mark):])
		}
	}
	// The slash of a fraction has digits on both sides.
	for i := 1; i+1 < len(s); i++ {
		if s[i] == '/' && !(isDigit(s[i-1]) && isDigit(s[i+1])) {
			return trimHalves(s[:i], s[i+1:])
		}
	}
	return "", "", false
}

func trimHalves(a, b string) (string, string, bool) {
	a, b = strings.TrimSpace(a), strings.TrimSpace(b)
	return a, b, a != "" && b != ""
}

// inside names the whole text in an error about a part of it.
func inside(text string, err error) error {
	if e, ok := err.(*Error); ok {
		return &Error{Read: text, Wrong: e.Wrong, Cure: e.Cure}
	}
	return err
}

// ParseLengths reads lengths joined by "x" or "by": 64 mm, 210 x 50 mm, 2 1/2 x
// 4 in. A length without a unit takes the next one's. Every error is an *Error.
func ParseLengths(text string) ([]Quantity, error) {
	sc := &scanner{s: strings.ReplaceAll(plain(text), "×", "x")}
	var all []Quantity
	for {
		n, err := sc.number(text)
		if err != nil {
			return nil, err
		}
		q := Quantity{Number: n, Text: strings.TrimSpace(text)}
		if u, ok := sc.unit(Length); ok {
			q.Unit = u
		} else if sc.eat('"') {
			q.Unit = unitOf("in")
		}
		all = append(all, q)
		sc.space()
		ahead := *sc
		if !ahead.eat('x') && !ahead.eat('X') && !ahead.eat('*') && !ahead.word("by") {
			break
		}
		*sc = ahead
	}
	if after := sc.after(); after != "" || all[len(all)-1].Unit.Symbol == "" {
		return nil, sc.noUnit(text, Length)
	}
	for i := len(all) - 2; i >= 0; i-- {
		if all[i].Unit.Symbol == "" {
			all[i].Unit = all[i+1].Unit
		}
	}
	return all, nil
}
