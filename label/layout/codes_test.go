package layout

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelwright/formula/finding"
	"panelwright/formula/outside"
	"panelwright/label"
	"panelwright/label/look"
	"panelwright/label/market"
	"panelwright/label/render/pdf"
	"panelwright/label/render/svg"
	"panelwright/label/scene"
)

// A number for demonstrations (GS1 prefix 952), in the three kinds that have one, and an address.
var itemNumbers = []string{"9520000000004", "012345678905", "20000004"}

const itemLink = "https://fernhollow.example/hay"

// anyCodes draws which codes a label bears.
func anyCodes(t *rapid.T, c *label.PackCopy) {
	c.Dress.Scans = rapid.SampledFrom([][]label.Scan{nil, {label.ScanNothing}, {label.ScanBarcode}, {label.ScanQR}, {label.ScanBarcode, label.ScanQR}}).Draw(t, "codes")
	c.Product = &label.Product{Barcode: rapid.SampledFrom(itemNumbers).Draw(t, "barcode"), Link: itemLink}
}

// codeZone returns the box of a code with the light margins that a scanner needs, or the zero box for any other
// path. GS1 General Specifications 5.2.3.4: EAN-13 has 95 modules, 11 blank ones before and 7 behind them, UPC-A 95
// with 9 and 9, EAN-8 67 with 7 and 7; ISO/IEC 18004 asks for 4 modules round a QR code.
func codeZone(p *scene.Path) scene.Rect {
	b := p.Bounds()
	if strings.HasPrefix(p.Alt, "QR code") {
		x := 4 * moduleOf(p)
		return scene.Rect{Left: b.Left - x, Top: b.Top - x, Right: b.Right + x, Bottom: b.Bottom + x}
	}
	number, ok := strings.CutPrefix(p.Alt, "barcode ")
	if !ok {
		return scene.Rect{}
	}
	modules, left, right := scene.Um(95), scene.Um(11), scene.Um(7)
	switch len(number) {
	case 12:
		left, right = 9, 9
	case 8:
		modules, left, right = 67, 7, 7
	}
	bars := contoursOf(p.Segments)
	first, last := (&scene.Path{Segments: bars[0]}).Bounds(), (&scene.Path{Segments: bars[len(bars)-1]}).Bounds()
	if first.Left > last.Left || first.Top < last.Top { // upside down, on the back of a bag topper
		left, right = right, left
	}
	if upright(p) { // turned to the left: what was on the left is below
		x := (b.Bottom - b.Top) / modules
		return scene.Rect{Left: b.Left, Top: b.Top - right*x, Right: b.Right, Bottom: b.Bottom + left*x}
	}
	x := (b.Right - b.Left) / modules
	return scene.Rect{Left: b.Left - left*x, Top: b.Top, Right: b.Right + right*x, Bottom: b.Bottom}
}

// upright reports whether a barcode is turned by a quarter: its bars are wider than they are high, one by one.
func upright(p *scene.Path) bool {
	bar := scene.Path{Segments: contoursOf(p.Segments)[0]}
	b := bar.Bounds()
	return b.Right-b.Left > b.Bottom-b.Top
}

// moduleOf returns the height of the lowest box of a QR code, which is one module.
func moduleOf(p *scene.Path) scene.Um {
	c := scene.Path{Segments: contoursOf(p.Segments)[0]}
	return c.Bounds().Bottom - c.Bounds().Top
}

