package layout

import (
	"bytes"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"panelwright/formula/outside"
	"panelwright/label"
	"panelwright/label/font"
	"panelwright/label/market"
	"panelwright/label/render/pdf"
	"panelwright/label/scene"
)

var update = flag.Bool("update", false, "write the golden files anew")

// All copy in these tests is invented; the ingredients are those of no product.
const (
	shortList = "Sodium Bicarbonate, Citric Acid, Theobroma Cacao Seed Butter, Zea Mays Starch, Parfum, " +
		"Polysorbate 80, Linalool, Limonene, CI 77891, CI 77288"
	longList = "Aqua, Sodium Cocoyl Isethionate, Butyrospermum Parkii Butter, Theobroma Cacao Seed Butter, " +
		"Prunus Amygdalus Dulcis Oil, Cetearyl Alcohol, Glycerin, Stearic Acid, Sodium Lauroyl Methyl Isethionate, " +
		"Kaolin, Avena Sativa Kernel Flour, Cera Alba, Ricinus Communis Seed Oil, Helianthus Annuus Seed Oil, Parfum, " +
		"Panthenol, Tocopherol, Lavandula Angustifolia Flower Powder, Calendula Officinalis Flower, " +
		"Hydrolyzed Oat Protein, Benzyl Alcohol, Dehydroacetic Acid, Potassium Sorbate, Xanthan Gum, Sodium Phytate, " +
		"Citric Acid, Linalool, Limonene, Linalyl Acetate, Coumarin, Geraniol, Citronellol, Pinene, Terpineol, " +
		"Camphor, Eucalyptol, Citral, CI 77491, CI 77492, CI 77891"
)

// shape returns a label of w by h millimetres.
func shape(k label.ShapeKind, w, h int64) label.Shape {
	return label.Shape{Kind: k, W: w * 1000, H: h * 1000}
}

// american returns copy whose small print must reach 1/16 in and whose net weight 1/8 in (21 CFR 701.3(b),
// 740.2(a) and 701.13(i)(2)).
func american(name, list string) *label.PackCopy {
	small := market.Height{Min: 1588, On: market.LowerO, Rule: "1/16 in"}
	return &label.PackCopy{
		Name: name, Languages: []string{"en"}, Pack: &label.Pack{},
		Front: []label.Statement{
			{Kind: label.TitleText, Text: name, Front: true, Lang: "en"},
			{Kind: label.IdentityText, Text: "Bath fizz with a butter core", Front: true, Lang: "en", Height: small},
			{Kind: label.NetText, Text: "Net Wt 5.6 oz (160 g)", Front: true, Bold: true, Foot: true, Apart: true,
				Height: market.Height{Min: 3175, On: market.LowerO, Rule: "1/8 in"}},
		},
		Back: []label.Statement{
			{Kind: label.ListText, Lead: "Ingredients:", Text: list, Height: small},
			{Kind: label.DirectionsText, Lang: "en", Lead: "Directions:", Height: small,
				Text: "Drop into a warm bath once you have run it, and mind the slippery tub when you get out."},
			{Kind: label.CautionText, Lang: "en", Bold: true, Height: small,
				Text: "Keep away from eyes. Keep out of reach of children."},
			{Kind: label.ResponsibleText, Text: "Fernhollow Bath Works, 4 Mill Lane, Exampleton, VT 05000", Height: small},
			{Kind: label.ContactText, Text: "hello@fernhollow.example", Height: small},
			{Kind: label.LotText, Lead: "Lot", Height: small},
		},
	}
}

// european returns copy without a height for small print, in two languages, with an open jar.
func european(name, list string) *label.PackCopy {
	return &label.PackCopy{
		Name: name, Languages: []string{"en", "de"}, Pack: &label.Pack{},
		Front: []label.Statement{
			{Kind: label.TitleText, Text: name, Front: true, Lang: "en"},
			{Kind: label.IdentityText, Text: "Solid shampoo", Front: true, Lang: "en"},
			{Kind: label.IdentityText, Text: "Festes Shampoo für jeden Tag", Front: true, Lang: "de"},
			{Kind: label.NetText, Text: "85 g ℮", Front: true, Height: market.Height{Min: 3000, On: market.Numeral, Rule: "3 mm"}},
		},
		Back: []label.Statement{
			{Kind: label.ListText, Lead: "Ingredients:", Text: list},
			{Kind: label.CautionText, Lang: "en", Text: "Avoid contact with eyes."},
			{Kind: label.CautionText, Lang: "de", Text: "Kontakt mit den Augen vermeiden."},
			{Kind: label.ResponsibleText, Text: "Farnsenke Badewerk, Mühlgasse 4, 09999 Beispielstadt, Germany"},
			{Kind: label.LotText, Lead: "Lot", Text: "0614"},
			{Kind: label.DurabilityText, Lang: "en", Lead: "Best before end"},
			{Kind: label.DurabilityText, Lang: "de", Lead: "Mindestens haltbar bis Ende"},
			{Kind: label.DurabilityText, Months: 12},
		},
	}
}

