package sheet

import (
	"regexp"
	"slices"
	"strings"

	"panelwright/formula/exact"
	"panelwright/formula/quantity"
)

// share is a figure as understood.
type share struct {
	quantity.Share
	text  string   // as a book writes it
	notes []string // what was changed for it
	unit  bool     // a unit stood beside it
}

// The words that a figure may hold beside digits. What holds others is a name,
// or prose.
var figureWords = wordSet(`% ppm ppb pct percent per cent mg ug mcg g kg w wt m p v vol volume by weight mass nd n d b lod loq to max maximum min minimum typ
	typical typically avg average mean ca approx about circa and less more than not at most least up below under above over between limit detection rest balance
	remainder the q s qs detected detectable none`)

// present are words that say that a substance is there, not how much.
var present = wordSet(`trace traces tr yes present contains + x ✓ ✔ unknown n/a na ? oui ja positive "may contain" "in traces" "not applicable" "not available" "not tested" "not determined" tbc tbd`)

// absent are words for a substance that was not found. German and French sheets
// have words of their own.
var absent = wordSet(`nd n.d. n.d n/d n.n. n.n "n. n." "n. d." no none nil absent free negative bdl <lod <loq "< lod" "< loq" nein non "not detected" "none detected"
	"not detectable" "not present" "not contained" "not found" "not added" "not intentionally added" "below detection limit" "below limit of detection"
	"nicht nachweisbar" "nicht enthalten" "nicht vorhanden" "non détecté" "non detecté" "non detecte" absente`)

func wordSet(s string) map[string]bool {
	m := map[string]bool{}
	for i, part := range strings.Split(s, `"`) {
		if i%2 == 1 {
			m[part] = true
			continue
		}
		for _, w := range strings.Fields(part) {
			m[w] = true
		}
	}
	return m
}

var (
	wordRuns  = regexp.MustCompile(`[\pL%]+`)
	misreads  = regexp.MustCompile(`^[OolISB]+$`)
	dateLike  = regexp.MustCompile(`\b(?:[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}|[0-9]{1,2}\.[0-9]{1,2}\.[0-9]{2,4}|[0-9]{1,2}/[0-9]{1,2}/[0-9]{2,4}|[0-9]{1,2}-[0-9]{1,2}-[0-9]{4})\b`)
	slashed   = regexp.MustCompile(`[0-9]\s*/\s*[0-9]`)
	hasUnit   = regexp.MustCompile(`(?i)%|ppm|ppb|\b[mµuμ]?g ?/ ?kg|mcg/kg|g per kg|per ?cent|\bpct\b|v/v`)
	decorated = regexp.MustCompile(`[\s]*[*†‡#°^¹²³⁴]+$`)
	byWeight  = regexp.MustCompile(`(?i)\(\s*([wmp]/[wmp]|wt/wt|by weight|[wm]t?\.?)\s*\)|\b([wmp]/[wmp]|wt/wt)\b|\b(gew|masse|mass|wt)\.?[ -]*(%)`)
	mostLast  = regexp.MustCompile(`(?i)^(.*[0-9%m].*?)\s*\(?\b(max|maximum|min|minimum)\b\.?\)?$`)
	oneComma  = regexp.MustCompile(`[0-9],[0-9]`)
	grouped   = regexp.MustCompile(`^([<>≤≥= ]*)([1-9][0-9]{0,2}),([0-9]{3})( ?%.*)$`)
	// thousands are figures whose point or comma may part thousands, as it does in some
	// countries; of a per cent it cannot, because there is no 1234 %.
	thousands = regexp.MustCompile(`(?:^|[^0-9.,])([1-9][0-9]{0,2})[.,]([0-9]{3})(?:[^0-9.,]|$)`)
	noughts   = regexp.MustCompile(`^0*[.,](0+)$`)
)

// isEmpty reports whether a cell holds a dash, which may mean none or unknown.
func isEmpty(c string) bool { return c != "" && strings.Trim(c, "-./") == "" }

// figureLike reports whether a cell is meant for a figure, readable or not.
func figureLike(c string) bool {
	low := strings.ToLower(strings.Trim(c, " ()"))
	if isEmpty(c) || absent[low] || present[low] || low == "rest" || low == "balance" || low == "q.s." {
		return true
	}
	if dateLike.MatchString(c) || slashed.MatchString(c) || !strings.ContainsAny(c, "0123456789OolISB") {
		return false
	}
	digits := strings.ContainsAny(c, "0123456789")
	for _, w := range wordRuns.FindAllString(c, -1) {
		if misreads.MatchString(w) && (digits || strings.Contains(c, "%")) {
			digits = true
			continue
		}
		for _, f := range strings.FieldsFunc(strings.ToLower(w), func(c rune) bool { return c == '%' }) {
			if !figureWords[f] {
				return false
			}
		}
	}
	return digits
}

