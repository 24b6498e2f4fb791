package sheet

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"panelwright/formula/date"
)

// dated is a day that the text names.
type dated struct {
	at    int
	day   date.Date
	label bool // said to be the sheet's
	other date.Date
}

var (
	dateWords  = regexp.MustCompile(`(?i)\b(date|dated|issued?|revised|revision|rev|updated?|version|datum|stand|edition|le)\b`)
	otherDates = regexp.MustCompile(`(?i)\b(expir\w*|valid|until|retest|print\w*|manufactur\w*|production|best before|shelf)\b`)
	reference  = regexp.MustCompile(`(?i)^(reference|ref|document|doc|certificate|cert|report|sheet|version|revision|rev|issue|edition)\b\.?\s*(?:(?:no|number|nr|code|id)\b\.?)?\s*[:#=]?\s*(\S.*)$`)
	about      = regexp.MustCompile(`(?i)^(product|material|fragrance|trade name|supplier|manufacturer|customer|company|article|item|batch|lot|code|order)\b\s*(?:(?:name|no|number|nr|code|id)\b\.?)?\s*[:#=]\s*(\S.*)$`)
	total      = regexp.MustCompile(`(?i)^(?:sub-?)?(?:total|sum|summe|gesamt|somme)\b(?: (?:of|all|the|allergens?|composition|contents?|amount|formula))*[^\pL]*$`)
	pages      = regexp.MustCompile(`(?i)^(page|seite)\b|^-+ ?[0-9]+ ?-+$`)
	isoDay     = regexp.MustCompile(`\b([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})\b`)
	numberDay  = regexp.MustCompile(`\b([0-9]{1,2})([-/.])([0-9]{1,2})[-/.]([0-9]{4}|[0-9]{2})\b`)
	dayFirst   = regexp.MustCompile(`(?i)\b([0-9]{1,2})(?:st|nd|rd|th)?[. -]+(?:of )?([\pL]{3,9})\.?,?[ -]+([0-9]{4})\b`)
	monthFirst = regexp.MustCompile(`(?i)\b([\pL]{3,9})\.? ([0-9]{1,2})(?:st|nd|rd|th)?,? ([0-9]{4})\b`)
)

// months by their first three letters, in English, German and French.
var months = map[string]int{"jan": 1, "feb": 2, "fév": 2, "mar": 3, "mär": 3, "apr": 4, "avr": 4, "may": 5, "mai": 5, "jun": 6, "jul": 7, "aug": 8, "aoû": 8,
	"sep": 9, "oct": 10, "okt": 10, "nov": 11, "dec": 12, "dez": 12, "déc": 12}

// findFacts looks for what the text says of the sheet itself.
func (r *reader) findFacts() {
	for i := range r.lines {
		if p := &r.lines[i]; !p.done && len(p.text) <= mostLine {
			r.fact(p)
		}
	}
	r.settleDate()
	r.s.Ref = strings.Join(r.refs, ", ")
}

// fact reads one line, cell by cell: a label may stand in a cell of its own.
func (r *reader) fact(p *pasted) {
	cs := filled(cells(p.text))
	for k := 0; k < len(cs); k++ {
		c := cs[k]
		if k+1 < len(cs) && !strings.ContainsAny(c, "0123456789%") && (reference.MatchString(c+": x") || about.MatchString(c+": x") || dateWords.MatchString(c)) {
			k++
			c += ": " + cs[k]
		}
		r.factCell(p, c)
	}
}

func (r *reader) factCell(p *pasted, c string) {
	one, other, where := dayIn(c)
	switch {
	case one != 0 && otherDates.MatchString(c):
		r.mark(p.at, Fact, "a day, not the sheet's own")
	case one != 0 && (dateWords.MatchString(c) || where == "alone"):
		r.dates = append(r.dates, dated{p.at, one, where != "alone", other})
		if rest := strings.TrimSpace(strings.Split(c, where)[0]); where != "alone" {
			if m := reference.FindStringSubmatch(strings.TrimRight(rest, " ,;(-")); m != nil && digitRun.MatchString(m[2]) {
				r.addRef(p, m)
			}
		}
		r.mark(p.at, Fact)
	case pages.MatchString(c):
		r.mark(p.at, Words, "a page number")
	case total.MatchString(strings.TrimSpace(hasUnit.ReplaceAllString(c, ""))):
		r.mark(p.at, Fact, "a total, no substance")
	default:
		if m := about.FindStringSubmatch(c); m != nil && !hasUnit.MatchString(c) {
			r.mark(p.at, Fact, strings.ToLower(m[1])+": "+shorten(m[2]))
		} else if m := reference.FindStringSubmatch(c); m != nil && !hasUnit.MatchString(c) && len(m[2]) <= 40 && (digitRun.MatchString(m[2]) || strings.Contains(c, ":")) {
			r.addRef(p, m)
		} else {
			return
		}
	}
	p.done = true
}

