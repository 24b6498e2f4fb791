package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/formula/quantity"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/sheet"
)

// sheetFlags are the flags of the verb sheet.
type sheetFlags struct {
	unit, empty, ref, file string
	as                     sheet.Kind
	date                   date.Date
	lines                  map[int]string
}

func (c *call) setUnit(v string) error {
	if !sheet.KnownUnit(v) {
		return fmt.Errorf("%q is no unit of a share; write %% or ppm", v)
	}
	c.pasted.unit = v
	return nil
}

func (c *call) setAs(v string) error {
	for _, k := range []sheet.Kind{sheet.Allergens, sheet.Contains} {
		if v == k.String() {
			c.pasted.as = k
			return nil
		}
	}
	return fmt.Errorf("%q is neither allergens nor contains", v)
}

// setLine takes what is to be read in place of one line.
func (c *call) setLine(v string) error {
	number, text, ok := strings.Cut(v, ":")
	n, err := strconv.Atoi(strings.TrimSpace(number))
	if !ok || err != nil || n < 1 {
		return fmt.Errorf("%q does not begin with the number of a line; write it as in \"7: Linalool 4.2 %%\", or \"7:\" to leave it out", v)
	}
	if c.pasted.lines == nil {
		c.pasted.lines = map[int]string{}
	}
	c.pasted.lines[n] = text
	return nil
}

func (c *call) setEmpty(v string) error {
	sh, err := quantity.ParseShare(v)
	if err != nil {
		return err
	}
	if sh.Rest || !sh.Lo.IsZero() || sh.Stated {
		return fmt.Errorf("%q does not say that none was found; write nd, or with the limit of the test \"nd <10 ppm\"", v)
	}
	c.pasted.empty = v
	return nil
}

// sheetVerb reads what was pasted out of a supplier's sheet.
func sheetVerb(c *call) (int, error) {
	if len(c.args) == 0 {
		return exitFailed, usageError("say which text: panelwright sheet FILE, or - for what is pasted and ended with Ctrl-D (on Windows Ctrl-Z and Enter)")
	}
	if len(c.args) > 2 {
		return exitFailed, usageError(fmt.Sprintf("one text and one book at a time; %q is one too many", c.args[2]))
	}
	from := c.args[0]
	c.args = c.args[1:]
	if c.dir != "" && c.rec.material == "" {
		return exitFailed, usageError("--out wants the name of the material too: --material NAME")
	}
	if c.dir != "" && c.json {
		return exitFailed, usageError("--json prints and --out writes: use one of them")
	}
	if c.dir != "" {
		if err := notThereYet(c.dir); err != nil {
			return exitFailed, err
		}
	}
	text, err := pastedText(from)
	if err != nil {
		return exitFailed, err
	}
	s := sheet.Read(text, sheet.Options{Unit: c.pasted.unit, As: c.pasted.as, Empty: c.pasted.empty, Date: c.pasted.date, Lines: c.pasted.lines})
	for _, n := range slices.Sorted(maps.Keys(c.pasted.lines)) {
		if !slices.ContainsFunc(s.Lines, func(l sheet.Line) bool { return l.Number == n }) {
			return exitFailed, usageError(fmt.Sprintf("--line: there is nothing on line %d of %s", n, from))
		}
	}
	if len(s.Lines) == 0 {
		return exitFailed, fmt.Errorf("%s: there is no text in it", from)
	}
	j := &sheetJob{c: c, s: s}
	if err := j.prepare(); err != nil {
		return exitFailed, err
	}
	if c.json {
		err = j.printJSON()
	} else {
		err = j.print()
	}
	if err != nil {
		return exitFailed, err
	}
	if len(s.Questions) > 0 || j.found.Count(finding.Error) > 0 {
		if c.dir != "" {
			fmt.Fprintf(c.err, "panelwright: %s was not written: %s\n", c.dir, j.whyNot())
		}
		return exitErrors, nil
	}
	if c.dir != "" {
		if err := writeNew(c.dir, j.yaml); err != nil {
			return exitFailed, err
		}
		fmt.Fprintf(c.out, "\nwritten to %s\n", c.dir)
	}
	return exitClean, nil
}

