package book

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/market"
)

// load reads one file and fails on errors.
func load(t *testing.T, text string) *Book {
	t.Helper()
	b, out := LoadFiles([]File{{"book.yaml", []byte(text)}})
	if out.Count(finding.Error) > 0 {
		t.Fatalf("errors:\n%s", strings.Join(lines(out), "\n"))
	}
	return b
}

const shop = "workshop: Example Bath Works\nsell in: [us]\n---\n"

// Values reach the program as the text typed, whatever YAML would make of them.
func TestAsTyped(t *testing.T) {
	for _, c := range []struct{ name, typed, want string }{
		{"leading nought", "0614", "0614"},
		{"quoted", `"0614"`, "0614"},
		{"time", "12:30", "12:30"},
		{"number", "1.50", "1.50"},
		{"exponent", "1e3", "1e3"},
		{"hexadecimal", "0x1F", "0x1F"},
		{"underscores", "1_000", "1_000"},
		{"date", "2026-08-01", "2026-08-01"},
		{"yes", "yes", "yes"},
		{"no", "no", "no"},
		{"number sign", "Red #33", "Red #33"},
		{"number sign first", "#33", "#33"},
		{"number sign and note", "Red #33 # a note", "Red #33"},
		{"number sign in quotes", `"Red # 33"`, "Red # 33"},
		{"curly quotes", "“Red 33”", "Red 33"},
		{"apostrophe", "Maker's own", "Maker's own"},
		{"no-break space", "Red\u00a033", "Red\u00a033"},
		{"trailing tab", "Red\t", "Red"},
		{"backslash", `C:\x`, `C:\x`},
		{"quoted null", `"null"`, "null"},
		{"infinity", ".inf", ".inf"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := load(t, shop+"product: x\npiece: {baking soda: 1 g}\nlot: "+c.typed+"\n")
			if got := b.Products[0].Lot; got != c.want {
				t.Errorf("lot: %s is read as %q, want %q", c.typed, got, c.want)
			}
		})
	}
	b := load(t, shop+"product: x\npiece: {baking soda: 1 g}\ntitle: {en: Red #33, de: Rot #33}\n")
	if d := cmp.Diff(label.Wording{"en": "Red #33", "de": "Rot #33"}, b.Products[0].Title); d != "" {
		t.Errorf("inside { } (-want +got):\n%s", d)
	}
}

// Line ends, a byte order mark and the order of files change nothing.
func TestFingerprint(t *testing.T) {
	one := File{"a.yaml", []byte("workshop: A\nsell in: us\n")}
	two := File{"b.yaml", []byte("formula: b\nmix:\n  - 10 g baking soda\n")}
	dos := File{"b.yaml", []byte("\ufeff" + strings.ReplaceAll(string(two.Data), "\n", "\r\n"))}
	print := func(files ...File) string {
		b, out := LoadFiles(files)
		if len(out) > 0 {
			t.Fatal(lines(out))
		}
		return b.Fingerprint
	}
	want := print(one, two)
	if len(want) != 64 || print(two, one) != want || print(one, dos) != want {
		t.Errorf("fingerprints differ: %s %s %s", want, print(two, one), print(one, dos))
	}
	if print(one) == want || print(one, File{"b.yaml", append([]byte("# a note\n"), two.Data...)}) == want {
		t.Error("a change of the contents left the fingerprint as it was")
	}
}

// Every form of an amount in grams: exact factors, the maker's density.
func TestEchoes(t *testing.T) {
	b := load(t, shop+`formula: base
mix:
  - 1 lb 4 oz baking soda
  - my salt: 2 cups
  - scent: 1.5 %
---
material: my salt
inci: Maris Sal
density: 125 g per metric cup
---
product: x
exposure: rinse-off
piece: [100 g base]
slots: {scent: baking soda}
`)
	var got []string
	for _, e := range b.Echoes {
		got = append(got, fmt.Sprintf("%s %s: %s of %s = %s g", e.Pos, e.In, e.Text, e.Name, e.Grams))
	}
	want := []string{
		"book.yaml:6:5 base: 1 lb 4 oz of baking soda = 566.9904625 g",
		"book.yaml:7:5 base: 2 cups of my salt = 236.5882365 g",
		"book.yaml:16:9 x: 100 g of base = 100 g",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("echoes (-want +got):\n%s", d)
	}
}

