package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/layout"
	"panelwright/label/record"
	"panelwright/label/record/journal"
	"panelwright/label/record/keep"
)

// approve freezes the pack copy of a product, or of a lot of it as it was made: from then on labels for sale say
// that, whatever becomes of the book.
func approve(c *call) (int, error) {
	c.productSubject()
	if c.rec.by == "" {
		return exitFailed, usageError("say who approves: --by NAME")
	}
	if c.rec.since != 0 && c.rec.until != 0 && c.rec.until < c.rec.since {
		return exitFailed, usageError(fmt.Sprintf("no lot is made from %s and up to %s: check the days", c.rec.since, c.rec.until))
	}
	b, led, err := c.openWithRecords()
	if err != nil {
		return exitFailed, err
	}
	x, err := c.lotAsked(led)
	if err != nil {
		return exitFailed, err
	}
	if c.product == "" {
		return exitFailed, usageError("say what to approve: panelwright approve PRODUCT, or --lot CODE")
	}
	copies, found, err := c.copiesToApprove(b, led, x)
	if err != nil {
		return exitFailed, err
	}
	if found.Count(finding.Error)+found.Count(finding.Question) > 0 || len(copies) == 0 {
		found.Sort()
		c.verdict(found)
		fmt.Fprintln(c.out, "nothing was approved")
		c.problems(deciding(found))
		return exitErrors, nil
	}
	var docs [][]byte
	var said bytes.Buffer
	for _, copy := range copies {
		f := record.Freeze(copy)
		data, print := f.JSON()
		if err := c.keepFile(book.CopyFile(print), data); err != nil {
			return exitFailed, err
		}
		docs = append(docs, c.approvalEntry(copy, print, madeBy(b, x), x))
		fmt.Fprintf(&said, "%s, %s: text %s\n", copy.Name, codes(copy.Markets), print)
	}
	if err := c.keepBook(b); err != nil {
		return exitFailed, err
	}
	first, err := journal.AppendIf(c.bookDir(), stamp(), led.Last(), docs...)
	if err != nil {
		return exitFailed, err
	}
	c.verdict(found)
	fmt.Fprint(c.out, said.String())
	fmt.Fprintf(c.out, "approved by %s, %s, entry %d; labels for sale now say this", c.rec.by, c.approvedFor(x), first)
	fmt.Fprintln(c.out, ", whatever becomes of the book")
	fmt.Fprintln(c.out, "An approval is yours: nothing here is an assessment. Local law and a qualified safety assessor have the last word.")
	return exitClean, nil
}

// madeBy returns the fingerprint of the book that a lot was made by, without a lot of the book as it stands.
func madeBy(b *book.Book, x *record.Lot) string {
	if x != nil && x.Book != "" {
		return x.Book
	}
	return b.Fingerprint
}

// lotAsked returns the lot of --lot, and takes its product where none is named; nil if no lot is asked for.
func (c *call) lotAsked(led *record.Ledger) (*record.Lot, error) {
	if c.sheets.lot == "" {
		return nil, nil
	}
	x := led.Lot(c.sheets.lot)
	if x == nil {
		return nil, usageError(fmt.Sprintf("no lot %s is recorded; panelwright record lists them", c.sheets.lot))
	}
	switch {
	case c.product == "":
		c.product = x.Product
	case !strings.EqualFold(c.product, x.Product):
		return nil, usageError(fmt.Sprintf("lot %s is %s, not %s", x.Code, x.Product, c.product))
	}
	return x, nil
}

// copiesToApprove returns the pack copy of every pack that the flags ask for, with what is wrong with it.
func (c *call) copiesToApprove(b *book.Book, led *record.Ledger, x *record.Lot) (copies []*label.PackCopy, found finding.List, err error) {
	jobs, desk, err := c.jobs(b)
	if err != nil {
		return nil, nil, err
	}
	j := jobs[0]
	o := c.occasion()
	if x != nil && j.set == nil {
		at, made, bad := c.asMade(deskBook{b, desk}, led, x)
		found = append(found, bad...)
		if made == nil {
			return nil, found, nil
		}
		j.product, desk, o = made.Product, at.desk, c.lotOccasion(led, x)
	}
	if x != nil && j.set != nil {
		at, box, bad := c.oneBox(deskBook{b, desk}, led, x)
		found = append(found, bad...)
		if box == nil {
			return nil, found, nil
		}
		j.set, j.product, desk, o = box, &box.Product, at.desk, c.lotOccasion(led, x)
	}
	ms := c.wants(j.product.SellIn)
	if j.set != nil {
		j.decls = desk.DeclareSet(j.set, ms, o)
	} else {
		j.decls = desk.Declare(j.product, ms, o)
	}
	found = append(found, j.findings()...)
	for _, group := range byPack(j) {
		pack := j.product.PackFor(group[0].Market)
		if pack == nil || pack.Label.Kind == label.NoShape {
			continue
		}
		copy := label.CopyFor(pack, group)
		found = append(found, copy.Findings...)
		if copy.Proof {
			continue
		}
		_, err := layout.Lay(copy, layout.Options{})
		var room *layout.NoRoom
		switch {
		case errors.As(err, &room):
			found.Add(finding.Finding{Rule: "pack.no-room", Severity: finding.Error, Where: pack.Pos, Product: j.product.Name, Message: room.Error(), Cure: room.Cure()})
		case err != nil:
			return nil, nil, err
		default:
			copies = append(copies, copy)
		}
	}
	if len(copies) == 0 && found.Verdict().Prints() {
		return nil, nil, usageError(fmt.Sprintf("%s has no label to approve; add packs: with label: and pack:", c.product))
	}
	return copies, found, nil
}

