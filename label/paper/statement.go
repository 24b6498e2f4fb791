package paper

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/date"
	"panelwright/inci"
	"panelwright/label"
)

// Ticks is what a statement says of one product.
type Ticks struct {
	Product   string
	Name      string            // as on the pack
	Allergens []string          // that its packs name, in the markets of the statement
	Foods     map[string]string // by food: "x" where an ingredient is made of it, "?" where it may be
	Open      bool              // a supplier does not say all that is in a material
}

// TicksOf reads what declarations of one product say. Amounts and suppliers are
// no part of it.
func TicksOf(name string, ds []*label.Declaration) Ticks {
	t := Ticks{Product: ds[0].Product.Name, Name: name, Foods: map[string]string{}}
	for _, d := range ds {
		for _, x := range append([]*label.Declaration{d}, d.Members...) {
			for _, r := range x.Allergens {
				if r.Declared && !slices.Contains(t.Allergens, r.Entry.Name) {
					t.Allergens = append(t.Allergens, r.Entry.Name)
				}
			}
			t.foods(x)
		}
	}
	slices.Sort(t.Allergens)
	return t
}

func (t *Ticks) foods(d *label.Declaration) {
	if d.Composition == nil {
		return
	}
	items := slices.Concat(d.Composition.Items, d.Composition.Weighed().Items)
	for i := range items {
		for _, p := range items[i].Material.Parts {
			t.Open = t.Open || strings.HasPrefix(string(p.Key), "UNDISCLOSED")
			for _, o := range inci.FoodOrigins(p.Key) {
				switch {
				case !o.May:
					t.Foods[o.Food] = tick
				case t.Foods[o.Food] == "":
					t.Foods[o.Food] = perhaps
				}
			}
		}
	}
}

const (
	tick    = "x"
	perhaps = "?"
)

// Print is the beginning of the SHA-256 of the ticks: when it changes, a
// statement is stale.
func (t *Ticks) Print() string {
	h := sha256.New()
	fmt.Fprintf(h, "%q %q %v\n", t.Product, t.Allergens, t.Open)
	for _, f := range inci.Foods {
		fmt.Fprintf(h, "%q %q\n", f, t.Foods[f])
	}
	return hex.EncodeToString(h.Sum(nil)[:6])
}

// mostColumns is how many products stand beside one another.
const mostColumns = 20

// Statement writes one page for a shop: which product holds which fragrance
// allergen and which food, tick or blank. No amounts, no suppliers.
func Statement(workshop, contact, shop string, markets []inci.Market, all []Ticks, on date.Date) *Paper {
	doc := &Paper{Title: "What is in our products, for " + shop, Lang: "en", Footer: fmt.Sprintf("%s, %s", workshop, on)}
	var titles []string
	for _, m := range markets {
		titles = append(titles, m.Title())
	}
	doc.add(Pair{"From", workshop + orNothing(", ", contact)}, Pair{"Day", on.String()})
	doc.add(Para{Words: "x: a fragrance allergen that the pack names (" + strings.Join(titles, ", ") + "), or a food that an ingredient is made of. ?: an ingredient that is often made of it. Blank: nothing written says so."})
	for from := 0; from < len(all); from += mostColumns {
		part := all[from:min(from+mostColumns, len(all))]
		doc.add(grid(part, from))
	}
	key := productKey(all)
	doc.add(Heading{2, "The products"}, key)
	if slices.ContainsFunc(all, func(t Ticks) bool { return t.Open }) {
		doc.add(Para{Words: "* A supplier does not say all that is in one of its materials.", Quiet: true})
	}
	doc.add(Para{Words: "From what is written on suppliers' sheets and in the names of ingredients. Traces, carriers of scents and what a kitchen shares were not tested. " +
		"Ask us before you promise a customer anything; a customer who reacts badly should ask a doctor.", Quiet: true})
	return doc
}

// productKey numbers the products, in two columns side by side.
func productKey(all []Ticks) Table {
	key := Table{Heads: []string{"no.", "product", "no.", "product"}, Right: []bool{true, false, true, false}, Wide: []int{8, 60, 8, 60}}
	half := (len(all) + 1) / 2
	if len(all) < 8 {
		key = Table{Heads: key.Heads[:2], Right: key.Right[:2], Wide: []int{8, 128}}
		half = len(all)
	}
	cells := func(i int) []string {
		if i >= len(all) {
			return []string{"", ""}
		}
		name := all[i].Name
		if all[i].Open {
			name += " *"
		}
		return []string{fmt.Sprint(i + 1), name}
	}
	for i := range half {
		key.Rows = append(key.Rows, slices.Concat(cells(i), cells(i+half))[:len(key.Heads)])
	}
	return key
}

func orNothing(before, s string) string {
	if s == "" {
		return ""
	}
	return before + s
}

// grid is the table of some products, numbered from the first on.
func grid(part []Ticks, first int) Table {
	t := Table{Heads: []string{"holds"}, Right: []bool{false}, Wide: []int{46}}
	for i := range part {
		t.Heads, t.Right, t.Wide = append(t.Heads, fmt.Sprint(first+i+1)), append(t.Right, true), append(t.Wide, 6)
	}
	var names []string
	for _, p := range part {
		for _, a := range p.Allergens {
			if !slices.Contains(names, a) {
				names = append(names, a)
			}
		}
	}
	slices.SortFunc(names, func(a, b string) int { return cmp.Compare(strings.ToLower(a), strings.ToLower(b)) })
	row := func(name string, has func(*Ticks) string) {
		cells := []string{name}
		for i := range part {
			cells = append(cells, has(&part[i]))
		}
		t.Rows = append(t.Rows, cells)
	}
	head := func(words string) {
		t.Bold = append(t.Bold, len(t.Rows))
		t.Rows = append(t.Rows, []string{words})
	}
	head("Fragrance allergens")
	for _, n := range names {
		row(n, func(p *Ticks) string {
			if slices.Contains(p.Allergens, n) {
				return tick
			}
			return ""
		})
	}
	if len(names) == 0 {
		t.Rows = append(t.Rows, []string{"none named"})
	}
	head("Foods")
	for _, f := range inci.Foods {
		row(f, func(p *Ticks) string { return p.Foods[f] })
	}
	return t
}
