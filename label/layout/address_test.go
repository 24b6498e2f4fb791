package layout

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/label/font"
	"panelwright/label/scene"
)

// Addresses part after their commas; a number stays with its street and a code with its town, however narrow the
// column is.
func TestAddressLines(t *testing.T) {
	for _, tt := range []struct {
		name, text string
		wide       scene.Um
		want       []string
	}{
		{"state and code", "Fernhollow Bath Works, 4 Mill Lane, Exampleton, VT 05000", 38_000,
			[]string{"Fernhollow Bath Works,", "4 Mill Lane, Exampleton,", "VT 05000"}},
		{"code before the town", "Farnsenke Badewerk, Mühlgasse 4, 09999 Beispielstadt, Germany", 34_000,
			[]string{"Farnsenke Badewerk,", "Mühlgasse 4,", "09999 Beispielstadt,", "Germany"}},
		{"code in two parts", "Placeholder & Daughter Ltd, 9 Example Street, Sampleton ZZ0 0ZZ, United Kingdom", 40_000,
			[]string{"Placeholder & Daughter Ltd,", "9 Example Street,", "Sampleton ZZ0 0ZZ,", "United Kingdom"}},
		{"words before the name", "imported by / importé par Example Lake Dry Goods Inc., 12 Example Road, Sample Lake, ON Z0Z 0Z0", 44_000,
			[]string{"imported by / importé par", "Example Lake Dry Goods Inc.,", "12 Example Road, Sample Lake,", "ON Z0Z 0Z0"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f, err := measure(atAddress, span{text: tt.text, face: font.Text})
			if err != nil {
				t.Fatal(err)
			}
			lines, ok := f.lines(nil, 3200, within(tt.wide), false, 20)
			if !ok {
				t.Fatal("does not fit")
			}
			var got []string
			for _, l := range f.balance(lines, 3200, flush, false) {
				got = append(got, strings.TrimSpace(font.String(f.glyphs[l.a:l.b])))
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}
