package quantity

import (
	"strings"

	"panelwright/formula/exact"
)

// mostDigits bounds a number: more digits than a recipe can mean, few enough
// to stay quick whatever a file holds.
const mostDigits = 80

// scanner walks through a text that plain has rewritten.
type scanner struct {
	s string
	i int
}

func (sc *scanner) rest() string { return sc.s[sc.i:] }

func (sc *scanner) after() string {
	sc.space()
	return strings.TrimSpace(sc.rest())
}

func (sc *scanner) space() {
	for sc.i < len(sc.s) && sc.s[sc.i] == ' ' {
		sc.i++
	}
}

func (sc *scanner) peek() byte {
	if sc.i < len(sc.s) {
		return sc.s[sc.i]
	}
	return 0
}

func (sc *scanner) eat(c byte) bool {
	if sc.peek() == c && c != 0 {
		sc.i++
		return true
	}
	return false
}

// word eats w at the scanner, in any case, if a word ends there.
func (sc *scanner) word(w string) bool {
	r := sc.rest()
	if len(r) < len(w) || !strings.EqualFold(r[:len(w)], w) {
		return false
	}
	if len(r) > len(w) && isWordByte(w[len(w)-1]) && isLetter(r[len(w)]) {
		return false
	}
	sc.i += len(w)
	return true
}

func isDigit(c byte) bool    { return c >= '0' && c <= '9' }
func isLetter(c byte) bool   { return c|0x20 >= 'a' && c|0x20 <= 'z' || c >= 0x80 }
func isWordByte(c byte) bool { return isLetter(c) || isDigit(c) }

// cutWord cuts the word w and the space after it off the front of s.
func cutWord(s, w string) (string, bool) {
	if len(s) > len(w) && strings.EqualFold(s[:len(w)], w) && s[len(w)] == ' ' {
		return strings.TrimSpace(s[len(w):]), true
	}
	return s, false
}

// number reads 10, 0.25, .5, 4,2, 1/2, 1 1/2, 1-1/2, "1 and 1/2" or a small
// number in words.
func (sc *scanner) number(text string) (exact.Rat, error) {
	sc.space()
	if c := sc.peek(); !isDigit(c) && !(c == '.' && sc.i+1 < len(sc.s) && isDigit(sc.s[sc.i+1])) {
		return sc.inWords(text)
	}
	token := sc.digits()
	if len(token) > mostDigits {
		return exact.Rat{}, &Error{Read: text, Wrong: "the number has too many digits", Cure: "write it with fewer"}
	}
	n, err := decimal(text, token)
	if err != nil {
		return n, err
	}
	if strings.ContainsAny(token, ".,'") {
		return n, sc.notGrouped(text, token)
	}
	if d, ok, err := sc.slash(text, n); ok || err != nil {
		return d, err
	}
	if f, ok, err := sc.fraction(text); ok || err != nil {
		return n.Add(f), err
	}
	return n, sc.notGrouped(text, token)
}

// digits eats a run of digits with points, commas and apostrophes inside.
func (sc *scanner) digits() string {
	from := sc.i
	for sc.i < len(sc.s) {
		c := sc.s[sc.i]
		inside := (c == '.' || c == ',' || c == '\'') && sc.i+1 < len(sc.s) && isDigit(sc.s[sc.i+1])
		if !isDigit(c) && !inside {
			break
		}
		sc.i++
	}
	return sc.s[from:sc.i]
}

// slash reads the rest of n/d after n.
func (sc *scanner) slash(text string, n exact.Rat) (exact.Rat, bool, error) {
	ahead := *sc
	ahead.space()
	if !ahead.eat('/') {
		return n, false, nil
	}
	ahead.space()
	token := ahead.digits()
	if token == "" {
		return n, false, nil
	}
	if len(token) > mostDigits || strings.ContainsAny(token, ".,'") {
		return n, true, &Error{Read: text, Wrong: "the fraction is not one of whole numbers", Cure: "write it as in 1 1/2"}
	}
	d, err := exact.Parse(token)
	if err != nil || d.IsZero() {
		return n, true, &Error{Read: text, Wrong: "the fraction divides by nothing", Cure: "write it as in 1 1/2"}
	}
	*sc = ahead
	return n.Quo(d), true, nil
}

// fraction reads the 1/2 of 1 1/2, 1-1/2 and "1 and 1/2": a fraction below 1.
func (sc *scanner) fraction(text string) (exact.Rat, bool, error) {
	ahead := *sc
	ahead.space()
	switch {
	case ahead.eat('-') || ahead.eat('+') || ahead.eat('&') || ahead.word("and"):
	case ahead.i == sc.i:
		return exact.Rat{}, false, nil
	}
	ahead.space()
	token := ahead.digits()
	if token == "" || len(token) > mostDigits || strings.ContainsAny(token, ".,'") {
		return exact.Rat{}, false, nil
	}
	n, err := exact.Parse(token)
	if err != nil {
		return exact.Rat{}, false, nil
	}
	f, ok, err := ahead.slash(text, n)
	if !ok || err != nil || !f.Less(exact.Int(1)) {
		return exact.Rat{}, false, err
	}
	*sc = ahead
	return f, true, nil
}

