package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"panelwright/formula/date"
	"panelwright/label/book"
	"panelwright/label/render/pdf"
	"panelwright/label/stock"
)

// printFlags are the flags of the verbs that print on sheets of labels.
type printFlags struct {
	stock, list, used string
	from, copies      int
	face              string
	lot               string
	pieces            int
	made              date.Date
	numbered, back    bool
}

// number returns a setter for a flag that is a whole number from 1.
func number(to func(c *call) *int) func(c *call, v string) error {
	return func(c *call, v string) error {
		n, err := strconv.Atoi(v)
		if err != nil || n < 1 || n > 1_000_000 {
			return fmt.Errorf("%q is no whole number from 1", v)
		}
		*to(c) = n
		return nil
	}
}

func (c *call) setFace(v string) error {
	if v != "front" && v != "back" {
		return fmt.Errorf("%q is not a face of a label; write front or back", v)
	}
	c.sheets.face = v
	return nil
}

// bookDir returns the folder that the book lies in.
func (c *call) bookDir() string {
	name := "."
	if len(c.args) > 0 {
		name = c.args[0]
	}
	if s, err := os.Stat(name); err == nil && !s.IsDir() {
		name = filepath.Dir(name)
	}
	return name
}

// outDir returns the folder to write into, and makes it.
func (c *call) outDir() (string, error) {
	dir := c.dir
	if dir == "" {
		dir = filepath.Join(c.bookDir(), "printed")
	}
	return dir, os.MkdirAll(dir, 0o755)
}

// stockNamed finds the stock that the flags name: the book's own, then the samples.
func (c *call) stockNamed(b *book.Book, otherwise string) (*stock.Stock, error) {
	name := c.sheets.stock
	if name == "" {
		name = otherwise
	}
	var own, samples, all []string
	for _, s := range b.Stocks {
		if strings.EqualFold(s.Name, name) {
			return s, nil
		}
		own, all = append(own, strconv.Quote(s.Name)), append(all, s.Name)
	}
	for _, s := range book.SampleStocks() {
		if strings.EqualFold(s.Name, name) {
			return s, nil
		}
		samples, all = append(samples, withSize(s)), append(all, s.Name)
	}
	known := "samples are " + strings.Join(samples, ", ")
	if len(own) > 0 {
		known = "the book has " + strings.Join(own, ", ") + "; " + known
	}
	if name == "" {
		return nil, usageError("say what to print on: --stock NAME; " + known)
	}
	return nil, usageError(fmt.Sprintf("there is no stock %q%s", name, didYouMean(name, all, "; "+known)))
}

// withSize names a stock, with the size of its labels where the name does not say it.
func withSize(s *stock.Stock) string {
	name := strconv.Quote(s.Name)
	if strings.Contains(s.Name, "mm") || strings.Contains(s.Name, " in") {
		return name
	}
	return fmt.Sprintf("%s (%s x %s)", name, strings.TrimSuffix(s.Label.W.String(), " mm"), s.Label.H)
}

// inHand is the part-used sheet of a stock, and the file that remembers it.
type inHand struct {
	stock *stock.Stock
	path  string
	text  []byte      // of the file when it was read; nil if there was none
	old   stock.Cells // used as remembered
	used  stock.Cells // used as it is to be taken now: as remembered, or corrected
}

// inHand reads which cells are used on the sheet in hand, unless the flags say it anew.
func (c *call) inHand(s *stock.Stock) (*inHand, error) {
	h := &inHand{stock: s, path: filepath.Join(c.bookDir(), "sheets", slug(s.Name)+".used.yaml")}
	if s.Whole() && c.sheets.used == "" {
		return h, nil
	}
	var err error
	h.text, err = os.ReadFile(h.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		h.text, err = nil, nil
	case err == nil:
		h.old, err = stock.ReadUsed(s, h.text)
	}
	if c.sheets.used == "" {
		if err != nil {
			return nil, fmt.Errorf("which cells are used cannot be read from %s: %w; look at the sheet and say it with --used 1-5,9 or --used none", h.path, err)
		}
		h.used = h.old
		return h, nil
	}
	h.used, err = stock.ParseCells(c.sheets.used, s.Cells())
	if err != nil {
		return nil, usageError("--used: " + err.Error())
	}
	return h, nil
}

// remember writes which cells are used now. It fails rather than write over what another print has remembered
// since the file was read.
func (h *inHand) remember(used stock.Cells) error {
	if h.stock.Whole() {
		return nil
	}
	if err := h.unchanged(); err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(h.path), 0o755); err != nil {
		return err
	}
	return writeWhole(h.path, stock.WriteUsed(h.stock, used))
}

