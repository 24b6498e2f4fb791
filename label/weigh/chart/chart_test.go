package chart

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"panelwright/formula/exact"
	"panelwright/label/font"
	"panelwright/label/render/svg"
	"panelwright/label/scene"
)

func pieces(text string) []exact.Rat {
	var out []exact.Rat
	for _, f := range strings.Fields(text) {
		out = append(out, exact.Must(f))
	}
	return out
}

func example() Chart {
	a := pieces("160.2 159.8 161.4 160.9 160.0")
	b := pieces("160.3 151.0 159.9")
	return Chart{Title: "Weights of pieces: hay fizz", Note: "invented", Unit: "g", Stated: exact.Int(160),
		Batches: []Batch{{"0614", a, exact.Must("160.46")}, {"0615", b, exact.Must("157.066")}},
		Limits:  []Limit{{"T1 eu", exact.Must("152.8")}, {"T2 eu", exact.Must("145.6")}}}
}

// drawn counts the dots and arrows of each ink.
func drawn(s scene.Scene) map[string]int {
	n := map[string]int{}
	for _, item := range s.Items {
		if p, ok := item.(*scene.Path); ok && p.Fill != nil {
			n[fmt.Sprint(*p.Fill, len(p.Segments))]++
		}
	}
	return n
}

func texts(s scene.Scene) []*scene.Text {
	var out []*scene.Text
	for _, item := range s.Items {
		if t, ok := item.(*scene.Text); ok {
			out = append(out, t)
		}
	}
	return out
}

func TestEveryPieceIsDrawn(t *testing.T) {
	s, err := example().Scene()
	if err != nil {
		t.Fatal(err)
	}
	if n := drawn(s); n[fmt.Sprint(good, 6)] != 7 || n[fmt.Sprint(bad, 6)] != 1 {
		t.Errorf("seven good dots and one bad: %v", n)
	}
	var all []string
	for _, x := range texts(s) {
		all = append(all, x.String())
	}
	for _, want := range []string{"stated 160 g", "T1 eu 152.8 g", "T2 eu 145.6 g", "0614", "mean 160.46", "0615", "mean 157.06", "150", "152"} {
		if !strings.Contains(strings.Join(all, "\n")+"\n", want+"\n") {
			t.Errorf("%q is not among %q", want, all)
		}
	}
}

// Heights are true: 160 g stands where a fifth of the way says.
func TestHeights(t *testing.T) {
	d := drawing{c: Chart{Stated: exact.Int(100), Limits: []Limit{{"T1", exact.Int(90)}}}, n: 1}
	d.fit()
	foot, head := d.y(exact.Int(90)), d.y(exact.Int(100))
	if foot != bottom-edgeSpace || head != top+edgeSpace {
		t.Errorf("foot %v, head %v", foot, head)
	}
	if got, want := d.y(exact.Int(92)), foot-(foot-head)/5; got != want {
		t.Errorf("92: %v, want %v", got, want)
	}
}

func TestWithinThePageAndApart(t *testing.T) {
	many := example()
	many.Batches = []Batch{{"", pieces(strings.Repeat("160.1 159.7 161.2 ", 2000)), exact.Must("160.3333")}}
	close := example()
	close.Limits = []Limit{{"T1 eu", exact.Must("159.9")}, {"T1 ca", exact.Must("159.89")}, {"MAV us", exact.Must("159.8")}, {"T2 eu", exact.Must("145.6")}, {"T2 ca", exact.Must("145.59")}}
	slip := example()
	slip.Batches[0].Pieces = pieces("16.02 160.1 159.9 1601")
	alike := Chart{Title: "x", Unit: "g", Stated: exact.Int(160), Batches: []Batch{{"", pieces("160"), exact.Int(160)}}}
	for name, c := range map[string]Chart{"example": example(), "6000 pieces": many, "lines close together": close, "slipped points": slip, "one as stated": alike} {
		s, err := c.Scene()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		page := scene.Rect{Right: s.W, Bottom: s.H}
		for _, item := range s.Items {
			var b scene.Rect
			switch item := item.(type) {
			case *scene.Text:
				b = item.Bounds()
			case *scene.Path:
				b = item.Bounds()
			}
			if b.Left < page.Left || b.Top < page.Top || b.Right > page.Right || b.Bottom > page.Bottom {
				t.Errorf("%s: %v sticks out of the page", name, b)
			}
		}
		words := texts(s)
		for i, a := range words {
			for _, b := range words[:i] {
				if a.Bounds().Overlaps(b.Bounds()) {
					t.Errorf("%s: %q and %q overlap", name, a, b)
				}
			}
		}
		if name == "slipped points" {
			if n := drawn(s); n[fmt.Sprint(bad, 4)] != 1 || n[fmt.Sprint(good, 4)] != 1 {
				t.Errorf("an arrow down and an arrow up: %v", n)
			}
		}
		var buf bytes.Buffer
		if err := svg.Write(&buf, &s, svg.Options{}); err != nil {
			t.Fatal(err)
		}
		for dec := xml.NewDecoder(&buf); ; {
			if _, err := dec.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
	}
}

func TestRefused(t *testing.T) {
	if _, err := (Chart{Title: "x", Stated: exact.Int(1)}).Scene(); err == nil {
		t.Error("nothing is drawn without a word")
	}
	c := example()
	c.Title = "泡"
	var missing *font.Missing
	if _, err := c.Scene(); !errors.As(err, &missing) {
		t.Errorf("a letter without a face: %v", err)
	}
}

func TestSteps(t *testing.T) {
	for _, c := range []struct{ low, top, want string }{
		{"145.6", "165", "5"}, {"0", "8", "1"}, {"0", "8.1", "2"}, {"0", "80", "10"}, {"159.9", "160.1", "0.05"}, {"100", "1000", "200"}, {"0", "0.008", "0.001"},
	} {
		d := drawing{low: exact.Must(c.low), top: exact.Must(c.top)}
		if got := d.step().String(); got != c.want {
			t.Errorf("%s to %s: %s, want %s", c.low, c.top, got, c.want)
		}
	}
}
