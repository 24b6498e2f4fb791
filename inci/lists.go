package inci

// List names a list of declarable allergens that a supplier's sheet can answer
// in full, as a book writes it after "covers". What a sheet does not cover is
// unknown, not zero.
type List string

// The lists a sheet may answer.
const (
	EU81 List = "eu-81" // Annex III as widened by Regulation (EU) 2023/1545
	EU26 List = "eu-26" // the list before it, with the two entries since banned
	EU24 List = "eu-24" // the same without those two
	GBR  List = "gb"    // the entries declarable in Great Britain
)

// Lists returns the names of all lists.
func Lists() []string { return []string{string(EU81), string(EU26), string(EU24), string(GBR)} }

// ListNamed returns the list of that name after folding.
func ListNamed(name string) (List, bool) {
	for _, l := range Lists() {
		if Fold(l) == Fold(name) {
			return List(l), true
		}
	}
	return "", false
}

// Covers reports whether a sheet that answers l answers the entry, by its
// number in Annex III (or the reference of a banned former entry). An older list
// answers a widened entry for its old scope only: see Member.Added.
func (l List) Covers(entry string) bool {
	switch l {
	case EU81:
		return has(Allergens(EU), entry)
	case EU26:
		return has(Allergens(GB), entry) || has(ProhibitedAllergens(), entry)
	case EU24, GBR:
		// Great Britain kept the set that the Union had before 2023.
		return has(Allergens(GB), entry)
	}
	return false
}

func has(all []*Allergen, entry string) bool {
	for _, a := range all {
		if a.Entry == entry {
			return true
		}
	}
	return false
}
