package inci

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

var capitals = sync.OnceValue(func() map[string]map[string]string {
	kinds := map[string]map[string]string{}
	for _, r := range readTable(capitalsText).rows {
		m := kinds[r.get("kind")]
		if m == nil {
			m = map[string]string{}
			kinds[r.get("kind")] = m
		}
		m[r.get("text")] = r.get("printed")
	}
	return kinds
})

// Readable returns a name that shouts in title case: "CAPRYLIC/CAPRIC
// TRIGLYCERIDE" gives "Caprylic/Capric Triglyceride". Abbreviations stay (PEG,
// EDTA, CI 77891), chemical prefixes become small (t-, p-), and what follows a
// locant keeps its form (o-Cymen-5-ol). A name that already has a small letter
// is somebody's choice and comes back as it is.
func Readable(name string) string {
	if strings.IndexFunc(name, unicode.IsLower) >= 0 {
		return name
	}
	var b strings.Builder
	b.Grow(len(name))
	for i := 0; i < len(name); {
		n := wordLen(name[i:])
		if n == 0 {
			_, n = utf8.DecodeRuneInString(name[i:])
			b.WriteString(name[i : i+n])
		} else {
			b.WriteString(readableWord(name, i, i+n))
		}
		i += n
	}
	return b.String()
}

// wordLen returns how many bytes of s are one word: letters, with an apostrophe
// or an ampersand between two letters.
func wordLen(s string) int {
	n := 0
	for n < len(s) {
		r, size := utf8.DecodeRuneInString(s[n:])
		if !unicode.IsLetter(r) {
			next, _ := utf8.DecodeRuneInString(s[n+size:])
			joins := r == '\'' || r == '’' || r == '&'
			if n == 0 || !joins || !unicode.IsLetter(next) {
				break
			}
		}
		n += size
	}
	return n
}

func readableWord(name string, from, to int) string {
	word, before, after := name[from:to], byte(' '), byte(' ')
	if from > 0 {
		before = name[from-1]
	}
	if to < len(name) {
		after = name[to]
	}
	kinds := capitals()
	if s, ok := kinds["word"][word]; ok {
		return s
	}
	if s, ok := kinds["before hyphen"][word]; ok && after == '-' && !isDigit(before) {
		return s
	}
	if s, ok := kinds["after locant"][word]; ok && before == '-' && from > 1 && (isDigit(name[from-2]) || name[from-2] == ')') {
		return s
	}
	if s, ok := kinds["small word"][word]; ok && from > 0 && to < len(name) && before == ' ' && after == ' ' {
		return s
	}
	_, n := utf8.DecodeRuneInString(word)
	return word[:n] + strings.ToLower(word[n:])
}
