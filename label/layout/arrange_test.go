package layout

import (
	"fmt"
	"strings"
	"testing"

	"panelwright/label"
	"panelwright/label/scene"
)

// linesOf returns the words of a label, a line each, with where it stands, and every upright hairline.
func linesOf(s scene.Scene) (lines []*scene.Text, hairs []scene.Um) {
	lines = texts(s)
	for _, item := range s.Items {
		if p, ok := item.(*scene.Path); ok && len(p.Segments) == 2 && p.Segments[0].P[0].X == p.Segments[1].P[0].X {
			hairs = append(hairs, p.Segments[0].P[0].X)
		}
	}
	return lines, hairs
}

// On a band, what to mind in one language stands in one column, and so do the address and what it is written to by,
// however long the list is beside them.
func TestBandKeepsTogether(t *testing.T) {
	names := strings.Split(longList, ", ")
	for _, n := range []int{4, 8, 12, 16} {
		t.Run(fmt.Sprintf("%d names", n), func(t *testing.T) {
			c := european("Hay Meadow", strings.Join(names[:n], ", "))
			c.Languages = []string{"en", "fr"}
			c.Back = []label.Statement{
				c.Back[0],
				{Kind: label.DirectionsText, Lang: "en", Text: "Drop one into a full warm bath and let it fizz."},
				{Kind: label.CautionText, Lang: "en", Text: "Makes the bath slippery. Take care getting out."},
				{Kind: label.CautionText, Lang: "en", Text: "Keep out of eyes. External use only."},
				{Kind: label.DirectionsText, Lang: "fr", Text: "Déposer une bombe dans un bain chaud."},
				{Kind: label.CautionText, Lang: "fr", Text: "Rend la baignoire glissante. Prudence en sortant."},
				{Kind: label.CautionText, Lang: "fr", Text: "Éviter le contact avec les yeux."},
				{Kind: label.ResponsibleText, Text: "Farnsenke Badewerk, Mühlgasse 4, 09999 Beispielstadt"},
				{Kind: label.ContactText, Text: "bad@farnsenke.example"},
				{Kind: label.LotText, Lead: "Lot"},
			}
			scenes, err := Label(on(c, shape(label.Band, 210, 60), none), Options{})
			if err != nil {
				t.Fatal(err)
			}
			lines, hairs := linesOf(scenes[0])
			if len(hairs) != 2 {
				t.Fatalf("%d hairlines", len(hairs))
			}
			in := map[string]int{}
			for _, l := range lines {
				what := map[string]string{"directions": "told ", "caution": "told ", "responsible person": "who", "contact": "who"}[l.Mark.Statement] + l.Mark.Lang
				if what == l.Mark.Lang {
					continue
				}
				column := 0
				for _, h := range hairs {
					if l.X > h {
						column++
					}
				}
				if at, ok := in[what]; ok && at != column {
					t.Errorf("%s: in columns %d and %d", what, at, column)
				}
				in[what] = column
			}
			if len(in) != 3 {
				t.Errorf("found only %v", in)
			}
		})
	}
}

// Words in two languages before one space to write in are told apart by a stroke.
func TestSlash(t *testing.T) {
	scenes, err := Label(on(european("Hay Meadow", shortList), shape(label.Rectangle, 100, 80), none), Options{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, l := range texts(scenes[0]) {
		if l.Mark.Statement == "durability" && l.Mark.Lang != "" {
			got = append(got, strings.TrimSpace(l.String()))
		}
	}
	if want := "Best before end /|Mindestens haltbar bis Ende"; strings.Join(got, "|") != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// A name that says what the product is stands once, as large as a name, and is judged as the identity; one that
// says more stands beside it.
func TestNameIsIdentity(t *testing.T) {
	for _, tt := range []struct {
		name, title string
		times       int
		largest     string
	}{
		{"the same", "Bath fizz  with a Butter core", 1, "identity"},
		{"not the same", "Hay Meadow", 1, "name"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := on(american(tt.title, shortList), shape(label.Rectangle, 90, 90), none)
			scenes, err := Label(c, Options{Accent: &scene.Ink{C: 60, M: 80}})
			if err != nil {
				t.Fatal(err)
			}
			said, largest := 0, (*scene.Text)(nil)
			for _, l := range texts(scenes[0]) {
				if strings.HasPrefix(l.String(), "Bath fizz") {
					said++
					if l.Ink != scene.Black {
						t.Errorf("%q is printed in %v", l, l.Ink)
					}
				}
				if largest == nil || l.Size > largest.Size {
					largest = l
				}
			}
			if said != tt.times || largest.Mark.Statement != tt.largest {
				t.Errorf("said %d times; the largest words are the %s", said, largest.Mark.Statement)
			}
		})
	}
}

// Where one block is most of the small print, a band gives it more width, and the front leans to the other side.
func TestBandLeans(t *testing.T) {
	scenes, err := Label(on(american("Oat and Lavender", longList), shape(label.Band, 204, 45), none), Options{})
	if err != nil {
		t.Fatal(err)
	}
	_, hairs := linesOf(scenes[0])
	if len(hairs) != 2 {
		t.Fatalf("%d hairlines", len(hairs))
	}
	if left, right := hairs[0], scenes[0].W-hairs[1]; right < left*3/2 {
		t.Errorf("the list has a column of %v, the rest one of %v", right, left)
	}
	scenes, err = Label(on(american("Alpine Hay", shortList), shape(label.Band, 204, 45), none), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if _, hairs := linesOf(scenes[0]); len(hairs) != 2 || max(hairs[0]+hairs[1]-scenes[0].W, scenes[0].W-hairs[0]-hairs[1]) > 1 {
		t.Errorf("the front of a short list leans: hairlines at %v on %v", hairs, scenes[0].W)
	}
}

// The words of two languages for one date stand one close under the other, since what is written beside the second
// finds its height beside the first; below words that reach over that space it keeps its height.
func TestRowsInterlock(t *testing.T) {
	for _, tt := range []struct {
		name, first, second string
		closer              bool
	}{
		{"shorter words above", "Best before end", "Mindestens haltbar bis Ende", true},
		{"longer words above", "Mindestens haltbar bis zum Ende des Monats und Jahres", "Best before end", false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := european("Alpine Hay", shortList)
			c.Dress.EggTimer = label.SaidNo
			c.Back = []label.Statement{c.Back[0], {Kind: label.DurabilityText, Lang: "en", Lead: tt.first},
				{Kind: label.DurabilityText, Lang: "de", Lead: tt.second}}
			scenes, err := Label(on(c, shape(label.Rectangle, 62, 90), none), Options{})
			if err != nil {
				t.Fatal(err)
			}
			var lines []*scene.Text
			for _, l := range texts(scenes[0]) {
				if l.Mark.Statement == "durability" {
					lines = append(lines, l)
				}
			}
			if len(lines) != 2 || lines[0].Y == lines[1].Y {
				t.Fatalf("the words are not in two rows: %v", lines)
			}
			apart := lines[1].Y - lines[0].Y
			if closer := apart < lines[0].Size*3/2; closer != tt.closer {
				t.Errorf("the baselines are %v apart at an em of %v", apart, lines[0].Size)
			}
		})
	}
}
