package label

import (
	"fmt"
	"slices"

	"panelwright/formula/finding"
)

// answer turns the questions that the maker has answered in the book into
// notes, with the reason and the date. Errors are never answered away.
func (x *Declaration) answer(answers []Answer) {
	for i := range x.Findings {
		f := &x.Findings[i]
		n := slices.IndexFunc(answers, func(a Answer) bool { return a.settles(*f) })
		if n < 0 {
			continue
		}
		f.Severity = finding.Note
		f.Message += fmt.Sprintf("; answered on %s: %s", answers[n].Date, answers[n].Reason)
		f.Cure = "take the answer out of the book when it no longer holds"
	}
}

// settles reports whether the answer is to the question, and says why and when.
func (a Answer) settles(f finding.Finding) bool {
	return f.Severity == finding.Question && a.Rule == f.Rule && (a.Market == "" || string(a.Market) == f.Market) && a.Reason != "" && a.Date != 0
}
