package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/record"
	"panelwright/label/record/journal"
)

// recordFlags are those of the verbs that write into the records.
type recordFlags struct {
	form string // file with entries; "-" for standard input
	say  string // one entry in a line
	by   string

	since, until date.Date // approve: lots made on these days

	shop           string // statement: who it is for
	against        string // changes: what the book is compared with
	material       string // trace: whose lot it is
	notice, reason string // trace: where the notice for the stall goes, and why the pieces are called back
}

// recordVerb writes entries into the records, and judges the lots among them as they were made. Without entries
// it lists the lots.
func recordVerb(c *call) (int, error) {
	b, err := c.open()
	if err != nil {
		return exitFailed, err
	}
	led, err := c.ledger()
	if err != nil {
		return exitFailed, err
	}
	if c.rec.form == "" && c.rec.say == "" {
		return c.listLots(led)
	}
	forms, err := c.forms()
	if err != nil {
		return exitFailed, err
	}
	joined, found := joinForms(led, forms)
	found = append(found, checkNames(b, forms)...)
	if n := found.Count(finding.Error); n > 0 {
		c.problems(found)
		return exitFailed, fmt.Errorf("%d %s in what was to be recorded; nothing was written", n, plural(n, "error"))
	}
	desk := label.NewDesk(&b.Workshop)
	var texts [][]byte
	var all finding.List
	var report bytes.Buffer
	made := false
	for _, f := range forms {
		x, ok := f.Entry.What.(*record.Lot)
		if ok && x.Book == "" {
			x.Book = bookOf(led, f.Entry, b.Fingerprint)
			f.Add("book", quoted(x.Book))
			made = true
		}
		texts = append(texts, f.Text)
		if !ok {
			continue
		}
		j, bad := c.judgeLot(deskBook{b, desk}, joined, x)
		told := slices.Clone(bad)
		if j != nil {
			writeJudgement(&report, j)
			told = append(told, j.Findings...)
		}
		all = append(all, told...)
		switch held := joined.StateOf(x) == record.Held; {
		case !told.Verdict().Prints() && !held:
			texts = append(texts, heldEntry(x, c.on, told))
		case held && j != nil && f.Entry.Corrects != 0 && told.Verdict().Prints():
			fmt.Fprintf(&report, "  nothing holds it back any more: panelwright record --say \"lot: %s; state: ready\"\n", x.Code)
		}
	}
	if made {
		if err := c.keepBook(b); err != nil {
			return exitFailed, err
		}
	}
	first, err := journal.AppendIf(c.bookDir(), stamp(), led.Last(), texts...)
	if err != nil {
		return exitFailed, err
	}
	c.verdict(all)
	if len(texts) == 1 {
		fmt.Fprintf(c.out, "recorded as entry %d in %s\n", first, journal.File)
	} else {
		fmt.Fprintf(c.out, "recorded as entries %d to %d in %s\n", first, first+len(texts)-1, journal.File)
	}
	if _, err := report.WriteTo(c.out); err != nil {
		return exitFailed, err
	}
	c.problems(append(found, questionsOf(all)...))
	return exitOf(all), nil
}

// questionsOf leaves out what the report has said.
func questionsOf(all finding.List) (out finding.List) {
	for _, f := range all {
		if f.Rule == record.RuleWhichSheet {
			out = append(out, f)
		}
	}
	return out
}

// ledger reads the records beside the book and prints what is wrong with them. What is damaged is said, and the good
// part is used.
func (c *call) ledger() (*record.Ledger, error) {
	led, found, err := book.Records(c.bookDir())
	if err != nil {
		return nil, fmt.Errorf("the records cannot be read: %w", err)
	}
	c.problems(found)
	return led, nil
}

