package main

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/record"
)

// changes says what is not what it was, since approval, since a day, or against another state of the book: what
// packs say otherwise, what was written otherwise in the book, which labels, lots, sets and shops it touches.
func changes(c *call) (int, error) {
	c.productSubject()
	b, led, err := c.openWithRecords()
	if err != nil {
		return exitFailed, err
	}
	all, against, err := c.compared(b, led)
	if err != nil {
		return exitFailed, err
	}
	touched, behind, aside := 0, 0, false
	for i := range all {
		if all[i].Packs {
			touched++
			led.Touch(all[i], b.Sets)
			aside = aside || len(all[i].Touches.Lots)+len(all[i].Touches.Labels) > 0
		} else {
			behind++
		}
	}
	slices.SortStableFunc(all, func(x, y *record.Change) int { return y.Weight() - x.Weight() })
	if c.json {
		return exitClean, c.writeJSON(changesJSON(all))
	}
	open, approved := c.neverApproved(b, led)
	switch {
	case open > 0 && approved == 0 && !c.againstState():
		fmt.Fprintln(c.out, "NOTHING APPROVED, so there is nothing to compare with: panelwright approve PRODUCT --by NAME; or --against DAY, FOLDER or git:REVISION")
		return exitClean, nil
	case touched == 0 && behind == 0:
		fmt.Fprintf(c.out, "NOTHING CHANGED: %s\n", against)
	case touched == 0:
		fmt.Fprintf(c.out, "NO PACK CHANGED: %s; %d %s changed behind the pack\n", against, behind, plural(behind, "product"))
	default:
		fmt.Fprintf(c.out, "%d %s CHANGED: %s\n", touched, strings.ToUpper(plural(touched, "pack")), against)
	}
	for _, ch := range all {
		writeChange(c.out, led, ch)
	}
	if open > 0 && !c.againstState() {
		if open == 1 {
			fmt.Fprintln(c.out, "\n1 product was never approved, and is not compared")
		} else {
			fmt.Fprintf(c.out, "\n%d products were never approved, and are not compared\n", open)
		}
	}
	stale, err := c.stale(b, led)
	if err != nil {
		return exitFailed, err
	}
	for i, words := range stale {
		if i == 0 {
			fmt.Fprintln(c.out)
		}
		fmt.Fprintln(c.out, words)
	}
	switch {
	case aside:
		fmt.Fprintln(c.out, "\nFirst: hold the lots named above and lay their labels aside; then panelwright check, approve, and print again.")
	case touched > 0:
		fmt.Fprintln(c.out, "\nFirst: panelwright check and approve; no lot and no label in hand is touched.")
	}
	return exitClean, nil
}

// againstState reports whether the book is compared with another state or day of it, not with what is approved.
func (c *call) againstState() bool { return c.rec.against != "" && c.rec.against != "approval" }

// neverApproved counts the products and sets that the flags ask for: those of which nothing is approved, and the others.
func (c *call) neverApproved(b *book.Book, led *record.Ledger) (open, approved int) {
	count := func(name string) {
		switch {
		case c.product != "" && inci.Fold(c.product) != inci.Fold(name):
		case led.LastApproval(name) == nil:
			open++
		default:
			approved++
		}
	}
	for _, p := range b.Products {
		count(p.Name)
	}
	for _, s := range b.Sets {
		count(s.Name)
	}
	return open, approved
}

// compared compares every product with what it was, and returns those in which anything is otherwise.
func (c *call) compared(b *book.Book, led *record.Ledger) (all []*record.Change, against string, err error) {
	jobs, desk, err := c.jobs(b)
	if err != nil {
		return nil, "", err
	}
	was, against, err := c.before(b, led, desk)
	if err != nil {
		return nil, "", err
	}
	seen := map[string]bool{}
	type pair struct {
		job    judged
		change *record.Change
		err    error
	}
	var pairs []pair
	for _, j := range jobs {
		seen[inci.Fold(j.product.Name)] = true
		pairs = append(pairs, pair{job: j})
	}
	work := func(p pair) pair {
		before, known, err := was.declare(p.job.product.Name, c.wants)
		if err != nil || !known && was.skips {
			p.err = err
			return p
		}
		p.change = record.Compare(before, c.declareJob(desk, p.job, c.occasion()))
		return p
	}
	for p := range inOrder(pairs, work) {
		if p.err != nil {
			return nil, "", p.err
		}
		if p.change != nil && !p.change.Nothing() {
			all = append(all, p.change)
		}
	}
	for _, name := range was.names {
		if !seen[inci.Fold(name)] && (c.product == "" || inci.Fold(c.product) == inci.Fold(name)) {
			all = append(all, &record.Change{Product: name, Went: true, Packs: true})
		}
	}
	return all, against, nil
}

func (c *call) declareJob(desk *label.Desk, j judged, o date.Occasion) []*label.Declaration {
	if j.set != nil {
		return desk.DeclareSet(j.set, c.wants(j.product.SellIn), o)
	}
	return desk.Declare(j.product, c.wants(j.product.SellIn), o)
}

// past state of a product, whatever it is compared with.
type before struct {
	names   []string // of the products there were
	skips   bool     // products that are not in it are passed over, not new
	declare func(product string, wants func([]inci.Market) []inci.Market) ([]*label.Declaration, bool, error)
}

