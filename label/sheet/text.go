package sheet

import (
	"regexp"
	"strings"
	"unicode"
)

// splitLines parts a text at line ends of every kind: those of Windows, the page
// ends that come out of PDF files, and the separators of Unicode. A byte order
// mark is taken off.
func splitLines(text string) []string {
	text = strings.TrimPrefix(text, "\ufeff")
	text = strings.ToValidUTF8(text, "\ufffd")
	text = lineEnds.Replace(text)
	return strings.Split(text, "\n")
}

var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\f", "\n", "\v", "\n", "\u0085", "\n", "\u2028", "\n", "\u2029", "\n")

// plain rewrites what programs make of plain characters: no-break spaces, long
// dashes, curly quotes, full-width digits. Tabs stay: they part cells.
func plain(s string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case c == '\t':
			return c
		case c == '\u200b' || c == '\u200c' || c == '\u200d' || c == '\u2060' || c == '\ufeff' || c == '\u00ad':
			return -1
		case unicode.IsSpace(c) || unicode.IsControl(c):
			return ' '
		case c >= '\uff01' && c <= '\uff5e':
			return c - 0xfee0
		case c >= '\u2010' && c <= '\u2015' || c == '\u2212':
			return '-'
		case strings.ContainsRune("‘’‚′`´", c):
			return '\''
		case strings.ContainsRune("“”„«»″", c):
			return '"'
		}
		return c
	}, s)
}

var (
	leaders  = regexp.MustCompile(`(^|[\pL)\s])\s*[._]{3,}\s*`) // the dots that lead from a name to its figure
	wideGaps = regexp.MustCompile(` {2,}`)
	looseBar = regexp.MustCompile(`(?:^|[ \t])\|(?:[ \t]|$)`)
	blanks   = regexp.MustCompile(`\s+`)
	numbers  = regexp.MustCompile(`(?:^|[^\w.-])([0-9]{2,7}-[0-9]{2}-[0-9])(?:[^\w-]|$)`)
	// blurred are registry numbers with a letter read for a digit.
	blurred = regexp.MustCompile(`(?:^|[^\w.-])([0-9OolI|SB]{2,7}-[0-9OolI|SB]{2}-[0-9OolI|SB])(?:[^\w-]|$)`)
	// ecNumbers are those of the European inventories, of the list of classified
	// substances (603-235-00-2) and of registrations (01-2119474016-42-XXXX).
	ecNumbers = regexp.MustCompile(`(?:^|[^\w.-])([2-9][0-9]{2}-[0-9]{3}-[0-9]|[0-9]{3}-[0-9]{3}-[0-9]{2}-[0-9X]|01-[0-9]{10}-[0-9]{2}(?:-[0-9X]{4})?)(?:[^\w-]|$)`)
	ecWords   = regexp.MustCompile(`(?i)\b(?:EC|EINECS|ELINCS|EG|INDEX|REACH|REG)\b\.?(?: ?/ ?LIST)?(?: ?(?:no|nr|number)\b\.?)?:?`)
	casWords  = regexp.MustCompile(`(?i)\bCAS\b(?:-?RN|-?Nr|[ -]?(?:no|number|nummer)\b)?\.?:?`)
)

// cells parts a line at tabs, wide gaps, bars and semicolons. A bar with a letter
// right beside it may be a misread 1 or l, and parts nothing where others stand free.
func cells(text string) []string {
	text = leaders.ReplaceAllString(text, "$1\t")
	text = wideGaps.ReplaceAllString(text, "\t")
	switch n := strings.Count(text, "|"); {
	case looseBar.MatchString(text):
		text = looseBar.ReplaceAllString(looseBar.ReplaceAllString(text, "\t"), "\t") // twice: one blank may part two bars
	case n > 1 && !strings.Contains(text, "\t"):
		text = strings.ReplaceAll(text, "|", "\t")
	}
	text = strings.ReplaceAll(text, "; ", "\t")
	if strings.Count(text, ";") > 1 {
		text = strings.ReplaceAll(text, ";", "\t")
	}
	return strings.Split(text, "\t")
}

// filled are the cells that hold something, trimmed.
func filled(cs []string) (out []string) {
	for _, c := range cs {
		if c = trimCell(c); c != "" {
			out = append(out, c)
		}
	}
	return out
}

// trimCell takes blanks, quotes round the whole and stray punctuation off. A dash
// alone stays: it stands where a figure should.
func trimCell(c string) string {
	c = strings.TrimSpace(blanks.ReplaceAllString(c, " "))
	if len(c) > 1 && (c[0] == '"' || c[0] == '\'') && c[len(c)-1] == c[0] {
		c = strings.TrimSpace(c[1 : len(c)-1])
	}
	if strings.Trim(c, "- ") == "" {
		return strings.ReplaceAll(c, " ", "")
	}
	c = strings.Trim(c, " ,:;=/&\"")
	for strings.HasPrefix(c, "- ") || strings.HasPrefix(c, "• ") || strings.HasPrefix(c, "· ") {
		_, c, _ = strings.Cut(c, " ")
		c = strings.TrimSpace(c)
	}
	c = strings.TrimSuffix(c, " -")
	if strings.Count(c, "(") > strings.Count(c, ")") {
		c = strings.TrimSpace(strings.TrimSuffix(c, "("))
	}
	if strings.Count(c, ")") > strings.Count(c, "(") {
		c = strings.TrimSpace(strings.TrimPrefix(c, ")"))
	}
	return strings.Trim(c, " ,:;=")
}

// taken cuts every match of a number out of a text and returns the pieces that
// are left, and the numbers.
func taken(text string, re *regexp.Regexp) (pieces, found []string) {
	for {
		m := re.FindStringSubmatchIndex(text)
		if m == nil {
			return append(pieces, text), found
		}
		pieces, found = append(pieces, text[:m[2]]), append(found, text[m[2]:m[3]])
		text = text[m[3]:]
	}
}
