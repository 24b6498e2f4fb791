package main

import (
	"bytes"
	"fmt"

	"panelwright/formula/finding"
)

// needsDoing is what a bare call does in a book: it says what needs doing today.
func needsDoing(c *call) (int, error) {
	c.fits = true
	b, jobs, _, err := c.openAndJudge()
	if err != nil {
		return exitFailed, fmt.Errorf("%w\nfor the list of verbs: panelwright help; for a book to look at: panelwright demo", err)
	}
	var found finding.List
	var needs []said
	for j := range jobs {
		found = append(found, j.findings()...)
		needs = append(needs, together(j.findings(), finding.Question, finding.Error)...)
	}
	var body bytes.Buffer
	n := 0
	for _, f := range shared(needs) {
		n++
		fmt.Fprintf(&body, "%3d. %s, %s: %s\n     %s\n", n, f.products, f.Market, f.Message, f.Cure)
	}
	led, err := c.ledger()
	if err != nil {
		return exitFailed, err
	}
	for _, r := range led.Reminders(c.on) {
		n++
		fmt.Fprintf(&body, "%3d. %s\n     %s\n", n, r.Words, r.Do)
	}
	c.verdict(found)
	fmt.Fprintf(c.out, "%s on %s: %d %s, %d %s\n", b.Workshop.Name, c.on,
		len(b.Products), plural(len(b.Products), "product"), len(b.Sets), plural(len(b.Sets), "set"))
	if _, err := c.out.Write(body.Bytes()); err != nil {
		return exitFailed, err
	}
	if n == 0 {
		fmt.Fprintln(c.out, "Nothing needs doing. To print: panelwright label")
	} else {
		fmt.Fprintln(c.out, "For the sources and the rest: panelwright check")
	}
	return exitOf(found), nil
}
