package paper

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/market"
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
	went(doc, out)
	printings(doc, out)
	complaints(doc, out)
	if back != nil {
		madeOf(doc, back)
	}
	doc.add(Para{Words: "From what was recorded. What was not written down is not here. Whom the law wants told of a recall, and how, is for local law and your authority to say.", Quiet: true})
	return doc
}

// TraceLine is the sum of a trace in one line.
func TraceLine(l *record.Ledger, out *record.Trail, suspects []*record.Lot) string {
	p := l.PiecesOf(out.Lots)
	shops := len(byShop(out.Shipments))
	s := fmt.Sprintf("%d %s, %d %s: %d in hand", len(out.Lots), plural(len(out.Lots), "lot"), p.Made, plural(p.Made, "piece"), p.Left)
	if p.Boxed > 0 {
		s += fmt.Sprintf(", %d in boxes", p.Boxed)
	}
	if n := p.Went[record.Shop] + p.Went[record.Order]; n > 0 {
		s += fmt.Sprintf(", %d gone to %d %s", n, shops, plural(shops, "shop or customer"))
	}
	if n := p.Went[record.MarketDay]; n > 0 {
		s += fmt.Sprintf(", %d sold to buyers unknown: put up a notice", n)
	}
	if len(suspects) > 0 {
		s += fmt.Sprintf("; %d more %s may hold it", len(suspects), plural(len(suspects), "lot"))
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
		t.Rows = append(t.Rows, []string{x.Code, x.Product, x.On.String(), fmt.Sprint(x.Pieces), fmt.Sprint(l.Left(x)), string(l.StateOf(x))})
	}
	doc.add(t)
}

// shop is somebody who has pieces, and what of.
type shop struct {
	name, contact string
	rows          []*record.Shipment
	pieces        int
}

// byShop groups what went to shops and customers known by name. The latest contact counts.
func byShop(all []*record.Shipment) []*shop {
	at := map[string]*shop{}
	var out []*shop
	for _, s := range all {
		if s.Kind != record.Shop && s.Kind != record.Order {
			continue
		}
		k := at[inci.Fold(s.To)]
		if k == nil {
			k = &shop{name: s.To}
			at[inci.Fold(s.To)] = k
			out = append(out, k)
		}
		k.rows = append(k.rows, s)
		k.pieces += s.Pieces
		if s.Contact != "" {
			k.contact = s.Contact
		}
	}
	slices.SortStableFunc(out, func(a, b *shop) int { return cmp.Compare(inci.Fold(a.name), inci.Fold(b.name)) })
	return out
}

func went(doc *Paper, out *record.Trail) {
	if shops := byShop(out.Shipments); len(shops) > 0 {
		doc.add(Heading{2, "Whom to call"})
		t := Table{Heads: []string{"who", "contact", "pieces", "lots and days", "called on", "came back"}, Right: []bool{false, false, true, false, false, false}, Wide: []int{34, 34, 12, 40, 18, 18}}
		for _, s := range shops {
			var lots []string
			for _, r := range s.rows {
				lots = append(lots, fmt.Sprintf("%s: %d on %s", r.Lot, r.Pieces, r.On))
			}
			contact := s.contact
			if contact == "" {
				contact = "not recorded"
			}
			t.Rows = append(t.Rows, []string{s.name, contact, fmt.Sprint(s.pieces), strings.Join(lots, "; "), "", ""})
		}
		doc.add(t)
	}
	var rows [][]string
	for _, s := range out.Shipments {
		if s.Kind != record.Shop && s.Kind != record.Order {
			rows = append(rows, []string{s.On.String(), s.Lot, fmt.Sprint(s.Pieces), string(s.Kind), s.To})
		}
	}
	if len(rows) > 0 {
		doc.add(Heading{2, "Where the others went"}, Table{Heads: []string{"day", "lot", "pieces", "as", "where"}, Right: []bool{false, false, true, false, false}, Wide: []int{22, 20, 14, 24, 60}, Rows: rows})
	}
	if n := unknownBuyers(out.Shipments); n > 0 {
		doc.add(Para{Words: fmt.Sprintf("%d %s sold on market days, buyers unknown: put up the notice at the stall, and where customers look.", n, plural(n, "piece")), Loud: true})
	}
}

