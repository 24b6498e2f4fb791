package weigh

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// claim states a quantity in a market.
func claim(t testing.TB, m inci.Market, text string, countries ...string) Claim {
	t.Helper()
	q, err := Stated(text)
	if err != nil {
		t.Fatal(err)
	}
	net, _ := market.For(m).Net(q, 1, market.NetOptions{})
	return Claim{Quantity: q, Net: net, Countries: countries}
}

func typed(t testing.TB, text string) Weighing {
	t.Helper()
	w, found := Typed(text, "g")
	if len(found) > 0 {
		t.Fatal(found[0].Line())
	}
	return w
}

func judged(t testing.TB, m inci.Market, stated, weights string, lot int) Result {
	t.Helper()
	w := typed(t, weights)
	w.Lot = lot
	return Judge(market.For(m), claim(t, m, stated), w)
}

// check returns the named check of a result.
func (r *Result) check(t testing.TB, rule string) Check {
	t.Helper()
	i := slices.IndexFunc(r.Checks, func(c Check) bool { return c.Rule == rule })
	if i < 0 {
		t.Fatalf("%s: no check %q", r.Market, rule)
	}
	return r.Checks[i]
}

// errorsOf turns package errors into weights for a label of 113 g.
func errorsOf(errs string) string {
	var out []string
	for _, e := range strings.Fields(errs) {
		out = append(out, exact.Int(113).Add(exact.Must(strings.TrimPrefix(e, "+"))).String())
	}
	return strings.Join(out, " ")
}

// The vectors are constructed from the formulas of NIST Handbook 133, 2026
// edition, section 2.3.7; they are not printed in the handbook. Label 113 g, MAV
// 7.2 g (section 2.2.1); factors 0.635 and 1.049 from memory.
func TestHandbookConstructed(t *testing.T) {
	for _, c := range []struct {
		name, errors  string
		lot           int
		average, pack Outcome
		lines         []string
	}{
		{"B1", "-2.0 -1.5 +0.5 -0.5 +1.0 -3.0 0.0 -1.0 +2.0 -2.5 -0.5 +1.5", 100, Passes, Passes, []string{"s = root of", "= 1.5811 g", "sample error limit = 0.635 x s = 1.004 g; 0.5 short"}},
		{"B2", "-1.0 -1.5 -0.5 -1.0 -1.5 -2.0 -1.0 -0.5 -1.0 -1.5 -0.5 -1.0", 100, Fails, Passes, []string{"= 0.4687 g", "= 0.2976 g; 1.0833 short"}},
		{"B3", "+1.0 +2.0 +0.5 +1.5 -7.5 +1.0 +2.0 +1.5 +0.5 +1.0 +2.5 +1.0", 100, Passes, Fails, []string{"mean 113.5833 g", "0.5833 g above"}},
		{"B4", "-0.5 +0.5 -0.5 0.0 +0.5 -1.0", 6, Passes, Passes, []string{"= 0.6055 g", "= 0.6352 g; 0.1667 short"}},
	} {
		r := judged(t, inci.US, "113 g", errorsOf(c.errors), c.lot)
		average, single := r.check(t, "average test"), r.check(t, "single packs")
		if average.Outcome != c.average || single.Outcome != c.pack {
			t.Errorf("%s: average %v, packs %v: %v", c.name, average.Outcome, single.Outcome, r.Checks)
		}
		all := strings.Join(average.Lines, "\n")
		for _, l := range c.lines {
			if !strings.Contains(all, l) {
				t.Errorf("%s: %q is not in\n%s", c.name, l, all)
			}
		}
		if want := max(verdictOf(c.average), verdictOf(c.pack)); r.Verdict != want {
			t.Errorf("%s: %v, want %v", c.name, r.Verdict, want)
		}
	}
	r := judged(t, inci.US, "113 g", errorsOf("+1 -7.5 +2"), 3)
	if got := strings.Join(r.check(t, "single packs").Lines, "\n"); !strings.Contains(got, "113 g - 7.2 g = 105.8 g") || !strings.Contains(got, "piece 2 105.5 g") {
		t.Error(got)
	}
}

