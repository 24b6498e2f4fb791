package layout

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/label/font"
	"panelwright/label/scene"
)

// texts returns the texts of a scene.
func texts(s scene.Scene) []*scene.Text {
	var out []*scene.Text
	for _, item := range s.Items {
		if t, ok := item.(*scene.Text); ok {
			out = append(out, t)
		}
	}
	return out
}

// strs returns the texts of a scene as strings.
func strs(s scene.Scene) []string {
	var out []string
	for _, t := range texts(s) {
		out = append(out, t.String())
	}
	return out
}

// sheet returns a document of all that a page can hold, three pages long.
func sheet(paper Paper) *Pages {
	p := NewPages(paper, "Declaration of Hay Fizz", "en")
	p.Footer = "Hay Fizz, European Union"
	p.Text(Title, "Hay Fizz")
	p.Text(Quiet, "judged on 2026-09-01")
	p.Space(2 * scene.Mm)
	p.Rule()
	p.Heading("Ingredients")
	p.Text(Body, longList)
	p.Heading("Composition")
	t := Table{Columns: []Column{
		{Head: "ingredient"},
		{Head: "typical %", Width: 24 * scene.Mm, Align: AlignRight},
		{Head: "unit", Width: 14 * scene.Mm, Align: AlignCentre},
		{Head: "where it comes from", Width: 60 * scene.Mm},
	}}
	for i := range 130 {
		t.Rows = append(t.Rows, Row{Cells: []string{
			fmt.Sprintf("Ingredient %d", i), fmt.Sprintf("%d.25", i*i), "g", strings.Repeat("fizz mix, ", 1+i%7) + "line " + fmt.Sprint(i),
		}, Bold: i%10 == 0})
	}
	p.Table(t)
	p.Spans(0, p.Width(), Body, Span{"Caution: ", Strong.Face}, Span{"keep away from eyes.", Body.Face})
	return p
}

func TestPages(t *testing.T) {
	for name, paper := range map[string]Paper{"A4": A4, "Letter": Letter} {
		scenes, err := sheet(paper).Scenes()
		if err != nil {
			t.Fatal(err)
		}
		if len(scenes) < 3 {
			t.Fatalf("%s: %d pages, want 3 or more", name, len(scenes))
		}
		var all []string
		for i, s := range scenes {
			if s.W != paper.W || s.H != paper.H {
				t.Errorf("%s: page of %v x %v", name, s.W, s.H)
			}
			ts := texts(s)
			for j, a := range ts {
				box := a.Bounds()
				if box.Left < paper.Left-300 || box.Right > paper.W-paper.Right+300 || box.Top < paper.Top-300 || box.Bottom > paper.H-10*scene.Mm {
					t.Errorf("%s: %q at %v sticks out of the margins", name, a, box)
				}
				for _, b := range ts[:j] {
					if box.Overlaps(b.Bounds()) {
						t.Errorf("%s: %q at %v overlaps %q at %v", name, a, box, b, b.Bounds())
					}
				}
			}
			foot := ts[len(ts)-2:]
			if diff := cmp.Diff([]string{"Hay Fizz, European Union", fmt.Sprintf("page %d of %d", i+1, len(scenes))},
				[]string{foot[0].String(), foot[1].String()}); diff != "" {
				t.Error(diff)
			}
			if i == 1 {
				head := []string{ts[0].String(), ts[1].String(), ts[2].String(), ts[3].String()}
				if diff := cmp.Diff([]string{"ingredient", "typical %", "unit", "where it comes from"}, head); diff != "" {
					t.Errorf("%s: the head is not repeated: %s", name, diff)
				}
			}
			all = append(all, strs(s)...)
		}
		said := strings.Join(all, " ")
		for i := range 130 {
			if n := strings.Count(said+" ", fmt.Sprintf("Ingredient %d ", i)); n != 1 {
				t.Errorf("%s: row %d is there %d times", name, i, n)
			}
		}
		if !strings.Contains(said, strings.Join(strings.Fields(longList), " ")) {
			t.Errorf("%s: the paragraph is not whole", name)
		}
	}
}

