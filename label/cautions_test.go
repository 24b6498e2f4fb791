package label

import (
	"slices"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// oneOf returns the only finding of a rule.
func oneOf(t *testing.T, x *Declaration, rule finding.Code) finding.Finding {
	t.Helper()
	f := found(x.Findings, rule)
	if len(f) != 1 {
		t.Fatalf("%s: %d findings of %s: %v", x.Market, len(f), rule, x.Findings)
	}
	return f[0]
}

// never fails if there is a finding of the rule.
func never(t *testing.T, x *Declaration, rule finding.Code) {
	t.Helper()
	if f := found(x.Findings, rule); len(f) > 0 {
		t.Errorf("%s: %v", x.Market, f)
	}
}

func soda(g string) formula.Line { return weigh(of("SODIUM BICARBONATE"), g) }

func changed(p *Product, f func(*Product)) *Product { f(p); return p }

func foaming() *formula.Material {
	return pure("foam powder", "SODIUM LAURYL SULFOACETATE", "surfactant")
}

// 21 CFR 740.17: a product for the bath, that foams, with a detergent or
// foaming ingredient.
func TestFoamBath(t *testing.T) {
	// The words of 740.17(b), 51 FR 20475, and of (c).
	const words = "Caution—Use only as directed. Excessive use or prolonged exposure may cause irritation to skin and urinary tract. " +
		"Discontinue use if rash, redness, or itching occurs. Consult your physician if irritation persists. Keep out of reach of children."
	const children = "Keep out of reach of children except under adult supervision."
	directed := func(p *Product) { p.Directions = Wording{"en": "Crumble a third of it under the tap."} }
	printed := func(x *Declaration) []Statement {
		return slices.DeleteFunc(slices.Clone(x.Statements), func(s Statement) bool { return s.Kind != CautionText || !strings.Contains(s.Text, "urinary") })
	}
	bath := func(more ...func(*Product)) *Product {
		p := rinseOff(soda("95"), weigh(foaming(), "5"))
		for _, f := range append([]func(*Product){directed}, more...) {
			f(p)
		}
		return p
	}
	t.Run("the caution is added", func(t *testing.T) {
		x := declareIn(inci.US, bath(), today)
		s := printed(x)
		if len(s) != 1 || s[0].Text != words || !s[0].Bold || s[0].Height.Min != 1588 { // 740.2: bold, 1/16 in, rounded up to whole micrometres
			t.Errorf("%+v", s)
		}
		f := oneOf(t, x, "us.foam-bath")
		if f.Severity != finding.Note || !strings.Contains(f.Message, "5 g of Sodium Lauryl Sulfoacetate in foam powder (“5 g” in hay fizz)") || f.Source.Text != "21 CFR 740.17(a)-(b)" {
			t.Errorf("%+v", f)
		}
		never(t, x, "us.foam-bath.directions")
	})
	t.Run("for children", func(t *testing.T) {
		s := printed(declareIn(inci.US, bath(func(p *Product) { p.ForChildren = true }), today))
		if len(s) != 1 || !strings.HasSuffix(s[0].Text, children) {
			t.Errorf("%+v", s)
		}
	})
	t.Run("no directions", func(t *testing.T) {
		x := declareIn(inci.US, bath(func(p *Product) { p.Directions = nil }), today)
		if f := oneOf(t, x, "us.foam-bath.directions"); f.Severity != finding.Error {
			t.Errorf("%+v", f)
		}
	})
	t.Run("adults only, and the pack does not say so", func(t *testing.T) {
		x := declareIn(inci.US, bath(func(p *Product) { p.AdultsOnly = true }), today)
		if f := oneOf(t, x, "us.foam-bath.adults"); f.Severity != finding.Error || len(printed(x)) > 0 {
			t.Errorf("%+v %v", f, printed(x))
		}
	})
	t.Run("adults only, and the pack says so", func(t *testing.T) {
		x := declareIn(inci.US, bath(func(p *Product) {
			p.AdultsOnly = true
			p.Cautions = []Wording{{"en": "For use exclusively by adults."}}
		}), today)
		never(t, x, "us.foam-bath.adults")
		if len(printed(x)) > 0 {
			t.Error(printed(x))
		}
	})
	t.Run("in the maker's own words", func(t *testing.T) {
		x := declareIn(inci.US, bath(func(p *Product) { p.Cautions = []Wording{{"en": "May irritate skin and urinary tract."}} }), today)
		if f := oneOf(t, x, "us.foam-bath.words"); f.Severity != finding.Error {
			t.Errorf("%+v", f)
		}
	})
	t.Run("written out already", func(t *testing.T) {
		x := declareIn(inci.US, bath(func(p *Product) { p.Cautions = []Wording{{"en": words}} }), today)
		never(t, x, "us.foam-bath.words")
		if len(printed(x)) != 1 {
			t.Errorf("%+v", printed(x))
		}
	})
	t.Run("by its type alone", func(t *testing.T) {
		p := changed(rinseOff(soda("100")), directed)
		p.Type = "bubble bath"
		if x := declareIn(inci.US, p, today); len(printed(x)) != 1 {
			t.Error(x.Findings)
		}
	})
	t.Run("in a set", func(t *testing.T) {
		s := twoFizzes()
		s.Holds[1].Product.Piece.Lines = append(s.Holds[1].Product.Piece.Lines, weigh(foaming(), "3"))
		if x := declareSet(s, inci.US); len(printed(x)) != 1 {
			t.Error(x.Findings)
		}
	})
	solubiliser := pure("polysorbate 80", "POLYSORBATE 80", "solubiliser")
	premix := func(k formula.Key) *formula.Material {
		return blend("premix", "", part(k, "40"), part("ZEA MAYS STARCH", "60"))
	}
	if x := declareIn(inci.US, changed(rinseOff(soda("95"), weigh(premix("SODIUM LAURYL SULFOACETATE"), "5")), directed), today); len(printed(x)) != 1 {
		t.Errorf("inside a premix: %v", x.Findings)
	}
	for name, p := range map[string]*Product{
		"a solubiliser does not foam": rinseOff(soda("95"), weigh(solubiliser, "5")),
		"nor inside a premix":         rinseOff(soda("95"), weigh(premix("POLYSORBATE 80"), "5")),
		"not for the bath":            changed(bath(), func(p *Product) { p.Type = "shampoo bar" }),
	} {
		if x := declareIn(inci.US, p, today); len(printed(x))+len(found(x.Findings, "us.foam-bath")) > 0 {
			t.Errorf("%s: %v", name, x.Findings)
		}
	}
	if x := declareIn(inci.EU, bath(), today); len(printed(x))+len(found(x.Findings, "us.foam-bath")) > 0 {
		t.Errorf("a rule of the United States: %v", x.Findings)
	}
}

func butter(name string) *formula.Material {
	return pure(name, "THEOBROMA CACAO SEED BUTTER", "butter")
}

// Common practice of the trade, no source: at most half an ounce, 14.17476... g,
// of oils and butters, or of a butter-rich melt, in one bath.
func TestSlipperyDose(t *testing.T) {
	half := exact.Must("14.1747615625") // half of 28.349523125 g
	cocoa := butter("cocoa butter")
	melt := mix("core", "", soda("80"), weigh(cocoa, "20"))     // exactly a fifth is fat
	lean := mix("core", "", soda("80.1"), weigh(cocoa, "19.9")) // just below
	above := half.Add(exact.Must("0.0000001")).String()
	for _, c := range []struct {
		name  string
		lines []formula.Line
		dose  Dose
		says  string // "" for no finding
	}{
		{"exactly half an ounce of butter", []formula.Line{soda("100"), weigh(cocoa, half.String())}, Dose{}, ""},
		{"just above", []formula.Line{soda("100"), weigh(cocoa, above)}, Dose{}, "14.18 g of oils and butters"},
		{"two pieces", []formula.Line{soda("100"), weigh(cocoa, "8")}, Dose{Pieces: exact.Int(2), Text: "2 pieces"}, "a dose of 2 pieces puts into one bath 16 g of oils and butters"},
		{"a small dose of a large piece", []formula.Line{soda("100"), weigh(cocoa, "100")}, Dose{Grams: exact.Int(28), Text: "28 g"}, ""},
		{"a rich melt of half an ounce", []formula.Line{soda("100"), weigh(melt, half.String())}, Dose{}, ""},
		{"a rich melt just above", []formula.Line{soda("100"), weigh(melt, above)}, Dose{}, "14.18 g of core, 20.0 % of it oils and butters (more than 1/2 oz (14.17 g) of a butter-rich melt"},
		{"a lean mix", []formula.Line{soda("100"), weigh(lean, "50")}, Dose{}, ""},
		{"a rich melt inside a mix", []formula.Line{weigh(mix("whole", "", weigh(melt, "20"), soda("80")), "100")}, Dose{}, "20 g of core"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := rinseOff(c.lines...)
			p.Dose = c.dose
			x := declareIn(inci.GB, p, today)
			if c.says == "" {
				never(t, x, "bath.slippery.dose")
				return
			}
			f := oneOf(t, x, "bath.slippery.dose")
			if f.Severity != finding.Warning || !strings.Contains(f.Message, c.says) || f.Source != practice {
				t.Errorf("%+v", f)
			}
		})
	}
	t.Run("the dose that is named passes", func(t *testing.T) {
		p := rinseOff(soda("60"), weigh(cocoa, "30"), weigh(melt, "40"))
		f := oneOf(t, declareIn(inci.US, p, today), "bath.slippery.dose")
		if !strings.Contains(f.Message, "38 g of cocoa butter (“30 g” in hay fizz and “20 g” in core)") {
			t.Errorf("the lines are not named: %s", f.Message)
		}
		_, after, _ := strings.Cut(f.Cure, "write dose: ")
		g, _, _ := strings.Cut(after, " g")
		p.Dose = Dose{Grams: exact.Must(g), Text: g + " g"}
		never(t, declareIn(inci.US, p, today), "bath.slippery.dose")
		p.Dose.Grams = p.Dose.Grams.Add(exact.Must("0.1"))
		oneOf(t, declareIn(inci.US, p, today), "bath.slippery.dose")
	})
	never(t, declareIn(inci.US, leaveOn(weigh(cocoa, "50")), today), "bath.slippery.dose")
}