func verdictOf(o Outcome) Verdict {
	if o == Fails {
		return DoesNotHold
	}
	return Holds
}

// Handbook 133, 2026 edition: section 2.2.1 (A1) asks of a scale for 113 g a
// division of at most 1.2 g, the largest suitable one being 1 g; section 2.3.3
// (A5) takes 454 g of "1 lb (454 g)". B5 is constructed: tares 6.1 and 6.3 g make
// a nominal gross weight of 119.2 g, and a gross weight of 118.4 g an error of
// -0.8 g.
func TestHandbookExamples(t *testing.T) {
	w := typed(t, "118.4 120 119.5")
	w.Tares = []exact.Rat{exact.Must("6.1"), exact.Must("6.3")}
	s := w.Sample()
	if s.Tare.String() != "6.2" || !s.Net()[0].Sub(exact.Int(113)).Equal(exact.Must("-0.8")) {
		t.Errorf("B5: tare %v, net %v", s.Tare, s.Net())
	}
	for step, want := range map[string]Outcome{"1": Passes, "1.2": Passes, "1.3": Coarse, "2": Coarse} {
		w := typed(t, "113 114 115")
		w.Division = exact.Must(step)
		r := Judge(market.For(inci.US), claim(t, inci.US, "113 g"), w)
		c := r.check(t, "scale")
		if c.Outcome != want || !strings.Contains(c.Lines[0], "7.2 g / 6 = 1.2 g") {
			t.Errorf("A1, scale of %s g: %v %v", step, c.Outcome, c.Lines)
		}
		if want == Coarse && (r.Verdict != TooCoarse || !strings.Contains(c.Lines[1], "steps of 1 g or finer")) {
			t.Errorf("A1, scale of %s g: %v %v", step, r.Verdict, c.Lines)
		}
	}
	if q, err := Stated("1 lb (454 g)"); err != nil || q.Text != "454 g" {
		t.Errorf("A5: %v, %v", q, err)
	}
	// 5 oz is 141.747 g and 142 g the larger claim: 141.8 g on average is short of it.
	weights := strings.Repeat("141.8 ", 12)
	for stated, want := range map[string]Verdict{"5 oz": Holds, "5 oz (142 g)": DoesNotHold, "142 g": DoesNotHold} {
		if r := judged(t, inci.US, stated, weights, 0); r.Verdict != want {
			t.Errorf("%s: %v, want %v: %v", stated, r.Verdict, want, r.Checks)
		}
	}
}

const thirty = "100.2 99.1 98.7 101.0 100.4 99.9 97.9 100.8 99.5 100.1 98.2 99.8 100.6 99.0 100.0 101.3 98.9 99.7 100.3 99.4 100.9 98.4 99.6 100.7 99.2 100.5 98.8 99.3 101.1 99.7"

// Constructed for Directive 76/211/EEC Annex II point 2.3: the reference test
// passes the mean of the sample, and the packer's rule does not.
func TestReferenceTestConstructed(t *testing.T) {
	for _, m := range []inci.Market{inci.EU, inci.GB, inci.NI} {
		r := judged(t, m, "100 g", thirty, 300)
		c := r.check(t, "reference test of the mean")
		all := strings.Join(c.Lines, "\n")
		if c.Outcome != Passes || !c.Aside || !strings.Contains(all, "s = root of") || !strings.Contains(all, "0.9022 g") || !strings.Contains(all, "99.5462 g") {
			t.Errorf("%s: %v", m, c)
		}
		if a := r.check(t, "average"); a.Outcome != Fails || !strings.Contains(a.Lines[0], "mean 99.7667 g") {
			t.Errorf("%s: %v", m, a)
		}
		if short := r.check(t, "short pieces"); short.Outcome != Passes || r.Limits[0].Amount.String() != "95.5" || r.Verdict != DoesNotHold {
			t.Errorf("%s: %v %v %v", m, short, r.Limits, r.Verdict)
		}
		if r.Largest.Text != "99.7 g" {
			t.Errorf("%s: largest %q", m, r.Largest.Text)
		}
	}
}

