package sheet

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"panelwright/formula"
	"panelwright/inci"
)

func decimal(n int) string { return strconv.Itoa(n) }

// ident is what a name means: as an allergen, and as an ingredient.
type ident struct {
	entry    *inci.Allergen
	key      formula.Key // the allergen's, if there is one
	name     string
	part     formula.Key // the ingredient's, if there is one
	partName string
	hidden   bool   // what a supplier does not disclose
	note     string // how the name was come by, if not as it stands
	clash    string // names another substance as well
}

func (i ident) ok() bool { return i.entry != nil || i.part != "" || i.hidden }

// of returns the key and the name under which a table of that kind keeps it.
func (i ident) of(k Kind) (formula.Key, string) {
	if k == Contains || i.entry == nil {
		return i.part, i.partName
	}
	return i.key, i.name
}

var (
	colourIndex = regexp.MustCompile(`(?i)^C\.? ?I\.? ?([0-9]{5}(?::[0-9])?)$`)
	// colourBehind is a name with its colour index behind it.
	colourBehind = regexp.MustCompile(`(?i)^(.+?)[\s,]+(C\.? ?I\.? ?[0-9]{5})$`)
	bracketed    = regexp.MustCompile(`^(.+?)\s*[(\[](.+)[)\]]$`)
	inside       = regexp.MustCompile(`\s\([^()]*\)\s`)
	footnote     = regexp.MustCompile(`\s*(?:[*†‡#°^¹²³⁴]+|\([0-9a-e]\))$`)
)

// identify looks a name up as it stands, then without footnote marks, without what
// stands in brackets, and by each of several names that are parted by a stroke.
func (r *reader) identify(name string) ident {
	if id, ok := r.known[name]; ok {
		return id
	}
	id := identify(name)
	r.known[name] = id
	return id
}

func identify(name string) ident {
	name = strings.TrimSpace(name)
	if id := lookUp(name); id.ok() {
		return id
	}
	if bare := strings.TrimSpace(footnote.ReplaceAllString(name, "")); bare != name && bare != "" {
		if id := identify(bare); id.ok() {
			return id
		}
	}
	if m := bracketed.FindStringSubmatch(name); m != nil {
		return eitherName(lookUp(m[1]), lookUp(m[2]), m[1], m[2])
	}
	if bare := strings.Join(strings.Fields(inside.ReplaceAllString(name, " ")), " "); bare != name {
		if id := lookUp(bare); id.ok() {
			id.note = "found by “" + shorten(bare) + "”"
			return id
		}
	}
	if m := colourBehind.FindStringSubmatch(name); m != nil {
		if id := eitherName(lookUp(m[1]), lookUp(m[2]), m[1], m[2]); id.ok() {
			return id
		}
	}
	for _, mark := range []string{" / ", "/", " or ", " = "} {
		if a, b, ok := strings.Cut(name, mark); ok && len(strings.Fields(name)) < 9 {
			if id := eitherName(lookUp(a), lookUp(b), a, b); id.ok() {
				return id
			}
		}
	}
	return ident{}
}

// eitherName settles two names of one substance, one beside the other.
func eitherName(a, b ident, an, bn string) ident {
	an, bn = strings.TrimSpace(an), strings.TrimSpace(bn)
	switch {
	case !a.ok() && !b.ok():
		return ident{}
	case !a.ok():
		b.note = "found by “" + shorten(bn) + "”"
		return b
	case !b.ok():
		a.note = "found by “" + shorten(an) + "”"
		return a
	case a.entry != nil && b.entry != nil && a.entry != b.entry:
		a.clash = "“" + shorten(an) + "” and “" + shorten(bn) + "” are two substances"
	case strings.HasPrefix(string(b.part), "CI ") && !strings.HasPrefix(string(a.part), "CI "):
		b.note = "found by “" + bn + "”"
		return b
	}
	return a
}

