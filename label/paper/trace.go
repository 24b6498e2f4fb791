package paper

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/inci"
	"panelwright/label/record"
)

// Trace writes what lots of materials or products reached: the lots made of
// them, where the pieces are, and whom to call. Suspects are lots that may hold
// it though they do not say so. With back it says too what the first lot was
// made of. On is the day of the paper.
func Trace(title string, l *record.Ledger, out, back *record.Trail, suspects []*record.Lot, on date.Date) *Paper {
	doc := &Paper{Title: title, Lang: "en", Footer: title + ", " + on.String()}
	doc.add(Para{Words: TraceLine(l, out, suspects), Loud: true})
	for _, r := range out.Receipts {
		doc.add(Pair{"Received", receiptWords(r)})
	}
	lotTable(doc, l, "Lots that hold it", out.Lots)
	if len(suspects) > 0 {
		lotTable(doc, l, "Lots that may hold it", suspects)
		doc.add(Para{Words: "Their recipe has the material, they were made on or after the day it came in, and no lot of it is recorded for them. Count them in until it is known.", Quiet: true})
	}
	went(doc, l, out.Lots, "Whom to call", "Where the others went", "%d %s sold on market days, buyers unknown: put up the notice at the stall, and where customers look.")
	if len(suspects) > 0 {
		went(doc, l, suspects, "Whom to call of those that may hold it", "Where the others of those went", "%d more %s that may hold it sold on market days, buyers unknown: the notice names their lots too.")
	}
	printings(doc, out)
	complaints(doc, out)
	if back != nil {
		madeOf(doc, back)
	}
	doc.add(Para{Words: "From what was recorded. What was not written down is not here. Whom the law wants told of a recall, and how, is for local law and your authority to say.", Quiet: true})
	return doc
}

// TraceLine is the sum of a trace in one line. Boxes are told apart from the
// pieces that are in them.
func TraceLine(l *record.Ledger, out *record.Trail, suspects []*record.Lot) string {
	pieces, boxes := l.PiecesOf(out.Lots)
	var parts []string
	if pieces.Lots > 0 || boxes.Lots == 0 {
		parts = append(parts, fmt.Sprintf("%d %s, %d %s: %s", pieces.Lots, plural(pieces.Lots, "lot"), pieces.Made, plural(pieces.Made, "piece"), where(l, out.Lots, pieces, false)))
	}
	if boxes.Lots > 0 {
		word := "boxes"
		if boxes.Made == 1 {
			word = "box"
		}
		parts = append(parts, fmt.Sprintf("%d %s of %d %s: %s", boxes.Lots, plural(boxes.Lots, "lot"), boxes.Made, word, where(l, out.Lots, boxes, true)))
	}
	if n := len(suspects); n > 0 {
		parts = append(parts, fmt.Sprintf("%d more %s may hold it", n, plural(n, "lot")))
	}
	return strings.Join(parts, "; ")
}

// where says where the pieces of lots are, or the boxes among them.
func where(l *record.Ledger, lots []*record.Lot, p record.Pieces, boxes bool) string {
	s := fmt.Sprintf("%d in hand", p.Left)
	if p.Boxed > 0 {
		s += fmt.Sprintf(", %d in boxes", p.Boxed)
	}
	if n := p.Went[record.Shop] + p.Went[record.Order]; n > 0 {
		shops := len(byShop(l, slices.DeleteFunc(slices.Clone(lots), func(x *record.Lot) bool { return l.IsBox(x) != boxes })))
		s += fmt.Sprintf(", %d gone to %d %s", n, shops, plural(shops, "shop or customer"))
	}
	if n := p.Went[record.MarketDay]; n > 0 {
		s += fmt.Sprintf(", %d sold to buyers unknown: put up a notice", n)
	}
	for _, k := range []record.Buyer{record.KeptBack, record.Destroyed} {
		if n := p.Went[k]; n > 0 {
			s += fmt.Sprintf(", %d %s", n, k)
		}
	}
	if p.Back > 0 {
		s += fmt.Sprintf("; %d came back, and from where is not recorded", p.Back)
	}
	return s
}

// plural returns a word in the plural unless n is one.
func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	if head, tail, ok := strings.Cut(word, " or "); ok {
		return plural(n, head) + " or " + plural(n, tail)
	}
	return word + "s"
}

func receiptWords(r *record.Receipt) string {
	s := fmt.Sprintf("%s, lot %s, on %s", r.Material, r.Code, r.On)
	if !r.Grams.IsZero() {
		s += fmt.Sprintf(", %s g", r.Grams.Decimal(1, exact.Nearest))
	}
	for _, x := range [][2]string{{"from", r.Supplier}, {"sheet", r.Sheet}} {
		if x[1] != "" {
			s += ", " + x[0] + " " + x[1]
		}
	}
	if r.Expires != 0 {
		s += ", expires " + r.Expires.String()
	}
	return s
}

