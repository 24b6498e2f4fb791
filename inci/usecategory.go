package inci

import (
	"slices"
	"strings"
	"sync"

	"panelwright/formula/finding"
)

// UseCategory is a product category of the fragrance-use standards, by which a
// supplier's certificate limits a scent.
type UseCategory struct {
	ID       string // "9", "5A"
	Heading  string
	Products string
	Note     string
	Source   finding.Citation
	Word     string // a plain word for it that Category takes: "bath", "body lotion"
}

var useRows = sync.OnceValue(func() table { return readTable(useCategoriesText) })

// UseCategories returns the categories in order.
func UseCategories() []UseCategory {
	var all []UseCategory
	for _, r := range useRows().rows {
		if r.get("row") == "category" {
			all = append(all, newUseCategory(r))
		}
	}
	return all
}

func newUseCategory(r row) UseCategory {
	c := UseCategory{ID: r.get("category"), Heading: r.get("heading"), Products: r.get("products"), Note: r.get("note"), Source: r.cite()}
	if words := r.list("words"); len(words) > 0 {
		c.Word = words[0]
	}
	return c
}

// Category returns the id of the category that words mean: a number with or
// without "category" before it ("9", "cat. 5a"), or a word for it ("bath", "lip",
// "soap").
func Category(words string) (id string, ok bool) {
	f := Fold(words)
	for _, prefix := range []string{"CATEGORY", "CAT.", "CAT"} {
		f = strings.TrimPrefix(f, prefix)
	}
	for _, r := range useRows().rows {
		if r.get("row") != "category" {
			continue
		}
		if f == Fold(r.get("category")) || matches(r, f) {
			return r.get("category"), true
		}
	}
	return "", false
}

// ProductCategory returns the category that a type of product is placed in, with
// what there is to say of the placing: some are conflicting or guessed. Words
// for the lips count first; then the longest known type that the words end with,
// and last what TypeOfProduct takes them for.
func ProductCategory(productType string) (c UseCategory, ok bool) {
	fields := strings.Fields(productType)
	for _, w := range fields {
		if slices.Contains(typeWords()[Fold(w)], "lip") {
			return placed("lip balm")
		}
	}
	for i := range fields {
		if c, ok := placed(strings.Join(fields[i:], " ")); ok {
			return c, true
		}
	}
	for i := range fields {
		if c, ok := headed(strings.Join(fields[i:], " ")); ok {
			return c, true
		}
	}
	if p, known := TypeOfProduct(productType); known {
		return placed(p.Name)
	}
	return UseCategory{}, false
}

// placed returns the row that names a type of product.
func placed(productType string) (c UseCategory, ok bool) {
	f := Fold(productType)
	for _, r := range useRows().rows {
		if r.get("row") == "product" && (f == Fold(r.get("heading")) || matches(r, f)) {
			return newUseCategory(r), true
		}
	}
	return UseCategory{}, false
}

// headed returns the category whose own words name a type of product.
func headed(productType string) (c UseCategory, ok bool) {
	f := Fold(productType)
	for _, r := range useRows().rows {
		if r.get("row") == "category" && matches(r, f) {
			return newUseCategory(r), true
		}
	}
	return UseCategory{}, false
}

func matches(r row, folded string) bool {
	for _, w := range r.list("words") {
		if w := Fold(w); folded == w || folded == w+"S" {
			return true
		}
	}
	return false
}
