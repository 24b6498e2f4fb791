package label_test

import (
	"strings"
	"testing"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
)

// soapDeclared reads an invented book with one soap and declares it.
func soapDeclared(t *testing.T, m inci.Market, extra, mix, saponify, product string) *label.Declaration {
	t.Helper()
	text := "workshop: Example Soap Works\nsell in: [us, eu, ca]\nscale: {reads: 0.1 g}\n---\n" + extra + "formula: dough\nmix:\n" + mix +
		"saponify: {lye: sodium hydroxide, purity: 98-99 %, water: 2 x lye, " + saponify + "}\n---\nproduct: bar\ntype: bar soap\nexposure: rinse-off\nidentity: Soap\npiece:\n  - dough: 120 g\nnet: 60 g\n" + product
	b, found := book.LoadFiles([]book.File{{Name: "book.yaml", Data: []byte(text)}})
	if found.Count(finding.Error) > 0 {
		t.Fatal(found)
	}
	on := date.Of(2026, 11, 25)
	return label.NewDesk(&b.Workshop).Declare(b.Products[0], []inci.Market{m}, date.Occasion{On: on, Placed: on})[0]
}

func saidBy(x *label.Declaration, rule finding.Code) (out []string) {
	for _, f := range x.Findings {
		if f.Rule == rule {
			out = append(out, f.Severity.String()+": "+f.Message)
		}
	}
	return out
}

func TestLyeFindings(t *testing.T) {
	const olive = "  - olive oil: 1000 g\n"
	for _, tt := range []struct {
		name, extra, mix, saponify string
		rule                       finding.Code
		want                       string // "" for none
	}{
		{"enough superfat", "", olive, "superfat: 5 %, water left: 10 %", "soap.unsafe", ""},
		// 184 is 3.16 % below 190: a superfat of 3 % is not enough for the range
		{"too little superfat", "", olive, "superfat: 3 %, water left: 10 %", "soap.unsafe", "error: dough: alkali may be left over in the worst case"},
		{"a certificate makes it enough", "material: my oil\ninci: Olea Europaea Fruit Oil\nclass: oil\nsaponification value: 190-191 mg KOH/g\n---\n", "  - my oil: 1000 g\n",
			"superfat: 3 %, water left: 10 %", "soap.unsafe", ""},
		{"a certificate near the range", "material: my oil\ninci: Olea Europaea Fruit Oil\nclass: oil\nsaponification value: 183 mg KOH/g\n---\n", "  - my oil: 1000 g\n",
			"superfat: 5 %, water left: 10 %", "soap.certificate", ""},
		{"a certificate far out", "material: my oil\ninci: Olea Europaea Fruit Oil\nclass: oil\nsaponification value: 0.189 g NaOH/g\n---\n", "  - my oil: 1000 g\n",
			"superfat: 5 %, water left: 10 %", "soap.certificate", "question: the saponification value of my oil is 265.1 mg KOH/g, far outside the published 184-196 mg KOH/g"},
		{"water not weighed", "", olive, "superfat: 5 %", "soap.water-left", "question: dough: how much water"},
		{"part of a blend that is not known", "material: my blend\nclass: oil\ncontains: {Olea Europaea Fruit Oil: 60 %, Sclerocarya Birrea Seed Oil: rest}\n---\n", olive + "  - my blend: 100 g\n",
			"superfat: 5 %, water left: 10 %", "soap.unknown-fat", "warning: no saponification value of Sclerocarya Birrea Seed Oil in my blend is known"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			x := soapDeclared(t, inci.US, tt.extra, tt.mix, tt.saponify, "")
			got := strings.Join(saidBy(x, tt.rule), "\n")
			if tt.want == "" && got != "" || !strings.HasPrefix(got, tt.want) {
				t.Errorf("%q, want %q", got, tt.want)
			}
		})
	}
}

// A pack lists what went in or what came out, never a mixture of both.
func TestListAs(t *testing.T) {
	const mix, rest = "  - olive oil: 1000 g\n", "superfat: 5 %, water left: 10 %"
	const in, out = "Olea Europaea Fruit Oil, Aqua, Sodium Hydroxide", "Sodium Olivate, Aqua, Glycerin, Olea Europaea Fruit Oil"
	for _, tt := range []struct {
		name    string
		m       inci.Market
		product string
		want    string
		refused bool
	}{
		{"EU by default", inci.EU, "", in, false},
		{"EU as chosen", inci.EU, "list as: out\n", out, false},
		{"EU as chosen for it", inci.EU, "list as: {eu: out, us: in}\n", out, false},
		{"US by default", inci.US, "", "Sodium Olivate, Water, Glycerin, Olea Europaea (Olive) Fruit Oil", false},
		{"US as chosen", inci.US, "list as: in\n", "Olea Europaea (Olive) Fruit Oil, Water, Sodium Hydroxide", false},
		{"CA leaves no choice", inci.CA, "list as: in\n", "Sodium Olivate, Aqua/Water/Eau, Glycerin, Olea Europaea Fruit Oil", true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			x := soapDeclared(t, tt.m, "", mix, rest, tt.product)
			if got := x.Text(); got != tt.want {
				t.Errorf("%q, want %q", got, tt.want)
			}
			if got := len(saidBy(x, "soap.list-as")) > 0; got != tt.refused {
				t.Errorf("refused %v: %v", got, x.Findings)
			}
			says := x.Rules.SoapList().OutSays
			if strings.Contains(tt.want, "Hydroxide") {
				says = x.Rules.SoapList().InSays
			}
			if x.Convention() != says {
				t.Errorf("convention %q", x.Convention())
			}
		})
	}
}

// One label cannot list a soap both ways: the refusal says so, and how to choose.
func TestSoapListedBothWays(t *testing.T) {
	const mix, saponify = "  - olive oil: 1000 g\n", "superfat: 5 %, water left: 10 %"
	for _, c := range []struct {
		name, product string
		refused       bool
	}{{"as the markets do it", "", true}, {"as the maker chose", "list as: out\n", false}} {
		t.Run(c.name, func(t *testing.T) {
			var ds []*label.Declaration
			for _, m := range []inci.Market{inci.US, inci.EU} {
				ds = append(ds, soapDeclared(t, m, "", mix, saponify, c.product))
			}
			got := ""
			for _, f := range label.CopyFor(&label.Pack{}, ds).Findings {
				if f.Rule == "pack.conflict" {
					got += f.Line()
				}
			}
			both := strings.Contains(got, "as what went in for the European Union, and as what came out for the United States") && strings.Contains(got, "list as: out")
			if both != c.refused || !c.refused && got != "" {
				t.Errorf("refused: %q", got)
			}
		})
	}
}
