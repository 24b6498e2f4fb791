package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/label/font"
	"panelwright/label/scene"
)

func sample(t testing.TB) *scene.Scene {
	g, err := font.Text.Shape("A & Ö <l>")
	if err != nil {
		t.Fatal(err)
	}
	return &scene.Scene{
		W: 64 * scene.Mm, H: 12500, Title: "Hay & <Straw>", Lang: "en",
		Items: []scene.Item{
			&scene.Path{Segments: scene.Rounded(scene.Rect{Right: 4000, Bottom: 2000}, 0), Fill: &scene.Ink{C: 60, M: 10, Y: 55, K: 45}},
			scene.Line(1000, 2000, 63000, 2000, 90, scene.Black),
			&scene.Text{Face: font.Text, Size: 3040, X: 2500, Y: 9000, Glyphs: g, Ink: scene.Black},
			&scene.Text{Face: font.Text, Size: 3040, X: 2500, Y: 9000},
		},
	}
}

func TestWrite(t *testing.T) {
	var b bytes.Buffer
	if err := Write(&b, sample(t), Options{}); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(b.String(), "\n")
	want := []string{
		`<svg xmlns="http://www.w3.org/2000/svg" width="64mm" height="12.5mm" viewBox="0 0 64000 12500" xml:lang="en">`,
		`<title>Hay &amp; &lt;Straw&gt;</title>`,
		`<path fill="#387e3f" d="M0 0L4000 0L4000 2000L0 2000Z"/>`,
		`<path fill="none" stroke="#000000" stroke-width="90" d="M1000 2000L63000 2000"/>`,
	}
	if diff := cmp.Diff(want, lines[:4]); diff != "" {
		t.Error(diff)
	}
	if !strings.HasPrefix(lines[4], `<path role="img" aria-label="A &amp; Ö &lt;l&gt;" fill="#000000" d="M`) {
		t.Errorf("text: %.80s", lines[4])
	}
	if diff := cmp.Diff([]string{"</svg>", ""}, lines[5:]); diff != "" {
		t.Error(diff)
	}
	for d := xml.NewDecoder(&b); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

func TestWatermark(t *testing.T) {
	var plain, proof bytes.Buffer
	if err := Write(&plain, sample(t), Options{}); err != nil {
		t.Fatal(err)
	}
	if err := Write(&proof, sample(t), Options{Watermark: "PROOF - NOT FOR SALE"}); err != nil {
		t.Fatal(err)
	}
	got := strings.Split(proof.String(), "\n")
	if got[1] != "<title>PROOF - NOT FOR SALE: Hay &amp; &lt;Straw&gt;</title>" {
		t.Errorf("title: %s", got[1])
	}
	if !strings.HasPrefix(got[2], `<path fill="#dbdbdb"`) {
		t.Errorf("the watermark does not come first: %.60s", got[2])
	}
	if diff := cmp.Diff(strings.Split(plain.String(), "\n")[2:], got[3:]); diff != "" {
		t.Errorf("the watermark changes the rest:\n%s", diff)
	}
	if err := Write(io.Discard, sample(t), Options{Watermark: "石"}); err == nil {
		t.Error("a letter that no face has gives no error")
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriterFails(t *testing.T) {
	if err := Write(broken{}, sample(t), Options{}); err == nil {
		t.Error("no error")
	}
}
