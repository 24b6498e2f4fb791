package quantity

import (
	_ "embed"
	"encoding/csv"
	"slices"
	"strings"
	"sync"

	"panelwright/formula/exact"
)

// Kind says what a unit measures.
type Kind uint8

const (
	Mass    Kind = iota + 1 // base unit: the gram
	Volume                  // base unit: the millilitre
	OfWhole                 // a fraction of the whole mix as weighed, itself included
	OnTop                   // a fraction of everything in the mix that is not on top
	OfFats                  // a fraction of the fats in the mix
	Parts                   // equal parts
	Rest                    // what is left of the whole; the number means nothing
	OfSheet                 // a fraction on a supplier's sheet, such as ppm; not for recipes
	Length                  // base unit: the millimetre
	refusal                 // a word that is understood and refused
)

var kindWords = map[string]Kind{"mass": Mass, "volume": Volume, "whole": OfWhole, "ontop": OnTop, "fats": OfFats,
	"parts": Parts, "rest": Rest, "share": OfSheet, "length": Length, "refused": refusal}

// Unit is one row of the table of units.
type Unit struct {
	Symbol     string
	Kind       Kind
	Factor     exact.Rat // base units in one of these
	Rough      bool      // the measure itself is unreliable, such as a drop
	Asks       bool      // a plain ounce: of a liquid it may be meant as the fluid ounce
	Definition string
	Source     string // where the factor comes from
	Seen       string // yes, secondary, memory or practice
	cure       string
}

//go:embed units.csv
var unitsCSV string

type table struct {
	units    []Unit
	spelling map[string]int
	words    int // most words in a spelling
}

// units reads the table once. The file is part of the program: a fault in it
// is a fault of the program, and the tests read every row.
var units = sync.OnceValue(func() table {
	rows, err := csv.NewReader(strings.NewReader(unitsCSV)).ReadAll()
	if err != nil {
		panic("quantity: units.csv: " + err.Error())
	}
	t := table{spelling: make(map[string]int, 4*len(rows))}
	for i, r := range rows[1:] {
		u := Unit{Symbol: r[0], Kind: kindWords[r[2]], Rough: r[4] == "rough", Asks: r[4] == "asks",
			Definition: r[5], Source: r[6], Seen: r[7], cure: r[8]}
		if u.Kind != refusal {
			u.Factor = exact.Must(r[3])
		}
		t.units = append(t.units, u)
		for _, s := range append(strings.Split(r[1], "|"), u.Symbol) {
			if s = strings.ToLower(s); s == "" {
				continue
			}
			if j, ok := t.spelling[s]; ok && j != i {
				panic("quantity: units.csv: " + s + " stands twice")
			}
			t.spelling[s] = i
			t.words = max(t.words, 1+strings.Count(s, " "))
		}
	}
	return t
})

// Units returns the table of units that amounts may be written in, in the
// order of the table.
func Units() []Unit {
	return slices.DeleteFunc(slices.Clone(units().units), func(u Unit) bool { return u.Kind == refusal })
}

func unitOf(symbol string) Unit {
	t := units()
	return t.units[t.spelling[strings.ToLower(symbol)]]
}

// unit eats the longest unit of one of the kinds at the scanner.
func (sc *scanner) unit(kinds ...Kind) (Unit, bool) {
	t := units()
	words, ends := sc.words(t.words)
	for k := len(words); k > 0; k-- {
		if i, ok := t.spelling[strings.Join(words[:k], " ")]; ok && slices.Contains(kinds, t.units[i].Kind) {
			sc.i = ends[k-1]
			return t.units[i], true
		}
	}
	return Unit{}, false
}

// refused eats nothing; it returns an error if the words at the scanner are a
// way of writing amounts that cannot be understood.
func (sc *scanner) refused(text string, counted bool) error {
	known, no := *sc, *sc
	u, ok := no.unit(refusal)
	if !ok {
		return nil
	}
	if _, ok := known.unit(Mass, Volume, OfWhole, OnTop, OfFats, Parts, Rest, OfSheet); ok && known.i >= no.i {
		return nil
	}
	// Without a number in front only a phrase of its own counts: "to taste", but not "bar of soap".
	if !counted && u.Symbol != "to taste" {
		return nil
	}
	return &Error{Read: text, Wrong: "“" + strings.TrimSpace(sc.s[sc.i:no.i]) + "” " + u.Definition, Cure: u.cure}
}

// words returns up to n words at the scanner, in lower case and without
// abbreviation points, and where each ends. A per cent sign is a word; "per
// cent" and "percent" become one; "mg/kg" is one word.
func (sc *scanner) words(n int) (words []string, ends []int) {
	i := sc.i
	for len(words) < n {
		for i < len(sc.s) && (sc.s[i] == ' ' || i > sc.i && sc.s[i] == '-') {
			i++
		}
		from := i
		switch {
		case i < len(sc.s) && sc.s[i] == '%':
			i++
		default:
			i = wordEnd(sc.s, i)
		}
		if i == from {
			return
		}
		w := strings.ToLower(strings.ReplaceAll(sc.s[from:i], ".", " "))
		for _, f := range strings.Fields(w) {
			words, ends = append(words, f), append(ends, i)
		}
		words, ends = perCent(words, ends)
	}
	return
}

// perCent makes the last words a per cent sign if they spell it.
func perCent(words []string, ends []int) ([]string, []int) {
	n := len(words)
	switch {
	case n > 1 && words[n-2] == "per" && words[n-1] == "cent":
		words, ends = words[:n-1], append(ends[:n-2], ends[n-1])
		words[n-2] = "%"
	case n > 0 && (words[n-1] == "percent" || words[n-1] == "pct"):
		words[n-1] = "%"
	}
	return words, ends
}

func wordEnd(s string, i int) int {
	for i < len(s) {
		c := s[i]
		switch {
		case isLetter(c):
		case c == '.' && i > 0 && isLetter(s[i-1]):
		case c == '/' && i > 0 && isLetter(s[i-1]) && i+1 < len(s) && isLetter(s[i+1]):
		case c == '3' && i > 1 && strings.EqualFold(s[i-2:i], "cm"):
		case isDigit(c) && strings.HasPrefix(s[i:], "100") && i > 0 && s[i-1] == ' ':
			return i + 3 // "to 100 %"
		default:
			return i
		}
		i++
	}
	return i
}
