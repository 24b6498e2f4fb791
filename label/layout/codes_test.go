package layout

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelwright/formula/outside"
	"panelwright/label"
	"panelwright/label/render/pdf"
	"panelwright/label/scene"
)

// A number for demonstrations (GS1 prefix 952), in the three kinds that have one, and an address.
var itemNumbers = []string{"9520000000004", "036000291452", "20000004"}

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
	x := (b.Right - b.Left) / modules
	return scene.Rect{Left: b.Left - left*x, Top: b.Top, Right: b.Right + right*x, Bottom: b.Bottom}
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
			least, x := scene.Um(264), (p.Bounds().Right-p.Bounds().Left)/95
			switch {
			case strings.HasPrefix(p.Alt, "QR code"):
				least, x = 396, moduleOf(p)
			case len(p.Alt) == len("barcode ")+8:
				x = (p.Bounds().Right - p.Bounds().Left) / 67
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
	outside.Tool(t, "mutool")
	outside.Tool(t, "zbarimg")
	for i, s := range []label.Shape{shape(label.Rectangle, 110, 80), shape(label.Round, 100, 100), shape(label.Rounded, 70, 110)} {
		number := itemNumbers[i]
		c := on(european("Alpine Hay", shortList), s, s)
		c.Product = &label.Product{Barcode: number, Link: itemLink}
		c.Dress.Scans = []label.Scan{label.ScanBarcode, label.ScanQR}
		scenes, err := Label(c, Options{Look: named(t, "block")})
		if err != nil {
			t.Fatal(err)
		}
		check(t, c, Options{}, scenes)
		var b bytes.Buffer
		if err := pdf.Write(&b, scenes, pdf.Options{}); err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		file := filepath.Join(dir, "label.pdf")
		if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		outside.Run(t, "mutool", "draw", "-q", "-r", "600", "-o", filepath.Join(dir, "label.png"), file, "2")
		read := outside.Run(t, "zbarimg", "-q", "-Sean8.enable", "-Supca.enable", filepath.Join(dir, "label.png"))
		for _, want := range []string{":" + number + "\n", "QR-Code:" + itemLink + "\n"} {
			if !strings.Contains(read, want) {
				t.Errorf("%s: the reader finds %q, want %q", number, read, want)
			}
		}
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
