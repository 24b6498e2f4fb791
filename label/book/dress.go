package book

import (
	_ "embed"
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"

	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/font"
	"panelwright/label/look"
	"panelwright/label/picture"
)

// fitKey leads in what is tried where the text does not fit.
const fitKey = "if it does not fit"

// dressKeys say how labels look and which marks they bear. A product may have
// them for all its packs, a pack for itself.
var dressKeys = []string{"layout", "accent", "font", "logo", "material codes", "e-mark", "egg timer", "codes", "bleed", "margin", fitKey}

// dress reads one of dressKeys.
func (l *loader) dress(p *page, e entry, d *label.Dress) {
	if d.Pos == (finding.Pos{}) {
		d.Pos = p.at(e.k)
	}
	switch e.key {
	case "layout":
		d.Look = l.layout(p, e.v)
	case "accent":
		l.accent(p, e.v, d)
	case "font":
		l.fonts(p, e.v, d)
	case "logo":
		if name, data, ok := l.file(p, e.v, "the picture"); ok {
			pic, err := readOnce(l, name, func() (*picture.Picture, error) { return picture.Read(name, data) })
			if err != nil {
				p.fail("book.picture", e.v, err.Error(), "use a PNG or JPEG picture, or a drawing of plain paths (SVG)")
			}
			d.Logo = pic
		}
	case "material codes":
		d.Codes = p.materialCodes(e.v)
	case "e-mark":
		d.EMark = p.stated(e.v, "e-mark")
	case "egg timer":
		d.EggTimer = p.stated(e.v, "egg timer")
	case "codes":
		d.Scans = p.scans(e.v)
	case "bleed":
		d.Bleed, _ = p.upTo(e.v, "the bleed", 10_000)
	case "margin":
		d.Margin, _ = p.upTo(e.v, "the margin", 50_000)
	case fitKey:
		d.Ladder = p.ladder(e.v)
	}
}

// layout reads the name of a layout: one that the book holds as a document, or
// one that comes with the project.
func (l *loader) layout(p *page, n *yaml.Node) *look.Look {
	s, ok := p.text(n, "the layout")
	if !ok || l.badLook[foldName(s)] {
		return nil
	}
	lk, err := look.Named(s, l.looks...)
	if err != nil {
		p.errorAt("book.layout", n, err)
	}
	return lk
}

// readLayouts reads the layouts that the book holds.
func (l *loader) readLayouts() {
	for _, p := range l.pages {
		if p.kind != "layout" {
			continue
		}
		lk, at, err := look.Read(p.root)
		if err != nil {
			p.errorAt("book.layout", at, err)
			if l.badLook == nil {
				l.badLook = map[string]bool{}
			}
			l.badLook[foldName(p.name.Value)] = true
			continue
		}
		if slices.ContainsFunc(l.looks, func(o *look.Look) bool { return strings.EqualFold(o.Name, lk.Name) }) {
			p.fail("book.repeated-name", p.name, fmt.Sprintf("“%s” is already a layout of the book", clip(lk.Name)), "give one of them another name")
			continue
		}
		l.looks = append(l.looks, lk)
	}
}

// accent reads a colour. A screen colour is turned into inks, and the maker told
// that it will look different.
func (l *loader) accent(p *page, n *yaml.Node, d *label.Dress) {
	s, ok := p.text(n, "the accent")
	if !ok {
		return
	}
	ink, err := picture.Ink(s)
	if err == nil && ink == nil {
		err = errors.New("the accent is none; take the line out for black")
	}
	if err != nil {
		p.errorAt("book.accent", n, err)
		return
	}
	d.Accent = ink
	if strings.HasPrefix(s, "#") {
		p.say(finding.Note, "book.accent", n, fmt.Sprintf("the screen colour %s prints as %v; print looks different from a screen", s, *ink),
			"print one and look at it in daylight, or write the inks of a printed colour chart")
	}
}

// fonts reads the maker's own typefaces: one file for the name, or {title:
// FILE, text: FILE}.
func (l *loader) fonts(p *page, n *yaml.Node, d *label.Dress) {
	open := func(n *yaml.Node) *font.Face {
		name, data, ok := l.file(p, n, "the font")
		if !ok {
			return nil
		}
		f, err := readOnce(l, name, func() (*font.Face, error) { return font.Open(name, data) })
		if err != nil {
			msg, cure, _ := strings.Cut(err.Error(), "; ")
			if cure == "" {
				cure = "name a font file that other programs open, as in fonts/mine.ttf"
			}
			p.fail("book.font", n, msg, cure)
		}
		return f
	}
	if n.Kind == yaml.ScalarNode {
		d.Title = open(n)
		return
	}
	for _, e := range p.known(n, "the fonts", "write it as in {title: fonts/mine.ttf, text: fonts/plain.ttf}", []string{"title", "text"}) {
		if e.key == "title" {
			d.Title = open(e.v)
		} else {
			d.Text = open(e.v)
		}
	}
}

