package label

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
)

// answer turns the questions that the maker has answered in the book into
// notes, with the reason and the date. Errors are never answered away. Where
// several questions of one rule are open, an answer settles those it is about
// and, if it does not say, none of them.
func (x *Declaration) answer(answers []Answer) {
	open := map[question]int{}
	for _, f := range x.Findings {
		if f.Severity == finding.Question {
			open[question{f.Rule, f.Product, f.Market}]++
		}
	}
	for i := range x.Findings {
		f := &x.Findings[i]
		alone := open[question{f.Rule, f.Product, f.Market}] == 1
		n := slices.IndexFunc(answers, func(a Answer) bool { return a.Date <= x.Occasion.On && a.settles(*f, alone) })
		if n >= 0 {
			f.Severity = finding.Note
			if leavesOpen[f.Rule] {
				f.Severity = finding.Warning
			}
			f.Message += fmt.Sprintf("; answered on %s: %s", answers[n].Date, answers[n].Reason)
			f.Cure = "take the answer out of the book when it no longer holds"
			continue
		}
		if f.Severity == finding.Question && !alone && slices.ContainsFunc(answers, func(a Answer) bool { return a.About == "" && a.settles(*f, true) }) {
			f.Cure += "; the answer in the book does not say which question of this rule it is about: add about: with the substance or the words"
		}
	}
}

// leavesOpen are the questions whose answer judges nothing: what was not judged
// for want of a known type is a warning as long as the type is unknown.
var leavesOpen = map[finding.Code]bool{"product.type": true, "scent.category": true}

type question struct {
	rule            finding.Code
	product, market string
}

// settles reports whether the answer is to the question, and says why and when.
// An answer that does not say what it is about is to a question that stands alone.
func (a Answer) settles(f finding.Finding, alone bool) bool {
	if f.Severity != finding.Question || a.Rule != f.Rule || a.Market != "" && string(a.Market) != f.Market || a.Reason == "" || a.Date == 0 {
		return false
	}
	if a.About == "" {
		return alone
	}
	return strings.Contains(strings.ToLower(f.Message), strings.ToLower(a.About))
}
