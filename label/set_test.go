package label

import (
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// called gives a product a name and a net quantity.
func called(p *Product, name, g string) *Product {
	p.Name, p.Piece.Name, p.Net = name, name, net(g)
	return p
}

func twoFizzes() *Set {
	soda, acid := of("SODIUM BICARBONATE"), of("CITRIC ACID")
	hay := called(rinseOff(weigh(soda, "60"), weigh(acid, "30"), weigh(of("KAOLIN"), "9.8"), weigh(fragrance("hay", "LINALOOL 10"), "0.2")), "hay fizz", "100")
	pine := called(rinseOff(weigh(acid, "150"), weigh(soda, "50"), weigh(of("GLYCERIN"), "50")), "pine fizz", "250")
	s := &Set{Product: *plain(), Holds: []Held{{Product: hay, Count: 2}, {Product: pine, Count: 1}}}
	s.Name, s.Piece, s.Net = "winter two", formula.Piece{}, market.Quantity{}
	return s
}

func declareSet(s *Set, m inci.Market) *Declaration {
	return NewDesk(workshop()).DeclareSet(s, []inci.Market{m}, today)[0]
}

func lists(x *Declaration) string {
	var out []string
	for _, l := range x.Lists {
		out = append(out, l.Lead+" "+l.Text)
	}
	return strings.Join(out, "\n")
}

// S15: one list for each product, headed by its name; 21 CFR 701.3(o)(1): what
// all have in common in cumulative order, and where the others are.
func TestSetLists(t *testing.T) {
	for m, want := range map[inci.Market]string{
		inci.EU: "Hay fizz: Ingredients: Sodium Bicarbonate, Citric Acid, Kaolin, Parfum, Linalool\nPine fizz: Ingredients: Citric Acid, Glycerin, Sodium Bicarbonate",
		inci.GB: "Hay fizz: Ingredients: Sodium Bicarbonate, Citric Acid, Kaolin, Parfum, Linalool\nPine fizz: Ingredients: Citric Acid, Glycerin, Sodium Bicarbonate",
		// Citric acid 2 x 30 + 150 g, soda 2 x 60 + 50 g.
		inci.US: "Ingredients in all: Citric Acid, Sodium Bicarbonate\nAlso in Hay fizz: Kaolin, Fragrance\nAlso in Pine fizz: Glycerin",
	} {
		x := declareSet(twoFizzes(), m)
		if got := lists(x); got != want {
			t.Errorf("%s:\n got %s\nwant %s", m, got, want)
		}
		if !x.Verdict().Prints() {
			t.Errorf("%s: %s", m, grave(x))
		}
	}
	t.Run("a product of several pieces counts them all", func(t *testing.T) {
		s := twoFizzes()
		s.Holds[0].Product.Count, s.Holds[0].Count = 6, 1
		s.Holds[0].Product.Net = net("600")
		if got := lists(declareSet(s, inci.US)); !strings.HasPrefix(got, "Ingredients in all: Sodium Bicarbonate, Citric Acid\n") { // 410 g, 330 g
			t.Errorf("%s", got)
		}
	})
}

// Linalool is 0.02 % of the hay fizz: 0.0089 % of the whole set, had it been a mixture.
func TestSetIsNoMixture(t *testing.T) {
	x := declareSet(twoFizzes(), inci.EU)
	if r := allergen(t, x.Members[0], "Linalool"); !r.Declared || r.Greatest() != "0.0200" {
		t.Errorf("linalool %s %%, declared %v", r.Greatest(), r.Declared)
	}
	if x.Declared() != 1 {
		t.Errorf("%d allergens declared", x.Declared())
	}
}

func TestSetNet(t *testing.T) {
	t.Run("sum of its products", func(t *testing.T) {
		if got := declareSet(twoFizzes(), inci.EU).Net.Text; got != "450 g" {
			t.Errorf("%q", got)
		}
	})
	for _, c := range []struct {
		name   string
		change func(*Set)
		rule   finding.Code
	}{
		{"more than its products state", func(s *Set) { s.Net = net("451") }, "net.over"},
		{"a product in it states more than it weighs", func(s *Set) { s.Holds[0].Product.Net = net("101") }, "net.over"},
		{"the whole states more than the pieces weigh", func(s *Set) { s.Holds[0].Product.Net, s.Net = net("110"), net("455") }, "net.over"},
		{"less than its products state", func(s *Set) { s.Net = net("440") }, ""},
		{"a product without a weight", func(s *Set) { s.Holds[1].Product.Net = market.Quantity{} }, "net.missing"},
		{"nothing in it", func(s *Set) { s.Holds = nil }, "set.empty"},
	} {
		s := twoFizzes()
		c.change(s)
		x := declareSet(s, inci.EU)
		switch {
		case c.rule == "" && !x.Verdict().Prints():
			t.Errorf("%s: %s", c.name, grave(x))
		case c.rule != "" && len(found(x.Findings, c.rule)) == 0:
			t.Errorf("%s: %v", c.name, x.Findings)
		}
	}
}

func TestSetSpeaksOfItsProducts(t *testing.T) {
	s := twoFizzes()
	s.Holds[0].Product.Exposure = Unstated
	f := found(declareSet(s, inci.EU).Findings, "product.exposure")
	if len(f) != 1 || f[0].Product != "hay fizz" || f[0].Market != "eu" {
		t.Errorf("%v", f)
	}
	s = twoFizzes()
	s.Holds[1].Product.Piece.Lines = []formula.Line{{Slot: "scent", Amount: formula.Amount{Value: percent("100")}}}
	f = found(declareSet(s, inci.EU).Findings, formula.RuleUnfilledSlot)
	if len(f) != 1 || f[0].Product != "pine fizz" || f[0].Market != "eu" {
		t.Errorf("a piece that does not compose: %v", f)
	}
}
