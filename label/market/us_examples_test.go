package market

import (
	"regexp"
	"strings"
	"testing"

	"panelwright/formula/exact"
	"panelwright/inci"
)

// qty makes a quantity from a number and a unit, as the book does.
func qty(t testing.TB, number, unit string) Quantity {
	t.Helper()
	u, ok := UnitNamed(unit)
	if !ok {
		t.Fatalf("no unit %q", unit)
	}
	return Quantity{Amount: exact.Must(number).Mul(u.Factor), Volume: u.Dimension == Volume, Text: number + " " + unit, Unit: unit}
}

var wordsOfLead = regexp.MustCompile(`net (weight|wt|mass|contents)|\bnet\b`)

// sameWords takes away what the rule leaves free: letter case, full stops
// after abbreviations, plurals, and the words that lead in.
func sameWords(s string) string {
	s = wordsOfLead.ReplaceAllString(plainNet(s), "")
	s = strings.NewReplacer("pounds", "lb", "lbs", "lb", "ounces", "oz").Replace(s)
	return strings.Join(strings.Fields(strings.ReplaceAll(s, " )", ")")), " ")
}

// The examples printed in 21 CFR 701.13 (A), and in 16 CFR part 500 for true
// soap (B). Those of the first give no metric figure; 15 USC 1453(a)(2) asks for
// one, so it is taken off before the comparison.
func TestUSPublishedStatements(t *testing.T) {
	soap := NetOptions{Soap: true}
	with := func(f func(*NetOptions)) NetOptions { o := soap; f(&o); return o }
	metricFirst := with(func(o *NetOptions) { o.FirstUnit = MetricFirst })
	for _, c := range []struct {
		name, number, unit string
		o                  NetOptions
		want               string
	}{
		{"A1 701.13(m)(1), 1 1/2 lb", "1.5", "lb", NetOptions{}, "Net wt. 24 oz. (1 lb. 8 oz.) 680 g"},
		{"A2 701.13(m)(2), 3/4 lb", "0.75", "lb", NetOptions{}, "Net wt. 12 oz. (340 g)"},
		{"A3 701.13(m)(3), 1 quart", "1", "qt", NetOptions{}, "Net contents 32 fl. oz. (1 qt.) 946 mL"},
		{"A4 701.13(m)(4), 1 3/4 quarts", "1.75", "qt", NetOptions{}, "Net contents 56 fl. oz. (1 qt. 1 pt. 8 oz.) 1.65 L"},
		{"A6 701.13(m)(5), 2 1/2 gallons", "2.5", "gal", NetOptions{}, "Net contents 2 gal. 2 qt. (9.46 L)"},
		{"A8 701.13(j)(2), 6 oz", "6", "oz", NetOptions{}, "Net wt. 6 oz. (170 g)"},
		{"A9 701.13(j)(2), 6 fl oz", "6", "fl oz", NetOptions{}, "Net contents 6 fl. oz. (177 mL)"},
		{"A17 701.13(j)(1), under 1 oz", "0.5", "oz", NetOptions{}, "Net wt 0.5 oz (14.1 g)"},
		{"A17 701.13(d), a fraction where decimals do not reach", "3/32", "oz", NetOptions{}, "Net wt 3/32 oz (2.65 g)"},
		{"B1 500.8(a)", "15", "oz", soap, "Net Wt 15 oz (425 g)"},
		{"B1 500.8(a), metric first", "15", "oz", metricFirst, "Net Mass 425 g (15 oz)"},
		{"B2 500.8(a)", "1.5", "lb", with(func(o *NetOptions) { o.Pounds = PoundsFraction }), "Net Wt 1 1/2 lbs (680 g)"},
		{"B2 500.8(a), metric first", "1.5", "lb", with(func(o *NetOptions) { o.Pounds = PoundsFraction; o.FirstUnit = MetricFirst }), "Net Mass 680 g (1 1/2 lbs)"},
		{"B3 500.8(a)", "2.5", "oz", soap, "2.5 oz (70.8 g)"},
		{"B4 500.8(a), with the e-mark", "100", "g", with(func(o *NetOptions) { o.FirstUnit = MetricFirst; o.EMark = true; o.Places = 1 }), "100 g ℮ (3.5 oz)"},
		{"B5 500.8(b)", "12", "fl oz", soap, "Net 12 fl oz (354 mL)"},
		{"B6 500.8(b)", "1", "gal", soap, "Net Contents 1 gal (3.78 L)"},
		{"B7 500.8(b)", "8", "fl oz", soap, "8 fl oz (236 mL)"},
		{"B8 500.8(b)", "500", "ml", metricFirst, "Net 500 mL (1.05 pt)"},
		{"B9 500.8(b)", "1", "l", metricFirst, "Net Contents 1 L (1.05 qt)"},
		{"B10 500.9(a)", "1", "lb", soap, "Net Wt 1 lb (453 g)"},
		{"B10 500.9(a), metric first", "1", "lb", metricFirst, "Net Mass 453 g (1 lb)"},
		{"B11 500.9(b)(1)", "12", "oz", soap, "Net Weight 12 oz. (340 g)"},
		{"B11 500.9(b)(1), metric first", "12", "oz", metricFirst, "Net Mass 340 g (12 oz)"},
		{"B12 500.9(b)(3), pounds and ounces", "84", "oz", soap, "Net Weight 5 pounds 4 ounces (2.38 kg)"},
		{"B12 500.9(b)(3), fraction", "84", "oz", with(func(o *NetOptions) { o.Pounds = PoundsFraction }), "Net Wt. 5 1/4 lbs. (2.38 kg)"},
		{"B12 500.9(b)(3), decimals", "84", "oz", with(func(o *NetOptions) { o.Pounds = PoundsDecimal }), "Net Wt. 5.25 lbs. (2.38 kg)"},
		{"B13 500.9(c), random package", "0.75", "lb", with(func(o *NetOptions) { o.Random = true }), "Net Wt. 0.75 lb. (340 g)"},
		{"B14 500.9(c), random package", "1.05", "lb", with(func(o *NetOptions) { o.Random = true }), "Net Weight 1.05 pounds (476 g)"},
		{"B15 500.23(a), 1960 g", "1960", "g", metricFirst, "Net Mass 1.96 kg (4 lb 5.13 oz)"},
		{"B16 500.23(a), 0.75 L", "0.75", "l", metricFirst, "750 mL (1.58 pt)"},
		{"F1 us-worked-examples F1, derived", "4.5", "oz", NetOptions{}, "Net Wt 4.5 oz (127 g)"},
		{"F2 us-worked-examples F2, derived", "24", "oz", NetOptions{}, "Net Wt 24 oz (1 lb 8 oz) 680 g"},
		{"F3 us-worked-examples F3, derived, one decimal chosen", "100", "g", NetOptions{Places: 1}, "Net Wt 3.5 oz (100 g)"},
		{"100 g with the two decimals of 701.13(d)", "100", "g", NetOptions{}, "Net Wt 3.52 oz (100 g)"},
		{"the issue's own example, 160 g", "160", "g", NetOptions{}, "Net Wt 5.64 oz (160 g)"},
		{"700 g, between 1 and 4 lb", "700", "g", NetOptions{}, "Net Wt 24.69 oz (1 lb 8.69 oz) 700 g"},
		{"the same, metric first", "700", "g", NetOptions{FirstUnit: MetricFirst}, "Net Wt 700 g, 24.69 oz (1 lb 8.69 oz)"},
		{"500 ml", "500", "ml", NetOptions{}, "16.9 fl oz (1 pt 0.9 oz) 500 mL"},
		{"4 lb, the upper form begins", "4", "lb", NetOptions{}, "Net Wt 4 lb (1.81 kg)"},
		{"just under 4 lb", "63.99", "oz", NetOptions{}, "Net Wt 63.99 oz (3 lb 15.99 oz) 1.81 kg"},
		{"just under 1 lb", "15.99", "oz", NetOptions{}, "Net Wt 15.99 oz (453 g)"},
		{"1 lb", "1", "lb", NetOptions{}, "Net Wt 16 oz (1 lb) 453 g"},
		{"1 pint", "1", "pt", NetOptions{}, "16 fl oz (1 pt) 473 mL"},
		{"1 gallon", "1", "gal", NetOptions{}, "1 gal (3.78 L)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, found := For(inci.US).Net(qty(t, c.number, c.unit), 1, c.o)
			if sameWords(got.Text) != sameWords(c.want) {
				t.Errorf("got  %q\nwant %q", got.Text, c.want)
			}
			if len(found) > 0 {
				t.Errorf("findings: %v", found)
			}
			if len(got.Sources) == 0 {
				t.Error("no source")
			}
			if errs := CheckUSNetText(got.Text, c.o.Soap); errs != nil {
				t.Errorf("our own text %q is refused: %v", got.Text, errs)
			}
		})
	}
}

