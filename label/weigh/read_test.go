package weigh

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/inci"
	"panelwright/label/market"
)

// summary writes weighings as "batch date: figures".
func summary(ws []Weighing) []string {
	var out []string
	for _, w := range ws {
		s := w.Batch + " " + w.Date.String() + ":"
		for _, f := range w.Figures {
			s += " " + f.Amount.String()
		}
		out = append(out, s)
	}
	return out
}

func TestRead(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"one a line", "160.2\n159.8\n", []string{" : 160.2 159.8"}},
		{"no end of line", "160.2\n159.8", []string{" : 160.2 159.8"}},
		{"notes and empty lines", "# hay fizz\n\n160.2 # first\n  \n\t# second\n159.8\n", []string{" : 160.2 159.8"}},
		{"decimal commas", "160,2\n159,85\n", []string{" : 160.2 159.85"}},
		{"units", "160.2 g\n0.16 kg\n2 oz\n", []string{" : 160.2 160 56.69904625"}},
		{"batches", "160.2; 0614\n161;0615\n159.8;0614\n", []string{"0614 : 160.2 159.8", "0615 : 161"}},
		{"days", "160.2; 0614; 2026-11-20\n161; 2026-11-21\n", []string{"0614 2026-11-20: 160.2", " 2026-11-21: 161"}},
		{"tabs", "160.2\t0614\n", []string{"0614 : 160.2"}},
		{"day first", "2026-11-20; 160,2\n", []string{" 2026-11-20: 160.2"}},
		{"a day and a comma", "2026-11-20,160.2\n", []string{" 2026-11-20: 160.2"}},
		{"a comma and a day", "160,2, 2026-11-20\n", []string{" 2026-11-20: 160.2"}},
		{"a blank and a day", "160,2 2026-11-20\n160.2 g 2026-11-20\n2026-11-20 160.2\n", []string{" 2026-11-20: 160.2 160.2 160.2"}},
		{"named columns", "date;batch;weight\n2026-11-20;A#1;160,2\n;A#1;161\n", []string{"A#1 2026-11-20: 160.2 161"}},
		{"named columns and commas", "Weight,Lot\n160.2,0614\n\"161,5\",0614\n", []string{"0614 : 160.2 161.5"}},
		{"a name alone", "grams\n160.2\n", []string{" : 160.2"}},
		{"from a word processor", "\xef\xbb\xbf160.2\r\n159\u00a0g\r\n", []string{" : 160.2 159"}},
		{"columns left empty", "160.2;;\n", []string{" : 160.2"}},
	} {
		ws, found := Read("w.csv", []byte(c.text), "g")
		if len(found) > 0 {
			t.Errorf("%s: %v", c.name, found)
		}
		if diff := cmp.Diff(c.want, summary(ws)); diff != "" {
			t.Errorf("%s:\n%s", c.name, diff)
		}
	}
	ws, _ := Read("w.csv", []byte("# top\n160.2\n\n161\n"), "g")
	if f := ws[0].Figures; f[0].Where.String() != "w.csv:2" || f[1].Where.String() != "w.csv:4" || f[0].Step.String() != "0.1" || f[1].Step.String() != "1" {
		t.Errorf("%+v", f)
	}
}

// Every bad line is told with its place, what was read, and a cure; the others
// do not hide it.
func TestReadTellsEveryBadLine(t *testing.T) {
	text := "160.2\n160.2.1\nabout 160\n-3\n0\n160 ml\n1,002\n160;A;B\n160; 2026-13-40\n; 0614\n159.8\n1 000.5\n"
	_, found := Read("w.csv", []byte(text), "g")
	var got []string
	for _, f := range found {
		if f.Cure == "" {
			t.Errorf("no cure: %s", f.Line())
		}
		place, _, _ := strings.Cut(f.Line(), ": ")
		got = append(got, place)
	}
	want := []string{"w.csv:2", "w.csv:3", "w.csv:4", "w.csv:5", "w.csv:6", "w.csv:7", "w.csv:8", "w.csv:9", "w.csv:10", "w.csv:12"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%s%v", diff, found)
	}
	for name, text := range map[string]string{
		"no figure": "# nothing\n\n", "empty": "", "not text": "\xff\xfe1\x006\x00", "nul": "160\x00",
		"a strange column": "weight;colour\n160;red\n", "no weight": "batch;date\n0614;2026-11-20\n", "twice": "weight;grams\n1;2\n",
	} {
		if _, found := Read("w.csv", []byte(text), "g"); len(found) == 0 {
			t.Errorf("%s: nothing is said", name)
		}
	}
}

