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
		c := compose(t, p)
		for _, it := range c.Items {
			var sum exact.Rat
			ways, more := c.Trace(it.Material)
			if more { // four formulas may use one another in more ways than are listed
				if len(ways) != 100 {
					t.Fatalf("%d ways are not all", len(ways))
				}
				continue
			}
			for _, way := range ways {
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
			var weighed exact.Rat
			for _, s := range c.Steps() {
				weighed = weighed.Add(s.Weighed(it.Material))
			}
			if !weighed.Equal(it.Weight) {
				t.Errorf("%s: %v g are weighed in by the lines of the piece, it weighs %v g", it.Material.Name, weighed, it.Weight)
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
	var got []string
	ways, _ := compose(t, p).Trace(scent)
	for _, way := range ways {
		for _, s := range way {
			got = append(got, fmt.Sprintf("%s, %s: %v g", s.Within, s.Line.Text, s.Grams))
		}
	}
	if d := cmp.Diff([]string{"piece, base: 150 g: 150 g", "base, scent: 2 %: 3 g"}, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// Formulas that use one another twice have 2^40 ways; not all of them are
// listed, and it is said.
func TestTraceOfManyWays(t *testing.T) {
	f := mix("f0", line(soda, "50 %"), line(scent, "50 %"))
	for i := range 40 {
		f = mix(fmt.Sprint("f", i+1), line(f, "50 %"), line(f, "50 %"))
	}
	c := compose(t, piece(line(f, "100 g"), line(cocoa, "10 g")))
	ways, more := c.Trace(scent)
	if len(ways) != 100 || !more || len(ways[0]) != 42 {
		t.Errorf("%d ways of %d steps, more: %v", len(ways), len(ways[0]), more)
	}
	if ways, more := c.Trace(cocoa); len(ways) != 1 || more {
		t.Errorf("%d ways of what comes by one, more: %v", len(ways), more)
	}
}