func TestSlipperyCaution(t *testing.T) {
	oily := func(cautions ...Wording) *Product {
		p := rinseOff(soda("98"), weigh(butter("cocoa butter"), "2"))
		p.Cautions = cautions
		return p
	}
	f := oneOf(t, declareIn(inci.EU, oily(), today), "bath.slippery.caution")
	if f.Severity != finding.Warning || !strings.Contains(f.Message, "2 g of cocoa butter in hay fizz") {
		t.Errorf("%+v", f)
	}
	for _, w := range []Wording{{"phrase": "caution.slippery"}, {"en": "Mind the slippery tub.", "de": "Die Wanne wird rutschig."}, {"fr": "Le bain devient glissant."}} {
		never(t, declareIn(inci.EU, oily(w), today), "bath.slippery.caution")
	}
	oneOf(t, declareIn(inci.EU, oily(Wording{"en": "Keep out of eyes.", "de": "Nicht in die Augen bringen."}), today), "bath.slippery.caution")
	never(t, declareIn(inci.EU, rinseOff(soda("100")), today), "bath.slippery.caution")
	scrub := oily()
	scrub.Type = "sugar scrub"
	oneOf(t, declareIn(inci.EU, scrub, today), "bath.slippery.caution")
	never(t, declareIn(inci.EU, leaveOn(weigh(butter("cocoa butter"), "50")), today), "bath.slippery.caution")

	s := twoFizzes()
	s.Holds[0].Product.Piece.Lines = append(s.Holds[0].Product.Piece.Lines, weigh(butter("cocoa butter"), "2"))
	oneOf(t, declareSet(s, inci.EU), "bath.slippery.caution")
	s.Cautions = []Wording{{"phrase": "caution.slippery"}}
	never(t, declareSet(s, inci.EU), "bath.slippery.caution")
}