// on puts copy on a front label and, unless it is the zero Shape, a back label.
func on(c *label.PackCopy, front, back label.Shape) *label.PackCopy {
	c.Pack.Label, c.Pack.Back = front, back
	return c
}

var none label.Shape

// cases are the labels looked at as pictures while the layout was made.
var cases = []struct {
	name string
	copy func() *label.PackCopy
	o    Options
}{
	{name: "round, short list", copy: func() *label.PackCopy {
		return on(european("Alpine Hay", shortList), shape(label.Round, 64, 64), none)
	}},
	{name: "round front and back, 40 names", copy: func() *label.PackCopy {
		return on(european("Oat and Lavender", longList), shape(label.Round, 64, 64), shape(label.Round, 64, 64))
	}},
	{name: "round front and back, American", copy: func() *label.PackCopy {
		return on(american("Alpine Hay", shortList), shape(label.Round, 70, 70), shape(label.Round, 70, 70))
	}},
	{name: "rectangle 90 x 55, 40 names", copy: func() *label.PackCopy {
		return on(european("Oat and Lavender", longList), shape(label.Rectangle, 90, 55), none)
	}},
	{name: "rounded 100 x 60, American, accent", o: Options{Accent: &scene.Ink{C: 60, M: 10, Y: 55, K: 45}},
		copy: func() *label.PackCopy {
			return on(american("Alpine Hay", shortList), shape(label.Rounded, 100, 60), none)
		}},
	{name: "band, short list", copy: func() *label.PackCopy {
		return on(american("Alpine Hay", shortList), shape(label.Band, 210, 50), none)
	}},
	{name: "band, 40 names", copy: func() *label.PackCopy {
		return on(american("Oat and Lavender", longList), shape(label.Band, 210, 50), none)
	}},
	{name: "upright 50 x 90", copy: func() *label.PackCopy {
		return on(european("Alpine Hay", shortList), shape(label.Rounded, 50, 90), none)
	}},
}

