package sheet_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelwright/formula/quantity"
	"panelwright/inci"
	"panelwright/label/sheet"
)

// bits are what lines are drawn from: what sheets hold, and what they should not.
var bits = []string{"Linalool", "Limonene", "Citral", "alpha-", "Pinene", "Hydroxyisohexyl 3-Cyclohexene", "Carboxaldehyde", "Mica", "CI 77891", "Aqua", "Lina1ool",
	"78-70-6", "5989-27-5", "106-24-2", "1222-05-5", "201-134-4", "97-S3-0", "4.2", "4,2 %", "<0.01", "0.00", "nd", "ND <10 ppm", "traces", "-", "rest", "100 %", "120 ppm", "l.2", "4..2",
	"1", "2", "3.", "%", "ppm", "mg/kg", "Allergen", "CAS", "Content %", "Min", "Max", "Category 5A", "Cat. 9", "not permitted", "Total", "Date: 03/04/2026", "Version 4", "Page 1",
	"\t", "  ", " ", " | ", ";", ", ", "\u00a0", "\u2007", "...", "....", "\"", "(", ")", "\ufeff", "\x00", "\xff", "é", "–", "“", "½", "µg/kg", "undisclosed", "or", "/", "="}

// lineEndsOf parts a text as every editor does.
func lineEndsOf(text string) []string {
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	return strings.Split(text, "\n")
}

// holds says what is true of every text: no line is lost or told twice, each says
// what it is, and every figure is one that a book reads.
func holds(t interface {
	Helper()
	Fatalf(string, ...any)
}, text string) *sheet.Sheet {
	t.Helper()
	s := sheet.Read(text, sheet.Options{})
	seen := map[int]string{}
	asked := false
	for _, l := range s.Lines {
		if _, twice := seen[l.Number]; twice || l.Understood() == "" {
			t.Fatalf("line %d stands twice, or says nothing: %+v", l.Number, l)
		}
		seen[l.Number] = l.Text
		asked = asked || l.Is == sheet.Asked
	}
	if asked && len(s.Questions) == 0 {
		t.Fatalf("a line asks, and no question is open:\n%s", report(s))
	}
	is := func(n int, m ...sheet.Meaning) bool {
		return slices.ContainsFunc(s.Lines, func(l sheet.Line) bool { return l.Number == n && slices.Contains(m, l.Is) })
	}
	for _, q := range s.Questions {
		for _, n := range q.Lines {
			if !is(n, sheet.Asked) {
				t.Fatalf("line %d is no question:\n%s", n, report(s))
			}
		}
		if q.Wrong == "" || q.Cure == "" {
			t.Fatalf("a question without a cure: %+v", q)
		}
	}
	for _, f := range s.Figures {
		back, err := quantity.ParseShare(f.Text)
		if err != nil || !back.Lo.Equal(f.Share.Lo) || !back.Hi.Equal(f.Share.Hi) {
			t.Fatalf("%s: %s is written as %s: %v", f.Name, f.Share.Text, f.Text, err)
		}
		for _, n := range f.Lines {
			if !is(n, sheet.Row, sheet.Asked) {
				t.Fatalf("line %d is no row, but %s stands there:\n%s", n, f.Name, report(s))
			}
		}
	}
	for i, l := range lineEndsOf(strings.TrimPrefix(text, "\ufeff")) {
		if _, ok := seen[i+1]; !ok && strings.ContainsFunc(l, visible) {
			t.Fatalf("line %d is lost: %q", i+1, l)
		}
	}
	return s
}

// visible reports whether a letter shows: what no sheet can mean anything by.
func visible(r rune) bool {
	return r > ' ' && r < 0x7f || r >= 0xa1 && r != 0xad && !(r >= 0x2000 && r <= 0x200f) && r != 0x2028 && r != 0x2029 && r != 0x2060 && r != 0xfeff && r != 0x202f && r != 0x205f && r != 0x3000 && r != 0x1680
}

func TestNothingIsLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b strings.Builder
		for range rapid.IntRange(0, 25).Draw(t, "lines") {
			for range rapid.IntRange(0, 7).Draw(t, "bits") {
				b.WriteString(rapid.SampledFrom(bits).Draw(t, "bit"))
				b.WriteString(rapid.SampledFrom([]string{"", " ", "\t", "  "}).Draw(t, "gap"))
			}
			b.WriteString(rapid.SampledFrom([]string{"\n", "\r\n", "\n\n"}).Draw(t, "end"))
		}
		s := holds(t, b.String())
		if again := sheet.Read(b.String(), sheet.Options{}); report(again) != report(s) {
			t.Fatalf("the same text is understood in two ways:\n%s\n%s", report(s), report(again))
		}
	})
}

