package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/layout"
	"panelwright/label/record"
	"panelwright/label/scene"
	"panelwright/label/stock"
)

// printSheets lays the labels of a print list, or of one product, on sheets of a stock, and remembers which cells
// it took. What may not be printed for sale is refused, with the reason.
func printSheets(c *call) (int, error) {
	c.productSubject()
	b, led, lot, err := c.openFor()
	if err != nil {
		return exitFailed, err
	}
	past := &past{led, lot}
	s, err := c.stockNamed(b, "")
	if err != nil {
		return exitFailed, err
	}
	h, err := c.inHand(s)
	if err != nil {
		return exitFailed, err
	}
	if c.sheets.list == "" && c.product == "" {
		if c.sheets.used != "" {
			return c.correctOnly(h)
		}
		return exitFailed, usageError("say what to print: --list FILE, or --product NAME and --copies N")
	}
	wants, err := c.wanted()
	if err != nil {
		return exitFailed, err
	}
	c.product = "" // the list decides
	jobs, desk, err := c.jobs(b)
	if err != nil {
		return exitFailed, err
	}
	items, err := c.items(wants, jobs)
	if err != nil {
		return exitFailed, err
	}
	if s.CropMarks { // grounds run over the edge as far as the cutter may be off
		for i := range items {
			items[i].bleed = s.Bleed
		}
	}
	title := "Labels on " + s.Name
	l, err := c.newLay(h, title)
	if err != nil {
		return exitFailed, err
	}
	free := len(l.im.Free())
	var found, refused finding.List
	var said []string
	var printed [][]byte
	asked := 0
	for it := range inOrder(items, func(it order) order { return c.draw(desk, b, past, it) }) {
		if it.err != nil {
			return exitFailed, it.err
		}
		asked += it.want.count
		found = append(found, it.found...)
		said = append(said, it.said...)
		if it.refused != nil {
			refused.Add(*it.refused)
			continue
		}
		out, err := l.item(c, it)
		if err != nil {
			return exitFailed, err
		}
		refused = append(refused, out...)
		if out.Count(finding.Error) == 0 {
			printed = append(printed, c.printedEntry(it))
			said = append(said, c.many(past, it)...)
		}
	}
	found = append(found, refused...)
	c.verdict(found)
	for _, s := range said {
		fmt.Fprintln(c.out, s)
	}
	if l.n > free && !s.Whole() {
		fmt.Fprintf(c.out, "%d labels, %d cells free on the sheet in hand: the rest go on new sheets\n", l.n, free)
	}
	if err := l.finish(c, slug(s.Name), []string{"sheet", "cells", "product", "face", "labels"}); err != nil {
		return exitFailed, err
	}
	if err := c.recordPrinted(printed); err != nil {
		return exitFailed, err
	}
	if l.n < asked {
		fmt.Fprintf(c.out, "asked for: labels for %d %s\n", asked, plural(asked, "piece"))
	}
	c.problems(refused)
	return exitOf(found), nil
}

// wanted returns what the flags ask to print.
func (c *call) wanted() ([]want, error) {
	if c.sheets.list == "" {
		if c.sheets.copies == 0 {
			return nil, usageError("say how many: --copies N")
		}
		return []want{{product: c.product, count: c.sheets.copies}}, nil
	}
	if c.product != "" || c.sheets.copies != 0 {
		return nil, usageError("--list says what and how many; leave --product and --copies out")
	}
	wants, found, err := printList(c.sheets.list)
	if err != nil {
		return nil, err
	}
	c.problems(found)
	if n := found.Count(finding.Error); n > 0 {
		return nil, fmt.Errorf("the print list has %d %s; nothing was printed", n, plural(n, "error"))
	}
	return wants, nil
}

// order is a line of the print list on its way to the sheet.
type order struct {
	want    want
	job     judged
	markets string
	bleed   scene.Um // of the sheet; a book that says another has its way
	scenes  []scene.Scene
	found   finding.List
	refused *finding.Finding // why it is not printed
	copy    *label.PackCopy  // what the labels say
	text    string           // fingerprint of it
	by      *record.Approval // by which approval; nil for the book as it stands
	said    []string         // what the maker ought to know
	err     error
}

