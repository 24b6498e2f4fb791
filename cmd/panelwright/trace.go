package main

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/layout"
	"panelwright/label/paper"
	"panelwright/label/record"
	"panelwright/label/render/pdf"
	"panelwright/label/scene"
)

// trace follows a lot of a material or of a product both ways: what it went into and where the pieces are, and what
// it was made of.
func trace(c *call) (int, error) {
	code := c.subject()
	if code == "" {
		return exitFailed, usageError("say what to trace: panelwright trace LOT")
	}
	b, led, err := c.openWithRecords()
	if err != nil {
		return exitFailed, err
	}
	t, err := c.follow(b, led, code)
	if err != nil {
		return exitFailed, err
	}
	doc := paper.Trace(t.title, led, t.out, t.back, t.suspects, c.on)
	tell := c.out
	if c.json {
		if err := c.writeJSON(traceJSON(led, t)); err != nil {
			return exitFailed, err
		}
		tell = c.err // what was written is no part of the JSON
	} else {
		fmt.Fprintf(c.out, "%s: %s\n\n", t.title, paper.TraceLine(led, t.out, t.suspects))
		if err := doc.Text(c.out); err != nil {
			return exitFailed, err
		}
	}
	if c.pdf != "" {
		if err := c.paperFile(doc, c.pdf); err != nil {
			return exitFailed, err
		}
		fmt.Fprintf(tell, "\nwritten: %s\n", c.pdf)
	}
	if c.rec.notice != "" {
		notice := paper.Notice(t.out, calledIn(b), c.rec.reason, contactOf(b), c.on)
		if err := c.paperFile(notice, c.rec.notice); err != nil {
			return exitFailed, err
		}
		fmt.Fprintf(tell, "notice for the stall: %s\n", c.rec.notice)
	}
	return exitClean, nil
}

// followed is what a code leads to.
type followed struct {
	title     string
	out, back *record.Trail
	suspects  []*record.Lot
}

// follow finds what a code names: a lot of a product before lots of materials.
func (c *call) follow(b *book.Book, led *record.Ledger, code string) (*followed, error) {
	x, received := led.Lot(code), led.Receipts(code)
	if x != nil && len(received) > 0 && c.rec.material == "" && c.product == "" {
		return nil, usageError(fmt.Sprintf("lot %s is one of %s and one of %s: say which with --material %q or --product %q", code, x.Product, received[0].Material, received[0].Material, x.Product))
	}
	if x != nil && c.rec.material == "" {
		return &followed{title: fmt.Sprintf("Trace of %s, lot %s", x.Product, x.Code), out: led.ForwardLots([]*record.Lot{x}), back: led.Back(x)}, nil
	}
	from := led.Receipts(code)
	if c.rec.material != "" {
		from = only1(from, c.rec.material)
	}
	switch {
	case len(from) > 1:
		var names []string
		for _, r := range from {
			names = append(names, r.Material)
		}
		return nil, usageError(fmt.Sprintf("lot %s is one of %s: say which with --material NAME", code, strings.Join(names, " and of ")))
	case len(from) == 0:
		return c.followUnrecorded(led, code)
	}
	r := from[0]
	f := &followed{title: fmt.Sprintf("Trace of %s, lot %s", r.Material, r.Code), out: led.Forward(from)}
	f.suspects = led.Suspects(r.Material, r.On, c.holds(b, r.Material))
	return f, nil
}

// followUnrecorded follows a lot of a material that was used and never recorded as received.
func (c *call) followUnrecorded(led *record.Ledger, code string) (*followed, error) {
	found := map[string]string{}
	var names []string
	for _, x := range led.Lots {
		for _, u := range x.Used {
			for _, part := range u.Lots {
				if strings.EqualFold(part.Code, code) && found[inci.Fold(u.Name)] == "" {
					found[inci.Fold(u.Name)] = u.Name
					names = append(names, u.Name)
				}
			}
		}
	}
	if c.rec.material != "" {
		names = nil
		if n := found[inci.Fold(c.rec.material)]; n != "" {
			names = []string{n}
		}
	}
	switch len(names) {
	case 0:
		return nil, usageError(fmt.Sprintf("no lot %s of a product or a material is recorded", code))
	case 1:
		return &followed{title: fmt.Sprintf("Trace of %s, lot %s", names[0], code), out: led.ForwardUse(names[0], code)}, nil
	}
	return nil, usageError(fmt.Sprintf("lot %s is one of %s: say which with --material NAME", code, strings.Join(names, " and of ")))
}

func only1(all []*record.Receipt, material string) (out []*record.Receipt) {
	for _, r := range all {
		if inci.Fold(r.Material) == inci.Fold(material) {
			out = append(out, r)
		}
	}
	return out
}

