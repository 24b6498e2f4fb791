package label

import (
	"panelwright/formula/date"
	"panelwright/inci"
)

// RuleOfLimit is the code of a finding about a limit.
var RuleOfLimit = ruleOf

// TermsOfLimit is the code of a finding about the conditions of a limit.
var TermsOfLimit = termsOf

// CalendarAfresh is Calendar, judging anew on every occasion.
func (d *Desk) CalendarAfresh(declared []*Declaration, until date.Date) []Change {
	return calendar(declared, until, func(x *Declaration) watch {
		return watch{declare: func(o date.Occasion) *Declaration { return d.Declare(x.Product, []inci.Market{x.Market}, o)[0] }, when: eachDay}
	})
}