// before finds what the flags want the book compared with.
func (c *call) before(b *book.Book, led *record.Ledger, desk *label.Desk) (*before, string, error) {
	switch v := c.rec.against; {
	case v == "" || v == "approval":
		return c.asApproved(b, led), "against what is approved", nil
	case strings.HasPrefix(v, "git:"):
		old, err := c.bookAtRevision(strings.TrimPrefix(v, "git:"))
		if err != nil {
			return nil, "", err
		}
		return c.asBook(old), "against revision " + strings.TrimPrefix(v, "git:"), nil
	default:
		if day, err := date.Parse(v); err == nil {
			return c.asBookOn(b, desk, date.Occasion{On: day, Placed: day}), fmt.Sprintf("%s against %s", c.on, day), nil
		}
		if _, err := os.Stat(v); err != nil {
			return nil, "", usageError(fmt.Sprintf("--against %q is neither approval, a day, git:REVISION, nor a folder or archive with a book", v))
		}
		old, err := c.otherBook(v)
		if err != nil {
			return nil, "", err
		}
		return c.asBook(old), "against " + v, nil
	}
}

// asBook compares with another state of the book, on the same day.
func (c *call) asBook(old *book.Book) *before {
	return c.asBookOn(old, label.NewDesk(&old.Workshop), c.occasion())
}

func (c *call) asBookOn(old *book.Book, desk *label.Desk, o date.Occasion) *before {
	jobs := map[string]judged{}
	w := &before{}
	for _, p := range old.Products {
		jobs[inci.Fold(p.Name)] = judged{product: p}
		w.names = append(w.names, p.Name)
	}
	for _, s := range old.Sets {
		jobs[inci.Fold(s.Name)] = judged{product: &s.Product, set: s}
		w.names = append(w.names, s.Name)
	}
	w.declare = func(product string, _ func([]inci.Market) []inci.Market) ([]*label.Declaration, bool, error) {
		j, ok := jobs[inci.Fold(product)]
		if !ok {
			return nil, false, nil
		}
		return c.declareJob(desk, j, o), true, nil
	}
	return w
}

// asApproved compares each product, market by market, with the book that its last approval was taken from, on the day
// it was judged for; a market without one, with that of the last approval of the product.
// Products that were never approved are passed over.
func (c *call) asApproved(b *book.Book, led *record.Ledger) *before {
	w := &before{skips: true}
	type state struct {
		book string
		o    date.Occasion
	}
	var mu sync.Mutex
	known := map[state]*before{} // products that were approved together share a book and a desk
	at := func(s state) (*before, error) {
		mu.Lock()
		defer mu.Unlock()
		if b := known[s]; b != nil {
			return b, nil
		}
		old, err := c.keptBook(s.book)
		if err != nil {
			return nil, err
		}
		known[s] = c.asBookOn(old, label.NewDesk(&old.Workshop), s.o)
		return known[s], nil
	}
	w.declare = func(product string, _ func([]inci.Market) []inci.Market) ([]*label.Declaration, bool, error) {
		a := led.LastApproval(product)
		if a == nil {
			return nil, false, nil
		}
		as := func(a *record.Approval) ([]*label.Declaration, bool, error) {
			o := date.Occasion{On: a.On, Placed: a.Placed}
			if o.Placed == 0 {
				o.Placed = o.On
			}
			then, err := at(state{a.Book, o})
			if err != nil {
				return nil, false, fmt.Errorf("the book that %s was approved from on %s: %w", product, a.On, err)
			}
			return then.declare(product, c.wants)
		}
		all, known, err := as(a)
		for i, d := range all { // each market against its own approval, where it has one
			own := led.LastApprovalIn(product, d.Market)
			if own == nil || own.Book == a.Book && own.On == a.On && own.Placed == a.Placed {
				continue
			}
			theirs, _, err := as(own)
			if err != nil {
				return nil, false, err
			}
			if n := slices.IndexFunc(theirs, func(o *label.Declaration) bool { return o.Market == d.Market }); n >= 0 {
				all[i] = theirs[n]
			}
		}
		return all, known, err
	}
	return w
}

// otherBook reads a book in another folder, or in an archive that was kept.
func (c *call) otherBook(name string) (*book.Book, error) {
	if strings.HasSuffix(name, ".zip") {
		return readArchive(name)
	}
	old, found := book.Load(name)
	return sound(old, found, name)
}

func sound(b *book.Book, found finding.List, name string) (*book.Book, error) {
	if n := found.Count(finding.Error); n > 0 {
		found.Sort()
		return nil, fmt.Errorf("the book in %s has %d %s, so nothing can be compared with it: %s", name, n, plural(n, "error"), found[0].Line())
	}
	return b, nil
}

// bookAtRevision reads the book as it was at a revision of the git repository that it is kept in.
func (c *call) bookAtRevision(rev string) (*book.Book, error) {
	if strings.HasPrefix(rev, "-") || rev == "" {
		return nil, usageError(fmt.Sprintf("%q is no revision", rev))
	}
	cmd := exec.Command("git", "archive", "--format=zip", rev, ".")
	cmd.Dir = c.bookDir()
	var out, said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &said
	if err := cmd.Run(); err != nil {
		if errors.Is(err, exec.ErrNotFound) {
			return nil, fmt.Errorf("git is not installed, so revision %s cannot be read; name a folder or an archive with --against instead", rev)
		}
		line, _, _ := strings.Cut(strings.TrimSpace(said.String()), "\n")
		return nil, fmt.Errorf("git cannot give revision %s of this folder: %s", rev, line)
	}
	z, err := zip.NewReader(bytes.NewReader(out.Bytes()), int64(out.Len()))
	if err != nil {
		return nil, err
	}
	old, found := book.LoadFS(z)
	return sound(old, found, "revision "+rev)
}

// writeJSON prints a value as JSON.
func (c *call) writeJSON(v any) error {
	data, err := marshal(v, "")
	if err == nil {
		_, err = c.out.Write(append(data, '\n'))
	}
	return err
}
