package book

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/look"
	"panelwright/label/stock"
)

// Book is a workshop's folder of YAML files, read and resolved.
//
// What could not be read whole is left out, and so is what depends on it: an
// error is reported once, at its cause.
type Book struct {
	Workshop  label.Workshop
	Materials []*formula.Material // the maker's own, in the order of the files
	Formulas  []*formula.Formula
	Products  []*label.Product // members of ranges among them, where the range stands
	Sets      []*label.Set
	Stocks    []*stock.Stock // of blank labels
	Echoes    []Echo         // every weight and measure in grams, in the order of the files

	// Fingerprint is the SHA-256 of the contents in hexadecimal. Line ends, a
	// byte order mark, the names of the files and their order do not count.
	Fingerprint string

	names *loader    // what names mean; its pages are let go
	asked sync.Mutex // guards names
}

// Echo is an amount as written and the grams it was read as.
type Echo struct {
	Pos   finding.Pos
	In    string // the formula or product
	Name  string // what is weighed
	Text  string // the amount as written
	Grams exact.Rat
}

// Load reads the book at a path: one file, or a folder with all *.yaml and
// *.yml files in it and in its subfolders. Names that begin with a point are
// passed over. Findings name files as they are called inside the folder.
func Load(name string) (*Book, finding.List) { return new(Reader).Load(name) }

// only is a file system in which one file can be found.
type only struct {
	fs.FS
	name string
}

func (o only) names() ([]string, error) { return []string{o.name}, nil }

// LoadFS reads the book in a file system, as Load reads a folder.
func LoadFS(fsys fs.FS) (*Book, finding.List) { return new(Reader).LoadFS(fsys) }

// LoadFS is Load for a file system.
func (r *Reader) LoadFS(fsys fs.FS) (*Book, finding.List) {
	names, err := bookFiles(fsys)
	if err != nil {
		return &Book{}, finding.List{unreadable(".", err)}
	}
	var files []File
	var out finding.List
	for _, name := range names {
		data, err := readFile(fsys, name)
		if err != nil {
			out.Add(unreadable(name, err))
			continue
		}
		files = append(files, File{name, data})
	}
	if len(names) == 0 {
		out.Add(finding.Finding{Rule: "book.file", Severity: finding.Error, Where: finding.Pos{File: "."},
			Message: "there is no *.yaml file here", Cure: "name the folder that holds the book, or start one"})
	}
	b, more := r.load(fsys, files)
	out = append(out, more...)
	out.SortByPlace()
	return b, out
}

func unreadable(name string, err error) finding.Finding {
	if pe := (*fs.PathError)(nil); errors.As(err, &pe) {
		err = pe.Err
	}
	message, cure, ok := strings.Cut(err.Error(), "; ")
	if !ok {
		cure = "check its name and that you may read it"
	}
	return finding.Finding{Rule: "book.file", Severity: finding.Error, Where: finding.Pos{File: name},
		Message: "the file cannot be read: " + message, Cure: cure}
}

func bookFiles(fsys fs.FS) ([]string, error) {
	if o, ok := fsys.(only); ok {
		return o.names()
	}
	var names []string
	err := fs.WalkDir(fsys, ".", func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case name != "." && strings.HasPrefix(e.Name(), "."):
			if e.IsDir() {
				return fs.SkipDir
			}
		case e.IsDir() && name == recordsFolder:
			return fs.SkipDir
		case notBook(name):
		case !e.IsDir() && (path.Ext(name) == ".yaml" || path.Ext(name) == ".yml"):
			names = append(names, name)
		}
		return nil
	})
	slices.Sort(names)
	return names, err
}

// notBook reports whether a file is kept beside the book by the command: the cells used on sheets of labels, print
// lists, and forms for the records.
func notBook(name string) bool {
	return strings.HasSuffix(name, ".used.yaml") || strings.HasSuffix(name, ".list.yaml") || strings.HasSuffix(name, ".form.yaml")
}

// readFile reads a file that is one: a pipe or a device would never end. Of one that is too long only enough to see that it is.
func readFile(fsys fs.FS, name string) ([]byte, error) {
	if o, ok := fsys.(only); ok {
		fsys = o.FS
	}
	info, err := fs.Stat(fsys, name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errNoFile
	}
	if info.Size() > mostBytes {
		return nil, fmt.Errorf("it is of %d MB, more than the %d MB a book file may be; part it into several files", info.Size()>>20, mostBytes>>20)
	}
	return fs.ReadFile(fsys, name)
}

var errNoFile = errors.New("it is a folder, a pipe or a device; name a file with text in it")

// LoadFiles reads a book from files in memory, in the order given. Pictures, fonts and layout files of the
// maker's own cannot be read then: naming one is an error.
func LoadFiles(files []File) (*Book, finding.List) { return new(Reader).load(nil, files) }

func (r *Reader) load(fsys fs.FS, files []File) (*Book, finding.List) {
	l := &loader{Book: &Book{}, fsys: fsys}
	var docs []document
	var sums []string
	for _, f := range files {
		data, bad := normalise(f)
		if bad != nil {
			l.out.Add(*bad)
			data = nil
		}
		sum := sha256.Sum256(data)
		if bad != nil {
			sum = sha256.Sum256(f.Data)
		}
		sums = append(sums, hex.EncodeToString(sum[:]))
		more, out := split(f.Name, data)
		l.out = append(l.out, out...)
		docs = append(docs, more...)
	}
	slices.Sort(sums)
	whole := sha256.Sum256([]byte(strings.Join(sums, "\n")))
	l.Fingerprint = hex.EncodeToString(whole[:])

	l.pages = r.pages(docs)
	l.build()
	for _, p := range l.pages {
		l.out = append(l.out, p.out...)
	}
	l.out.SortByPlace()
	l.Book.names = &loader{own: l.own, found: l.found, builtIn: l.builtIn}
	return l.Book, l.out
}

