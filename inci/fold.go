package inci

import (
	"bytes"
	"unicode"
	"unicode/utf8"
)

// Fold returns the form in which names are compared: capitals, without accents,
// and without blanks, hyphens and apostrophes, except that one blank stays where
// such a mark stands between two digits, so that "C12-15" and "C1215" differ.
// Greek letters of chemical names are spelled out.
func Fold(s string) string { return string(appendFold(make([]byte, 0, len(s)), s)) }

func appendFold(dst []byte, s string) []byte {
	from, gap := len(dst), false
	for i := 0; i < len(s); {
		if c := s[i]; c < utf8.RuneSelf {
			i++
			if isMark(c) {
				gap = true
				continue
			}
			if gap && len(dst) > from && isDigit(dst[len(dst)-1]) && isDigit(c) {
				dst = append(dst, ' ')
			}
			gap = false
			dst = append(dst, upper(c))
			continue
		}
		r, n := utf8.DecodeRuneInString(s[i:])
		i += n
		switch t, mark := foldRune(r); {
		case mark:
			gap = true
		case t != "":
			gap = false
			dst = append(dst, t...)
		}
	}
	return dst
}

// compareFold compares the folded form of s with want, which is folded already,
// without building it.
func compareFold(s string, want []byte) int {
	n, gap, last := 0, false, byte(0)
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c >= utf8.RuneSelf {
			return bytes.Compare(appendFold(nil, s), want)
		}
		if isMark(c) {
			gap = true
			continue
		}
		if gap && n > 0 && isDigit(last) && isDigit(c) {
			if d := compareAt(want, n, ' '); d != 0 {
				return d
			}
			n++
		}
		gap, last = false, upper(c)
		if d := compareAt(want, n, last); d != 0 {
			return d
		}
		n++
	}
	if n < len(want) {
		return -1
	}
	return 0
}

func compareAt(want []byte, n int, c byte) int {
	switch {
	case n >= len(want) || c > want[n]:
		return 1
	case c < want[n]:
		return -1
	}
	return 0
}

func isMark(c byte) bool {
	switch c {
	case ' ', '-', '\'', '`', '_', '\t', '\n', '\r':
		return true
	}
	return false
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

func upper(c byte) byte {
	if 'a' <= c && c <= 'z' {
		return c - 'a' + 'A'
	}
	return c
}

// foldRune returns what a character outside ASCII folds to, or that it is a
// mark such as a blank, a dash or an apostrophe.
func foldRune(r rune) (text string, mark bool) {
	if r == utf8.RuneError {
		return "\uFFFD", false
	}
	u := unicode.ToUpper(r)
	if t, ok := plainLetters[u]; ok {
		return t, false
	}
	switch {
	case unicode.Is(unicode.Mn, r), r == '\u200B', r == '\uFEFF', r == '\u00AD':
		return "", false
	case unicode.IsSpace(r), unicode.Is(unicode.Pd, r):
		return "", true
	case r == '\u2212', r == '\u2018', r == '\u2019', r == '\u02BC', r == '\u2032', r == '\u00B4':
		return "", true
	}
	return string(u), false
}

var plainLetters = map[rune]string{
	'À': "A", 'Á': "A", 'Â': "A", 'Ã': "A", 'Ä': "A", 'Å': "A", 'Ā': "A", 'Ă': "A", 'Ą': "A", 'Æ': "AE",
	'Ç': "C", 'Ć': "C", 'Č': "C", 'Ď': "D", 'Đ': "D", 'È': "E", 'É': "E", 'Ê': "E", 'Ë': "E", 'Ē': "E",
	'Ė': "E", 'Ę': "E", 'Ě': "E", 'Ğ': "G", 'Ģ': "G", 'Ì': "I", 'Í': "I", 'Î': "I", 'Ï': "I", 'Ī': "I",
	'İ': "I", 'Ķ': "K", 'Ļ': "L", 'Ł': "L", 'Ñ': "N", 'Ń': "N", 'Ņ': "N", 'Ň': "N", 'Ò': "O", 'Ó': "O",
	'Ô': "O", 'Õ': "O", 'Ö': "O", 'Ø': "O", 'Ő': "O", 'Œ': "OE", 'Ř': "R", 'Ś': "S", 'Š': "S", 'Ş': "S",
	'Ș': "S", 'ß': "SS", 'ẞ': "SS", 'Ť': "T", 'Ț': "T", 'Ù': "U", 'Ú': "U", 'Û': "U", 'Ü': "U", 'Ū': "U",
	'Ů': "U", 'Ű': "U", 'Ý': "Y", 'Ÿ': "Y", 'Ź': "Z", 'Ż': "Z", 'Ž': "Z", '×': "X",
	'Α': "ALPHA", 'Β': "BETA", 'Γ': "GAMMA", 'Δ': "DELTA",
}
