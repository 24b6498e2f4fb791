package label

import (
	"strings"
	"testing"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// S27: errors forbid the print, questions hold it back, an answer recorded with
// date and reason settles a question.
func TestVerdict(t *testing.T) {
	asks := func(p *Product, w *Workshop) { // one question in every market
		p.MadeIn, w.Country = nil, ""
	}
	errs := func(p *Product, w *Workshop) { p.Exposure = Unstated }
	reply := func(rule finding.Code, m inci.Market) Answer {
		return Answer{Rule: rule, Market: m, Reason: "made here, in the shed", Date: date.Of(2026, 11, 2)}
	}
	for _, c := range []struct {
		name    string
		change  []func(*Product, *Workshop)
		answers []Answer
		want    string
	}{
		{"nothing wrong", nil, nil, "PRINT"},
		{"one question", []func(*Product, *Workshop){asks}, nil, "ANSWER 1 QUESTION FIRST"},
		{"an error outweighs a question", []func(*Product, *Workshop){asks, errs}, nil, "DO NOT PRINT"},
		{"answered", []func(*Product, *Workshop){asks}, []Answer{reply("origin.unknown", "")}, "PRINT"},
		{"answered for this market", []func(*Product, *Workshop){asks}, []Answer{reply("origin.unknown", inci.EU)}, "PRINT"},
		{"answered for another market", []func(*Product, *Workshop){asks}, []Answer{reply("origin.unknown", inci.GB)}, "ANSWER 1 QUESTION FIRST"},
		{"another question answered", []func(*Product, *Workshop){asks}, []Answer{reply("list.perfuming-oil", "")}, "ANSWER 1 QUESTION FIRST"},
		{"no reason", []func(*Product, *Workshop){asks}, []Answer{{Rule: "origin.unknown", Date: date.Of(2026, 11, 2)}}, "ANSWER 1 QUESTION FIRST"},
		{"no date", []func(*Product, *Workshop){asks}, []Answer{{Rule: "origin.unknown", Reason: "made here"}}, "ANSWER 1 QUESTION FIRST"},
		{"an error is not answered away", []func(*Product, *Workshop){errs}, []Answer{reply("product.exposure", "")}, "DO NOT PRINT"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, w := plain(), workshop()
			for _, f := range c.change {
				f(p, w)
			}
			p.Answers = c.answers
			x := NewDesk(w).Declare(p, []inci.Market{inci.EU}, today)[0]
			if got := x.Verdict().String(); got != c.want {
				t.Errorf("%s, want %s: %v", got, c.want, x.Findings)
			}
			cp := CopyFor(&p.Packs[0], []*Declaration{x})
			if cp.Proof != (c.want != "PRINT") {
				t.Errorf("a proof only: %v", cp.Proof)
			}
			if c.want == "PRINT" && c.answers != nil {
				f := found(x.Findings, "origin.unknown")
				if len(f) != 1 || f[0].Severity != finding.Note || !strings.HasSuffix(f[0].Message, "; answered on 2026-11-02: made here, in the shed") {
					t.Errorf("the answer is not told: %v", f)
				}
			}
		})
	}
	t.Run("in a set", func(t *testing.T) {
		s := twoFizzes()
		oil := with(essential("MELALEUCA ALTERNIFOLIA LEAF OIL"), func(s *Sheet) { s.ByName = true })
		p := s.Holds[0].Product
		p.Piece.Lines = append(p.Piece.Lines, weigh(oil, "1"))
		if got := declareSet(s, inci.EU).Verdict().String(); got != "ANSWER 1 QUESTION FIRST" {
			t.Errorf("before: %s", got)
		}
		p.Answers = []Answer{reply("list.perfuming-oil", "")}
		if got := declareSet(s, inci.EU).Verdict().String(); got != "PRINT" {
			t.Errorf("answered in the product: %s", got)
		}
		p.Answers, s.Answers = nil, []Answer{reply("list.perfuming-oil", inci.EU)}
		if got := declareSet(s, inci.EU).Verdict().String(); got != "PRINT" {
			t.Errorf("answered in the set: %s", got)
		}
	})
}

