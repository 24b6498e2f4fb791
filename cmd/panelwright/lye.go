package main

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"panelwright/formula"
	"panelwright/label"
	"panelwright/label/paper"
)

// lye prints the lye calculations of a book's soaps, or of one formula, and
// writes them as a PDF where one is asked for. The first line is the verdict
// over all of them.
func lye(c *call) (int, error) {
	b, err := c.open()
	if err != nil {
		return exitFailed, err
	}
	desk := label.NewDesk(&b.Workshop)
	var body bytes.Buffer
	var sheets []*paper.Paper
	all := []jsonLye{} // never null
	verdict, code, named := paper.Margin, exitClean, false
	for _, f := range b.Formulas {
		if c.formula != "" && !strings.EqualFold(f.Name, c.formula) {
			continue
		}
		named = true
		r, _ := desk.Composer.Reaction(f)
		if r == nil {
			continue
		}
		w := desk.WorstLye(r)
		switch v := paper.Verdict(w, label.LyeDoubts(r, b.Workshop.ScaleReads)...); {
		case v == paper.DoNotMake:
			verdict, code = v, exitErrors
		case v == paper.LookFirst && verdict == paper.Margin:
			verdict = v
		}
		doc := paper.Lye(r, w, b.Workshop.ScaleReads)
		sheets, all = append(sheets, doc), append(all, lyeJSON(r, w, b.Workshop.ScaleReads))
		body.WriteByte('\n')
		if err := doc.Text(&body); err != nil {
			return exitFailed, err
		}
	}
	switch {
	case !named && c.formula != "":
		return exitFailed, usageError(fmt.Sprintf("the book has no formula %q%s", c.formula, didYouMean(c.formula, soapNames(b.Formulas), listed("soaps", soapNames(b.Formulas)))))
	case body.Len() == 0:
		return exitFailed, errors.New("no formula asked for has the key saponify, so there is no lye to work out")
	}
	if c.pdf != "" {
		if err := c.paperFiles(sheets, c.pdf); err != nil {
			return exitFailed, err
		}
	}
	if c.json {
		data, err := marshal(all, "")
		if err == nil {
			_, err = fmt.Fprintf(c.out, "%s\n", data)
		}
		return code, err
	}
	fmt.Fprintln(c.out, verdict)
	_, err = c.out.Write(body.Bytes())
	return code, err
}

// soapNames lists the formulas that have a lye calculation.
func soapNames(all []*formula.Formula) (names []string) {
	for _, f := range all {
		if f.Saponify != nil {
			names = append(names, f.Name)
		}
	}
	return names
}
