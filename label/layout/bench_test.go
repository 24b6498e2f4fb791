package layout

import (
	"bytes"
	"strings"
	"testing"

	"panelwright/label"
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

// BenchmarkThousandLabels lays out a thousand different labels and writes them to one file.
func BenchmarkThousandLabels(b *testing.B) {
	names := strings.Split(longList, ", ")
	var copies []*label.PackCopy
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
	var out bytes.Buffer
	for b.Loop() {
		var scenes []scene.Scene
		for _, c := range copies {
			s, err := Label(c, Options{})
			if err != nil {
				b.Fatal(err)
			}
			scenes = append(scenes, s...)
		}
		out.Reset()
		if err := pdf.Write(&out, scenes, pdf.Options{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(copies)), "labels")
}