func TestResidue(t *testing.T) {
	oil := pure("almond oil", "PRUNUS AMYGDALUS DULCIS OIL", "oil")
	f := oneOf(t, declareIn(inci.CA, rinseOff(soda("98"), weigh(oil, "2")), today), "bath.residue")
	if f.Severity != finding.Note || !strings.HasPrefix(f.Message, "2 g of almond oil (“2 g” in hay fizz): ") {
		t.Errorf("%+v", f)
	}
	for _, m := range []*formula.Material{
		pure("polysorbate 80", "POLYSORBATE 80", "solubiliser"), foaming(),
		blend("mixed wax", "wax", part("CETEARYL ALCOHOL", "75"), part("POLYSORBATE 60", "25")),
	} {
		never(t, declareIn(inci.CA, rinseOff(soda("97"), weigh(oil, "2"), weigh(m, "1")), today), "bath.residue")
	}
	never(t, declareIn(inci.CA, rinseOff(soda("100")), today), "bath.residue")
}

// Topics that rest on what a substance is: in one market, on one day, with one
// exposure, said or not said on the pack.
func TestTopics(t *testing.T) {
	with5 := func(m *formula.Material) func() *Product {
		return func() *Product { return rinseOff(soda("95"), weigh(m, "5")) }
	}
	stays := func(m *formula.Material) func() *Product {
		return func() *Product { return leaveOn(weigh(of("CERA ALBA"), "95"), weigh(m, "5")) }
	}
	acid := pure("lactic acid", "LACTIC ACID", "acid")
	borax := pure("borax", "SODIUM BORATE", "base")
	urea := pure("preservative", "DIAZOLIDINYL UREA", "preservative")
	lye := pure("lye", "SODIUM HYDROXIDE", "lye")
	glitter := pure("sparkle", "POLYETHYLENE TEREPHTHALATE", "glitter")
	beads := pure("beads", "POLYETHYLENE", "exfoliant")
	bergamot := essential("CITRUS AURANTIUM BERGAMIA PEEL OIL")
	mint := essential("MENTHA PIPERITA OIL")
	gum := essential("EUCALYPTUS GLOBULUS LEAF OIL")
	says := func(texts ...string) func(*Product) {
		return func(p *Product) {
			for _, s := range texts {
				p.Cautions = append(p.Cautions, Wording{"en": s, "de": s, "fr": s})
			}
		}
	}
	young := func(p *Product) { p.ForChildren = true }
	typed := func(s string) func(*Product) { return func(p *Product) { p.Type = s } }
	for _, c := range []struct {
		name   string
		m      inci.Market
		p      func() *Product
		change func(*Product)
		on     date.Occasion
		rule   finding.Code
		want   finding.Severity
		not    bool // no such finding
	}{
		{"acid that stays on", inci.US, stays(acid), nil, today, "us.aha", finding.Question, false},
		{"acid that stays on, said", inci.US, stays(acid), says("Sunburn Alert: use a sunscreen."), today, "us.aha", 0, true},
		{"acid that stays on in Canada", inci.CA, stays(acid), nil, today, "ca.aha", finding.Question, false},
		{"acid that is rinsed off", inci.US, with5(acid), nil, today, "us.aha", 0, true},
		{"acid that is rinsed off: a note", inci.US, with5(acid), nil, today, "us.aha.rinse-off", finding.Note, false},
		{"acid that is rinsed off in Canada", inci.CA, with5(acid), nil, today, "ca.aha.rinse-off", finding.Note, false},
		{"acid in the EU", inci.EU, stays(acid), nil, today, "eu.aha", 0, true},
		{"no acid", inci.US, with5(of("SODIUM CHLORIDE")), nil, today, "us.aha.rinse-off", 0, true},

		{"borax in the US", inci.US, with5(borax), nil, today, "us.borate", finding.Note, false},
		{"borax in Canada", inci.CA, with5(borax), nil, today, "ca.borate", finding.Question, false},
		{"no borax", inci.CA, with5(of("SODIUM CHLORIDE")), nil, today, "ca.borate", 0, true},

		{"lye", inci.EU, with5(lye), nil, today, "product.lye", finding.Error, false},
		{"lye in water", inci.US, with5(blend("lye solution", "", part("SODIUM HYDROXIDE", "30"), part("AQUA", "70"))), nil, today, "product.lye", finding.Error, false},
		{"a trace in a soap base", inci.US, with5(blend("soap base", "", part("SODIUM STEARATE", "99"), part("SODIUM HYDROXIDE", "1"))), nil, today, "product.lye", 0, true},

		// Regulation (EU) 2022/1181: new from 2024-08-01, stock from 2026-08-01.
		{"formaldehyde", inci.EU, with5(urea), nil, today, "eu.formaldehyde", finding.Question, false},
		{"formaldehyde, said", inci.EU, with5(urea), says("Releases formaldehyde."), today, "eu.formaldehyde", 0, true},
		{"formaldehyde, the old words", inci.EU, with5(urea), says("Contains formaldehyde."), today, "eu.formaldehyde", finding.Question, false},
		{"formaldehyde, the old words on old stock", inci.EU, with5(urea), says("Contains formaldehyde."), stock("2024-07-31", "2026-07-31"), "eu.formaldehyde", 0, true},
		{"formaldehyde, old stock after its end", inci.EU, with5(urea), says("Contains formaldehyde."), stock("2024-07-31", "2026-08-01"), "eu.formaldehyde", finding.Question, false},
		{"formaldehyde in GB", inci.GB, with5(urea), says("Contains formaldehyde."), fresh("2026-07-15"), "gb.formaldehyde", finding.Question, false},
		{"formaldehyde in GB, the day before", inci.GB, with5(urea), says("Contains formaldehyde."), fresh("2026-07-14"), "gb.formaldehyde", 0, true},
		{"formaldehyde in Washington State", inci.US, with5(urea), nil, fresh("2027-01-01"), "us.formaldehyde", finding.Question, false},
		{"formaldehyde in Washington State before", inci.US, with5(urea), nil, fresh("2026-12-31"), "us.formaldehyde", 0, true},

		{"nano", inci.EU, with5(pure("white", "TITANIUM DIOXIDE (NANO)", "pigment")), nil, today, "eu.nano", finding.Question, false},
		{"no nano", inci.EU, with5(pure("white", "CI 77891", "pigment")), nil, today, "eu.nano", 0, true},

		// REACH Annex XVII entry 78 paragraph 6: rinse-off 2027-10-17, leave-on 2029-10-17, lips 2035-10-17.
		{"glitter, the day before", inci.EU, with5(glitter), nil, fresh("2027-10-16"), "eu.microplastic", 0, true},
		{"glitter, said beforehand", inci.EU, with5(glitter), nil, fresh("2027-10-16"), "eu.microplastic.coming", finding.Note, false},
		{"glitter, from the day", inci.EU, with5(glitter), nil, fresh("2027-10-17"), "eu.microplastic", finding.Error, false},
		{"glitter, old stock", inci.EU, with5(glitter), nil, stock("2027-10-16", "2028-10-17"), "eu.microplastic", 0, true},
		{"glitter that stays on", inci.EU, stays(glitter), nil, fresh("2027-10-17"), "eu.microplastic", 0, true},
		{"glitter that stays on, from the day", inci.EU, stays(glitter), nil, fresh("2029-10-17"), "eu.microplastic", finding.Error, false},
		{"beads since 2023", inci.EU, with5(beads), nil, fresh("2023-10-17"), "eu.microplastic", finding.Error, false},
		{"beads before", inci.EU, with5(beads), nil, fresh("2023-10-16"), "eu.microplastic", 0, true},
		{"a polymer that may be dissolved", inci.EU, with5(pure("film", "ACRYLATES COPOLYMER", "thickener")), nil, fresh("2027-10-17"), "eu.microplastic", finding.Question, false},
		{"beads in Canada", inci.CA, with5(beads), nil, today, "ca.microbeads", finding.Error, false},
		{"glitter in Canada", inci.CA, with5(glitter), nil, today, "ca.microbeads", finding.Question, false},
		{"beads in the US", inci.US, with5(beads), nil, today, "us.microbeads", finding.Error, false},
		{"glitter in the US", inci.US, with5(glitter), nil, today, "us.microbeads", 0, true},
		{"glitter in GB", inci.GB, with5(glitter), nil, today, "gb.microplastic", finding.Error, false},
		{"glitter in NI", inci.NI, with5(glitter), nil, today, "ni.microplastic", finding.Error, false},

		{"pressed citrus that stays on", inci.US, stays(bergamot), nil, today, "oil.phototoxic", finding.Question, false},
		{"pressed citrus, said", inci.US, stays(bergamot), says("Keep out of the sun."), today, "oil.phototoxic", 0, true},
		{"pressed citrus in a bath", inci.US, with5(bergamot), nil, today, "oil.phototoxic", 0, true},
		{"sweet orange", inci.US, stays(essential("CITRUS AURANTIUM DULCIS PEEL OIL")), nil, today, "oil.phototoxic", 0, true},
		{"mint in a bath", inci.EU, with5(mint), nil, today, "oil.strong", finding.Note, false},
		{"mint in a bath, said", inci.EU, with5(mint), says("Keep out of eyes."), today, "oil.strong", 0, true},
		{"mint in a balm", inci.EU, stays(mint), nil, today, "oil.strong", 0, true},
		{"mint for children", inci.EU, with5(mint), young, today, "oil.children", finding.Question, false},
		{"mint", inci.EU, with5(mint), nil, today, "oil.children", 0, true},
		{"eucalyptus in Canada", inci.CA, stays(gum), typed("body oil"), today, "ca.eucalyptus", finding.Question, false},
		{"eucalyptus in a solid product", inci.CA, with5(gum), nil, today, "ca.eucalyptus", 0, true},
		{"eucalyptus, said", inci.CA, stays(gum), func(p *Product) {
			typed("body oil")(p)
			says("In case of accidental ingestion, call a Poison Control Centre.")(p)
		}, today, "ca.eucalyptus", 0, true},

		{"an offer in the EU", inci.EU, with5(of("SODIUM CHLORIDE")), nil, today, "eu.offer", finding.Note, false},
		{"an offer in NI", inci.NI, with5(of("SODIUM CHLORIDE")), nil, today, "ni.offer", finding.Note, false},
		{"an offer in GB", inci.GB, with5(of("SODIUM CHLORIDE")), nil, today, "gb.offer", 0, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := c.p()
			if c.change != nil {
				c.change(p)
			}
			x := declareIn(c.m, p, c.on)
			if c.not {
				never(t, x, c.rule)
				return
			}
			if f := oneOf(t, x, c.rule); f.Severity != c.want || f.Message == "" || f.Cure == "" || f.Source.Text == "" {
				t.Errorf("%+v", f)
			}
		})
	}
}

