package book

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"

	"panelwright/formula/finding"
	"panelwright/label/record"
	"panelwright/label/record/journal"
)

// recordsFolder holds what the command records; it is no part of the book.
const recordsFolder = journal.Folder

// recordKinds are the words an entry of the records may begin with.
var recordKinds = []string{"received", "made", "lot", "went", "approved", "printed", "labels", "complaint", "statement", "withdrawn"}

// Records reads what was recorded beside the book in a folder, and joins it.
// Where the journal is damaged the good part is read, and the findings say
// where and how. The error is one of reading the file at all.
func Records(dir string) (*record.Ledger, finding.List, error) {
	dir = folderOf(dir)
	kept, damage, err := journal.Read(dir)
	if err != nil {
		return nil, nil, err
	}
	var out finding.List
	const name = journal.File
	for _, d := range damage {
		out.Add(finding.Finding{Rule: "record.damage", Severity: finding.Error, Where: finding.Pos{File: name, Line: d.Line}, Message: d.Message, Cure: d.Cure})
	}
	if len(kept) == 0 && len(damage) == 0 && keptWithout(dir) {
		out.Add(finding.Finding{Rule: "record.damage", Severity: finding.Warning, Where: finding.Pos{File: name}, Message: "no entry is recorded, and beside it stands what is kept with lots and approvals",
			Cure: "if there were entries, get the file back from a kept archive before you record more"})
	}
	docs := make([]document, len(kept))
	for i, k := range kept {
		docs[i] = document{file: name, line: k.Line - 1, text: k.Text, ofRecords: true}
	}
	entries := make([]*record.Entry, len(kept))
	pages := make([]*page, len(kept))
	onAll(len(docs), func(i int) {
		pages[i] = readPage(&docs[i])
		if e := readEntry(pages[i]); e != nil {
			e.Number, e.Recorded, e.Changed = kept[i].Number, kept[i].Recorded, kept[i].Changed
			entries[i] = e
		}
	})
	for _, p := range pages {
		out = append(out, p.out...)
	}
	entries = slices.DeleteFunc(entries, func(e *record.Entry) bool { return e == nil })
	l, more := record.NewLedger(entries)
	out = append(out, more...)
	out.SortByPlace()
	return l, out, nil
}

// keptWithout reports whether books or copies stand in the records of a folder:
// they are kept with entries.
func keptWithout(dir string) bool {
	for _, sub := range []string{"books", "copy"} {
		if all, err := os.ReadDir(filepath.Join(dir, recordsFolder, sub)); err == nil && len(all) > 0 {
			return true
		}
	}
	return false
}

// folderOf returns the folder that a book is in: itself, or that of its file.
func folderOf(name string) string {
	if info, err := os.Stat(name); err == nil && !info.IsDir() {
		return filepath.Dir(name)
	}
	return name
}

// onAll calls do for 0 to n-1 on all processors.
func onAll(n int, do func(int)) {
	next := make(chan int, n)
	for i := range n {
		next <- i
	}
	close(next)
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		wg.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	wg.Wait()
}

// Form is an entry that the maker wrote, not recorded yet, with its text.
type Form struct {
	Entry *record.Entry
	Text  []byte

	braces bool // the whole entry stands in braces
}

// Add writes one more key into the text of an entry, as the command does with
// what the maker need not write. The value must be as YAML wants it.
func (f *Form) Add(key, value string) {
	text := strings.TrimRight(string(f.Text), "\n ")
	if body, ok := strings.CutSuffix(text, "}"); ok && f.braces {
		f.Text = []byte(strings.TrimRight(body, ", \n") + ", " + key + ": " + value + "}\n")
		return
	}
	f.Text = []byte(text + "\n" + key + ": " + value + "\n")
}

// ReadForms reads entries that are to be recorded from a file. A document that
// has something wrong with it is not among the forms.
func ReadForms(fsys fs.FS, name string) ([]Form, finding.List) {
	data, err := readFile(fsys, name)
	if err != nil {
		return nil, finding.List{unreadable(name, err)}
	}
	return ParseForms(File{name, data})
}

