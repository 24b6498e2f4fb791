package record

import (
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"

	"github.com/google/go-cmp/cmp"
)

// A milk and the water inside it have one name; each is compared with its own.
func TestSheetCausesOfMilk(t *testing.T) {
	milk := func(water int64) *formula.Material {
		share := func(percent int64) formula.Interval {
			x := exact.Int(percent).Quo(exact.Int(100))
			return formula.Interval{Lo: x, Hi: x}
		}
		return &formula.Material{Name: "goat milk", Parts: []formula.Part{
			{Key: "CAPRAE LAC", Range: share(water), Dries: formula.Water},
			{Key: "CAPRAE LAC", Range: share(100 - water), Dries: formula.Stays},
		}}
	}
	for _, c := range []struct {
		name    string
		was, is int64
		want    []string
	}{
		{"the same", 87, 87, nil},
		{"more water", 87, 88, []string{"goat milk: the water of Caprae Lac, 87 %, became 88 %; Caprae Lac, 13 %, became 12 %"}},
	} {
		var got []string
		for _, x := range sheetCauses(milk(c.was), milk(c.is)) {
			got = append(got, x.Words)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s:\n%s", c.name, diff)
		}
	}
}

// What a label names besides is one or many.
func TestTextDifferenceOfMany(t *testing.T) {
	if got, want := textDifference("A, B, C", "A, D"), "it lacks D and names B, C, not due for it"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
