package main

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/card"
	"panelwright/label/code"
	"panelwright/label/render/pdf"
	"panelwright/label/scene"
	"panelwright/label/stock"
)

// cardStock is what cards are printed on where nothing else is said.
const cardStock = "A4 cards 85 x 55 mm"

// cards prints price and shelf cards: name, identity, net quantity, price and codes; on the back, if asked for,
// the list and the fragrance allergens.
func cards(c *call) (int, error) {
	b, jobs, _, err := c.openAndJudge()
	if err != nil {
		return exitFailed, err
	}
	s, err := c.stockNamed(b, cardStock)
	if err != nil {
		return exitFailed, err
	}
	h, err := c.inHand(s)
	if err != nil {
		return exitFailed, err
	}
	l, err := c.newLay(h, "Price cards of "+b.Workshop.Name)
	if err != nil {
		return exitFailed, err
	}
	fronts := l.pdf.Page
	sheet := newBacks(c, s, l)
	if c.sheets.back {
		// Each sheet of fronts is followed by its backs.
		im, err := s.Impose(l.used(c), c.sheets.from, func(page *scene.Scene) error {
			if err := fronts(page); err != nil {
				return err
			}
			return sheet.flush()
		})
		if err != nil {
			return exitFailed, err
		}
		im.Title, im.Lang, im.Outlines = l.im.Title, l.im.Lang, c.proof
		l.im = im
	}
	var found, refused finding.List
	for j := range jobs {
		out, err := c.card(l, sheet, j)
		if err != nil {
			return exitFailed, err
		}
		refused = append(refused, out...)
		if len(out) == 0 {
			found = append(found, j.findings()...)
		}
	}
	found = append(found, refused...)
	c.verdict(found)
	if err := l.finish(c, "cards", []string{"sheet", "cells", "product", "net", "price", "cards"}); err != nil {
		return exitFailed, err
	}
	if c.sheets.back && l.n > 0 {
		fmt.Fprintln(c.out, "every second page holds the backs: print on both sides, turned over the long edge")
	}
	c.problems(refused)
	return exitOf(found), nil
}

// card lays the card of one product; what keeps it from being printed is returned.
func (c *call) card(l *lay, sheet *backs, j judged) (refused finding.List, err error) {
	p := j.product
	refuse := func(message, cure string) (finding.List, error) {
		return finding.List{{Rule: "print.refused", Severity: finding.Error, Where: p.Pos, Product: p.Name, Message: message, Cure: cure}}, nil
	}
	m, ok := c.marketOf(p)
	if !ok {
		return nil, nil
	}
	var d *label.Declaration
	for _, x := range j.decls {
		if x.Market == m {
			d = x
		}
	}
	if d == nil {
		return nil, nil
	}
	if !d.Verdict().Prints() && !c.proof {
		return refuse(fmt.Sprintf("%s, %s gets no card: %s", p.Name, m, reason(d.Findings)), "panelwright check says all of it; --proof prints proofs")
	}
	g := goods(d)
	scenes := make([]scene.Scene, 0, 2)
	front, err := card.Front(g, l.hand.stock.Label)
	if err == nil {
		scenes = append(scenes, *front)
		if c.sheets.back {
			var back *scene.Scene
			if back, err = card.Back(g, l.hand.stock.Label); err == nil {
				scenes = append(scenes, *back)
			}
		}
	}
	var room *card.NoRoom
	if errors.As(err, &room) {
		return refuse(fmt.Sprintf("the card of %s is too small: %v", p.Name, room), "print on a stock with larger cells")
	}
	if err != nil {
		return nil, err
	}
	if c.proof {
		if err := watermark(scenes); err != nil {
			return nil, err
		}
	}
	count := max(c.sheets.copies, 1)
	for range count {
		// One by one: the back must be known before the sheet it lies behind is full.
		if c.sheets.back {
			sheet.next(l.im.Free(), &scenes[1])
		}
		runs, err := l.im.Add(&scenes[0], 1)
		if err != nil {
			return nil, err
		}
		l.add(runs, p.Name, g.Net, orBlank(g.Price))
	}
	return nil, nil
}

func orBlank(s string) string {
	if s == "" {
		return "blank"
	}
	return s
}

