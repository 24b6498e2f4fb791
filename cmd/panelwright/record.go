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
	b, led, err := c.openOrKept()
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
	for i := range forms {
		takeOver(led, &forms[i])
	}
	joined, found := joinForms(led, forms)
	found = append(found, checkNames(b, forms)...)
	found = append(found, otherNames(b, joined, forms)...)
	found = append(found, otherPieces(joined, forms)...)
	found = append(found, c.tooEarly(forms)...)
	found = append(found, c.byHand(forms)...)
	found = append(found, c.lotsWait(forms)...)
	if n := found.Count(finding.Error); n > 0 {
		c.problems(found)
		return exitFailed, fmt.Errorf("%d %s in what was to be recorded; nothing was written", n, plural(n, "error"))
	}
	var fresh []*record.Entry
	for _, f := range forms {
		fresh = append(fresh, f.Entry)
	}
	found = append(found, joined.Doubts(fresh)...)
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
		if wrong := misfits(bad); len(wrong) > 0 {
			c.problems(wrong)
			return exitFailed, fmt.Errorf("lot %s does not fit what the book says of %s; nothing was written", x.Code, x.Product)
		}
		if x.IsMix() {
			if bad.Count(finding.Error) > 0 {
				c.problems(bad)
				return exitFailed, fmt.Errorf("lot %s cannot be made up; nothing was written", x.Code)
			}
			writeMix(&report, x, bad)
			continue
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
	c.problems(inShort(found))
	return led, nil
}

// inShort leaves of the lots that were never recorded as received the first: it was told of each when it was recorded,
// and a trace names them.
func inShort(found finding.List) finding.List {
	first, n := -1, 0
	var out finding.List
	for _, f := range found {
		if f.Rule == record.RuleUnknownLot && f.Severity == finding.Warning {
			if n++; n > 1 {
				continue
			}
			first = len(out)
		}
		out = append(out, f)
	}
	if n > 1 {
		out[first].Message += fmt.Sprintf("; %d more like it", n-1)
	}
	return out
}

// forms reads what is to be recorded.
func (c *call) forms() ([]book.Form, error) {
	var forms []book.Form
	var found finding.List
	switch {
	case c.rec.form != "" && c.rec.say != "":
		return nil, usageError("--form and --say are two ways to record: use one of them")
	case c.rec.say != "":
		if err := sayable(c.rec.say); err != nil {
			return nil, err
		}
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
	return once(deciding(found))
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

// once leaves of findings that say the same of several markets the first: a lot is one for all of them.
func once(list finding.List) (out finding.List) {
	for _, f := range list {
		if !slices.ContainsFunc(out, func(o finding.Finding) bool {
			return o.Rule == f.Rule && o.Severity == f.Severity && o.Where == f.Where && o.Message == f.Message
		}) {
			out.Add(f)
		}
	}
	return out
}

// heldEntry is the entry that holds a lot back, with the first reason; before all others that it may burn.
func heldEntry(x *record.Lot, on date.Date, found finding.List) []byte {
	found.Sort()
	why := ""
	for _, f := range found {
		burns := f.Rule == "soap.unsafe" && f.Severity == finding.Error
		if burns || why == "" && f.Severity >= finding.Question {
			why = f.Message
		}
		if burns {
			break
		}
	}
	on = max(on, x.On)
	return []byte(fmt.Sprintf("lot: %s\non: %s\nstate: held\nby: panelwright\nremarks: %s\n", quoted(x.Code), on, quoted(why)))
}

// writeMix says what was mixed beforehand, and what of it otherwise than the recipe.
func writeMix(w io.Writer, x *record.Lot, found finding.List) {
	fmt.Fprintf(w, "\nlot %s, %s g of %s, made %s\n", x.Code, x.Batch[0].Grams.Decimal(1, exact.Nearest), x.Product, x.On)
	for _, f := range found {
		fmt.Fprintf(w, "  %s: %s\n", f.Severity, f.Message)
	}
	fmt.Fprintf(w, "  in the lots made of it write used: {%s: %s}\n", x.Product, x.Code)
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
	for _, f := range once(told) {
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
		pieces, left := fmt.Sprint(x.Pieces), fmt.Sprint(led.Left(x))
		if x.IsMix() {
			pieces, left, state = x.Batch[0].Grams.Decimal(1, exact.Nearest).String()+" g", "", "mix"
		}
		rows = append(rows, []string{x.Code, x.Product, x.On.String(), pieces, left, state})
	}
	return exitClean, table(c.out, rows)
}
