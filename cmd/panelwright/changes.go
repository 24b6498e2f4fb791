package main

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
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
	touched, behind := 0, 0
	for i := range all {
		if all[i].Packs {
			touched++
			led.Touch(all[i], b.Sets)
		} else {
			behind++
		}
	}
	slices.SortStableFunc(all, func(x, y *record.Change) int { return y.Weight() - x.Weight() })
	if c.json {
		return exitClean, c.writeJSON(changesJSON(all))
	}
	switch {
	case touched == 0 && behind == 0:
		fmt.Fprintf(c.out, "NOTHING CHANGED: %s\n", against)
	case touched == 0:
		fmt.Fprintf(c.out, "NO PACK CHANGED: %s; %d %s changed behind the pack\n", against, behind, plural(behind, "product"))
	default:
		fmt.Fprintf(c.out, "%d %s CHANGED: %s\n", touched, strings.ToUpper(plural(touched, "pack")), against)
	}
	for _, ch := range all {
		writeChange(c.out, ch)
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
	if touched > 0 {
		fmt.Fprintln(c.out, "\nFirst: hold the lots named above and lay their labels aside; then panelwright check, approve, and print again.")
	}
	return exitClean, nil
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

// asApproved compares each product with the book that its last approval was taken from, on the day it was judged for.
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

func writeChange(w io.Writer, ch *record.Change) {
	fmt.Fprintf(w, "\n%s\n", ch.Product)
	switch {
	case ch.Came:
		fmt.Fprintln(w, "  is new")
	case ch.Went:
		fmt.Fprintln(w, "  is no longer in the book")
	case !ch.Packs:
		fmt.Fprintln(w, "  no pack changes")
	}
	for _, t := range ch.Verdicts {
		fmt.Fprintf(w, "  %s: %s became %s\n", t.Market.Title(), t.Was, t.Is)
	}
	for _, s := range together(ch.Says, finding.Note, finding.Error) {
		fmt.Fprintf(w, "  %s: %s\n", s.Market, s.Message)
	}
	for _, cause := range ch.Causes {
		at := cause.Where.String()
		if at != "" {
			at += ": "
		}
		fmt.Fprintf(w, "  because %s%s\n", at, cause.Words)
	}
	t := ch.Touches
	for _, s := range t.Labels {
		fmt.Fprintf(w, "  touches %d %s for %s in hand, text %s\n", s.Left, plural(s.Left, "label"), codes(s.Markets), s.Text)
	}
	for _, x := range t.Lots {
		fmt.Fprintf(w, "  touches lot %s, %s\n", x.Code, x.On)
	}
	if len(t.Sets) > 0 {
		fmt.Fprintf(w, "  touches %s\n", strings.Join(t.Sets, ", "))
	}
	if len(t.Shops) > 0 {
		fmt.Fprintf(w, "  pieces are with %s\n", strings.Join(t.Shops, ", "))
	}
}

// jsonMoved is the stable shape of changes --json.
type jsonMoved struct {
	Product  string        `json:"product"`
	Packs    bool          `json:"packs"`
	Came     bool          `json:"came"`
	Went     bool          `json:"went"`
	Says     []jsonFinding `json:"says"`
	Verdicts []jsonTurn    `json:"verdicts"`
	Causes   []jsonCause   `json:"causes"`
	Lots     []string      `json:"lots"`
	Sets     []string      `json:"sets"`
	Shops    []string      `json:"shops"`
	Labels   []jsonLabels  `json:"labels"`
}

type jsonTurn struct {
	Market string `json:"market"`
	Was    string `json:"was"`
	Is     string `json:"is"`
}

type jsonCause struct {
	Where string `json:"where"`
	Words string `json:"words"`
}

type jsonLabels struct {
	Markets string `json:"markets"`
	Text    string `json:"text"`
	Left    int    `json:"left"`
}

func changesJSON(all []*record.Change) []jsonMoved {
	out := []jsonMoved{}
	for _, ch := range all {
		j := jsonMoved{Product: ch.Product, Packs: ch.Packs, Came: ch.Came, Went: ch.Went, Says: []jsonFinding{}, Verdicts: []jsonTurn{}, Causes: []jsonCause{},
			Lots: []string{}, Sets: append([]string{}, ch.Touches.Sets...), Shops: append([]string{}, ch.Touches.Shops...), Labels: []jsonLabels{}}
		for _, s := range ch.Says {
			j.Says = append(j.Says, findingJSON(s))
		}
		for _, t := range ch.Verdicts {
			j.Verdicts = append(j.Verdicts, jsonTurn{string(t.Market), t.Was.String(), t.Is.String()})
		}
		for _, x := range ch.Causes {
			j.Causes = append(j.Causes, jsonCause{x.Where.String(), x.Words})
		}
		for _, x := range ch.Touches.Lots {
			j.Lots = append(j.Lots, x.Code)
		}
		for _, s := range ch.Touches.Labels {
			j.Labels = append(j.Labels, jsonLabels{codes(s.Markets), s.Text, s.Left})
		}
		out = append(out, j)
	}
	return out
}

// writeJSON prints a value as JSON.
func (c *call) writeJSON(v any) error {
	data, err := marshal(v, "")
	if err == nil {
		_, err = c.out.Write(append(data, '\n'))
	}
	return err
}
