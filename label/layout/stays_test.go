package layout

import (
	"slices"
	"testing"

	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/scene"
)

// symbolsOn returns the words of the symbols on a scene, each once.
func symbolsOn(s *scene.Scene) (all []string) {
	for _, item := range s.Items {
		if p, ok := item.(*scene.Path); ok && p.Alt != "" && !slices.Contains(all, p.Alt) {
			all = append(all, p.Alt)
		}
	}
	return all
}

// Only the list and the precautions may leave the pack, and directions, which no market asks for: points (d) and (g)
// of Regulation (EC) No 1223/2009 Art. 19(1), by Art. 19(2). The date and the period after opening, point (c), stay
// with the name and address, the quantity and the lot, whatever else is moved.
func TestDurabilityStays(t *testing.T) {
	const jar, timer = "open jar: period after opening", "egg timer: best before"
	stays := []string{"name", "net quantity", "responsible person", "lot"}
	moved := 0
	for _, m := range []inci.Market{inci.EU, inci.GB, inci.NI} {
		for _, step := range []label.Step{label.FoldOut, label.Leaflet, label.TagCard, label.ShelfNotice} {
			for _, says := range []label.Stated{label.SaidNo, label.SaidYes} {
				for side := int64(64); side >= 50; side -= 2 {
					c := serving(on(european("Oat", longList), shape(label.Rectangle, side+4, side), none), m)
					c.Dress.Ladder, c.Dress.EggTimer = []label.Step{label.Narrower, step}, says
					laid, err := Lay(c, Options{})
					if err != nil || len(laid.Scenes) == 1 {
						continue // all of it fits, or nothing helps
					}
					moved++
					on, with := symbolsOn(&laid.Scenes[0]), symbolsOn(&laid.Scenes[1])
					words := said(laid.Scenes[0])
					if !slices.Contains(on, jar) || slices.Contains(on, timer) != (says == label.SaidYes) || !slices.Contains(words, "durability") {
						t.Errorf("%s, %v: the label bears %q and says %q", m, step, on, words)
					}
					for _, want := range stays {
						if !slices.Contains(words, want) {
							t.Errorf("%s, %v: the label lacks the %s", m, step, want)
						}
					}
					if slices.Contains(with, jar) || slices.Contains(with, timer) {
						t.Errorf("%s, %v: what goes with the label bears %q", m, step, with)
					}
					for _, got := range said(laid.Scenes[1]) {
						if !slices.Contains([]string{"name", "ingredients", "caution", "directions"}, got) {
							t.Errorf("%s, %v: the %s has left the label", m, step, got)
						}
					}
				}
			}
		}
	}
	if moved < 20 {
		t.Errorf("only %d labels moved anything", moved)
	}
}

// Where the words of two languages before the date do not fit even beside a list that has left, the timer stands for
// them, on the pack.
func TestTimerBesideLeaflet(t *testing.T) {
	for _, says := range []label.Stated{label.SaidNo, label.Unsaid} {
		c := serving(on(european("Oat", longList), shape(label.Rectangle, 56, 31), none), inci.EU)
		c.Dress.Ladder, c.Dress.EggTimer = []label.Step{label.Narrower, label.Leaflet}, says
		laid, err := Lay(c, Options{})
		if says == label.SaidNo {
			if err == nil {
				t.Error("the words fit: the case shows nothing")
			}
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		var rules []finding.Code
		for _, f := range laid.Findings {
			rules = append(rules, f.Rule)
		}
		if len(laid.Scenes) != 2 || !slices.Equal(rules, []finding.Code{"pack.egg-timer", "pack.elsewhere"}) || !slices.Contains(symbolsOn(&laid.Scenes[0]), "egg timer: best before") {
			t.Errorf("%d scenes, told %v, the label bears %q", len(laid.Scenes), rules, symbolsOn(&laid.Scenes[0]))
		}
	}
}