func TestGolden(t *testing.T) {
	for _, tt := range cases {
		t.Run(tt.name, func(t *testing.T) {
			c := tt.copy()
			scenes, err := Label(c, tt.o)
			if err != nil {
				t.Fatal(err)
			}
			check(t, c, tt.o, scenes)
			var got strings.Builder
			for i := range scenes {
				got.WriteString(scenes[i].String())
			}
			file := filepath.Join("testdata", strings.NewReplacer(" ", "-", ",", "").Replace(tt.name)+".scene")
			if *update {
				if err := os.WriteFile(file, []byte(got.String()), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got.String()); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// What an independent reader copies out of the file is what the label says.
func TestTextComesBack(t *testing.T) {
	for _, tt := range cases {
		t.Run(tt.name, func(t *testing.T) {
			outside.Tool(t, "pdftotext")
			scenes, err := Label(tt.copy(), tt.o)
			if err != nil {
				t.Fatal(err)
			}
			var b bytes.Buffer
			if err := pdf.Write(&b, scenes, pdf.Options{}); err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(t.TempDir(), "label.pdf")
			if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
				t.Fatal(err)
			}
			var want []string
			for i := range scenes {
				for _, w := range texts(scenes[i]) {
					want = append(want, strings.Fields(w.String())...)
				}
			}
			got := strings.Fields(outside.Run(t, "pdftotext", "-raw", file, "-"))
			if diff := cmp.Diff(want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// Statements are read in one order on every pack, whatever their order in the copy.
func TestReadingOrder(t *testing.T) {
	c := on(european("Alpine Hay", shortList), shape(label.Rectangle, 100, 60), none)
	slices.Reverse(c.Back)
	scenes, err := Label(c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, w := range texts(scenes[0]) {
		if said := w.Mark.Statement + " " + w.Mark.Lang; len(got) == 0 || got[len(got)-1] != said {
			got = append(got, said)
		}
	}
	want := []string{"name en", "identity en", "identity de", "net quantity ", "ingredients ", "caution en", "caution de",
		"responsible person ", "durability ", "durability de", "durability en", "lot "}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// Whatever the copy and the shape: either a label that keeps every rule, or an error that says what would.
func TestAnyLabel(t *testing.T) {
	names := strings.Split(longList, ", ")
	fitted := 0
	rapid.Check(t, func(t *rapid.T) {
		list := strings.Join(rapid.SliceOfN(rapid.SampledFrom(names), 1, 50).Draw(t, "list"), ", ")
		title := strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"Hay", "Märchenwald", "&", "Été", "Lavender", "no. 5"}), 1, 5).Draw(t, "title"), " ")
		c := rapid.SampledFrom([]func(string, string) *label.PackCopy{american, european}).Draw(t, "market")(title, list)
		drawShape := func(label_ string) label.Shape {
			k := rapid.SampledFrom([]label.ShapeKind{label.Rectangle, label.Rounded, label.Round, label.Band}).Draw(t, label_)
			w := rapid.Int64Range(30_000, 220_000).Draw(t, label_+" width")
			h := rapid.Int64Range(30_000, 120_000).Draw(t, label_+" height")
			if k == label.Round {
				w = min(w, 120_000)
				h = w
			}
			return label.Shape{Kind: k, W: w, H: h}
		}
		c.Dress.EggTimer = label.SaidNo // whose words are looked for, see TestTimerBeforeLeaflet
		on(c, drawShape("front"), none)
		if rapid.Bool().Draw(t, "has a back") {
			on(c, c.Pack.Label, drawShape("back"))
		}
		scenes, err := Label(c, Options{})
		var full *NoRoom
		if errors.As(err, &full) {
			if full.NeedW == 0 {
				return
			}
			// The size that the error names must do, for the panel that was full.
			bigger := label.Shape{Kind: c.Pack.Label.Kind, W: int64(full.NeedW), H: int64(full.NeedH)}
			if full.Panel == "front" {
				on(c, bigger, c.Pack.Back)
			} else {
				bigger.Kind = c.Pack.Back.Kind
				on(c, c.Pack.Label, bigger)
			}
			scenes, err = Label(c, Options{})
			if errors.As(err, &full) && full.Panel == "back" {
				return // the other panel is full too
			}
		}
		if err != nil {
			t.Fatal(err)
		}
		fitted++
		check(t, c, Options{}, scenes)
	})
	if fitted == 0 {
		t.Error("no label was made at all")
	}
}

func TestNoRoom(t *testing.T) {
	c := on(american("Oat and Lavender", longList), shape(label.Round, 64, 64), none)
	_, err := Label(c, Options{})
	var full *NoRoom
	if !errors.As(err, &full) {
		t.Fatalf("error = %v, want a *NoRoom", err)
	}
	if full.Panel != "front" || full.NeedW <= full.W || full.NeedW != full.NeedH {
		t.Errorf("%+v", full)
	}
	// One millimetre less than the size it names must not do: the figure is the smallest.
	c.Pack.Label.W, c.Pack.Label.H = int64(full.NeedW)-1000, int64(full.NeedH)-1000
	if _, err := Label(c, Options{}); err == nil {
		t.Errorf("a label of %v does, though %v is said to be the smallest", full.NeedW-1000, full.NeedW)
	}
	for _, words := range []string{"Oat and Lavender", "front label of 64 mm across", "it lacks ", "would do"} {
		if !strings.Contains(err.Error(), words) {
			t.Errorf("the error does not say %q: %v", words, err)
		}
	}

	two := on(european("Hay", shortList), shape(label.Rectangle, 70, 48), none)
	for range 8 { // much to say in each language
		two.Back = append(two.Back, two.Back[1], two.Back[2])
	}
	two.Dress.EggTimer = label.SaidNo
	_, err = Label(two, Options{})
	if !errors.As(err, &full) {
		t.Fatalf("error = %v, want a *NoRoom", err)
	}
	if !full.Back || full.Languages != 1 {
		t.Errorf("a back label would do = %v, languages that would fit = %d; want true and 1: %v", full.Back, full.Languages, err)
	}
}

func TestMissingLetter(t *testing.T) {
	c := on(american("Hay", "Aqua, 石鹸"), shape(label.Round, 64, 64), none)
	_, err := Label(c, Options{})
	var missing *font.Missing
	if !errors.As(err, &missing) || missing.Rune != '石' {
		t.Errorf("error = %v, want one that names the letter", err)
	}
}

func TestNoLabelNamed(t *testing.T) {
	if _, err := Label(on(american("Hay", "Aqua"), none, none), Options{}); err == nil {
		t.Error("no error for a pack without a label")
	}
}
