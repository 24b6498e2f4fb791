package market

import (
	"testing"

	"panelwright/formula/exact"
	"panelwright/inci"
)

// Tolerable negative errors worked out by hand from the bands of Directive
// 76/211/EEC Annex I point 2.4, percentages rounded up to 0.1 g as FPackV section
// 9(3) prints it: nominal, error, and what is one and two errors below.
func TestTolerableNegativeErrors(t *testing.T) {
	for _, c := range [][4]string{
		{"5", "0.5", "4.5", "4"}, {"10", "0.9", "9.1", "8.2"}, {"25", "2.3", "22.7", "20.4"}, {"30", "2.7", "27.3", "24.6"},
		{"35", "3.2", "31.8", "28.6"}, {"50", "4.5", "45.5", "41"}, {"75", "4.5", "70.5", "66"}, {"90", "4.5", "85.5", "81"},
		{"100", "4.5", "95.5", "91"}, {"101", "4.6", "96.4", "91.8"}, {"113", "5.1", "107.9", "102.8"}, {"120", "5.4", "114.6", "109.2"},
		{"125", "5.7", "119.3", "113.6"}, {"142", "6.4", "135.6", "129.2"}, {"150", "6.8", "143.2", "136.4"}, {"200", "9", "191", "182"},
		{"250", "9", "241", "232"}, {"300", "9", "291", "282"}, {"333", "10", "323", "313"}, {"400", "12", "388", "376"},
		{"500", "15", "485", "470"}, {"1000", "15", "985", "970"}, {"1250", "18.8", "1231.2", "1212.4"}, {"10000", "150", "9850", "9700"},
	} {
		nominal := exact.Must(c[0])
		for _, m := range []inci.Market{inci.EU, inci.GB, inci.NI} {
			tne, ok := For(m).Tolerance(nominal, false)
			t1 := nominal.Sub(tne.Amount)
			t2 := t1.Sub(tne.Amount)
			if !ok || tne.Amount.String() != c[1] || t1.String() != c[2] || t2.String() != c[3] || tne.Short != "TNE" {
				t.Errorf("%s %s g: %v %v %v %v, want %v", m, c[0], tne, ok, t1, t2, c[1:])
			}
		}
	}
}

// Every edge of every band, just below, on and just above it.
func TestToleranceEdges(t *testing.T) {
	for _, c := range []struct {
		m                inci.Market
		at               string
		below, on, above string // "-" for none
	}{
		{m: inci.EU, at: "5", below: "-", on: "0.5", above: "0.5"}, {m: inci.EU, at: "50", below: "4.5", on: "4.5", above: "4.5"},
		{m: inci.EU, at: "100", below: "4.5", on: "4.5", above: "4.6"}, {m: inci.EU, at: "200", below: "9", on: "9", above: "9"},
		{m: inci.EU, at: "300", below: "9", on: "9", above: "9.1"}, {m: inci.EU, at: "500", below: "15", on: "15", above: "15"},
		{m: inci.EU, at: "1000", below: "15", on: "15", above: "15.1"}, {m: inci.EU, at: "10000", below: "150", on: "150", above: "-"},
		{m: inci.NI, at: "10000", below: "150", on: "150", above: "-"},
		{m: inci.GB, at: "10000", below: "150", on: "150", above: "150"}, {m: inci.GB, at: "15000", below: "150", on: "150", above: "150.1"},
		{m: inci.GB, at: "25000", below: "250", on: "250", above: "-"},
		// C.R.C., c. 417 Schedule I Part III: no rounding.
		{m: inci.CA, at: "50", below: "4.499991", on: "4.5", above: "4.5"}, {m: inci.CA, at: "100", below: "4.5", on: "4.5", above: "4.5000045"},
		{m: inci.CA, at: "200", below: "8.9999955", on: "9", above: "9"}, {m: inci.CA, at: "300", below: "9", on: "9", above: "9.000003"},
		{m: inci.CA, at: "500", below: "14.999997", on: "15", above: "15"}, {m: inci.CA, at: "1000", below: "15", on: "15", above: "15.0000015"},
		{m: inci.CA, at: "10000", below: "149.9999985", on: "150", above: "150"}, {m: inci.CA, at: "15000", below: "150", on: "150", above: "150.000001"},
	} {
		bit := exact.Must("0.0001")
		for i, want := range []string{c.below, c.on, c.above} {
			x := exact.Must(c.at).Add(bit.Mul(exact.Int(int64(i - 1))))
			got := "-"
			if tol, ok := For(c.m).Tolerance(x, false); ok {
				got = tol.Amount.String()
			}
			if got != want {
				t.Errorf("%s %s g: %s, want %s", c.m, x, got, want)
			}
		}
	}
	if _, ok := For(inci.CA).Tolerance(exact.Rat{}, false); ok {
		t.Error("nothing has a tolerance")
	}
}