// Art. 19(1)(g): the name of a nanomaterial is followed by "(nano)", in these letters.
func TestNanoName(t *testing.T) {
	p := rinseOff(soda("95"), weigh(pure("white", "TITANIUM DIOXIDE (NANO)", "pigment"), "5"))
	wantList(t, declareIn(inci.EU, p, today), "Sodium Bicarbonate, Titanium Dioxide (nano)")
}

// What is prohibited outright is said once, with the entry of the list.
func TestBorateSaidOnce(t *testing.T) {
	x := declareIn(inci.EU, rinseOff(soda("95"), weigh(pure("borax", "SODIUM BORATE", "base"), "5")), today)
	n := len(found(x.Findings, "eu.borate")) + len(found(x.Findings, "eu.prohibited"))
	if n != 1 || x.Verdict().Prints() {
		t.Errorf("%d: %v", n, x.Findings)
	}
	// Annex II entry 1396 names salts and esters as a group: this one is not in its list.
	other := rinseOff(soda("95"), weigh(pure("boron", "CALCIUM FRUCTOBORATE", "other"), "5"))
	if f := oneOf(t, declareIn(inci.EU, other, today), "eu.borate"); f.Severity != finding.Error {
		t.Errorf("%+v", f)
	}
	never(t, declareIn(inci.EU, rinseOff(soda("100")), today), "eu.borate")
}