func lotTable(doc *Paper, l *record.Ledger, head string, lots []*record.Lot) {
	doc.add(Heading{2, head})
	if len(lots) == 0 {
		doc.add(Para{Words: "None is recorded."})
		return
	}
	t := Table{Heads: []string{"lot", "product", "made", "pieces", "in hand", "state"}, Right: []bool{false, false, false, true, true, false}, Wide: []int{20, 44, 22, 14, 14, 16}}
	for _, x := range lots {
		made := fmt.Sprint(x.Pieces)
		if l.IsBox(x) {
			made += " boxes"
		}
		if x.IsMix() {
			t.Rows = append(t.Rows, []string{x.Code, x.Product, x.On.String(), x.Batch[0].Grams.Decimal(1, exact.Nearest).String() + " g", "", "mix"})
			continue
		}
		t.Rows = append(t.Rows, []string{x.Code, x.Product, x.On.String(), made, fmt.Sprint(l.Left(x)), string(l.StateOf(x))})
	}
	doc.add(t)
}

// shop is somebody who has pieces, and what of.
type shop struct {
	name, contact string
	rows          []string
	pieces, boxes int
}

// byShop groups what is with shops and customers known by name, less what came
// back from them. The latest contact counts.
func byShop(l *record.Ledger, lots []*record.Lot) []*shop {
	at := map[string]*shop{}
	var out []*shop
	for _, x := range lots {
		still, _ := l.StillOut(x)
		for _, s := range still {
			if s.Kind != record.Shop && s.Kind != record.Order || s.Pieces == 0 {
				continue
			}
			k := at[inci.Fold(s.To)]
			if k == nil {
				k = &shop{name: s.To}
				at[inci.Fold(s.To)] = k
				out = append(out, k)
			}
			words := fmt.Sprintf("%s: %d on %s", x.Code, s.Shipment.Pieces, s.On)
			if back := s.Shipment.Pieces - s.Pieces; back > 0 {
				words += fmt.Sprintf(", %d came back", back)
			}
			k.rows = append(k.rows, words)
			if l.IsBox(x) {
				k.boxes += s.Pieces
			} else {
				k.pieces += s.Pieces
			}
			if s.Contact != "" {
				k.contact = s.Contact
			}
		}
	}
	slices.SortStableFunc(out, func(a, b *shop) int { return cmp.Compare(inci.Fold(a.name), inci.Fold(b.name)) })
	return out
}

// has says what a shop has: pieces, boxes, or both.
func (s *shop) has() string {
	boxes := fmt.Sprintf("%d boxes", s.boxes)
	if s.boxes == 1 {
		boxes = "1 box"
	}
	switch {
	case s.boxes == 0:
		return fmt.Sprint(s.pieces)
	case s.pieces == 0:
		return boxes
	}
	return fmt.Sprintf("%d, %s", s.pieces, boxes)
}

// went says who has pieces of lots and is to be called, and where the others
// went. Unknown words how many were sold to buyers that nobody knows.
func went(doc *Paper, l *record.Ledger, lots []*record.Lot, call, others, unknown string) {
	if shops := byShop(l, lots); len(shops) > 0 {
		doc.add(Heading{2, call})
		t := Table{Heads: []string{"who", "contact", "pieces", "lots and days", "called on", "came back"}, Right: []bool{false, false, true, false, false, false}, Wide: []int{32, 32, 18, 40, 17, 17}}
		for _, s := range shops {
			contact := s.contact
			if contact == "" {
				contact = "not recorded"
			}
			t.Rows = append(t.Rows, []string{s.name, contact, s.has(), strings.Join(s.rows, "; "), "", ""})
		}
		doc.add(t)
	}
	var rows [][]string
	n := 0
	for _, x := range lots {
		for _, s := range l.ShipmentsOf(x) {
			if s.Kind != record.Shop && s.Kind != record.Order {
				rows = append(rows, []string{s.On.String(), x.Code, fmt.Sprint(s.Pieces), string(s.Kind), s.To})
			}
		}
		still, _ := l.StillOut(x)
		for _, s := range still {
			if s.Kind == record.MarketDay {
				n += s.Pieces
			}
		}
	}
	if len(rows) > 0 {
		doc.add(Heading{2, others}, Table{Heads: []string{"day", "lot", "pieces", "as", "where"}, Right: []bool{false, false, true, false, false}, Wide: []int{22, 20, 14, 24, 60}, Rows: rows})
	}
	if n > 0 {
		doc.add(Para{Words: fmt.Sprintf(unknown, n, plural(n, "piece")), Loud: true})
	}
}

