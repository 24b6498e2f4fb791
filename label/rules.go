package label

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"sync"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// Rule is one line of the register of rules: what a check goes through, and
// what it leaves to an assessor.
type Rule struct {
	// Code is that of the findings. Where it begins with "{market}" there is one
	// for each of Markets; see Codes.
	Code    finding.Code
	Group   string // id of its RuleGroup
	Title   string // what is looked at, one line
	Markets []inci.Market
	State   RuleState
	Because string // why it is judged in part or not at all; empty where it is judged
	Source  finding.Citation
}

// RuleState says how far a rule is judged.
type RuleState string

const (
	Judged    RuleState = "judged"
	Partly    RuleState = "partly"     // Rule.Because says what is left
	NotJudged RuleState = "not judged" // listed so that nobody takes silence for an answer
)

// RuleGroup is a part of the register.
type RuleGroup struct {
	ID    string
	Title string // "Fragrance allergens and scents"
	About string // what is gone through, for all its rules
}

const everyMarket = "{market}"

// Codes returns the codes of the findings that the rule can give.
func (r Rule) Codes() []finding.Code {
	if !strings.Contains(string(r.Code), everyMarket) {
		return []finding.Code{r.Code}
	}
	var all []finding.Code
	for _, m := range r.Markets {
		all = append(all, r.In(m))
	}
	return all
}

// In returns the code of the rule in a market.
func (r Rule) In(m inci.Market) finding.Code {
	return finding.Code(strings.ReplaceAll(string(r.Code), everyMarket, string(m)))
}

//go:embed data/rules.csv
var rulesText string

//go:embed data/rule-groups.csv
var ruleGroupsText string

type register struct {
	rules  []Rule
	groups []RuleGroup
	byCode map[finding.Code]int
}

var theRegister = sync.OnceValue(func() *register {
	reg := &register{byCode: map[finding.Code]int{}}
	for _, c := range readRows(ruleGroupsText, "id", "title", "about") {
		reg.groups = append(reg.groups, RuleGroup{c[0], c[1], c[2]})
	}
	for _, c := range readRows(rulesText, "code", "group", "title", "markets", "state", "because", "source", "seen") {
		r := Rule{Code: finding.Code(c[0]), Group: c[1], Title: c[2], Markets: inci.Markets, State: RuleState(c[4]), Because: c[5],
			Source: finding.Citation{Text: c[6], Seen: finding.Seen(c[7])}}
		if c[3] != "all" {
			r.Markets = nil
			for _, m := range strings.Fields(c[3]) {
				r.Markets = append(r.Markets, inci.Market(m))
			}
		}
		for _, code := range r.Codes() {
			reg.byCode[code] = len(reg.rules)
		}
		reg.rules = append(reg.rules, r)
	}
	return reg
})

// readRows reads an embedded table with the named columns. The tables are part
// of the program, so one that cannot be read panics.
func readRows(text string, columns ...string) [][]string {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || !slices.Equal(rows[0], columns) {
		panic(fmt.Sprintf("label: table of %v: %v", columns, err))
	}
	return rows[1:]
}

// Rules returns the register of rules, group by group. It is shared and not to
// be changed.
func Rules() []Rule { return theRegister().rules }

// RuleGroups returns the groups of the register in order.
func RuleGroups() []RuleGroup { return theRegister().groups }

// RuleOf returns the rule that gives findings of a code.
func RuleOf(code finding.Code) (Rule, bool) {
	i, ok := theRegister().byCode[code]
	if !ok {
		return Rule{}, false
	}
	return Rules()[i], true
}

// LeftOpen returns the rules of which some part is left to somebody else, in
// any of the markets: those judged in part, and those not judged.
func LeftOpen(markets []inci.Market) (partly, not []Rule) {
	for _, r := range Rules() {
		if !slices.ContainsFunc(r.Markets, func(m inci.Market) bool { return slices.Contains(markets, m) }) {
			continue
		}
		switch r.State {
		case Partly:
			partly = append(partly, r)
		case NotJudged:
			not = append(not, r)
		}
	}
	return partly, not
}

// LeftOpenLine says in one line how much the register leaves open in the
// markets, of all if there are none, and when their rules were last gone through.
func LeftOpenLine(markets []inci.Market) string {
	if len(markets) == 0 {
		markets = inci.Markets
	}
	partly, not := LeftOpen(markets)
	return fmt.Sprintf("Judged in part: %d kinds of rule; not judged: %d, safety itself among them. Rules last gone through on %s.",
		len(partly), len(not), LastReviewed(markets))
}

// LastReviewed returns the earliest of the days on which the rules of the
// markets were last gone through, or 0 for no markets.
func LastReviewed(markets []inci.Market) (day date.Date) {
	for _, m := range markets {
		if r := market.For(m); r != nil && (day == 0 || r.Reviewed < day) {
			day = r.Reviewed
		}
	}
	return day
}
