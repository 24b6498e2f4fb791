package look

import (
	"io/fs"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/label/font"
	"panelwright/templates"
)

// Every layout that comes with the project can be read, says what it is for, and has the name of its file.
func TestNamed(t *testing.T) {
	files, err := fs.Glob(templates.Layouts, "layouts/*.yaml")
	if err != nil || len(files) < 6 {
		t.Fatalf("%d layouts, %v", len(files), err)
	}
	for _, f := range files {
		name := strings.TrimSuffix(strings.TrimPrefix(f, "layouts/"), ".yaml")
		l, err := Named(strings.ToUpper(name))
		if err != nil {
			t.Fatal(err)
		}
		if l.Name != name || len(l.About) < 20 {
			t.Errorf("%s: %q, %q", f, l.Name, l.About)
		}
	}
	if len(Names()) != len(files)+1 {
		t.Errorf("names: %q", Names())
	}
}

func TestParse(t *testing.T) {
	got, err := Parse("mine.yaml", []byte(`
layout: mine
about: for testing
align: centre
frame: beads
block: name
rules: every
motif: leaf
strip: 2.5 %
pad: 1 %
wide: [44 %, 40 %]
band: 36 %
order: [cautions, list]
name: {face: carved, case: upper, size: 90 %, space: 4 %}
leads: {case: as written}
`))
	if err != nil {
		t.Fatal(err)
	}
	want := &Look{Name: "mine", About: "for testing", Align: Centre, Frame: Beads, Block: BlockName, Rules: Every, Motif: Leaf,
		Strip: 25, Pad: 10, Wide: []int{44, 40}, Band: []int{36},
		Order: []Role{"cautions", "list", "directions", "responsible", "contact", "origin", "lot"},
		Title: Type{Face: font.Carved, Upper: true, Size: 90, Space: 40}}
	if d := cmp.Diff(want, got, cmp.Comparer(func(a, b *font.Face) bool { return a == b })); d != "" {
		t.Error(d)
	}
}

func TestParseRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":                                   "begins with layout:",
		"- a\n":                              "begins with layout:",
		"align: left\n":                      "no name",
		"layout: x\nfram: single\n":          "mine.yaml:2: fram: \"fram\" is no key of a layout file; did you mean frame?",
		"layout: x\nframe: singel\n":         "did you mean single?",
		"layout: x\nframe: [single]\n":       "no choice",
		"layout: x\nname: big\n":             "{face: serif",
		"layout: x\nname: {face: gothic}\n":  "write one of",
		"layout: x\nname: {size: 200 %}\n":   "from 40 % to 140 %",
		"layout: x\nname: {size: 90}\n":      "percentage",
		"layout: x\nname: {sise: 90 %}\n":    "did you mean size?",
		"layout: x\nstrip: 2.55 %\n":         "percentage",
		"layout: x\nwide: []\n":              "share of the front",
		"layout: x\norder: [list, list]\n":   "stands twice",
		"layout: x\norder: [lists]\n":        "did you mean list?",
		"layout: x\norder: list\n":           "write it as in",
		"layout: {a: b}\n":                   "one text",
		"layout: x\n\tframe: single\n":       "mine.yaml: ",
		strings.Repeat("# a\n", 20_000) + "": "bytes",
	} {
		_, err := Parse("mine.yaml", []byte(text))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.40q: error = %v, want one that says %q", text, err, want)
		}
	}
	if _, err := Named("quit"); err == nil || !strings.Contains(err.Error(), "did you mean quiet?") {
		t.Errorf("error = %v, want the nearest name", err)
	}
	if l, err := Named("Mine", &Look{Name: "mine"}); err != nil || l.Name != "mine" {
		t.Errorf("the maker's own is not found: %v", err)
	}
}
