package main

import (
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gopkg.in/yaml.v3"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
)

const starterDir = "../../templates/starter"

func starter(t *testing.T) *book.Book {
	t.Helper()
	b, found := book.Load(starterDir)
	if n := found.Count(finding.Error); n > 0 {
		t.Fatalf("the starter book has %d errors; the first: %s", n, found[0].Line())
	}
	return b
}

// worked is what a declaration must say, as worked out by hand in
// testdata/starter/expected.yaml.
type worked struct {
	List      string
	Net       string
	Shares    []string
	Allergens []string
}

// TestStarterByHand compares the program with lists, shares, allergens and nets
// that were worked out apart from it.
func TestStarterByHand(t *testing.T) {
	data, err := os.ReadFile("../../testdata/starter/expected.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var want struct {
		On    string
		Cases []struct {
			Product, Market string
			worked          `yaml:",inline"`
		}
	}
	if err := yaml.Unmarshal(data, &want); err != nil {
		t.Fatal(err)
	}
	on, err := date.Parse(want.On)
	if err != nil {
		t.Fatal(err)
	}
	b := starter(t)
	products := map[string]*label.Product{}
	for _, p := range b.Products {
		products[p.Name] = p
	}
	desk := label.NewDesk(&b.Workshop)
	if len(want.Cases) < 12 {
		t.Fatalf("only %d cases", len(want.Cases))
	}
	for _, c := range want.Cases {
		t.Run(c.Product+" "+c.Market, func(t *testing.T) {
			p := products[c.Product]
			if p == nil {
				t.Fatal("no such product")
			}
			d := desk.Declare(p, []inci.Market{inci.Market(c.Market)}, date.Occasion{On: on, Placed: on})[0]
			got := worked{List: d.Text(), Net: d.Net.Text, Allergens: []string{}}
			for _, e := range d.Entries {
				got.Shares = append(got.Shares, label.Percent(e.Share.Typical, 4, exact.Nearest))
			}
			for _, a := range d.Allergens {
				if a.Declared {
					got.Allergens = append(got.Allergens, a.Entry.Name)
				}
			}
			if diff := cmp.Diff(c.worked, got); diff != "" {
				t.Error("by hand (-), by the program (+):\n" + diff)
			}
		})
	}
}

// TestStarterVerdicts: every product may be printed in every market it is sold
// in, but for the one that is faulty on purpose.
func TestStarterVerdicts(t *testing.T) {
	b := starter(t)
	desk := label.NewDesk(&b.Workshop)
	used := map[string]bool{}
	for _, on := range []date.Date{date.Of(2026, 11, 25), date.Of(2026, 12, 31)} {
		o := date.Occasion{On: on, Placed: on}
		for _, p := range b.Products {
			for _, d := range desk.Declare(p, p.SellIn, o) {
				for _, it := range d.Composition.Items {
					used[it.Material.Name] = true
				}
				if prints := d.Verdict().Prints(); prints == (p.Name == "crooked fizz") {
					t.Errorf("%s, %s, %s: %s: %v", p.Name, d.Market, on, d.Verdict(), d.Findings)
				}
			}
		}
		for _, s := range b.Sets {
			for _, d := range desk.DeclareSet(s, s.SellIn, o) {
				if !d.Verdict().Prints() {
					t.Errorf("%s, %s, %s: %s: %v", s.Name, d.Market, on, d.Verdict(), d.Findings)
				}
			}
		}
	}
	if len(b.Products) < 15 || len(b.Sets) < 1 || len(used) < 40 {
		t.Errorf("the starter book has shrunk: %d products, %d sets, %d materials", len(b.Products), len(b.Sets), len(used))
	}
}
