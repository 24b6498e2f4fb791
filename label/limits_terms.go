package label

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// terms is a row of a list that a piece keeps as far as figures go, and what
// else it says.
type terms struct {
	key  formula.Key
	name string
	l    *inci.Limit
	from *formula.Material
}

// sayTerms notes the conditions that stand in the rows met: purity, peroxide
// value, pH and the like, which no recipe shows. Rows of the same words are said
// together.
func (j *limitJudge) sayTerms() {
	type said struct {
		words, list string
	}
	var order []said
	rows := map[said][]terms{}
	for _, t := range j.terms {
		if t.l.Conditions == "" || j.saidOtherwise(t) {
			continue
		}
		k := said{t.l.Conditions + purposeText(t.l.Purpose), t.l.List}
		if rows[k] == nil {
			order = append(order, k)
		}
		if !slices.ContainsFunc(rows[k], func(o terms) bool { return o.name == t.name && o.l.Entry == t.l.Entry }) {
			rows[k] = append(rows[k], t)
		}
	}
	for _, k := range order {
		first := rows[k][0]
		var about []string
		source := first.l.Source
		for _, t := range rows[k] {
			about = append(about, fmt.Sprintf("%s (entry %s)", t.name, t.l.Entry))
			source.Text = joinSources(source.Text, t.l.Source.Text)
		}
		j.x.add(finding.Finding{Rule: termsOf(j.x.Market, first.l), Severity: finding.Note,
			Where: firstPos(first.from.Pos, j.x.Product.Pos), Source: source,
			Message: fmt.Sprintf("%s says of %s: %s; what of it no recipe shows was not judged", k.list, someOf(about, 4), k.words),
			Cure:    "ask the supplier, and keep the answer for your assessor"})
	}
}

// saidOtherwise reports whether another row of the entry carries the condition
// out: one that asks about it, or one that forbids what it forbids, in a product
// or beside another substance, where it is the only one.
func (j *limitJudge) saidOtherwise(t terms) bool {
	words := strings.TrimSuffix(strings.ReplaceAll(t.l.Conditions, "e.g. ", "e.g."), ".")
	single := !strings.Contains(words, ";") && !strings.Contains(words, ". ")
	return slices.ContainsFunc(inci.LimitsOf(t.key, j.x.Market), func(o *inci.Limit) bool {
		if !o.SameEntry(t.l) {
			return false
		}
		return o.Question && !o.Silent && j.kinds.in(&o.Applies) || single && (o.Forbidden || o.Together) && !o.Silent
	})
}

// joinSources adds a source to others, once.
func joinSources(all, one string) string {
	if slices.Contains(strings.Split(all, " | "), one) {
		return all
	}
	return all + " | " + one
}
