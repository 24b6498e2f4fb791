package paper

import (
	"fmt"
	"strings"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
)

// Humility is the sentence under every paper.
const Humility = "Worked out from what the book says. It is a calculation, not an assessment: the official texts, local law and a qualified safety assessor have the last word."

// Declaration writes the declaration sheet of one product: for every market
// the list, the shares it was ordered by, the allergens, the net statement and
// the findings with their sources. Fingerprint names the state of the book that
// it was worked out from. There must be at least one declaration.
func Declaration(ds []*label.Declaration, fingerprint string) *Paper {
	p := ds[0].Product
	doc := &Paper{Title: "Declaration sheet: " + p.Name, Lang: "en"}
	doc.Footer = fmt.Sprintf("%s, book %s", p.Name, short(fingerprint))
	doc.add(Pair{"Type", kindOf(p)})
	doc.add(Pair{"Judged on", judged(ds[0])})
	doc.add(Pair{"Book", fingerprint})
	if c := ds[0].Composition; c != nil {
		doc.add(Pair{"Piece", pieceWords(c)})
		materials(doc, c.Weighed())
		chemistry(doc, ds[0])
	}
	for _, d := range ds {
		marketSection(doc, d)
	}
	doc.add(Heading{2, "Not judged here"}, Para{Words: label.LeftOpenLine(marketsOf([][]*label.Declaration{ds})) + " The findings sheet names them one by one; traces and impurities that no sheet mentions are not seen."})
	doc.add(Para{Words: Humility, Quiet: true})
	return doc
}

func short(fingerprint string) string {
	if len(fingerprint) > 12 {
		return fingerprint[:12]
	}
	return fingerprint
}

func judged(d *label.Declaration) string {
	s := d.Occasion.On.String()
	if d.Occasion.Placed != d.Occasion.On {
		s += ", first supplied " + d.Occasion.Placed.String()
	}
	return s
}

func pieceWords(c *formula.Composition) string {
	s := fmt.Sprintf("%s g as weighed", c.Added.Decimal(2, exact.Nearest))
	m := c.Mass(formula.Finished)
	switch {
	case m.Lo.Equal(c.Added):
	case m.Fixed():
		s += fmt.Sprintf(", %s g once dry", m.Lo.Decimal(2, exact.Down))
	default:
		s += fmt.Sprintf(", %s to %s g once dry", m.Lo.Decimal(2, exact.Down), m.Hi.Decimal(2, exact.Up))
	}
	return s
}

// materials lists what was weighed, by material.
func materials(doc *Paper, c *formula.Composition) {
	doc.add(Heading{2, "What was weighed"})
	t := Table{Heads: []string{"material", "grams", "% of the piece", "parts"}, Right: []bool{false, true, true, false}, Wide: []int{34, 12, 16, 60}}
	for i := range c.Items {
		it := &c.Items[i]
		var parts []string
		for j, p := range it.Material.Parts {
			text := inci.Readable(string(p.Key))
			if it.Material.OwnWater(j) {
				text = "its water"
			}
			if len(it.Material.Parts) > 1 {
				text += " " + rangeWords(p.Range)
			}
			parts = append(parts, text)
		}
		t.Rows = append(t.Rows, []string{it.Material.Name, it.Weight.Decimal(3, exact.Nearest).StringFixed(3),
			label.Percent(it.Weight.Quo(c.Added), 2, exact.Nearest), strings.Join(parts, ", ")})
	}
	doc.add(t)
}

func rangeWords(i formula.Interval) string {
	lo, hi := i.Lo.Mul(exact.Int(100)), i.Hi.Mul(exact.Int(100))
	if i.Fixed() {
		return lo.Decimal(4, exact.Nearest).String() + " %"
	}
	return lo.Decimal(4, exact.Down).String() + "-" + hi.Decimal(4, exact.Up).String() + " %"
}

