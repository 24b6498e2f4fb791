package market

import (
	"fmt"
	"strings"
	"testing"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

func planText(ps []ContentPlan) string {
	var out []string
	for _, p := range ps {
		s := string(p.Kind)
		for _, g := range p.Stages {
			s += fmt.Sprintf(" %d:%d/%d", g.N, g.Accept, g.Reject)
		}
		if !p.Share.IsZero() {
			s += " " + p.Share.String()
		}
		out = append(out, s)
	}
	return strings.Join(out, "; ")
}

// Directive 76/211/EEC Annex II points 2.1.3, 2.2.1, 2.2.2; SI 2006/659 Schedule 2
// paragraphs 2.8, 3.3 to 3.6.
func TestContentPlans(t *testing.T) {
	eu100, eu501, eu3201 := "double 30:1/3 60:4/5; destructive 20:1/2", "double 50:2/5 100:6/7; destructive 20:1/2", "double 80:3/7 160:8/9; destructive 20:1/2"
	for _, c := range []struct {
		m    inci.Market
		lot  int
		want string
	}{
		{inci.EU, 0, ""}, {inci.EU, 1, "all"}, {inci.EU, 99, "all"}, {inci.EU, 100, eu100}, {inci.EU, 500, eu100}, {inci.EU, 501, eu501},
		{inci.EU, 3200, eu501}, {inci.EU, 3201, eu3201}, {inci.EU, 10000, eu3201}, {inci.NI, 99, "all"}, {inci.NI, 100, eu100},
		{inci.GB, 99, "all 0.05"}, {inci.GB, 100, "single 50:3/4; " + eu100}, {inci.GB, 500, "single 50:3/4; " + eu100},
		{inci.GB, 501, "single 80:5/6; " + eu501}, {inci.GB, 3201, "single 125:7/8; " + eu3201},
		{inci.US, 100, ""}, {inci.CA, 100, ""},
	} {
		if got := planText(For(c.m).ContentPlans(c.lot)); got != c.want {
			t.Errorf("%s, batch of %d: %s, want %s", c.m, c.lot, got, c.want)
		}
	}
}

// The factors are t at 0.995 over root n: 0.50324, 0.37900, 0.63972 recomputed.
func TestMeanPlans(t *testing.T) {
	for _, c := range []struct {
		m    inci.Market
		lot  int
		want string
	}{
		{inci.EU, 99, ""}, {inci.EU, 100, "30 0.503, 20 0.64 destructive"}, {inci.EU, 500, "30 0.503, 20 0.64 destructive"},
		{inci.EU, 501, "50 0.379, 20 0.64 destructive"}, {inci.GB, 500, "30 0.503, 20 0.64 destructive"}, {inci.GB, 99, "0 0"},
		{inci.NI, 600, "50 0.379, 20 0.64 destructive"}, {inci.US, 600, ""},
	} {
		var got []string
		for _, p := range For(c.m).MeanPlans(c.lot) {
			s := fmt.Sprintf("%d %s", p.N, p.Factor)
			if p.Destructive {
				s += " destructive"
			}
			got = append(got, s)
		}
		if s := strings.Join(got, ", "); s != c.want {
			t.Errorf("%s, batch of %d: %s, want %s", c.m, c.lot, s, c.want)
		}
	}
}

// NIST Handbook 133 Table 2-1 as remembered; the factor is the smaller of the
// remembered and the recomputed one.
func TestLotPlans(t *testing.T) {
	for _, c := range []struct {
		lot, n, over int
		factor       string
	}{
		{1, 1, 0, "0"}, {2, 2, 0, "8.9846"}, {6, 6, 0, "1.049"}, {11, 11, 0, "0.6718"}, {12, 12, 0, "0.635"}, {250, 12, 0, "0.635"},
		{251, 24, 0, "0.422"}, {3200, 24, 0, "0.422"}, {3201, 48, 1, "0.2904"}, {100000, 48, 1, "0.2904"},
	} {
		p, ok := For(inci.US).LotPlan(c.lot)
		if !ok || p.N != c.n || p.OverMAV != c.over || p.Factor.String() != c.factor || p.Source.Seen != finding.Memory {
			t.Errorf("lot of %d: %+v, want %+v", c.lot, p, c)
		}
	}
	for _, c := range []struct {
		n, printed int
		factor     string
	}{{1, 1, "0"}, {2, 2, "8.9846"}, {12, 12, "0.635"}, {13, 24, "0.422"}, {24, 24, "0.422"}, {25, 48, "0.2904"}, {48, 48, "0.2904"}, {49, 0, "0"}} {
		f, printed := For(inci.US).SampleFactor(c.n)
		if f.String() != c.factor || printed != c.printed {
			t.Errorf("%d pieces: %v for %d, want %+v", c.n, f, printed, c)
		}
	}
	if _, ok := For(inci.EU).LotPlan(100); ok {
		t.Error("the EU has no Category A plan")
	}
}

// C.R.C., c. 417 Schedule II Parts I, III and IV. The interpolated t for 48 is
// worked out by hand: 2.657 + (2.746 - 2.657) x (2.5 - 1.875) / (3.75 - 1.875).
func TestCanadianTables(t *testing.T) {
	ca := For(inci.CA)
	for lot, want := range map[int]int{2: 2, 10: 10, 11: 10, 40: 10, 41: 11, 44: 11, 45: 12, 128: 32, 129: 32, 4000: 32, 4001: 64, 8001: 96, 12000: 96, 12001: 125} {
		if n, _, ok := ca.UnitSample(lot); !ok || n != want {
			t.Errorf("lot of %d: %d units, want %d", lot, n, want)
		}
	}
	for n, want := range map[int]string{2: "63.657 45.01", 10: "3.25 1.03", 11: "3.169 0.955", 32: "2.746 0.485", 125: "2.615 0.234"} {
		s, ok := ca.StudentT(n)
		if got := s.T.String() + " " + s.OverRoot.String(); !ok || got != want || s.Between != [2]int{} {
			t.Errorf("t of %d: %s, want %s", n, got, want)
		}
	}
	s, ok := ca.StudentT(48)
	if want := exact.Must("2.657").Add(exact.Must("0.089").Quo(exact.Int(3))); !ok || !s.T.Equal(want) || !s.OverRoot.IsZero() || s.Between != [2]int{32, 64} {
		t.Errorf("t of 48: %+v, want %v", s, want)
	}
	for _, n := range []int{0, 1, 126} {
		if s, ok := ca.StudentT(n); ok {
			t.Errorf("t of %d: %v", n, s)
		}
	}
	for n, want := range map[int]int{1: 1, 2: 1, 8: 1, 9: 2, 20: 2, 21: 3, 32: 3, 33: 4, 50: 4, 51: 5, 65: 5, 66: 6, 80: 6, 81: 7, 102: 7, 103: 8, 125: 8, 300: 8} {
		if got, _, ok := ca.RejectAt(n); !ok || got != want {
			t.Errorf("%d units: fails at %d, want %d", n, got, want)
		}
	}
	if _, _, ok := ca.UnitSample(1); ok {
		t.Error("the table begins with a lot of 2")
	}
	if _, _, ok := For(inci.US).RejectAt(10); ok {
		t.Error("the US has no such table")
	}
}

// FPackV section 9(3): 2 %; the 2.5 % of the United Kingdom is practice.
func TestShortShare(t *testing.T) {
	for _, c := range []struct {
		m         inci.Market
		countries []string
		want      string
	}{
		{inci.EU, []string{"DE"}, "0.02"}, {inci.EU, []string{"IE", "DE"}, "0.02"}, {inci.EU, []string{"IE"}, "0.025"}, {inci.EU, nil, "0.02"},
		{inci.GB, nil, "0.025"}, {inci.GB, []string{"DE"}, "0.025"}, {inci.NI, nil, "0.025"}, {inci.US, nil, ""}, {inci.CA, nil, ""},
	} {
		if got, ok := For(c.m).ShortShare(c.countries); got.Value != c.want || ok != (c.want != "") {
			t.Errorf("%s %v: %v, want %s", c.m, c.countries, got, c.want)
		}
	}
}

func TestNetChecks(t *testing.T) {
	for _, m := range inci.Markets {
		r := For(m)
		for _, rule := range []string{"method", "tolerance-name", "average", "scale-part", "dries"} {
			if c, ok := r.NetCheck(rule); !ok || c.Value == "" {
				t.Errorf("%s has no rule %s", m, rule)
			}
		}
		if method := r.Method(); method != Handbook133 {
			if c, ok := r.NetCheck("twice"); !ok || c.Value != "2" {
				t.Errorf("%s: %v", m, c)
			}
		}
		// Handbook 133 section 2.2.1: MAV / 6; SR 2011/331 Schedule 2 point 1.3: one fifth.
		want := "5"
		if m == inci.US {
			want = "6"
		}
		if c, _ := r.NetCheck("scale-part"); c.Value != want {
			t.Errorf("%s: scale %v", m, c)
		}
	}
	for in, want := range map[string]string{"160.49": "160", "99.99": "99.9", "52.37": "52.3", "1234.5": "1230", "9.999": "9.99"} {
		if got := For(inci.EU).CutFigure(exact.Must(in)).String(); got != want {
			t.Errorf("%s cut off: %s, want %s", in, got, want)
		}
	}
}
