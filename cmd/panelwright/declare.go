package main

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/paper"
)

// declare prints the declarations: in short for a book, in full for one
// product, or the trail of one name.
func declare(c *call) (int, error) {
	b, jobs, desk, err := c.openAndJudge()
	if err != nil {
		return exitFailed, err
	}
	if c.json {
		return writeDeclarations(c.out, jobs)
	}
	var found finding.List
	var names []string
	var body bytes.Buffer // held back: the verdict over all stands first
	for j := range jobs {
		found = append(found, j.findings()...)
		switch {
		case c.why != "":
			names = append(names, namesIn(j)...)
			c.trail(&body, j, desk)
		case c.product != "" && j.set == nil && len(j.decls) > 0:
			if err := paper.Declaration(j.decls, b.Fingerprint).Text(&body); err != nil {
				return exitFailed, err
			}
		default:
			for _, d := range j.decls {
				brief(&body, d)
			}
		}
	}
	if c.why != "" && body.Len() == 0 {
		return exitFailed, fmt.Errorf("no list and no allergen table of these products has %q%s", c.why, didYouMean(c.why, names, "; write a name as it is printed in the list"))
	}
	c.verdict(found)
	_, err = c.out.Write(body.Bytes())
	return exitOf(found), err
}

// verdict prints the first line of every human output.
func (c *call) verdict(list finding.List) { fmt.Fprintln(c.out, list.Verdict()) }

func brief(w io.Writer, d *label.Declaration) {
	fmt.Fprintf(w, "\n%s, %s: %s\n", d.Product.Name, d.Market.Title(), d.Verdict())
	if d.Lists != nil {
		for _, l := range d.Lists {
			fmt.Fprintf(w, "  %s %s\n", l.Lead, l.Text)
		}
	} else if len(d.Entries) > 0 {
		fmt.Fprintf(w, "  %s %s\n", d.Rules.Heading, d.Text())
	}
	if d.Net.Text != "" {
		fmt.Fprintf(w, "  Net: %s\n", d.Net.Text)
	}
	for _, f := range d.Findings {
		if f.Severity >= finding.Question {
			fmt.Fprintf(w, "  %s: %s\n", f.Severity, f.Line())
		}
	}
}

// trail prints where a name comes from in one product.
func (c *call) trail(w io.Writer, j judged, desk *label.Desk) {
	for _, d := range members(j.decls) {
		if b, ok := desk.Why(d, c.why); ok {
			fmt.Fprintln(w)
			for _, l := range b.Lines() {
				fmt.Fprintln(w, l)
			}
		}
	}
}

// namesIn returns every name that --why can ask after.
func namesIn(j judged) (names []string) {
	for _, d := range members(j.decls) {
		for _, e := range d.Entries {
			names = append(names, e.Name)
		}
		for _, a := range d.Allergens {
			names = append(names, a.Entry.Name)
		}
	}
	return names
}

// members returns the declarations that have lists of their own: those of the
// products in a set stand for the set.
func members(ds []*label.Declaration) []*label.Declaration {
	var out []*label.Declaration
	for _, d := range ds {
		if d.Members != nil {
			out = append(out, d.Members...)
		} else {
			out = append(out, d)
		}
	}
	return out
}

// table prints aligned columns.
func table(w io.Writer, rows [][]string) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		fmt.Fprintln(t, strings.Join(r, "\t"))
	}
	return t.Flush()
}