// A weight of a cosmetic says "Net Wt" (701.13(j)); fluid measure need not.
func TestUSExactText(t *testing.T) {
	r := For(inci.US)
	for _, c := range []struct {
		number, unit string
		count        int
		o            NetOptions
		want         string
	}{
		{"160", "g", 1, NetOptions{}, "Net Wt 5.64 oz (160 g)"},
		{"6", "fl oz", 1, NetOptions{}, "6 fl oz (177 mL)"},
		{"480", "g", 3, NetOptions{CountWords: "bath fizzes"}, "3 bath fizzes, Net Wt 16.93 oz (1 lb 0.93 oz) 480 g"},                        // 701.13(c)
		{"12", "oz", 3, NetOptions{Soap: true, Labelled: true, CountWords: "bars"}, "3 bars, 4 oz (113 g) each, total Net Wt 12 oz (340 g)"}, // B18, 500.27(a)
		{"12", "oz", 3, NetOptions{Soap: true, CountWords: "bars"}, "3 bars, Net Wt 12 oz (340 g)"},                                          // B19, 500.27(c)
		{"12", "oz", 1, NetOptions{Soap: true, FirstUnit: MetricFirst}, "Net Mass 340 g (12 oz)"},                                            // B11
	} {
		if got, _ := r.Net(qty(t, c.number, c.unit), c.count, c.o); got.Text != c.want {
			t.Errorf("%s %s: got %q, want %q", c.number, c.unit, got.Text, c.want)
		}
	}
}

