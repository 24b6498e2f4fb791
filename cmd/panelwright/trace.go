package main

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"panelwright/inci"
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
	b, led, err := c.openOrKept()
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
		lots := append(slices.Clone(t.out.Lots), t.suspects...) // those that may hold it count in until it is known
		notice := paper.Notice(led, lots, calledIn(b), c.rec.reason, contactOf(b), c.on)
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
	f.suspects = slices.DeleteFunc(led.Suspects(r.Material, r.On, c.holds(b, r.Material)), func(x *record.Lot) bool { return slices.Contains(f.out.Lots, x) })
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
		if f := formulaNamed(b, x.Product); p == nil && f != nil {
			p, _ = mixProduct(b, f, x) // an open slot may hold anything, and is said when it is recorded
		}
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
	for _, s := range b.Sets {
		out = append(out, paper.Called{Product: s.Name, Name: calledProduct(&s.Product)})
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
