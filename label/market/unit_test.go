package market

import (
	"strings"
	"testing"

	"panelwright/formula/exact"
	"panelwright/formula/outside"
)

func TestUnitNamed(t *testing.T) {
	for name, want := range map[string]string{
		"g": "g", "Grams": "g", "fl. oz.": "fl oz", "Fluid Ounces": "fl oz", "fl oz": "fl oz", "OZ.": "oz", "lbs": "lb", "mL": "ml", "L": "l",
		"litres": "l", "liters": "l", "sq. inches": "sq in", "gal.": "gal", "KG": "kg",
	} {
		if u, ok := UnitNamed(name); !ok || u.Symbol != want {
			t.Errorf("%q is %q, want %q", name, u.Symbol, want)
		}
	}
	for _, name := range []string{"", "cup", "drams", "stone"} {
		if u, ok := UnitNamed(name); ok {
			t.Errorf("%q is %q", name, u.Symbol)
		}
	}
	// A bare ounce of a volume is the fluid ounce.
	if u := (Quantity{Volume: true, Unit: "oz"}).unit(); u.Symbol != "fl oz" {
		t.Errorf("%q", u.Symbol)
	}
}

// Every factor against GNU units, which knows them from other sources.
func TestUnitsOutside(t *testing.T) {
	theirs := map[string]string{
		"g": "gram", "kg": "kilogram", "mg": "milligram", "oz": "ounce", "lb": "pound", "ml": "milliliter", "cl": "centiliter", "l": "liter",
		"fl oz": "usfluidounce", "pt": "uspint", "qt": "usquart", "gal": "usgallon", "imp fl oz": "brfluidounce", "mm": "millimeter", "cm": "centimeter",
		"in": "inch", "ft": "foot", "yd": "yard", "cm2": "centimeter^2", "sq in": "inch^2", "sq ft": "foot^2", "sq yd": "yard^2",
	}
	base := map[Dimension]string{Mass: "gram", Volume: "milliliter", Length: "millimeter", Area: "millimeter^2"}
	for _, u := range units().list {
		name, ok := theirs[u.Symbol]
		if !ok {
			t.Errorf("%s is not compared", u.Symbol)
			continue
		}
		out := strings.TrimSpace(outside.Run(t, "units", "--compact", "--one-line", "--output-format", "%.12f", name, base[u.Dimension]))
		got, err := exact.Parse(out)
		if err != nil {
			t.Fatalf("%s: %q: %v", name, out, err)
		}
		diff := got.Sub(u.Factor)
		if diff.Sign() < 0 {
			diff = diff.Neg()
		}
		if exact.Must("0.00000001").Less(diff) {
			t.Errorf("%s: %v here, %v there", u.Symbol, u.Factor, got)
		}
	}
}