// items finds the products of the list.
func (c *call) items(wants []want, jobs []judged) ([]order, error) {
	byName := map[string]judged{}
	for _, j := range jobs {
		byName[strings.ToLower(j.product.Name)] = j
	}
	var out []order
	var bad finding.List
	for _, w := range wants {
		j, ok := byName[strings.ToLower(w.product)]
		if !ok {
			bad.Add(finding.Finding{Rule: "print.list", Severity: finding.Error, Where: w.at,
				Message: fmt.Sprintf("the book has no product %q", w.product), Cure: "write its name as in the book"})
			continue
		}
		out = append(out, order{want: w, job: j})
	}
	if len(bad) > 0 {
		c.problems(bad)
		return nil, fmt.Errorf("%d %s not in the book; nothing was printed", len(bad), plural(len(bad), "product"))
	}
	return out, nil
}

// draw judges one item and sets its labels: the approved copy where there is one.
func (c *call) draw(desk *label.Desk, b *book.Book, past *past, it order) order {
	j := it.job
	refuse := func(message, cure string) order {
		it.refused = &finding.Finding{Rule: "print.refused", Severity: finding.Error, Where: it.want.at, Product: j.product.Name, Message: message, Cure: cure}
		return it
	}
	ms, names := c.chosen(j.product, it.want)
	switch {
	case len(names) == 0:
		return refuse(fmt.Sprintf("%s has no label for %s", j.product.Name, c.forWhat(it.want)), "add a line to packs: with label: and pack:")
	case len(names) > 1:
		return refuse(fmt.Sprintf("%s has labels for %s", j.product.Name, strings.Join(names, " and for ")),
			fmt.Sprintf("say which: --market, or “%s, %s x %d” in the list", j.product.Name, names[0], it.want.count))
	}
	it.markets = names[0]
	if why, cure := past.holdsBack(); why != "" && !c.proof {
		return refuse(why, cure)
	}
	var split string
	if it.by, split = past.approval(j.product, ms, c.on); split != "" && !c.proof {
		return refuse(split, fmt.Sprintf("approve the label for all of them: panelwright approve %q --by NAME", j.product.Name))
	}
	if it.by != nil && !c.proof {
		if it = c.drawApproved(desk, b, past, it, ms); it.refused != nil || it.err != nil {
			return it
		}
		return c.set(it)
	}
	it.by = nil
	if c.halfEdited && !c.proof {
		return refuse(fmt.Sprintf("nothing is approved for %s, %s, and the book is not whole", j.product.Name, it.markets), "mend the book, or print what is approved")
	}
	if past.lot != nil && j.set == nil && !c.proof {
		at, made, bad := c.asMade(deskBook{b, desk}, past.ledger, past.lot)
		if n := bad.Count(finding.Error); n > 0 {
			return refuse(bad[0].Message, bad[0].Cure)
		}
		j.product, desk = made.Product, at.desk
	}
	if past.lot != nil && j.set != nil && !c.proof {
		at, box, bad := c.oneBox(deskBook{b, desk}, past.ledger, past.lot)
		if box == nil && bad.Count(finding.Error) > 0 {
			bad.Sort()
			return refuse(bad[0].Message, bad[0].Cure)
		}
		if box != nil {
			j.set, j.product, desk = box, &box.Product, at.desk
		}
	}
	if j.set != nil {
		j.decls = desk.DeclareSet(j.set, ms, c.occasion())
	} else {
		j.decls = desk.Declare(j.product, ms, c.occasion())
	}
	copy := label.CopyFor(j.product.PackFor(ms[0]), j.decls)
	it.found = deciding(append(j.findings(), copy.Findings...))
	if copy.Proof && !c.proof {
		held := it.found
		it.found = nil // said in the refusal
		return refuse(fmt.Sprintf("%s, %s is not printed for sale: %s", j.product.Name, it.markets, reason(held)), "panelwright check says all of it; --proof prints proofs")
	}
	if !c.proof && past.ledger.LastApproval(j.product.Name) != nil {
		it.said = append(it.said, fmt.Sprintf("%s, %s: nobody approved this label, though others of the product are approved; it says what the book says now", j.product.Name, it.markets))
	}
	it.copy, it.text = copy, record.Freeze(copy).Fingerprint()
	past.fill(copy)
	return c.set(it)
}

// set lays the labels of an item out.
func (c *call) set(it order) order {
	set, err := layout.Lay(it.copy, layout.Options{Bleed: it.bleed})
	var room *layout.NoRoom
	switch {
	case errors.As(err, &room):
		it.refused = &finding.Finding{Rule: "print.refused", Severity: finding.Error, Where: it.want.at, Product: it.job.product.Name, Message: room.Error(), Cure: room.Cure()}
		return it
	case err != nil:
		it.err = err
		return it
	}
	it.scenes = set.Scenes
	if c.proof {
		it.err = watermark(it.scenes)
	}
	return it
}