// The table of test values in the notes on net quantity, section 4.2: exact
// factor, cut off. The right half (425 g) is the warning of the same place.
func TestConversionTable(t *testing.T) {
	r := For(inci.US)
	for _, c := range [][2]string{
		{"1", "28.3 g"}, {"2", "56.6 g"}, {"3", "85 g"}, {"3.5", "99.2 g"}, {"4", "113 g"}, {"4.5", "127 g"},
		{"5", "141 g"}, {"8", "226 g"}, {"12", "340 g"}, {"16", "453 g"},
	} {
		got, _ := r.Net(qty(t, c[0], "oz"), 1, NetOptions{})
		if got.Secondary != c[1] {
			t.Errorf("%s oz: got %s, want %s", c[0], got.Secondary, c[1])
		}
	}
	for _, c := range [][2]string{
		{"50", "1.76 oz"}, {"85", "2.99 oz"}, {"100", "3.52 oz"}, {"113", "3.98 oz"}, {"125", "4.4 oz"},
		{"142", "5 oz"}, {"150", "5.29 oz"}, {"227", "8 oz"}, {"250", "8.81 oz"},
		{"425", "14.99 oz"}, // and not 15
	} {
		got, _ := r.Net(qty(t, c[0], "g"), 1, NetOptions{})
		if got.Secondary != c[1] || got.Primary != c[0]+" g" {
			t.Errorf("%s g: got %s and %s, want %s", c[0], got.Primary, got.Secondary, c[1])
		}
	}
	if got, _ := r.Net(qty(t, "500", "g"), 1, NetOptions{}); got.Secondary != "17.63 oz (1 lb 1.63 oz)" {
		t.Errorf("500 g: %q", got.Secondary)
	}
}

// Of two statements the larger binds (NIST Handbook 133-2026 section 2.3.3): 454 g
// is more than 1 lb.
func TestLargerBinds(t *testing.T) {
	r := For(inci.US)
	for _, c := range [][3]string{
		{"5", "oz", "141.747615625"}, // 141 g is less than 5 oz
		{"142", "g", "142"},          // 5 oz is less than 142 g
		{"454", "g", "454"},
	} {
		if got, _ := r.Net(qty(t, c[0], c[1]), 1, NetOptions{}); got.Larger.String() != c[2] {
			t.Errorf("%s %s: %v binds, want %s", c[0], c[1], got.Larger, c[2])
		}
	}
}

