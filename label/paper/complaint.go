package paper

import (
	"fmt"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/market"
	"panelwright/label/record"
)

// AllergenShares lists every allergen that the suppliers' sheets mention, with
// its share of the finished piece.
func AllergenShares(d *label.Declaration) []ShareRow {
	var out []ShareRow
	for _, r := range d.Allergens {
		out = append(out, ShareRow{r.Entry.Name, strings.TrimSuffix(label.PercentBeside(r.Share.Typical, r.Threshold, exact.Nearest), " %"), r.Greatest(), from(r)})
	}
	return out
}

// Complaint writes the page for a doctor: what the piece was, its list and its
// fragrance allergens with their shares, as made where the lot is known, else by
// the recipe. Of a box there are shares of each piece in it.
func Complaint(c *record.Complaint, l *record.Ledger, lists []ListFor, shares []Shares, others []*record.Lot, on date.Date) *Paper {
	doc := &Paper{Title: "What was in it: " + c.Product, Lang: "en", Footer: fmt.Sprintf("complaint %s, %s", c.Code, on)}
	doc.add(Pair{"Product", c.Product}, Pair{"Lot", orBlank(c.Lot)}, Pair{"Reported", fmt.Sprintf("%s: %s", c.On, c.Text)})
	for _, x := range lists {
		doc.add(Heading{2, "Ingredients, as on the pack for " + x.Title}, Para{Words: x.Text})
	}
	head := "Fragrance allergens and their shares, as made"
	if c.Lot == "" {
		head = "Fragrance allergens and their shares, by the recipe of today: the lot is not known"
	}
	doc.add(Heading{2, head})
	for _, g := range shares {
		if g.Title != "" {
			doc.add(Para{Words: g.Title, Loud: true})
		}
		if len(g.Rows) == 0 {
			doc.add(Para{Words: "No supplier's sheet names any."})
			continue
		}
		t := Table{Heads: []string{"substance", "typical %", "greatest %", "from"}, Right: []bool{false, true, true, false}, Wide: []int{48, 20, 20, 52}}
		for _, s := range g.Rows {
			t.Rows = append(t.Rows, []string{s.Name, s.Typical, s.Greatest, s.From})
		}
		doc.add(t)
	}
	doc.add(Para{Words: "Of the finished piece, by the suppliers' sheets. What no sheet mentions is not here; nothing was measured in a laboratory.", Quiet: true})
	lotTable(doc, l, "Other lots that share its scents", others)
	doc.add(Para{Words: "This page tells what was in the piece. It is no advice on treatment: that is for a doctor.", Loud: true})
	return doc
}

// ListFor is a list of ingredients on a pack.
type ListFor struct{ Title, Text string }

// Shares are what was found in one piece. Title is "" where there is one only.
type Shares struct {
	Title string
	Rows  []ShareRow
}

// ShareRow is a substance and how much of it was in a piece, in per cent.
type ShareRow struct{ Name, Typical, Greatest, From string }

func orBlank(s string) string {
	if s == "" {
		return "not known"
	}
	return s
}

// Whom writes whom the law may want told of a complaint, market by market, and
// who was told.
func Whom(c *record.Complaint, markets []inci.Market) *Paper {
	doc := &Paper{Title: "Complaint " + c.Code + ": whom to tell", Lang: "en"}
	serious := "The complaint is not marked as serious."
	if c.Serious {
		serious = "The complaint is marked as serious."
	}
	doc.add(Para{Words: serious, Loud: true})
	words, source := market.Serious()
	doc.add(Para{Words: "Serious, in short: " + words + "."}, Para{Words: source.String(), Quiet: true})
	for _, m := range markets {
		t := market.Tell(m)
		doc.add(Heading{2, m.Title()}, Pair{"If it is serious, tell", t.Who}, Pair{"When", t.When})
		if t.Keep != "" {
			doc.add(Pair{"Keep", t.Keep})
		}
		doc.add(Para{Words: t.Source.String(), Quiet: true})
	}
	if len(c.Told) > 0 {
		t := Table{Heads: []string{"told", "on"}, Right: make([]bool, 2), Wide: []int{60, 30}}
		for _, x := range c.Told {
			t.Rows = append(t.Rows, []string{x.Who, x.On.String()})
		}
		doc.add(Heading{2, "Who was told"}, t)
	} else {
		doc.add(Para{Words: "Nobody is recorded as told. To record it, correct the complaint with told: {who: day}."})
	}
	doc.add(Para{Words: "Tell your safety assessor too. Local law, your authority and the assessor have the last word.", Quiet: true})
	return doc
}
