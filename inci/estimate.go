package inci

import (
	"sync"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Estimate is what is published of one allergen in an essential oil. It stands
// in where there is no sheet, and is marked as an estimate wherever it counts.
type Estimate struct {
	Constituent formula.Key // as GroupKey or a member's key
	// Low and High are fractions of the oil. They say something only where HasLow
	// and HasHigh are set: a constituent can be known to be there in an amount that
	// nobody published. Unknown is never zero.
	Low, High       exact.Rat
	HasLow, HasHigh bool
	Oil             string // the oil in the words of the table
	Note            string
	Source          finding.Citation
}

var estimates = sync.OnceValue(func() map[formula.Key][]Estimate {
	m := map[formula.Key][]Estimate{}
	for _, r := range readTable(estimatesText).rows {
		e := Estimate{Constituent: formula.Key(r.get("constituent")), Oil: r.get("oil_name"), Note: r.get("note"), Source: r.cite()}
		e.Low, e.HasLow = r.rat("low")
		e.High, e.HasHigh = r.rat("high")
		oil := formula.Key(r.get("oil"))
		m[oil] = append(m[oil], e)
	}
	return m
})

// Estimates returns the published allergens of an essential oil, nil where none
// are recorded. A missing constituent is unknown too.
func Estimates(k formula.Key) []Estimate { return estimates()[Canonical(k)] }