func marketSection(doc *Paper, d *label.Declaration) {
	doc.add(Heading{1, d.Market.Title()})
	doc.add(Para{Words: d.Verdict().String(), Loud: true})
	if d.Composition == nil {
		findings(doc, d.Findings)
		return
	}
	doc.add(Pair{strings.TrimSuffix(d.Rules.Heading, ":"), d.Text()})
	if d.Net.Text != "" {
		doc.add(Pair{"Net", d.Net.Text})
	}
	doc.add(Para{Words: d.Convention(), Quiet: true})
	entries(doc, d)
	allergens(doc, d)
	findings(doc, d.Findings)
	doc.add(Para{Words: fmt.Sprintf("Rules of this market last gone through on %s.", d.Rules.Reviewed), Quiet: true})
}

func entries(doc *Paper, d *label.Declaration) {
	t := Table{Heads: []string{"#", "name", "typical %", "least %", "greatest %", "what", "order"},
		Right: []bool{true, false, true, true, true, false, false}, Wide: []int{8, 62, 18, 18, 20, 20, 16}}
	for i, e := range d.Entries {
		s := label.Show(e.Share)
		if e.Share.Min.Equal(e.Share.Max) {
			s.Min, s.Max = "", ""
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(i + 1), e.Name, s.Typical, s.Min, s.Max, string(e.Kind), string(e.Order)})
	}
	doc.add(t)
	doc.add(Para{Words: "Least and greatest are left blank where no supplier's range and no drying leaves them open. " +
		"Order: proven, whatever the ranges hide; typical, by the typical figures; free, inside the market's 1 % rule.", Quiet: true})
}

func allergens(doc *Paper, d *label.Declaration) {
	doc.add(Heading{2, "Fragrance allergens"})
	if len(d.Allergens) == 0 {
		words := "No material mentions a listed allergen."
		if len(inci.Allergens(d.Market)) == 0 {
			words = "This market has no list of fragrance allergens to be named, in anything seen."
		}
		doc.add(Para{Words: words})
		return
	}
	t := Table{Heads: []string{"allergen", "typical %", "greatest %", "above %", "named", "from"},
		Right: []bool{false, true, true, true, false, false}, Wide: []int{40, 19, 20, 14, 16, 60}}
	for _, r := range d.Allergens {
		t.Rows = append(t.Rows, []string{r.Entry.Name, strings.TrimSuffix(label.PercentBeside(r.Share.Typical, r.Threshold, exact.Nearest), " %"),
			r.Greatest(), r.Threshold.Mul(exact.Int(100)).String(), named(r), from(r)})
	}
	doc.add(t)
	doc.add(Para{Words: "Shares of the finished piece at the greatest drying. An allergen is named where its greatest share is above the limit; equal to it is not above.", Quiet: true})
}

func named(r label.AllergenRow) string {
	switch {
	case r.Declared && r.Certain:
		return "yes"
	case r.Declared:
		return "yes, may pass"
	}
	return "no"
}

// from says where the grams come from.
func from(r label.AllergenRow) string {
	var parts []string
	for _, w := range r.From {
		text := fmt.Sprintf("%s: %s g x %s", w.Material.Name, w.Weight.Decimal(3, exact.Nearest), rangeWords(formula.Interval{Lo: w.Fraction.Min, Hi: w.Fraction.Max}))
		if w.Estimated {
			text += " (estimated)"
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ")
}

func findings(doc *Paper, list finding.List) {
	doc.add(Heading{2, "Findings"})
	if len(list) == 0 {
		doc.add(Para{Words: "Nothing was found."})
		return
	}
	for _, f := range list {
		words := f.Message
		if f.Cure != "" {
			words += ". Cure: " + f.Cure
		}
		words += "."
		if at := f.Where.String(); at != "" {
			words += " [" + at + "]"
		}
		doc.add(Pair{f.Severity.String(), words})
		if s := f.Source.String(); s != "" {
			doc.add(Para{Words: string(f.Rule) + ": " + s, Quiet: true})
		}
	}
}

// kindOf says what kind of product it is judged as: its types, its exposure and
// what is stated of its use.
func kindOf(p *label.Product) string {
	words := append([]string{p.Type, p.Exposure.String()}, p.Used...)
	return strings.Join(words, ", ")
}
