package label

import (
	"strings"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// Declaration is the ordered list of names for one product, one market and one
// occasion, with everything that was worked out on the way.
type Declaration struct {
	Product  *Product
	Market   inci.Market
	Rules    *market.Rules
	Occasion date.Occasion

	Entries    []Entry
	Allergens  []AllergenRow // every listed allergen that the materials mention, declared or not
	Net        market.NetStatement
	Stated     market.Quantity // the net quantity that Net words
	Warnings   []Warning       // sentences of law that are due because of what is in the piece
	Statements []Statement     // every statement that the market asks for on the pack
	Findings   finding.List

	Members []*Declaration // of a set: one for each product in it, in order; it has no entries itself
	Lists   []List         // of a set: what stands in place of the one list

	Composition *formula.Composition // nil if the piece does not compose, and for a set
	ordered     *formula.Composition // what the list names: Composition, or of a soap what went in
	names       formula.Names
	keys        [][]formula.Key // by name: the substances it stands for
	hits        []hit
	bans        map[formula.Key]finding.Severity // what the list of prohibited substances said of a substance
}

// Kind says what an entry of the list is.
type Kind string

const (
	Ingredient Kind = "ingredient"
	Fragrance  Kind = "fragrance"
	Allergen   Kind = "allergen"
	Colourant  Kind = "colourant"
)

// Mark says how an entry's place in the list was decided.
type Mark string

const (
	Proven  Mark = "proven"  // never outweighed by the next entry, whatever the suppliers' ranges hide
	Typical Mark = "typical" // by the typical figures; within the ranges it could be otherwise
	Free    Mark = "free"    // the market lets it stand anywhere after those above 1 %
)

// Entry is one name of the list.
type Entry struct {
	Name   string
	Kind   Kind
	Share  formula.Share // on the market's basis for the order
	Order  Mark
	Keys   []formula.Key
	Source finding.Citation // of the name

	allergen *inci.Allergen // the entry of the allergen list that asks for it, or nil
	index    int            // number of the name in the composition; -1 for a constituent
}

// Text returns the list as printed, without its heading.
func (d *Declaration) Text() string {
	var b strings.Builder
	for i, l := range d.Lists {
		if i > 0 {
			b.WriteString("; ")
		}
		b.WriteString(l.Lead + " " + l.Text)
	}
	for i, e := range d.Entries {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(e.Name)
	}
	return b.String()
}

// Verdict is the gate over the declaration's findings.
func (d *Declaration) Verdict() finding.Verdict { return d.Findings.Verdict() }

// Declared returns how many listed allergens the pack must name; for a set,
// those that at least one product in it must.
func (d *Declaration) Declared() int {
	names := map[string]bool{}
	for _, x := range append([]*Declaration{d}, d.Members...) {
		for _, r := range x.Allergens {
			if r.Declared {
				names[r.Entry.Entry] = true
			}
		}
	}
	return len(names)
}

// AllergenRow is one listed allergen measured in a product.
type AllergenRow struct {
	Entry     *inci.Allergen
	Share     formula.Share // of the finished mass at the greatest drying
	Grams     formula.Share // in the piece
	Threshold exact.Rat     // fraction; a share above it is declared
	Declared  bool
	Certain   bool // declared whatever the ranges hide, or never
	Estimated bool // rests on published figures instead of the supplier's sheet
	From      []formula.Within
}

// List is one of several lists on a pack, with the words before it.
type List struct{ Lead, Text string }

// hit is an allergen that passes its threshold.
type hit struct {
	row   *AllergenRow
	group formula.Group
}

func (d *Declaration) add(f finding.Finding) {
	f.Product, f.Market = d.Product.Name, string(d.Market)
	d.Findings.Add(f)
}
