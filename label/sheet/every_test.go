package sheet_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/formula/quantity"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/sheet"
)

// written writes a sheet as a document and reads that as a book does.
func written(t interface {
	Helper()
	Fatalf(string, ...any)
}, s *sheet.Sheet, m sheet.Material) (*formula.Material, finding.List) {
	t.Helper()
	var b bytes.Buffer
	if err := s.Write(&b, m); err != nil {
		t.Fatalf("%v", err)
	}
	read, found := book.LoadFiles([]book.File{{Name: "b.yaml", Data: append([]byte("workshop: Example Bath Works\nsell in: [eu]\n---\n"), b.Bytes()...)}})
	if found.Count(finding.Error) > 0 || len(read.Materials) != 1 {
		t.Fatalf("a book does not take this:\n%s\n%v", b.String(), found)
	}
	return read.Materials[0], found
}

// Every entry and every member of the list is found by its name and by its number,
// and the name written is one by which a book finds the same.
func TestEveryAllergen(t *testing.T) {
	var want []formula.Key
	var rows []string
	add := func(name string, k formula.Key) {
		if !slices.Contains(want, k) {
			want = append(want, k)
			rows = append(rows, fmt.Sprintf("%s\t0.%d %%", name, len(want)))
		}
	}
	for _, a := range slices.Concat(inci.Allergens(inci.EU), inci.ProhibitedAllergens()) {
		_, k, ok := inci.FindAllergen(a.Name)
		if !ok {
			t.Fatalf("%s is not found", a.Name)
		}
		add(a.Name, k)
		for _, m := range a.Members {
			add(string(m.Key), m.Key)
		}
	}
	s := sheet.Read(strings.Join(rows, "\n"), sheet.Options{As: sheet.Allergens})
	if len(s.Questions) > 0 || len(s.Figures) != len(want) {
		t.Fatalf("%d of %d figures, asked %v", len(s.Figures), len(want), s.Questions)
	}
	m, _ := written(t, s, sheet.Material{Name: "all of them", Class: "fragrance"})
	for i, f := range s.Figures {
		if c := m.Constituents[i]; f.Key != want[i] || c.Key != f.Key || !c.Range.Lo.Equal(f.Share.Lo) || !c.Range.Hi.Equal(f.Share.Hi) {
			t.Errorf("%s: read as %s %s, in the book %s %v, want %s", rows[i], f.Key, f.Text, c.Key, c.Range, want[i])
		}
	}
	if got := fmt.Sprint(s.Covers); got != "[eu-81 eu-26]" {
		t.Errorf("covers %s", got)
	}
}

// A sheet that answers a list in full says so; one entry less, and it names that.
func TestCovers(t *testing.T) {
	rows := func(market inci.Market, banned bool) (out []string) {
		all := inci.Allergens(market)
		if banned {
			all = slices.Concat(all, inci.ProhibitedAllergens())
		}
		for _, a := range all {
			out = append(out, a.Name+"\tnd <10 ppm")
		}
		return out
	}
	for _, c := range []struct {
		name    string
		rows    []string
		covers  string
		nearest inci.List
		lacking string
	}{
		{"the list of today", rows(inci.EU, false), "[eu-81]", "", ""},
		{"the list of today and the banned", rows(inci.EU, true), "[eu-81 eu-26]", "", ""},
		{"the older list", rows(inci.GB, true), "[eu-26]", "", ""},
		{"the older list without the banned", rows(inci.GB, false), "[eu-24]", "", ""},
		{"one less", rows(inci.GB, false)[1:], "[]", inci.EU24, "[" + inci.Allergens(inci.GB)[0].Name + "]"},
		// Geranial and neral are all of citral; one of them is not.
		{"members for the entry", append(slices.DeleteFunc(rows(inci.EU, false), func(s string) bool { return strings.HasPrefix(s, "Citral\t") }), "Geranial\t1 %", "Neral\t1 %"), "[eu-81]", "", ""},
		{"a member alone", append(slices.DeleteFunc(rows(inci.EU, false), func(s string) bool { return strings.HasPrefix(s, "Citral\t") }), "Neral\t1 %"), "[]", inci.EU81, "[Citral (only Neral)]"},
	} {
		s := sheet.Read(strings.Join(c.rows, "\n"), sheet.Options{})
		if got := fmt.Sprint(s.Covers); got != c.covers || s.Nearest != c.nearest || c.lacking != "" && fmt.Sprint(s.Lacking) != c.lacking {
			t.Errorf("%s: covers %s, nearest %s lacks %v; want %s %s %s; asked %v", c.name, got, s.Nearest, s.Lacking, c.covers, c.nearest, c.lacking, s.Questions)
		}
		m, _ := written(t, s, sheet.Material{Name: "x", Class: "fragrance"})
		if got := fmt.Sprint(m.Info.(*label.Sheet).Covers); got != c.covers {
			t.Errorf("%s: in the book it covers %s", c.name, got)
		}
	}
}

