package main

import (
	"bytes"
	"fmt"
	"strings"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/record"
)

// trials sets trials of a product side by side: those recorded, and with --form those only written down yet. It
// writes nothing: what a swap or another weight would do to list, allergens, limits and labels can be seen before
// anything is poured.
func trials(c *call) (int, error) {
	c.productSubject()
	b, led, err := c.openWithRecords()
	if err != nil {
		return exitFailed, err
	}
	if c.rec.form != "" || c.rec.say != "" {
		forms, err := c.forms()
		if err != nil {
			return exitFailed, err
		}
		joined, found := joinForms(led, forms)
		found = append(found, checkNames(b, forms)...)
		c.problems(found)
		if n := found.Count(finding.Error); n > 0 {
			return exitFailed, fmt.Errorf("%d %s in what was to be tried", n, plural(n, "error"))
		}
		for _, f := range forms {
			if x, ok := f.Entry.What.(*record.Lot); ok {
				x.Trial = true
			}
		}
		led = joined
	}
	now := deskBook{b, label.NewDesk(&b.Workshop)}
	rows := [][]string{{"trial", "product", "otherwise than the recipe", "labels that stay true", "verdict"}}
	var report bytes.Buffer
	var all finding.List
	for _, x := range led.Lots {
		if !led.OnTrial(x) || c.product != "" && inci.Fold(x.Product) != inci.Fold(c.product) {
			continue
		}
		j, bad := c.judgeLot(now, led, x)
		all = append(all, bad...)
		if j == nil {
			c.problems(bad)
			rows = append(rows, []string{x.Code, x.Product, otherwise(x), "", bad.Verdict().String()})
			continue
		}
		found := append(bad, j.Findings...)
		all = append(all, j.Findings...)
		rows = append(rows, []string{x.Code, x.Product, otherwise(x), staysTrue(j), found.Verdict().String()})
		writeJudgement(&report, j)
	}
	if len(rows) == 1 {
		fmt.Fprintln(c.out, "NO TRIALS: a lot is one with trial: yes; --form FILE tries what is not recorded")
		return exitClean, nil
	}
	c.verdict(all)
	if err := table(c.out, rows); err != nil {
		return exitFailed, err
	}
	if _, err := report.WriteTo(c.out); err != nil {
		return exitFailed, err
	}
	fmt.Fprintln(c.out, "\nNothing was written. To keep a recorded trial: panelwright record --say \"lot: CODE; keep: yes\"; to drop it: state: gone")
	return exitOf(all), nil
}

// otherwise says in short what a lot has otherwise than its recipe.
func otherwise(x *record.Lot) string {
	var words []string
	for _, s := range x.Swaps {
		words = append(words, s.In+" for "+s.Out)
	}
	for _, w := range x.Weighed {
		words = append(words, fmt.Sprintf("%s %s g", w.Name, w.Grams.Decimal(2, exact.Nearest)))
	}
	if len(words) == 0 {
		return "nothing"
	}
	return strings.Join(words, ", ")
}

// staysTrue names the markets whose labels are true for a lot.
func staysTrue(j *record.Judgement) string {
	var words []string
	for _, p := range j.Packs {
		if p.True {
			words = append(words, codes(p.Due.Markets))
		}
	}
	if len(words) == 0 {
		return "none"
	}
	return strings.Join(words, ", ")
}