// forms reads what is to be recorded.
func (c *call) forms() ([]book.Form, error) {
	var forms []book.Form
	var found finding.List
	switch {
	case c.rec.form != "" && c.rec.say != "":
		return nil, usageError("--form and --say are two ways to record: use one of them")
	case c.rec.say != "":
		forms, found = book.ParseForms(book.File{Name: "--say", Data: c.sayText()})
	case c.rec.form == "-":
		data, err := io.ReadAll(io.LimitReader(os.Stdin, 8<<20))
		if err != nil {
			return nil, err
		}
		forms, found = book.ParseForms(book.File{Name: "-", Data: data})
	default:
		dir, name := filepath.Split(c.rec.form)
		if dir == "" {
			dir = "."
		}
		forms, found = book.ReadForms(os.DirFS(dir), name)
	}
	if c.rec.by != "" {
		for i := range forms {
			if forms[i].Entry.By == "" {
				forms[i].Entry.By = c.rec.by
				forms[i].Add("by", quoted(c.rec.by))
			}
		}
	}
	c.problems(found)
	if n := found.Count(finding.Error); n > 0 {
		return nil, fmt.Errorf("%d %s in what was to be recorded; nothing was written", n, plural(n, "error"))
	}
	if len(forms) == 0 {
		return nil, fmt.Errorf("there is nothing to record")
	}
	return forms, nil
}

// sayText turns "lot: 0614; state: ready" into an entry, dated on the day of the call if it says no day.
func (c *call) sayText() []byte {
	var lines []string
	dated := false
	for _, part := range strings.Split(c.rec.say, ";") {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		dated = dated || strings.HasPrefix(part, "on:")
		lines = append(lines, part)
	}
	if !dated {
		lines = append(lines, "on: "+c.on.String())
	}
	return []byte(strings.Join(lines, "\n") + "\n")
}

// quoted writes a text so that it is read back as it is.
func quoted(s string) string { return "'" + strings.ReplaceAll(s, "'", "''") + "'" }

// joinForms joins what is to be recorded to what is. Only what the new entries bring about is said.
func joinForms(led *record.Ledger, forms []book.Form) (*record.Ledger, finding.List) {
	_, before := record.NewLedger(led.All)
	all := slices.Clone(led.All)
	for i, f := range forms {
		f.Entry.Number = led.Last() + i + 1
		all = append(all, f.Entry)
	}
	joined, found := record.NewLedger(all)
	return joined, slices.DeleteFunc(found, func(f finding.Finding) bool { return slices.Contains(before, f) })
}

// checkNames checks that what is recorded is in the book.
func checkNames(b *book.Book, forms []book.Form) (out finding.List) {
	unknown := func(e *record.Entry, what, name, near string) {
		f := finding.Finding{Rule: "record.unknown-name", Severity: finding.Error, Where: e.Pos, Message: fmt.Sprintf("the book has no %s “%s”", what, name),
			Cure: "write its name as in the book"}
		if near != "" {
			f.Cure = "did you mean " + near + "?"
		}
		out.Add(f)
	}
	var products, materials []string
	for _, p := range b.Products {
		products = append(products, p.Name)
	}
	for _, s := range b.Sets {
		products = append(products, s.Name)
	}
	for _, m := range b.Materials {
		materials = append(materials, m.Name)
	}
	is := func(all []string, name string) bool {
		return slices.ContainsFunc(all, func(s string) bool { return inci.Fold(s) == inci.Fold(name) })
	}
	for _, f := range forms {
		product := ""
		switch x := f.Entry.What.(type) {
		case *record.Lot:
			product = x.Product
			for _, u := range x.Used {
				if !is(materials, u.Name) && !is(products, u.Name) && b.Material(u.Name) == nil {
					unknown(f.Entry, "material or product", u.Name, book.Nearest(u.Name, append(materials, products...)))
				}
			}
		case *record.Receipt:
			if !is(materials, x.Material) && b.Material(x.Material) == nil {
				unknown(f.Entry, "material", x.Material, book.Nearest(x.Material, materials))
			}
		case *record.Approval:
			product = x.Product
		case *record.Printing:
			product = x.Product
		case *record.Count:
			product = x.Product
		case *record.Complaint:
			product = x.Product
		}
		if product != "" && !is(products, product) {
			unknown(f.Entry, "product", product, book.Nearest(product, products))
		}
	}
	return out
}

// bookOf returns the book that a lot was made by: that of the entry that is corrected, or the book as it stands.
func bookOf(led *record.Ledger, e *record.Entry, now string) string {
	for _, was := range led.All {
		if x, ok := was.What.(*record.Lot); ok && was.Number == e.Corrects && x.Book != "" {
			return x.Book
		}
	}
	return now
}