// A table that is as tables should be is read whole in any layout, figure by
// figure, without a question.
func TestLayouts(t *testing.T) {
	type known struct {
		name, number string
	}
	var all []known
	for _, a := range inci.Allergens(inci.EU) {
		if _, k, ok := inci.FindAllergen(a.Name); ok && k == inci.GroupKey(a) {
			n := ""
			if len(a.Members) == 1 && len(a.Members[0].CAS) > 0 {
				n = a.Members[0].CAS[0]
			}
			all = append(all, known{a.Name, n})
		}
	}
	figures := []string{"4.2", "0.05", "<0.1", "12", "0.5-1.2", "0.125", "<0.001", "10 - 25"}
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.Permutation(all).Draw(t, "rows")[:rapid.IntRange(1, 30).Draw(t, "n")]
		unit := rapid.SampledFrom([]string{"%", "ppm", "mg/kg"}).Draw(t, "unit")
		comma := rapid.Bool().Draw(t, "comma")
		inHead := rapid.Bool().Draw(t, "unit in the heading")
		numbered := rapid.Bool().Draw(t, "row numbers")
		gap := rapid.SampledFrom([]string{"\t", " | ", "   ", "\n"}).Draw(t, "gap")
		end := rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "end")
		var b strings.Builder
		if inHead {
			b.WriteString("Allergen" + strings.ReplaceAll(gap, "\n", "  ") + "Content (" + unit + ")" + end)
		}
		var want []string
		for i, r := range rows {
			f := rapid.SampledFrom(figures).Draw(t, "figure")
			typed := f
			if comma {
				typed = strings.ReplaceAll(f, ".", ",")
			}
			if !inHead {
				typed += " " + unit
			}
			cells := []string{r.name, typed}
			if r.number != "" && rapid.Bool().Draw(t, "number") {
				cells = []string{r.name, r.number, typed}
			}
			if numbered && gap != "\n" {
				cells = append([]string{fmt.Sprint(i + 1)}, cells...)
			}
			b.WriteString(strings.Join(cells, gap) + end)
			want = append(want, r.name+": "+f+" "+unit)
		}
		s := holds(t, b.String())
		if len(s.Questions) > 0 || len(s.Figures) != len(want) {
			t.Fatalf("%q\n%s", b.String(), report(s))
		}
		m, _ := written(t, s, sheet.Material{Name: "x", Class: "fragrance"})
		for i, w := range want {
			name, text, _ := strings.Cut(w, ": ")
			sh, err := quantity.ParseShare(text)
			c := m.Constituents[i]
			if err != nil || s.Figures[i].Name != name || !c.Range.Lo.Equal(sh.Lo) || !c.Range.Hi.Equal(sh.Hi) || c.Key != s.Figures[i].Key {
				t.Fatalf("%s: read %s %s, in the book %s\n%q", w, s.Figures[i].Name, s.Figures[i].Text, c.Text, b.String())
			}
		}
	})
}

func FuzzRead(f *testing.F) {
	files, _ := filepath.Glob("testdata/sheets/*.txt")
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		for line := range strings.Lines(string(data)) {
			f.Add(line)
		}
	}
	f.Add("")
	f.Add("\ufeffLinalool\t4,2\r\n")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) < 500 { // names that nobody knows take time, and most mutations make some
			holds(t, text)
		}
	})
}

// A figure that a scanner spoils is asked, or read as it was: never as another.
func TestSpoiltFigures(t *testing.T) {
	spoil := map[rune][]string{'0': {"O", "o"}, '1': {"l", "I", "|"}, '5': {"S"}, '8': {"B"}, '.': {"..", ". ", " .", ",,", ",", ".,", "·"}, '%': {"°/°", "o/o"}}
	rapid.Check(t, func(t *rapid.T) {
		figure := rapid.SampledFrom([]string{"4.2", "0.15", "10.5", "<0.01", "0.5-1.8", "18", "0.058"}).Draw(t, "figure") + " %"
		want, err := quantity.ParseShare(figure)
		if err != nil {
			t.Fatal(err)
		}
		at := rapid.IntRange(0, len(figure)-1).Draw(t, "at")
		ways := spoil[rune(figure[at])]
		if ways == nil {
			t.Skip("nothing to misread there")
		}
		spoilt := figure[:at] + rapid.SampledFrom(ways).Draw(t, "as") + figure[at+1:]
		line := strings.Join([]string{"Linalool", "78-70-6", spoilt}, rapid.SampledFrom([]string{"\t", " | ", "  ", " "}).Draw(t, "gap"))
		s := holds(t, line)
		if len(s.Questions) > 0 {
			return
		}
		if len(s.Figures) != 1 || !s.Figures[0].Share.Lo.Equal(want.Lo) || !s.Figures[0].Share.Hi.Equal(want.Hi) {
			t.Fatalf("%q, spoilt of %q\n%s", line, figure, report(s))
		}
	})
}
