package inci

import (
	"sync"

	"panelwright/formula/finding"
)

// SafetyLine is one sentence that belongs beside lye work.
type SafetyLine struct {
	Code   string // of an official statement, such as H314; "" for a sentence of our own
	Kind   string // "hazard", "precaution", "first aid" or "work"
	Text   string
	Soda   bool // it is said of sodium hydroxide
	Potash bool // it is said of potassium hydroxide
	Source finding.Citation
}

// LyeSafety returns the sentences for work with lye, in the order they are
// read: hazards, precautions, first aid, the work itself.
func LyeSafety() []SafetyLine { return lyeSafety() }

var lyeSafety = sync.OnceValue(func() (all []SafetyLine) {
	for _, r := range readTable(lyeSafetyText).rows {
		l := SafetyLine{Kind: r.get("kind"), Text: r.get("text"), Soda: r.get("lye") != "potassium", Potash: r.get("lye") != "sodium", Source: r.cite()}
		if l.Kind != "work" {
			l.Code = r.get("id")
		}
		all = append(all, l)
	}
	return all
})
