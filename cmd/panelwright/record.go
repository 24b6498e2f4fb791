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
	b, led, err := c.openWithRecords()
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
	found = append(found, c.tooEarly(forms)...)
	if n := found.Count(finding.Error); n > 0 {
		c.problems(found)
		return exitFailed, fmt.Errorf("%d %s in what was to be recorded; nothing was written", n, plural(n, "error"))
	}
	desk := label.NewDesk(&b.Workshop)
	var texts [][]byte
	var all, said finding.List
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
		if st, is := f.Entry.What.(*record.Status); is && st.State == record.Ready {
			if why := c.notReady(deskBook{b, desk}, joined, st); len(why) > 0 {
				c.problems(why)
				return exitFailed, fmt.Errorf("lot %s cannot be made ready; nothing was written", st.Lot)
			}
		}
		if !ok {
			continue
		}
		j, bad := c.judgeLot(deskBook{b, desk}, joined, x)
		if slices.ContainsFunc(bad, mistyped) {
			c.problems(bad)
			return exitFailed, fmt.Errorf("lot %s does not fit its recipe; nothing was written", x.Code)
		}
		told := slices.Clone(bad)
		if j != nil {
			writeJudgement(&report, j)
			told = append(told, j.Findings...)
		}
		said = append(said, bad...)
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
	c.problems(append(found, said...))
	return exitOf(all), nil
}

// openWithRecords opens the book and reads the records beside it.
func (c *call) openWithRecords() (*book.Book, *record.Ledger, error) {
	b, err := c.open()
	if err != nil {
		return nil, nil, err
	}
	led, err := c.ledger()
	return b, led, err
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
	for _, part := range apart(c.rec.say) {
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

// apart splits what was said at semicolons that stand in no quotes, brackets or braces. A quotation mark inside a word,
// as in it's, is none.
func apart(s string) (out []string) {
	var quote byte
	depth, from := 0, 0
	for i := range len(s) {
		c := s[i]
		switch {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case (c == '\'' || c == '"') && (i == 0 || strings.IndexByte(" :[{,", s[i-1]) >= 0) && strings.IndexByte(s[i+1:], c) >= 0:
			quote = c
		case c == '[' || c == '{':
			depth++
		case (c == ']' || c == '}') && depth > 0:
			depth--
		case c == ';' && depth == 0:
			out = append(out, s[from:i])
			from = i + 1
		}
	}
	return append(out, s[from:])
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

// mistyped reports whether a finding is of words that the recipe does not have, not of the lot.
func mistyped(f finding.Finding) bool {
	return f.Rule == record.RuleNoLine || f.Rule == record.RuleWhichFormula || f.Rule == record.RuleNoSwap
}

// notReady judges a lot again before it leaves the shelf of those held or curing, and returns what its labels get wrong.
func (c *call) notReady(now deskBook, led *record.Ledger, st *record.Status) finding.List {
	x := led.Lot(st.Lot)
	if x == nil {
		return nil // the ledger says so
	}
	j, found := c.judgeLot(now, led, x)
	if j != nil {
		found = append(found, j.Findings...)
	}
	return deciding(found)
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

// tooEarly refuses what is dated after today: what has not happened cannot be recorded.
func (c *call) tooEarly(forms []book.Form) (out finding.List) {
	for _, f := range forms {
		var on date.Date
		switch x := f.Entry.What.(type) {
		case *record.Lot:
			on = x.On
		case *record.Receipt:
			on = x.On
		case *record.Status:
			on = x.On
		case *record.Shipment:
			on = x.On
		case *record.Count:
			on = x.On
		case *record.Complaint:
			on = x.On
		}
		if on > c.on {
			out.Add(finding.Finding{Rule: "record.future", Severity: finding.Error, Where: f.Entry.Pos,
				Message: fmt.Sprintf("it is dated %s, and today is %s", on, c.on), Cure: "check the year; --on says another day of today"})
		}
	}
	return out
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
	if c.json {
		return exitClean, c.writeJSON(lotsJSON(led, led.Lots))
	}
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