// readShare reads a figure. unit is the one that stands in a heading, or "". A
// figure without any comes back with unit false and no question.
func (r *reader) readShare(raw, unit, from string) (sh share, q *Question) {
	c := strings.TrimSpace(decorated.ReplaceAllString(raw, ""))
	if c == "" {
		c = raw // nothing but a mark
	}
	if c != raw {
		sh.notes = append(sh.notes, "the mark behind the figure passed over")
	}
	if strings.HasPrefix(c, "(") && strings.HasSuffix(c, ")") {
		c = strings.TrimSpace(c[1 : len(c)-1])
	}
	if s, ok, q := r.withoutNumber(c); ok || q != nil {
		s.notes = append(sh.notes, s.notes...)
		return s, q
	}
	c = strings.TrimSpace(byWeight.ReplaceAllString(c, "$4"))
	if m := mostLast.FindStringSubmatch(c); m != nil {
		c = m[2] + " " + m[1]
	}
	sh.unit = hasUnit.MatchString(c)
	whole := c
	switch {
	case sh.unit:
	case unit != "":
		whole = c + " " + unit
		sh.notes = append(sh.notes, unit+" "+from)
		sh.unit = true
	default:
		whole = c + " %" // to see whether it can be read at all
	}
	if m := grouped.FindStringSubmatch(whole); m != nil {
		whole = m[1] + m[2] + "." + m[3] + m[4]
		sh.notes = append(sh.notes, "the comma can only be a decimal one: "+m[2]+m[3]+" % would be more than all")
	} else if oneComma.MatchString(whole) {
		sh.notes = append(sh.notes, "decimal comma")
	}
	if m := thousands.FindStringSubmatch(whole); m != nil && strings.HasPrefix(unitOf(whole), "pp") {
		return sh, &Question{Read: raw, Wrong: "this may be " + m[1] + m[2] + " or a little more than " + m[1],
			Cure: "write " + m[1] + m[2] + ", or " + m[1] + "." + m[2] + "0 with a nought behind it"}
	}
	parsed, err := quantity.ParseShare(whole)
	if err != nil {
		return sh, misread(raw, whole, err)
	}
	sh.Share = parsed
	bare := strings.TrimSpace(hasUnit.ReplaceAllString(c, ""))
	if m := noughts.FindStringSubmatch(bare); m != nil {
		// A sheet rounds or cuts off: nothing is known below its last digit, and the
		// greatest share decides. Read as none it could hide an allergen.
		last := "0." + strings.Repeat("0", len(m[1])-1) + "1"
		parsed, err = quantity.ParseShare("<" + last + " " + unitOf(whole))
		if err != nil {
			return sh, misread(raw, whole, err)
		}
		sh.Share = parsed
		r.s.Noughts = true
		sh.notes = append(sh.notes, "from noughts")
	} else if bare == "0" {
		sh.Share = quantity.Share{NotDetected: true, Text: "nd"}
		sh.text, sh.unit = "nd", true
		sh.notes = append(sh.notes, "a plain nought: none found, and below what is not said")
		return sh, nil
	}
	sh.text = written(sh.Share, unitOf(whole), whole)
	return sh, nil
}

// withoutNumber reads what stands in place of a number: nd, rest, a dash, words.
func (r *reader) withoutNumber(c string) (sh share, ok bool, q *Question) {
	low := strings.ToLower(strings.Trim(c, " ()."))
	as := func(text string, notes ...string) (share, bool, *Question) {
		parsed, err := quantity.ParseShare(text)
		if err != nil {
			return sh, false, misread(c, text, err)
		}
		return share{Share: parsed, text: text, notes: notes, unit: true}, true, nil
	}
	switch {
	case low == "rest" || low == "balance" || low == "the balance" || low == "remainder" || low == "q.s":
		return as("rest")
	case isEmpty(c) && r.o.Empty != "":
		return as(r.o.Empty, "a dash or nothing there, as answered")
	case absent[low] || absent[low+"."] || absent[strings.ToLower(c)]:
		if r.none != "" {
			return as(r.none, "limit from line "+decimal(r.noneLine))
		}
		if low == "nd" {
			return as("nd", "below what is not said: counts as none")
		}
		return as("nd", "“"+shorten(c)+"” taken as not detected, below what is not said: counts as none")
	case present[low] || present[c]:
		return sh, false, &Question{Read: c, Wrong: "says that it is there, or nothing, not how much",
			Cure: "ask the supplier for a figure, such as <0.01 % or nd <10 ppm, and write it in place of this"}
	}
	return sh, false, nil
}