// NIST Handbook 133, 2026 edition: 113 g has 7.2 g (section 2.2.1), 907 g has
// 31.7 g (section 2.3.8). Quoted: 8 oz has 7/16 oz = 12.7 g cut off; more than
// 426 g to 489 g has 19.9 g. The other edges are the table as remembered.
func TestMaximumAllowableVariation(t *testing.T) {
	us := For(inci.US)
	oz := mustUnit("oz").Factor
	for _, c := range []struct{ grams, want string }{
		{"113", "7.2"}, {"907", "31.7"}, {"226.796185", "12.7"}, {"426.1", "18.1"}, {"427", "19.9"}, {"489", "19.9"},
		{"10", "1"}, {"35", "3.5"}, {"35.99", "3.599"},
		{"36", "3.6"},       // 0.0794 lb: 10 % by pounds, 3.6 g by grams
		{"36.2", "3.6"},     // 0.0798 lb: 3.62 g by pounds
		{"54", "3.6"},       // to 54 g
		{"54.1", "3.6"},     // over 54 g, but 0.1193 lb is not over 0.12 lb
		{"54.5", "5.4"},     // 0.12015 lb
		{"117", "7.2"},      // 0.2579 lb
		{"117.5", "7.2"},    // over 117 g, 0.259 lb
		{"118", "9"},        // 0.2601 lb
		{"24670", "226"},    // 54.39 lb
		{"24700", "494"},    // 54.45 lb: 2 %
		{"24672", "226"},    // 54.393 lb: 226 g is less than 2 %
		{"30000", "600"},    // 2 %
		{"1450", "42.6"},    // 3.197 lb
		{"1452", "49"},      // 3.2011 lb
		{"141.748", "9"},    // 5 oz
		{"0.5", "0.05"},     // 10 %
		{"283.495", "14.5"}, // 10 oz
	} {
		got, ok := us.Tolerance(exact.Must(c.grams), false)
		if !ok || got.Amount.String() != c.want || got.Short != "MAV" {
			t.Errorf("%s g: %v, want %s", c.grams, got, c.want)
		}
	}
	if got, _ := us.Tolerance(oz.Mul(exact.Int(8)), false); got.Amount.String() != "12.7" {
		t.Errorf("8 oz: %v", got)
	}
	if _, ok := us.Tolerance(exact.Int(100), true); ok {
		t.Error("the table for volumes was not seen, and yet one is used")
	}
	if _, ok := us.Tolerance(exact.Rat{}, false); ok {
		t.Error("nothing has a variation")
	}
}

// The gram edges and variations of the table are its pound figures in grams, cut
// off: the print was not seen, and a slip in one of them would show here.
func TestVariationsAgreeInGramsAndPounds(t *testing.T) {
	lb := mustUnit("lb").Factor
	for _, r := range load("hb133-mav.csv") {
		for _, pair := range [][2]string{{"to_g", "to_lb"}, {"over_g", "over_lb"}, {"mav_g", "mav_lb"}} {
			g, p := r.numberIfAny(pair[0]), r.numberIfAny(pair[1])
			over := p.Mul(lb).Sub(g)
			if over.Sign() < 0 || exact.Int(10).Cmp(over) <= 0 {
				t.Errorf("row %s: %s g beside %s lb", r.text("item"), g, p)
			}
		}
	}
}