// sheetJob is one sheet and the document that comes of it.
type sheetJob struct {
	c     *call
	s     *sheet.Sheet
	to    sheet.Material
	yaml  []byte
	fresh *formula.Material // the document as a book reads it; nil if it cannot
	found finding.List      // what reading it found
	old   *formula.Material // the material of that name in the book, or nil
	book  string            // what there is to say of the book
}

// prepare writes the document and reads it back as a book would.
func (j *sheetJob) prepare() error {
	c := j.c
	if err := j.open(); err != nil {
		return err
	}
	j.to = sheet.Material{Name: strings.Join(strings.Fields(c.rec.material), " "), Ref: c.pasted.ref, File: c.pasted.file}
	j.classify()
	if c.pasted.file != "" {
		sum, err := j.fingerprint()
		if err != nil {
			return err
		}
		j.to.Fingerprint = sum
	}
	var b bytes.Buffer
	if err := j.s.Write(&b, j.to); err != nil {
		return err
	}
	j.yaml = b.Bytes()
	const shop = "workshop: Trial\nsell in: [eu]\n---\n"
	read, found := book.LoadFiles([]book.File{{Name: "sheet", Data: append([]byte(shop), j.yaml...)}})
	for _, f := range found {
		if f.Severity >= finding.Warning && len(j.s.Questions) == 0 && len(j.s.Figures)+len(j.s.Limits) > 0 {
			f.Where.Line -= strings.Count(shop, "\n")
			j.found.Add(f)
		}
	}
	if len(read.Materials) == 1 {
		j.fresh = read.Materials[0]
	}
	return nil
}

// open finds the material in the book, if a book was named. A book with errors
// elsewhere is compared as far as it can be read.
func (j *sheetJob) open() error {
	c := j.c
	if len(c.args) == 0 {
		return nil
	}
	if _, err := os.Stat(c.args[0]); err != nil {
		return noBook(c.args[0], err)
	}
	if c.rec.material == "" {
		return usageError("to compare with a book, name the material: --material NAME")
	}
	b, found := book.Load(c.args[0])
	for _, m := range b.Materials {
		if inci.Fold(m.Name) == inci.Fold(c.rec.material) {
			j.old = m
		}
	}
	switch n := found.Count(finding.Error); {
	case j.old == nil && n > 0:
		j.book = fmt.Sprintf("the book has %d %s, and among what can be read of it no material of this name", n, plural(n, "error"))
	case j.old == nil:
		j.book = "the book has no material of this name yet"
	case n > 0:
		j.book = fmt.Sprintf("the book has %d %s; compared as far as it can be read", n, plural(n, "error"))
	}
	return nil
}

// classify settles class and ingredient of the document: those of the book, else
// those of the built-in material of that name, which need not be written.
func (j *sheetJob) classify() {
	if j.old != nil {
		j.to.Name = j.old.Name
		if s, ok := j.old.Info.(*label.Sheet); ok {
			j.to.Class = s.Class
		}
		if parts := j.old.Parts; j.s.As == sheet.Allergens && len(parts) == 1 && parts[0].Key != "PARFUM" && parts[0].Key != "AROMA" {
			j.to.INCI = inci.Readable(string(parts[0].Key))
		}
		return
	}
	if _, ok := inci.TradeMaterial(j.to.Name); ok && j.s.As == sheet.Allergens {
		return
	}
	if j.s.As == sheet.Allergens {
		j.to.Class = "fragrance"
		return
	}
	for _, f := range j.s.Figures {
		if strings.HasPrefix(string(f.Key), "CI ") {
			j.to.Class = "colourant"
		}
	}
}

func (j *sheetJob) whyNot() string {
	if n := len(j.s.Questions); n > 0 {
		return fmt.Sprintf("%d %s open", n, plural(n, "question"))
	}
	return "a book would not take it"
}

