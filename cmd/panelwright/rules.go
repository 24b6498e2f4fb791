package main

import (
	"fmt"
	"slices"

	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
)

// rules prints the register of rules: what a check goes through and what it
// leaves, of the markets asked for.
func (c *call) rules() (int, error) {
	if len(c.args) > 0 {
		return exitFailed, usageError("--rules is about no book: the register is the same for all")
	}
	var own []label.Rule
	for _, r := range label.Rules() {
		r.Markets = c.wants(r.Markets)
		if len(r.Markets) > 0 {
			own = append(own, r)
		}
	}
	if c.json {
		return c.rulesJSON(own)
	}
	count := func(s label.RuleState, group string) (n int) {
		for _, r := range own {
			if r.State == s && (group == "" || r.Group == group) {
				n++
			}
		}
		return n
	}
	width := 0
	for _, r := range own {
		width = max(width, len(r.Code))
	}
	fmt.Fprintf(c.out, "%d judged, %d judged in part, %d not judged; rules last gone through on %s\n",
		count(label.Judged, ""), count(label.Partly, ""), count(label.NotJudged, ""), label.LastReviewed(c.wants(inci.Markets)))
	for _, g := range label.RuleGroups() {
		first := true
		for _, r := range own {
			if r.Group != g.ID {
				continue
			}
			if first {
				fmt.Fprintf(c.out, "\n%s\n  %s\n\n", g.Title, g.About)
				first = false
			}
			state := string(r.State)
			if r.State == label.Partly {
				state = "in part"
			}
			fmt.Fprintf(c.out, "  %-10s  %-14s  %-*s  %s\n", state, codes(r.Markets), width, r.Code, r.Title)
			if r.Because != "" {
				fmt.Fprintf(c.out, "      because: %s\n", r.Because)
			}
		}
	}
	return exitClean, nil
}

// jsonRule is the stable shape of check --rules --json.
type jsonRule struct {
	Code       finding.Code    `json:"code"`
	Group      string          `json:"group"`
	Title      string          `json:"title"`
	Markets    []inci.Market   `json:"markets"`
	State      label.RuleState `json:"state"`
	Because    string          `json:"because"`
	Source     string          `json:"source"`
	Unverified bool            `json:"unverified"`
}

func (c *call) rulesJSON(own []label.Rule) (int, error) {
	out := []jsonRule{}
	for _, r := range own {
		out = append(out, jsonRule{r.Code, r.Group, r.Title, slices.Clone(r.Markets), r.State, r.Because, r.Source.Text, r.Source.Unverified()})
	}
	data, err := marshal(out, "")
	if err == nil {
		_, err = c.out.Write(append(data, '\n'))
	}
	return exitClean, err
}
