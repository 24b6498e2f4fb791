package inci

import (
	"cmp"
	"math/bits"
	"slices"
	"strings"
	"sync"
)

// known is every name this package answers to, folded, in one text.
type known struct {
	text  string // all folded names end to end
	names []knownName
}

type knownName struct {
	name     string
	kind     Kind
	from, to int32  // the folded name in text
	letters  uint32 // which letters and digits it has
}

func (k *known) folded(n knownName) string { return k.text[n.from:n.to] }

// everyName is built by the first question: about 30,000 names, under 1 MB.
var everyName = sync.OnceValue(func() *known {
	k := &known{names: make([]knownName, 0, GlossarySize+2000)}
	text := make([]byte, 0, len(glossaryText)/2)
	add := func(name string, kind Kind) {
		from := len(text)
		text = appendFold(text, name)
		k.names = append(k.names, knownName{name, kind, int32(from), int32(len(text)), lettersOf(text[from:])})
	}
	for _, t := range trade() {
		add(t.Name, KindTrade)
	}
	for _, a := range aliases() {
		add(a.name, KindTrade)
	}
	for _, a := range slices.Concat(Allergens(EU), ProhibitedAllergens()) {
		add(a.Name, KindAllergen)
		for _, m := range a.Members {
			add(Readable(string(m.Key)), KindAllergen)
		}
	}
	for _, r := range readTable(synonymsText).rows {
		add(r.get("synonym"), KindAllergen)
	}
	for _, r := range readTable(coloursUSText).rows {
		add(r.get("material"), KindColour)
		if s := r.get("us_name"); s != "" {
			add(s, KindColour)
		}
	}
	eachLine(func(at int) { add(nameAt(at), KindIngredient) })
	k.text = string(text)
	return k
})

// lettersOf marks the letters and digits in a folded name, one bit each, the
// rarest sharing. One edit changes at most two bits.
func lettersOf[S string | []byte](s S) (set uint32) {
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case 'A' <= c && c <= 'Z':
			set |= 1 << (c - 'A')
		case isDigit(c):
			set |= 1 << (26 + (c-'0')%6)
		}
	}
	return set
}

// maxTyped bounds what is compared letter by letter; nobody mistypes more.
const maxTyped = 120

// Suggest returns up to n known names nearest to name, nearest first: trade
// names, allergens, colours and ingredient names, in readable letters. Names with
// one or two wrong letters keep out all others; failing those, a name counts as
// near while about one letter in four is wrong. Swapped neighbours are one
// mistake. It returns nil where nothing is near.
func Suggest(name string, n int) []string {
	want := Fold(name)
	if n <= 0 || want == "" || len(want) > maxTyped {
		return nil
	}
	most := min(1+len(want)/4, 6)
	hits := near(want, n, min(2, most))
	if hits == nil {
		hits = near(want, n, most)
	}
	var found []string
	seen := map[string]bool{}
	k := everyName()
	for _, h := range hits {
		if c := k.names[h.at]; len(found) < n && !seen[k.folded(c)] {
			seen[k.folded(c)] = true
			found = append(found, Readable(c.name))
		}
	}
	return found
}

type hit struct{ distance, at int }

// near returns the names within bound of want, nearest first; beyond the n-th
// distance it may leave some out.
func near(want string, n, bound int) []hit {
	var hits []hit
	nearest := func(a, b hit) int { return cmp.Compare(a.distance, b.distance) }
	letters := lettersOf(want)
	k := everyName()
	var d distancer
	for i, c := range k.names {
		size := int(c.to - c.from)
		if size > len(want)+bound || size < len(want)-bound || bits.OnesCount32(letters^c.letters) > 2*bound {
			continue
		}
		distance := d.between(want, k.folded(c), bound)
		if distance > bound {
			continue
		}
		hits = append(hits, hit{distance, i})
		if len(hits) >= 4*n { // only what is at least as near as the n-th can still win
			slices.SortStableFunc(hits, nearest)
			bound = hits[n-1].distance
			hits = hits[:cut(len(hits), func(i int) bool { return hits[i].distance > bound })]
		}
	}
	slices.SortStableFunc(hits, nearest)
	return hits
}

func cut(n int, past func(int) bool) int {
	for i := range n {
		if past(i) {
			return i
		}
	}
	return n
}

// distancer keeps the rows of the table between calls.
type distancer struct{ rows [3][maxTyped + 16]int8 }

// between returns the Damerau-Levenshtein distance of a and b in its restricted
// form (no letter is edited twice), or bound+1 as soon as it must be greater.
// Only the cells within bound of the diagonal are filled. len(a) is at most
// maxTyped and the lengths differ by at most bound.
func (d *distancer) between(a, b string, bound int) int {
	if strings.HasPrefix(b, a) {
		return len(b) - len(a)
	}
	before, last, row := &d.rows[0], &d.rows[1], &d.rows[2]
	far := int8(bound + 1)
	for j := 0; j <= min(len(b), bound); j++ {
		last[j] = int8(j)
	}
	if bound+1 <= len(b) {
		last[bound+1] = far
	}
	for i := 1; i <= len(a); i++ {
		from, to := max(1, i-bound), min(len(b), i+bound)
		row[from-1] = far
		if from == 1 && i <= bound {
			row[0] = int8(i)
		}
		least := row[from-1]
		for j := from; j <= to; j++ {
			v := last[j-1]
			if a[i-1] != b[j-1] {
				v++
				v = min(v, last[j]+1, row[j-1]+1)
				if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
					v = min(v, before[j-2]+1)
				}
			}
			v = min(v, far)
			row[j] = v
			least = min(least, v)
		}
		if to < len(b) {
			row[to+1] = far
		}
		if least > int8(bound) {
			return bound + 1
		}
		before, last, row = last, row, before
	}
	return int(last[len(b)])
}
