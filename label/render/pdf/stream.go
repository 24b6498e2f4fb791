package pdf

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/go-pdf/fpdf"

	"panelwright/label/font"
	"panelwright/label/scene"
)

// Correction is what a printer has to be told so that the print lies where the scene has it. Every page is
// enlarged by the scales, in millionths, from its top left corner, and then moved right and down. The zero
// Correction changes nothing.
type Correction struct {
	X, Y           scene.Um
	ScaleX, ScaleY int64 // 1,000,000 or 0 for the size as it is
}

// Writer writes a file page by page, so that no scene has to be kept:
//
//	w := pdf.NewWriter(pdf.Options{})
//	for ... {
//		err := w.Page(&s)
//	}
//	err := w.Finish(file)
//
// [Write] does this for scenes that are at hand. Title and language are those of the first page if the options
// have none.
type Writer struct {
	o     Options
	fix   Correction
	doc   *fpdf.Fpdf
	page  *page
	used  map[*font.Face]*face
	faces []*face           // in the order they came
	named map[string]string // pictures, by what the operators call them
	drawn []content         // on each page
	tags  tags
}

// NewWriter returns a Writer for a file without pages.
func NewWriter(o Options) *Writer {
	return &Writer{o: o, page: &page{fonts: map[*font.Face]string{}}, used: map[*font.Face]*face{}, named: map[string]string{}}
}

// Correct sets the correction of the printer for the pages that follow.
func (w *Writer) Correct(c Correction) { w.fix = c }

// Page adds a page. The scene is not kept.
func (w *Writer) Page(s *scene.Scene) error {
	if w.doc == nil {
		w.begin(s)
	}
	w.doc.AddPageFormat("P", pageSize(s))
	if s.Bleed > 0 {
		edge := inPoints(s.Bleed)
		w.doc.SetPageBox("trim", edge, edge, inPoints(s.W), inPoints(s.H))
	}
	w.page.begin(s.H, s.Bleed)
	w.correct(s)
	if w.o.Watermark != "" {
		mark, err := scene.Watermark(s.W, s.H, w.o.Watermark)
		if err != nil {
			return err
		}
		w.page.tag(nil, decoration)
		w.page.path(mark)
	}
	tagged := w.tags.begin(s.Lang)
	for _, item := range s.Items {
		w.page.tag(tagged, tagged.of(item))
		switch item := item.(type) {
		case *scene.Text:
			w.face(item)
			w.page.text(item)
		case *scene.Path:
			w.page.path(item)
		case *scene.Image:
			name, err := w.picture(item)
			if err != nil {
				return err
			}
			w.page.image(item, name)
		}
	}
	w.page.untag()
	if w.o.Plain {
		w.drawn = append(w.drawn, content{bytes: bytes.Clone(w.page.buf)})
	} else {
		w.drawn = append(w.drawn, pack(w.page.buf))
	}
	return w.doc.Error()
}

// begin makes the file, as large as its first page.
func (w *Writer) begin(s *scene.Scene) {
	o := &w.o
	if o.Title == "" {
		o.Title = s.Title
	}
	if o.Watermark != "" {
		o.Title = o.Watermark + ": " + o.Title
	}
	if o.Lang == "" {
		o.Lang = s.Lang
	}
	if o.Date.IsZero() {
		o.Date = undated
	}
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: pageSize(s)})
	doc.SetCatalogSort(true)
	doc.SetCompression(false) // of the pages, which are written past the library
	doc.SetAutoPageBreak(false, 0)
	doc.SetMargins(0, 0, 0)
	doc.SetProducer("panelwright", true)
	doc.SetTitle(o.Title, true)
	doc.SetLang(o.Lang)
	doc.SetCreationDate(o.Date)
	doc.SetModificationDate(o.Date)
	w.doc = doc
}

// correct writes the matrix of the correction. PDF counts from the bottom left corner: a point y below the top
// lies at H - y, and belongs at H - (scale*y + move).
func (w *Writer) correct(s *scene.Scene) {
	c := w.fix
	if c.ScaleX == 0 {
		c.ScaleX = millionths
	}
	if c.ScaleY == 0 {
		c.ScaleY = millionths
	}
	if c == (Correction{ScaleX: millionths, ScaleY: millionths}) {
		return
	}
	p := w.page
	down := s.H*scene.Um(millionths-c.ScaleY)/millionths - c.Y
	p.buf = appendSixth(p.buf, c.ScaleX)
	p.buf = append(p.buf, " 0 0 "...)
	p.buf = appendSixth(p.buf, c.ScaleY)
	p.points(c.X)
	p.points(down)
	p.buf = append(p.buf, " cm\n"...)
}

