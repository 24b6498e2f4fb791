package market

import (
	"errors"
	"strings"
	"testing"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

func body(t testing.TB, s string) Body {
	t.Helper()
	b, err := ParseBody(s)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// inches returns an area in square inches to so many places, both bounds.
func inches(p Panel, places int) (string, string) {
	f := mustUnit("sq in").Factor
	return p.Low.Quo(f).Decimal(places, exact.Nearest).StringFixed(int32(places)), p.High.Quo(f).Decimal(places, exact.Nearest).StringFixed(int32(places))
}

func TestParseBody(t *testing.T) {
	for _, c := range []struct {
		in, want string
	}{
		{"ball 65 mm", "ball 65 mm"}, {"Ball 6,5 cm", "ball 65 mm"}, {"ball 2.5 in", "ball 63.5 mm"}, {`ball 2 1/2"`, "ball 63.5 mm"},
		{"box 100 x 60 x 30 mm", "box 100 x 60 x 30 mm"}, {"box 10×6×3 cm", "box 100 x 60 x 30 mm"}, {"box 10 cm x 60 mm x 3 cm", "box 100 x 60 x 30 mm"},
		{"cylinder 60 x 80 mm", "cylinder 60 x 80 mm"}, {"jar 60 x 45 mm", "jar 60 x 45 mm"}, {"tin 64 x 20 mm", "tin 64 x 20 mm"},
		{"bag 100 x 150 mm", "bag 100 x 150 mm"}, {"bar 80x55x25mm", "bar 80 x 55 x 25 mm"}, {"tube 16 x 68 mm", "tube 16 x 68 mm"},
		{"  card   60 x  90   mm ", "card 60 x 90 mm"}, {"ball 1/3 in", "ball 8.467 mm"}, // a part of a micrometre is rounded up
	} {
		if got := body(t, c.in).String(); got != c.want {
			t.Errorf("%q: %q, want %q", c.in, got, c.want)
		}
	}
	for _, c := range []struct{ in, want string }{
		{"", `"ball diameter mm"`}, {"heart 60 mm", `"ball diameter mm"`}, {"ball", "not a number"}, {"ball 65", "no unit"}, {"ball 65 x 65 mm", "2 measurements where a ball has 1"},
		{"box 100 x 60 mm", "2 measurements where a box has 3"}, {"ball -65 mm", "not a number"}, {"ball 0 mm", "more than 0"}, {"ball 3000 mm", "at most 2 m"},
		{"ball 65 kg", "not a number"}, {"ball 1/0 in", "cannot be read"}, {"ball 1e2 mm", "not a number"}, {"tin 64 x mm", "the height is not a number"},
	} {
		if b, err := ParseBody(c.in); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, %v; want an error with %q", c.in, b, err, c.want)
		}
	}
}

func FuzzParseBody(f *testing.F) {
	for _, s := range []string{"ball 65 mm", "box 10×6×3 cm", "ball 6,5 cm", "tube 5/8 x 2 1/2 in", "ball 1/0 in", "bar 80x55x25mm", "card  mm", "ball ½ in"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		b, err := ParseBody(s)
		if err != nil {
			return
		}
		again, err := ParseBody(b.String())
		if err != nil || again.A != b.A || again.B != b.B || again.C != b.C || again.Kind != b.Kind {
			t.Fatalf("%q is %v, and that is read as %v, %v", s, b, again, err)
		}
		for _, m := range inci.Markets {
			if p := b.PDP(m); p.High.Less(p.Low) || b.Surface().Less(p.High) {
				t.Fatalf("%v in %s: panel %v to %v on a surface of %v", b, m, p.Low, p.High, b.Surface())
			}
		}
	})
}