func printings(doc *Paper, out *record.Trail) {
	if len(out.Printings) == 0 {
		return
	}
	t := Table{Heads: []string{"day", "lot", "for", "copies", "what", "text"}, Right: []bool{false, false, false, true, false, false}, Wide: []int{22, 20, 20, 14, 18, 30}}
	for _, p := range out.Printings {
		what := "labels"
		if p.Stickers {
			what = "stickers"
		}
		var ms []string
		for _, m := range p.Markets {
			ms = append(ms, string(m))
		}
		t.Rows = append(t.Rows, []string{p.On.String(), p.Lot, strings.Join(ms, " "), fmt.Sprint(p.Copies), what, p.Text})
	}
	doc.add(Heading{2, "Labels printed for them"}, t)
}

func complaints(doc *Paper, out *record.Trail) {
	if len(out.Complaints) == 0 {
		return
	}
	t := Table{Heads: []string{"complaint", "day", "lot", "what was said"}, Right: make([]bool, 4), Wide: []int{18, 20, 18, 84}}
	for _, c := range out.Complaints {
		t.Rows = append(t.Rows, []string{c.Code, c.On.String(), c.Lot, c.Text})
	}
	doc.add(Heading{2, "What was said of them"}, t)
}

// madeOf lists the lots that went into a lot.
func madeOf(doc *Paper, back *record.Trail) {
	doc.add(Heading{2, "What it was made of"})
	t := Table{Heads: []string{"material", "lot", "came in", "supplier", "sheet", "expires"}, Right: make([]bool, 6), Wide: []int{44, 18, 20, 30, 28, 20}}
	for _, r := range back.Receipts {
		expires := ""
		if r.Expires != 0 {
			expires = r.Expires.String()
		}
		t.Rows = append(t.Rows, []string{r.Material, r.Code, r.On.String(), r.Supplier, r.Sheet, expires})
	}
	for _, u := range back.Unrecorded {
		t.Rows = append(t.Rows, []string{u.Material, u.Code, "not recorded", "", "", ""})
	}
	if len(t.Rows) == 0 {
		doc.add(Para{Words: "No lot of a material is recorded for it."})
		return
	}
	doc.add(t)
	if len(back.Lots) > 1 {
		var inner []string
		for _, x := range back.Lots[1:] {
			inner = append(inner, x.Code+" ("+x.Product+")")
		}
		doc.add(Pair{"Lots inside it", strings.Join(inner, ", ")})
	}
}

// Called is what a product is called on its pack, for customers.
type Called struct {
	Product string
	Name    string // title and identity, as printed
}

// Notice writes the notice for the stall and for where customers look: which
// pieces, where they were sold, and what to do with them. Lots of which nothing
// left the workshop are not on it. Reason is the maker's own; a blank is left
// where there is none. It gives no advice on health.
func Notice(l *record.Ledger, lots []*record.Lot, called []Called, reason, contact string, on date.Date) *Paper {
	doc := &Paper{Title: "Please bring these back", Lang: "en", Footer: "Notice of " + on.String()}
	var places []string
	for _, x := range lots {
		if x.IsMix() || !l.Sold(x) { // nobody bought a mix: its pieces are named
			continue
		}
		name := x.Product
		for _, c := range called {
			if c.Product == x.Product {
				name = c.Name
			}
		}
		doc.add(Large{fmt.Sprintf("%s, lot %s", name, x.Code)})
		out, _ := l.StillOut(x)
		for _, s := range out {
			if s.Pieces > 0 && (s.Kind == record.MarketDay || s.Kind == record.Shop) {
				if w := strings.TrimPrefix(fmt.Sprintf("%s, %s", s.To, s.On), ", "); !slices.Contains(places, w) {
					places = append(places, w)
				}
			}
		}
	}
	if len(places) > 0 {
		doc.add(Pair{"Sold", strings.Join(places, "; ")})
	}
	if reason == "" {
		reason = "........................................................................................"
	}
	doc.add(Pair{"Why", reason})
	doc.add(Large{"Do not use them. Bring or send them back; you get your money back."})
	if contact != "" {
		doc.add(Pair{"Reach us", contact})
	}
	doc.add(Para{Words: "If you feel unwell after using one, ask a doctor or pharmacist, and take the label with you."})
	doc.add(Pair{"Day of this notice", on.String()})
	return doc
}
