package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/formula/quantity"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/layout"
	"panelwright/label/paper"
	"panelwright/label/record"
	"panelwright/label/render/pdf"
)

// makeFlags say how much is made, and of which lots.
type makeFlags struct {
	batch exact.Rat // grams of everything together
	stock bool      // how much could be made of what is in hand
	lots  []string  // of materials, to the exclusion of their others
	trial bool
}

func (c *call) setBatch(v string) error {
	q, err := quantity.Parse(v)
	if err != nil {
		return err
	}
	if q.Unit.Kind != quantity.Mass || q.Number.Sign() <= 0 {
		return fmt.Errorf("%q is no weight; write it as in \"3 kg\"", v)
	}
	if mostBatch.Less(q.Value()) {
		return fmt.Errorf("%q is more than the %s kg that are planned at once", v, mostBatch.Quo(exact.Int(1000)))
	}
	c.making.batch = q.Value()
	return nil
}

func (c *call) setLots(v string) error {
	for _, s := range strings.Split(v, ",") {
		if s = strings.TrimSpace(s); s != "" {
			c.making.lots = append(c.making.lots, s)
		}
	}
	return nil
}

// mostMade bounds the pieces that are planned at once, mostBatch the grams, mostLots and mostBowls the pages.
const (
	mostMade  = 100_000
	mostLots  = 60
	mostBowls = 300
)

var mostBatch = exact.Int(10_000_000)

// makeVerb writes the sheet that a lot is made by, and the form that it is recorded with.
func makeVerb(c *call) (int, error) {
	c.productSubject()
	if c.product == "" {
		return exitFailed, usageError("say what to make: panelwright make PRODUCT --pieces N")
	}
	if err := c.howMuch(); err != nil {
		return exitFailed, err
	}
	b, err := c.open()
	if err != nil {
		return exitFailed, err
	}
	p, set := productNamed(b, c.product)
	if p == nil {
		names := append(productNames(b), setNames(b)...)
		return exitFailed, usageError(fmt.Sprintf("the book has no product %q%s", c.product, didYouMean(c.product, names, listed("products", names))))
	}
	led, err := c.ledger()
	if err != nil {
		return exitFailed, err
	}
	at := deskBook{b, label.NewDesk(&b.Workshop)}
	if set != nil {
		return c.makeSet(at, led, set)
	}
	if c.making.stock {
		return c.fromStock(at, led, p)
	}
	return c.makeProduct(at, led, p)
}

// howMuch checks that the call says one thing about how much is made.
func (c *call) howMuch() error {
	said := 0
	for _, is := range []bool{c.sheets.pieces > 0, c.making.batch.Sign() > 0, c.making.stock} {
		if is {
			said++
		}
	}
	switch {
	case said == 0:
		return usageError("say how much to make: --pieces N, --batch WEIGHT or --from-stock")
	case said > 1:
		return usageError("--pieces, --batch and --from-stock are three ways to say how much: use one of them")
	case c.sheets.pieces > mostMade:
		return usageError(fmt.Sprintf("--pieces: %d is more than the %d that are planned at once", c.sheets.pieces, mostMade))
	}
	return nil
}

func productNames(b *book.Book) (out []string) {
	for _, p := range b.Products {
		out = append(out, p.Name)
	}
	return out
}

func setNames(b *book.Book) (out []string) {
	for _, s := range b.Sets {
		out = append(out, s.Name)
	}
	return out
}

// stock works out what is left of the lots of materials; nil where none is recorded.
func (c *call) stock(at deskBook, led *record.Ledger) *record.Stock {
	if len(led.Received) == 0 {
		return nil
	}
	var takes []record.Take
	for _, x := range led.Lots {
		if p, set := productNamed(at.book, x.Product); set != nil && p != nil {
			continue // the pieces in boxes were counted when they were made
		}
		by, made, bad := c.asMade(at, led, x)
		if made != nil {
			takes = append(takes, record.Take{Lot: x, Needs: made.Took(by.desk.Composer)})
			continue
		}
		why := "the book of its day has no such product"
		if len(bad) > 0 {
			why = bad[0].Message
		}
		c.problems(finding.List{{Rule: record.RuleNoTake, Severity: finding.Warning, Where: x.Entry.Pos, Product: x.Product,
			Message: fmt.Sprintf("what lot %s took of its materials is not counted: %s", x.Code, why), Cure: "set that right; until then there is less in hand than is said"}})
	}
	return led.Stock(at.book, takes)
}

