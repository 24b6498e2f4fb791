package main

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"panelwright/inci"
	"panelwright/label/record"
)

// leftover says which labels are left over, what they are true for, and how many to bin.
func leftover(c *call) (int, error) {
	c.productSubject()
	b, led, err := c.openOrKept()
	if err != nil {
		return exitFailed, err
	}
	jobs, _, err := c.jobs(b)
	if err != nil {
		return exitFailed, err
	}
	bin := 0
	var body bytes.Buffer
	all := []jsonLeftover{}
	var names []string
	for _, j := range jobs {
		names = append(names, j.product.Name)
	}
	if c.product == "" {
		names = withGone(names, led)
	}
	for _, name := range names {
		for _, l := range led.Leftover(name) {
			bin += l.Bin
			all = append(all, jsonLeftover{name, codes(l.Markets), l.Text, l.Left, l.Counted, l.Latest, lotCodes(l.True), l.Pieces, l.Bin, codes(l.Only)})
			fmt.Fprintf(&body, "%s, %s: %s\n", name, codes(l.Markets), leftoverLine(l))
		}
	}
	switch {
	case c.json:
		return exitClean, c.writeJSON(all)
	case body.Len() == 0:
		fmt.Fprintln(c.out, "NO LABELS LEFT, as far as they were recorded")
	case bin == 0:
		fmt.Fprintln(c.out, "KEEP THEM ALL")
	default:
		fmt.Fprintf(c.out, "BIN %d %s\n", bin, strings.ToUpper(plural(bin, "label")))
	}
	_, err = body.WriteTo(c.out)
	return exitClean, err
}

// withGone adds the products that labels were printed for and that the book has no more.
func withGone(names []string, led *record.Ledger) []string {
	for _, p := range led.Printings {
		if !slices.ContainsFunc(names, func(s string) bool { return inci.Fold(s) == inci.Fold(p.Product) }) {
			names = append(names, p.Product)
		}
	}
	return names
}

func leftoverLine(l record.Bin) string {
	how := "by the records"
	if l.Counted {
		how = "counted"
	}
	if l.Unknown() {
		return fmt.Sprintf("%d left (%s); what they say is not recorded, so look at them", l.Left, how)
	}
	s := fmt.Sprintf("%d left (%s) with text %s", l.Left, how, l.Text)
	if len(l.Only) > 0 {
		return s + fmt.Sprintf(", which is approved for %s and no longer for the other markets of the label: keep them for pieces sold in %s alone", codes(l.Only), codes(l.Only))
	}
	if l.Latest {
		return s + ", which is what is approved for lots to come: keep them"
	}
	if l.Open {
		return s + "; nothing is approved for lots to come, so keep them until it is"
	}
	s += ", which is not what is approved for lots to come"
	if len(l.True) == 0 {
		s += "; true for no lot in hand"
	} else {
		last := l.True[len(l.True)-1]
		s += fmt.Sprintf("; true for lots up to %s (%d %s without labels)", last.Code, l.Pieces, plural(l.Pieces, "piece"))
	}
	if l.Bin > 0 {
		s += fmt.Sprintf("; bin %d", l.Bin)
	}
	return s
}

// jsonLeftover is the stable shape of leftover --json.
type jsonLeftover struct {
	Product string   `json:"product"`
	Markets string   `json:"markets"`
	Text    string   `json:"text"`
	Left    int      `json:"left"`
	Counted bool     `json:"counted"`
	Latest  bool     `json:"latest"`
	TrueFor []string `json:"trueFor"`
	Pieces  int      `json:"pieces"`
	Bin     int      `json:"bin"`
	Only    string   `json:"only,omitempty"` // markets it is still approved in, where that is not all
}

func lotCodes(lots []*record.Lot) []string {
	out := []string{}
	for _, x := range lots {
		out = append(out, x.Code)
	}
	return out
}
