package layout

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/market"
	"panelwright/label/scene"
)

// serving says for which markets a copy's statements stand, on a day when all rules bind.
func serving(c *label.PackCopy, ms ...inci.Market) *label.PackCopy {
	c.Markets = ms
	c.Occasion = date.Occasion{On: date.Of(2026, 11, 25), Placed: date.Of(2026, 11, 25)}
	for _, list := range [][]label.Statement{c.Front, c.Back} {
		for i := range list {
			list[i].Markets = ms
		}
	}
	return c
}

// said returns the statements of a scene by kind.
func said(s scene.Scene) (all []string) {
	for _, t := range texts(s) {
		if !slices.Contains(all, t.Mark.Statement) {
			all = append(all, t.Mark.Statement)
		}
	}
	return all
}

// The list is too long for its label. What may be tried, and what the law of the market allows, decides.
func TestLadder(t *testing.T) {
	small := shape(label.Rectangle, 62, 52)
	for _, tt := range []struct {
		name   string
		market inci.Market
		steps  []label.Step
		scenes int
		moved  string // on the last sheet
		says   string // in a note; "" for an error
	}{
		{"nothing but narrower letters", inci.EU, nil, 0, "", ""},
		{"a second label", inci.EU, []label.Step{label.Narrower, label.SecondPanel}, 2, "ingredients", "second label of that size"},
		{"a fold, which is a label that is opened", inci.EU, []label.Step{label.Narrower, label.FoldOut}, 2, "ingredients", "inside of a label folded once"},
		{"a leaflet", inci.GB, []label.Step{label.Narrower, label.Leaflet}, 2, "ingredients", "leaflet of 52 x 74 mm"},
		{"the first that does, in the book's order", inci.NI, []label.Step{label.TagCard, label.SecondPanel}, 2, "ingredients", "a tag of "},
		{"no leaflet in the United States", inci.US, []label.Step{label.Narrower, label.Leaflet}, 0, "", ""},
		{"a tag in the United States", inci.US, []label.Step{label.Narrower, label.TagCard}, 2, "ingredients", "a tag of "},
		{"no fold in the United States", inci.US, []label.Step{label.Narrower, label.FoldOut}, 0, "", ""},
		{"a tag in Canada", inci.CA, []label.Step{label.Narrower, label.TagCard}, 2, "ingredients", "a tag of "},
		{"a leaflet in Canada, where no tag will do", inci.CA, []label.Step{label.Narrower, label.Leaflet}, 2, "ingredients", "its shape takes no tag"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := on(european("Oat and Lavender", longList), small, none)
			if tt.market == inci.US || tt.market == inci.CA {
				c = on(american("Hay", longList), shape(label.Rectangle, 80, 62), none)
			}
			serving(c, tt.market)
			c.Dress.Ladder = tt.steps
			laid, err := Lay(c, Options{})
			if tt.says == "" {
				var full *NoRoom
				if !errors.As(err, &full) {
					t.Fatalf("error = %v, want a *NoRoom", err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if len(laid.Scenes) != tt.scenes || !slices.Contains(said(laid.Scenes[len(laid.Scenes)-1]), tt.moved) {
				t.Errorf("%d scenes, the last says %q", len(laid.Scenes), said(laid.Scenes[len(laid.Scenes)-1]))
			}
			if tt.moved == "ingredients" && slices.Contains(said(laid.Scenes[0]), "ingredients") {
				t.Error("the list stands on the label too")
			}
			severity := finding.Note
			if tt.says == "its shape takes no tag" { // whether it does is hers to judge
				severity = finding.Warning
			}
			if n := len(laid.Findings); n != 1 || laid.Findings[0].Severity != severity || !strings.Contains(laid.Findings[0].Message, tt.says) {
				t.Errorf("findings: %v", laid.Findings)
			}
		})
	}
}

// The label points to what has left it: by the hand in the open book where the law knows it, in words elsewhere.
func TestNotice(t *testing.T) {
	c := serving(on(european("Oat and Lavender", longList), shape(label.Rectangle, 62, 52), none), inci.EU)
	c.Dress.Ladder = []label.Step{label.Narrower, label.Leaflet}
	laid, err := Lay(c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	paper := 0
	for _, item := range laid.Scenes[0].Items {
		if p, ok := item.(*scene.Path); ok && p.Fill != nil && *p.Fill == (scene.Ink{}) {
			paper++ // the hand, white on the page
			if b := p.Bounds(); b.Bottom-b.Top < leastBook*55/100 {
				t.Errorf("the hand is only %v high", b.Bottom-b.Top)
			}
		}
	}
	if paper != 1 || slices.Contains(said(laid.Scenes[0]), "notice") {
		t.Errorf("%d hands on the label, and it says %q; want the symbol alone", paper, said(laid.Scenes[0]))
	}

	c = serving(on(american("Hay", longList), shape(label.Rectangle, 80, 62), none), inci.US)
	c.Dress.Ladder = []label.Step{label.Narrower, label.TagCard}
	if laid, err = Lay(c, Options{}); err != nil {
		t.Fatal(err)
	}
	if got := said(laid.Scenes[0]); !slices.Contains(got, "notice") || slices.Contains(got, "ingredients") || !slices.Contains(got, "caution") {
		t.Errorf("the American label says %q; want a notice instead of the list, and the caution", got)
	}
}

// A statement leaves only where every market lets it.
func TestMayLeave(t *testing.T) {
	c := serving(european("Hay", shortList), inci.EU, inci.US)
	list := &c.Back[0]
	for step, want := range map[label.Step]bool{label.Leaflet: false, label.TagCard: true, label.FoldOut: false, label.Narrower: false} {
		if _, got := c.MayLeave(list, step); got != want {
			t.Errorf("EU and US, the list on a %v: %v, want %v", step, got, want)
		}
	}
	for m, want := range map[inci.Market]map[label.Step]bool{ // every rung of the ladders counts, not the first alone
		inci.CA: {label.Leaflet: true, label.TagCard: true, label.Website: true, label.FoldOut: false, label.ShelfNotice: false},
		inci.EU: {label.Leaflet: true, label.TagCard: true, label.Website: false, label.FoldOut: true, label.ShelfNotice: true},
		inci.US: {label.Leaflet: false, label.TagCard: true, label.Website: false, label.FoldOut: false, label.ShelfNotice: false},
	} {
		c := serving(european("Hay", shortList), m)
		for step, want := range want {
			if _, got := c.MayLeave(&c.Back[0], step); got != want {
				t.Errorf("%s, the list on a %v: %v, want %v", m, step, got, want)
			}
		}
	}
	for i := range c.Back {
		if s := &c.Back[i]; s.Kind == label.ResponsibleText || s.Kind == label.LotText {
			if _, got := c.MayLeave(s, label.TagCard); got {
				t.Errorf("%v may leave the label", s.Text)
			}
		}
	}
}

// The frame of a layout gives way before the text does, and that is said.
func TestFrameGivesWay(t *testing.T) {
	l := named(t, "seal")
	for side := int64(90); side > 60; side-- {
		c := serving(on(european("Alpine Hay", shortList), shape(label.Round, side, side), none), inci.EU)
		laid, err := Lay(c, Options{Look: l})
		if err != nil {
			t.Fatal("the label was never drawn without its frame")
		}
		framed := false
		for _, item := range laid.Scenes[0].Items {
			p, ok := item.(*scene.Path)
			framed = framed || ok && p.Behind
		}
		if told := len(laid.Findings) == 1; told == framed {
			t.Fatalf("%d mm: framed %v, findings %v", side, framed, laid.Findings)
		}
		if !framed {
			return
		}
	}
	t.Error("the frame never gave way")
}

// An e-mark has its height on its own outline, and stands by the quantity; where the quantity must stand clear it
// stands above.
func TestEMark(t *testing.T) {
	for name, c := range map[string]*label.PackCopy{
		"beside": serving(on(european("Hay", shortList), shape(label.Rectangle, 110, 70), none), inci.EU),
		"above":  serving(on(american("Hay", shortList), shape(label.Rectangle, 130, 80), none), inci.EU, inci.US),
	} {
		c.EMark = market.For(inci.EU).EMarkHeight()
		if c.EMark.Min != 3000 { // Directive 76/211/EEC Annex I point 3.3
			t.Fatalf("the e-mark must be %d high", c.EMark.Min)
		}
		scenes, err := Label(c, Options{})
		if err != nil {
			t.Fatal(err)
		}
		check(t, c, Options{}, scenes)
		var mark scene.Rect
		var net scene.Rect
		for _, item := range scenes[0].Items {
			switch item := item.(type) {
			case *scene.Path:
				if item.Mark != nil {
					mark = item.Bounds()
					if item.Mark.Height < 3000 || item.Mark.Height != mark.Bottom-mark.Top {
						t.Errorf("%s: said to be %v high, the outline has %v", name, item.Mark.Height, mark.Bottom-mark.Top)
					}
				}
			case *scene.Text:
				if item.Mark.Statement == "net quantity" {
					net = item.Bounds()
				}
			}
		}
		if beside := mark.Left >= net.Right && mark.Bottom <= net.Bottom+500; beside != (name == "beside") {
			t.Errorf("%s: the mark is at %v, the quantity at %v", name, mark, net)
		}
	}
}

// With the egg timer one date serves all languages, and no words lead it in.
func TestEggTimer(t *testing.T) {
	c := serving(on(european("Hay", shortList), shape(label.Rectangle, 110, 70), none), inci.EU)
	c.Dress.EggTimer = label.SaidYes
	scenes, err := Label(c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range texts(scenes[0]) {
		if strings.Contains(w.String(), "Best before") || strings.Contains(w.String(), "haltbar") {
			t.Errorf("words lead in the date: %q", w)
		}
	}
	bulbs := 0
	for _, item := range scenes[0].Items {
		if p, ok := item.(*scene.Path); ok && p.Fill != nil {
			bulbs++
		}
	}
	if bulbs != 2 {
		t.Errorf("%d heaps of sand, want the two of one egg timer", bulbs)
	}
}

// The last rungs: the page of the product, named in both languages, and a notice on the shelf. What the law asks
// besides is said, and what it allows only when nothing else will do is a warning.
func TestLastRungs(t *testing.T) {
	for _, tt := range []struct {
		name   string
		market inci.Market
		step   label.Step
		scenes int
		says   string // on the label
		told   string
		severe finding.Severity
	}{
		{"website", inci.CA, label.Website, 1, "Ingredients / Ingrédients: fernhollow.example/hay", "the pack is too small", finding.Note},
		{"leaflet", inci.CA, label.Leaflet, 2, "Ingredients: see leaflet / Ingrédients : voir la notice", "no outer pack", finding.Warning},
		{"notice", inci.EU, label.ShelfNotice, 2, "", "soap, a bath ball", finding.Warning},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := serving(on(american("Hay", longList), shape(label.Rectangle, 80, 62), none), tt.market)
			c.Languages, c.Product = []string{"en", "fr"}, &label.Product{Link: itemLink}
			c.Dress.Ladder = []label.Step{label.Narrower, tt.step}
			laid, err := Lay(c, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if len(laid.Scenes) != tt.scenes || slices.Contains(said(laid.Scenes[0]), "ingredients") || slices.Contains(said(laid.Scenes[0]), "notice") != (tt.says != "") {
				t.Fatalf("%d scenes, the label says %q", len(laid.Scenes), said(laid.Scenes[0]))
			}
			words := strings.Join(strs(laid.Scenes[0]), " ")
			if !strings.Contains(words, tt.says) {
				t.Errorf("the label says %q, want %q in it", words, tt.says)
			}
			if f := laid.Findings[0]; f.Severity != tt.severe || !strings.Contains(f.Message, tt.told) {
				t.Errorf("told %v %q, want %v and %q", f.Severity, f.Message, tt.severe, tt.told)
			}
		})
	}
	c := serving(on(american("Hay", longList), shape(label.Rectangle, 80, 62), none), inci.CA)
	c.Dress.Ladder = []label.Step{label.Narrower, label.Website}
	if _, err := Lay(c, Options{}); err == nil {
		t.Error("the list has left for a page that has no address")
	}
}

// What the law puts last is tried last: a tag comes before the leaflet in Canada though the book names it later.
func TestLawsOrder(t *testing.T) {
	c := serving(on(american("Hay", longList), shape(label.Rectangle, 80, 62), none), inci.CA)
	c.Dress.Ladder = []label.Step{label.Narrower, label.Leaflet, label.TagCard}
	laid, err := Lay(c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if f := laid.Findings[0]; f.Severity != finding.Note || !strings.Contains(f.Message, "a tag of ") {
		t.Errorf("told %v %q, want a note of a tag", f.Severity, f.Message)
	}
}

// Before anything leaves the label, the egg timer is tried instead of the words that lead in the date in two
// languages; not where the book says that it wants the words, and not where that is of no use.
func TestTimerBeforeLeaflet(t *testing.T) {
	for _, tt := range []struct {
		name   string
		wants  label.Stated
		list   string
		across int64
		rule   finding.Code
		scenes int
	}{
		{"it fits with the timer", label.Unsaid, shortList, 45, "pack.egg-timer", 2},
		{"the book wants the words", label.SaidNo, shortList, 45, "pack.elsewhere", 3},
		{"too long with the timer too", label.Unsaid, longList, 50, "pack.elsewhere", 3},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := on(european("Oat and Lavender", tt.list), shape(label.Round, 40, 40), shape(label.Round, tt.across, tt.across))
			serving(c, inci.EU)
			c.Dress.Ladder = []label.Step{label.Narrower, label.Leaflet}
			c.Dress.EggTimer = tt.wants
			laid, err := Lay(c, Options{})
			if err != nil {
				t.Fatal(err)
			}
			var rules []finding.Code
			for _, f := range laid.Findings {
				rules = append(rules, f.Rule)
			}
			if len(rules) != 1 || rules[0] != tt.rule || len(laid.Scenes) != tt.scenes {
				t.Errorf("%d scenes, %v; want %d, %s", len(laid.Scenes), rules, tt.scenes, tt.rule)
			}
		})
	}
}
