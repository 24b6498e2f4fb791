package inci

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula"
)

func TestFold(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"capitals", "Sodium Bicarbonate", "SODIUMBICARBONATE"},
		{"blank, hyphen and none", "co-co-glu coside", "COCOGLUCOSIDE"},
		{"a mark between digits counts", "C12-15 Alkyl", "C12 15ALKYL"},
		{"and is one, whatever it is", "c12 – 15 alkyl", "C12 15ALKYL"},
		{"apostrophes", "St. John’s Wort's", "ST.JOHNSWORTS"},
		{"accents", "œuf à l'été, Crème", "OEUFALETE,CREME"},
		{"accents as separate marks", "cre\u0300me", "CREME"},
		{"Greek letters", "α-Pinene", "ALPHAPINENE"},
		{"non-breaking blank and hyphen", "PEG\u201140\u00A0Stearate", "PEG40STEARATE"},
		{"empty", " - ", ""},
		{"not a text", "a\xffb", "A\uFFFDB"},
	} {
		if got := Fold(c.in); got != c.want {
			t.Errorf("%s: Fold(%q) = %q, want %q", c.name, c.in, got, c.want)
		}
	}
}

func TestFindEveryName(t *testing.T) {
	n := 0
	eachLine(func(at int) {
		name := nameAt(at)
		s, ok := Find(name)
		if !ok || s.Name != name {
			t.Fatalf("Find(%q) = %q, %v", name, s.Name, ok)
		}
		if s, ok = Find(strings.ToLower(name)); !ok || s.Name != name {
			t.Fatalf("Find(%q) = %q, %v", strings.ToLower(name), s.Name, ok)
		}
		n++
	})
	if n != GlossarySize {
		t.Errorf("%d names", n)
	}
}

func TestFind(t *testing.T) {
	for _, c := range []struct{ in, name, key string }{
		{"sodium bicarbonate", "SODIUM BICARBONATE", "SODIUM BICARBONATE"},
		{"Caprylic / Capric Triglyceride", "CAPRYLIC/CAPRIC TRIGLYCERIDE", "CAPRYLIC/CAPRIC TRIGLYCERIDE"},
		{"1,2-hexanediol", "1,2-HEXANEDIOL", "1,2-HEXANEDIOL"},
		{"ci77891", "CI 77891", "CI 77891"},
		{"Fuller’s Earth", "FULLER'S EARTH", "SOLUM FULLONUM"},
		{"Water", "WATER", "AQUA"},
		{"beeswax", "BEESWAX", "CERA ALBA"},
		{"Nylon 6/12", "NYLON 6/12", "NYLON 6/12"},
		{"Nylon-6/12", "NYLON-6/12", "NYLON-6/12"},
		{"ASPERGILLUS/CITRUS RETICULATA × SINENSIS FRUIT/RICE/STRAWBERRY FRUIT FERMENT FILTRATE", "ASPERGILLUS/CITRUS RETICULATA × SINENSIS FRUIT/RICE/STRAWBERRY FRUIT FERMENT FILTRATE", "ASPERGILLUS/CITRUS RETICULATA × SINENSIS FRUIT/RICE/STRAWBERRY FRUIT FERMENT FILTRATE"},
	} {
		s, ok := Find(c.in)
		if !ok || s.Name != c.name || s.Key != formula.Key(c.key) {
			t.Errorf("Find(%q) = %q with key %q, %v; want %q, %q", c.in, s.Name, s.Key, ok, c.name, c.key)
		}
	}
	for _, in := range []string{"", " ", "no such thing", "INCI", "inci,cas", "zzzz", "\x00", "AQUAA", strings.Repeat("A", 10_000)} {
		if s, ok := Find(in); ok {
			t.Errorf("Find(%.20q) = %q", in, s.Name)
		}
	}
}

// A sodium bicarbonate row of the inventory, whole.
func TestFindWholeRow(t *testing.T) {
	s, _ := Find("LINALOOL")
	if s.CAS != "78-70-6" || !strings.Contains(s.EC, "201-134-4") || !strings.Contains(s.Functions, "Perfuming") {
		t.Errorf("linalool: %+v", s)
	}
	if s.Source().Unverified() {
		t.Errorf("source %v", s.Source())
	}
}

func TestTwins(t *testing.T) {
	for _, r := range readTable(twinsText).rows {
		name, key := r.get("name"), formula.Key(r.get("key"))
		if s, ok := Find(name); !ok || s.Key != key {
			t.Errorf("%s: key %q, want %q", name, s.Key, key)
		}
		if s, ok := Find(string(key)); !ok || s.Key != key {
			t.Errorf("the key %s is not an inventory name that stands for itself", key)
		}
		if n := Name(formula.Key(name), EU).Text; n != Readable(string(key)) {
			t.Errorf("%s prints as %q", name, n)
		}
	}
}