// A built-in material that is one substance can stand in a composition by its plain
// name.
func TestEveryTradeMaterial(t *testing.T) {
	n := 0
	for _, tr := range inci.TradeMaterials() {
		if tr.Blend {
			continue
		}
		s := sheet.Read(tr.Name+"\t60 %\nundisclosed\trest", sheet.Options{As: sheet.Contains})
		if len(s.Questions) > 0 || len(s.Figures) != 2 {
			t.Errorf("%s: %s", tr.Name, report(s))
			continue
		}
		// Where the inventory has an ingredient of the very same name a book takes that.
		want := tr.Key
		if in, ok := inci.Find(tr.Name); ok {
			want = in.Key
		}
		m, _ := written(t, s, sheet.Material{Name: "x"})
		if m.Parts[0].Key != want || s.Figures[0].Key != want {
			t.Errorf("%s: read as %s, in the book %s, want %s", tr.Name, s.Figures[0].Key, m.Parts[0].Key, want)
		}
		n++
	}
	if n < 500 {
		t.Errorf("only %d materials", n)
	}
}

// What is written is the share that was read.
func TestSharesComeBack(t *testing.T) {
	for in, want := range map[string]string{
		"4.2 %": "4.2 %", "4,20 %": "4.2 %", "<0,01 %": "<0.01 %", "0.00 %": "<0.01 %", "0,000 %": "<0.001 %", "0 %": "nd", "nd": "nd", "ND (<10 ppm)": "nd <10 ppm",
		"n.n.": "nd", "not detected": "nd", "> 95 %": ">95 %", "10 - 25 %": "10-25 %", ">=10 - <25 %": "10-25 %", "up to 5 %": "<5 %", "5 % max": "<5 %",
		"120 mg/kg": "120 ppm", "900 ppb": "900 ppb", "2 g/kg": "2 g/kg", "50-62 %, typical 55 %": "50-62 %, typical 55 %", "5 % ± 0.5 %": "4.5-5.5 %, typical 5 %",
		"4.2 % (w/w)": "4.2 %", "4.2 % m/m": "4.2 %", "4.2 %*": "4.2 %", "(4.2 %)": "4.2 %", "1,234 %": "1.234 %", "４.２ %": "4.2 %", "4.2\u00a0%": "4.2 %",
		"0.5…1.2 %": "0.5-1.2 %", "0.5–1.2 %": "0.5-1.2 %", "≤ 0.1 %": "<0.1 %", "1.5 per cent": "1.5 %",
	} {
		s := sheet.Read("Linalool\t"+in, sheet.Options{})
		if len(s.Figures) != 1 || s.Figures[0].Text != want {
			t.Errorf("%q: want %s\n%s", in, want, report(s))
			continue
		}
		back, err := quantity.ParseShare(s.Figures[0].Text)
		if f := s.Figures[0].Share; err != nil || !back.Lo.Equal(f.Lo) || !back.Hi.Equal(f.Hi) || back.Stated != f.Stated {
			t.Errorf("%q: written %s, which is %v to %v, %v", in, s.Figures[0].Text, back.Lo, back.Hi, err)
		}
		written(t, s, sheet.Material{Name: "x", Class: "fragrance"})
	}
}

// Whatever a name, a reference or a file is called, a book reads it as it is.
func TestWordsComeBack(t *testing.T) {
	s := sheet.Read("1,2-Hexanediol 60 %\nCI 77891 30 %\nundisclosed rest\n", sheet.Options{As: sheet.Contains})
	m, _ := written(t, s, sheet.Material{Name: "Ana's blend: no. 5 #3", Ref: "- 'AS', {12}: [a] # no note", File: "sheets/it's.pdf", Fingerprint: strings.Repeat("0f", 32), Class: "colourant"})
	info := m.Info.(*label.Sheet)
	if m.Name != "Ana's blend: no. 5 #3" || info.Ref != "- 'AS', {12}: [a] # no note" || info.File != "sheets/it's.pdf" || info.Fingerprint != strings.Repeat("0f", 32) {
		t.Errorf("%q %q %q %q", m.Name, info.Ref, info.File, info.Fingerprint)
	}
	if len(m.Parts) != 3 || m.Parts[0].Key != "1,2-HEXANEDIOL" || m.Parts[1].Key != "CI 77891" {
		t.Errorf("%+v", m.Parts)
	}
}