const millionths = 1_000_000

// appendSixth appends a positive number of millionths in decimals.
func appendSixth(buf []byte, n int64) []byte {
	return fmt.Appendf(buf, "%d.%06d", n/millionths, n%millionths)
}

// face is a face that the file uses: its name there, and the letters used.
type face struct {
	name string
	letters
}

// face notes the letters of a text, and adds its face to the file where it is new.
func (w *Writer) face(t *scene.Text) {
	f := w.used[t.Face]
	if f == nil {
		f = &face{name: plainName(t.Face.Name())}
		// Two files of one name differ in the file; the library takes large and small letters for the same.
		for slices.ContainsFunc(w.faces, func(g *face) bool { return strings.EqualFold(g.name, f.name) }) {
			f.name = fmt.Sprintf("%s-%d", f.name, len(w.faces))
		}
		w.used[t.Face], w.faces = f, append(w.faces, f)
		w.doc.AddUTF8FontFromBytes(f.name, "", t.Face.Data())
		w.page.fonts[t.Face] = show(w.doc, f.name, "")
	}
	for _, g := range t.Glyphs {
		f.add(g.Rune)
	}
	if t.Space {
		f.add(' ')
	}
}

// picture adds a picture to the file where it is new, and returns its name in the drawing operators. Pictures of one
// name are one picture.
func (w *Writer) picture(m *scene.Image) (name string, err error) {
	if name, ok := w.named[m.Name]; ok {
		return name, nil
	}
	defer func() { // the library panics where a file is cut short
		if r := recover(); r != nil {
			err = fmt.Errorf("the picture %s cannot be written: %v", m.Name, r)
		}
	}()
	o := fpdf.ImageOptions{ImageType: m.Format}
	w.doc.RegisterImageOptionsReader(m.Name, o, bytes.NewReader(m.Data))
	if err := w.doc.Error(); err != nil {
		return "", fmt.Errorf("the picture %s cannot be written: %w", m.Name, err)
	}
	// The template, which is thrown away, holds the operator that draws it: /I<name> Do.
	shown := w.doc.CreateTemplateCustom(fpdf.PointType{}, fpdf.SizeType{Wd: 1, Ht: 1}, func(t *fpdf.Tpl) {
		t.ImageOptions(m.Name, 0, 0, 1, 1, false, o, 0, "")
	})
	_, after, _ := bytes.Cut(shown.Bytes(), []byte("/I"))
	key, _, _ := bytes.Cut(after, []byte(" "))
	name = "/I" + string(key)
	w.named[m.Name] = name
	return name, nil
}

// show tells the library which letters of a face are used, and returns the name of the face in the drawing
// operators.
//
// The library learns which letters a face needs from the text it is asked to draw. The text here is written
// past it, for the kerning, so the letters are shown to it on a template that is thrown away.
func show(doc *fpdf.Fpdf, name, text string) string {
	shown := doc.CreateTemplateCustom(fpdf.PointType{}, fpdf.SizeType{Wd: 1, Ht: 1}, func(t *fpdf.Tpl) {
		t.SetFont(name, "", 1)
		t.Text(0, 0, text)
	})
	// The page of the template holds the operator that selects the face: BT /F<name> 1.00 Tf ET.
	_, after, _ := bytes.Cut(shown.Bytes(), []byte("/F"))
	key, _, _ := bytes.Cut(after, []byte(" "))
	return "/F" + string(key)
}

// Finish writes the file. It fails where there are no pages and where out fails.
func (w *Writer) Finish(out io.Writer) error {
	if w.doc == nil {
		return fmt.Errorf("a PDF file needs at least one page, and there is none")
	}
	for _, f := range w.faces {
		show(w.doc, f.name, string(f.list))
	}
	var raw grabbed
	if err := w.doc.Output(&raw); err != nil {
		return err
	}
	return finish(out, raw, w)
}
