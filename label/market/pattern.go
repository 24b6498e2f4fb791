package market

import (
	"strings"
	"unicode"
)

// Word is a word of a text, folded for comparison, with where it stands.
type Word struct {
	Folded     string // small letters, without accents; ß is ss
	Start, End int    // bytes of the text
}

// Words cuts a text into its words: runs of letters and digits. Apostrophes and
// hyphens part words.
func Words(text string) []Word {
	var all []Word
	start := -1
	cut := func(end int) {
		if start >= 0 {
			all = append(all, Word{foldWord(text[start:end]), start, end})
			start = -1
		}
	}
	for i, r := range text {
		switch in := unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r); {
		case in && start < 0:
			start = i
		case !in:
			cut(i)
		}
	}
	cut(len(text))
	return all
}

var plainLetters = map[rune]string{
	'à': "a", 'á': "a", 'â': "a", 'ã': "a", 'ä': "a", 'å': "a", 'æ': "ae", 'ç': "c", 'è': "e", 'é': "e", 'ê': "e", 'ë': "e",
	'ì': "i", 'í': "i", 'î': "i", 'ï': "i", 'ñ': "n", 'ò': "o", 'ó': "o", 'ô': "o", 'õ': "o", 'ö': "o", 'ø': "o", 'œ': "oe",
	'ù': "u", 'ú': "u", 'û': "u", 'ü': "u", 'ý': "y", 'ÿ': "y", 'ß': "ss",
}

func foldWord(s string) string {
	s = strings.ToLower(s)
	if strings.IndexFunc(s, func(r rune) bool { return r > unicode.MaxASCII }) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch plain, ok := plainLetters[r]; {
		case ok:
			b.WriteString(plain)
		case !unicode.Is(unicode.Mn, r): // an accent of its own is dropped
			b.WriteRune(r)
		}
	}
	return b.String()
}

// Pattern is a run of words to look for. Each word may be one of several, "kill/kills";
// a star at its end or its beginning stands for any letters, "heil*"; "..."
// stands for up to three words of any kind.
type Pattern []patternWord

type patternWord struct {
	any []string // "" is nobody's word
	gap bool     // up to three words of any kind
}

const longestGap = 3

// ParsePattern reads a pattern. Its letters are folded as those of a text.
func ParsePattern(s string) Pattern {
	var p Pattern
	for _, f := range strings.Fields(s) {
		if f == "..." {
			p = append(p, patternWord{gap: true})
			continue
		}
		w := patternWord{}
		for _, a := range strings.Split(f, "/") {
			w.any = append(w.any, foldWord(a))
		}
		p = append(p, w)
	}
	return p
}

func (w patternWord) is(word string) bool {
	for _, a := range w.any {
		switch {
		case a == word,
			strings.HasSuffix(a, "*") && strings.HasPrefix(a, "*") && strings.Contains(word, a[1:len(a)-1]),
			strings.HasSuffix(a, "*") && strings.HasPrefix(word, a[:len(a)-1]),
			strings.HasPrefix(a, "*") && strings.HasSuffix(word, a[1:]):
			return true
		}
	}
	return false
}

// at returns how many words from the first of the given ones on the pattern
// takes, the fewest possible; 0 if it does not stand there.
func (p Pattern) at(words []Word) int {
	if len(p) == 0 {
		return 0
	}
	n := 0
	for i, w := range p {
		if w.gap {
			for skip := 0; skip <= longestGap && n+skip < len(words); skip++ {
				if m := p[i+1:].at(words[n+skip:]); m > 0 {
					return n + skip + m
				}
			}
			return 0
		}
		if n >= len(words) || !w.is(words[n].Folded) {
			return 0
		}
		n++
	}
	return n
}

// In reports whether the pattern stands anywhere in the text.
func (p Pattern) In(words []Word) bool {
	for i := range words {
		if p.at(words[i:]) > 0 {
			return true
		}
	}
	return false
}

// parsePatterns reads patterns parted by "|".
func parsePatterns(s string) []Pattern {
	var all []Pattern
	for _, one := range strings.Split(s, "|") {
		if p := ParsePattern(one); len(p) > 0 {
			all = append(all, p)
		}
	}
	return all
}
