package market

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// CheckUSNetText judges a net statement that somebody wrote by hand for the US,
// of a cosmetic or of true soap. It returns what is wrong with it, in the order
// met: words that exaggerate or qualify, fractions and decimals that are not
// allowed, abbreviations that are not listed, remainders that hold a whole larger
// unit, and a weight without the words "net weight". Nil means that nothing was
// found; how the amount itself was come by is not seen here.
func CheckUSNetText(text string, soap bool) []error {
	c := usText{rules: For(inci.US), soap: soap, text: plainNet(text)}
	c.words()
	for _, group := range strings.FieldsFunc(c.text, func(r rune) bool { return strings.ContainsRune("(),;", r) }) {
		c.group(group)
	}
	if c.weight && !soap && !strings.Contains(c.text, "net weight") && !strings.Contains(c.text, "net wt") {
		c.wrong(c.rules.facts["net-lead"].source, `a weight needs the words "Net Wt"`)
	}
	return c.errs
}

type usText struct {
	rules  *Rules
	soap   bool
	text   string
	weight bool // an avoirdupois weight was met
	errs   []error
}

func (c *usText) wrong(source finding.Citation, format string, args ...any) {
	c.errs = append(c.errs, fmt.Errorf("%s (%v)", fmt.Sprintf(format, args...), source))
}

// bannedWords are words that may not be joined to a quantity.
var bannedWords = sync.OnceValue(func() []row { return load("us-net-words.csv") })

func (c *usText) words() {
	for _, r := range bannedWords() {
		if strings.Contains(" "+nonWord.ReplaceAllString(c.text, " ")+" ", " "+r.text("words")+" ") {
			c.wrong(r.cite(), "%q: %s", r.text("words"), r.text("why"))
		}
	}
}

var (
	nonWord     = regexp.MustCompile(`[^a-z]+`)
	netNumber   = regexp.MustCompile(`^(?:(\d+) )?(\d+)/(\d+)|^\d+(?:\.\d+)?`)
	stopped     = regexp.MustCompile(`([a-z])\.`)
	vulgar      = strings.NewReplacer("½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⅓", " 1/3", "⅔", " 2/3", "⁄", "/", EMark, " ")
	longestUnit = 3 // words in the longest name of a unit
)

// plainNet lowers the case and takes away what does not matter: full stops
// after letters, kinds of space, drawn fractions.
func plainNet(s string) string {
	s = strings.ToLower(vulgar.Replace(s))
	return strings.Join(strings.Fields(stopped.ReplaceAllString(s, "$1 ")), " ")
}

// part is a number with the unit after it.
type part struct {
	amount exact.Rat
	unit   Unit
	name   string
}

// group judges the figures between two marks of punctuation. Figures that
// follow each other there are one amount: pounds and the remaining ounces.
func (c *usText) group(s string) {
	var parts []part
	for s = strings.TrimSpace(s); s != ""; {
		m := netNumber.FindStringSubmatch(s)
		if m == nil {
			_, s, _ = strings.Cut(s, " ")
			parts = nil
			continue
		}
		s = strings.TrimSpace(s[len(m[0]):])
		u, name, ok := unitAtStart(s)
		if !ok {
			c.fractionAlone(m)
			continue // a count: "3 bath fizzes"
		}
		s = strings.TrimSpace(s[len(name):])
		if u.System != Customary {
			parts = nil
			c.siName(u, name)
			continue
		}
		x := c.numeral(m, name)
		c.usName(name)
		if n := len(parts); u.Symbol == "oz" && n > 0 && parts[n-1].unit.Dimension == Volume {
			u = mustUnit("fl oz") // "1 qt 8 oz" stands so in the rule itself
		}
		c.weight = c.weight || u.Dimension == Mass
		if n := len(parts); n > 0 && parts[n-1].unit.Dimension == u.Dimension {
			c.remainder(parts[n-1].unit, part{x, u, name})
		}
		parts = append(parts, part{x, u, name})
	}
}

// unitAtStart finds the longest unit name that s begins with.
func unitAtStart(s string) (Unit, string, bool) {
	words := strings.SplitN(s, " ", longestUnit+1)
	for n := min(longestUnit, len(words)); n > 0; n-- {
		name := strings.Join(words[:n], " ")
		if u, ok := UnitNamed(name); ok {
			return u, name, true
		}
	}
	return Unit{}, "", false
}