func (r *reader) addRef(p *pasted, m []string) {
	ref := strings.ToLower(m[1]) + " " + strings.TrimSpace(m[2])
	switch strings.ToLower(m[1]) {
	case "reference", "ref", "document", "doc":
		ref = strings.TrimSpace(m[2])
	}
	if !slices.Contains(r.refs, ref) {
		r.refs = append(r.refs, ref)
	}
	r.mark(p.at, Fact, "reference: "+ref)
}

// settleDate settles which day is the sheet's: the latest that is labelled so.
func (r *reader) settleDate() {
	if r.o.Date != 0 {
		r.s.Date = r.o.Date
		for _, d := range r.dates {
			r.mark(d.at, Fact, "a day; the sheet's is "+r.o.Date.String()+", as answered")
		}
		return
	}
	labelled := slices.ContainsFunc(r.dates, func(d dated) bool { return d.label })
	for _, d := range r.dates {
		switch {
		case labelled && !d.label:
			r.mark(d.at, Fact, "a day: "+d.day.String())
		case d.other != 0:
			r.ask(Question{Read: strings.TrimSpace(r.said(d.at)), Wrong: "this may be " + d.day.String() + " or " + d.other.String(),
				Cure: "say which: --date " + d.day.String() + " or --date " + d.other.String()}, d.at)
		default:
			r.s.Date = max(r.s.Date, d.day)
			r.mark(d.at, Fact, "the sheet's date: "+d.day.String())
		}
	}
}

// dayIn finds a day in a text. other is the second reading of one like 03/04/2026.
// where is the text of the day, or "alone" if there is nothing else.
func dayIn(c string) (one, other date.Date, where string) {
	at := func(m []int) string {
		if strings.TrimSpace(c) == c[m[0]:m[1]] {
			return "alone"
		}
		return c[m[0]:m[1]]
	}
	num := func(m []int, k int) int { n, _ := strconv.Atoi(c[m[2*k]:m[2*k+1]]); return n }
	// Some registry numbers look like days: 1222-05-5.
	if m := isoDay.FindStringSubmatchIndex(c); m != nil && !validNumber(c[m[0]:m[1]]) {
		return day(num(m, 1), num(m, 2), num(m, 3)), 0, at(m)
	}
	if m := numberDay.FindStringSubmatchIndex(c); m != nil {
		y := num(m, 4)
		if y < 100 {
			y += 2000
		}
		one, other = day(y, num(m, 3), num(m, 1)), day(y, num(m, 1), num(m, 3))
		if c[m[4]:m[5]] == "." && one != 0 || one == other {
			other = 0 // with points the day stands first
		}
		if one == 0 {
			one, other = other, 0
		}
		return one, other, at(m)
	}
	if m := dayFirst.FindStringSubmatchIndex(c); m != nil {
		if d := day(num(m, 3), month(c[m[4]:m[5]]), num(m, 1)); d != 0 {
			return d, 0, at(m)
		}
	}
	if m := monthFirst.FindStringSubmatchIndex(c); m != nil {
		return day(num(m, 3), month(c[m[2]:m[3]]), num(m, 2)), 0, at(m)
	}
	return 0, 0, ""
}

func month(word string) int {
	if r := []rune(strings.ToLower(word)); len(r) >= 3 {
		return months[string(r[:3])]
	}
	return 0
}

// day returns the day, or 0 if there is none such.
func day(y, m, d int) date.Date {
	if m < 1 || m > 12 || d < 1 || d > 31 || y < 1980 || y > 2100 {
		return 0
	}
	x, err := date.Parse(pad(y, 4) + "-" + pad(m, 2) + "-" + pad(d, 2))
	if err != nil {
		return 0
	}
	return x
}

func pad(n, wide int) string {
	s := strconv.Itoa(n)
	return strings.Repeat("0", max(0, wide-len(s))) + s
}
