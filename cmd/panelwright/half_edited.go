package main

import (
	"errors"
	"fmt"

	"panelwright/formula/finding"
	"panelwright/label/book"
	"panelwright/label/record"
)

// unreadable is the error of a book that has errors as it stands.
type unreadable struct{ errors int }

func (e unreadable) Error() string {
	return fmt.Sprintf("the book has %d %s; nothing was worked out", e.errors, plural(e.errors, "error"))
}

// openOrKept opens the book with its records. While the book is half edited, and has errors as it stands, it opens
// what was kept of it last, and says so: a recall, and labels that are approved, do not wait until it is whole again.
func (c *call) openOrKept() (*book.Book, *record.Ledger, error) {
	b, err := c.open()
	var broken unreadable
	if err != nil && !errors.As(err, &broken) {
		return nil, nil, err
	}
	led, ledErr := c.ledger()
	if err == nil {
		return b, led, ledErr
	}
	if ledErr != nil {
		return nil, nil, err
	}
	if b = c.lastKept(led, ""); b == nil {
		return nil, nil, err
	}
	c.halfEdited = true
	fmt.Fprintf(c.err, "the book has %d %s as it stands; used instead is what was kept of it with the records last, %.12s\n", broken.errors, plural(broken.errors, "error"), b.Fingerprint)
	return b, led, nil
}

// openFor opens the book to print labels of a lot by: the last kept one that has its product, where the book as it
// stands has not.
func (c *call) openFor() (*book.Book, *record.Ledger, *record.Lot, error) {
	b, led, err := c.openOrKept()
	if err != nil {
		return nil, nil, nil, err
	}
	x, err := c.lotAsked(led)
	if err != nil || x == nil {
		return b, led, x, err
	}
	if p, _ := productNamed(b, x.Product); p == nil {
		if then := c.lastKept(led, x.Product); then != nil {
			b, c.halfEdited = then, true
			fmt.Fprintf(c.err, "the book has no %s as it stands; used instead is what was kept of it with the records, %.12s\n", x.Product, b.Fingerprint)
		}
	}
	return b, led, x, nil
}

// lastKept returns the book that was kept last with the records, of those that have a product if one is named; nil for
// none.
func (c *call) lastKept(led *record.Ledger, product string) *book.Book {
	tried := map[string]bool{"": true}
	for i := len(led.Force) - 1; i >= 0; i-- {
		print := ""
		switch x := led.Force[i].What.(type) {
		case *record.Lot:
			print = x.Book
		case *record.Approval:
			print = x.Book
		}
		if tried[print] {
			continue
		}
		tried[print] = true
		b, err := c.keptBook(print)
		if err != nil {
			continue // an older one may serve
		}
		if p, _ := productNamed(b, product); p != nil || product == "" {
			return b
		}
	}
	return nil
}

// lotsWait refuses lots and approvals while the book is half edited: they are judged by it.
func (c *call) lotsWait(forms []book.Form) (out finding.List) {
	if !c.halfEdited {
		return nil
	}
	for _, f := range forms {
		if _, ok := f.Entry.What.(*record.Lot); ok {
			out.Add(finding.Finding{Rule: "record.kept-book", Severity: finding.Error, Where: f.Entry.Pos, Message: "a lot is judged by the book, which cannot be read as it stands", Cure: "mend the book first"})
		}
	}
	return out
}