// fingerprint takes the fingerprint of the file that --file names, which is kept
// in the book's folder.
func (j *sheetJob) fingerprint() (string, error) {
	file := filepath.ToSlash(j.c.pasted.file)
	if !fs.ValidPath(path.Clean(file)) {
		return "", usageError(fmt.Sprintf("--file: %s is not inside the book's folder; put the sheet there, as in sheets/hay.pdf", j.c.pasted.file))
	}
	j.to.File = path.Clean(file)
	sum, err := fingerprintOf(filepath.Join(j.c.bookDir(), filepath.FromSlash(j.to.File)))
	if err != nil {
		return "", fmt.Errorf("--file: %w", err)
	}
	return sum, nil
}

// fingerprintOf returns the SHA-256 of a file in hexadecimal.
func fingerprintOf(name string) (string, error) {
	info, err := os.Stat(name)
	if err != nil {
		return "", err
	}
	if !info.Mode().IsRegular() {
		return "", fmt.Errorf("%s is no file", name)
	}
	f, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// bookFingerprint is the fingerprint of a file of the book's folder, "" if it
// cannot be taken.
func (c *call) bookFingerprint(file string) string {
	sum, _ := fingerprintOf(filepath.Join(c.bookDir(), filepath.FromSlash(file)))
	return sum
}

// mostPasted bounds a text: a sheet has a few kilobytes.
const mostPasted = 1 << 18

// pastedText reads the text of a file, or of standard input.
func pastedText(name string) (string, error) {
	in := io.Reader(os.Stdin)
	if name != "-" {
		info, err := os.Stat(name)
		if err != nil {
			return "", err
		}
		if info.IsDir() {
			return "", fmt.Errorf("%s is a folder; name the file with the sheet's text", name)
		}
		f, err := os.Open(name)
		if err != nil {
			return "", err
		}
		defer f.Close()
		in = f
	}
	data, err := io.ReadAll(io.LimitReader(in, mostPasted+1))
	if err != nil {
		return "", err
	}
	return textOf(name, data)
}

// textOf refuses what is no text, and says what to do instead.
func textOf(name string, data []byte) (string, error) {
	const copyOut = "open it, copy the text of the table, and paste it: panelwright sheet - (or save it as a plain text file)"
	switch {
	case bytes.HasPrefix(bytes.TrimLeft(data[:min(len(data), 1024)], "\ufeff \r\n\t"), []byte("%PDF-")):
		return "", fmt.Errorf("%s is a PDF file, whose text is not read here; %s; keep the PDF as the proof, and name it with --file", name, copyOut)
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		return "", fmt.Errorf("%s is a word processor's or spreadsheet file; %s", name, copyOut)
	case len(data) > mostPasted:
		return "", fmt.Errorf("%s is longer than a supplier's sheet can be (256 KB); copy the table alone", name)
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		return wideText(data), nil
	case bytes.IndexByte(data, 0) >= 0:
		return "", fmt.Errorf("%s is no text; %s", name, copyOut)
	case !utf8.Valid(data):
		return "", fmt.Errorf("%s is not written as UTF-8; save it again as UTF-8 text, or paste it: panelwright sheet -", name)
	}
	return string(data), nil
}

// wideText reads UTF-16, as some editors save text.
func wideText(data []byte) string {
	low, high := 0, 1
	if data[0] == 0xfe {
		low, high = 1, 0
	}
	var units []uint16
	for i := 2; i+1 < len(data); i += 2 {
		units = append(units, uint16(data[i+low])|uint16(data[i+high])<<8)
	}
	return string(utf16.Decode(units))
}

// writeNew writes a file whole where there is none of that name.
func writeNew(name string, data []byte) error {
	if err := notThereYet(name); err != nil {
		return err
	}
	return writeWhole(name, data)
}

// notThereYet returns an error if there is something of that name.
func notThereYet(name string) error {
	if info, err := os.Lstat(name); err == nil {
		if info.IsDir() {
			return fmt.Errorf("%s is a folder; nothing was written. Name a new file with --out", name)
		}
		return fmt.Errorf("%s is there already; nothing was written. Name a new file with --out", name)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return notWritten(name, err)
	}
	return nil
}
