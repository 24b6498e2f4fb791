package quantity

import (
	"regexp"
	"slices"
	"strings"
)

// power finds a number as calculators shorten it: 1e9, 2.5e+3.
var power = regexp.MustCompile(`^\s*[0-9][0-9.]*e[+-]?[0-9]`)

// noUnit says that the words at the scanner are no unit of the kinds, and
// which unit is nearest to them.
func (sc *scanner) noUnit(text string, kinds ...Kind) error {
	cure := "write one, such as " + examples(kinds[0])
	words, _ := sc.words(1)
	if power.MatchString(strings.ToLower(text)) {
		return &Error{Read: text, Wrong: "a number with a power of ten", Cure: "write it out, as in 1500 g"}
	}
	if len(words) == 0 {
		return &Error{Read: text, Wrong: "the number has no unit", Cure: cure}
	}
	other := *sc
	if u, ok := other.unit(Mass, Volume, OfWhole, OnTop, OfFats, Parts, OfSheet, Length); ok {
		return &Error{Read: text, Wrong: "“" + u.Symbol + "” does not belong here", Cure: cure}
	}
	if near := nearest(words[0], kinds); near != "" {
		return &Error{Read: text, Wrong: "“" + words[0] + "” is not a known unit", Cure: "did you mean " + near + "?"}
	}
	return &Error{Read: text, Wrong: "no unit follows the number", Cure: cure}
}

func examples(k Kind) string {
	switch k {
	case Length:
		return "64 mm or 2 1/2 in"
	case OfWhole:
		return "4.2 % or 120 ppm"
	}
	return "10 oz, 250 g or 1.5 %"
}

// nearest returns the spelling of a unit that differs least from word, or ""
// if none is near enough to be meant.
func nearest(word string, kinds []Kind) string {
	if len(word) > 40 {
		return ""
	}
	t := units()
	best, found := max(1, len(word)/3)+1, ""
	spellings := make([]string, 0, len(t.spelling))
	for s, i := range t.spelling {
		if slices.Contains(kinds, t.units[i].Kind) && !strings.Contains(s, " ") {
			spellings = append(spellings, s)
		}
	}
	slices.Sort(spellings)
	for _, s := range spellings {
		if len(word) < 2 || len(s) < 2 {
			continue
		}
		if d := Distance(word, s); d < best {
			best, found = d, s
		}
	}
	return found
}

// Distance counts the bytes to insert, drop, change or swap with a neighbour to
// make a out of b (optimal string alignment), for "did you mean".
func Distance(a, b string) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		before, last, row = last, row, before
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
	}
	return row[len(b)]
}