func unknownBuyers(all []*record.Shipment) (n int) {
	for _, s := range all {
		if s.Kind == record.MarketDay {
			n += s.Pieces
		}
	}
	return n
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
// pieces, where they were sold, and what to do with them. Reason is the maker's
// own; a blank is left where there is none. It gives no advice on health.
func Notice(out *record.Trail, called []Called, reason, contact string, on date.Date) *Paper {
	doc := &Paper{Title: "Please bring these back", Lang: "en", Footer: "Notice of " + on.String()}
	for _, x := range out.Lots {
		name := x.Product
		for _, c := range called {
			if c.Product == x.Product {
				name = c.Name
			}
		}
		doc.add(Large{fmt.Sprintf("%s, lot %s", name, x.Code)})
	}
	var where []string
	for _, s := range out.Shipments {
		if s.Kind == record.MarketDay || s.Kind == record.Shop {
			if w := fmt.Sprintf("%s, %s", s.To, s.On); !slices.Contains(where, w) {
				where = append(where, w)
			}
		}
	}
	if len(where) > 0 {
		doc.add(Pair{"Sold", strings.Join(where, "; ")})
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

// AllergenShares lists every allergen that the suppliers' sheets mention, with
// its share of the finished piece.
func AllergenShares(d *label.Declaration) []ShareRow {
	var out []ShareRow
	for _, r := range d.Allergens {
		out = append(out, ShareRow{r.Entry.Name, strings.TrimSuffix(label.PercentBeside(r.Share.Typical, r.Threshold, exact.Nearest), " %"), r.Greatest(), from(r)})
	}
	return out
}

// Complaint writes the page for a doctor: what the piece was, its list and its
// fragrance allergens with their shares as made. Shares is nil where the lot is
// not known or cannot be made up.
func Complaint(c *record.Complaint, l *record.Ledger, lists []ListFor, shares []ShareRow, others []*record.Lot, on date.Date) *Paper {
	doc := &Paper{Title: "What was in it: " + c.Product, Lang: "en", Footer: fmt.Sprintf("complaint %s, %s", c.Code, on)}
	doc.add(Pair{"Product", c.Product}, Pair{"Lot", orBlank(c.Lot)}, Pair{"Reported", fmt.Sprintf("%s: %s", c.On, c.Text)})
	for _, x := range lists {
		doc.add(Heading{2, "Ingredients, as on the pack for " + x.Title}, Para{Words: x.Text})
	}
	doc.add(Heading{2, "Fragrance allergens and their shares, as made"})
	if len(shares) == 0 {
		doc.add(Para{Words: "No supplier's sheet names any, or the lot is not known."})
	} else {
		t := Table{Heads: []string{"substance", "typical %", "greatest %", "from"}, Right: []bool{false, true, true, false}, Wide: []int{48, 20, 20, 52}}
		for _, s := range shares {
			t.Rows = append(t.Rows, []string{s.Name, s.Typical, s.Greatest, s.From})
		}
		doc.add(t, Para{Words: "Of the finished piece, by the suppliers' sheets. What no sheet mentions is not here; nothing was measured in a laboratory.", Quiet: true})
	}
	lotTable(doc, l, "Other lots that share its scents", others)
	doc.add(Para{Words: "This page tells what was in the piece. It is no advice on treatment: that is for a doctor.", Loud: true})
	return doc
}

// ListFor is a list of ingredients on a pack.
type ListFor struct{ Title, Text string }

// ShareRow is a substance and how much of it was in a piece, in per cent.
type ShareRow struct{ Name, Typical, Greatest, From string }

func orBlank(s string) string {
	if s == "" {
		return "not known"
	}
	return s
}

// Whom writes whom the law may want told of a complaint, market by market, and
// who was told.
func Whom(c *record.Complaint, markets []inci.Market) *Paper {
	doc := &Paper{Title: "Complaint " + c.Code + ": whom to tell", Lang: "en"}
	serious := "The complaint is not marked as serious."
	if c.Serious {
		serious = "The complaint is marked as serious."
	}
	doc.add(Para{Words: serious, Loud: true})
	words, source := market.Serious()
	doc.add(Para{Words: "Serious, in short: " + words + "."}, Para{Words: source.String(), Quiet: true})
	for _, m := range markets {
		t := market.Tell(m)
		doc.add(Heading{2, m.Title()}, Pair{"If it is serious, tell", t.Who}, Pair{"When", t.When})
		if t.Keep != "" {
			doc.add(Pair{"Keep", t.Keep})
		}
		doc.add(Para{Words: t.Source.String(), Quiet: true})
	}
	if len(c.Told) > 0 {
		t := Table{Heads: []string{"told", "on"}, Right: make([]bool, 2), Wide: []int{60, 30}}
		for _, x := range c.Told {
			t.Rows = append(t.Rows, []string{x.Who, x.On.String()})
		}
		doc.add(Heading{2, "Who was told"}, t)
	} else {
		doc.add(Para{Words: "Nobody is recorded as told. To record it, correct the complaint with told: {who: day}."})
	}
	doc.add(Para{Words: "Tell your safety assessor too. Local law, your authority and the assessor have the last word.", Quiet: true})
	return doc
}