func parts(m *formula.Material) string {
	var all []string
	for _, q := range m.Parts {
		s := fmt.Sprintf("%s %s-%s", q.Key, q.Range.Lo, q.Range.Hi)
		if q.Exact {
			s += " typical " + q.Typical.String()
		}
		s += [...]string{"", " water", " alcohol"}[q.Dries]
		all = append(all, s)
	}
	return strings.Join(all, "; ")
}

// What each way of describing a material comes to.
func TestMaterials(t *testing.T) {
	for _, c := range []struct {
		name, text, parts, class string
		fat, unknown             bool
	}{
		{"one ingredient", "inci: Mica", "MICA 1-1 typical 1", "pigment", false, false},
		{"class of the built-in row is taken", "inci: Lavandula Angustifolia Oil", "LAVANDULA ANGUSTIFOLIA OIL 1-1 typical 1", "essential-oil", false, false},
		{"own class wins", "inci: Theobroma Cacao Seed Butter\nclass: other", "THEOBROMA CACAO SEED BUTTER 1-1 typical 1", "other", false, false},
		{"butter is a fat", "inci: Theobroma Cacao Seed Butter", "THEOBROMA CACAO SEED BUTTER 1-1 typical 1", "butter", true, false},
		{"wax is a fat", "inci: Cera Alba\nclass: wax", "CERA ALBA 1-1 typical 1", "wax", true, false},
		{"scent", "class: fragrance", "PARFUM 1-1 typical 1", "fragrance", false, false},
		{"flavour", "class: flavor", "AROMA 1-1 typical 1", "flavour", false, false},
		{"list of names", "inci: [Mica, CI 77891]", "MICA 0-1; CI 77891 0-1", "", false, true},
		{"ranges with a rest", "contains: {Mica: 50-62 %, CI 77891: 30-40 %, CI 77288: rest}", "MICA 0.5-0.62; CI 77891 0.3-0.4; CI 77288 0-0.2", "", false, false},
		{"rest of typical figures", "contains: {Mica: \"50-62 %, typical 55 %\", CI 77891: 40 %, CI 77288: rest}",
			"MICA 0.5-0.62 typical 0.55; CI 77891 0.4-0.4 typical 0.4; CI 77288 0-0.1 typical 0.05", "", false, false},
		{"solution", "contains: {Glycerin: 30 %, water: 50 %, Alcohol Denat.: 20 %}",
			"GLYCERIN 0.3-0.3 typical 0.3; AQUA 0.5-0.5 typical 0.5 water; ALCOHOL DENAT. 0.2-0.2 typical 0.2 alcohol", "", false, false},
		{"undisclosed", "contains: {Mica: 60-70 %, undisclosed: rest}", "MICA 0.6-0.7; UNDISCLOSED IN IT 0.3-0.4", "", false, true},
		{"same as", "same as: baking soda", "SODIUM BICARBONATE 1-1 typical 1", "base", false, false},
		{"fixed blend of the built-in list", "same as: sodium lactate 60 %",
			"SODIUM LACTATE 0.6-0.6 typical 0.6; AQUA 0.4-0.4 typical 0.4 water", "salt", false, false},
		{"open blend of the built-in list", "same as: melt and pour soap base", "", "other", false, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := load(t, "material: it\n"+c.text+"\n")
			m := b.Materials[0]
			sheet := m.Info.(*label.Sheet)
			if got := parts(m); c.parts != "" && got != c.parts {
				t.Errorf("parts are %s\nwant      %s", got, c.parts)
			}
			if sheet.Class != c.class || m.Fat != c.fat || sheet.Unknown != c.unknown {
				t.Errorf("class %q, fat %v, unknown %v; want %q, %v, %v", sheet.Class, m.Fat, sheet.Unknown, c.class, c.fat, c.unknown)
			}
		})
	}
}