// Section C of the worked examples: derived there from 21 CFR 701.10 and 701.13(i).
func TestPanelAndHeightExamples(t *testing.T) {
	us := For(inci.US)
	q := qty(t, "100", "g")
	for _, c := range []struct {
		name, body, area string
		height           int64
		foot             bool
	}{
		{"C1 5 sq in", "box 2.5 x 2 x 1 in", "5.000", 1588, false},
		{"C2 5.25 sq in", "box 2.5 x 2.1 x 1 in", "5.250", 3175, true},
		{"C3 25 sq in", "box 5 x 5 x 1 in", "25.000", 3175, true},
		{"C4 100 sq in", "box 10 x 10 x 1 in", "100.000", 4763, true},
		{"C5 400 sq in", "bag 20 x 20 in", "400.000", 6350, true},
		{"C6 just over 400 sq in", "bag 20.005 x 20 in", "400.100", 12700, true},
		{"C8 sphere of 2.5 in", "ball 2.5 in", "7.854", 3175, true},
		{"C9 round tin, 2.5 in", "tin 2.5 x 1 in", "4.909", 1588, false},
		{"S19: a ball of 65 mm, not its sticker", "ball 65 mm", "8.229", 3175, true}, // 0.4 x 20.573 sq in
		{"S19: the sticker of 64 mm alone", "tin 64 x 1 mm", "4.986", 1588, false},
		{"largest side of a bar", "bar 25 x 80 x 55 mm", "6.820", 3175, true},
		{"lip tube: 40 % of height x circumference", "tube 16 x 68 mm", "2.119", 1588, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := body(t, c.body).PDP(inci.US)
			low, high := inches(p, 3)
			if low != c.area || high != c.area {
				t.Errorf("area %s to %s sq in, want %s", low, high, c.area)
			}
			if p.Source.Text == "" || p.How == "" {
				t.Errorf("no source: %+v", p)
			}
			h, err := us.NetHeight(q, p.Low, p.High, false)
			if err != nil || h.Min != c.height || h.On != LowerO {
				t.Errorf("height %v, %v; want %d on the lower-case o", h, err, c.height)
			}
			if got := us.NetPlacement(p.Low, p.High); got.Foot != c.foot || !got.Apart || !got.Bold || got.Figures {
				t.Errorf("placement %+v", got)
			}
		})
	}

	// C7: a jar of circumference 9 in lies between two whole micrometres of diameter.
	jar := Body{Kind: Jar, A: 72766, B: 76200}
	if low, _ := inches(jar.PDP(inci.US), 1); low != "10.8" {
		t.Errorf("C7: %s sq in", low)
	}
	p := jar.PDP(inci.US)
	if h, _ := us.NetHeight(q, p.Low, p.High, false); h.Min != 3175 {
		t.Errorf("C7: %d", h.Min)
	}

	// C11: each figure of a fraction at least half the height.
	h, _ := us.NetHeight(q, p.Low, p.High, false)
	if f := us.FractionHeight(h); f.Min != 1588 || f.On != Numeral {
		t.Errorf("C11: %+v", f)
	}
	if f := For(inci.CA).FractionHeight(h); f != h {
		t.Errorf("C11 is a rule of the US: %+v", f)
	}

	// C13: 3.1 times as high as wide.
	if us.CheckLetter(3100, 1000) == nil || us.CheckLetter(3000, 1000) != nil || For(inci.EU).CheckLetter(3100, 1000) != nil {
		t.Error("C13: a letter may be three times as high as wide, and no more, in the US")
	}

	// C14: true soap, 5.25 sq in, moulded.
	p = body(t, "box 2.5 x 2.1 x 1 in").PDP(inci.US)
	if h, err := us.SoapNetHeight(q, p.Low, p.High, true); err != nil || h.Min != 4763 || h.Source.Seen != finding.Yes {
		t.Errorf("C14: %+v, %v", h, err)
	}
	// For cosmetics the addition is remembered only; it is asked for all the same.
	if h, err := us.NetHeight(q, p.Low, p.High, true); err != nil || h.Min != 4763 || h.Source.Seen != finding.Memory {
		t.Errorf("moulded cosmetic: %+v, %v", h, err)
	}
}

