package layout

import (
	"bytes"
	"image"
	"image/png"
	"slices"
	"testing"

	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/picture"
)

// A picture of 8 by 8 dots is drawn, and the maker is told that it is coarse
// ("pack.picture"); one of 800 by 800 is fine.
func TestCoarsePicture(t *testing.T) {
	for _, dots := range []int{8, 800} {
		var data bytes.Buffer
		if err := png.Encode(&data, image.NewGray(image.Rect(0, 0, dots, dots))); err != nil {
			t.Fatal(err)
		}
		logo, err := picture.Read("logo.png", data.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		c := on(american("Hay Meadow", "Sodium Bicarbonate, Citric Acid"), shape(label.Rectangle, 110, 70), label.Shape{})
		c.Dress.Logo = logo
		laid, err := Lay(c, Options{})
		if err != nil {
			t.Fatal(err)
		}
		told := slices.ContainsFunc(laid.Findings, func(f finding.Finding) bool { return f.Rule == "pack.picture" })
		if told != (dots == 8) {
			t.Errorf("%d dots: told %v: %v", dots, told, laid.Findings)
		}
	}
}
