package main

import (
	"bytes"
	"fmt"
	"strings"

	"panelwright/label/record"
)

// leftover says which labels are left over, what they are true for, and how many to bin.
func leftover(c *call) (int, error) {
	c.productSubject()
	b, led, err := c.openWithRecords()
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
	for _, j := range jobs {
		for _, l := range led.Leftover(j.product.Name) {
			bin += l.Bin
			all = append(all, jsonLeftover{j.product.Name, codes(l.Markets), l.Text, l.Left, l.Counted, l.Latest, lotCodes(l.True), l.Pieces, l.Bin})
			fmt.Fprintf(&body, "%s, %s: %s\n", j.product.Name, codes(l.Markets), leftoverLine(l))
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

func leftoverLine(l record.Bin) string {
	how := "by the records"
	if l.Counted {
		how = "counted"
	}
	s := fmt.Sprintf("%d left (%s) with text %s", l.Left, how, l.Text)
	if l.Latest {
		return s + ", which is what is approved for lots to come: keep them"
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
}

func lotCodes(lots []*record.Lot) []string {
	out := []string{}
	for _, x := range lots {
		out = append(out, x.Code)
	}
	return out
}