// holds returns whether the recipe of a lot has a material: the recipe of the book it was made by, or that of today.
func (c *call) holds(now *book.Book, material string) func(*record.Lot) bool {
	known := map[[2]string]bool{}
	return func(x *record.Lot) bool {
		key := [2]string{x.Book, inci.Fold(x.Product)}
		if v, ok := known[key]; ok {
			return v
		}
		b := now
		if x.Book != "" && x.Book != now.Fingerprint {
			if kept, err := c.keptBook(x.Book); err == nil {
				b = kept
			}
		}
		p, set := productNamed(b, x.Product)
		v := p != nil && set == nil && record.Holds(p, material)
		known[key] = v
		return v
	}
}

// calledIn returns what products are called on their packs.
func calledIn(b *book.Book) []paper.Called {
	var out []paper.Called
	for _, p := range b.Products {
		out = append(out, paper.Called{Product: p.Name, Name: calledProduct(p)})
	}
	return out
}

// contactOf returns how customers reach the workshop.
func contactOf(b *book.Book) string {
	for _, m := range inci.Markets {
		if r, ok := b.Workshop.Responsible[m]; ok && r.Contact != "" {
			return b.Workshop.Name + ", " + r.Contact
		}
	}
	return b.Workshop.Name
}

// paperFile writes a paper as a PDF. What the maker has by that name is not written over.
func (c *call) paperFile(doc *paper.Paper, path string) error {
	return c.paperFiles([]*paper.Paper{doc}, path)
}

// paperFiles writes papers into one PDF, each from a new page on. It has the title of the first.
func (c *call) paperFiles(docs []*paper.Paper, path string) error {
	if err := replaceable(path, pdfMark); err != nil {
		return err
	}
	var scenes []scene.Scene
	for _, doc := range docs {
		pages, err := doc.Pages(layout.A4)
		if err != nil {
			return err
		}
		scenes = append(scenes, pages...)
	}
	var buf bytes.Buffer
	if err := pdf.Write(&buf, scenes, pdf.Options{Title: docs[0].Title, Date: day(c.on)}); err != nil {
		return err
	}
	return writeWhole(path, buf.Bytes())
}

// complaintVerb writes what goes with a complaint: the page for a doctor, the lots that share the scent, and whom the
// law may want told.
func complaintVerb(c *call) (int, error) {
	code := c.subject()
	if code == "" {
		return exitFailed, usageError("say which complaint: panelwright complaint CODE; record writes one down")
	}
	b, led, err := c.openWithRecords()
	if err != nil {
		return exitFailed, err
	}
	said := led.Complaint(code)
	if said == nil {
		return exitFailed, usageError(fmt.Sprintf("no complaint %s is recorded", code))
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

// inIt is what was in the piece of a complaint.
type inIt struct {
	markets []inci.Market
	lists   []paper.ListFor
	shares  []paper.ShareRow
	others  []*record.Lot // that share its scents
}

// wasInIt finds what was in the piece of a complaint, as made where the lot is known, else as the book says.
func (c *call) wasInIt(b *book.Book, led *record.Ledger, said *record.Complaint) (*inIt, error) {
	p, set := productNamed(b, said.Product)
	if p == nil {
		return nil, usageError(fmt.Sprintf("the book has no product %q", said.Product))
	}
	desk := label.NewDesk(&b.Workshop)
	x := led.Lot(said.Lot)
	o := c.occasion()
	var lots []*record.Lot
	if x != nil && set == nil {
		at, made, bad := c.asMade(deskBook{b, desk}, led, x)
		if made == nil {
			return nil, fmt.Errorf("lot %s cannot be made up: %s", x.Code, bad[0].Line())
		}
		p, desk, o = made.Product, at.desk, c.lotOccasion(led, x)
		lots = c.sharing(led, at.book, p, x)
	}
	var ds []*label.Declaration
	if set != nil {
		ds = desk.DeclareSet(set, p.SellIn, o)
	} else {
		ds = desk.Declare(p, p.SellIn, o)
	}
	var lists []paper.ListFor
	var shares []paper.ShareRow
	for _, d := range ds {
		lists = append(lists, paper.ListFor{Title: d.Market.Title(), Text: c.listOnPack(led, x, d)})
	}
	if set == nil { // the longest list there is today names most of what a sheet mentions
		shares = sharesOf(desk.Declare(p, inci.Markets, c.occasion()))
	}
	return &inIt{p.SellIn, lists, shares, lots}, nil
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

// sharing returns the other lots that were made with a lot of a scent that is in x; where lots are not recorded, with
// the same scent.
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
		for _, u := range x.Used {
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
