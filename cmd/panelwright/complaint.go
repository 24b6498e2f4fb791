package main

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/paper"
	"panelwright/label/record"
)

// complaintVerb writes what goes with a complaint: the page for a doctor, the lots that share the scent, and whom the
// law may want told.
func complaintVerb(c *call) (int, error) {
	code := c.subject()
	if code == "" {
		return exitFailed, usageError("say which complaint: panelwright complaint CODE; record writes one down")
	}
	b, led, err := c.openOrKept()
	if err != nil {
		return exitFailed, err
	}
	said := led.Complaint(code)
	if said == nil {
		return exitFailed, usageError(fmt.Sprintf("no complaint %s is recorded; record it first: complaint: %s; lot: CODE; what: what happened", code, code))
	}
	if x := led.Lot(said.Lot); x != nil && said.Product == "" {
		said.Product = x.Product
	}
	was, err := c.wasInIt(b, led, said)
	if err != nil {
		return exitFailed, err
	}
	if c.json {
		return exitClean, c.writeJSON(complaintJSON(led, said, was))
	}
	page := paper.Complaint(said, led, was.lists, was.shares, was.others, c.on)
	whom := paper.Whom(said, was.markets)
	fmt.Fprintf(c.out, "complaint %s of %s: %s, lot %s\n\n", said.Code, said.On, said.Product, orUnknown(said.Lot))
	for _, doc := range []*paper.Paper{whom, page} {
		if err := doc.Text(c.out); err != nil {
			return exitFailed, err
		}
		fmt.Fprintln(c.out)
	}
	if c.pdf != "" {
		if err := c.paperFile(page, c.pdf); err != nil {
			return exitFailed, err
		}
		fmt.Fprintf(c.out, "page for a doctor: %s\n", c.pdf)
	}
	return exitClean, nil
}

func orUnknown(s string) string {
	if s == "" {
		return "not known"
	}
	return s
}

// inIt is what was in the piece of a complaint, or in the pieces of a box.
type inIt struct {
	markets []inci.Market
	lists   []paper.ListFor
	shares  []paper.Shares
	others  []*record.Lot // that share its scents
}

// wasInIt finds what was in the piece of a complaint, as made where the lot is known, else as the book says.
func (c *call) wasInIt(b *book.Book, led *record.Ledger, said *record.Complaint) (*inIt, error) {
	p, set := productNamed(b, said.Product)
	if p == nil { // a customer may have a piece of what is made no more
		if then := c.lastKept(led, said.Product); then != nil {
			b = then
			p, set = productNamed(b, said.Product)
		}
	}
	if p == nil {
		return nil, usageError(fmt.Sprintf("the book has no product %q", said.Product))
	}
	now := deskBook{b, label.NewDesk(&b.Workshop)}
	x := led.Lot(said.Lot)
	if set != nil {
		return c.wasInBox(now, led, set, x)
	}
	was := &inIt{markets: p.SellIn}
	at, o := now, c.occasion()
	if x != nil {
		var made *record.Made
		var bad finding.List
		if at, made, bad = c.asMade(now, led, x); made == nil {
			return nil, fmt.Errorf("lot %s cannot be made up: %s", x.Code, bad[0].Line())
		}
		p, o = made.Product, c.lotOccasion(led, x)
	}
	was.others = c.sharing(led, at.book, p, x)
	for _, d := range at.desk.Declare(p, p.SellIn, o) {
		was.lists = append(was.lists, paper.ListFor{Title: d.Market.Title(), Text: c.listOnPack(led, x, d)})
	}
	was.shares = []paper.Shares{{Rows: c.sharesIn(at, p)}}
	return was, nil
}