func TestConstituents(t *testing.T) {
	b := load(t, "material: hay\nclass: fragrance\nsheet: {ref: 12, date: 2026-03-02}\nallergens:\n  Linalool: 4,2 %\n  d-Limonene: <0.1 %\n  Citral: nd <10 ppm\n  Coumarin: 0.5-1.2 %, typical 1 %\ncovers: [eu-81, gb]\n")
	var got []string
	for _, c := range b.Materials[0].Constituents {
		got = append(got, fmt.Sprintf("%s %s-%s typical %s: %s (%s) %s", c.Key, c.Range.Lo, c.Range.Hi, c.Typical, c.Text, c.Source, c.Pos))
	}
	const source = "(supplier's sheet of hay, 12, 2026-03-02)"
	want := []string{
		"LINALOOL 0.042-0.042 typical 0.042: Linalool: 4,2 % " + source + " book.yaml:5:3",
		"D-LIMONENE 0-0.001 typical 0.0005: d-Limonene: <0.1 % " + source + " book.yaml:6:3",
		"CITRAL 0-0.00001 typical 0.000005: Citral: nd <10 ppm " + source + " book.yaml:7:3",
		"COUMARIN 0.005-0.012 typical 0.01: Coumarin: 0.5-1.2 %, typical 1 % " + source + " book.yaml:8:3",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("constituents (-want +got):\n%s", d)
	}
	if got := fmt.Sprint(b.Materials[0].Info.(*label.Sheet).Covers); got != "[eu-81 gb]" {
		t.Errorf("covers %s", got)
	}
}

// The same built-in material under two names is one material.
func TestOneMaterial(t *testing.T) {
	b := load(t, "formula: f\nmix: [10 g baking soda, 5 g bicarbonate of soda, 5 g Baking Soda]\n")
	l := b.Formulas[0].Lines
	if l[0].Material != l[1].Material || l[0].Material != l[2].Material {
		t.Error("baking soda is three materials")
	}
}

// The maker's own material wins over a built-in one of that name.
func TestOwnWins(t *testing.T) {
	b := load(t, "formula: f\nmix: [10 g baking soda]\n---\nmaterial: Baking soda\ninci: Sodium Carbonate\n")
	if got := parts(b.Formulas[0].Lines[0].Material); got != "SODIUM CARBONATE 1-1 typical 1" {
		t.Errorf("baking soda is %s", got)
	}
}

func TestProductFields(t *testing.T) {
	b := load(t, shop+`product: x
exposure: leave-on
piece: {baking soda: 1 oz}
net: 1 lb 4 oz
count: 2 bath fizzes
keeps: 2 years
opened: 12 M
single use: yes
best before: 2028-02
cautions: [slippery tub, Mind the step.]
packs: {for: [us, Canada], label: round 2 1/2 in, back: rounded 60 x 40 mm, pack: ball 65 mm, lot goes: on sticker}
---
product: y
like: x
net: 4 fl oz
answers: [{rule: allergen.estimate, date: 2026-11-01, reason: asked}]
---
answer: colour.certified
product: [y]
market: us
date: 2026-11-02
reason: seen
`)
	x, y := b.Products[0], b.Products[1]
	if x.Exposure != label.LeaveOn || x.Count != 2 || x.CountWords != "bath fizzes" || fmt.Sprint(x.SellIn) != "[us]" {
		t.Errorf("x is %+v", x)
	}
	if x.Keeps.Keeps != 24 || x.Keeps.Opened != 12 || !x.Keeps.SingleUse || x.Keeps.Before.String() != "2028-02-29" {
		t.Errorf("durability is %+v", x.Keeps)
	}
	if x.Net.Unit != "oz" || x.Net.Amount.String() != "566.9904625" || x.Net.Volume {
		t.Errorf("net is %+v", x.Net)
	}
	if d := cmp.Diff([]label.Wording{{"phrase": "caution.slippery"}, {"en": "Mind the step."}}, x.Cautions); d != "" {
		t.Errorf("cautions (-want +got):\n%s", d)
	}
	k := x.Packs[0]
	if fmt.Sprint(k.For) != "[us ca]" || k.Label.W != 63_500 || k.Label.H != 63_500 || k.Back.Kind != label.Rounded || k.Back.H != 40_000 || k.Lot != label.LotOnSticker || k.Body.A != 65_000 {
		t.Errorf("the pack is %+v", k)
	}
	if y.Net.Unit != "fl oz" || !y.Net.Volume || y.Net.Amount.String() != "118.29411825" || y.Exposure != x.Exposure || y.At("net") == x.At("net") || y.At("keeps") != x.At("keeps") {
		t.Errorf("y is %+v", y)
	}
	if len(x.Answers) != 0 || len(y.Answers) != 2 || y.Answers[0].Rule != "allergen.estimate" || y.Answers[1].Market != "us" || y.Answers[1].Pos.String() != "book.yaml:21:9" {
		t.Errorf("answers are %+v and %+v", x.Answers, y.Answers)
	}
}