// Each edge of each table: at it, just below, just above. US: 21 CFR
// 701.13(i); CA: CPLR s. 14(2), metric edges; EU and DE: Directive 76/211/EEC
// Annex I 3.1, FPackV section 38(2); GB: SI 2006/659.
func TestHeightEdges(t *testing.T) {
	bit := exact.Frac(1, 1000)
	check := func(m inci.Market, what string, h Height, err error, want int64) {
		t.Helper()
		if err != nil || h.Min != want {
			t.Errorf("%s %s: %d, %v; want %d", m, what, h.Min, err, want)
		}
	}
	type edge struct {
		at           string
		lower, upper int64 // height up to the edge, and above it
	}
	for _, c := range []struct {
		m     inci.Market
		unit  string
		edges []edge
	}{
		{inci.US, "sq in", []edge{{"5", 1588, 3175}, {"25", 3175, 4763}, {"100", 4763, 6350}, {"400", 6350, 12700}}},
		{inci.CA, "cm2", []edge{{"32", 1600, 3200}, {"258", 3200, 6400}, {"645", 6400, 9500}, {"2580", 9500, 12700}}},
	} {
		for _, e := range c.edges {
			at := exact.Must(e.at).Mul(mustUnit(c.unit).Factor)
			for _, x := range []struct {
				what string
				area exact.Rat
				want int64
			}{{"below", at.Sub(bit), e.lower}, {"at", at, e.lower}, {"above", at.Add(bit), e.upper}} {
				h, err := For(c.m).NetHeight(qty(t, "100", "g"), x.area, x.area, false)
				check(c.m, x.what+" "+e.at, h, err, x.want)
			}
			// an area that is not known to the last digit takes the larger letters
			h, err := For(c.m).NetHeight(qty(t, "100", "g"), at, at.Add(bit), false)
			check(c.m, "across "+e.at, h, err, e.upper)
			if !strings.Contains(h.Rule, "edge of two bands") {
				t.Errorf("the rule does not say why: %q", h.Rule)
			}
		}
	}
	for _, m := range []inci.Market{inci.EU, inci.NI, inci.GB} {
		for _, e := range []edge{{"50", 2000, 3000}, {"200", 3000, 4000}, {"1000", 4000, 6000}} {
			at := exact.Must(e.at)
			for _, x := range []struct {
				what string
				q    exact.Rat
				want int64
			}{{"below", at.Sub(bit), e.lower}, {"at", at, e.lower}, {"above", at.Add(bit), e.upper}} {
				h, err := For(m).NetHeight(Quantity{Amount: x.q}, exact.Rat{}, exact.Rat{}, false)
				check(m, x.what+" "+e.at, h, err, x.want)
				if h.On != Numeral || !h.Source.Unverified() {
					t.Errorf("%s: %+v", m, h)
				}
			}
		}
	}
}

func TestHeightNeedsPanel(t *testing.T) {
	for _, m := range []inci.Market{inci.US, inci.CA} {
		if _, err := For(m).NetHeight(qty(t, "100", "g"), exact.Rat{}, exact.Rat{}, false); !errors.Is(err, ErrNoPanel) {
			t.Errorf("%s: %v", m, err)
		}
	}
	if _, err := For(inci.EU).NetHeight(Quantity{}, exact.Rat{}, exact.Rat{}, false); err == nil {
		t.Error("no quantity, and no error")
	}
	if p := For(inci.US).NetPlacement(exact.Rat{}, exact.Rat{}); !p.Foot || p.FootShare.String() != "0.3" {
		t.Errorf("a panel of unknown size: %+v", p)
	}
	if p := For(inci.CA).NetPlacement(exact.Rat{}, exact.Rat{}); p.Foot || p.Apart || !p.Bold || !p.Figures {
		t.Errorf("CPLR s. 14: bold figures only: %+v", p)
	}
	if p := For(inci.EU).NetPlacement(exact.Rat{}, exact.Rat{}); p != (Placement{}) {
		t.Errorf("EU: %+v", p)
	}
}

