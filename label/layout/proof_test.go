package layout

import (
	"strings"
	"testing"

	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/scene"
)

// What the proof page measures is what the scene says of itself, and everything passes that the layout made.
func TestMeasure(t *testing.T) {
	for _, tt := range cases {
		t.Run(tt.name, func(t *testing.T) {
			c := tt.copy()
			scenes, err := Label(c, tt.o)
			if err != nil {
				t.Fatal(err)
			}
			for i := range scenes {
				got := measureScene(c, &scenes[i])
				if len(got) == 0 {
					t.Fatal("nothing was measured")
				}
				for _, m := range got {
					if !m.passes() {
						t.Errorf("%s, %s: is %v, must be %v", m.what, m.on, m.is, m.must)
					}
					if m.edge < safeMargin-2 {
						t.Errorf("%s is %v from the edge", m.what, m.edge)
					}
				}
			}
		})
	}
}

// A fault is found: each of these labels was spoilt after it was laid out.
func TestMeasureFails(t *testing.T) {
	for name, tt := range map[string]struct {
		spoil func(w *scene.Text)
		fails string // what is measured
	}{
		"smaller letters":  {func(w *scene.Text) { w.Size = w.Size * 90 / 100 }, "lower-case o"},
		"moved up":         {func(w *scene.Text) { w.Y -= 30 * scene.Mm }, "its upper edge from the top"},
		"crowded at side":  {func(w *scene.Text) { w.X += 8 * scene.Mm }, "blank at the sides"},
		"crowded from top": {func(w *scene.Text) { w.Y -= 20 * scene.Mm }, "blank above and below"},
	} {
		t.Run(name, func(t *testing.T) {
			c := serving(on(american("Alpine Hay", shortList), shape(label.Rectangle, 110, 60), none), inci.US)
			scenes, err := Label(c, Options{})
			if err != nil {
				t.Fatal(err)
			}
			for _, w := range texts(scenes[0]) {
				if w.Mark.Statement == "net quantity" {
					tt.spoil(w)
				}
			}
			found := false
			for _, m := range measureScene(c, &scenes[0]) {
				found = found || !m.passes() && m.on == tt.fails && m.what == "net quantity"
			}
			if !found {
				t.Errorf("%q passes", tt.fails)
			}
		})
	}
}

// The proof page holds the label three times as large, and a row for every statement with its verdict.
func TestProof(t *testing.T) {
	c := serving(on(american("Alpine Hay", shortList), shape(label.Round, 80, 80), shape(label.Round, 80, 80)), inci.US)
	scenes, err := Label(c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	pages, err := Proof(c, scenes)
	if err != nil {
		t.Fatal(err)
	}
	words, large := "", 0
	for _, p := range pages {
		for _, item := range p.Items {
			w, ok := item.(*scene.Text)
			if !ok {
				continue
			}
			words += w.String() + "\n"
			for _, o := range append(texts(scenes[0]), texts(scenes[1])...) {
				if w.String() == o.String() && w.Size == 3*o.Size && w.Face == o.Face {
					large++
					break
				}
			}
		}
	}
	if want := len(texts(scenes[0])) + len(texts(scenes[1])); large < want {
		t.Errorf("%d of %d lines are there three times as large", large, want)
	}
	for _, want := range []string{"pass", "net quantity", "at least 3.175 mm", "1/8 in", "ingredients", "in the bottom 30 %", "twice the width of its N"} {
		if !strings.Contains(words, want) {
			t.Errorf("the proof does not say %q", want)
		}
	}
	if strings.Contains(words, "FAIL") {
		t.Error("a sound label fails its proof")
	}
	if _, err := Proof(&label.PackCopy{}, []scene.Scene{{W: 50 * scene.Mm, H: 50 * scene.Mm, Title: "石"}}); err == nil {
		t.Error("a title that cannot be set gives no error")
	}
}

// The numbers on a proof can be read: each of them once, none on other words, in every layout.
func TestProofNumbers(t *testing.T) {
	for _, name := range []string{"quiet", "block", "botanical", "ledger"} {
		c := serving(on(american("Alpine Hay", shortList), shape(label.Round, 80, 80), shape(label.Rectangle, 90, 70)), inci.US)
		scenes, err := Label(c, Options{Look: named(t, name)})
		if err != nil {
			t.Fatal(err)
		}
		pages, err := Proof(c, scenes)
		if err != nil {
			t.Fatal(err)
		}
		numbers := 0
		for _, p := range pages {
			all := texts(p)
			for i, w := range all {
				if w.Ink != red {
					continue
				}
				numbers++
				for k, o := range all {
					if k != i && w.Bounds().Overlaps(o.Bounds()) {
						t.Errorf("%s: %q stands on %q", name, w, o)
					}
				}
			}
		}
		if numbers < 8 {
			t.Errorf("%s: only %d numbers", name, numbers)
		}
	}
}

// The table of a proof ends on the page of its label, however many lines a rule takes.
func TestProofOnOnePage(t *testing.T) {
	c := serving(on(american("Alpine Hay", shortList), shape(label.Round, 80, 80), shape(label.Rectangle, 60, 90)), inci.US)
	for i := range c.Back {
		c.Back[i].Height.Rule = strings.Repeat("letters of other required information in a rule of many words ", 5)
	}
	scenes, err := Label(c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	pages, err := Proof(c, scenes)
	if err != nil {
		t.Fatal(err)
	}
	if len(pages) != len(scenes) {
		t.Errorf("%d pages for %d labels", len(pages), len(scenes))
	}
}

// Words of another panel, beyond a crease, do not crowd a net quantity.
func TestMeasureFolded(t *testing.T) {
	c := serving(on(american("Alpine Hay", longList), shape(label.Folded, 120, 110), none), inci.US)
	c.Front[2].Text, c.Front[2].Height.Min = "Net Wt 35.2 oz (2 lb 3.2 oz; 1 kg)", 4763
	scenes, err := Label(c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	crowded := func() (n int) {
		for _, m := range measureScene(c, &scenes[0]) {
			if strings.HasPrefix(m.on, "blank ") && !m.passes() {
				n++
			}
		}
		return n
	}
	if n := crowded(); n > 0 {
		t.Errorf("%d distances are too small", n)
	}
	if scenes[0].Folds = nil; crowded() == 0 {
		t.Error("no words are near beyond the crease, which shows nothing")
	}
}