// Constructed for C.R.C., c. 417 Schedule II Part II: mean 99.75, s 1.3591; as a
// sample of a larger lot 101.15, which passes 100; as the whole lot 99.75, which
// fails.
func TestWeightedAverageConstructed(t *testing.T) {
	const ten = "99.5 101.0 98.0 100.5 99.0 102.0 97.5 100.0 99.5 100.5"
	sample := judged(t, inci.CA, "100 g", ten, 40)
	all := strings.Join(sample.check(t, "weighted average").Lines, "\n")
	if sample.Verdict != Holds || !strings.Contains(all, "1.3591 g") || !strings.Contains(all, "mean + 1.03 s = 101.1499 g") {
		t.Errorf("sample: %v\n%s", sample.Verdict, all)
	}
	if c := sample.check(t, "mean of the sample"); c.Outcome != Fails || !c.Aside {
		t.Errorf("the short mean is not told: %v", c)
	}
	if whole := judged(t, inci.CA, "100 g", ten, 10); whole.Verdict != DoesNotHold || whole.check(t, "weighted average").Outcome != Fails {
		t.Errorf("whole lot: %v", whole.Checks)
	}
}

// pieces is n weights, of which some are others.
func pieces(n int, usual string, others ...string) string {
	return strings.Repeat(usual+" ", n-len(others)) + strings.Join(others, " ")
}

func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		name, stated, weights string
		lot                   int
		us, eu, gb, ca        Verdict
	}{
		{"good", "160 g", pieces(12, "160.4"), 0, Holds, Holds, Holds, Holds},
		{"mean exactly as stated", "160 g", pieces(12, "160.0"), 0, Holds, Holds, Holds, Holds},
		{"mean a hair short", "160 g", pieces(12, "160.0", "159.9"), 0, Holds, DoesNotHold, DoesNotHold, DoesNotHold}, // the US gives a sample its limit
		{"mean plainly short", "160 g", pieces(12, "159.0", "159.1"), 0, DoesNotHold, DoesNotHold, DoesNotHold, DoesNotHold},
		// TNE 7.2 g: T1 152.8, T2 145.6; MAV 10.8 g: 149.2
		{"one on T1", "160 g", pieces(12, "161.0", "152.8"), 0, Holds, Holds, Holds, Holds},
		{"one below T1 of 12", "160 g", pieces(12, "161.0", "152.7"), 0, Holds, DoesNotHold, DoesNotHold, Holds},
		{"one below T1 of 20", "160 g", pieces(20, "161.0", "152.7"), 0, Holds, DoesNotHold, Holds, Holds}, // 5 % of 20
		{"one below T1 of 50", "160 g", pieces(50, "161.0", "152.7"), 0, Holds, Holds, Holds, Holds},       // 2 % of 50
		{"one below T1 of 49", "160 g", pieces(49, "161.0", "152.7"), 0, Holds, DoesNotHold, Holds, Holds}, // 2 % of 49
		{"on the MAV", "160 g", pieces(12, "162.0", "149.2"), 0, Holds, DoesNotHold, DoesNotHold, Holds},
		{"below the MAV", "160 g", pieces(12, "162.0", "149.1"), 0, DoesNotHold, DoesNotHold, DoesNotHold, Holds},
		{"on T2", "160 g", pieces(50, "162.0", "145.6"), 0, DoesNotHold, Holds, Holds, Holds},
		{"below T2", "160 g", pieces(50, "162.0", "145.5"), 0, DoesNotHold, DoesNotHold, DoesNotHold, Holds}, // CA: two fail
		{"two below T2", "160 g", pieces(50, "162.0", "145.5", "145.5"), 0, DoesNotHold, DoesNotHold, DoesNotHold, DoesNotHold},
		{"two short of nine", "160 g", pieces(9, "165.0", "152.7", "152.7"), 0, Holds, DoesNotHold, DoesNotHold, DoesNotHold},
		{"one short of eight", "160 g", pieces(8, "165.0", "152.7"), 0, Holds, DoesNotHold, DoesNotHold, DoesNotHold},
		{"too few of a small batch", "160 g", pieces(9, "161.0"), 40, NotEnough, NotEnough, NotEnough, NotEnough},
		{"twelve of a small batch", "160 g", pieces(12, "161.0"), 40, Holds, NotEnough, NotEnough, Holds},
		{"too few, and one below T2", "160 g", pieces(9, "161.0", "140.0"), 40, DoesNotHold, DoesNotHold, DoesNotHold, NotEnough},
		{"thirty of 300", "160 g", pieces(30, "161.0"), 300, Holds, Holds, Holds, NotEnough}, // CA takes 32
		{"thirty of 300, two short", "160 g", pieces(30, "162.0", "152.0", "152.0"), 300, Holds, NotEnough, NotEnough, NotEnough},
		{"thirty of 300, three short", "160 g", pieces(30, "164.0", "152.0", "152.0", "152.0"), 300, Holds, DoesNotHold, DoesNotHold, DoesNotHold},
		{"sixty of 300, four short", "160 g", pieces(60, "164.0", "152.0", "152.0", "152.0", "152.0"), 300, Holds, Holds, DoesNotHold, Holds}, // GB single plan: 4 fail
		{"sixty of 300, five short", "160 g", pieces(60, "164.0", "152.0", "152.0", "152.0", "152.0", "152.0"), 300, Holds, DoesNotHold, DoesNotHold, DoesNotHold},
		{"48 of 5000, one over the MAV", "160 g", pieces(48, "161.0", "149.0"), 5000, Holds, NotEnough, NotEnough, NotEnough},
		{"48 of 5000, two over the MAV", "160 g", pieces(48, "161.0", "149.0", "149.0"), 5000, DoesNotHold, NotEnough, NotEnough, NotEnough},
		{"sixty of 300, a hair short", "160 g", pieces(60, "160.0", "159.9"), 300, DoesNotHold, DoesNotHold, DoesNotHold, Holds},
		{"one piece", "160 g", "160.1", 0, Holds, Holds, Holds, Holds},
		{"one piece, short", "160 g", "159.9", 0, Holds, DoesNotHold, DoesNotHold, DoesNotHold}, // US: only the MAV for a single pack
		{"a scale of 1 g for 30 g", "30 g", "31 31 31", 0, TooCoarse, TooCoarse, TooCoarse, TooCoarse},
		{"a scale of 0.1 g for 30 g", "30 g", "31.0 31 31", 0, Holds, Holds, Holds, Holds},
		{"under 5 g", "4 g", "4.00 4.10", 0, Holds, NotJudged, NotJudged, Holds},
	} {
		want := map[inci.Market]Verdict{inci.US: c.us, inci.EU: c.eu, inci.GB: c.gb, inci.CA: c.ca}
		for _, m := range []inci.Market{inci.US, inci.EU, inci.GB, inci.CA} {
			if r := judged(t, m, c.stated, c.weights, c.lot); r.Verdict != want[m] {
				t.Errorf("%s, %s: %v, want %v\n%v", c.name, m, r.Verdict, want[m], r.Checks)
			}
		}
	}
}

