package font

import (
	"errors"
	"io/fs"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"panelwright/templates"
)

// letters are the accented letters and signs that packs in these languages need; the signs are those of
// statements on packs.
var letters = map[string]string{
	"de":    "ÄÖÜäöüß",
	"fr":    "ÀÂÆÇÉÈÊËÎÏÔŒÙÛÜŸàâæçéèêëîïôœùûüÿ",
	"es":    "ÁÉÍÑÓÚÜáéíñóúü¿¡ªº",
	"it":    "ÀÈÉÌÒÙàèéìòù",
	"pl":    "ĄĆĘŁŃÓŚŹŻąćęłńóśźż",
	"cs":    "ÁČĎÉĚÍŇÓŘŠŤÚŮÝŽáčďéěíňóřšťúůýž",
	"nl":    "ËÏÉÓÈëïéóè",
	"sv":    "ÅÄÖåäö",
	"da":    "ÆØÅæøå",
	"ga":    "ÁÉÍÓÚáéíóú",
	"signs": "½¼¾–—’‘“”„«»·×≤≥²³°%&/()[]+-#@*,.;:!?€£$©®™",
}

func TestLetters(t *testing.T) {
	for _, f := range All() {
		for lang, s := range letters {
			for _, r := range s {
				if _, err := f.Shape(string(r)); err != nil {
					t.Errorf("%s: %v", lang, err)
				}
			}
		}
	}
	for _, f := range []*Face{Text, TextBold, Semi, SemiBold, Condensed, CondensedBold} {
		if _, err := f.Shape("℮"); err != nil {
			t.Error(err)
		}
	}
}

// A line is set from left to right: letters that run the other way are refused, even where a face has them.
func TestLeftward(t *testing.T) {
	f := &Face{file: "own"}
	f.once.Do(func() {
		f.read = &table{upem: 1000, kerns: make([]atomic.Int32, kernRunes*kernRunes), glyphs: map[rune]*metric{'א': {id: 1, known: true, advance: 500}, 'Ж': {id: 2, known: true, advance: 500}}}
	})
	if _, err := f.Shape("Ж"); err != nil {
		t.Error(err)
	}
	_, err := f.Shape("א")
	if err == nil || !strings.Contains(err.Error(), "runs from right to left") {
		t.Errorf("error = %v", err)
	}
}

func TestMissing(t *testing.T) {
	_, err := Text.Shape("soap 石鹸")
	var missing *Missing
	if !errors.As(err, &missing) {
		t.Fatalf("error = %v, want a *Missing", err)
	}
	want := Missing{Rune: '石', Text: "soap 石鹸", Face: "Barlow-Regular"}
	if diff := cmp.Diff(want, *missing); diff != "" {
		t.Error(diff)
	}
	for _, s := range []string{"line\nbreak", "tab\t", "e\u20dd"} {
		if _, err := Text.Shape(s); !errors.As(err, &missing) {
			t.Errorf("%q: error = %v, want a *Missing", s, err)
		}
	}
}

func TestComposedAccents(t *testing.T) {
	got, err := Text.Shape("cre\u0300me c\u0327 Z\u030c")
	if err != nil {
		t.Fatal(err)
	}
	if want := "crème ç Ž"; String(got) != want {
		t.Errorf("got %q, want %q", String(got), want)
	}
}

// The size is the smallest whole micrometre at which the outline reaches the height.
func TestSizeForHeight(t *testing.T) {
	for _, f := range All() {
		for m := range measures {
			for _, h := range []int64{800, 1200, 1588, 1600, 2000, 3175, 12700} {
				size := f.SizeForHeight(h, m)
				if got := size * f.Height(m); got < h*f.UnitsPerEm() {
					t.Errorf("%s, %v: size %d gives less than %d", f.Name(), m, size, h)
				}
				if got := (size - 1) * f.Height(m); got >= h*f.UnitsPerEm() {
					t.Errorf("%s, %v: size %d is not the smallest for %d", f.Name(), m, size, h)
				}
				if f.HeightAt(size, m) < h {
					t.Errorf("%s, %v: HeightAt(%d) = %d, want at least %d", f.Name(), m, size, f.HeightAt(size, m), h)
				}
			}
		}
	}
}

