package inci

import (
	"sync"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Fizzer is a substance that makes or takes the gas of a fizz: an acid, or a
// carbonate that it sets free from.
type Fizzer struct {
	Key       formula.Key
	Acid      bool
	MolarMass exact.Rat // grams per mole
	Count     int64     // molecules of bicarbonate that one of it answers to
	Gas       int64     // molecules of carbon dioxide set free from one of it, 0 for an acid
	Source    finding.Citation
}

// FizzerOf returns k as a fizzer. A form with crystal water prints the same name
// and counts as the dry one here.
func FizzerOf(k formula.Key) (Fizzer, bool) {
	f, ok := fizzers()[Canonical(k)]
	return f, ok
}

// GasMass is the molar mass of carbon dioxide in grams per mole.
func GasMass() exact.Rat { return SoapMass("carbon dioxide") }

var fizzers = sync.OnceValue(func() map[formula.Key]Fizzer {
	m := map[formula.Key]Fizzer{}
	for _, r := range readTable(fizzText).rows {
		f := Fizzer{Key: formula.Key(r.get("key")), Acid: r.get("side") == "acid", Source: r.cite()}
		f.MolarMass, _ = r.rat("molar_mass")
		f.Count, f.Gas = small(r, "count"), small(r, "gas")
		m[f.Key] = f
	}
	return m
})

func small(r row, column string) int64 {
	n, _ := r.rat(column)
	return n.Floor().Int64()
}