// misread says why a figure cannot be read. Where letters stand for digits, or a
// point twice, it asks for the figure that is meant.
func misread(raw, whole string, err error) *Question {
	q := &Question{Read: raw, Wrong: "this is no figure", Cure: "write it as in 4.2 %"}
	if e, ok := err.(*quantity.Error); ok {
		q.Wrong, q.Cure = e.Wrong, e.Cure
	}
	if better := repaired(whole); better != whole {
		if sh, err := quantity.ParseShare(better); err == nil {
			q.Wrong = "did you mean " + written(sh, unitOf(better), better) + "?"
			q.Cure = "look at the sheet, and write the figure that stands there"
		}
	}
	return q
}

var (
	letters  = strings.NewReplacer("O", "0", "o", "0", "Q", "0", "l", "1", "I", "1", "|", "1", "!", "1", "S", "5", "B", "8", "Z", "2")
	numberly = regexp.MustCompile(`[0-9OoQlI|!SBZ.,]*[0-9.,|%][0-9OoQlI|!SBZ.,]*`)
	points   = regexp.MustCompile(`[.,]{2,}`)
	parted   = regexp.MustCompile(`([0-9]) ?([.,]) ?([0-9])`)
	trailing = regexp.MustCompile(`([0-9])[.,](\s|%|$)`)
	brokenPc = regexp.MustCompile(`(?i)\b[o0°] ?/ ?[o0°]\b|°/°`)
)

// repaired puts right what scanners misread.
func repaired(c string) string {
	c = brokenPc.ReplaceAllString(c, "%")
	c = strings.NewReplacer("'", "", "^", "").Replace(c)
	c = numberly.ReplaceAllStringFunc(c, func(s string) string { return letters.Replace(s) })
	c = points.ReplaceAllString(c, ".")
	c = parted.ReplaceAllString(c, "$1$2$3")
	return trailing.ReplaceAllString(c, "$1$2")
}

// unitOf returns the unit in which a share is written.
func unitOf(c string) string {
	low := strings.ToLower(c)
	switch {
	case strings.Contains(low, "ppb") || strings.Contains(low, "ug/kg") || strings.Contains(low, "mcg/kg") || strings.Contains(low, "µg"):
		return "ppb"
	case strings.Contains(low, "ppm") || strings.Contains(low, "mg/kg") || strings.Contains(low, "mg / kg"):
		return "ppm"
	case strings.Contains(low, "g/kg") || strings.Contains(low, "g per kg"):
		return "g/kg"
	}
	return "%"
}

var perUnit = map[string]exact.Rat{"%": exact.Int(100), "ppm": exact.Int(1_000_000), "ppb": exact.Int(1_000_000_000), "g/kg": exact.Int(1000)}

// written writes a share as a book does. It is read back to be sure; if that is
// not the same share the text stays as it was.
func written(sh quantity.Share, unit, otherwise string) string {
	num := func(x exact.Rat) string { return x.Mul(perUnit[unit]).Decimal(12, exact.Nearest).String() }
	one := exact.Int(1)
	text := ""
	nd := strings.HasPrefix(strings.ToLower(otherwise), "n")
	switch {
	case sh.Rest:
		text = "rest"
	case sh.NotDetected:
		text = "nd"
	case sh.Lo.Equal(sh.Hi):
		text = num(sh.Lo) + " " + unit
	case sh.Lo.IsZero() && !sh.Stated && nd:
		text = "nd <" + num(sh.Hi) + " " + unit
	case sh.Lo.IsZero() && !sh.Stated:
		text = "<" + num(sh.Hi) + " " + unit
	case sh.Hi.Equal(one) && !sh.Stated:
		text = ">" + num(sh.Lo) + " " + unit
	default:
		text = num(sh.Lo) + "-" + num(sh.Hi) + " " + unit
	}
	if sh.Stated && !sh.Lo.Equal(sh.Hi) {
		text += ", typical " + num(sh.Typical) + " " + unit
	}
	if back, err := quantity.ParseShare(text); err == nil && same(back, sh) {
		return text
	}
	return strings.TrimSpace(otherwise)
}

// same reports whether two shares say the same.
func same(a, b quantity.Share) bool {
	return a.Lo.Equal(b.Lo) && a.Hi.Equal(b.Hi) && a.Stated == b.Stated && (!a.Stated || a.Typical.Equal(b.Typical)) && a.Rest == b.Rest && a.NotDetected == b.NotDetected
}

var knownUnits = []string{"%", "ppm", "ppb", "g/kg"}

// KnownUnit reports whether u can be the unit of figures that have none.
func KnownUnit(u string) bool { return slices.Contains(knownUnits, u) }