// checkCodes proves that each code that was asked for is there once, no smaller than GS1 General Specifications
// 5.12.3.1 allow for retail, and that nothing else is in its light margins.
func checkCodes(t failer, c *label.PackCopy, o Options, scenes []scene.Scene, keeps func(*scene.Scene, int, scene.Um, scene.Rect) bool) {
	t.Helper()
	var got []string
	for i := range scenes {
		s := &scenes[i]
		for _, item := range s.Items {
			p, ok := item.(*scene.Path)
			if !ok {
				continue
			}
			zone := codeZone(p)
			if zone == (scene.Rect{}) {
				continue
			}
			got = append(got, p.Alt)
			if !keeps(s, i, 0, zone) {
				t.Errorf("the %s at %v sticks out", p.Alt, zone)
			}
			b := p.Bounds()
			long := b.Right - b.Left
			if upright(p) {
				long = b.Bottom - b.Top
			}
			least, x := scene.Um(264), long/95
			switch {
			case strings.HasPrefix(p.Alt, "QR code"):
				least, x = 396, moduleOf(p)
			case len(p.Alt) == len("barcode ")+8:
				x = long / 67
			}
			if x < least {
				t.Errorf("the %s has modules of %v", p.Alt, x)
			}
			for _, other := range s.Items {
				var b scene.Rect
				switch other := other.(type) {
				case *scene.Text:
					if b = other.Bounds(); other.Mark == nil {
						continue
					}
				case *scene.Path:
					if b = other.Bounds(); other == p || other.Behind {
						continue
					}
					if z := codeZone(other); z != (scene.Rect{}) {
						b = z
					}
				}
				if zone.Overlaps(b) {
					t.Errorf("something at %v is in the light margin of the %s at %v", b, p.Alt, zone)
				}
			}
		}
	}
	var want []string
	for _, scan := range c.Dress.Scans {
		switch scan {
		case label.ScanBarcode:
			want = append(want, "barcode "+c.Product.Barcode)
		case label.ScanQR:
			want = append(want, "QR code of "+c.Product.Link)
		}
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("the codes are %q, want %q", got, want)
	}
}

// An independent reader decodes the codes from the raster of the printed label, at 600 dots an inch.
func TestCodesAreRead(t *testing.T) {
	for i, s := range []label.Shape{shape(label.Rectangle, 110, 80), shape(label.Round, 100, 100), shape(label.Rounded, 70, 110)} {
		c := on(european("Alpine Hay", shortList), s, s)
		readCodes(t, c, itemNumbers[i], false)
	}
}

// A barcode too wide for its label stands upright, and is read so. The widths are those at which there is room for
// its height and not for its width: with light margins EAN-13 and UPC-A have 113 modules of at least 0.264 mm.
func TestUprightCodesAreRead(t *testing.T) {
	for i, s := range []label.Shape{shape(label.HangTag, 34, 150), shape(label.Oval, 34, 180), shape(label.Rectangle, 26, 150)} {
		c := on(european("Hay", shortList), shape(label.Rectangle, 60, 80), s)
		readCodes(t, c, itemNumbers[i], true)
	}
	// The back panel of a bag topper is printed upside down.
	c := on(european("Hay", "Sodium Chloride"), shape(label.Topper, 34, 260), none)
	c.Back = c.Back[:1]
	c.Front = append(c.Front[:1], c.Front[3])
	readCodes(t, c, itemNumbers[1], true)
}

