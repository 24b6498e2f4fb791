package inci

import (
	"sync"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Carrier is a limited or prohibited constituent that an oil or extract is known to hold.
type Carrier struct {
	Constituent formula.Key
	// Low and High are fractions of the oil where HasLow and HasHigh are set. Unknown is never zero.
	Low, High       exact.Rat
	HasLow, HasHigh bool
	Oil             string // the oil in the words of the table
	Rule            string // the entry that meets the constituent
	Note            string
	Source          finding.Citation
}

var carriers = sync.OnceValue(func() map[formula.Key][]Carrier {
	m := map[formula.Key][]Carrier{}
	for _, r := range readTable(carriersText).rows {
		c := Carrier{
			Constituent: formula.Key(r.get("constituent")), Oil: r.get("oil_name"), Rule: r.get("rule"),
			Note: r.get("note"), Source: r.cite(),
		}
		c.Low, c.HasLow = r.rat("low")
		c.High, c.HasHigh = r.rat("high")
		oil := Canonical(formula.Key(r.get("oil")))
		m[oil] = append(m[oil], c)
	}
	return m
})

// Carries returns the limited or prohibited constituents that k is known to hold, nil where none is
// recorded, which does not say that there is none.
func Carries(k formula.Key) []Carrier { return carriers()[Canonical(k)] }