// In Germany one of 45 is over 2 %; in Ireland it is under 2.5 %.
func TestCountryDecides(t *testing.T) {
	w := typed(t, pieces(45, "161.0", "152.7"))
	for country, want := range map[string]Verdict{"DE": DoesNotHold, "IE": Holds} {
		r := Judge(market.For(inci.EU), claim(t, inci.EU, "160 g", country), w)
		if r.Verdict != want {
			t.Errorf("%s: %v, want %v: %v", country, r.Verdict, want, r.check(t, "short pieces"))
		}
	}
}

// Council Directive 76/211/EEC Annex II points 2.1.1 and 2.1.2: at most 10,000 packs, or an hour's output.
func TestBatchTooLarge(t *testing.T) {
	for lot, want := range map[int]bool{10000: false, 10001: true} {
		for _, m := range []inci.Market{inci.EU, inci.GB, inci.NI, inci.US, inci.CA} {
			r := judged(t, m, "100 g", pieces(160, "100.2"), lot)
			got := slices.ContainsFunc(r.Remarks, func(s string) bool { return strings.Contains(s, "at most 10000 packs") })
			if got != (want && m != inci.US && m != inci.CA) {
				t.Errorf("%d packs, %s: %v", lot, m, r.Remarks)
			}
		}
	}
}