// notGrouped refuses "1 000 g", where a space parts the thousands.
func (sc *scanner) notGrouped(text, token string) error {
	r := sc.rest()
	if len(r) < 4 || r[0] != ' ' || !isDigit(r[1]) {
		return nil
	}
	ahead := scanner{r, 1}
	next := ahead.digits()
	if len(next) < 3 || !isDigit(next[1]) || !isDigit(next[2]) || strings.HasPrefix(ahead.rest(), "/") {
		return nil
	}
	if (len(next) > 3 && isDigit(next[3])) || len(token) > 3 {
		return nil
	}
	return &Error{Read: text, Wrong: "“" + token + " " + next + "” are two numbers, or one with a space in it",
		Cure: "write it without the space: " + token + next}
}

// decimal reads a run of digits with a decimal point, or with a decimal comma
// where it can be nothing else.
func decimal(text, token string) (exact.Rat, error) {
	points, commas := strings.Count(token, "."), strings.Count(token, ",")
	bad := func(wrong, cure string) (exact.Rat, error) {
		return exact.Rat{}, &Error{Read: text, Wrong: wrong, Cure: cure}
	}
	only := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, token)
	switch {
	case strings.Contains(token, "'"):
		return bad("“"+token+"” has an apostrophe in the number", "write it without: "+strings.ReplaceAll(token, "'", ""))
	case points+commas <= 1 && commas == 0:
		return exact.Parse(token)
	case points > 0 && commas > 0:
		return bad("“"+token+"” mixes points and commas", "write one decimal point and nothing else, such as 1000.5")
	case points > 1 || commas > 1:
		return bad("“"+token+"” has more than one point or comma", "write it without: "+only)
	}
	whole, part, _ := strings.Cut(token, ",")
	if len(part) == 3 && len(whole) <= 3 && strings.Trim(whole, "0") != "" {
		return bad("“"+token+"” may be "+whole+part+" or "+whole+"."+part, "write "+whole+part+" or "+whole+"."+part)
	}
	return exact.Parse(whole + "." + part)
}

// inWords reads "half a cup" and "two cups". A number word counts only where a
// unit follows it.
func (sc *scanner) inWords(text string) (exact.Rat, error) {
	for _, w := range numberWords {
		ahead := *sc
		if !ahead.word(w.word) {
			continue
		}
		unit := ahead
		if _, ok := unit.unit(Mass, Volume, Parts); ok {
			*sc = ahead
			return w.n, nil
		}
	}
	c := sc.peek()
	switch {
	case c == '-':
		return exact.Rat{}, &Error{Read: text, Wrong: "an amount cannot be less than nothing", Cure: "write it without the minus sign"}
	case strings.IndexByte("~<>=", c) >= 0 || sc.word("about") || sc.word("approx") || sc.word("circa") || sc.word("ca") || sc.word("c."):
		return exact.Rat{}, &Error{Read: text, Wrong: "an amount needs one exact figure", Cure: "write what you weigh"}
	}
	return exact.Rat{}, &Error{Read: text, Wrong: "there is no number in front", Cure: "write the amount, such as 10 oz, 250 g or 1.5 %"}
}

var numberWords = []struct {
	word string
	n    exact.Rat
}{
	{"one and a half", exact.Frac(3, 2)}, {"three quarters of a", exact.Frac(3, 4)}, {"three quarters", exact.Frac(3, 4)},
	{"a quarter of a", exact.Frac(1, 4)}, {"a quarter", exact.Frac(1, 4)}, {"quarter of a", exact.Frac(1, 4)}, {"quarter", exact.Frac(1, 4)},
	{"a third of a", exact.Frac(1, 3)}, {"a third", exact.Frac(1, 3)},
	{"half an", exact.Frac(1, 2)}, {"half a", exact.Frac(1, 2)}, {"a half", exact.Frac(1, 2)}, {"half", exact.Frac(1, 2)},
	{"an", exact.Int(1)}, {"a", exact.Int(1)}, {"one", exact.Int(1)}, {"two", exact.Int(2)}, {"three", exact.Int(3)},
	{"four", exact.Int(4)}, {"five", exact.Int(5)}, {"six", exact.Int(6)}, {"seven", exact.Int(7)}, {"eight", exact.Int(8)},
	{"nine", exact.Int(9)}, {"ten", exact.Int(10)}, {"eleven", exact.Int(11)}, {"twelve", exact.Int(12)},
}