// Members of a range share what they do not change.
func TestMembersShare(t *testing.T) {
	b := load(t, shop+`formula: f
mix: [98 % baking soda, 2 % scent]
---
range: r
exposure: rinse-off
piece: [10 g f]
net: 10 g
each:
  - {name: a, scent: hay}
  - {name: b, scent: hay, title: Bee, net: 12 g}
---
material: hay
class: fragrance
`)
	a, c := b.Products[0], b.Products[1]
	if &a.Piece.Lines[0] != &c.Piece.Lines[0] || a.Range != "r" || c.Range != "r" || a.Title != nil || c.Title["en"] != "Bee" || c.Net.Text != "12 g" || a.Net.Text != "10 g" {
		t.Errorf("members are %+v and %+v", a, c)
	}
	if c.Piece.Name != "b" || c.At("net").Line != 13 || a.At("net").Line != 10 {
		t.Errorf("b is %s, its net at %s, a's at %s", c.Piece.Name, c.At("net"), a.At("net"))
	}
}

// Every stock caution has a wording, and every wording of a caution has words.
func TestStockCautions(t *testing.T) {
	ids := map[string]bool{}
	for words, id := range stockCautions().id {
		ids[id] = true
		if _, ok := market.PhraseFor(id, "en"); !ok {
			t.Errorf("%q stands for %q, which has no wording", words, id)
		}
		if words != strings.ToLower(words) {
			t.Errorf("%q is not in small letters", words)
		}
	}
	for _, id := range market.PhraseIDs() {
		if strings.HasPrefix(id, "caution.") && !ids[id] {
			t.Errorf("no words stand for %s", id)
		}
	}
}

func TestLoadFolder(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"b.yaml":           "formula: f\nmix: [10 g nothing known]\n",
		"a/c.yml":          "workshop: A\nsel in: us\n",
		".hidden/x.yaml":   "nonsense\n",
		".x.yaml":          "nonsense\n",
		"notes.txt":        "nonsense\n",
		"sheets/empty.yml": "\n# nothing\n",
	} {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	places := func(l finding.List) (all []string) {
		for _, f := range l {
			all = append(all, f.Where.String())
		}
		return all
	}
	_, out := Load(dir)
	if d := cmp.Diff([]string{"a/c.yml:2:1", "b.yaml:2:7"}, places(out)); d != "" {
		t.Errorf("the folder (-want +got):\n%s", d)
	}
	_, out = Load(filepath.Join(dir, "b.yaml"))
	if d := cmp.Diff([]string{"b.yaml:2:7"}, places(out)); d != "" {
		t.Errorf("one file (-want +got):\n%s", d)
	}
	for _, name := range []string{filepath.Join(dir, "nobody"), filepath.Join(dir, ".hidden", "nobody.yaml"), t.TempDir()} {
		if b, out := Load(name); b == nil || len(out) != 1 || out[0].Rule != "book.file" || out[0].Where.File == "" {
			t.Errorf("Load(%s) found %v", filepath.Base(name), lines(out))
		}
	}
}

// A piece of the example composes: the types fit what package formula expects.
func TestComposes(t *testing.T) {
	data, err := os.ReadFile("testdata/design.yaml")
	if err != nil {
		t.Fatal(err)
	}
	b := load(t, string(data))
	for _, p := range b.Products {
		comp, bad := formula.NewComposer().Compose(&p.Piece)
		if len(bad) > 0 {
			t.Fatal(lines(bad))
		}
		if !comp.Added.Equal(exact.Int(162)) {
			t.Errorf("%s weighs %s g, want 150 + 12", p.Name, comp.Added)
		}
	}
}
