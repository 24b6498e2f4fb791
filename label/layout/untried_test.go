package layout

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"panelwright/inci"
	"panelwright/label"
)

// The cure of a label that is too small names the steps that the book does not allow yet, and of those the ones that
// would do; where none is left it says what was tried, and the error says how much is lacking all the same.
func TestCure(t *testing.T) {
	all := slices.Clone(label.Steps)
	for _, tt := range []struct {
		name   string
		market inci.Market
		w, h   int64
		steps  []label.Step
		want   string
		not    string
	}{
		{"the book says nothing", inci.EU, 62, 52, nil, "change label: or add back: in the pack, or add one of fold, leaflet or tag to if it does not fit:", "notice"},
		{"what was tried is not named", inci.EU, 40, 32, []label.Step{label.Narrower, label.Leaflet}, "", "leaflet to if"},
		{"a leaflet is of no use in the United States", inci.US, 80, 62, []label.Step{label.Narrower, label.Leaflet}, "or add tag to", "leaflet"},
		{"one would do", inci.US, 80, 62, []label.Step{label.Narrower, label.SecondPanel, label.Leaflet, label.FoldOut}, "", "back"},
		{"all was tried", inci.EU, 30, 20, all, "narrower, back, leaflet, tag and notice were tried, and nothing else would do (fold and website cannot be used here", " add "},
		{"two would do together", inci.EU, 40, 32, nil, "or add back and leaflet together to if it does not fit:", "notice"},
		{"narrower letters would do", inci.EU, 69, 59, []label.Step{}, "one of narrower, ", ""},
		{"nothing may be tried", inci.EU, 62, 52, []label.Step{}, "leaflet", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := on(european("Oat", longList), shape(label.Rectangle, tt.w, tt.h), none)
			if tt.market == inci.US {
				c = on(american("Hay", longList), shape(label.Rectangle, tt.w, tt.h), none)
			}
			serving(c, tt.market)
			c.Dress.Ladder, c.Dress.EggTimer = tt.steps, label.SaidNo
			_, err := Lay(c, Options{})
			var full *NoRoom
			if !errors.As(err, &full) {
				t.Fatalf("error = %v, want a *NoRoom", err)
			}
			if cure := full.Cure(); !strings.Contains(cure, tt.want) || tt.not != "" && strings.Contains(cure, tt.not) {
				t.Errorf("the cure is %q; want %q and not %q", cure, tt.want, tt.not)
			}
			if !strings.Contains(err.Error(), " mm") || !strings.Contains(err.Error(), "lacks ") {
				t.Errorf("the error does not say what is lacking: %v", err)
			}
			// What is named does help, and what is not named does not.
			fits := func(more ...label.Step) bool {
				c.Dress.Ladder = append(slices.Clip(full.Tried), more...)
				_, err := Lay(c, Options{})
				return err == nil
			}
			for _, s := range label.Steps {
				would := slices.Contains(full.Would, s)
				if would && slices.Contains(full.Tried, s) {
					t.Errorf("%v was tried, and is named", s)
				}
				if s != label.ShelfNotice && !slices.Contains(full.Tried, s) && fits(s) != would {
					t.Errorf("%v is named: %v, it helps: %v", s, would, !would)
				}
			}
			if full.Together != nil && !fits(full.Together...) {
				t.Errorf("%v do not help together", full.Together)
			}
			// The size that is named does.
			c.Dress.Ladder = tt.steps
			c.Pack.Label.W, c.Pack.Label.H = int64(full.NeedW), int64(full.NeedH)
			if _, err := Lay(c, Options{}); err != nil {
				t.Errorf("%v x %v does not do: %v", full.NeedW, full.NeedH, err)
			}
		})
	}
}

// The words of a cure, for what the labels above do not show.
func TestCureWords(t *testing.T) {
	tried := []label.Step{label.Narrower}
	for _, tt := range []struct {
		name string
		e    NoRoom
		want string
	}{
		{"a second label is said once", NoRoom{NeedW: 1, Back: true, Tried: tried, Would: []label.Step{label.SecondPanel}}, "change label: or add back: in the pack"},
		{"a word wider than the label", NoRoom{Tried: tried}, "say less, or name another shape of label; narrower was tried, and nothing else would do"},
		{"nothing was tried", NoRoom{NeedW: 1}, "change label: in the pack; nothing else that could be tried would do"},
		{"all that was tried is in vain", NoRoom{NeedW: 1, Tried: []label.Step{label.Leaflet}, Vain: []label.Step{label.Leaflet}},
			"change label: in the pack; nothing else that could be tried would do (leaflet cannot be used here: the law of a market, or the shape or size of the label, is against it)"},
	} {
		if got := tt.e.Cure(); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}
