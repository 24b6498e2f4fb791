package label

import (
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/date"
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

// S21: a set of a dated product and one with an open-jar period bears both, or is asked for what lacks.
func TestSetOfDateAndJar(t *testing.T) {
	for _, c := range []struct {
		name   string
		opened int
		want   string
	}{{"both stated", 12, "/12M"}, {"no period after opening", 0, ""}} {
		s := twoFizzes()
		s.Keeps = Durability{}
		s.Holds[0].Product.Keeps, s.Holds[1].Product.Keeps = Durability{Keeps: 24, Before: date.Of(2027, 5, 31)}, Durability{Keeps: 36, Opened: c.opened}
		x := declareSet(s, inci.EU)
		texts := []string{}
		for _, st := range x.Statements {
			if st.Kind == DurabilityText {
				texts = append(texts, st.Text)
			}
		}
		missing := len(found(x.Findings, "eu.missing.durability"))
		if got := strings.Join(texts, "/"); !strings.HasSuffix(got, c.want) || len(texts) < 1 || (missing == 0) != (c.want != "") {
			t.Errorf("%s: %q, %d missing: %s", c.name, got, missing, grave(x))
		}
	}
}

// An error of a product inside a set holds the whole set back, in that market alone.
func TestSetHeldBackByItsProducts(t *testing.T) {
	s := twoFizzes()
	over := pure("kept", "PHENOXYETHANOL", "preservative") // Annex V entry 29: 1 % at most
	s.Holds[1].Product.Piece.Lines = append(s.Holds[1].Product.Piece.Lines, weigh(over, "5"))
	x := declareSet(s, inci.EU)
	if f := found(x.Findings, "eu.annex-v.limit"); len(f) != 1 || f[0].Product != "pine fizz" || x.Verdict().Prints() || x.Verdict().String() != "DO NOT PRINT" {
		t.Errorf("%s: %v", x.Verdict(), f)
	}
	if x := declareSet(s, inci.US); !x.Verdict().Prints() {
		t.Errorf("US: %s", grave(x))
	}
	// So does a question of one, until it is answered.
	s = twoFizzes()
	s.Holds[0].Product.LooksLikeFood = SaidYes
	if x := declareSet(s, inci.EU); x.Verdict().Prints() {
		t.Errorf("a piece like food: %s", x.Verdict())
	}
}

// A set that states a count and no weight is judged as a product that does is.
func TestSetOfACountAlone(t *testing.T) {
	for m, want := range map[inci.Market]string{inci.EU: "eu.net.count-question", inci.US: "us.net.count-alone"} {
		s := twoFizzes()
		for i := range s.Holds {
			s.Holds[i].Product.Net = market.Quantity{}
		}
		s.Count, s.CountWords = 3, "bath fizzes"
		x := declareSet(s, m)
		if len(found(x.Findings, finding.Code(want))) != 1 || len(found(x.Findings, "net.missing")) != 0 {
			t.Errorf("%s: %s", m, grave(x))
		}
		if m == inci.EU && x.Net.Text != "3 bath fizzes" {
			t.Errorf("%q", x.Net.Text)
		}
	}
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

// S21: the shortest component governs; a date that follows from a lot is left to
// be written in.
func TestDurabilityOfASet(t *testing.T) {
	day := date.Of
	for _, c := range []struct {
		name      string
		own, a, b Durability
		want      Durability
	}{
		{"months", Durability{}, Durability{Keeps: 24}, Durability{Keeps: 18}, Durability{Keeps: 18}},
		{"the set's own", Durability{Keeps: 12}, Durability{Keeps: 24}, Durability{Keeps: 18}, Durability{Keeps: 12}},
		{"days", Durability{}, Durability{Before: day(2027, 5, 31)}, Durability{Before: day(2027, 3, 31)}, Durability{Before: day(2027, 3, 31)}},
		{"a day beside months that end in a day of their own", Durability{}, Durability{Before: day(2027, 5, 31)}, Durability{Keeps: 24}, Durability{Keeps: 24}},
		{"a day beside what keeps long", Durability{}, Durability{Before: day(2027, 5, 31)}, Durability{Keeps: 36, Opened: 12}, Durability{Keeps: 36, Opened: 12, Before: day(2027, 5, 31), Both: true}},
		{"a date beside an open jar", Durability{}, Durability{Keeps: 24}, Durability{Keeps: 36, Opened: 12}, Durability{Keeps: 24, Opened: 12, Both: true}},
		{"a date beside an open jar that does not say", Durability{}, Durability{Keeps: 24, Opened: 3}, Durability{Keeps: 36}, Durability{Keeps: 24, Both: true}},
		{"a date beside what is used up in one go", Durability{}, Durability{Keeps: 24}, Durability{Keeps: 36, SingleUse: true}, Durability{Keeps: 24}},
		{"the set's own period beside a date", Durability{Opened: 6}, Durability{Keeps: 24}, Durability{Keeps: 36}, Durability{Keeps: 24, Opened: 6, Both: true}},
		{"one open jar does not say", Durability{}, Durability{Keeps: 36, Opened: 12}, Durability{Keeps: 48}, Durability{Keeps: 36}},
		{"one states nothing", Durability{}, Durability{Keeps: 24, Before: day(2027, 5, 31)}, Durability{}, Durability{}},
		{"open jars", Durability{}, Durability{Keeps: 36, Opened: 12}, Durability{Keeps: 48, Opened: 6}, Durability{Keeps: 36, Opened: 6}},
		{"single use waives the jar", Durability{}, Durability{Keeps: 36, SingleUse: true}, Durability{Keeps: 48, Opened: 6}, Durability{Keeps: 36, Opened: 6}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := Set{Product: Product{Keeps: c.own}, Holds: []Held{{Product: &Product{Keeps: c.a}, Count: 1}, {Product: &Product{Keeps: c.b}, Count: 1}}}
			if got := s.durability(); got != c.want {
				t.Errorf("%+v, want %+v", got, c.want)
			}
			s.Holds[0], s.Holds[1] = s.Holds[1], s.Holds[0]
			if got := s.durability(); got != c.want {
				t.Errorf("the other way round: %+v, want %+v", got, c.want)
			}
		})
	}
}
