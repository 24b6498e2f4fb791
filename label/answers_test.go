package label

import (
	"testing"

	"panelwright/formula/date"
	"panelwright/formula/finding"
)

// An answer is to one question: where a rule asks twice, it says which.
func TestAnswerIsToOneQuestion(t *testing.T) {
	ask := func(words ...string) *Declaration {
		x := &Declaration{Occasion: date.Occasion{On: date.Of(2026, 11, 25)}}
		for _, w := range words {
			x.Findings.Add(finding.Finding{Rule: "eu.annex-v.use", Severity: finding.Question, Product: "balm", Market: "eu", Message: w + " is in it"})
		}
		return x
	}
	said := Answer{Rule: "eu.annex-v.use", Reason: "a solvent", Date: date.Of(2026, 11, 1)}
	about, late := said, said
	about.About, late.Date = "triclosan", date.Of(2027, 1, 1)
	for _, c := range []struct {
		name string
		x    *Declaration
		a    Answer
		open int
	}{
		{"one question", ask("Triclosan"), said, 0},
		{"two, and it does not say which", ask("Triclosan", "Silver"), said, 2},
		{"two, about one of them", ask("Triclosan", "Silver"), about, 1},
		{"dated after the day judged", ask("Triclosan"), late, 1},
	} {
		c.x.answer([]Answer{c.a})
		if n := c.x.Findings.Count(finding.Question); n != c.open {
			t.Errorf("%s: %d questions are open, want %d", c.name, n, c.open)
		}
	}
}
