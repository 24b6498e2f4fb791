package market

import (
	"strings"
	"sync"

	"panelwright/inci"
)

// StatedUse is a use of a product that its type does not tell, in the plain words
// of the book: "spray", "near the eyes", "for children under 10".
type StatedUse struct {
	Words  string
	Scopes []inci.Scope
	// Beside says that the product serves other uses as well: what is used near
	// the eyes is used elsewhere too, and is judged both ways.
	Beside bool
	// Category is the category of the fragrance-use standards that the use adds to
	// those of the types; "" for none.
	Category string
	// LeaveOn is the category that it adds where the product is left on: the
	// standards have categories for what stays on the face and on babies, and none
	// of their own for what is rinsed off them.
	LeaveOn string
}

type statedUses struct {
	order []StatedUse
	named map[string]int
}

var readStatedUses = sync.OnceValue(func() statedUses {
	t := statedUses{named: map[string]int{}}
	known := map[inci.Scope]bool{}
	for _, s := range inci.Scopes() {
		known[s.Scope] = true
	}
	for i, r := range load("stated-uses.csv") {
		category := func(column string) string {
			words := r.text(column)
			id, ok := inci.Category(words)
			if words != "" && !ok {
				r.fail(column, "no such category: "+words)
			}
			return id
		}
		u := StatedUse{Words: r.text("use"), Beside: r.text("beside") == "yes", Category: category("category"), LeaveOn: category("leave-on category")}
		for _, s := range strings.Split(r.text("scopes"), "|") {
			if !known[inci.Scope(s)] {
				r.fail("scopes", "no such scope: "+s)
			}
			u.Scopes = append(u.Scopes, inci.Scope(s))
		}
		t.order = append(t.order, u)
		for _, w := range append(strings.Split(r.text("others"), "|"), u.Words) {
			t.named[plainUse(w)] = i
		}
	}
	return t
})

// StatedUses returns the uses that a book can state, in the order of their table.
func StatedUses() []StatedUse { return readStatedUses().order }

// StatedUseOf returns the use that words of a book mean; ok is false if they are
// not known.
func StatedUseOf(words string) (u StatedUse, ok bool) {
	t := readStatedUses()
	i, ok := t.named[plainUse(words)]
	if !ok {
		return u, false
	}
	return t.order[i], true
}

// plainUse lays words out for comparison: small letters, blanks for hyphens.
func plainUse(words string) string {
	return strings.Join(strings.Fields(strings.ToLower(strings.ReplaceAll(words, "-", " "))), " ")
}
