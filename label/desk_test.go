package label

import (
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"panelwright/formula"
	"panelwright/inci"
)

// everything prints a declaration whole: what a reader could ever see of it.
func everything(x *Declaration) string {
	var b strings.Builder
	fmt.Fprintln(&b, x.Market, x.Text(), x.Net.Text, x.Verdict())
	for _, e := range x.Entries {
		fmt.Fprintln(&b, e.Name, e.Kind, Show(e.Share), e.Order, e.Keys, e.Source)
	}
	for _, r := range x.Allergens {
		fmt.Fprint(&b, r.Entry.Name, r.Shown(), r.Declared, r.Certain, r.Estimated)
		for _, f := range r.From {
			fmt.Fprint(&b, f.Material.Name, f.Weight)
		}
		fmt.Fprintln(&b)
	}
	for _, s := range x.Statements {
		fmt.Fprintf(&b, "%+v\n", s)
	}
	for _, f := range x.Findings {
		fmt.Fprintf(&b, "%+v\n", f)
	}
	for _, m := range x.Members {
		b.WriteString(everything(m))
	}
	return b.String()
}

// tangled has something to say on most rules.
func tangled() *Product {
	p := nested()
	p.Exposure = Unstated
	oil := pure("unread oil", lavender, "essential-oil")
	pearl := blend("pearl", "colourant", part("MICA", "40-60"), part("CI 77891", "30-50"), part("TIN OXIDE", "0-10"))
	p.Piece.Lines = append(p.Piece.Lines, weigh(oil, "1"), weigh(pearl, "2"), weigh(of("CI 75300"), "1"), weigh(essential(lavandin, "LINALOOL 30"), "1"),
		weigh(fragrance("rose", "GERANIAL 1", "CITRAL 3", "D-LIMONENE 2", "L-LIMONENE 1-3"), "1"))
	return p
}

func judged(d *Desk, p *Product, s *Set) string {
	var b strings.Builder
	for _, x := range d.Declare(p, inci.Markets, today) {
		b.WriteString(everything(x))
	}
	for _, x := range d.DeclareSet(s, inci.Markets, today) {
		b.WriteString(everything(x))
	}
	pack := &Pack{For: inci.Markets}
	c := CopyFor(pack, d.Declare(p, []inci.Market{inci.EU, inci.GB, inci.US}, today))
	fmt.Fprintf(&b, "%+v %+v %+v", c.Front, c.Back, c.Findings)
	return b.String()
}

func TestSameInputSameBytes(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	var first string
	for n := range 50 {
		runtime.GOMAXPROCS(n%4 + 1)
		got := judged(NewDesk(workshop()), tangled(), twoFizzes())
		if first == "" {
			first = got
		}
		if got != first {
			t.Fatalf("run %d differs:\n%s\n%s", n, first, got)
		}
	}
}

// One Desk serves many goroutines; run it with -race.
func TestDeskInParallel(t *testing.T) {
	d := NewDesk(workshop())
	p, s := tangled(), twoFizzes()
	want := judged(NewDesk(workshop()), p, s)
	var wg sync.WaitGroup
	got := make([]string, 16)
	for i := range got {
		wg.Add(1)
		go func() {
			defer wg.Done()
			got[i] = judged(d, p, s)
		}()
	}
	wg.Wait()
	for i := range got {
		if got[i] != want {
			t.Errorf("goroutine %d has another result", i)
		}
	}
}

// Nothing hangs on the order of the lines, on nesting or on splitting a line.
func TestListDoesNotHangOnHowItIsWritten(t *testing.T) {
	scents := []*formula.Material{fragrance("hay", "LINALOOL 5", "COUMARIN 0.1-2"), essential(lavender, "LINALOOL 30"), essential(lavandin, "LINALOOL 28"),
		with(essential("ROSA DAMASCENA FLOWER OIL", "GERANIOL 5-30"), func(s *Sheet) { s.Class = "extract" })}
	others := []*formula.Material{of("SODIUM BICARBONATE"), of("CITRIC ACID"), of("KAOLIN"), of("CI 77891"), of("CI 77491"), of("CI 77492"),
		blend("pearl", "colourant", part("MICA", "40-60"), part("CI 77891", "40-60")),
		blend("cut", "colourant", part("CI 77288", "20-50"), part("KAOLIN", "50-80"))}
	all := append(scents, others...)
	list := func(x *Declaration) string {
		var b strings.Builder
		for _, e := range x.Entries {
			fmt.Fprint(&b, e.Name, " ", e.Kind, " ", e.Order, " ", e.Share, "\n")
		}
		return b.String()
	}
	rapid.Check(t, func(t *rapid.T) {
		var lines, other []formula.Line
		for i, m := range all {
			g := rapid.IntRange(0, 8).Draw(t, fmt.Sprint("grams ", i))
			if g == 0 {
				continue
			}
			lines = append(lines, weigh(m, fmt.Sprint(g)))
			a := rapid.IntRange(0, g).Draw(t, "split")
			for _, part := range []int{a, g - a} {
				if part == 0 {
					continue
				}
				l := weigh(m, fmt.Sprint(part))
				if rapid.Bool().Draw(t, "nest") {
					l = weigh(mix("inner", "", weigh(m, "7")), fmt.Sprint(part))
				}
				other = append(other, l)
			}
		}
		if len(lines) == 0 {
			return
		}
		other = rapid.Permutation(other).Draw(t, "order")
		m := inci.Markets[rapid.IntRange(0, len(inci.Markets)-1).Draw(t, "market")]
		a, b := declareIn(m, rinseOff(lines...), today), declareIn(m, rinseOff(other...), today)
		if list(a) != list(b) {
			t.Fatalf("%s:\n%s\n%s", m, list(a), list(b))
		}
		if why := a.objects(a.Entries); why != "" {
			t.Fatalf("%s objects to its own list: %s\n%s", m, why, list(a))
		}
	})
	if len(slices.Compact(all)) != len(all) {
		t.Fatal("the same material twice")
	}
}
