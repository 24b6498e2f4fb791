package quantity

import (
	"fmt"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"panelwright/formula/outside"
)

// The names these units have in GNU units (Debian package units), an
// independent table of definitions.
var gnuNames = map[string]string{
	"kg": "kg", "g": "g", "mg": "mg", "mcg": "microgram", "lb": "lb", "oz": "oz", "oz wt": "oz", "grain": "grain",
	"l": "liter", "ml": "ml", "cl": "cl", "gal": "gallon", "qt": "quart", "pt": "pint", "fl oz": "usfloz", "cup": "cup",
	"tbsp": "ustablespoon", "tsp": "usteaspoon", "metric cup": "metriccup", "metric tbsp": "brtablespoon", "metric tsp": "brteaspoon",
	"metric dessertspoon": "brdessertspoon", "Australian tbsp": "australiatablespoon", "imperial gal": "brgallon", "imperial pt": "brpint",
	"imperial fl oz": "brfloz", "imperial cup": "brcup", "Japanese cup": "japancup", "drop": "drop", "mm": "mm", "cm": "cm", "in": "inch",
}

// Rows GNU units has no name for: the old Canadian cup is eight imperial fluid ounces by convention, the imperial
// tablespoon five eighths of one, dash and pinch are kitchen practice; the rest are shares.
var notInGNU = map[string]bool{"traditional Canadian cup": true, "imperial tbsp": true, "dash": true, "pinch": true,
	"%": true, "% on top": true, "% of fats": true, "part": true, "rest": true, "ppm": true, "ppb": true, "g/kg": true}

func TestFactorsAgainstGNUUnits(t *testing.T) {
	for _, u := range Units() {
		if (gnuNames[u.Symbol] == "") != notInGNU[u.Symbol] {
			t.Errorf("%s: is it in GNU units or not?", u.Symbol)
		}
	}
	path := outside.Tool(t, "units")
	base := map[Kind]string{Mass: "g", Volume: "ml", Length: "mm"}
	for _, u := range Units() {
		name := gnuNames[u.Symbol]
		if name == "" {
			continue
		}
		out, err := exec.Command(path, "--terse", "--digits", "15", name, base[u.Kind]).Output()
		if err != nil {
			t.Errorf("%s: %v", u.Symbol, err)
			continue
		}
		// The program counts in floating point: 14 digits is what it can promise.
		theirs, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
		ours, _ := u.Factor.Big().Float64()
		if err != nil || fmt.Sprintf("%.13e", theirs) != fmt.Sprintf("%.13e", ours) {
			t.Errorf("%s: GNU units has %v %s, the table %v", u.Symbol, theirs, base[u.Kind], u.Factor)
		}
	}
}

func TestUnitsCarryTheirSources(t *testing.T) {
	seen := map[string]bool{"yes": true, "secondary": true, "memory": true, "practice": true}
	for _, u := range units().units {
		if u.Kind == 0 || u.Source == "" || !seen[u.Seen] || u.Definition == "" {
			t.Errorf("%s: kind %d, source %q, seen %q, definition %q", u.Symbol, u.Kind, u.Source, u.Seen, u.Definition)
		}
		if (u.Kind == refusal) != (u.cure != "") {
			t.Errorf("%s: a refusal and only a refusal has a cure", u.Symbol)
		}
	}
}
