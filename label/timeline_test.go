package label

import (
	"slices"
	"testing"

	"panelwright/formula/date"
	"panelwright/inci"
	"panelwright/label/market"
)

// An event of the timeline that is said to be judged names rules of the register,
// and a duty of the market begins or reaches stock on its day.
func TestJudgedEvents(t *testing.T) {
	judged := 0
	for _, m := range inci.Markets {
		for _, e := range market.Timeline(m) {
			if len(e.Judged) == 0 {
				continue
			}
			judged++
			for _, code := range e.Judged {
				if r, ok := RuleOf(code); !ok || r.State == NotJudged {
					t.Errorf("%s %s: %s is not a rule that is judged", m, e.Date, code)
				}
			}
			if !slices.ContainsFunc(duties(m), func(u date.Duty) bool { return u.New == e.Date || u.All == e.Date }) {
				t.Errorf("%s %s: nothing switches that day: %s", m, e.Date, e.What)
			}
		}
	}
	if judged < 30 {
		t.Errorf("only %d events are judged", judged)
	}
}
