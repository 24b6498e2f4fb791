package layout

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/look"
	"panelwright/label/picture"
	"panelwright/label/scene"
)

// dealt draws a label with codes or a picture, dressed in any layout, and returns its faces before they are solved.
func dealt(t *rapid.T) (faces []*face) {
	c := anyCopy(t)
	anyShape(t, c)
	anyCodes(t, c)
	if rapid.Bool().Draw(t, "picture") {
		pic, err := picture.Read("logo.svg", []byte(`<svg viewBox="0 0 60 20"><path d="M0 0H60V20H0Z"/></svg>`))
		if err != nil {
			t.Fatal(err)
		}
		c.Dress.Logo = pic
	}
	l, err := look.Named(rapid.SampledFrom(look.Names()).Draw(t, "layout"))
	if err != nil {
		t.Fatal(err)
	}
	sheets, err := newDressed(c, Options{Look: l}).deal(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sheets {
		for _, f := range s.faces {
			if !f.empty() {
				faces = append(faces, f)
			}
		}
	}
	return faces
}

// What a column is ruled out for at once, see straighten, it does not hold wherever its stack begins: a picture is the
// lower, the less room it has, and so is a row whose spaces to write in are short enough to leave room beside the next.
func TestStraighten(t *testing.T) {
	ruledOut := 0
	try := func(t failer, f *face, z sizes) {
		f.words(z.width)
		for _, a := range append(f.suited(), f.unsuited()...) {
			for height := int64(houseHeight); height <= comfortableHeight; height += 50 {
				z := a.sized(z, size(height))
				for _, c := range a.columns {
					limit, ok := c.limit(z)
					if !ok || c.area.reach() == 0 || len(c.blocks) == 0 || c.fits(z) {
						continue
					}
					ruledOut++
					c.rest = c.rest[:0]
					for i := range scene.Um(places) {
						if y := max(c.area.top+c.area.reach()*i/places, c.area.ceiling); c.holds(z, y, limit) {
							t.Errorf("the %s of %v: letters of %v are said not to fit, and do from %v on", f.panel.name, f.panel.shape, height, y)
						}
					}
				}
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		for _, f := range dealt(t) {
			try(t, f, sizes{tight: rapid.Bool().Draw(t, "tight"), loose: rapid.Bool().Draw(t, "loose"), width: rapid.SampledFrom([]width{normal, semi, condensed}).Draw(t, "letters")})
		}
	})
	if ruledOut == 0 {
		t.Error("everything fits")
	}
	c := on(european("Hay", "Aqua"), shape(label.Folded, 200, 50), none)
	c.Dress.EggTimer, c.Dress.Scans, c.Product = label.SaidNo, []label.Scan{label.ScanBarcode}, &label.Product{Barcode: itemNumbers[2]}
	sheets, err := newDressed(c, Options{Look: named(t, "botanical")}).deal(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range sheets[0].faces {
		try(t, f, sizes{})
	}
}

// The size that is named where a label is too small is asked of possible: it says yes where solve finds a way.
func TestPossible(t *testing.T) {
	yes, no := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		for _, f := range dealt(t) {
			is, want := f.possible(), f.solve() != nil
			if is != want {
				t.Errorf("%v of %v is said to be possible: %v; a way is found: %v", f.panel.name, f.panel.shape, is, want)
			}
			if want {
				yes++
			} else {
				no++
			}
		}
	})
	if yes == 0 || no == 0 {
		t.Errorf("%d faces were possible, %d not", yes, no)
	}
	// A larger name moves the list of this circle to where its lines are longer.
	c := on(american("Hay", longList), shape(label.Round, 93, 93), none)
	sheets, err := newDressed(c, Options{Look: named(t, "seal")}).deal(c)
	if err != nil {
		t.Fatal(err)
	}
	stripAll(sheets)
	if f := sheets[0].faces[0]; !f.possible() || f.solve() == nil {
		t.Errorf("a circle is said to be possible: %v; a way is found: %v", f.possible(), f.solve() != nil)
	}
}

// Where there is no room for codes in the normal size they are as small as may be, before anything is refused; and the
// size that is named for a label too small for either does, and no smaller one.
func TestSmallCodes(t *testing.T) {
	c := serving(on(american("Hay", "Aqua"), shape(label.Rectangle, 50, 50), none), inci.US)
	c.Product = &label.Product{Barcode: itemNumbers[0], Link: itemLink}
	c.Dress.Scans = []label.Scan{label.ScanQR}
	o := Options{Look: named(t, "block")}
	_, err := Lay(c, o)
	var full *NoRoom
	if !errors.As(err, &full) || full.NeedW != 66*scene.Mm {
		t.Fatalf("error = %v, want one that names 66 mm", err)
	}
	for side, fits := range map[int64]bool{64: false, 65: false, 66: true} {
		on(c, shape(label.Rectangle, side, side), none)
		scenes, err := Label(c, o)
		if (err == nil) != fits {
			t.Errorf("of %d mm: %v", side, err)
			continue
		}
		if fits {
			check(t, c, o, scenes)
		}
	}
	d := newDressed(c, o)
	if _, full, err := d.fit(c); full == nil || err != nil || !d.large {
		t.Errorf("a code of the normal size fits, which shows nothing: %v", err)
	}
}

// What a frame takes is given up before a label is refused, so that what is said to help is judged without it.
func TestHelpWithoutFrame(t *testing.T) {
	c := serving(on(american("Hay", "Aqua"), shape(label.Rectangle, 41, 58), none), inci.US)
	c.Product = &label.Product{Barcode: itemNumbers[0], Link: itemLink}
	c.Dress.Scans = []label.Scan{label.ScanQR}
	o := Options{Look: named(t, "block")}
	_, err := Lay(c, o)
	var full *NoRoom
	if !errors.As(err, &full) {
		t.Fatalf("error = %v, want a *NoRoom", err)
	}
	c.Pack.Back = c.Pack.Label
	if _, err := Lay(c, o); err != nil || !full.Back {
		t.Errorf("a back label of the same size is said to do: %v; with it: %v", full.Back, err)
	}
}

// However much an arrangement parts it is worth more than nothing.
func TestScore(t *testing.T) {
	z := sizes{text: size(houseHeight), width: condensed, loose: true}
	if least, can := z.beats(0, 8+4*25); !can || least != z.text {
		t.Errorf("four partings: %v from %v on, want from %v on", can, least, z.text)
	}
}