func TestOutliers(t *testing.T) {
	// Eleven alike and one apart: (n - 1) / root n = 3.1754 s.
	r := judged(t, inci.EU, "160 g", pieces(12, "160.4", "166.0"), 0)
	if len(r.Outliers) != 1 || r.Outliers[0].Index != 11 || r.Outliers[0].Amount.String() != "166" || !strings.Contains(r.Outliers[0].Why, "more than 3 s") {
		t.Errorf("%v", r.Outliers)
	}
	if r.Sample.N != 12 {
		t.Errorf("an outlier was dropped: %d pieces", r.Sample.N)
	}
	if r := judged(t, inci.EU, "160 g", pieces(10, "160.4", "166.0"), 0); len(r.Outliers) != 0 {
		t.Errorf("with ten pieces none can be 3 s away: %v", r.Outliers)
	}
	r = judged(t, inci.EU, "160 g", "160.4 16.02 160.3 1603", 0)
	if len(r.Outliers) != 2 || !strings.Contains(r.Outliers[0].Why, "decimal point") || r.Outliers[0].Name != "piece 2" {
		t.Errorf("%v", r.Outliers)
	}
}

func TestRemarks(t *testing.T) {
	w := typed(t, "160.25 161.5")
	w.Division, w.Capacity = exact.Must("0.5"), exact.Int(40)
	r := Judge(market.For(inci.US), claim(t, inci.US, "160 g"), w)
	all := strings.Join(r.Remarks, "\n")
	if !strings.Contains(all, "piece 1: 160.25 g cannot be read off a scale that reads in steps of 0.5 g") || !strings.Contains(all, "taken as the 2 pieces weighed") {
		t.Error(all)
	}
	// 40 g in steps of 0.5 g are 80 divisions, and Handbook 133 section 2.2.1 asks for 100.
	if c := r.check(t, "scale"); c.Outcome != Coarse || r.Verdict != TooCoarse {
		t.Errorf("%v %v", c, r.Verdict)
	}
	if r := Judge(market.For(inci.EU), Claim{}, Weighing{}); r.Verdict != NotEnough {
		t.Errorf("nothing weighed: %v", r.Verdict)
	}
	volume, _ := Typed("101 102 103", "ml")
	if r := Judge(market.For(inci.US), claim(t, inci.US, "100 ml"), volume); r.Verdict != NotJudged {
		t.Errorf("US volume: %v", r.Verdict)
	}
	// No variation for volumes is known, but the average is judged: mean 99, s 0.1; 1 is more than 2.484 x 0.1.
	short, _ := Typed("98.9 99.0 99.1", "ml")
	if r := Judge(market.For(inci.US), claim(t, inci.US, "100 ml"), short); r.Verdict != DoesNotHold || r.Checks[0].Outcome != Fails || r.Checks[1].Outcome != Unruled {
		t.Errorf("US volume, short: %v %v", r.Verdict, r.Checks)
	}
	if r := Judge(market.For(inci.EU), claim(t, inci.EU, "100 ml"), volume); r.Verdict != TooCoarse { // 4.5 ml / 5
		t.Errorf("EU volume: %v", r.Verdict)
	}
}

// Each rule that is told names its source; each says in lines how it went.
func TestChecksAreSourced(t *testing.T) {
	for _, m := range inci.Markets {
		for _, lot := range []int{30, 31, 300} {
			r := judged(t, m, "100 g", thirty, lot)
			for _, c := range r.Checks {
				if c.Source.Text == "" || c.Source.Seen == finding.Seen("") || len(c.Lines) == 0 || c.Rule == "" {
					t.Errorf("%s: %+v", m, c)
				}
			}
		}
	}
}