// Cosmetic Ingredient Hotlist, as reported: eucalyptus oil above 0.022 %. REACH
// entry 78 speaks of 0.01 % or more. The amount in the cure passes.
func TestTopicLimits(t *testing.T) {
	gum, pet := essential("EUCALYPTUS GLOBULUS LEAF OIL"), pure("sparkle", "POLYETHYLENE TEREPHTHALATE", "glitter")
	for _, c := range []struct {
		name, share string // grams in 100 g
		m           *formula.Material
		market      inci.Market
		on          date.Occasion
		rule        finding.Code
		want        bool
	}{
		{"eucalyptus at the limit", "0.022", gum, inci.CA, today, "ca.eucalyptus", false},
		{"eucalyptus above", "0.0220001", gum, inci.CA, today, "ca.eucalyptus", true},
		{"plastic below the limit", "0.0099999", pet, inci.EU, fresh("2029-10-17"), "eu.microplastic", false},
		{"plastic at the limit", "0.01", pet, inci.EU, fresh("2029-10-17"), "eu.microplastic", true},
	} {
		p := leaveOn(weigh(of("SQUALANE"), exact.Int(100).Sub(exact.Must(c.share)).String()), weigh(c.m, c.share))
		p.Type = "body oil"
		f := found(declareIn(c.market, p, c.on).Findings, c.rule)
		if (len(f) == 1) != c.want {
			t.Errorf("%s: %v", c.name, f)
		}
	}
	p := leaveOn(weigh(of("SQUALANE"), "199"), weigh(gum, "1"))
	p.Type = "body oil"
	f := oneOf(t, declareIn(inci.CA, p, today), "ca.eucalyptus")
	if !strings.HasPrefix(f.Message, "1 g of Eucalyptus Globulus Leaf Oil (“1 g” in hay fizz), 0.5000 % of the piece: ") || !strings.HasPrefix(f.Cure, "use at most 0.044 g in a piece") {
		t.Errorf("%+v", f)
	}
}