func TestProhibited(t *testing.T) {
	lilial := fragrance("hay", "BUTYLPHENYL METHYLPROPIONAL 0.1")
	p := rinseOff(weigh(of("SODIUM BICARBONATE"), "99"), weigh(lilial, "1"))
	for m, want := range map[inci.Market]bool{inci.EU: true, inci.NI: true, inci.US: false} {
		f := found(declareIn(m, p, today).Findings, finding.Code(string(m)+".prohibited"))
		if (len(f) == 1) != want || want && !strings.Contains(f[0].Message, "in hay") {
			t.Errorf("%s: %v", m, f)
		}
	}
	// Regulation (EC) No 1223/2009 Annex II entry 1666, from 2022-03-01.
	if f := found(declareIn(inci.EU, p, fresh("2022-02-28")).Findings, "eu.prohibited"); len(f) > 0 {
		t.Errorf("before its date: %v", f)
	}
	none := rinseOff(weigh(of("SODIUM BICARBONATE"), "99"), weigh(fragrance("hay", "BUTYLPHENYL METHYLPROPIONAL 0"), "1"))
	if f := found(declareIn(inci.EU, none, today).Findings, "eu.prohibited"); len(f) > 0 {
		t.Errorf("a sheet that says none: %v", f)
	}
}

// A supplier's certificate: each scent below its highest use, and the sum of
// share over limit at most one.
func TestUseLimits(t *testing.T) {
	limited := func(name, max string) func(*Sheet) {
		return func(s *Sheet) {
			c, ok := inci.ProductCategory("bath fizz")
			if !ok {
				t.Fatal("no category for a bath fizz")
			}
			s.Limits = []UseLimit{{Category: c.ID, Words: "bath", Max: percent(max)}}
		}
	}
	for _, c := range []struct {
		name, limitA, limitB string // of two scents at 1 % each
		rules                string
	}{
		{"well below", "10", "10", ""},
		{"exactly at the limit", "1", "", ""},
		{"just above the limit", "0.99999", "", "scent.use-limit"},
		{"both half used", "2", "2", ""},
		{"together above one", "2", "1.9", "scent.use-limit-together"},
		{"not for this use at all", "0", "", "scent.use-limit"},
	} {
		a, b := with(fragrance("hay"), limited("hay", c.limitA)), fragrance("plum")
		if c.limitB != "" {
			b = with(b, limited("plum", c.limitB))
		}
		x := declareIn(inci.EU, rinseOff(weigh(of("SODIUM BICARBONATE"), "98"), weigh(a, "1"), weigh(b, "1")), today)
		got := strings.ReplaceAll(grave(x), "error ", "")
		if got != c.rules {
			t.Errorf("%s: %q, want %q", c.name, got, c.rules)
		}
		for _, f := range found(x.Findings, "scent.use-limit") {
			if c.limitA == "0.99999" && !strings.Contains(f.Message, "hay is 1.0000 % of the piece; its supplier allows 0.99999 % at most for bath") {
				t.Errorf("%s: %s", c.name, f.Message)
			}
		}
	}
}

// A question that reading the book raised about a line holds back the products
// that the line goes into, until it is answered.
func TestAskedOfALine(t *testing.T) {
	p := nested()
	p.Net = net("115")
	d := NewDesk(workshop())
	d.Ask(finding.List{
		{Rule: "book.which-ounce", Severity: finding.Question, Where: finding.Pos{File: "book.yaml", Line: 2, Col: 5}, Message: "weight or fluid ounces"}, // in the colour mix
		{Rule: "book.which-ounce", Severity: finding.Question, Where: finding.Pos{File: "book.yaml", Line: 99}, Message: "of another product"},
		{Rule: "book.density", Severity: finding.Warning, Where: finding.Pos{File: "book.yaml", Line: 2}, Message: "told elsewhere"},
	})
	x := d.Declare(p, []inci.Market{inci.EU}, today)[0]
	if f := found(x.Findings, "book.which-ounce"); len(f) != 1 || f[0].Message != "weight or fluid ounces" || x.Verdict().String() != "ANSWER 1 QUESTION FIRST" {
		t.Errorf("%s: %v", x.Verdict(), x.Findings)
	}
	p.Answers = []Answer{{Rule: "book.which-ounce", Reason: "weighed", Date: date.Of(2026, 11, 2)}}
	if x := d.Declare(p, []inci.Market{inci.EU}, today)[0]; !x.Verdict().Prints() {
		t.Errorf("answered: %s", grave(x))
	}
}

// Formulas that use one another twice at every level are looked at once each.
func TestAskedOfDeepFormulas(t *testing.T) {
	f := mix("level 0", "", weigh(of("KAOLIN"), "1"))
	for range 60 {
		f = mix("a level more", "", weigh(f, "1"), weigh(f, "1"))
	}
	d := NewDesk(workshop())
	d.Ask(finding.List{{Rule: "book.which-ounce", Severity: finding.Question, Where: finding.Pos{File: "book.yaml", Line: 99}}})
	if x := d.Declare(rinseOff(weigh(f, "50")), []inci.Market{inci.EU}, today)[0]; !x.Verdict().Prints() {
		t.Errorf("%s", grave(x))
	}
}