func TestTableAlignment(t *testing.T) {
	p := NewPages(A4, "", "")
	p.Table(Table{NoHead: true, NoRules: true, Columns: []Column{
		{Width: 40 * scene.Mm}, {Width: 30 * scene.Mm, Align: AlignRight}, {Align: AlignCentre},
	}, Rows: []Row{{Cells: []string{"a", "1.25", "x"}}, {Cells: []string{"b", "1000.5", "wider"}}}})
	scenes, err := p.Scenes()
	if err != nil {
		t.Fatal(err)
	}
	ts := texts(scenes[0])
	if ts[0].X != A4.Left || ts[3].X != A4.Left {
		t.Errorf("left column starts at %v and %v, want %v", ts[0].X, ts[3].X, A4.Left)
	}
	right := A4.Left + 40*scene.Mm + 30*scene.Mm - gutter
	for _, i := range []int{1, 4} {
		if end := ts[i].X + ts[i].Width(); end != right {
			t.Errorf("%q ends at %v, want %v", ts[i], end, right)
		}
	}
	middle := func(w *scene.Text) scene.Um { return 2*w.X + w.Width() }
	if d := middle(ts[2]) - middle(ts[5]); d < -2 || d > 2 {
		t.Errorf("%q and %q are not centred on each other", ts[2], ts[5])
	}
}

func TestEmptyCell(t *testing.T) {
	p := NewPages(A4, "", "")
	p.Table(Table{NoHead: true, Columns: []Column{{}, {Align: AlignRight}, {}}, Rows: []Row{{Cells: []string{"a", ""}}}})
	scenes, err := p.Scenes()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"a", "page 1 of 1"}, strs(scenes[0])); diff != "" {
		t.Error(diff)
	}
}

// A row that is taller than a page goes on on the next one; nothing is lost.
func TestTallRow(t *testing.T) {
	p := NewPages(A4, "", "")
	long := strings.TrimSpace(strings.Repeat("word ", 3000))
	p.Table(Table{Columns: []Column{{Head: "text"}}, Rows: []Row{{Cells: []string{long}}}})
	scenes, err := p.Scenes()
	if err != nil {
		t.Fatal(err)
	}
	if len(scenes) < 2 {
		t.Fatal("it is all on one page")
	}
	words := 0
	for _, s := range scenes {
		words += strings.Count(strings.Join(strs(s), " ")+" ", "word ")
	}
	if words != 3000 {
		t.Errorf("%d words, want 3000", words)
	}
}

// A word wider than its column is broken on a page, where it would be an error on a label.
func TestWideWord(t *testing.T) {
	p := NewPages(A4, "", "")
	address := "https://fernhollow.example/" + strings.Repeat("0123456789", 20)
	p.Text(Body, "see "+address+" for more")
	scenes, err := p.Scenes()
	if err != nil {
		t.Fatal(err)
	}
	ts := strs(scenes[0])
	got := strings.ReplaceAll(strings.Join(ts[:len(ts)-1], ""), " ", "")
	if want := "see" + address + "formore"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestPageErrors(t *testing.T) {
	for name, say := range map[string]func(*Pages){
		"text":   func(p *Pages) { p.Text(Body, "石") },
		"table":  func(p *Pages) { p.Table(Table{Columns: []Column{{}}, Rows: []Row{{Cells: []string{"石"}}}}) },
		"head":   func(p *Pages) { p.Table(Table{Columns: []Column{{Head: "石"}}}) },
		"footer": func(p *Pages) { p.Footer = "石" },
	} {
		p := NewPages(A4, "", "")
		say(p)
		p.Text(Body, "what follows")
		var missing *font.Missing
		if _, err := p.Scenes(); !errors.As(err, &missing) || missing.Rune != '石' {
			t.Errorf("%s: error = %v, want the missing letter", name, err)
		}
	}
}

func TestHeadingStaysWithText(t *testing.T) {
	p := NewPages(A4, "", "")
	for p.Left() > 25*scene.Mm {
		p.Text(Body, "line")
	}
	p.Heading("Findings")
	p.Text(Body, "under it")
	scenes, err := p.Scenes()
	if err != nil {
		t.Fatal(err)
	}
	if got := strs(scenes[1])[:2]; !cmp.Equal(got, []string{"Findings", "under it"}) {
		t.Errorf("second page begins with %q", got)
	}
}

func TestEmptyAndBrokenLines(t *testing.T) {
	p := NewPages(A4, "", "")
	p.Text(Body, "one\n\n two  words ")
	scenes, err := p.Scenes()
	if err != nil {
		t.Fatal(err)
	}
	ts := texts(scenes[0])
	if ts[0].String() != "one" || ts[1].String() != "two words" {
		t.Errorf("got %q", strs(scenes[0]))
	}
	if got := ts[1].Y - ts[0].Y; got != 2*Body.Lead {
		t.Errorf("the empty line moves by %v, want %v", got, 2*Body.Lead)
	}
}
