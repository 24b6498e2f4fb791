package paper_test

import (
	"bytes"
	"strings"
	"testing"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/layout"
	"panelwright/label/paper"
	"panelwright/label/scene"
)

// faults judges the book of deliberate faults.
func faults(t *testing.T) (read finding.List, all [][]*label.Declaration, fingerprint string) {
	t.Helper()
	b, read := book.Load("../../testdata/faults")
	if read.Count(finding.Error) > 0 {
		t.Fatal(read)
	}
	desk := label.NewDesk(&b.Workshop)
	desk.Ask(read)
	day := date.Of(2026, 11, 25)
	for _, p := range b.Products {
		all = append(all, desk.Declare(p, p.SellIn, date.Occasion{On: day, Placed: day}))
	}
	return read, all, b.Fingerprint
}

// flat is a text with its line breaks evened out.
func flat(s string) string { return strings.Join(strings.Fields(s), " ") }

// The sheet says all that was found, with its cure and its source, and every rule
// that is left to the reader; print and text say the same.
func TestFindingsSheet(t *testing.T) {
	read, all, fingerprint := faults(t)
	doc := paper.Findings("the faults", read, all, fingerprint)
	var b bytes.Buffer
	if err := doc.Text(&b); err != nil {
		t.Fatal(err)
	}
	text := flat(b.String())
	scenes, err := doc.Pages(layout.A4)
	if err != nil {
		t.Fatal(err)
	}
	var set strings.Builder
	for _, s := range scenes {
		for _, item := range s.Items {
			if x, ok := item.(*scene.Text); ok {
				set.WriteString(x.String() + " ")
			}
		}
	}
	printed := flat(set.String())
	n := 0
	for _, ds := range all {
		for _, d := range ds {
			for _, f := range d.Findings {
				n++
				for _, words := range []string{f.Message[1:], f.Cure, f.Source.String(), string(f.Rule), f.Where.String()} {
					words = strings.TrimPrefix(flat(words), strings.Split(flat(words)+" ", " ")[0]) // the first word may get a capital
					if !strings.Contains(text, words) {
						t.Errorf("the text lacks %q of %s", words, f.Rule)
					}
					if !strings.Contains(printed, words) {
						t.Errorf("the print lacks %q of %s", words, f.Rule)
					}
				}
			}
		}
	}
	if n < 50 {
		t.Errorf("only %d findings", n)
	}
	for _, r := range label.Rules() {
		if r.State != label.NotJudged {
			continue
		}
		if !strings.Contains(printed, flat(r.Because)) {
			t.Errorf("the print lacks %q", r.Because)
		}
	}
	for _, words := range []string{"Rules last gone through: 2026-11-25", "nothing found", "(unverified: memory)", "Assessor", "Not judged", "Judged in part"} {
		if !strings.Contains(printed, words) {
			t.Errorf("the print lacks %q", words)
		}
	}
	for _, words := range []string{"Remarks: ___", "Assessor: ___"} {
		if !strings.Contains(text, words) {
			t.Errorf("the text lacks %q", words)
		}
	}
}

// A product without findings has a sheet all the same.
func TestFindingsSheetOfNothing(t *testing.T) {
	_, all, fingerprint := faults(t)
	for _, ds := range all {
		if ds[0].Product.Name != "plain fizz" {
			continue
		}
		var b bytes.Buffer
		if err := paper.Findings(ds[0].Product.Name, nil, [][]*label.Declaration{ds}, fingerprint).Text(&b); err != nil {
			t.Fatal(err)
		}
		if text := b.String(); !strings.Contains(text, "nothing found") || strings.Contains(text, ". Wrong: ") {
			t.Errorf("%s", text)
		}
		return
	}
	t.Error("no plain fizz")
}