// Where no factor is printed for the number weighed, the result says what was
// done instead.
func TestFactorsNotPrinted(t *testing.T) {
	for n, want := range map[int]string{20: "no factor is printed for 20 pieces; that for 24 is taken", 60: "no sample correction factor is printed for 60 pieces: the average itself"} {
		r := judged(t, inci.US, "160 g", pieces(n, "160.0", "159.9"), 200)
		if all := strings.Join(r.check(t, "average test").Lines, "\n"); !strings.Contains(all, want) {
			t.Errorf("%d: %s", n, all)
		}
	}
	ca := judged(t, inci.CA, "160 g", pieces(48, "160.0", "159.9"), 300)
	if all := strings.Join(ca.check(t, "weighted average").Lines, "\n"); !strings.Contains(all, "t = 2.6867, interpolated in 120 / n between 32 and 64 units") || ca.Verdict != Holds {
		t.Error(all)
	}
	if ca := judged(t, inci.CA, "160 g", pieces(126, "160.0", "159.9"), 300); ca.Verdict != DoesNotHold {
		t.Errorf("126 of 300: %v", ca.Verdict)
	}
}

// A minus average equal to the limit: the EU prints "or more" for a pass, Canada
// "below" for a failure; Handbook 133 does not spell it out, and it fails here.
func TestEquality(t *testing.T) {
	three, nine := exact.Int(3), exact.Int(9)
	if !atMostRoot(three, exact.Int(1), nine, false) || atMostRoot(three, exact.Int(1), nine, true) {
		t.Error("3 against the root of 9")
	}
	if !atMostRoot(exact.Must("2.9999"), exact.Int(1), nine, true) || atMostRoot(exact.Must("3.0001"), exact.Int(1), nine, false) {
		t.Error("beside 3")
	}
	if !atMostRoot(exact.Int(-5), exact.Int(1), exact.Rat{}, true) {
		t.Error("what is above the statement is at most anything")
	}
}

func TestFigures(t *testing.T) {
	for _, c := range []struct{ x, limit, want string }{
		{"160", "160", "160"}, {"159.99996", "160", "159.99996"}, {"160.00004", "160", "160.00004"}, {"159.99994", "160", "159.9999"}, {"160.25", "160", "160.25"},
	} {
		if got := figure(exact.Must(c.x), exact.Must(c.limit)); got != c.want {
			t.Errorf("%s beside %s: %s, want %s", c.x, c.limit, got, c.want)
		}
	}
	for _, c := range []struct {
		x      string
		places int
		want   string
	}{{"2", 4, "1.4142"}, {"2", 12, "1.414213562373"}, {"0", 4, "0.0000"}, {"1/4", 2, "0.50"}, {"10000", 0, "100"}, {"0.0001", 1, "0.0"}, {"0.0025", 1, "0.1"}, {"3", 0, "2"}} {
		if got := Root(exact.Must(c.x), c.places); got != c.want {
			t.Errorf("root of %s to %d places: %s, want %s", c.x, c.places, got, c.want)
		}
	}
	for most, want := range map[string]string{"1.2": "1", "0.54": "0.5", "0.48": "0.2", "2.7": "2", "7": "5", "10": "10", "25": "20", "0.09": "0.05"} {
		if got := finer(exact.Must(most)).String(); got != want {
			t.Errorf("at most %s: %s, want %s", most, got, want)
		}
	}
}

func ExampleJudge() {
	q, _ := Stated("160 g")
	rules := market.For(inci.EU)
	net, _ := rules.Net(q, 1, market.NetOptions{})
	w, _ := Typed("160.4 159.8 160.9 161.0", "g")
	r := Judge(rules, Claim{Quantity: q, Net: net}, w)
	fmt.Println(r.Verdict)
	for _, c := range r.Checks {
		fmt.Println(c.Rule, c.Outcome)
		for _, l := range c.Lines {
			fmt.Println("  " + l)
		}
	}
	fmt.Println("the most that may be stated:", r.Largest.Text)
	// Output:
	// HOLDS
	// average passes
	//   sum 642.1 g / 4 pieces = mean 160.525 g
	//   the mean is 0.525 g above the 160 g stated
	// short pieces passes
	//   TNE = 4.5 % of 160 g; T1 = 160 g - 7.2 g = 152.8 g
	//   0 pieces of 4 below T1
	//   at most 2 % of 4 = 0.08 may be
	// far short passes
	//   T2 = 160 g - 2 x 7.2 g = 145.6 g; lightest piece 159.8 g
	// scale passes
	//   7.2 g / 5 = 1.44 g; the scale reads in steps of 0.1 g, taken from how the figures are written
	// the most that may be stated: 160 g
}