// The height of the o is that of its outline, overshoot and all: taken here from the points themselves.
func TestHeightIsOutline(t *testing.T) {
	for _, f := range All() {
		for m, letters := range measured {
			lowest := int64(1 << 40)
			for _, r := range letters {
				g, err := f.Shape(string(r))
				if err != nil {
					t.Fatal(err)
				}
				lo, hi := int64(1<<40), int64(-1<<40)
				for _, s := range f.Outline(g[0]) {
					end := map[Op]int{MoveTo: 0, LineTo: 0, QuadTo: 1, CubicTo: 2}[s.Op]
					lo, hi = min(lo, int64(s.P[end][1])), max(hi, int64(s.P[end][1]))
				}
				lowest = min(lowest, (hi-lo)/OutlineScale)
			}
			// Points at extremes lie on the outline, so that on-curve points tell its height; in one face they
			// miss it by a unit.
			if got := f.Height(Measure(m)); got < lowest || got > lowest+1 {
				t.Errorf("%s: %v = %d units, the outline has %d", f.Name(), Measure(m), got, lowest)
			}
		}
	}
}

const words = "Sodium Bicarbonate, Citric Acid, Theobroma Cacao Seed Butter, Zea Mays Starch, Parfum, Tocopherol, " +
	"Limonene, Linalool, CI 77891, 1,2-Hexanediol, AV. T.Y. WAVE Tokyo “quoted” l’eau – Fr. 50 g ½ oz. " +
	"crème brûlée Łódź příliš žluťoučký kůň Größe, Öl, Ångström, Zużyć najlepiej"

// Kerning is cached pair by pair; the shaper given the whole text must come to the same.
func TestKernEqualsShaper(t *testing.T) {
	for _, f := range All() {
		got, err := f.Shape(words)
		if err != nil {
			t.Fatal(err)
		}
		tab := f.table()
		tab.mu.Lock()
		tab.shaped([]rune(words), kernOnly)
		kerned := 0
		for i, p := range tab.buf.Pos {
			if got[i].Kern != 0 {
				kerned++
			}
			if a := int32(got[i].Advance) + int32(got[i].Kern); a != p.XAdvance {
				t.Errorf("%s, %q after %q: %d, the shaper has %d", f.Name(), got[i].Rune, String(got[:i]), a, p.XAdvance)
			}
			if uint16(tab.buf.Info[i].Glyph) != got[i].ID {
				t.Errorf("%s: glyph of %q differs", f.Name(), got[i].Rune)
			}
		}
		tab.mu.Unlock()
		if kerned == 0 {
			t.Errorf("%s: no pair is kerned", f.Name())
		}
	}
}

func TestShapeProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(All()).Draw(t, "face")
		s := rapid.StringOf(rapid.RuneFrom([]rune(words))).Draw(t, "text")
		g, err := f.Shape(s)
		if err != nil {
			t.Fatal(err)
		}
		if String(g) != s {
			t.Fatalf("String = %q, want %q", String(g), s)
		}
		if again, _ := f.Shape(s); !cmp.Equal(g, again) {
			t.Fatal("the second time differs")
		}
		cut := rapid.IntRange(0, len(g)).Draw(t, "cut")
		whole := Width(g)
		parts := Width(g[:cut]) + Width(g[cut:])
		if cut > 0 && cut < len(g) {
			parts += int64(g[cut-1].Kern)
		}
		if whole != parts {
			t.Fatalf("width %d, of its parts %d", whole, parts)
		}
	})
}

func TestConcurrentUse(t *testing.T) {
	want, err := Text.Shape(words)
	if err != nil {
		t.Fatal(err)
	}
	f := face(Text.file) // a fresh one, with an empty cache
	all = all[:len(all)-1]
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			got, err := f.Shape(words)
			if err != nil || !cmp.Equal(want, got) {
				t.Errorf("%v\n%s", err, cmp.Diff(want, got))
			}
			f.Outline(got[0])
		})
	}
	wg.Wait()
}

// Every family keeps its licence beside it, with the notice of copyright.
func TestFaces(t *testing.T) {
	families, err := fs.ReadDir(templates.Fonts, "fonts")
	if err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	for _, f := range All() {
		used[strings.Split(f.file, "/")[1]] = true
		if len(f.Data()) == 0 || f.UnitsPerEm() == 0 {
			t.Errorf("%s: no data", f.Name())
		}
	}
	for _, dir := range families {
		text, err := fs.ReadFile(templates.Fonts, "fonts/"+dir.Name()+"/OFL.txt")
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range []string{"Copyright ", "SIL OPEN FONT LICENSE Version 1.1"} {
			if !strings.Contains(string(text), want) {
				t.Errorf("%s: the licence does not say %q", dir.Name(), want)
			}
		}
		if !used[dir.Name()] {
			t.Errorf("%s: no face uses it", dir.Name())
		}
	}
}

func BenchmarkRead(b *testing.B) {
	data := Text.Data()
	for b.Loop() {
		if _, err := read(data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkShape(b *testing.B) {
	var buf []Glyph
	for b.Loop() {
		var err error
		if buf, _, err = Text.AppendShape(buf[:0], words); err != nil {
			b.Fatal(err)
		}
	}
}
