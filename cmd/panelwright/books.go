package main

import (
	"errors"
	"fmt"
	"iter"
	"os"
	"runtime"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
)

// judged is one product or set with its declarations, one for each market
// asked for.
type judged struct {
	product *label.Product
	set     *label.Set // nil for a product
	decls   []*label.Declaration
	file    string // what its files are named after; no two of a book share it

	label finding.List // what is wrong with its labels, where the verb asks for that
}

// open loads the book and prints what is wrong with it. It returns an error if
// the book has errors: then no product can be trusted.
func (c *call) open() (*book.Book, error) {
	dir := "."
	if len(c.args) > 0 {
		dir = c.args[0]
	}
	if len(c.args) > 1 {
		return nil, usageError(fmt.Sprintf("one book at a time; %q is one too many", c.args[1]))
	}
	if _, err := os.Stat(dir); err != nil {
		return nil, noBook(dir, err)
	}
	b, found := book.Load(dir)
	for i := range found {
		if found[i].Where.File == "." {
			found[i].Where.File = dir
		}
	}
	c.found = found
	n := found.Count(finding.Error)
	if !c.fits || n > 0 { // otherwise they stand in the report
		c.problems(found)
	}
	if n > 0 {
		return nil, unreadable{n}
	}
	return b, nil
}

// mostProblems is how many problems are printed before the rest is counted.
const mostProblems = 100

// problems prints findings one line each, but for notes, which check shows.
func (c *call) problems(list finding.List) {
	list = slices.DeleteFunc(slices.Clone(list), func(f finding.Finding) bool { return f.Severity == finding.Note })
	list.SortByPlace()
	for i, f := range list {
		if i == mostProblems {
			fmt.Fprintf(c.err, "and %d more\n", len(list)-i)
			break
		}
		line := f.Line()
		if f.Severity != finding.Error {
			line += " (" + f.Severity.String() + ")"
		}
		fmt.Fprintln(c.err, line)
	}
}

// openAndJudge loads the book and judges what the flags ask for.
func (c *call) openAndJudge() (*book.Book, iter.Seq[judged], *label.Desk, error) {
	b, err := c.open()
	if err != nil {
		return nil, nil, nil, err
	}
	jobs, desk, err := c.judge(b)
	return b, jobs, desk, err
}

// judge judges the products and sets that the flags ask for, on all processors,
// and yields them one by one in the order of the book: what is not kept by the
// caller is dropped. The desk is the one they are judged at.
func (c *call) judge(b *book.Book) (iter.Seq[judged], *label.Desk, error) {
	jobs, desk, err := c.jobs(b)
	if err != nil {
		return nil, nil, err
	}
	one := func(j judged) judged {
		ms := c.wants(j.product.SellIn)
		if j.set != nil {
			j.decls = desk.DeclareSet(j.set, ms, c.occasion())
		} else {
			j.decls = desk.Declare(j.product, ms, c.occasion())
		}
		if c.fits {
			j.label = fits(j)
		}
		return j
	}
	return inOrder(jobs, one), desk, nil
}

// jobs returns the products and sets that the flags ask for, not judged yet, and
// a desk to judge them at.
func (c *call) jobs(b *book.Book) ([]judged, *label.Desk, error) {
	var jobs []judged
	for _, p := range b.Products {
		jobs = append(jobs, judged{product: p})
	}
	for _, s := range b.Sets {
		jobs = append(jobs, judged{product: &s.Product, set: s})
	}
	taken := map[string]bool{}
	for i := range jobs {
		name := slug(jobs[i].product.Name)
		for n := 2; taken[name]; n++ {
			name = fmt.Sprintf("%s-%d", slug(jobs[i].product.Name), n)
		}
		taken[name], jobs[i].file = true, name
	}
	if c.product != "" {
		all := make([]string, len(jobs))
		for i, j := range jobs {
			all[i] = j.product.Name
		}
		jobs = only(jobs, c.product)
		if len(jobs) == 0 {
			return nil, nil, usageError(fmt.Sprintf("the book has no product %q%s", c.product, didYouMean(c.product, all, listed("products", all))))
		}
	}
	if len(jobs) == 0 {
		return nil, nil, errors.New("the book has no product yet, so nothing was judged; begin a document with product: and its name")
	}
	if !slices.ContainsFunc(jobs, func(j judged) bool { return len(c.wants(j.product.SellIn)) > 0 }) {
		return nil, nil, usageError("none of these products is sold in the markets asked for; see sell in: in the book")
	}
	desk := label.NewDesk(&b.Workshop)
	desk.Ask(c.found)
	return jobs, desk, nil
}

// ahead is how many judgements may be finished before the one that is awaited.
const ahead = 64

// inOrder works on all processors and yields the results in the order of the
// jobs, with a bounded number of them held.
func inOrder[T any](jobs []T, work func(T) T) iter.Seq[T] {
	return func(yield func(T) bool) {
		type task struct {
			job  T
			done chan T
		}
		tasks, queue, stop := make(chan task), make(chan chan T, ahead), make(chan struct{})
		defer close(stop)
		for range runtime.GOMAXPROCS(0) {
			go func() {
				for t := range tasks {
					t.done <- work(t.job)
				}
			}()
		}
		go func() {
			defer close(queue)
			defer close(tasks)
			for _, j := range jobs {
				t := task{j, make(chan T, 1)}
				select {
				case queue <- t.done:
				case <-stop:
					return
				}
				select {
				case tasks <- t:
				case <-stop:
					return
				}
			}
		}()
		for done := range queue {
			if !yield(<-done) {
				return
			}
		}
	}
}

func only(jobs []judged, name string) []judged {
	for _, j := range jobs {
		if strings.EqualFold(j.product.Name, name) {
			return []judged{j}
		}
	}
	return nil
}

// findings returns every finding of the judgement.
func (j judged) findings() (list finding.List) {
	for _, d := range j.decls {
		list = append(list, d.Findings...)
	}
	return append(list, j.label...)
}

// prints reports whether the label of one of its declarations may be printed.
func (j judged) prints(d *label.Declaration) bool {
	return d.Verdict().Prints() && !slices.ContainsFunc(j.label, func(f finding.Finding) bool {
		return f.Severity >= finding.Question && f.Market == string(d.Market)
	})
}

// markets returns the markets that were judged.
func (j judged) markets() (ms []inci.Market) {
	for _, d := range j.decls {
		ms = append(ms, d.Market)
	}
	return ms
}

func exitOf(list finding.List) int {
	if list.Count(finding.Error) > 0 {
		return exitErrors
	}
	return exitClean
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}

// codes returns the codes of markets, joined for a table.
func codes(ms []inci.Market) string {
	var out []string
	for _, m := range ms {
		out = append(out, string(m))
	}
	return strings.Join(out, "+")
}
