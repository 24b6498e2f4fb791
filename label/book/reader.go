package book

import (
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"

	"panelwright/formula/finding"
)

// Reader reads a book over and over, as a program that watches it does. It
// keeps what it parsed by the text of each document, so that after an edit only
// the document that was edited is parsed again; everything is still resolved
// and checked afresh. The zero Reader is ready for use, by one goroutine at a
// time. Load, LoadFS and LoadFiles use a new one each.
type Reader struct {
	kept map[string]page // documents of the last reading with nothing wrong in them, by their text
}

// Load is the function of that name.
func (r *Reader) Load(name string) (*Book, finding.List) {
	info, err := os.Stat(name)
	if err != nil {
		return &Book{}, finding.List{unreadable(name, err)}
	}
	if !info.IsDir() {
		return r.LoadFS(only{os.DirFS(filepath.Dir(name)), filepath.Base(name)})
	}
	return r.LoadFS(os.DirFS(name))
}

// pages parses the documents that are not kept, on all processors; the result
// does not depend on how many there are.
func (r *Reader) pages(docs []document) []*page {
	pages := make([]*page, len(docs))
	var wg sync.WaitGroup
	next := make(chan int, len(docs))
	for i := range docs {
		if p, ok := r.kept[string(docs[i].text)]; ok && docs[i].head == "" {
			p.doc = &docs[i] // it may have moved
			pages[i] = &p
			continue
		}
		next <- i
	}
	close(next)
	for range min(runtime.GOMAXPROCS(0), len(next)) {
		wg.Go(func() {
			for i := range next {
				pages[i] = readPage(&docs[i])
			}
		})
	}
	wg.Wait()
	r.kept = make(map[string]page, len(pages))
	for _, p := range pages {
		// What is reported names the line it stood on, and is read again.
		if len(p.out) == 0 && len(p.lost) == 0 && p.torn == nil {
			r.kept[string(p.doc.text)] = *p
		}
	}
	return slices.DeleteFunc(pages, func(p *page) bool { return p.root == nil && len(p.out) == 0 && len(p.lost) == 0 })
}
