package market

import (
	"slices"

	"panelwright/formula/finding"
)

// Codes returns the rule codes of the rows about cautions and claims, sorted.
func Codes() []finding.Code {
	var all []finding.Code
	for _, rows := range cautions() {
		for _, c := range rows {
			all = append(all, c.Rule)
		}
	}
	for _, rows := range claimRules() {
		for _, c := range rows {
			all = append(all, c.Rule)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}