// wasInBox finds what was in a box of a set: each lot that was put into it as made, and by its recipe what no lot of is
// recorded.
func (c *call) wasInBox(now deskBook, led *record.Ledger, set *label.Set, x *record.Lot) (*inIt, error) {
	was := &inIt{markets: set.SellIn}
	at, o, box := now, c.occasion(), set
	var inner []*record.Lot
	if x != nil {
		var made *record.Made
		var bad finding.List
		if at, made, bad = c.boxAsMade(now, led, x); made == nil {
			return nil, fmt.Errorf("lot %s cannot be made up: %s", x.Code, bad[0].Line())
		}
		box, o = made.Boxes[0], c.lotOccasion(led, x)
		inner = slices.DeleteFunc(led.Back(x).Lots[1:], func(y *record.Lot) bool { return y.IsMix() })
	}
	for _, d := range at.desk.DeclareSet(box, box.SellIn, o) {
		was.lists = append(was.lists, paper.ListFor{Title: d.Market.Title(), Text: c.listOnPack(led, x, d)})
	}
	others := func(all []*record.Lot) {
		for _, y := range all {
			if y != x && !slices.Contains(inner, y) && !slices.Contains(was.others, y) {
				was.others = append(was.others, y)
			}
		}
	}
	for _, y := range inner {
		by, made, bad := c.asMade(now, led, y)
		if made == nil {
			return nil, fmt.Errorf("lot %s in the box cannot be made up: %s", y.Code, bad[0].Line())
		}
		was.shares = append(was.shares, paper.Shares{Title: y.Product + ", lot " + y.Code, Rows: c.sharesIn(by, made.Product)})
		others(c.sharing(led, by.book, made.Product, y))
	}
	for _, h := range box.Holds {
		if slices.ContainsFunc(inner, func(y *record.Lot) bool { return inci.Fold(y.Product) == inci.Fold(h.Product.Name) }) {
			continue
		}
		was.shares = append(was.shares, paper.Shares{Title: h.Product.Name + ", by its recipe: which lot of it was in the box is not known", Rows: c.sharesIn(at, h.Product)})
		others(c.sharing(led, at.book, h.Product, nil))
	}
	record.InOrder(was.others)
	return was, nil
}

// sharesIn returns every allergen that suppliers' sheets mention in a piece. The longest list there is today names most
// of them.
func (c *call) sharesIn(at deskBook, p *label.Product) []paper.ShareRow {
	return sharesOf(at.desk.Declare(p, inci.Markets, c.occasion()))
}

// listOnPack returns the list that was approved for the lot, or the one that is due.
func (c *call) listOnPack(led *record.Ledger, x *record.Lot, d *label.Declaration) string {
	if x == nil {
		return d.Text()
	}
	a := led.ApprovalFor(x.Product, d.Market, x, c.on)
	if a == nil {
		return d.Text()
	}
	f, err := book.ApprovedCopy(c.bookFS(), a.Text)
	if err != nil {
		c.problems(finding.List{lostCopy(a, err)})
		return d.Text()
	}
	var all []string
	for _, s := range append(slices.Clone(f.Front), f.Back...) {
		if s.Kind == label.ListText {
			all = append(all, s.Text)
		}
	}
	return strings.Join(all, "; ")
}

// sharesOf returns every listed allergen that a sheet mentions, by the market that lists most.
func sharesOf(ds []*label.Declaration) (out []paper.ShareRow) {
	var most *label.Declaration
	for _, d := range ds {
		if most == nil || len(d.Allergens) > len(most.Allergens) {
			most = d
		}
	}
	if most == nil {
		return nil
	}
	return paper.AllergenShares(most)
}

// sharing returns the other lots that were made with a lot of a scent that is in x; where lots are not recorded, or x is
// nil, with the same scent.
func (c *call) sharing(led *record.Ledger, b *book.Book, p *label.Product, x *record.Lot) []*record.Lot {
	var out []*record.Lot
	seen := map[*record.Lot]bool{x: true}
	add := func(all []*record.Lot) {
		for _, y := range all {
			if !seen[y] {
				seen[y] = true
				out = append(out, y)
			}
		}
	}
	for _, name := range record.Scents(p) {
		used := false
		var uses []record.Used
		if x != nil {
			uses = led.UsedIn(x)
		}
		for _, u := range uses {
			if inci.Fold(u.Name) != inci.Fold(name) {
				continue
			}
			for _, part := range u.Lots {
				used = true
				add(led.ForwardUse(name, part.Code).Lots)
				if r := led.Receipt(name, part.Code); r != nil {
					add(led.Suspects(name, r.On, c.holds(b, name)))
				}
			}
		}
		if !used {
			add(led.Suspects(name, 0, c.holds(b, name)))
		}
	}
	record.InOrder(out)
	return out
}