// ParseForms is ReadForms for a file in memory.
func ParseForms(f File) ([]Form, finding.List) {
	data, bad := normalise(f)
	if bad != nil {
		return nil, finding.List{*bad}
	}
	docs, out := split(f.Name, data)
	var forms []Form
	for i := range docs {
		docs[i].ofRecords = true
		p := readPage(&docs[i])
		if p.root == nil && len(p.out) == 0 && len(p.lost) == 0 {
			continue // nothing but notes
		}
		e := readEntry(p)
		out = append(out, p.out...)
		if e == nil || p.out.Count(finding.Error) > 0 {
			continue
		}
		form := Form{Entry: e, Text: append([]byte(strings.TrimRight(string(docs[i].text), "\n")), '\n'), braces: p.root.Style&yaml.FlowStyle != 0}
		if last := strings.TrimSpace(string(form.Text)); form.braces && !strings.HasSuffix(last, "}") || strings.HasSuffix(last, "\n...") {
			out.Add(finding.Finding{Rule: "book.form", Severity: finding.Error, Where: e.Pos, Message: "something stands after the end of the entry", Cure: "take it out, notes too"})
			continue
		}
		forms = append(forms, form)
	}
	out.SortByPlace()
	return forms, out
}

// readEntry reads an entry, or returns nil where that is not possible.
func readEntry(p *page) *record.Entry {
	if p.root == nil || p.kind == "" {
		return nil
	}
	r := &recordPage{page: p, e: &record.Entry{Pos: p.at(p.root)}}
	name, ok := p.text(p.name, "what stands after “"+p.kind+"”")
	if !ok {
		return nil
	}
	read := map[string]func(string){"received": r.receipt, "made": r.lot, "lot": r.status, "went": r.shipment,
		"approved": r.approval, "printed": r.printing, "labels": r.count, "complaint": r.complaint, "statement": r.statement, "withdrawn": r.withdrawal}
	read[p.kind](name)
	if r.e.Corrects != 0 && r.e.Reason == "" {
		p.fail("book.missing-key", p.name, "a correction has no reason", "write reason: and what was wrong")
	}
	if p.torn[p.root] {
		return nil
	}
	return r.e
}

// recordPage is one entry while it is read.
type recordPage struct {
	*page
	e *record.Entry
}

var entryKeys = []string{"by", "corrects", "reason", "remarks"}

// each goes through the keys of an entry. Those that every entry may have are
// read here.
func (r *recordPage) each(keys []string, read func(e entry)) {
	all := append(append([]string{r.kind}, keys...), entryKeys...)
	for _, e := range r.known(r.root, "an entry that begins with “"+r.kind+"”", "", all) {
		switch e.key {
		case r.kind:
		case "by":
			r.e.By, _ = r.text(e.v, "who recorded it")
		case "reason":
			r.e.Reason, _ = r.text(e.v, "the reason")
		case "remarks":
			r.e.Remarks = strings.Join(r.texts(e.v, "the remarks"), " ")
		case "corrects":
			r.e.Corrects = r.whole(e.v, "the number of the entry")
		default:
			read(e)
		}
	}
}

// need reports a key that an entry cannot do without.
func (r *recordPage) need(gone bool, key, example string) {
	if !gone || r.torn[r.root] || r.out.Count(finding.Error) > 0 {
		return
	}
	r.fail("book.missing-key", r.name, fmt.Sprintf("the entry “%s: %s” has no %s", r.kind, clip(r.name.Value), key), "write it as in "+example)
	r.tear(r.root)
}

// whole reads a number of things.
func (r *recordPage) whole(n *yaml.Node, what string) int {
	s, ok := r.text(n, what)
	if !ok {
		return 0
	}
	v := 0
	if !wholeNumber(s, &v) || v < 0 || v > mostCounted {
		r.fail("book.form", n, fmt.Sprintf("%s: “%s” is no whole number", what, clip(s)), "write it as in 60")
	}
	return v
}

// mostCounted bounds what a workshop counts.
const mostCounted = 10_000_000
