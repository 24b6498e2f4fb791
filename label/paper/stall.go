package paper

import (
	"fmt"
	"strings"

	"panelwright/formula/date"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/record"
)

// StallRow is a product on the table of a stall.
type StallRow struct {
	Name, Net, Price string
	Lots             []*record.Lot // with pieces in hand
	Approved         *record.Approval
}

// Stall writes the folder for a stall: a page for customers that says which
// product holds what, and a page for an inspector with who answers for the
// products, their lots and where the papers are.
func Stall(w *label.Workshop, markets []inci.Market, all []Ticks, rows []StallRow, on date.Date) *Paper {
	contact := ""
	for _, m := range markets {
		if contact == "" {
			contact = w.Responsible[m].Contact
		}
	}
	doc := Statement(w.Name, contact, "customers at the stall", markets, all, on)
	doc.Title = "Stall folder of " + w.Name
	doc.add(NewPage{}, Heading{1, "For an inspector"})
	for _, m := range markets {
		r, ok := w.Responsible[m]
		words := "nobody is named"
		if ok {
			words = strings.Join(append(append([]string{r.Name}, r.Address...), r.Contact), ", ")
		}
		doc.add(Pair{"Answers for them, " + m.Title(), words})
	}
	t := Table{Heads: []string{"product", "net", "price", "lots in hand", "words approved"}, Right: make([]bool, 5), Wide: []int{52, 30, 18, 34, 34}}
	for _, r := range rows {
		var lots []string
		for _, x := range r.Lots {
			lots = append(lots, x.Code)
		}
		approved := "no"
		if r.Approved != nil {
			approved = fmt.Sprintf("%s, %s", r.Approved.On, r.Approved.Entry.By)
		}
		t.Rows = append(t.Rows, []string{r.Name, r.Net, r.Price, strings.Join(lots, ", "), approved})
	}
	doc.add(t, Para{Words: "Product files, suppliers' sheets and the records of every lot are kept by the workshop and can be shown. Nothing here is an assessment; local law and a qualified safety assessor have the last word.", Quiet: true})
	return doc
}