// CPLR s. 2(1): 40 % of the surface without top and bottom, the top of a lid,
// one side of a bag or ticket. EU, GB, NI: none.
func TestPanelOtherMarkets(t *testing.T) {
	for _, c := range []struct{ body, want string }{
		{"ball 65 mm", "5309.3"}, {"jar 60 x 45 mm", "3392.9"}, {"tin 64 x 20 mm", "3217"}, {"bag 100 x 150 mm", "15000"},
		{"card 60 x 90 mm", "5400"}, {"box 100 x 60 x 30 mm", "6000"}, {"bar 80 x 55 x 25 mm", "4400"},
	} {
		p := body(t, c.body).PDP(inci.CA)
		if got := p.High.Decimal(1, exact.Nearest).String(); got != c.want {
			t.Errorf("%s: %s mm2, want %s", c.body, got, c.want)
		}
		for _, m := range []inci.Market{inci.EU, inci.GB, inci.NI} {
			if p := body(t, c.body).PDP(m); !p.High.IsZero() || p.How == "" {
				t.Errorf("%s in %s: %+v", c.body, m, p)
			}
		}
	}
	if p := (Body{}).PDP(inci.US); !p.High.IsZero() {
		t.Errorf("no body: %+v", p)
	}
}

func TestSurface(t *testing.T) {
	for _, c := range []struct{ body, want string }{
		{"ball 65 mm", "13273.2"}, {"box 100 x 60 x 30 mm", "21600"}, {"cylinder 60 x 80 mm", "20734.5"}, {"card 60 x 90 mm", "10800"},
	} {
		if got := body(t, c.body).Surface().Decimal(1, exact.Nearest).String(); got != c.want {
			t.Errorf("%s: %s mm2, want %s", c.body, got, c.want)
		}
	}
}

func TestTextHeight(t *testing.T) {
	small, large := exact.Int(5000), exact.Int(50000)
	for _, c := range []struct {
		m       inci.Market
		kind    TextKind
		surface exact.Rat
		want    int64
		seen    finding.Seen
	}{
		{inci.US, ListLetters, large, 1588, finding.Yes},    // 21 CFR 701.3(b)
		{inci.US, ListLetters, small, 1588, finding.Yes},    // 701.3(p): 1/32 in rests on memory, so it is not used
		{inci.US, WarningLetters, small, 1588, finding.Yes}, // 740.2
		{inci.US, OtherLetters, small, 1200, finding.Practice},
		{inci.CA, OtherLetters, large, 1600, finding.Yes}, // CPLR s. 15
		{inci.CA, NetLetters, large, 1600, finding.Yes},   // CPLR s. 14(4)
		{inci.CA, ListLetters, large, 1200, finding.Practice},
		{inci.EU, ListLetters, large, 1200, finding.Practice},
		{inci.GB, WarningLetters, large, 1200, finding.Practice},
		{inci.NI, OtherLetters, large, 1200, finding.Practice},
	} {
		if h := For(c.m).TextHeight(c.kind, c.surface); h.Min != c.want || h.Source.Seen != c.seen || h.On != LowerO || h.Rule == "" {
			t.Errorf("%s %s: %+v, want %d", c.m, c.kind, h, c.want)
		}
	}
}

// The bands of a table meet without gap or overlap and grow.
func TestBandsMeet(t *testing.T) {
	for m, rows := range heightRows() {
		last := map[string]heightRow{}
		for _, row := range rows {
			if row.driver != "panel" && row.driver != "quantity" {
				continue
			}
			before, ok := last[row.what]
			if ok && (!before.to.Equal(row.above) || !before.min.Less(row.min)) || !ok && !row.above.IsZero() {
				t.Errorf("%s %s: %v does not follow %v", m, row.what, row.rule, before.rule)
			}
			last[row.what] = row
		}
		for what, row := range last {
			if !row.to.IsZero() {
				t.Errorf("%s %s ends at %v", m, what, row.to)
			}
		}
	}
}

// 3 mm: Directive 76/211/EEC Annex I point 3.3, SI 2006/659 regulation 2, 16 CFR 500.6(b).
func TestEMarkHeight(t *testing.T) {
	for m, want := range map[inci.Market]int64{inci.EU: 3000, inci.NI: 3000, inci.GB: 3000, inci.US: 3000, inci.CA: 0} {
		if h := For(m).EMarkHeight(); h.Min != want || want > 0 && h.Source.Text == "" {
			t.Errorf("%s: %+v", m, h)
		}
	}
}
