package sheet

import (
	"regexp"
	"strings"

	"panelwright/inci"
)

// token is one thing on a line.
type token struct {
	kind string // name, number, blurred, ec, figure, unit, remark
	text string
	role role
	sure bool // a figure with a unit of its own, or behind a name that is known
}

// notNames begin lines that hold numbers and are about no substance.
var notNames = wordSet(`page seite tel telephone phone fax mobile batch lot code version revision rev date order ref article item product address street http https www
	e-mail email signature signed regulation directive annex entry section flash density specific refractive gravity viscosity ph boiling melting colour color odour odor
	appearance solubility shelf storage purity assay ec eu according amended since note notes see leave-on rinse-off threshold thresholds please iso
	unit street po box vat postcode customer company quantity packaging`)

// tokens parts a line into names, numbers and figures.
func (r *reader) tokens(i int) (out []token) {
	raw := cells(r.lines[i].text)
	columns, line := r.columnsAt(i)
	aligned := len(columns) == len(raw)
	for k, c := range raw {
		var rl role
		if aligned {
			rl = columns[k]
			rl.line = line
		}
		for _, t := range r.cellTokens(c) {
			t.role = rl
			out = append(out, t)
		}
	}
	return out
}

func (r *reader) cellTokens(c string) (out []token) {
	cut := func(kind string, re *regexp.Regexp, next func(string)) func(string) {
		return func(s string) {
			pieces, found := taken(s, re)
			for k, p := range pieces {
				next(p)
				if k < len(found) {
					out = append(out, token{kind: kind, text: found[k], sure: true})
				}
			}
		}
	}
	words := func(s string) {
		s = trimCell(ecWords.ReplaceAllString(casWords.ReplaceAllString(s, " "), " "))
		if s != "" && s != "(" && s != ")" && s != "/" {
			out = append(out, r.wordTokens(s)...)
		}
	}
	cut("number", numbers, cut("ec", ecNumbers, cut("blurred", blurred, words)))(" " + c + " ")
	return out
}

// wordTokens parts a cell without registry numbers.
func (r *reader) wordTokens(c string) []token {
	switch {
	case unitOnly.MatchString(c):
		return []token{{kind: "unit", text: strings.Trim(c, "()")}}
	case figureLike(c):
		return []token{{kind: "figure", text: c, sure: hasUnit.MatchString(c)}}
	case r.identify(c).ok():
		return []token{{kind: "name", text: c}}
	}
	// A figure may stand first: "4.2 % Linalool".
	if m := figureFirst.FindStringSubmatch(c); m != nil && figureLike(m[1]) && r.identify(m[2]).ok() {
		return []token{{kind: "figure", text: m[1], sure: true}, {kind: "name", text: m[2]}}
	}
	if all := r.severalEntries(c); all != nil {
		return all
	}
	if all := r.nameAndFigure(c); all != nil {
		return all
	}
	// What follows a figure may be a remark: "4.2 % declared".
	if m := remarked.FindStringSubmatch(c); m != nil {
		if figureLike(m[1]) && strings.ContainsAny(m[1], "0123456789") {
			return []token{{kind: "figure", text: m[1], sure: true}, {kind: "remark", text: m[2]}}
		}
		if all := r.nameAndFigure(m[1]); all != nil && all[0].sure {
			return append(all, token{kind: "remark", text: m[2]})
		}
	}
	return []token{{kind: "name", text: c}}
}

var (
	remarked    = regexp.MustCompile(`(?i)^(.*?[0-9].*?(?:%|ppm|ppb|mg/kg|g/kg))\s+(\pL.*)$`)
	figureFirst = regexp.MustCompile(`(?i)^([<>≤≥]?=? ?[0-9][0-9., -]*(?:%|ppm|ppb|mg/kg|g/kg))\s+(\pL.*)$`)
	unitEnds    = regexp.MustCompile(`(?i)(?:%|ppm|ppb|mg/kg|g/kg)\)?[,;]?\s+`)
	gapAt       = regexp.MustCompile(`\s+|:\s*|=\s*|,\s*`)
)

// nameAndFigure parts "Linalool 4.2 %" where a name that is known comes before the
// figure; failing that, where the figure has a unit, or the name is near to one
// that is known.
func (r *reader) nameAndFigure(c string) []token {
	if len(c) > mostCell {
		return nil
	}
	var first []token
	for _, m := range gapAt.FindAllStringIndex(c, -1) {
		name, figure := trimCell(c[:m[0]]), trimCell(c[m[1]:])
		if name == "" || figure == "" || !figureLike(figure) || !letterRuns.MatchString(name) {
			continue
		}
		pair := []token{{kind: "name", text: name, sure: true}, {kind: "figure", text: figure, sure: true}}
		if r.identify(name).ok() {
			return pair
		}
		if first == nil && c[m[0]] != ',' {
			first = pair
		}
	}
	if first == nil {
		return nil
	}
	name, figure := first[0].text, first[1].text
	first[0].sure = false
	n := len(strings.Fields(name))
	low := strings.ToLower(figure)
	switch {
	case notNames[strings.ToLower(strings.Trim(strings.Fields(name)[0], ".:"))]:
		return nil
	case hasUnit.MatchString(figure) && n <= 7:
		return first
	case absent[low] || present[low] || isEmpty(figure):
		return nil // "No", "yes" and dashes end sentences too
	case n <= 5 && r.suggest(name) != "":
		return first
	}
	return nil
}

// mostCell bounds what is looked at as one name with its figure.
const mostCell = 400

// severalEntries parts "Linalool 4.2 %, Limonene 2 %": names that are known, each
// with its figure.
func (r *reader) severalEntries(c string) (out []token) {
	for rest := c; ; {
		next := ""
		for _, m := range unitEnds.FindAllStringIndex(rest[:min(len(rest), mostCell)], 4) {
			if pair := r.nameAndFigure(strings.TrimRight(rest[:m[1]], " ,;")); pair != nil && pair[0].sure {
				out, next = append(out, pair...), trimCell(rest[m[1]:])
				break
			}
		}
		if next != "" {
			rest = next
			continue
		}
		last := r.nameAndFigure(rest)
		if len(out) == 0 || last == nil {
			return nil
		}
		return append(out, last...)
	}
}

// validNumber reports whether a registry number has the right check digit.
func validNumber(n string) bool { return inci.ValidCAS(n) }