func TestTyped(t *testing.T) {
	for text, want := range map[string]string{
		"160.2 159.8 161":     " : 160.2 159.8 161",
		"160.2, 159.8; 161":   " : 160.2 159.8 161",
		"160,2 159,8":         " : 160.2 159.8",
		"160.2 g 159.8 g 161": " : 160.2 159.8 161",
		"160.2g, 0.16 kg":     " : 160.2 160",
	} {
		w, found := Typed(text, "g")
		if got := summary([]Weighing{w})[0]; got != want || len(found) > 0 {
			t.Errorf("%q: %s, want %s: %v", text, got, want, found)
		}
	}
	for _, text := range []string{"", "abc", "160.2 about 3", "160.2 x", "160.2,159.8"} {
		if _, found := Typed(text, "g"); len(found) == 0 {
			t.Errorf("%q is read", text)
		}
	}
}

func TestStated(t *testing.T) {
	for text, want := range map[string]string{"160 g": "160", "5 oz": "141.747615625", "4 1/2 oz": "127.5728540625", "5 oz (142 g)": "142", "1 lb (450 g)": "453.59237", "0.16 kg": "160", "100 ml": "100"} {
		if q, err := Stated(text); err != nil || q.Amount.String() != want {
			t.Errorf("%q: %v, %v", text, q, err)
		}
	}
	for _, text := range []string{"", "160", "much", "5 oz (142 g", "5 oz (142 g) (1 g)", "5 oz (100 ml)", "1.5 %", "0 g", "2 cups"} {
		if q, err := Stated(text); err == nil {
			t.Errorf("%q is read as %v", text, q)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"160.2\n", "160,2; 0614; 2026-11-20\n", "weight,batch\n\"160,2\",A\n", "1/2 oz\n", "#\n;;\n", "\"", "160 #x"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		ws, found := Read("w.csv", []byte(s), "g")
		n := 0
		for _, w := range ws {
			for _, g := range w.Figures {
				n++
				if g.Amount.Sign() <= 0 || g.Where.Line == 0 || g.Step.Sign() < 0 {
					t.Errorf("%+v", g)
				}
			}
		}
		if n == 0 && len(found) == 0 {
			t.Error("nothing was read and nothing was said")
		}
	})
}