func (c *usText) fractionAlone(m []string) {
	if m[3] != "" {
		c.numeral(m, "")
	}
}

// numeral judges decimals and fractions (701.13(d), 16 CFR 500.17).
func (c *usText) numeral(m []string, unit string) exact.Rat {
	if m[3] == "" {
		_, decimals, _ := strings.Cut(m[0], ".")
		rule := "net-places"
		if c.soap {
			rule = "net-places-soap"
		}
		f := c.rules.facts[rule]
		if exact.Int(int64(len(decimals))).Cmp(f.number("value")) > 0 {
			c.wrong(f.source, "%s %s has more than %s decimal places", m[0], unit, f.value)
		}
		return exact.Must(m[0])
	}
	num, err1 := strconv.ParseInt(m[2], 10, 32)
	den, err2 := strconv.ParseInt(m[3], 10, 32)
	if err1 != nil || err2 != nil || !c.rules.fractionAllowed(num, den) {
		f := c.rules.facts["net-fractions"]
		c.wrong(f.source, "%s/%s is not a fraction in lowest terms with one of the denominators %s", m[2], m[3], strings.Join(f.list(), ", "))
		return exact.Rat{}
	}
	x := exact.Frac(num, den)
	if m[1] != "" {
		x = x.Add(exact.Must(m[1]))
	}
	return x
}

// remainder judges what follows a larger unit: it must be less than one of the
// next unit up. "1 qt 24 oz" holds a pint, "2 gal 4 pt" holds a quart.
func (c *usText) remainder(before Unit, p part) {
	source := c.rules.facts["net-two-ways"].source
	if p.unit.Factor.Cmp(before.Factor) >= 0 {
		c.wrong(source, "%s follows %s, which is no larger unit", p.name, before.Symbol)
		return
	}
	next := before
	for _, u := range units().list {
		if u.System == Customary && u.Dimension == p.unit.Dimension && p.unit.Factor.Less(u.Factor) && u.Factor.Less(next.Factor) {
			next = u
		}
	}
	if next.Factor.Cmp(p.amount.Mul(p.unit.Factor)) <= 0 {
		c.wrong(source, "the remainder %s %s holds a whole %s, which is the largest unit to use", p.amount, p.name, next.Symbol)
	}
}

// usNames holds the words and abbreviations that a unit may be written with,
// by regime and without full stops.
var usNames = sync.OnceValue(func() map[bool]map[string]finding.Citation {
	all := map[bool]map[string]finding.Citation{false: {}, true: {}}
	for _, r := range load("us-abbreviations.csv") {
		names := all[r.text("regime") == "soap"]
		for _, name := range []string{r.text("word"), r.text("abbreviation")} {
			names[strings.ToLower(name)] = r.cite()
			names[strings.ToLower(name)+"s"] = r.cite() // plurals are optional
		}
		names["inches"] = r.cite()
	}
	return all
})

// usName judges the words of a customary unit against the list of the regime.
func (c *usText) usName(name string) {
	names := usNames()[c.soap]
	for _, w := range strings.Fields(name) {
		if _, ok := names[w]; !ok {
			c.wrong(names["oz"], "%q is not among the abbreviations that are allowed", w)
		}
	}
}

// siName judges the symbol of an SI unit. Cosmetics have no list of their own.
func (c *usText) siName(u Unit, name string) {
	names := usNames()[true]
	for _, w := range strings.Fields(name) {
		american := strings.Replace(strings.Replace(w, "litre", "liter", 1), "gramme", "gram", 1)
		if _, ok := names[american]; !ok {
			c.wrong(names["kg"], "%q is not among the symbols that are allowed; write %s", w, u.Symbol)
		}
	}
}

// SolidByWeight returns where the market asks for the weight of what is solid, and
// in what words; ok is false where nothing of the kind is in the data.
func (r *Rules) SolidByWeight() (words string, source finding.Citation, ok bool) {
	f, ok := r.facts["net-solid"]
	if !ok {
		return "", finding.Citation{}, false
	}
	return f.words, f.source, true
}