func TestUSTextRefused(t *testing.T) {
	for _, c := range []struct {
		name, text string
		soap       bool
		want       string // part of the first message
	}{
		{"A5 701.13(m)(4)", "Net content 56 fl. oz. (1 qt. 24 oz.)", false, "24 oz holds a whole pt"},
		{"A7 701.13(m)(5)", "2 gal. 4 pt.", false, "4 pt holds a whole qt"},
		{"A14 701.13(f), (q), giant pint", "Net contents 1 giant pint", false, "giant"},
		{"A14 701.13(f), (q), full quart", "1 full quart", false, "full"},
		{"A15 701.13(d), three decimals", "Net Wt 1.125 lb", false, "more than 2 decimal places"},
		{"A16 701.13(d), not in lowest terms", "Net Wt 6/8 oz", false, "6/8"},
		{"A16 701.13(d), no such denominator", "Net Wt 1/3 oz", false, "1/3"},
		{"A16 701.13(d), drawn fraction", "Net Wt 2⅓ oz", false, "1/3"},
		{"A17 701.13(j)(1), drams", "Net Wt 8 drams", false, "drams"},
		{"B17 500.6(b), jumbo quart", "1 jumbo quart", true, "jumbo"},
		{"B17 500.6(b), giant liter", "giant liter", true, "giant"},
		{"B17 500.6(b), full gallon", "full gallon", true, "full"},
		{"B17 500.6(b), when packed", "Net Wt 4 oz (113 g) when packed", true, "when packed"},
		{"B17 500.6(b), minimum", "Minimum 4 oz (113 g)", true, "minimum"},
		{"500.17, four decimals", "Net Wt 1.1255 lb", true, "more than 3 decimal places"},
		{"701.13(j)(2), a weight without its words", "6 oz (170 g)", false, "Net Wt"},
		{"701.13(n), an abbreviation of our own", "6 floz", false, "floz"},
		{"500.23(b), cc", "Net 12 fl oz (354 cc)", true, "cc"},
		{"pounds with a whole pound left over", "Net Wt 1 lb 16 oz", true, "holds a whole lb"},
		{"a larger unit after a smaller one", "Net Wt 8 oz 1 lb", true, "no larger unit"},
	} {
		errs := CheckUSNetText(c.text, c.soap)
		if len(errs) == 0 || !strings.Contains(errs[0].Error(), c.want) {
			t.Errorf("%s: %q: got %v, want %q", c.name, c.text, errs, c.want)
		}
	}
}

// Every form that the rules print as right, and A10 to A13 which this package
// does not write itself.
func TestUSTextAccepted(t *testing.T) {
	for _, c := range []struct {
		text string
		soap bool
	}{
		{"Net wt. 24 oz. (1 lb. 8 oz.)", false}, {"Net wt. 24 oz. (1 1/2 lb.)", false}, {"Net wt. 24 oz. (1.5 lb.)", false}, // A1
		{"Net wt. 12 oz.", false},                                                                                    // A2
		{"Net contents 32 fl. oz. (1 qt.)", false},                                                                   // A3
		{"Net contents 56 fl. oz. (1 qt. 1 1/2 pt.)", false}, {"Net contents 56 fl. oz. (1 qt. 1 pt. 8 oz.)", false}, // A4
		{"Net contents 2 gal. 2 qt.", false},                // A6
		{"6 oz. net wt.", false},                            // A8
		{"6 fl. oz.", false},                                // A9
		{"86 inches (2 yd. 1 ft. 2 inches)", false},         // A10
		{"90 inches (2 1/2 yd.)", false},                    // A11
		{"30 inches (2.5 ft.)", false},                      // A12
		{"158 sq. inches (1 sq. ft. 14 sq. inches)", false}, // A13
		{"Net Wt 1 1/2 lbs (680 g)", true},                  // B2
		{"100 g ℮ (3.5 oz)", true},                          // B4
		{"Net Weight 5 pounds 4 ounces (2.38 kg)", true},    // B12
		{"Net Wt. 1.125 lb.", true},                         // 500.17: three places
		{"3 bath fizzes, Net Wt 5 5/32 oz (146 g)", false},  // 701.13(c), (d)
	} {
		if errs := CheckUSNetText(c.text, c.soap); errs != nil {
			t.Errorf("%q: %v", c.text, errs)
		}
	}
}
