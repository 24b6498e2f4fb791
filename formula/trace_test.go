package formula_test

import (
	"fmt"
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Every way by which a material gets into the piece ends at its grams.
func TestTraceSumsToWeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawNested(t)
		composer := formula.NewComposer()
		c, bad := composer.Compose(p)
		if len(bad) > 0 {
			t.Fatal(bad)
		}
		for _, it := range c.Items {
			var sum exact.Rat
			for _, way := range composer.Trace(p, it.Material) {
				last := way[len(way)-1]
				if last.Line.Material != it.Material {
					t.Fatalf("a way to %s ends at %q", it.Material.Name, last.Line.Text)
				}
				for i := 1; i < len(way); i++ {
					if !way[i].Grams.Equal(way[i-1].Grams.Mul(way[i].Share)) {
						t.Errorf("%s: %v g is not %v of %v g", way[i].Line.Text, way[i].Grams, way[i].Share, way[i-1].Grams)
					}
				}
				sum = sum.Add(last.Grams)
			}
			if !sum.Equal(it.Weight) {
				t.Errorf("%s: the ways sum to %v g, it weighs %v g", it.Material.Name, sum, it.Weight)
			}
		}
	})
}

func TestTraceBySlot(t *testing.T) {
	base := mix("base", line(soda, "rest"), line("scent", "2 %"))
	p := piece(line(base, "150 g"))
	p.Slots = map[string]formula.Filling{"scent": {Material: scent}}
	c := formula.NewComposer()
	if comp, bad := c.Compose(p); comp == nil {
		t.Fatal(bad)
	}
	var got []string
	for _, way := range c.Trace(p, scent) {
		for _, s := range way {
			got = append(got, fmt.Sprintf("%s, %s: %v g", s.Within, s.Line.Text, s.Grams))
		}
	}
	if d := cmp.Diff([]string{"piece, base: 150 g: 150 g", "base, scent: 2 %: 3 g"}, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}