// approvalEntry is the entry that records an approval.
func (c *call) approvalEntry(copy *label.PackCopy, print, bookPrint string, x *record.Lot) []byte {
	var e strings.Builder
	fmt.Fprintf(&e, "approved: %s\nfor: [%s]\non: %s\nplaced: %s\nby: %s\n", quoted(copy.Product.Name), strings.ReplaceAll(codes(copy.Markets), "+", ", "),
		copy.Occasion.On, copy.Occasion.Placed, quoted(c.rec.by))
	if x != nil {
		fmt.Fprintf(&e, "lots: [%s]\n", quoted(x.Code))
	}
	if c.rec.since != 0 {
		fmt.Fprintf(&e, "from: %s\n", c.rec.since)
	}
	if c.rec.until != 0 {
		fmt.Fprintf(&e, "until: %s\n", c.rec.until)
	}
	fmt.Fprintf(&e, "text: %s\nbook: %s\n", quoted(print), quoted(bookPrint))
	return []byte(e.String())
}

func (c *call) approvedFor(x *record.Lot) string {
	switch {
	case x != nil:
		return "for lot " + x.Code + " alone"
	case c.rec.since != 0 && c.rec.until != 0:
		return fmt.Sprintf("for lots made from %s to %s", c.rec.since, c.rec.until)
	case c.rec.since != 0:
		return fmt.Sprintf("for lots made from %s on", c.rec.since)
	case c.rec.until != 0:
		return fmt.Sprintf("for lots made up to %s", c.rec.until)
	}
	return "for every lot"
}

// keepFile writes a file of the records that is named by its contents: one that is there is the same.
func (c *call) keepFile(name string, data []byte) error {
	file := filepath.Join(c.bookDir(), filepath.FromSlash(name))
	if _, err := os.Stat(file); err == nil {
		return nil
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return err
	}
	return writeWhole(file, data)
}

// keepBook keeps the book as it stands, so that what was approved can be drawn and compared later.
func (c *call) keepBook(b *book.Book) error {
	name := filepath.Join(c.bookDir(), filepath.FromSlash(book.KeptFile(b.Fingerprint)))
	if _, err := os.Stat(name); err == nil {
		return nil
	}
	var buf bytes.Buffer
	if _, err := keep.Write(&buf, bookFiles{c.bookFS()}, c.on); err != nil {
		return fmt.Errorf("the book could not be kept with the approval: %w", err)
	}
	return c.keepFile(book.KeptFile(b.Fingerprint), buf.Bytes())
}

// bookFS is the folder of the book.
func (c *call) bookFS() fs.FS { return os.DirFS(c.bookDir()) }

// bookFiles is a book without what was recorded and printed, and without suppliers' sheets: what it takes to read it
// and to draw its labels.
type bookFiles struct{ fs.FS }

var bookFileTypes = []string{".yaml", ".yml", ".png", ".jpg", ".jpeg", ".svg", ".ttf", ".otf"}

func (w bookFiles) ReadDir(name string) ([]fs.DirEntry, error) {
	all, err := fs.ReadDir(w.FS, name)
	return slices.DeleteFunc(all, func(e fs.DirEntry) bool {
		if e.IsDir() {
			return name == "." && e.Name() == journal.Folder
		}
		return !slices.Contains(bookFileTypes, strings.ToLower(path.Ext(e.Name())))
	}), err
}

// keptBook reads the book that was kept with an approval.
func (c *call) keptBook(fingerprint string) (*book.Book, error) {
	c.keptMu.Lock()
	defer c.keptMu.Unlock()
	if b := c.kept[fingerprint]; b != nil {
		return b, nil
	}
	b, err := c.readKept(fingerprint)
	if err == nil {
		if c.kept == nil {
			c.kept = map[string]*book.Book{}
		}
		c.kept[fingerprint] = b
	}
	return b, err
}

func (c *call) readKept(fingerprint string) (*book.Book, error) {
	return readArchive(filepath.Join(c.bookDir(), filepath.FromSlash(book.KeptFile(fingerprint))))
}

// readArchive reads the book in an archive that was kept.
func readArchive(name string) (*book.Book, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	k, err := keep.Open(f, info.Size())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	b, found := book.LoadFS(k.FS())
	if n := found.Count(finding.Error); n > 0 {
		return nil, fmt.Errorf("%s: the book that was kept has %d %s by the rules of today: %s", name, n, plural(n, "error"), found[0].Line())
	}
	return b, nil
}