// goods is what a declaration gives for a card.
func goods(d *label.Declaration) *card.Goods {
	p := d.Product
	pack := p.PackFor(d.Market)
	lang := "en"
	if langs := languagesOf(d); len(langs) > 0 {
		lang = langs[0]
	}
	g := &card.Goods{Lang: lang, Name: titleOf(p, lang), Identity: p.Identity[lang], Net: d.Net.Text, Price: p.Price, Barcode: code.Number(p.BarcodeOn(pack)), Link: p.LinkOn(pack)}
	for _, l := range d.Lists {
		g.Notes = append(g.Notes, card.Note{Lead: l.Lead, Text: l.Text})
	}
	if len(d.Lists) == 0 {
		g.Notes = append(g.Notes, card.Note{Lead: strings.TrimSuffix(d.Rules.Heading, ":") + ":", Text: d.Text()})
	}
	var allergens []string
	for _, e := range d.Entries {
		if e.Kind == label.Allergen {
			allergens = append(allergens, e.Name)
		}
	}
	if len(allergens) > 0 {
		g.Notes = append(g.Notes, card.Note{Lead: "Fragrance allergens:", Text: strings.Join(allergens, ", ")})
	}
	return g
}

// used returns the cells that a print may not take.
func (l *lay) used(c *call) stock.Cells {
	if c.proof {
		return nil
	}
	return l.hand.used
}

// backs gathers the backs of the sheet in hand.
type backs struct {
	lay    *lay
	stock  *stock.Stock // turned over
	behind func(int) int
	cells  map[int]*scene.Scene
	first  stock.Cells // cells of a new sheet
}

func newBacks(c *call, s *stock.Stock, l *lay) *backs {
	mirrored, behind := s.Mirrored()
	reach, _ := s.Reach()
	return &backs{lay: l, stock: mirrored, behind: behind, cells: map[int]*scene.Scene{}, first: reach}
}

// next notes the back of the card that is laid next.
func (b *backs) next(free stock.Cells, back *scene.Scene) {
	if len(free) == 0 { // the next card begins a sheet, and hands this one over first
		b.cells[0] = back
		return
	}
	b.cells[b.behind(free[0])] = back
}

// flush adds the page of backs behind the sheet that was just handed over.
func (b *backs) flush() error {
	waiting := b.cells[0]
	delete(b.cells, 0)
	page := b.stock.Sheet(b.lay.im.Title, b.lay.im.Lang, b.cells)
	b.cells = map[int]*scene.Scene{}
	if waiting != nil {
		b.cells[b.behind(b.first[0])] = waiting
	}
	return b.lay.pdf.Page(page)
}

// calibrate writes the page that shows how the printer lies.
func calibrate(c *call) (int, error) {
	b, err := c.open()
	if err != nil {
		return exitFailed, err
	}
	s, err := c.stockNamed(b, "")
	if err != nil {
		return exitFailed, err
	}
	page, err := card.Calibration(s)
	if err != nil {
		return exitFailed, err
	}
	w := pdf.NewWriter(pdf.Options{Date: day(c.on)})
	w.Correct(correction(s))
	if err := w.Page(page); err != nil {
		return exitFailed, err
	}
	var buf bytes.Buffer
	if err := w.Finish(&buf); err != nil {
		return exitFailed, err
	}
	dir, err := c.outDir()
	if err != nil {
		return exitFailed, err
	}
	path, err := freeName(dir, "calibrate-"+slug(s.Name))
	if err != nil {
		return exitFailed, err
	}
	if err := writeWhole(path, buf.Bytes()); err != nil {
		return exitFailed, err
	}
	fmt.Fprintf(c.out, "WRITTEN: %s\nprint it at actual size on plain paper and measure: the page says what to write into the stock %q\n", path, s.Name)
	if len(b.Stocks) == 0 || s.Pos.File == "" || !ownStock(b.Stocks, s) {
		fmt.Fprintln(c.out, "it is a sample: copy it from templates/stocks into your book first")
	}
	return exitClean, nil
}

func ownStock(all []*stock.Stock, s *stock.Stock) bool {
	for _, o := range all {
		if o == s {
			return true
		}
	}
	return false
}
