package quantity

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// plain rewrites what word processors and phones make of an amount into the
// plain characters it stands for: thin and no-break spaces, full-width digits,
// vulgar fractions, dashes, quotes around the whole. Runs of space become one.
func plain(text string) string {
	if isPlain(text) {
		return text
	}
	var b strings.Builder
	b.Grow(len(text))
	digit := false // the last character written was a digit
	put := func(r rune) {
		if r == ' ' && (b.Len() == 0 || strings.HasSuffix(b.String()[b.Len()-1:], " ")) {
			return
		}
		b.WriteRune(r)
		digit = r >= '0' && r <= '9'
	}
	for _, r := range text {
		if f, ok := vulgar[r]; ok {
			if digit {
				put(' ')
			}
			b.WriteString(f)
			digit = true
			continue
		}
		if r = plainRune(r); r >= 0 {
			put(r)
		}
	}
	return unquote(strings.TrimSpace(b.String()))
}

// isPlain reports whether plain has nothing to do.
func isPlain(s string) bool {
	space := true
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c >= utf8.RuneSelf || c < ' ' || c == 0x7f || c == '"' || c == '\'' || c == ' ' && space {
			return false
		}
		space = c == ' '
	}
	return !space || s == ""
}

// plainRune returns the plain character r stands for, or -1 for one that does
// not show.
func plainRune(r rune) rune {
	switch {
	case r == '\u200b' || r == '\u200c' || r == '\u200d' || r == '\u2060' || r == '\ufeff' || r == '\u00ad':
		return -1
	case unicode.IsSpace(r) || r == '\u180e':
		return ' '
	case r >= '\uff01' && r <= '\uff5e': // full-width forms
		return r - 0xfee0
	case r >= '\u2010' && r <= '\u2015' || r == '\u2212': // hyphens, dashes, minus
		return '-'
	case r == '\u2044' || r == '\u2215': // fraction slash, division slash
		return '/'
	case r == '‘' || r == '’' || r == '‚' || r == '′':
		return '\''
	case r == '“' || r == '”' || r == '„' || r == '«' || r == '»' || r == '″':
		return '"'
	case r == '²':
		return '2'
	case r == '³':
		return '3'
	case r == 'µ' || r == 'μ':
		return 'u'
	}
	return r
}

// unquote takes off one pair of quotes around the whole.
func unquote(s string) string {
	if len(s) >= 2 && (s[0] == '"' || s[0] == '\'') && s[len(s)-1] == s[0] {
		return strings.TrimSpace(s[1 : len(s)-1])
	}
	return s
}

var vulgar = map[rune]string{
	'½': "1/2", '⅓': "1/3", '⅔': "2/3", '¼': "1/4", '¾': "3/4", '⅕': "1/5", '⅖': "2/5", '⅗': "3/5", '⅘': "4/5",
	'⅙': "1/6", '⅚': "5/6", '⅐': "1/7", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8", '⅑': "1/9", '⅒': "1/10",
}
