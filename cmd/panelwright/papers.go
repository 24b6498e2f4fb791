package main

import (
	"fmt"
	"os"
	"path/filepath"

	"panelwright/label/layout"
	"panelwright/label/paper"
)

// papers writes the product file: everything that the book and the records say of one product, as one PDF with
// contents, and as text beside it.
func papers(c *call) (int, error) {
	c.productSubject()
	if c.product == "" {
		return exitFailed, usageError("say which product: panelwright papers PRODUCT")
	}
	b, led, err := c.openWithRecords()
	if err != nil {
		return exitFailed, err
	}
	jobs, desk, err := c.judge(b)
	if err != nil {
		return exitFailed, err
	}
	for j := range jobs {
		if j.set != nil {
			return exitFailed, usageError(fmt.Sprintf("%s is a set: each product in it has a file of its own", j.product.Name))
		}
		if len(j.decls) == 0 {
			return exitFailed, usageError(fmt.Sprintf("%s is not sold in the markets asked for", j.product.Name))
		}
		doc := paper.ProductFile(paper.FileInput{Workshop: &b.Workshop, Product: j.product, Decls: j.decls, Read: c.found, Ledger: led, Composer: desk.Composer,
			Missing: c.notThere, Fingerprint: b.Fingerprint, On: c.on})
		path := c.pdf
		if path == "" {
			dir, err := c.outDir()
			if err != nil {
				return exitFailed, err
			}
			path = filepath.Join(dir, j.file+"-file.pdf")
		}
		if err := c.paperFile(doc, path); err != nil {
			return exitFailed, err
		}
		pages, err := doc.Pages(layout.A4)
		if err != nil {
			return exitFailed, err
		}
		c.verdict(j.findings())
		fmt.Fprintf(c.out, "product file of %s: %s, %d pages\n", j.product.Name, path, len(pages))
		fmt.Fprintln(c.out, "It is not a safety assessment: what only a qualified assessor or a laboratory can write is left blank in it.")
	}
	return exitClean, nil
}

// notThere reports whether a supplier's document is not in the book's folder.
func (c *call) notThere(file string) bool {
	_, err := os.Stat(filepath.Join(c.bookDir(), filepath.FromSlash(file)))
	return err != nil
}
