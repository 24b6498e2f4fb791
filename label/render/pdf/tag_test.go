package pdf

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/outside"
	"panelwright/label/font"
	"panelwright/label/scene"
)

// spoken returns a label (invented) with statements in two languages, a symbol, a picture, rules and a background.
func spoken(t testing.TB) scene.Scene {
	t.Helper()
	s := scene.Scene{W: 60 * scene.Mm, H: 50 * scene.Mm, Title: "Hay bar", Lang: "en"}
	text := func(words string, y scene.Um, m *scene.Mark) {
		g, err := font.Text.Shape(words)
		if err != nil {
			t.Fatal(err)
		}
		s.Items = append(s.Items, &scene.Text{Face: font.Text, Size: 3000, X: 3 * scene.Mm, Y: y, Glyphs: g, Ink: scene.Black, Mark: m})
	}
	box := func(top scene.Um) []scene.Segment {
		return scene.Rounded(scene.Rect{Left: 50 * scene.Mm, Top: top, Right: 54 * scene.Mm, Bottom: top + 4*scene.Mm}, 0)
	}
	s.Items = append(s.Items, &scene.Path{Segments: box(40 * scene.Mm), Fill: &scene.Ink{Y: 20}, Behind: true})
	english, german := &scene.Mark{Statement: "directions", Lang: "en"}, &scene.Mark{Statement: "directions", Lang: "de"}
	text("Wet the bar,", 6*scene.Mm, english)
	s.Items = append(s.Items, scene.Line(3000, 7000, 30_000, 7000, 90, scene.Black))
	text("then lather.", 10*scene.Mm, english)
	s.Items[1].(*scene.Text).Space = true
	text("Seife (befeuchten).", 14*scene.Mm, german)
	s.Items = append(s.Items,
		&scene.Path{Segments: box(10 * scene.Mm), Stroke: &scene.Black, Width: 200, Alt: "jar (open) – “12 M”"},
		&scene.Path{Segments: box(11 * scene.Mm), Stroke: &scene.Black, Width: 200, Alt: "jar (open) – “12 M”"},
		&scene.Path{Segments: box(20 * scene.Mm), Stroke: &scene.Black, Width: 200, Mark: &scene.Mark{Statement: "e-mark"}})
	logo := picture(t)
	logo.Box, logo.Alt = scene.Rect{Left: 40 * scene.Mm, Top: 30 * scene.Mm, Right: 50 * scene.Mm, Bottom: 35 * scene.Mm}, "logo"
	s.Items = append(s.Items, logo)
	text("plain end", 45*scene.Mm, nil)
	return s
}

// A reader that speaks finds every statement once, in reading order, in its language, and each symbol by its words.
func TestReadingOrder(t *testing.T) {
	for name, o := range map[string]Options{"plain": {}, "proof": {Watermark: "PROOF"}} {
		data := write(t, o, spoken(t), sample(t))
		if again := write(t, o, spoken(t), sample(t)); !bytes.Equal(data, again) {
			t.Errorf("%s: the second time differs", name)
		}
		file := saved(t, data)
		out := outside.Run(t, "pdfinfo", "-struct-text", file)
		var got []string
		for _, l := range strings.Split(out, "\n") {
			if l = strings.TrimSpace(l); l != "" {
				got = append(got, l)
			}
		}
		want := []string{"Document", "Sect",
			"P (block)", `"Wet the bar, "`, `"then lather."`,
			"P (block)", `"Seife (befeuchten)."`,
			"Figure", `""`, "Figure", `""`, "Figure", `""`,
			"P (block)", `"plain end"`, "Sect"}
		for _, l := range lines {
			want = append(want, "P (block)", `"`+l.text+`"`)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
		if out := outside.Run(t, "pdfinfo", file); !regexp.MustCompile(`Tagged: +yes`).MatchString(out) {
			t.Errorf("%s: not tagged:\n%s", name, out)
		}
		outside.SoundPDF(t, file)
		// What a second reader copies out is the same.
		text := outside.Run(t, "mutool", "draw", "-q", "-F", "text", file, "1")
		if got, want := strings.Fields(text), strings.Fields("Wet the bar, then lather. Seife (befeuchten). plain end"); !cmp.Equal(want, got) {
			t.Errorf("%s: mutool reads %q", name, got)
		}
	}
}

// A file with more elements than a bundle holds has them all.
func TestManyElements(t *testing.T) {
	const pages = 150
	scenes := make([]scene.Scene, pages)
	for i := range scenes {
		scenes[i] = sample(t)
	}
	for name, o := range map[string]Options{"packed": {}, "plain": {Plain: true}} {
		file := saved(t, write(t, o, scenes...))
		outside.SoundPDF(t, file)
		out := outside.Run(t, "pdfinfo", "-struct", file)
		if n := strings.Count(out, "P (block)"); n != pages*len(lines) {
			t.Errorf("%s: %d elements, want %d", name, n, pages*len(lines))
		}
	}
}

// The elements as an independent reader of the file's objects has them.
func TestTags(t *testing.T) {
	file := saved(t, write(t, Options{}, spoken(t)))
	show := func(path string) string {
		return strings.Join(strings.Fields(outside.Run(t, "mutool", "show", file, path)), " ")
	}
	for path, want := range map[string]string{
		"trailer/Root/MarkInfo/Marked":                        "true",
		"trailer/Root/ViewerPreferences/DisplayDocTitle":      "true",
		"trailer/Root/Lang":                                   "(en)",
		"trailer/Root/StructTreeRoot/K/K/1/K/2/Lang":          "(de)",
		"trailer/Root/StructTreeRoot/K/K/1/K/3/S":             "/Figure",
		"trailer/Root/StructTreeRoot/K/K/1/K/4/Alt":           "(e-mark)",
		"trailer/Root/StructTreeRoot/K/K/1/K/5/Alt":           "(logo)",
		"trailer/Root/StructTreeRoot/ParentTree/Nums/2/1/K/1": "0",
		"pages/1/StructParents":                               "0",
		"pages/1/Tabs":                                        "/S",
	} {
		if got := show(path); got != want {
			t.Errorf("%s is %s, want %s", path, got, want)
		}
	}
	if got := show("trailer/Root/StructTreeRoot/K/K/1/K/1/Lang"); got != "null" {
		t.Errorf("a statement in the language of the page states it: %s", got)
	}
	// Everything painted is in a part: of an element, or decoration.
	ops := operators(t, write(t, Options{Plain: true, Watermark: "PROOF"}, spoken(t)))
	open := false
	for _, l := range strings.Split(ops, "\n") {
		words := strings.Fields(strings.ReplaceAll(l, ">>BDC", ">> BDC"))
		if len(words) == 0 {
			continue
		}
		switch words[len(words)-1] {
		case "BMC", "BDC":
			if open {
				t.Fatalf("%q begins inside another part", l)
			}
			open = true
		case "EMC":
			open = false
		case "f", "S", "B", "ET", "Q":
			if !open {
				t.Errorf("%q is painted outside all parts", l)
			}
		}
		if strings.HasSuffix(l, "BDC") != strings.Contains(l, "/MCID") {
			t.Errorf("%q", l)
		}
	}
	if open {
		t.Error("the last part has no end")
	}
}
