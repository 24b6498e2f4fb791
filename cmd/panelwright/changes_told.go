package main

import (
	"fmt"
	"io"
	"strings"

	"panelwright/formula/finding"
	"panelwright/label/record"
)

// writeChange tells what became of a product, why, and what it touches.
func writeChange(w io.Writer, led *record.Ledger, ch *record.Change) {
	fmt.Fprintf(w, "\n%s\n", ch.Product)
	switch {
	case ch.Came:
		fmt.Fprintln(w, "  is new")
	case ch.Went:
		fmt.Fprintln(w, "  is no longer in the book")
	case !ch.Packs:
		fmt.Fprintln(w, "  no pack changes")
	}
	for _, t := range ch.Verdicts {
		fmt.Fprintf(w, "  %s: %s became %s\n", t.Market.Title(), t.Was, t.Is)
	}
	for _, s := range together(ch.Says, finding.Note, finding.Error) {
		fmt.Fprintf(w, "  %s: %s\n", s.Market, s.Message)
	}
	for _, cause := range ch.Causes {
		at := cause.Where.String()
		if at != "" {
			at += ": "
		}
		fmt.Fprintf(w, "  because %s%s\n", at, cause.Words)
	}
	t := ch.Touches
	for _, s := range t.Labels {
		fmt.Fprintf(w, "  touches %d %s for %s in hand, text %s\n", s.Left, plural(s.Left, "label"), codes(s.Markets), s.Text)
	}
	for _, x := range t.Lots {
		fmt.Fprintf(w, "  touches lot %s, %s, %d in hand\n", x.Code, x.On, led.Left(x))
	}
	if len(t.Sold) > 0 {
		fmt.Fprintf(w, "  sold already: %s %s; if the new figures are true of what went into them, their labels are wrong: panelwright trace LOT says who has them\n",
			plural(len(t.Sold), "lot"), strings.Join(lotCodes(t.Sold), ", "))
	}
	if len(t.Sets) > 0 {
		fmt.Fprintf(w, "  touches %s\n", strings.Join(t.Sets, ", "))
	}
	if len(t.Shops) > 0 {
		fmt.Fprintf(w, "  pieces are with %s\n", strings.Join(t.Shops, ", "))
	}
}

// jsonMoved is the stable shape of changes --json.
type jsonMoved struct {
	Product  string        `json:"product"`
	Packs    bool          `json:"packs"`
	Came     bool          `json:"came"`
	Went     bool          `json:"went"`
	Says     []jsonFinding `json:"says"`
	Verdicts []jsonTurn    `json:"verdicts"`
	Causes   []jsonCause   `json:"causes"`
	Lots     []string      `json:"lots"`
	Sold     []string      `json:"sold"`
	Sets     []string      `json:"sets"`
	Shops    []string      `json:"shops"`
	Labels   []jsonLabels  `json:"labels"`
}

type jsonTurn struct {
	Market string `json:"market"`
	Was    string `json:"was"`
	Is     string `json:"is"`
}

type jsonCause struct {
	Where string `json:"where"`
	Words string `json:"words"`
}

type jsonLabels struct {
	Markets string `json:"markets"`
	Text    string `json:"text"`
	Left    int    `json:"left"`
}

func changesJSON(all []*record.Change) []jsonMoved {
	out := []jsonMoved{}
	for _, ch := range all {
		j := jsonMoved{Product: ch.Product, Packs: ch.Packs, Came: ch.Came, Went: ch.Went, Says: []jsonFinding{}, Verdicts: []jsonTurn{}, Causes: []jsonCause{},
			Lots: lotCodes(ch.Touches.Lots), Sold: lotCodes(ch.Touches.Sold), Sets: append([]string{}, ch.Touches.Sets...), Shops: append([]string{}, ch.Touches.Shops...), Labels: []jsonLabels{}}
		for _, s := range ch.Says {
			j.Says = append(j.Says, findingJSON(s))
		}
		for _, t := range ch.Verdicts {
			j.Verdicts = append(j.Verdicts, jsonTurn{string(t.Market), t.Was.String(), t.Is.String()})
		}
		for _, x := range ch.Causes {
			j.Causes = append(j.Causes, jsonCause{x.Where.String(), x.Words})
		}
		for _, s := range ch.Touches.Labels {
			j.Labels = append(j.Labels, jsonLabels{codes(s.Markets), s.Text, s.Left})
		}
		out = append(out, j)
	}
	return out
}
