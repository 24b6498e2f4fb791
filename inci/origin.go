package inci

import (
	_ "embed" // the table
	"slices"
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/finding"
)

//go:embed data/food-origins.csv
var foodOriginsText string

// FoodOrigin is a food that people react to and that an ingredient is made of,
// as far as its name tells.
type FoodOrigin struct {
	Food   string // peanut, nuts, cereals with gluten, milk, soy, sesame
	May    bool   // the ingredient is often made of it; only the supplier knows
	Source finding.Citation
}

// Foods are the foods that FoodOrigins knows, in the order of a statement.
var Foods = []string{"peanut", "nuts", "cereals with gluten", "milk", "soy", "sesame"}

type originRow struct {
	words  []string
	origin FoodOrigin
}

var originRows = sync.OnceValue(func() []originRow {
	var all []originRow
	t := readTable(foodOriginsText)
	for _, r := range t.rows {
		all = append(all, originRow{nameWords(r.get("words")), FoodOrigin{r.get("origin"), r.get("mark") == "may",
			finding.Citation{Text: r.get("source"), Seen: finding.Seen(r.get("seen"))}}})
	}
	return all
})

// nameWords are the words of a name, without what stands between them.
func nameWords(s string) []string {
	return strings.FieldsFunc(strings.ToUpper(s), func(c rune) bool { return c < 'A' || c > 'Z' })
}

// FoodOrigins returns the foods that the name of a substance speaks of, each
// once, one that it is made of before one that it may be made of. Names that
// speak of none may still come from one: traces and carriers are not seen.
func FoodOrigins(k formula.Key) []FoodOrigin {
	name := nameWords(string(k))
	var out []FoodOrigin
	for _, r := range originRows() {
		if !hasRun(name, r.words) {
			continue
		}
		n := slices.IndexFunc(out, func(o FoodOrigin) bool { return o.Food == r.origin.Food })
		switch {
		case n < 0:
			out = append(out, r.origin)
		case out[n].May && !r.origin.May:
			out[n] = r.origin
		}
	}
	return out
}

// hasRun reports whether words stand one after the other in name.
func hasRun(name, words []string) bool {
	for i := 0; i+len(words) <= len(name); i++ {
		if slices.Equal(name[i:i+len(words)], words) {
			return true
		}
	}
	return false
}