// watermark marks each label as a proof, so that none can be cut out without it.
func watermark(scenes []scene.Scene) error {
	for i := range scenes {
		s := &scenes[i]
		mark, err := scene.Watermark(s.W, s.H, "PROOF - NOT FOR SALE")
		if err != nil {
			return err
		}
		s.Items = slices.Insert(s.Items, 0, scene.Item(mark))
	}
	return nil
}

// deciding returns the findings that decide the verdict.
func deciding(list finding.List) (out finding.List) {
	for _, f := range list {
		if f.Severity >= finding.Question {
			out = append(out, f)
		}
	}
	return out
}

// chosen returns the markets of the pack that is asked for. Of several packs it returns the names of all.
func (c *call) chosen(p *label.Product, w want) (ms []inci.Market, names []string) {
	var packs []*label.Pack
	served := map[*label.Pack][]inci.Market{}
	for _, m := range p.SellIn {
		if pack := p.PackFor(m); pack != nil && pack.Label.Kind != label.NoShape {
			if served[pack] == nil {
				packs = append(packs, pack)
			}
			served[pack] = append(served[pack], m)
		}
	}
	for _, pack := range packs {
		group := served[pack]
		asked := w.market == "" && len(c.markets) == 0 || slices.Contains(group, w.market) ||
			w.market == "" && slices.ContainsFunc(group, func(m inci.Market) bool { return slices.Contains(c.markets, m) })
		if asked {
			ms, names = group, append(names, codes(group))
		}
	}
	return ms, names
}

func (c *call) forWhat(w want) string {
	switch {
	case w.market != "":
		return w.market.Title()
	case len(c.markets) > 0:
		return codes(c.markets)
	}
	return "any market"
}

// reason says what holds a label back: the verdict and the first finding behind it.
func reason(found finding.List) string {
	found.Sort()
	held := found.Count(finding.Error) + found.Count(finding.Question)
	s := found.Verdict().String()
	for _, f := range found {
		if f.Severity >= finding.Question {
			s += ": " + f.Message
			break
		}
	}
	if held > 1 {
		s += fmt.Sprintf(" (and %d more)", held-1)
	}
	return s
}

// faceNames are the names of the scenes of a label.
var faceNames = []string{"front", "back"}

// item lays the faces of one item that go on the stock, and reports those that do not.
func (l *lay) item(c *call, it order) (refused finding.List, err error) {
	taken := 0
	for i := range it.scenes {
		s := &it.scenes[i]
		face := "leaflet"
		if i < len(faceNames) {
			face = faceNames[i]
		}
		if c.sheets.face != "" && c.sheets.face != face {
			continue
		}
		runs, err := l.im.Add(s, it.want.count)
		var no *stock.NoFit
		if errors.As(err, &no) {
			refused.Add(finding.Finding{Rule: "print.no-fit", Severity: finding.Warning, Where: it.want.at, Product: it.job.product.Name,
				Message: fmt.Sprintf("the %s of %s, %s does not go on %s: %v", face, it.job.product.Name, it.markets, l.hand.stock.Name, no), Cure: "print it on another stock"})
			continue
		}
		if err != nil {
			return nil, err
		}
		taken++
		if l.hand.stock.Turns(s) {
			face += ", turned"
		}
		l.add(runs, it.job.product.Name+" ("+it.markets+")", face)
	}
	if taken == 0 {
		for i := range refused {
			refused[i].Severity = finding.Error
		}
		if len(refused) == 0 {
			refused.Add(finding.Finding{Rule: "print.no-fit", Severity: finding.Error, Where: it.want.at, Product: it.job.product.Name,
				Message: fmt.Sprintf("the label of %s, %s has no %s", it.job.product.Name, it.markets, c.sheets.face), Cure: "leave --face out"})
		}
	}
	return refused, nil
}

// add notes runs for the table. Runs of the same on one sheet become one row.
func (l *lay) add(runs []stock.Run, what ...string) {
	for _, r := range runs {
		l.n += len(r.Cells)
		if n := len(l.rows); n > 0 && l.rows[n-1].Sheet == r.Sheet && slices.Equal(l.rows[n-1].what, what) {
			l.rows[n-1].Cells = l.rows[n-1].Cells.With(r.Cells)
			continue
		}
		l.rows = append(l.rows, laid{r, what})
	}
}

// table returns the rows under their heads.
func (l *lay) table(heads []string) [][]string {
	out := [][]string{heads}
	for _, r := range l.rows {
		out = append(out, slices.Concat([]string{fmt.Sprint(r.Sheet), r.Cells.String()}, r.what, []string{fmt.Sprint(len(r.Cells))}))
	}
	return out
}
