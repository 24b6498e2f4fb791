package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"panelwright/label"
	"panelwright/label/paper"
	"panelwright/label/record"
)

// makeSet says of what lots in hand the boxes of a set can be packed, and what must be made for them first.
func (c *call) makeSet(at deskBook, led *record.Ledger, set *label.Set) (int, error) {
	if c.making.batch.Sign() > 0 {
		return exitFailed, usageError(fmt.Sprintf("%s is a set: say how many boxes with --pieces N", set.Name))
	}
	inside := led.ForSet(set, c.sheets.pieces)
	if c.making.stock {
		c.sheets.pieces = record.BoxesInHand(led.ForSet(set, 1))
		if !c.json {
			fmt.Fprintf(c.out, "ENOUGH FOR %d\nby the records, of lots that are ready\n", c.sheets.pieces)
		}
		if c.sheets.pieces == 0 && !c.json {
			return exitErrors, nil
		}
		inside = led.ForSet(set, c.sheets.pieces)
	}
	missing := 0
	for _, x := range inside {
		if x.Make > 0 {
			missing++
		}
	}
	if c.json {
		return c.setJSON(set, inside)
	}
	dir, err := c.printedDir()
	if err != nil {
		return exitFailed, err
	}
	name := slug(set.Name)
	sheet := c.pdf
	if sheet == "" {
		sheet = filepath.Join(dir, name+"-make-"+c.on.String()+".pdf")
	}
	if c.sheets.lot != "" {
		name += "-" + slug(c.sheets.lot)
	}
	form := filepath.Join(dir, name+"-"+c.on.String()+".form.yaml")
	doc := paper.MakeSet(set, c.sheets.pieces, c.sheets.lot, inside, c.on, filepath.Base(form))
	files, err := c.makeFiles(doc, sheet, [][2]string{{form, c.boxForm(set, inside)}})
	if err != nil {
		return exitFailed, err
	}
	if missing > 0 {
		fmt.Fprintf(c.out, "MAKE %d %s FIRST\n", missing, strings.ToUpper(plural(missing, "thing")))
	} else {
		fmt.Fprintf(c.out, "PACK %d\n", c.sheets.pieces)
	}
	if err := doc.Text(c.out); err != nil {
		return exitFailed, err
	}
	fmt.Fprintln(c.out)
	for _, f := range files {
		fmt.Fprintln(c.out, f)
	}
	return exitClean, nil
}

// boxForm is the form for the records of a lot of boxes.
func (c *call) boxForm(set *label.Set, inside []record.Inside) string {
	var b strings.Builder
	code := quoted(c.sheets.lot)
	if c.sheets.lot == "" {
		code = "    # its code; it must be written"
	}
	fmt.Fprintf(&b, "# Correct what was otherwise, and hand the file in: panelwright record --form FILE\nmade: %s\nlot: %s\non: %s\npieces: %d    # boxes\n", plainly(set.Name), code, c.on, c.sheets.pieces)
	b.WriteString("used:    # which lots the pieces in the boxes are of\n")
	for _, x := range inside {
		var lots []string
		for _, l := range x.From {
			lots = append(lots, quoted(fmt.Sprintf("%s x %d", l.Lot.Code, l.Pieces)))
		}
		if x.Make > 0 {
			lots = append(lots, quoted(fmt.Sprintf("CODE x %d", x.Make)))
		}
		fmt.Fprintf(&b, "  %s: [%s]\n", plainly(x.Product.Name), strings.Join(lots, ", "))
	}
	return b.String()
}
