package layout

import (
	"bytes"
	"io"
	"strings"
	"testing"

	"github.com/go-pdf/fpdf"

	"panelwright/label"
	"panelwright/label/font"
	"panelwright/label/render/pdf"
	"panelwright/label/scene"
)

func BenchmarkLabel(b *testing.B) {
	for _, tt := range cases {
		b.Run(strings.NewReplacer(",", "", " ", "-").Replace(tt.name), func(b *testing.B) {
			c := tt.copy()
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Label(c, tt.o); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// thousand returns the copy of about a thousand different labels.
func thousand() (copies []*label.PackCopy) {
	names := strings.Split(longList, ", ")
	for i := range 1000 {
		list := strings.Join(append(append([]string(nil), names[i%23:]...), names[:i%7]...), ", ")
		tt := cases[i%len(cases)]
		c := tt.copy()
		if tt.name == "round, short list" || tt.name == "round front and back, American" {
			list = strings.Join(names[i%30:i%30+8], ", ")
		}
		for j := range c.Back {
			if c.Back[j].Kind == label.ListText {
				c.Back[j].Text = list
			}
		}
		if _, err := Label(c, tt.o); err == nil {
			copies = append(copies, c)
		}
	}
	return copies
}

// BenchmarkThousandLabels lays out a thousand different labels and writes them to one file. Beside it the pages
// alone are written, laid out before, and as many pages with the same lines of text by the PDF library alone, told
// where each stands: without kerning, tags, lines and colours. The aim of the issue is 1.5 times that at most.
func BenchmarkThousandLabels(b *testing.B) {
	copies := thousand()
	lay := func(b *testing.B) (scenes []scene.Scene) {
		for _, c := range copies {
			s, err := Label(c, Options{})
			if err != nil {
				b.Fatal(err)
			}
			scenes = append(scenes, s...)
		}
		return scenes
	}
	before := lay(b)
	var out bytes.Buffer
	for _, tt := range []struct {
		name  string
		write func(b *testing.B) error
	}{
		{"laid out and written", func(b *testing.B) error { return pdf.Write(&out, lay(b), pdf.Options{}) }},
		{"written", func(*testing.B) error { return pdf.Write(&out, before, pdf.Options{}) }},
		{"by the library alone", func(*testing.B) error { return byLibrary(&out, before) }},
	} {
		b.Run(strings.ReplaceAll(tt.name, " ", "-"), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				out.Reset()
				if err := tt.write(b); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(len(before)), "pages")
		})
	}
}

// byLibrary writes the texts of scenes with the calls that the PDF library offers.
func byLibrary(out io.Writer, scenes []scene.Scene) error {
	points := func(u scene.Um) float64 { return float64(u) * 72 / 25400 }
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt"})
	doc.SetAutoPageBreak(false, 0)
	known := map[*font.Face]bool{}
	for i := range scenes {
		s := &scenes[i]
		doc.AddPageFormat("P", fpdf.SizeType{Wd: points(s.W), Ht: points(s.H)})
		for _, item := range s.Items {
			t, ok := item.(*scene.Text)
			if !ok {
				continue
			}
			if !known[t.Face] {
				known[t.Face] = true
				doc.AddUTF8FontFromBytes(t.Face.Name(), "", t.Face.Data())
			}
			doc.SetFont(t.Face.Name(), "", points(t.Size))
			doc.Text(points(t.X), points(t.Y), t.String())
		}
	}
	return doc.Output(out)
}