// kinds returns the words a document may begin with.
func (d *document) kinds() []string {
	if d.ofRecords {
		return recordKinds
	}
	return kinds
}

// kinds are the words a document of a book may begin with.
var kinds = []string{"workshop", "material", "formula", "product", "range", "set", "answer", "stock", "layout"}

func readPage(d *document) *page {
	p := &page{doc: d}
	if d.head != "" {
		p.lost = lostNames(d)
		return p
	}
	root, bad := d.parse()
	if bad != nil {
		p.out.Add(*bad)
		p.lost = lostNames(d)
		return p
	}
	if root == nil {
		return p
	}
	if root.Kind != yaml.MappingNode {
		p.fail("book.unknown-kind", root, "the document is "+formOf(root), "begin it with one of "+strings.Join(d.kinds(), ", ")+", and a colon")
		return p
	}
	if !p.clean(root, 0) {
		return p
	}
	p.root = root
	p.sayKind()
	return p
}

// sayKind finds what the document is.
func (p *page) sayKind() {
	c := p.root.Content
	for i := 0; i+1 < len(c); i += 2 {
		if !slices.Contains(p.doc.kinds(), c[i].Value) || p.doc.ofRecords && i > 0 { // lot: is a key of most entries too
			continue
		}
		p.kind, p.name = c[i].Value, c[i+1]
		if i > 0 && !p.torn[p.root] {
			p.fail("book.unknown-kind", c[0], fmt.Sprintf("a document begins with what it is, not with “%s”", clip(c[0].Value)),
				fmt.Sprintf("move the line “%s: …” to its top", c[i].Value))
		}
		return
	}
	if p.torn[p.root] || len(c) == 0 {
		p.lost = lostNames(p.doc) // what was taken out may have been the first key
		return
	}
	if slices.Contains(recordKinds, c[0].Value) {
		p.fail("book.unknown-kind", c[0], fmt.Sprintf("“%s” begins an entry for the records, which is no part of the book", clip(c[0].Value)),
			"give the file a name that ends in .form.yaml, and record it: panelwright record --form FILE")
		return
	}
	p.fail("book.unknown-kind", c[0], fmt.Sprintf("“%s” is nothing a document can begin with", clip(c[0].Value)),
		did(nearest(c[0].Value, p.doc.kinds()), "begin it with one of "+strings.Join(p.doc.kinds(), ", ")))
}

// loader builds a Book out of pages.
type loader struct {
	*Book
	pages []*page
	out   finding.List
	fsys  fs.FS          // where pictures, fonts and layout files are; nil for a book in memory
	read  map[string]any // those read, by name

	looks   []*look.Look    // layouts that the book holds
	badLook map[string]bool // those that could not be read, by folded name

	own      map[string]*thing    // the maker's materials and formulas, by folded name
	things   []*thing             // the same in order
	found    map[string]*thing    // every name asked for, as typed; nil for unknown
	builtIn  map[string]*thing    // built-in materials by their own name
	badCodes map[finding.Pos]bool // packs with a code that could not be read
	goods    map[string]*good     // products, ranges and sets by folded name
	order    []*good
	fillable map[string]string // slots that some product fills: spelling by folded name
	poured   map[string]bool   // slots that are filled with a liquid somewhere
	asking   []asking          // slots given in plain ounces
	needs    map[*formula.Formula][]string

	suggested int           // how often a nearest name was searched for
	lastLines *formula.Line // what slotsOfPiece was last asked
	lastNeed  []string
}

// build resolves the pages in the order in which they depend on one another.
func (l *loader) build() {
	l.own, l.found, l.builtIn = map[string]*thing{}, map[string]*thing{}, map[string]*thing{}
	l.goods, l.fillable, l.poured = map[string]*good{}, map[string]string{}, map[string]bool{}
	l.needs, l.badCodes = map[*formula.Formula][]string{}, map[finding.Pos]bool{}
	for _, p := range l.pages {
		l.registerLost(p)
		l.register(p)
	}
	l.readWorkshop()
	l.readLayouts()
	l.readMaterials()
	l.readFormulas()
	l.readGoods()
	l.readAnswers()
	l.readStocks()
	l.checkCodes()
	l.askOunces()
	l.missingWorkshop()
	slices.SortStableFunc(l.Echoes, func(a, b Echo) int {
		return cmp.Or(cmp.Compare(a.Pos.File, b.Pos.File), cmp.Compare(a.Pos.Line, b.Pos.Line), cmp.Compare(a.Pos.Col, b.Pos.Col))
	})
}

// register enters the name of a page, so that others may refer to it.
func (l *loader) register(p *page) {
	switch p.kind {
	case "", "layout", "workshop", "answer", "stock":
		return
	}
	name, ok := p.text(p.name, "the name of the "+p.kind)
	if !ok {
		p.kind = ""
		return
	}
	key := foldName(name)
	switch p.kind {
	case "material", "formula":
		t := &thing{name: name, page: p}
		if before := l.own[key]; before != nil && before.page.root != nil {
			p.fail("book.repeated-name", p.name, fmt.Sprintf("“%s” is already a %s, on %s", clip(name), before.page.kind, before.page.at(before.page.name)),
				"give one of them another name")
			p.kind = ""
			return
		}
		if p.kind == "material" {
			t.material = &formula.Material{Name: name, Pos: p.at(p.name)}
		} else {
			t.formula = &formula.Formula{Name: name, Pos: p.at(p.name)}
		}
		l.own[key] = t
		l.things = append(l.things, t)
	default:
		l.registerGood(p, name, key)
	}
}