// heldEntry is the entry that holds a lot back, with the first reason.
func heldEntry(x *record.Lot, on date.Date, found finding.List) []byte {
	found.Sort()
	why := ""
	for _, f := range found {
		if f.Severity >= finding.Question {
			why = f.Message
			break
		}
	}
	on = max(on, x.On)
	return []byte(fmt.Sprintf("lot: %s\non: %s\nstate: held\nby: panelwright\nremarks: %s\n", quoted(x.Code), on, quoted(why)))
}

// productNamed returns a product of the book, or a set.
func productNamed(b *book.Book, name string) (*label.Product, *label.Set) {
	for _, p := range b.Products {
		if inci.Fold(p.Name) == inci.Fold(name) {
			return p, nil
		}
	}
	for _, s := range b.Sets {
		if inci.Fold(s.Name) == inci.Fold(name) {
			return &s.Product, s
		}
	}
	return nil, nil
}

// deskBook is a book with the desk that its products are judged at.
type deskBook struct {
	book *book.Book
	desk *label.Desk
}

// benchOf returns the book that a lot was made by: the one that was kept then, or the book as it stands.
func (c *call) benchOf(now deskBook, x *record.Lot) (deskBook, error) {
	if x.Book == "" || x.Book == now.book.Fingerprint {
		return now, nil
	}
	b, err := c.keptBook(x.Book)
	if err != nil {
		return deskBook{}, fmt.Errorf("lot %s: the book it was made by: %w", x.Code, err)
	}
	return deskBook{b, label.NewDesk(&b.Workshop)}, nil
}

// asMade makes a lot up as it was weighed, by the book of its day. It returns nil for a box, which is judged by the
// lots in it, and where the findings hold an error.
func (c *call) asMade(now deskBook, led *record.Ledger, x *record.Lot) (deskBook, *record.Made, finding.List) {
	at, err := c.benchOf(now, x)
	if err != nil {
		return at, nil, lostBook(x, err)
	}
	p, set := productNamed(at.book, x.Product)
	if p == nil || set != nil {
		return at, nil, nil
	}
	made, bad := led.AsMade(at.desk.Composer, p, x, at.book)
	if bad.Count(finding.Error) > 0 {
		made = nil
	}
	return at, made, bad
}

// boxAsMade makes up the boxes of a lot, each with the lots in it as they were made, or returns nil for a lot of a
// product, and where the findings hold an error.
func (c *call) boxAsMade(now deskBook, led *record.Ledger, x *record.Lot) (deskBook, *record.Made, finding.List) {
	at, err := c.benchOf(now, x)
	if err != nil {
		return at, nil, lostBook(x, err)
	}
	_, set := productNamed(at.book, x.Product)
	if set == nil {
		return at, nil, nil
	}
	made, bad := led.BoxAsMade(set, x, record.Bench{
		Product: func(name string) *label.Product {
			if p, s := productNamed(at.book, name); s == nil {
				return p
			}
			return nil
		},
		Made: func(inner *record.Lot) (*label.Product, finding.List) {
			_, m, bad := c.asMade(now, led, inner)
			if m == nil {
				return nil, bad
			}
			return m.Product, bad
		},
	})
	if bad.Count(finding.Error) > 0 {
		made = nil
	}
	return at, made, bad
}

// judgeLot judges a lot as it was made against its labels; nil where that is not possible, which the findings say.
func (c *call) judgeLot(now deskBook, led *record.Ledger, x *record.Lot) (*record.Judgement, finding.List) {
	at, made, bad := c.asMade(now, led, x)
	if made == nil && len(bad) == 0 {
		at, made, bad = c.boxAsMade(now, led, x)
	}
	if made == nil {
		return nil, bad
	}
	return record.Judge(at.desk, made, c.lotOccasion(led, x), c.says(led, x)), bad
}

// lotOccasion returns the days a lot is judged on: it is first supplied on the day its first pieces went, or on the
// day asked for.
func (c *call) lotOccasion(led *record.Ledger, x *record.Lot) date.Occasion {
	o := date.Occasion{On: max(c.on, x.On), Placed: max(c.placed, x.On)}
	for _, s := range led.ShipmentsOf(x) {
		if s.Kind != record.KeptBack && s.Kind != record.Destroyed && s.On < o.Placed {
			o.Placed = s.On
		}
	}
	return o
}