// Menthol inside peppermint oil adds no weight to it; inside a scent it counts.
func TestOfWhich(t *testing.T) {
	for _, c := range []struct {
		m    *formula.Material
		says string
	}{
		{essential("MENTHA PIPERITA OIL", "MENTHOL 40"), "2 g of Mentha Piperita Oil (“2 g” in hay fizz), 2.00 % of the piece: "},
		{fragrance("hay", "MENTHOL 40"), "0.8 g of Menthol in hay (“2 g” in hay fizz), 0.800 % of the piece: "},
	} {
		f := oneOf(t, declareIn(inci.US, rinseOff(soda("98"), weigh(c.m, "2")), today), "oil.strong")
		if !strings.HasPrefix(f.Message, c.says) {
			t.Errorf("%s", f.Message)
		}
	}
}

// A note about a market is said once, however many products call for it.
func TestToldOnce(t *testing.T) {
	a, b := rinseOff(weigh(of("CITRIC ACID"), "50")), rinseOff(weigh(of("CITRIC ACID"), "60"))
	b.Name = "pine fizz"
	all := append(declareIn(inci.US, a, today).Findings, declareIn(inci.US, b, today).Findings...)
	all.Sort()
	if f := found(all, "us.aha.rinse-off"); len(f) != 1 || f[0].Product != "" {
		t.Errorf("%v", f)
	}
}

// The phrase that a row asks for is one that the book can ask for or that the
// pack gets.
func TestCautionPhrases(t *testing.T) {
	for _, topic := range []string{"slippery-caution", "oil-strong", "aha", "formaldehyde", "foam-bath"} {
		n := 0
		for _, m := range inci.Markets {
			if c := market.For(m).Caution(topic, today, func(string) bool { return true }); c != nil && c.Phrase != "" {
				n++
				if _, ok := market.PhraseFor(c.Phrase, "en"); !ok {
					t.Errorf("%s %s: %s", m, topic, c.Phrase)
				}
			}
		}
		if n == 0 {
			t.Errorf("%s names no phrase", topic)
		}
	}
}