// unchanged fails where the file is not as it was read.
func (h *inHand) unchanged() error {
	now, err := os.ReadFile(h.path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if !bytes.Equal(now, h.text) {
		return fmt.Errorf("another print has taken cells of the same sheet meanwhile (%s); print again", h.path)
	}
	return nil
}

// correction returns what the stock says of the printer.
func correction(s *stock.Stock) pdf.Correction {
	return pdf.Correction{X: s.OffsetX, Y: s.OffsetY, ScaleX: s.ScaleX, ScaleY: s.ScaleY}
}

// freeName returns a path in dir that no file has yet: an earlier print may still wait to be printed.
func freeName(dir, base string) (string, error) {
	for n := 1; ; n++ {
		path := filepath.Join(dir, fmt.Sprintf("%s-%d.pdf", base, n))
		if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
			return path, nil
		} else if err != nil {
			return "", err
		}
	}
}

// lay is a print under way: labels go in, sheets come out into a file.
type lay struct {
	hand *inHand
	im   *stock.Imposer
	pdf  *pdf.Writer
	rows []laid
	n    int // labels laid
}

// laid says which cells hold what, in words for the table.
type laid struct {
	stock.Run
	what []string
}

// newLay begins a print on the sheet in hand; a proof takes no cells of it.
func (c *call) newLay(h *inHand, title string) (*lay, error) {
	l := &lay{hand: h, pdf: pdf.NewWriter(pdf.Options{Title: title, Lang: "en", Date: day(c.on)})}
	l.pdf.Correct(correction(h.stock))
	used := h.used
	if c.proof {
		used = nil
	}
	im, err := h.stock.Impose(used, c.sheets.from, l.pdf.Page)
	if err != nil {
		return nil, usageError(err.Error())
	}
	im.Title, im.Lang, im.Outlines = title, "en", c.proof
	l.im = im
	return l, nil
}

// finish writes the file and remembers the cells, and prints the table and what is left over.
func (l *lay) finish(c *call, base string, heads []string) error {
	if l.n == 0 {
		fmt.Fprintln(c.out, "nothing was printed")
		return nil
	}
	used, err := l.im.Close()
	if err != nil {
		return err
	}
	var buf bytes.Buffer
	if err := l.pdf.Finish(&buf); err != nil {
		return err
	}
	if err := l.hand.unchanged(); err != nil {
		return err
	}
	dir, err := c.outDir()
	if err != nil {
		return err
	}
	if c.proof {
		base += "-proof"
	}
	path, err := freeName(dir, base)
	if err != nil {
		return err
	}
	if err := writeWhole(path, buf.Bytes()); err != nil {
		return err
	}
	if err := table(c.out, l.table(heads)); err != nil {
		return err
	}
	s := l.hand.stock
	if !s.Whole() {
		l.said(c, used)
	}
	fmt.Fprintf(c.out, "written to %s: %d %s; print at actual size\n", path, l.im.Sheets(), plural(l.im.Sheets(), "sheet"))
	if c.proof {
		fmt.Fprintln(c.out, "a proof for plain paper: hold it against the sheet; no cells were taken")
		return nil
	}
	return l.hand.remember(used)
}

// said prints what became of the sheet in hand.
func (l *lay) said(c *call, used stock.Cells) {
	s := l.hand.stock
	if _, out := s.Reach(); len(out) > 0 {
		fmt.Fprintf(c.out, "left empty, out of the printer's reach: %s", out[0])
		if len(out) > 1 {
			fmt.Fprintf(c.out, "; and %d more", len(out)-1)
		}
		fmt.Fprintln(c.out)
	}
	if c.proof {
		return
	}
	if c.sheets.used != "" && l.hand.text != nil && l.hand.used.String() != l.hand.old.String() {
		fmt.Fprintf(c.out, "used cells corrected from %v to %v before this print\n", l.hand.old, l.hand.used)
	}
	reach, _ := s.Reach()
	if free := reach.Without(used); len(used) == 0 {
		fmt.Fprintln(c.out, "left over: nothing; the next print begins a new sheet")
	} else {
		fmt.Fprintf(c.out, "left over on the last sheet: cells %v (%d of %d)\n", free, len(free), s.Cells())
	}
}

// correctOnly remembers the used cells that the flags say, without printing.
func (c *call) correctOnly(h *inHand) (int, error) {
	if h.stock.Whole() {
		return exitFailed, usageError("every print on this stock begins a new page; there are no used cells to remember")
	}
	if err := h.remember(h.used); err != nil {
		return exitFailed, err
	}
	fmt.Fprintf(c.out, "WRITTEN: used on the sheet in hand of %s: %v; before: %v\n", h.stock.Name, h.used, h.old)
	return exitClean, nil
}
