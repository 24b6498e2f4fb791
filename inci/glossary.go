package inci

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/finding"
)

// GlossarySize is the number of names in the ingredient inventory as published
// in spring 2026, repeated names merged.
const GlossarySize = 28703

// Substance is an entry of the ingredient inventory.
type Substance struct {
	Key  formula.Key // the substance; two names of one material share a key (WATER has AQUA)
	Name string      // as published, in capitals
	// CAS is the registry number published first; an entry may have others, so a
	// sheet that names another one is not thereby wrong. Often empty, as is EC.
	CAS, EC   string
	Functions string // joined by ";"
}

// Source returns where the entry was published.
func (Substance) Source() finding.Citation {
	return finding.Citation{Text: sourceText("glossary-1"), Seen: finding.Yes}
}

// Find returns the inventory entry with this name after folding. Of two names
// that fold alike it prefers the one that is spelled the same. A name with
// "(nano)" behind it gives the nano form, under a key of its own.
func Find(name string) (Substance, bool) {
	var buf [128]byte
	want := appendFold(buf[:0], name)
	if len(want) == 0 {
		return Substance{}, false
	}
	at, ok := findLine(want)
	if !ok {
		return findNano(name)
	}
	best := at
	for at < len(glossaryText) {
		n := nameAt(at)
		if compareFold(n, want) != 0 {
			break
		}
		if strings.EqualFold(n, name) {
			best = at
			break
		}
		at = lineEnd(at)
	}
	return substanceAt(best), true
}

// findNano finds a nano form, which the inventory does not list apart: the name of
// an entry with "(nano)" behind it, as Article 19(1)(g) writes it. It is a
// substance of its own, with limits of its own.
func findNano(name string) (Substance, bool) {
	n := len(name) - len(nanoMark)
	if n <= 0 || !strings.EqualFold(name[n:], nanoMark) {
		return Substance{}, false
	}
	s, ok := Find(name[:n])
	if !ok || Nano(s.Key) {
		return Substance{}, false
	}
	s.Key, s.Name = s.Key+formula.Key(" "+nanoMark), s.Name+" "+nanoMark
	return s, true
}

// findLine returns the offset of the first line whose folded name is want. The
// file is sorted by folded name, so halving the text finds it.
func findLine(want []byte) (at int, ok bool) {
	lo, hi := lineEnd(0), len(glossaryText)
	for lo < hi {
		mid := lineStart(lo, (lo+hi)/2)
		if compareFold(nameAt(mid), want) < 0 {
			lo = lineEnd(mid)
		} else {
			hi = mid
		}
	}
	return lo, lo < len(glossaryText) && compareFold(nameAt(lo), want) == 0
}

func lineStart(from, at int) int {
	if i := strings.LastIndexByte(glossaryText[from:at], '\n'); i >= 0 {
		return from + i + 1
	}
	return from
}

func lineEnd(at int) int {
	if i := strings.IndexByte(glossaryText[at:], '\n'); i >= 0 {
		return at + i + 1
	}
	return len(glossaryText)
}

// nameAt returns the name that opens the line at the offset. No published name
// holds a double quote.
func nameAt(at int) string {
	s := glossaryText[at:]
	if s[0] == '"' {
		return s[1 : 1+strings.IndexByte(s[1:], '"')]
	}
	return s[:strings.IndexByte(s, ',')]
}

func substanceAt(at int) Substance {
	var buf [4]string
	f, _ := cutRow(glossaryText[at:lineEnd(at)], buf[:0])
	return Substance{Key: Canonical(formula.Key(f[0])), Name: f[0], CAS: f[1], EC: f[2], Functions: f[3]}
}

// eachLine calls yield with the offset of every entry.
func eachLine(yield func(at int)) {
	for at := lineEnd(0); at < len(glossaryText); at = lineEnd(at) {
		yield(at)
	}
}

var twins = sync.OnceValue(func() map[formula.Key]formula.Key {
	t := readTable(twinsText)
	m := make(map[formula.Key]formula.Key, len(t.rows))
	for _, r := range t.rows {
		m[formula.Key(r.get("name"))] = formula.Key(r.get("key"))
	}
	return m
})

// Canonical returns the key under which a material is kept where the inventory
// has two names for it, the English and the Latin one: WATER gives AQUA. Other
// keys come back as they are.
func Canonical(k formula.Key) formula.Key {
	if c, ok := twins()[k]; ok {
		return c
	}
	return k
}

type casLine struct {
	cas uint64
	at  int32
}

// casIndex costs a pass over the inventory, paid by the first question.
var casIndex = sync.OnceValue(func() []casLine {
	index := make([]casLine, 0, GlossarySize/2+1)
	eachLine(func(at int) {
		line := glossaryText[at+len(nameAt(at)):] // the name may hold commas, what follows it does not
		line = line[strings.IndexByte(line, ',')+1:]
		for cas := range strings.FieldsSeq(line[:strings.IndexByte(line, ',')]) {
			if n, ok := casNumber(cas); ok {
				index = append(index, casLine{n, int32(at)})
			}
		}
	})
	slices.SortFunc(index, func(a, b casLine) int {
		return cmp.Or(cmp.Compare(a.cas, b.cas), cmp.Compare(a.at, b.at))
	})
	return index
})

// ByCAS returns the inventory entries that carry the registry number, by name.
// Several names may share a number, and an entry may have numbers that the
// inventory does not carry.
func ByCAS(cas string) []Substance {
	n, ok := casNumber(cas)
	if !ok {
		return nil
	}
	index := casIndex()
	i, _ := slices.BinarySearchFunc(index, n, func(e casLine, n uint64) int { return cmp.Compare(e.cas, n) })
	var found []Substance
	for ; i < len(index) && index[i].cas == n; i++ {
		found = append(found, substanceAt(int(index[i].at)))
	}
	return found
}

// ValidCAS reports whether cas is a registry number with the right check digit:
// the last digit is the sum of the others, each times its place from the right,
// modulo ten.
func ValidCAS(cas string) bool {
	_, ok := casNumber(cas)
	return ok
}

// casNumber returns the digits of a well-formed registry number as one number.
func casNumber(cas string) (uint64, bool) {
	i := strings.IndexByte(cas, '-')
	if i < 2 || i > 7 || len(cas) != i+5 || cas[i+3] != '-' {
		return 0, false
	}
	var n uint64
	sum, place := 0, i+2
	for j := 0; j < len(cas); j++ {
		if j == i || j == i+3 {
			continue
		}
		if !isDigit(cas[j]) {
			return 0, false
		}
		n = n*10 + uint64(cas[j]-'0')
		if place > 0 {
			sum += place * int(cas[j]-'0')
			place--
		}
	}
	return n, sum%10 == int(cas[len(cas)-1]-'0')
}