// The readings lie on 150 + 12 exp(-days / 20), rounded to 0.01 g.
func TestDrying(t *testing.T) {
	first := date.Of(2026, 9, 1)
	var rs []Reading
	for _, p := range []struct {
		day   int
		grams string
	}{{0, "162"}, {7, "158.46"}, {14, "155.96"}, {21, "154.20"}, {28, "152.96"}, {42, "151.47"}, {56, "150.73"}} {
		rs = append(rs, Reading{first.AddDays(p.day), exact.Must(p.grams)})
	}
	d, err := Dry(rs)
	if err != nil {
		t.Fatal(err)
	}
	near := func(name string, got, want, by float64) {
		t.Helper()
		if got < want-by || got > want+by {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
	near("floor", d.Floor, 150, 0.05)
	near("pace", d.Pace, 20, 0.1)
	near("spread", d.Spread, 0.004, 0.004)
	if d.Gains || d.Days != 7 || d.Lowest.String() != "150.73" || d.First != first || d.Last != first.AddDays(56) {
		t.Errorf("%+v", d)
	}
	// 12 exp(-x / 20) = 0.1 at x = 95.7.
	if got := d.Steady(exact.Must("0.1")); daysBetween(first, got) != 96 {
		t.Errorf("steady after %d days", daysBetween(first, got))
	}
	if got := d.LowestOn(first.AddDays(365)).String(); got != "149.9" && got != "150" {
		t.Errorf("lowest after a year: %s", got)
	}
	if end, late := d.LowestAtEnd(), d.LowestOn(first.AddDays(100000)); !end.Equal(late) || end.Cmp(d.LowestOn(first.AddDays(365))) > 0 {
		t.Errorf("lowest at the end %s, after 100,000 days %s", end, late)
	}
	if got := d.LowestOn(first.AddDays(56)); exact.Must("150.7").Less(got) || got.Less(exact.Must("150.6")) {
		t.Errorf("lowest on the last day weighed: %s", got)
	}
}

// With noise added to readings on a known curve, the floor lies within its
// stated uncertainty about as often as it says: 19 times of 20.
func TestDryingUncertainty(t *testing.T) {
	first := date.Of(2026, 9, 1)
	within, all := 0, 0
	seed := uint32(1)
	noise := func() int64 { // hundredths of a gram, about normal: the sum of 12 uniform figures
		var sum int64
		for range 12 {
			seed = seed*1664525 + 1013904223
			sum += int64(seed>>16) % 21
		}
		return (sum - 120) / 2
	}
	curve := []int64{16200, 15846, 15596, 15420, 15296, 15208, 15147, 15104, 15073, 15051, 15036, 15026}
	for range 200 {
		var rs []Reading
		for i, c := range curve {
			rs = append(rs, Reading{first.AddDays(7 * i), exact.Frac(c+noise(), 100)})
		}
		d, err := Dry(rs)
		if err != nil {
			t.Fatal(err)
		}
		all++
		if d.Floor-d.FloorError <= 150 && 150 <= d.Floor+d.FloorError {
			within++
		}
	}
	if within < 180 || within > 199 { // 190 of 200; 180 is three standard deviations below
		t.Errorf("%d of %d floors lie within their uncertainty", within, all)
	}
}

// Handbook 133 Table 2-1 as recomputed in data/hb133-sampling.csv: the factor of n packs is t over the root of n, with n - 1
// degrees of freedom.
func TestStudentT(t *testing.T) {
	us := market.For(inci.US)
	for _, n := range []int{3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 24} {
		f, _ := us.SampleFactor(n)
		factor, _ := f.Big().Float64()
		if got := studentT(n-1) / math.Sqrt(float64(n)); math.Abs(got-factor) > 0.001 {
			t.Errorf("%d: %.4f, want %.4f", n, got, factor)
		}
	}
	if studentT(2) <= studentT(3) || studentT(500) != studentT(30) {
		t.Error("out of the table")
	}
}

func TestDryingHonest(t *testing.T) {
	first := date.Of(2026, 9, 1)
	on := func(grams ...string) []Reading {
		var rs []Reading
		for i, g := range grams {
			rs = append(rs, Reading{first.AddDays(7 * i), exact.Must(g)})
		}
		return rs
	}
	if d, err := Dry(on("162", "159", "157", "156")); err != ErrFewReadings || d.Days != 4 || d.Lowest.String() != "156" {
		t.Errorf("four days: %+v, %v", d, err)
	}
	if _, err := Dry(append(on("162", "159", "157", "156"), on("162.1")...)); err != ErrFewReadings {
		t.Errorf("five readings on four days: %v", err)
	}
	if _, err := Dry(nil); err != ErrFewReadings {
		t.Errorf("none: %v", err)
	}
	if d, err := Dry(on("162", "160", "158", "156", "154", "152")); err != ErrNoEnd {
		t.Errorf("a straight line: %+v, %v", d, err)
	}
	// A fizz that takes up water: the least that was read counts.
	d, err := Dry(on("160", "161.2", "161.9", "162.4", "162.6", "162.8"))
	if err != nil || !d.Gains || d.LowestOn(first.AddDays(300)).String() != "160" {
		t.Errorf("gaining: %+v, %v", d, err)
	}
	d, err = Dry(on("160.1", "160.1", "160.1", "160.1", "160.1"))
	if err != nil || d.Gains || d.Steady(exact.Must("0.1")) != first || d.LowestOn(first.AddDays(300)).String() != "160.1" {
		t.Errorf("steady from the first day: %+v, %v", d, err)
	}
	d, err = Dry(on("160.1", "160.2", "160.0", "160.1", "160.2", "160.1"))
	if low := d.LowestOn(first.AddDays(300)); err != nil || low.Less(exact.Must("159.9")) || exact.Must("160").Less(low) {
		t.Errorf("scatter alone: %+v, %v, %v", d, err, low)
	}
}

func TestDayNumber(t *testing.T) {
	if daysBetween(date.Of(2026, 1, 1), date.Of(2027, 1, 1)) != 365 || daysBetween(date.Of(2028, 1, 1), date.Of(2029, 1, 1)) != 366 {
		t.Error("years")
	}
	day := date.Of(2027, 12, 25)
	for i := range 800 { // over a leap day
		if daysBetween(day, day.AddDays(i)) != i {
			t.Fatalf("%d days from %s", i, day)
		}
	}
}
