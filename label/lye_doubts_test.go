package label_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/book"
)

// What a lye calculation takes for granted, on a scale of 1 g where none is named. The strengths by hand: 1 part of lye in
// 0.9 of water is 52.6 %, 98 % lye in its own weight 49.5 %; 1 in 0.3 is 76.9 %.
func TestLyeDoubts(t *testing.T) {
	const oil, scent = "  - my oil: 1000 g\n", "  - scent: 30 g\n"
	for _, c := range []struct {
		name, mix, saponify, step string
		want                      []string // severity and code
	}{
		{"as usual", oil, "lye: sodium hydroxide, purity: 98 %, superfat: 5 %, water: 2 x lye", "1", nil},
		{"half lye, half water", oil, "lye: sodium hydroxide, purity: 98 %, superfat: 5 %, water: 1 x lye", "1", nil},
		{"a little stronger", oil, "lye: sodium hydroxide, purity: 100 %, superfat: 5 %, water: 0.9 x lye", "1", []string{"warning soap.strength"}},
		{"all but dry", oil, "lye: sodium hydroxide, purity: 100 %, superfat: 5 %, water: 0.3 x lye", "1", []string{"error soap.no-water"}},
		{"dry", oil, "lye: sodium hydroxide, purity: 98 %, superfat: 5 %, water: none", "1", []string{"error soap.no-water"}},
		{"dry, unless a slot brings water", oil + scent, "lye: sodium hydroxide, purity: 98 %, superfat: 5 %, water: none", "1", []string{"question soap.no-water"}},
		{"little water, whatever a slot brings", oil + scent, "lye: sodium hydroxide, purity: 100 %, superfat: 5 %, water: 0.3 x lye", "1", []string{"error soap.no-water"}},
		{"potassium hydroxide as it is sold", oil, "lye: potassium hydroxide, purity: 90 %, superfat: 5 %, water: 2 x lye", "1", nil},
		{"a purity with a figure missing", oil, "lye: sodium hydroxide, purity: 9 %, superfat: 5 %, water: 2 x lye", "1", []string{"question soap.purity"}},
		{"a solution says so itself", oil, "lye: lye in water, superfat: 5 %, water: 2 x lye", "1", nil},
		{"no purity", oil, "lye: sodium hydroxide, superfat: 5 %, water: 2 x lye", "1", []string{"warning soap.purity"}},
		{"a quarter of the fats left", oil, "lye: sodium hydroxide, purity: 98 %, superfat: 25 %, water: 2 x lye", "1", nil},
		{"more", oil, "lye: sodium hydroxide, purity: 98 %, superfat: 26 %, water: 2 x lye", "1", []string{"warning soap.superfat"}},
		// On a scale of 1 g the oil may be 999 g and the lye 1 g more than weighed: 0.19 g and 1.37 g KOH of 190 g, 0.82 %.
		{"no scale, and room for one", oil, "lye: sodium hydroxide, purity: 98 %, superfat: 1 %, water: 2 x lye", "0", nil},
		{"no scale, and none", oil, "lye: sodium hydroxide, purity: 98 %, superfat: 0.1 %, water: 2 x lye", "0", []string{"warning soap.scale"}},
		{"acid at the end", oil + "  - citric acid anhydrous: 2 g\n", "lye: sodium hydroxide, purity: 98 %, superfat: 5 %, water: 2 x lye, process: hot, after cooking: [citric acid anhydrous]", "1",
			[]string{"warning soap.late-acid"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			product := ""
			if strings.Contains(c.mix, "scent") {
				product = "---\nproduct: bar\ntype: bar soap\nexposure: rinse-off\nidentity: Soap\npiece: {dough: 100 g}\nslots: {scent: fine sea salt}\nnet: 90 g\n"
			}
			b, found := book.LoadFiles([]book.File{{Name: "book.yaml", Data: []byte("workshop: Example Soap Works\nsell in: [us]\n---\nmaterial: my oil\ninci: Olea Europaea Fruit Oil\nclass: oil\n" +
				"saponification value: 190 mg KOH/g\n---\nmaterial: lye in water\ncontains: {Sodium Hydroxide: 50 %, Aqua: 50 %}\n---\nformula: dough\nmix:\n" + c.mix + "saponify: {" + c.saponify + ", water left: all}\n" + product)}})
			if found.Count(finding.Error) > 0 {
				t.Fatal(found)
			}
			r, _ := label.NewDesk(&b.Workshop).Composer.Reaction(b.Formulas[0])
			if r == nil {
				t.Fatal("no lye calculation")
			}
			var got []string
			for _, f := range label.LyeDoubts(r, exact.Must(c.step)) {
				got = append(got, f.Severity.String()+" "+string(f.Rule))
				if !strings.HasPrefix(f.Message, "dough: ") || f.Cure == "" {
					t.Errorf("%s; %s", f.Message, f.Cure)
				}
			}
			if d := cmp.Diff(c.want, got); d != "" {
				t.Error("wanted (-), said (+):\n" + d)
			}
		})
	}
}
