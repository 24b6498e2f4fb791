package label

import (
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// One fact, one finding: what two rows say of the same thing is said once.
func TestOneFactOneFinding(t *testing.T) {
	kept := func(k formula.Key) *formula.Material { return pure(strings.ToLower(string(k)), k, "preservative") }
	duo := blend("duo", "preservative", part("AQUA", "98.5"), part("METHYLCHLOROISOTHIAZOLINONE", "1.125"), part("METHYLISOTHIAZOLINONE", "0.375"))
	for _, c := range []struct {
		name  string
		m     inci.Market
		p     *Product
		rule  string   // part of the code
		wants []string // one for each finding, in the order of the findings
	}{
		{"one of two isothiazolinones", inci.EU, rinseOff(soda("99"), weigh(kept("METHYLISOTHIAZOLINONE"), "1")), "annex-v", []string{"entry 57"}},
		{"the mixture", inci.EU, rinseOff(soda("99"), weigh(duo, "1")), "annex-v", []string{"entry 39"}},
		{"the mixture in what stays on", inci.GB, leaveOn(soda("99"), weigh(duo, "1")), "annex-v", []string{"entry 39"}},
		{"both", inci.EU, rinseOff(soda("99.8"), weigh(duo, "0.05"), weigh(kept("METHYLISOTHIAZOLINONE"), "0.0001")), "annex-v", []string{"may not be used together"}},
		{"a paraben over its own limit and that of the sum", inci.EU, rinseOff(soda("99"), weigh(kept("METHYLPARABEN"), "1")), "annex-v.limit", []string{"12 (single ester)"}},
		{"two parabens over the limit of the sum only", inci.EU,
			rinseOff(soda("99"), weigh(kept("METHYLPARABEN"), "0.42"), weigh(kept("ETHYLPARABEN"), "0.47"), weigh(kept("SODIUM PARABEN"), "0.1")), "annex-v.limit", []string{"12 (mixtures)"}},
		{"boric acid", inci.EU, rinseOff(soda("99"), weigh(of("BORIC ACID"), "1")), "prohibited", []string{"is on the list"}},
		{"a borate of zinc", inci.EU, rinseOff(soda("99"), weigh(of("ZINC BORATE"), "1")), ".", []string{"is on the list"}},
		{"D4, banned and restricted besides", inci.EU, rinseOff(soda("99"), weigh(of("CYCLOTETRASILOXANE"), "1")), ".", []string{"is on the list"}},
		{"a ban that another list puts in figures", inci.EU, leaveOn(soda("99.9"), weigh(of("DIETHYLENE GLYCOL"), "0.1")), "", []string{"Annex III entry 186"}},
		{"a ban with uses that another list names", inci.EU, rinseOff(soda("99.9"), weigh(of("OXYQUINOLINE SULFATE"), "0.1")), "", []string{"may be on the list"}},
		{"mercury in the United States", inci.US, leaveOn(soda("99.9"), weigh(kept("THIMEROSAL"), "0.1")), "us.", []string{"21 CFR entry 700.13"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			x := declareIn(c.m, c.p, today)
			var got finding.List
			for _, f := range x.Findings {
				if (f.Severity >= finding.Question || strings.HasSuffix(string(f.Rule), ".together")) && strings.Contains(string(f.Rule), c.rule) && substance(f.Rule) {
					got = append(got, f)
				}
			}
			if len(got) != len(c.wants) {
				t.Fatalf("%d findings: %v", len(got), got)
			}
			for i, want := range c.wants {
				if !strings.Contains(got[i].Message, want) {
					t.Errorf("%s: want %q", got[i].Message, want)
				}
			}
		})
	}
}

// substance reports whether a rule is about what a list says of a substance.
func substance(r finding.Code) bool {
	for _, list := range []string{".prohibited", ".annex-", ".21-cfr", ".reach-", ".borate"} {
		if strings.Contains(string(r), list) {
			return true
		}
	}
	return false
}

// 21 CFR 700.18: chloroform as a line of the recipe is prohibited; what comes
// along in something else can be a trace of the process, which is asked.
func TestChloroformTraces(t *testing.T) {
	line := declareIn(inci.US, leaveOn(soda("99"), weigh(of("CHLOROFORM"), "1")), today)
	if f := oneOf(t, line, "us.prohibited"); f.Severity != finding.Error {
		t.Errorf("as a line: %s", f.Line())
	}
	trace := declareIn(inci.US, leaveOn(soda("99"), weigh(scented(of("PROPYLENE GLYCOL"), "CHLOROFORM 0.001"), "1")), today)
	if f := oneOf(t, trace, "us.prohibited"); f.Severity != finding.Question {
		t.Errorf("as a trace: %s", f.Line())
	}
	never(t, declareIn(inci.US, leaveOn(soda("99"), weigh(of("PROPYLENE GLYCOL"), "1")), today), "us.prohibited")
}

// What oils without a figure can bring is added up, and to what other sheets
// state; a sheet that covers a list answers for what the list names.
func TestOilsWithoutAFigure(t *testing.T) {
	later := fresh("2027-01-02") // citral: 1.2 % in what is washed off, Annex III 70(h)
	bare := func(m *formula.Material) *formula.Material {
		return with(m, func(s *Sheet) { s.Covers = nil })
	}
	lemon := func() *formula.Material { return bare(essential("CITRUS LIMON PEEL OIL")) } // 3.8 % citral at most, as published
	second := func() *formula.Material { m := lemon(); m.Name = "lemon oil of another lot"; return m }
	for _, c := range []struct {
		name  string
		lines []formula.Line
		count int
	}{
		{"little", []formula.Line{soda("80"), weigh(lemon(), "20")}, 0},
		{"twice as much in two oils", []formula.Line{soda("60"), weigh(lemon(), "20"), weigh(second(), "20")}, 2},
		{"little beside what a sheet states", []formula.Line{soda("79"), weigh(lemon(), "20"), weigh(fragrance("hay", "CITRAL 60"), "1")}, 1},
		{"stated by its halves", []formula.Line{soda("60"), weigh(bare(essential("CITRUS LIMON PEEL OIL", "CITRAL 1")), "40")}, 0},
		{"answered by the list that the sheet covers", []formula.Line{soda("60"), weigh(essential("CITRUS LIMON PEEL OIL"), "40")}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			x := declareIn(inci.EU, rinseOff(c.lines...), later)
			if f := found(x.Findings, "oil.no-figure"); len(f) != c.count {
				t.Errorf("%d findings: %v", len(f), f)
			}
		})
	}
	// Methyl eugenol stands on no list of declarable allergens, so no cover answers it.
	x := declareIn(inci.EU, leaveOn(soda("99"), weigh(essential("MYRISTICA FRAGRANS KERNEL OIL"), "1")), later)
	if f := found(x.Findings, "oil.no-figure"); len(f) == 0 || !strings.Contains(f[0].Message, "Methyl Eugenol") && !strings.Contains(f[len(f)-1].Message, "Methyl Eugenol") {
		t.Errorf("nutmeg: %v", f)
	}
}