// lookUp finds a name that stands alone.
func lookUp(name string) (id ident) {
	name = strings.TrimSpace(name)
	switch strings.ToLower(name) {
	case "":
		return id
	case "undisclosed", "unknown", "not disclosed", "proprietary", "others", "other ingredients", "non-disclosed":
		return ident{hidden: true, name: "undisclosed", part: "UNDISCLOSED", partName: "undisclosed"}
	}
	if inci.ValidCAS(name) {
		return id // a number is no name; see byNumber
	}
	if m := colourIndex.FindStringSubmatch(name); m != nil {
		name = "CI " + m[1]
	}
	if a, k, ok := inci.FindAllergen(name); ok {
		id.entry, id.key, id.name = a, k, allergenName(a, k)
	}
	id.part, id.partName = ingredient(name)
	return id
}

// allergenName returns a name by which a book finds the very same entry and key.
func allergenName(a *inci.Allergen, k formula.Key) string {
	if k == inci.GroupKey(a) {
		if _, back, ok := inci.FindAllergen(a.Name); ok && back == k {
			return a.Name
		}
	}
	return inci.Readable(string(k))
}

// ingredient finds a name as a book does in contains: the inventory, then the
// trade materials that are one substance.
func ingredient(name string) (formula.Key, string) {
	k := formula.Key("")
	if s, ok := inci.Find(name); ok {
		k = s.Key
	} else if t, ok := inci.TradeMaterial(name); ok && !t.Blend {
		k = t.Key
	}
	if k == "" {
		return "", ""
	}
	written := inci.Readable(string(k))
	if s, ok := inci.Find(written); ok && s.Key == k {
		return k, written
	}
	return k, name
}

// byNumber finds what registry numbers mean, where they mean one thing only.
func byNumber(numbers []string) ident {
	var id ident
	for _, n := range numbers {
		next := ident{}
		if a, k, ok := inci.FindAllergen(n); ok {
			next.entry, next.key, next.name = a, k, allergenName(a, k)
		}
		if all := inci.ByCAS(n); len(all) == 1 {
			next.part, next.partName = ingredient(all[0].Name)
		}
		switch {
		case !next.ok():
		case !id.ok():
			id = next
		case id.entry != nil && id.entry == next.entry && id.key != next.key:
			id.key = inci.GroupKey(id.entry)
			id.name = allergenName(id.entry, id.key)
		case id.entry != next.entry || id.part != next.part:
			return ident{}
		}
	}
	return id
}

// belongs reports whether a registry number may stand beside a name, and if not,
// whose it is. A number that nothing is known of may always: the inventory
// carries only some of an ingredient's numbers.
func belongs(id ident, number string) (whose string, ok bool) {
	if id.hidden {
		return "", true
	}
	if id.entry != nil {
		if slices.Contains(id.entry.CAS, number) {
			return "", true
		}
		for _, m := range id.entry.Members {
			if slices.Contains(m.CAS, number) {
				return "", true
			}
		}
	}
	other := byNumber([]string{number})
	for _, s := range inci.ByCAS(number) {
		if s.Key == id.part || s.Key == id.key {
			return "", true
		}
		if whose == "" {
			whose = inci.Readable(s.Name)
		}
	}
	if other.entry != nil {
		if other.entry == id.entry {
			return "", true
		}
		return other.name, false
	}
	// An ingredient whose own number the inventory does not carry may have this one.
	if s, known := inci.Find(id.partName); whose == "" || !known || s.CAS == "" {
		return "", true
	}
	return whose, false
}

// suggest returns "did you mean X?" for a name that is not known, or "". Each
// question goes through all names, so their number is bounded.
func (r *reader) suggest(name string) string {
	const most = 300
	if r.suggested++; r.suggested > most || len(name) > 80 {
		return ""
	}
	near := inci.Suggest(name, 1)
	if len(near) == 0 {
		return ""
	}
	return near[0]
}