// readCodes lays out a label with both codes, and reads them from the page that bears them, printed and on screen.
func readCodes(t *testing.T, c *label.PackCopy, number string, stands bool) {
	t.Helper()
	outside.Tool(t, "mutool")
	outside.Tool(t, "zbarimg")
	outside.Tool(t, "rsvg-convert")
	c.Product = &label.Product{Barcode: number, Link: itemLink}
	c.Dress.Scans = []label.Scan{label.ScanBarcode, label.ScanQR}
	c.Dress.EggTimer = label.SaidNo // whose words are looked for
	scenes, err := Label(c, Options{Look: named(t, "block")})
	if err != nil {
		t.Fatal(err)
	}
	check(t, c, Options{}, scenes)
	last := &scenes[len(scenes)-1]
	if p := barcodeOf(last); p == nil || upright(p) != stands {
		t.Fatalf("on a label of %v x %v, the barcode stands upright: %v, want %v", last.W, last.H, !stands, stands)
	}
	var b, onScreen bytes.Buffer
	if err := pdf.Write(&b, scenes, pdf.Options{}); err != nil {
		t.Fatal(err)
	}
	if err := svg.Write(&onScreen, last, svg.Options{}); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	printed, drawn := filepath.Join(dir, "label.pdf"), filepath.Join(dir, "label.svg")
	if err := errors.Join(os.WriteFile(printed, b.Bytes(), 0o600), os.WriteFile(drawn, onScreen.Bytes(), 0o600)); err != nil {
		t.Fatal(err)
	}
	outside.Run(t, "mutool", "draw", "-q", "-r", "600", "-o", printed+".png", printed, fmt.Sprint(len(scenes)))
	outside.Run(t, "rsvg-convert", "-d", "600", "-p", "600", "-b", "white", "-o", drawn+".png", drawn)
	for _, file := range []string{printed, drawn} {
		read := outside.Run(t, "zbarimg", "-q", "-Sean8.enable", "-Supca.enable", file+".png")
		for _, want := range []string{":" + number + "\n", "QR-Code:" + itemLink + "\n"} {
			if !strings.Contains(read, want) {
				t.Errorf("%s in %s: the reader finds %q, want %q", number, filepath.Base(file), read, want)
			}
		}
	}
}

// barcodeOf returns the bars of the barcode on a scene, or nil.
func barcodeOf(s *scene.Scene) *scene.Path {
	for _, item := range s.Items {
		if p, ok := item.(*scene.Path); ok && strings.HasPrefix(p.Alt, "barcode ") {
			return p
		}
	}
	return nil
}

// Round a pack of small diameter the bars lie like the rungs of a ladder: where the light margins of EAN-13, 113
// modules, span more than 60 degrees of the curve (GS1 General Specifications 6.2.3.2, from memory).
func TestCodesRoundAPack(t *testing.T) {
	for _, tt := range []struct {
		name   string
		shape  label.Shape
		body   market.Body
		stands bool
		told   bool
	}{
		{"a jar of 50 mm", shape(label.Band, 157, 50), market.Body{Kind: market.Jar, A: 50_000, B: 52_000}, true, false},
		{"a jar of 60 mm", shape(label.Band, 188, 50), market.Body{Kind: market.Jar, A: 60_000, B: 52_000}, false, false},
		{"a wrap round a tube", label.Shape{Kind: label.Wrap, W: 136_000, H: 60_000, Overlap: 10_000}, market.Body{Kind: market.Tube, A: 40_000, B: 80_000}, true, false},
		{"a label on a jar", shape(label.Rectangle, 110, 60), market.Body{Kind: market.Jar, A: 50_000, B: 62_000}, true, false},
		{"the lid of a jar", shape(label.Round, 80, 80), market.Body{Kind: market.Jar, A: 50_000, B: 62_000}, false, false},
		{"the side of a tin", shape(label.Band, 157, 50), market.Body{Kind: market.Tin, A: 50_000, B: 52_000}, true, false},
		{"the top of a tin", shape(label.Rectangle, 110, 60), market.Body{Kind: market.Tin, A: 50_000, B: 52_000}, false, false},
		{"a bar, whose sides are flat", shape(label.Band, 210, 50), market.Body{Kind: market.Bar, A: 50_000, B: 52_000, C: 20_000}, false, false},
		{"too low for it to stand", shape(label.Band, 157, 33), market.Body{Kind: market.Jar, A: 50_000, B: 52_000}, false, true},
		{"a ball that is large enough", shape(label.Band, 188, 50), market.Body{Kind: market.Ball, A: 60_000}, false, false},
		{"a ball that is not", shape(label.Band, 157, 50), market.Body{Kind: market.Ball, A: 50_000}, false, true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := on(european("Hay", "Sodium Chloride"), tt.shape, none)
			c.Pack.Body = tt.body
			c.Product = &label.Product{Barcode: itemNumbers[0]}
			c.Dress.Scans = []label.Scan{label.ScanBarcode}
			laid, err := Lay(c, Options{})
			if err != nil {
				t.Fatal(err)
			}
			check(t, c, Options{}, laid.Scenes)
			if p := barcodeOf(&laid.Scenes[0]); upright(p) != tt.stands {
				t.Errorf("stands %v, want %v", upright(p), tt.stands)
			}
			told := slices.ContainsFunc(laid.Findings, func(f finding.Finding) bool { return f.Rule == "pack.code-bent" && f.Severity == finding.Warning })
			if told != tt.told {
				t.Errorf("told of the curve: %v, want %v: %v", told, tt.told, laid.Findings)
			}
		})
	}
}

