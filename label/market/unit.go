package market

import (
	"strings"
	"sync"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Dimension is what a unit measures.
type Dimension string

const (
	Mass   Dimension = "mass"   // base unit g
	Volume Dimension = "volume" // base unit ml
	Length Dimension = "length" // base unit mm
	Area   Dimension = "area"   // base unit mm2
)

// System is the family a unit belongs to.
type System string

const (
	Metric    System = "metric"
	Customary System = "us"       // avoirdupois weight, US fluid measure
	Imperial  System = "imperial" // fluid measure of the gallon of 4546.09 ml
)

// Unit is a unit of a statement on a pack.
type Unit struct {
	Symbol    string
	Dimension Dimension
	System    System
	Factor    exact.Rat // in the base unit of the dimension; exact
	Source    finding.Citation
}

// UnitNamed returns the unit of that symbol or name. Case, full stops and the
// plural do not matter: "Fl. Oz.", "fluid ounces" and "fl oz" are one unit.
func UnitNamed(s string) (Unit, bool) {
	u, ok := units().byName[unitKey(s)]
	return u, ok
}

// unitTable is data/units.csv by symbol and name, and in the order of the file.
type unitTable struct {
	byName map[string]Unit
	list   []Unit
}

var units = sync.OnceValue(func() unitTable {
	t := unitTable{byName: map[string]Unit{}}
	for _, r := range load("units.csv") {
		u := Unit{
			Symbol:    r.text("symbol"),
			Dimension: Dimension(r.text("dimension")),
			System:    System(r.text("system")),
			Factor:    r.number("factor"),
			Source:    r.cite(),
		}
		t.list = append(t.list, u)
		for _, name := range append(strings.Split(r.text("aliases"), ";"), u.Symbol) {
			t.byName[unitKey(name)] = u
		}
	}
	return t
})

func unitKey(s string) string {
	return strings.Join(strings.Fields(strings.ToLower(strings.ReplaceAll(s, ".", " "))), " ")
}

// mustUnit returns a unit that a test has found in the table.
func mustUnit(symbol string) Unit {
	u, ok := UnitNamed(symbol)
	if !ok {
		panic("market: no unit " + symbol)
	}
	return u
}
