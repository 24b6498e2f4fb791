package label

import (
	"slices"

	"panelwright/formula/finding"
)

// Differences returns what a declaration says that another one of the same
// product in the same market did not, by another book or on another day: names
// of the list that come, go or change places, statements of the pack, findings
// that appear or fall away. Where a finding stands does not count: lines move
// when a book is edited. Notes that come or go are left out.
func Differences(was, is *Declaration) finding.List {
	var out finding.List
	for _, d := range listChange(was, is) {
		out.Add(d.finding)
	}
	for _, d := range statementChanges(was, is) {
		out.Add(d.finding)
	}
	says := func(x *Declaration, f finding.Finding, exactly bool) bool {
		return slices.ContainsFunc(x.Findings, func(o finding.Finding) bool {
			if exactly {
				return o.Severity == f.Severity && o.Rule == f.Rule && placeless(o, x) == placeless(f, x)
			}
			return o.Rule == f.Rule && o.Severity >= f.Severity
		})
	}
	for _, f := range is.Findings {
		if f.Severity > finding.Note && !says(was, f, true) {
			out.Add(f)
		}
	}
	for _, f := range was.Findings {
		if f.Severity >= finding.Question && !says(is, f, false) {
			out.Add(finding.Finding{Rule: ruleLapses, Product: f.Product, Market: f.Market, Message: "no longer so: " + f.Message, Source: f.Source})
		}
	}
	for i := range out {
		out[i].Market = string(is.Market)
	}
	return out
}

// placeless is what a finding says, whatever the day.
func placeless(f finding.Finding, x *Declaration) string {
	f.Where = finding.Pos{}
	return wording(f, x.Occasion)
}
