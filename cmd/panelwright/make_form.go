package main

import (
	"fmt"
	"regexp"
	"strings"

	"panelwright/formula/exact"
	"panelwright/label/paper"
	"panelwright/label/record"
)

// lotForms is a form for the records: one entry for each lot of a plan, with what the recipe says as notes beside
// what is to be filled in.
func lotForms(m *paper.Making) string {
	var all []string
	for i := range m.Plan.Lots {
		all = append(all, lotForm(m, &m.Plan.Lots[i]))
	}
	return "# Take the # off a line where you have something to write in it, correct what was otherwise, and hand the\n" +
		"# file in: panelwright record --form FILE. What stays behind a # is not recorded.\n" + strings.Join(all, "---\n")
}

func lotForm(m *paper.Making, lot *record.PlannedLot) string {
	var b strings.Builder
	code := quoted(lot.Code)
	if lot.Code == "" {
		code = "    # its code, as on the sticker; it must be written"
	}
	fmt.Fprintf(&b, "made: %s\nlot: %s\non: %s\npieces: %d    # that came out whole\n", plainly(m.Plan.Product.Name), code, m.On, lot.Pieces)
	if m.Trial {
		b.WriteString("trial: yes\n")
	}
	b.WriteString("batch:    # what was made of each mix\n")
	for _, x := range lot.Mixes {
		fmt.Fprintf(&b, "  %s: %s g\n", plainly(x.Formula.Name), formGrams(x.Grams))
	}
	b.WriteString("# used:    # the lots of your materials that went in; several as in [A17, A18]\n")
	for i, n := range m.Plan.Needs {
		code := "CODE"
		if m.Supplies != nil && len(m.Supplies[i].Lots) > 0 {
			code = quoted(m.Supplies[i].Lots[0].Receipt.Code) // the first to expire
		}
		fmt.Fprintf(&b, "#   %s: %s\n", plainly(n.Name()), code)
	}
	b.WriteString("# weighed:    # what the scale said of all bowls together, where it was not what the recipe says\n")
	for i := range lot.Mixes {
		x := &lot.Mixes[i]
		fmt.Fprintf(&b, "#   %s:\n", plainly(x.Formula.Name))
		for k, a := range x.Bowls[0].Lines {
			var sum exact.Rat
			for _, bowl := range x.Bowls {
				sum = sum.Add(bowl.Lines[k].Weigh.Mul(exact.Int(int64(bowl.Count))))
			}
			fmt.Fprintf(&b, "#     %s: %s g\n", plainly(a.Name()), formGrams(sum))
		}
	}
	what := "single pieces"
	if n := m.Plan.Each(); n > 1 {
		what = fmt.Sprintf("whole packs, %d together", n)
	}
	fmt.Fprintf(&b, "# weights: 160.2 159.8    # %s, in grams\n# state: curing\n# remarks: what you want to remember\n", what)
	return b.String()
}

// formGrams prints a weight for a form.
func formGrams(x exact.Rat) string { return x.Decimal(2, exact.Nearest).String() }

var plain = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9 ()%.-]*$`)

// plainly writes a name as a maker would, and quotes only what could be read otherwise.
func plainly(s string) string {
	if plain.MatchString(s) {
		return s
	}
	return quoted(s)
}