func TestValidCAS(t *testing.T) {
	for cas, want := range map[string]bool{
		"7732-18-5": true, "58-08-2": true, "144-55-8": true, // water, caffeine, sodium bicarbonate
		"144-55-9": false, "144-558": false, "144-55-": false, "-55-8": false, "": false, "14455-8": false,
		"a44-55-8": false, "12345678-55-8": false, "144-55-8 ": false, "1-55-8": false, "144-5a-8": false,
		"136-17-7": false, "9001-01-5": false, // left out of the inventory for the wrong check digit
	} {
		if got := ValidCAS(cas); got != want {
			t.Errorf("ValidCAS(%q) = %v", cas, got)
		}
	}
}

func TestByCAS(t *testing.T) {
	var names []string
	for _, s := range ByCAS("144-55-8") {
		names = append(names, s.Name)
	}
	if diff := cmp.Diff([]string{"SODIUM BICARBONATE"}, names); diff != "" {
		t.Error(diff)
	}
	with := 0
	for _, r := range readTable(glossaryText).rows {
		cas := r.get("cas")
		if cas == "" {
			continue
		}
		with++
		for _, cas := range strings.Fields(cas) {
			if !slices.ContainsFunc(ByCAS(cas), func(s Substance) bool { return s.Name == r.get("inci") }) {
				t.Fatalf("%s is not found by %s", r.get("inci"), cas)
			}
		}
	}
	if with != 14071 { // Commission inventory, spring 2026: 14,071 names with CAS
		t.Errorf("%d names with a number", with)
	}
	if got := ByCAS("144-55-9"); got != nil {
		t.Errorf("a wrong check digit finds %v", got)
	}
}

func TestKeys(t *testing.T) {
	keys := func(s ...formula.Key) []formula.Key { return s }
	for _, c := range []struct {
		in   string
		want []formula.Key
	}{
		{"Water (Aqua)", keys("AQUA")},
		{"Aqua (Water)", keys("AQUA")},
		{"Aqua/Water/Eau", keys("AQUA")},
		{"Butyrospermum Parkii (Shea) Butter", keys("BUTYROSPERMUM PARKII BUTTER")},
		{"Fragrance (Parfum)", keys("PARFUM")},
		{"Iron Oxides", keys("CI 77489", "CI 77491", "CI 77492", "CI 77499")},
		{"Iron Oxides (CI 77491)", keys("CI 77491")},
		{"FD&C Yellow No. 5", keys("CI 19140")},
		{"Yellow 5 (CI 19140)", keys("CI 19140")},
		{"Titanium Dioxide (CI 77891)", keys("CI 77891")},
		{"Mica (CI 77019)", keys("MICA")},
		{"Lard", keys("ADEPS SUILLUS")},
		{"CI 77891 (Titanium Dioxide)", keys("CI 77891")},
		{"Water (from nowhere known)", nil},
		{"nothing known", nil},
		{"(", nil}, {")", nil}, {"()", nil}, {"", nil},
	} {
		got := Keys(c.in)
		if len(got) == 0 && len(c.want) == 0 {
			continue
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("Keys(%q):\n%s", c.in, diff)
		}
	}
}

func FuzzFind(f *testing.F) {
	for _, s := range []string{"AQUA", "sodium bicarbonate", "C12-15 Alkyl Benzoate", "×", "a\xff", "1-2", "α", "''", `"`, "x,y", "\n", "ı"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, name string) {
		s, ok := Find(name)
		if ok && Fold(s.Name) != Fold(name) {
			t.Errorf("Find(%q) = %q", name, s.Name)
		}
		if ok != (findSlowly(Fold(name)) != "") {
			t.Errorf("Find(%q) = %v", name, ok)
		}
		if f := Fold(name); Fold(f) != f {
			t.Errorf("folding %q twice gives %q, once %q", name, Fold(f), f)
		}
		Keys(name)
		FindAllergen(name)
		TradeMaterial(name)
		Category(name)
		ParseMarket(name)
		Readable(name)
		ByCAS(name)
		for _, m := range Markets {
			Name(formula.Key(name), m)
		}
	})
}

var slowIndex map[string]string

func findSlowly(fold string) string {
	if slowIndex == nil {
		slowIndex = map[string]string{}
		eachLine(func(at int) { slowIndex[Fold(nameAt(at))] = nameAt(at) })
	}
	return slowIndex[fold]
}