// fromStock says how many pieces could be made of what is in hand, and writes their sheet.
func (c *call) fromStock(at deskBook, led *record.Ledger, p *label.Product) (int, error) {
	s := c.stock(at, led)
	if s == nil {
		return exitFailed, errors.New("no lot of a material is recorded, so what is in hand is not known; write one down: panelwright record --say 'received: baking soda; lot: B3; amount: 25 kg'")
	}
	n, short := s.Enough(at.desk.Composer, &at.book.Workshop, p, c.on, c.making.lots)
	switch {
	case n < 0:
		return exitFailed, fmt.Errorf("of none of the materials of %s a lot is recorded with its weight, so how many pieces it is enough for is not known", p.Name)
	case n == 0:
		fmt.Fprintf(c.out, "ENOUGH FOR 0\nby the records there is too little of %s for one %s\n", strings.Join(short, ", "), p.Name)
		return exitErrors, nil
	}
	c.sheets.pieces = min(n, mostMade)
	if !c.json {
		fmt.Fprintf(c.out, "ENOUGH FOR %d\nby the records; then there is too little of %s\n\n", n, strings.Join(short, ", "))
	}
	return c.makeProduct(at, led, p)
}

// makeProduct plans a product and writes its sheet, its form and its print list.
func (c *call) makeProduct(at deskBook, led *record.Ledger, p *label.Product) (int, error) {
	desk := at.desk
	plan, bad := record.NewPlan(desk.Composer, &at.book.Workshop, p, record.Request{Pieces: c.sheets.pieces, Batch: c.making.batch, Code: c.sheets.lot})
	if plan == nil {
		c.problems(bad)
		return exitFailed, fmt.Errorf("%s cannot be made as it is written; nothing was planned", p.Name)
	}
	if n := len(plan.Lots); n > mostLots {
		return exitFailed, fmt.Errorf("that would be %d lots; plan at most %d at once, or make more room to dry", n, mostLots)
	}
	if n := bowlsOf(plan); n > mostBowls {
		return exitFailed, fmt.Errorf("that would be %d bowls; plan at most %d at once, or write a larger bowl: into the workshop", n, mostBowls)
	}
	for _, lot := range plan.Lots {
		if c.sheets.lot != "" && led.Lot(lot.Code) != nil {
			return exitFailed, usageError(fmt.Sprintf("lot %s is recorded already; give this one another code", lot.Code))
		}
	}
	m := &paper.Making{Plan: plan, Workshop: &at.book.Workshop, On: c.on, Fine: plan.TooFine(), Worst: plan.AtWorst(desk, c.occasion()), Lye: plan.WorstLye(desk), Trial: c.making.trial}
	m.Labels = c.notYet(desk, p)
	if s := c.stock(at, led); s != nil {
		m.Supplies = s.Supplies(plan.Needs, c.on, c.making.lots)
	}
	if c.json {
		return c.makeJSON(m)
	}
	dir, err := c.printedDir()
	if err != nil {
		return exitFailed, err
	}
	name := slug(p.Name)
	if c.sheets.lot != "" {
		name += "-" + slug(c.sheets.lot)
	}
	form := filepath.Join(dir, name+"-"+c.on.String()+".form.yaml")
	list := filepath.Join(dir, name+"-"+c.on.String()+"-labels.txt")
	m.Form = filepath.Base(form)
	m.Prints = c.toPrint(plan, filepath.Base(list))
	doc := paper.Make(m)
	sheet := c.pdf
	if sheet == "" {
		sheet = filepath.Join(dir, slug(p.Name)+"-make-"+c.on.String()+".pdf")
	}
	files, err := c.makeFiles(doc, sheet, [][2]string{{form, lotForms(m)}, {list, c.printLines(plan)}})
	if err != nil {
		return exitFailed, err
	}
	fmt.Fprintln(c.out, makeVerdict(m))
	if err := doc.Text(c.out); err != nil {
		return exitFailed, err
	}
	fmt.Fprintln(c.out)
	for _, f := range files {
		fmt.Fprintln(c.out, f)
	}
	if stopped(m) {
		return exitErrors, nil
	}
	return exitClean, nil
}

func bowlsOf(plan *record.Plan) (n int) {
	for _, lot := range plan.Lots {
		for _, x := range lot.Mixes {
			for _, b := range x.Bowls {
				n += b.Count
			}
		}
	}
	return n
}

// notYet says that labels of a product may not be printed as the book stands; "" where they may.
func (c *call) notYet(desk *label.Desk, p *label.Product) string {
	for _, d := range desk.Declare(p, c.wants(p.SellIn), c.occasion()) {
		if v := d.Verdict(); !v.Prints() {
			return fmt.Sprintf("Its labels: %s. See panelwright check --product '%s' before you make it.", v, p.Name)
		}
	}
	return ""
}

