package market

import (
	"slices"
	"sync"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// Level is where in the packaging a statement stands. A pack that is only a
// container carries everything.
type Level string

const (
	OnBoth      Level = "both"      // container and outer packaging
	OnContainer Level = "container" // what touches the product
	OnOuter     Level = "outer"     // the packaging that the buyer sees
	OnEither    Level = "either"    // one of the two is enough
)

// Requirement is one thing a pack must carry.
type Requirement struct {
	// Kind is one of identity, net, list, responsible, contact, dealer, lot,
	// durability, function, precautions and origin.
	Kind       string
	Level      Level
	Front      bool // on the principal display panel
	Imports    bool // only for goods made outside the territory
	Says       string
	Escape     string // where it may go when it cannot be fitted, step by step; "none" if nowhere
	Exceptions string // when it is not due; may be empty
	Duty       date.Duty
	Source     finding.Citation
}

var requirements = sync.OnceValue(func() map[inci.Market][]Requirement {
	all := map[inci.Market][]Requirement{}
	for _, r := range load("required.csv") {
		level := Level(r.text("level"))
		if !slices.Contains([]Level{OnBoth, OnContainer, OnOuter, OnEither}, level) {
			r.fail("level", "unknown: "+string(level))
		}
		m := inci.Market(r.text("market"))
		all[m] = append(all[m], Requirement{
			Kind: r.text("kind"), Level: level, Front: r.yes("front"), Imports: r.text("only") == "imports",
			Says: r.text("says"), Escape: r.text("escape"), Exceptions: r.text("exceptions"),
			Duty: date.Duty{New: r.date("new"), All: r.date("all")}, Source: r.cite(),
		})
	}
	return all
})

// Required returns what a pack must carry on the occasion, in the order of the
// law.
func (r *Rules) Required(o date.Occasion) []Requirement {
	var due []Requirement
	for _, q := range requirements()[r.Market] {
		if q.Duty.Binds(o) {
			due = append(due, q)
		}
	}
	return due
}
