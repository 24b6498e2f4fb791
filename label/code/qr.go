package code

import (
	"fmt"
	"image/color"
	"net/url"
	"strings"

	"github.com/boombuler/barcode/qr"

	"panelwright/label/scene"
)

// mostURI keeps a QR code small enough for a label: at the normal module some 26 mm wide. Common practice, no source.
const mostURI = 150

// CheckURI returns an error unless text is a web address that a telephone can open, and, where it holds an item
// number as a GS1 Digital Link does (/01/ and 14 digits), unless the number is good.
func CheckURI(text string) error {
	u, err := url.Parse(text)
	if err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Host == "" {
		return fmt.Errorf("“%s” is no web address; write it whole, as in https://fernhollow.example/hay", text)
	}
	if len(text) > mostURI {
		return fmt.Errorf("the address has %d characters, more than the %d that make a code for a label; use a shorter one", len(text), mostURI)
	}
	_, after, ok := strings.Cut(u.Path, "/01/")
	if !ok {
		return nil
	}
	gtin, _, _ := strings.Cut(after, "/")
	if len(gtin) != 14 || strings.Trim(gtin, "0123456789") != "" {
		return fmt.Errorf("the number after /01/ is “%s”; a GS1 Digital Link has 14 digits there, with noughts in front", gtin)
	}
	if want := checkDigit(gtin[:13]); want != gtin[13] {
		return fmt.Errorf("the check digit of “%s” is %c and should be %c; compare all digits with the paper the number came on", gtin, gtin[13], want)
	}
	return nil
}

// DigitalLink returns the web address that stands for an item number at the GS1 resolver (GS1 Digital Link
// Standard: URI Syntax).
func DigitalLink(n Number) string { return "https://id.gs1.org/01/" + n.GTIN() }

// QR draws a web address as a QR code with modules of width x; 0 is the normal size. Its error correction level is
// M. It fails with a [*SizeError] where x is not allowed, and where CheckURI does.
func QR(uri string, x scene.Um) (*Symbol, error) {
	sp, _ := specOf(0)
	x, err := sp.module(x)
	if err != nil {
		return nil, err
	}
	if err := CheckURI(uri); err != nil {
		return nil, err
	}
	img, err := qr.Encode(uri, qr.M, qr.Auto)
	if err != nil {
		return nil, fmt.Errorf("“%s” makes no QR code: %w", uri, err)
	}
	n := img.Bounds().Dx()
	s := &Symbol{X: x, W: scene.Um(n+sp.left+sp.right) * x, Text: uri}
	s.H = s.W
	var path []scene.Segment
	at := func(i int) scene.Um { return scene.Um(sp.left+i) * x }
	for row := range n {
		for i := 0; i < n; i++ {
			from := i
			for i < n && img.At(i, row) == color.Black {
				i++
			}
			if i > from {
				path = box(path, at(from), at(row), at(i), at(row+1))
			}
		}
	}
	s.items = []scene.Item{&scene.Path{Segments: path, Fill: &scene.Black, Alt: "QR code of " + s.Text}}
	return s, nil
}
