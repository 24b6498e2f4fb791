package sheet_test

import (
	"fmt"
	"strings"
	"testing"

	"panelwright/inci"
	"panelwright/label/sheet"
)

// BenchmarkRead reads a sheet that answers the whole list.
func BenchmarkRead(b *testing.B) {
	var t strings.Builder
	t.WriteString("Allergen\tContent (%)\n")
	for i, a := range inci.Allergens(inci.EU) {
		fmt.Fprintf(&t, "%s\t0,%d\n", a.Name, i+1)
	}
	for b.Loop() {
		if s := sheet.Read(t.String(), sheet.Options{}); len(s.Figures) != len(inci.Allergens(inci.EU)) {
			b.Fatal(len(s.Figures))
		}
	}
}

// BenchmarkUnknown reads a thousand rows of names that nobody knows: the nearest
// is looked for a bounded number of times.
func BenchmarkUnknown(b *testing.B) {
	var t strings.Builder
	for i := range 1000 {
		fmt.Fprintf(&t, "Aldehyde fantasy %d x\t4 %%\n", i)
	}
	for b.Loop() {
		if s := sheet.Read(t.String(), sheet.Options{}); len(s.Questions) == 0 {
			b.Fatal("nothing was asked")
		}
	}
}
