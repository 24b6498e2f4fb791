package pdf

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"strings"
	"testing"

	"panelwright/formula/outside"
	"panelwright/label/scene"
)

func picture(t testing.TB) *scene.Image {
	img := image.NewRGBA(image.Rect(0, 0, 4, 2))
	for x := range 4 {
		img.Set(x, 0, color.RGBA{R: 255, A: 255})
		img.Set(x, 1, color.RGBA{B: 255, A: 255})
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return &scene.Image{Box: scene.Rect{Left: 10 * scene.Mm, Top: 10 * scene.Mm, Right: 30 * scene.Mm, Bottom: 20 * scene.Mm}, Format: "png", Data: b.Bytes(), Name: "a"}
}

// A picture stands in the file where the scene has it, in its place in the order of painting, on a page with a
// bleed, and the same bytes come of it each time.
func TestImage(t *testing.T) {
	s := sample(t)
	s.Bleed = 3 * scene.Mm
	turned := picture(t)
	turned.Box.Top, turned.Box.Bottom, turned.Turned = 30*scene.Mm, 40*scene.Mm, true
	s.Items = append([]scene.Item{picture(t), turned}, s.Items...)
	first := write(t, Options{}, s)
	if again := write(t, Options{}, s); !bytes.Equal(first, again) {
		t.Error("the second time differs")
	}
	ops := operators(t, write(t, Options{Plain: true}, s))
	// 20 x 10 mm, 13 mm from the left and 53 - 20 mm from the bottom of a page of 66 mm.
	if want := "q 56.6929 0 0 28.3465 36.8504 121.8898 cm"; !strings.Contains(ops, want) {
		t.Errorf("no %q in\n%s", want, ops)
	}
	if strings.Index(ops, " Do Q") > strings.Index(ops, "BT") {
		t.Error("the picture is painted after the words that stand before it")
	}
	if !bytes.Contains(first, []byte("/TrimBox")) {
		t.Error("the file does not say where the label is cut")
	}
	name := saved(t, first)
	outside.SoundPDF(t, name)
	if out := outside.Run(t, "pdfinfo", "-box", name); !strings.Contains(out, "300.47 x 187.09 pts") {
		t.Errorf("the page is not the label with 3 mm round it:\n%s", out)
	}
}

func TestBrokenImage(t *testing.T) {
	s := sample(t)
	m := picture(t)
	m.Data = m.Data[:20]
	s.Items = append(s.Items, m)
	if err := Write(&bytes.Buffer{}, []scene.Scene{s}, Options{}); err == nil || !strings.Contains(err.Error(), "picture a") {
		t.Errorf("error = %v, want one that names the picture", err)
	}
}