// Narrow labels with codes keep every rule, whichever way the barcode lies.
func TestAnyNarrowCodes(t *testing.T) {
	stood, lay := 0, 0
	names := strings.Split(shortList, ", ")
	rapid.Check(t, func(t *rapid.T) {
		c := european("Hay", strings.Join(names[:rapid.IntRange(1, 6).Draw(t, "names")], ", "))
		c.Dress.EggTimer = label.SaidNo // whose words are looked for
		k := rapid.SampledFrom([]label.ShapeKind{label.Rectangle, label.Rounded, label.HangTag, label.Oval, label.Topper, label.Folded}).Draw(t, "shape")
		s := label.Shape{Kind: k, W: rapid.Int64Range(26_000, 50_000).Draw(t, "width"), H: rapid.Int64Range(110_000, 260_000).Draw(t, "height")}
		if k == label.Folded {
			s.W *= 2
		}
		on(c, shape(label.Rectangle, 110, 90), s)
		anyCodes(t, c)
		l, err := look.Named(rapid.SampledFrom(look.Names()).Draw(t, "layout"))
		if err != nil {
			t.Fatal(err)
		}
		o := Options{Look: l}
		scenes, err := Label(c, o)
		var full *NoRoom
		if errors.As(err, &full) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		check(t, c, o, scenes)
		for i := range scenes {
			if p := barcodeOf(&scenes[i]); p != nil && upright(p) {
				stood++
			} else if p != nil {
				lay++
			}
		}
	})
	if stood == 0 || lay == 0 {
		t.Errorf("%d barcodes stood, %d lay", stood, lay)
	}
}

// What a pack says of its codes goes before what its product says.
func TestCodesOfThePack(t *testing.T) {
	c := on(european("Hay", shortList), shape(label.Rectangle, 120, 80), none)
	c.Product = &label.Product{Barcode: itemNumbers[0], Link: itemLink}
	c.Pack.Barcode, c.Pack.Link = itemNumbers[1], "https://fernhollow.example/small"
	c.Dress.Scans = []label.Scan{label.ScanBarcode, label.ScanQR}
	scenes, err := Label(c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, item := range scenes[0].Items {
		if p, ok := item.(*scene.Path); ok && p.Alt != "" && codeZone(p) != (scene.Rect{}) {
			got = append(got, p.Alt)
		}
	}
	if want := []string{"barcode " + c.Pack.Barcode, "QR code of " + c.Pack.Link}; !slices.Equal(got, want) {
		t.Errorf("the codes are %q, want %q", got, want)
	}
}

// A label too small for its codes is refused with what would do, and a product without the code prints none.
func TestCodesNeedRoom(t *testing.T) {
	c := on(european("Alpine Hay", shortList), shape(label.Rectangle, 62, 52), none)
	c.Product = &label.Product{Barcode: itemNumbers[0], Link: itemLink}
	if _, err := Label(c, Options{}); err != nil {
		t.Fatalf("without codes: %v", err)
	}
	c.Dress.Scans = []label.Scan{label.ScanBarcode, label.ScanQR}
	var full *NoRoom
	if _, err := Label(c, Options{}); !errors.As(err, &full) || !full.Codes || !strings.Contains(err.Error(), "without its codes") {
		t.Errorf("%v; want that it would do without its codes", err)
	}
}