// file reads a file that the book names by its place in the book's folder.
func (l *loader) file(p *page, n *yaml.Node, what string) (name string, data []byte, ok bool) {
	s, ok := p.text(n, what)
	if !ok {
		return "", nil, false
	}
	if !fs.ValidPath(s) {
		p.fail("book.path", n, fmt.Sprintf("%s is named “%s”", what, clip(s)), "name a file inside the book's folder, with forward slashes, as in pictures/logo.svg")
		return "", nil, false
	}
	if l.fsys == nil {
		p.fail("book.path", n, fmt.Sprintf("%s “%s” cannot be read: the book is not in a folder", what, clip(s)), "load the book from its folder")
		return "", nil, false
	}
	data, err := readNamed(l.fsys, s)
	if err != nil {
		if pe := (*fs.PathError)(nil); errors.As(err, &pe) {
			err = pe.Err
		}
		p.fail("book.path", n, fmt.Sprintf("%s “%s” cannot be read: %v", what, clip(s), err), "check its name; it is looked for in the book's folder")
		return "", nil, false
	}
	return s, data, true
}

// mostPicture is the most bytes of a font, a picture or a sheet that the book names.
const mostPicture = 64 << 20

// readNamed reads a file that the book names, if it is one.
func readNamed(fsys fs.FS, name string) ([]byte, error) {
	if o, ok := fsys.(only); ok {
		fsys = o.FS
	}
	info, err := fs.Stat(fsys, name)
	switch {
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular():
		return nil, errors.New("it is a folder, a pipe or a device")
	case info.Size() > mostPicture:
		return nil, fmt.Errorf("it is of %d MB, more than the %d MB it may be", info.Size()>>20, mostPicture>>20)
	}
	return fs.ReadFile(fsys, name)
}

// readOnce reads a file that several packs name but once, so that it is embedded
// once. What failed is tried again: each place that names it is told.
func readOnce[T any](l *loader, name string, read func() (*T, error)) (*T, error) {
	if v, ok := l.read[name].(*T); ok {
		return v, nil
	}
	v, err := read()
	if err != nil {
		return nil, err
	}
	if l.read == nil {
		l.read = map[string]any{}
	}
	l.read[name] = v
	return v, nil
}

//go:embed material-codes.csv
var materialCodesCSV string

// materialCode is a row of material-codes.csv.
type materialCode struct{ code, material, note, source, seen string }

var materialCodes = sync.OnceValue(func() map[string]materialCode {
	rows, err := csv.NewReader(strings.NewReader(materialCodesCSV)).ReadAll()
	if err != nil {
		panic("book: material-codes.csv: " + err.Error())
	}
	all := map[string]materialCode{}
	for _, r := range rows[1:] {
		all[r[0]] = materialCode{r[0], r[1], r[2], r[3], r[4]}
	}
	return all
})

// materialCodes reads the codes of the pack's materials: [PAP 21, PET 1].
func (p *page) materialCodes(n *yaml.Node) []string {
	out := []string{}
	known := materialCodes()
	var names []string
	for c := range known {
		names = append(names, c)
	}
	slices.Sort(names)
	for _, c := range list(n) {
		s, ok := p.text(c, "the material code")
		if !ok {
			continue
		}
		code := strings.ToUpper(strings.Join(strings.Fields(s), " "))
		row, ok := known[code]
		switch {
		case !ok:
			p.fail("book.material-code", c, fmt.Sprintf("“%s” is no code of a material that is known here", clip(s)), did(nearest(code, names), "known are "+strings.Join(names, ", ")))
		case row.seen == "conflict":
			p.fail("book.material-code", c, fmt.Sprintf("the code for %s is not settled: %s", row.material, row.note), "leave it out; the codes are voluntary in most countries")
		default:
			if row.seen == string(finding.Memory) {
				p.say(finding.Note, "book.material-code", c, fmt.Sprintf("%s for %s is unverified: %s (%s)", code, row.material, row.note, row.source), "check it before you print")
			}
			out = append(out, code)
		}
	}
	return out
}

// ladder reads what is tried, in order, where the text does not fit.
func (p *page) ladder(n *yaml.Node) []label.Step {
	steps := []label.Step{}
	var words []string
	for _, s := range label.Steps {
		words = append(words, s.String())
	}
	for _, c := range list(n) {
		s, ok := p.text(c, "what is tried")
		if !ok {
			continue
		}
		at := slices.Index(words, strings.ToLower(s))
		if at < 0 {
			p.fail("book.fit", c, fmt.Sprintf("“%s” is nothing that can be tried where the text does not fit", clip(s)),
				did(nearest(s, words), "write some of "+strings.Join(words, ", ")))
			continue
		}
		if !slices.Contains(steps, label.Step(at)) {
			steps = append(steps, label.Step(at))
		}
	}
	return steps
}