// says returns what the labels of a lot say by the approvals.
func (c *call) says(led *record.Ledger, x *record.Lot) record.Says {
	return func(p *label.Product, pack *label.Pack) *label.PackCopy {
		for _, m := range p.SellIn {
			if p.PackFor(m) != pack {
				continue
			}
			a := led.ApprovalFor(p.Name, m, x, c.on)
			if a == nil {
				return nil
			}
			f, err := book.ApprovedCopy(os.DirFS(c.bookDir()), a.Text)
			if err != nil {
				c.problems(finding.List{lostCopy(a, err)})
				return nil
			}
			copy, err := f.Copy(p, pack)
			if err != nil {
				c.problems(finding.List{lostCopy(a, err)})
				return nil
			}
			return copy
		}
		return nil
	}
}

func lostBook(x *record.Lot, err error) finding.List {
	return finding.List{{Rule: "record.kept-book", Severity: finding.Error, Where: x.Entry.Pos, Message: err.Error(), Cure: "restore it from a kept archive"}}
}

func lostCopy(a *record.Approval, err error) finding.Finding {
	return finding.Finding{Rule: "record.copy", Severity: finding.Error, Where: a.Entry.Pos,
		Message: fmt.Sprintf("the copy of %s approved on %s cannot be used: %v", a.Product, a.On, err), Cure: "restore " + book.CopyFile(a.Text) + " from a kept archive, or approve again"}
}

// writeJudgement says what became of a lot, and the cure.
func writeJudgement(w io.Writer, j *record.Judgement) {
	fmt.Fprintf(w, "\nlot %s, %d x %s, made %s\n", j.Lot.Code, j.Lot.Pieces, j.Book.Name, j.Lot.On)
	isWeighed := func(f finding.Finding) bool { return f.Rule == record.RuleLotWeighed }
	told := slices.Clone(j.Findings)
	slices.SortStableFunc(told, func(a, b finding.Finding) int { // what was done before what comes of it
		switch {
		case isWeighed(a) && !isWeighed(b):
			return -1
		case isWeighed(b) && !isWeighed(a):
			return 1
		}
		return 0
	})
	for _, f := range told {
		fmt.Fprintf(w, "  %s: %s\n", f.Severity, f.Message)
		if f.Cure != "" {
			fmt.Fprintf(w, "      %s\n", f.Cure)
		}
		if s := f.Source.String(); s != "" {
			fmt.Fprintf(w, "      %s\n", s)
		}
	}
	for _, p := range j.Packs {
		word := "is true for this lot"
		if !p.True {
			word = "is wrong for this lot"
		}
		fmt.Fprintf(w, "  the label for %s %s\n", codes(p.Due.Markets), word)
	}
	for _, a := range j.Adds {
		var lines []string
		for _, l := range a.Lines {
			lines = append(lines, fmt.Sprintf("%s %s g", l.Name(), l.Grams.Decimal(1, exact.Up)))
		}
		fmt.Fprintf(w, "  or enlarge the batch of %s by %s g, back to its recipe, before it is shaped: %s\n", a.Formula, a.Sum.Decimal(0, exact.Up), strings.Join(lines, ", "))
	}
}

// listLots prints the lots and where they are.
func (c *call) listLots(led *record.Ledger) (int, error) {
	c.verdict(nil)
	if len(led.Lots) == 0 {
		fmt.Fprintln(c.out, "no lot is recorded; write one into a file and record it: panelwright record --form FILE")
		return exitClean, nil
	}
	rows := [][]string{{"lot", "product", "made", "pieces", "left", "state"}}
	for _, x := range led.Lots {
		state := string(led.StateOf(x))
		if led.OnTrial(x) {
			state += ", trial"
		}
		rows = append(rows, []string{x.Code, x.Product, x.On.String(), fmt.Sprint(x.Pieces), fmt.Sprint(led.Left(x)), state})
	}
	return exitClean, table(c.out, rows)
}
