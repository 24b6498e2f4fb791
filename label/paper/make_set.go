package paper

import (
	"fmt"
	"strings"

	"panelwright/formula/date"
	"panelwright/label"
	"panelwright/label/record"
)

// MakeSet writes the sheet that boxes of a set are packed by: from which lots in
// hand the pieces come, and what must be made first.
func MakeSet(set *label.Set, boxes int, code string, inside []record.Inside, on date.Date, form string) *Paper {
	doc := &Paper{Title: "Pack " + set.Name, Lang: "en", Footer: fmt.Sprintf("%s, packing sheet of %s", set.Name, on)}
	if code == "" {
		code = "........................"
	}
	doc.add(Large{fmt.Sprintf("Boxes: %d", boxes)}, Pair{"Lot", code}, Pair{"Packed on", on.String()})
	doc.add(Heading{2, "Fetch"})
	t := Bench{Heads: []string{"", "product", "pieces", "from lots", "a box", "really from"}, Wide: []int{8, 50, 20, 46, 14, 32}, Right: []bool{false, false, true, false, true, false},
		Tick: []int{0}, Strong: []int{1}, Loud: []int{2}, Write: []int{5}}
	for _, x := range inside {
		var from []string
		for _, l := range x.From {
			from = append(from, fmt.Sprintf("%s: %d", l.Lot.Code, l.Pieces))
		}
		if x.Make > 0 {
			from = append(from, fmt.Sprintf("%d to make", x.Make))
		}
		each := 0
		if boxes > 0 {
			each = x.Pieces / boxes
		}
		t.Rows = append(t.Rows, []string{"", x.Product.Name, fmt.Sprint(x.Pieces), strings.Join(from, "; "), fmt.Sprint(each), ""})
	}
	doc.add(t)
	toMake(doc, inside)
	doc.add(Para{Words: "In hand is what was made less what went or was put into boxes, of lots that are ready; trials are left out. Each piece keeps the label of its own lot; the box names the pieces by their lists.", Quiet: true})
	doc.add(Para{Words: fmt.Sprintf("Record it: fill in %s and hand it to panelwright record --form.", form)})
	doc.add(Para{Words: Humility, Quiet: true})
	return doc
}

func toMake(doc *Paper, inside []record.Inside) {
	first := true
	for _, x := range inside {
		if x.Make == 0 {
			continue
		}
		if first {
			doc.add(Heading{2, "To make first"})
			first = false
		}
		s := fmt.Sprintf("%d of %s: panelwright make '%s' --pieces %d.", x.Make, x.Product.Name, x.Product.Name, x.Make)
		for _, l := range x.Waiting {
			s += fmt.Sprintf(" Lot %s has %d, which are not ready.", l.Lot.Code, l.Pieces)
		}
		doc.add(Para{Words: s})
	}
}
