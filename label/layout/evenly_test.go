package layout

import (
	"slices"
	"strings"
	"testing"

	"panelwright/label"
	"panelwright/label/market"
	"panelwright/label/scene"
)

// printed returns the lines of a statement of a label.
func printed(t *testing.T, c *label.PackCopy, o Options, statement string) (lines []*scene.Text) {
	t.Helper()
	scenes, err := Label(c, o)
	if err != nil {
		t.Fatal(err)
	}
	for i := range scenes {
		for _, l := range texts(scenes[i]) {
			if l.Mark.Statement == statement {
				lines = append(lines, l)
			}
		}
	}
	if lines == nil {
		t.Fatalf("no %s on the label", statement)
	}
	return lines
}

func linesIn(lines []*scene.Text) (out []string) {
	for _, l := range lines {
		out = append(out, strings.TrimSpace(l.String()))
	}
	return out
}

// The cautions of a language run on as one paragraph; a sentence that calls for attention stands for itself.
func TestRunOn(t *testing.T) {
	caution := func(lang, text string) label.Statement {
		return label.Statement{Kind: label.CautionText, Lang: lang, Text: text}
	}
	var got []string
	for _, s := range runOn([]label.Statement{
		caution("en", "Keep out of eyes."), caution("de", "Nicht in die Augen bringen."), caution("en", "Mind the slippery tub."),
		caution("en", "Caution—Use only as directed."), caution("en", "Keep away from children."), {Kind: label.LotText, Text: "0614"},
	}) {
		got = append(got, s.Text)
	}
	want := []string{"Keep out of eyes. Mind the slippery tub. Keep away from children.", "Nicht in die Augen bringen.",
		"Caution—Use only as directed.", "0614"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Lines of small print stand at even distances, whatever letters they have.
func TestRhythm(t *testing.T) {
	c := european("Alpine Hay", shortList)
	c.Back = []label.Statement{c.Back[0]}
	for _, text := range []string{"mauve sun", "gypsy jig", "mauve sun", "high bluff", "gypsy jig"} {
		c.Back = append(c.Back, label.Statement{Kind: label.OriginText, Text: text})
	}
	lines := printed(t, on(c, shape(label.Rectangle, 70, 110), none), Options{}, "origin")
	for i := 2; i < len(lines); i++ {
		if a, b := lines[i-1].Y-lines[i-2].Y, lines[i].Y-lines[i-1].Y; max(a-b, b-a) > 2 {
			t.Errorf("%q stands %v below %q, which stands %v below the line before", lines[i].String(), b, lines[i-1].String(), a)
		}
	}
}

// A net quantity that must stand clear and is too wide for the column of the front goes below both columns, and
// neither the name nor the identity is dwarfed by it.
func TestBridge(t *testing.T) {
	c := american("Hay Meadow", "Magnesium Sulfate, Sea Salt, Sodium Bicarbonate, Glycerin, Fragrance")
	c.Front[2].Text, c.Front[2].Height = "Net Wt 8.81 oz (250 g)", market.Height{Min: 4763, On: market.LowerO}
	on(c, shape(label.Rectangle, 100, 60), none)
	net, name, identity := printed(t, c, Options{}, "net quantity"), printed(t, c, Options{}, "name"), printed(t, c, Options{}, "identity")
	for _, l := range printed(t, c, Options{}, "lot") {
		if l.Y >= net[0].Y {
			t.Errorf("the lot at %v does not stand above the net quantity at %v", l.Y, net[0].Y)
		}
	}
	if len(net) != 1 || name[0].Size*100 < net[0].Size*fairTitle || (identity[0].Size+1)*100 < net[0].Size*fairIdentity {
		t.Errorf("a net quantity of %d lines at an em of %v, the name at %v, the identity at %v", len(net), net[0].Size, name[0].Size, identity[0].Size)
	}
	scenes, err := Label(c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	_, hairs := linesOf(scenes[0])
	if len(hairs) != 1 {
		t.Fatalf("%d hairlines", len(hairs))
	}
	for _, item := range scenes[0].Items {
		if p, ok := item.(*scene.Path); ok && len(p.Segments) == 2 && p.Segments[1].P[0].Y > net[0].Y-net[0].Size {
			t.Errorf("a hairline reaches down to %v, beside the net quantity at %v", p.Segments[1].P[0].Y, net[0].Y)
		}
	}
}

// Small print is of one size but for the list, where the law asks for a height of some of it.
func TestOneSize(t *testing.T) {
	c := european("Hay Meadow", shortList)
	for i := range c.Back {
		if c.Back[i].Kind == label.ResponsibleText {
			c.Back[i].Height = market.Height{Min: 1600, On: market.LowerO}
		}
	}
	on(c, shape(label.Rectangle, 100, 60), none)
	who, caution, list := printed(t, c, Options{}, "responsible person")[0], printed(t, c, Options{}, "caution")[0], printed(t, c, Options{}, "ingredients")[0]
	if who.Size != caution.Size || list.Size >= who.Size {
		t.Errorf("the responsible person at an em of %v, the caution at %v, the list at %v", who.Size, caution.Size, list.Size)
	}
}

// The frame of a layout is drawn on all faces of a label or on none.
func TestFramesTogether(t *testing.T) {
	c := on(european("Oat", longList), shape(label.Rectangle, 80, 60), shape(label.Rectangle, 58, 48))
	laid, err := Lay(c, Options{Look: named(t, "quiet")})
	if err != nil {
		t.Fatal(err)
	}
	if len(laid.Scenes) != 2 || len(laid.Findings) == 0 || laid.Findings[0].Rule != "pack.no-frame" {
		t.Fatalf("%d scenes, %v", len(laid.Scenes), laid.Findings)
	}
	for _, s := range laid.Scenes {
		for _, item := range s.Items {
			if p, ok := item.(*scene.Path); ok && p.Bounds().Right-p.Bounds().Left > s.W*9/10 {
				t.Errorf("%v is drawn on one of the labels", p.Bounds())
			}
		}
	}
}

// The words of a name are parted evenly, and a figure stays with its “No.”
func TestNameParted(t *testing.T) {
	for _, tt := range []struct {
		name string
		want []string
	}{
		{"Midsummer Hay Meadow", []string{"Midsummer", "Hay Meadow"}},
		{"Chamomile Blossom Milk No. 5", []string{"Chamomile", "Blossom Milk No. 5"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := american(tt.name, shortList)
			got := linesIn(printed(t, on(c, shape(label.Rectangle, 60, 110), none), Options{Look: named(t, "minimal")}, "name"))
			if !slices.Equal(got, tt.want) {
				t.Errorf("%q, want %q", got, tt.want)
			}
		})
	}
}