// stopped reports whether a lye calculation says not to make it.
func stopped(m *paper.Making) bool {
	for _, w := range m.Lye {
		if w.Free.Sign() > 0 {
			return true
		}
	}
	return false
}

// makeVerdict is the first line: whether the batch may be begun.
func makeVerdict(m *paper.Making) string {
	buy := 0
	for _, s := range m.Supplies {
		if s.Recorded && s.Buy.Sign() > 0 {
			buy++
		}
	}
	switch {
	case stopped(m):
		return paper.DoNotMake
	case buy > 0:
		return fmt.Sprintf("BUY %d %s FIRST", buy, strings.ToUpper(plural(buy, "thing")))
	}
	return fmt.Sprintf("MAKE %d", m.Plan.All())
}

// printedDir returns the folder that files go to, and makes it.
func (c *call) printedDir() (string, error) {
	dir := c.dir
	if dir == "" {
		dir = filepath.Join(c.bookDir(), "printed")
	}
	return dir, os.MkdirAll(dir, 0o777)
}

// makeFiles writes the sheet as PDF and as text, and the files that go with it. Those are hers once they are written,
// and are never written over.
func (c *call) makeFiles(doc *paper.Paper, sheet string, others [][2]string) (said []string, err error) {
	if err := replaceable(sheet, pdfMark); err != nil {
		return nil, err
	}
	scenes, err := doc.Pages(layout.A4)
	if err != nil {
		return nil, err
	}
	var buf bytes.Buffer
	if err := pdf.Write(&buf, scenes, pdf.Options{Title: doc.Title, Date: day(c.on)}); err != nil {
		return nil, err
	}
	if err := writeWhole(sheet, buf.Bytes()); err != nil {
		return nil, err
	}
	said = append(said, "sheet to make it by: "+sheet)
	for _, o := range others {
		_, err := os.Stat(o[0])
		switch {
		case o[1] == "":
		case err == nil:
			said = append(said, "left as it is: "+o[0])
		case !errors.Is(err, fs.ErrNotExist):
			return said, notWritten(o[0], err)
		default:
			if err := writeWhole(o[0], []byte(o[1])); err != nil {
				return said, err
			}
			said = append(said, "written: "+o[0])
		}
	}
	return said, nil
}

// packs returns the packs of a product that the call is about, each once with its markets.
func (c *call) packs(p *label.Product) (out []*label.Pack) {
	for _, m := range c.wants(p.SellIn) {
		if k := p.PackFor(m); k != nil && !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out
}

// toPrint says what labels and stickers the pieces will want.
func (c *call) toPrint(plan *record.Plan, list string) (out []string) {
	if c.making.trial {
		return nil
	}
	p := plan.Product
	packs := c.packs(p)
	if len(packs) > 0 {
		var all []string
		for _, k := range packs {
			all = append(all, codes(k.For))
		}
		s := fmt.Sprintf("Labels: %d (%s); print them with panelwright print --list %s", plan.All(), strings.Join(all, ", or "), list)
		if len(packs) > 1 {
			s += ", where you share them out over the packs"
		}
		out = append(out, s+".")
	}
	if slices.ContainsFunc(packs, func(k *label.Pack) bool { return k.Lot == label.LotOnSticker }) {
		for _, lot := range plan.Lots {
			code := lot.Code
			if code == "" {
				code = "CODE"
			}
			out = append(out, fmt.Sprintf("Lot stickers: %d; panelwright stickers --lot %s --pieces %d --product '%s' --made %s.", lot.Pieces, code, lot.Pieces, p.Name, c.on))
		}
	}
	return out
}

// printLines is the print list of a plan: a line for each pack.
func (c *call) printLines(plan *record.Plan) string {
	packs := c.packs(plan.Product)
	if len(packs) == 0 || c.making.trial {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, "# Labels of %s, made %s: %d pieces.\n", plan.Product.Name, c.on, plan.All())
	if len(packs) > 1 {
		b.WriteString("# Each line is for all of them. Lower the numbers to what goes to each market.\n")
	}
	for _, k := range packs {
		for _, m := range c.wants(plan.Product.SellIn) {
			if plan.Product.PackFor(m) == k {
				fmt.Fprintf(&b, "%s, %s x %d\n", plan.Product.Name, m, plan.All())
				break
			}
		}
	}
	return b.String()
}
