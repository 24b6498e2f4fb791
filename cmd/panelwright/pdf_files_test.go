package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"panelwright/formula/outside"
)

// Every kind of PDF file that the command writes keeps the rules of the format, states its title and language, has
// its fonts in it, and is tagged; the words of a label, as a reader that speaks finds them, are those of the
// declaration.
func TestEveryKindOfFile(t *testing.T) {
	outside.Tool(t, "pdfcpu")
	dir := filepath.Join(t.TempDir(), "book")
	do := func(args ...string) {
		t.Helper()
		var out, errs bytes.Buffer
		if code := run(args, &out, &errs, scriptDay); code == exitFailed {
			t.Fatalf("%q: %s", args, errs.String())
		}
	}
	do("start", dir)
	for _, args := range [][]string{
		{"label", dir, "--proof", "--product", "hay fizz"},
		{"print", dir, "--product", "hay fizz", "--market", "us", "--copies", "5", "--stock", "A4 round 64 mm"},
		{"cards", dir, "--product", "hay fizz", "--market", "us", "--stock", "A4 cards 85 x 55 mm"},
		{"stickers", dir, "--lot", "0614", "--pieces", "9", "--product", "hay fizz", "--made", "2026-11-20", "--stock", "A4 5 x 13"},
		{"calibrate", dir, "--stock", "A4 3 x 7"},
		{"net", "--net", "100 g", "--weights", "100.2 100.4", "--chart", filepath.Join(dir, "chart.pdf")},
		{"check", dir, "--product", "hay fizz", "--pdf", filepath.Join(dir, "findings.pdf")},
	} {
		do(args...)
	}
	kinds := map[string]int{"-us.pdf": 0, "-proof.pdf": 0, "-declaration.pdf": 0, "cards": 0, "lot-": 0, "round-64": 0, "calibrate": 0, "chart": 0, "findings": 0}
	tagged, language := regexp.MustCompile(`Tagged: +yes`), regexp.MustCompile(`\(?en`)
	err := filepath.WalkDir(dir, func(file string, _ os.DirEntry, err error) error {
		if err != nil || filepath.Ext(file) != ".pdf" {
			return err
		}
		for k := range kinds {
			if strings.Contains(filepath.Base(file), k) {
				kinds[k]++
			}
		}
		t.Run(filepath.Base(file), func(t *testing.T) {
			outside.SoundPDF(t, file)
			about := outside.Run(t, "pdfinfo", file)
			if !tagged.MatchString(about) || !regexp.MustCompile(`Title: +\S`).MatchString(about) {
				t.Errorf("no tags, or no title:\n%s", about)
			}
			if l := outside.Run(t, "mutool", "show", file, "trailer/Root/Lang"); !language.MatchString(l) {
				t.Errorf("the language is %s", l)
			}
			for _, row := range strings.Split(strings.TrimSpace(outside.Run(t, "pdffonts", file)), "\n")[2:] {
				if !strings.Contains(row, " yes yes ") && !strings.Contains(row, " yes no ") {
					t.Errorf("not embedded: %s", row)
				}
			}
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for k, n := range kinds {
		if n == 0 {
			t.Errorf("no file of the kind %q was written", k)
		}
	}

	// The list of ingredients, in one piece over all its lines.
	var said bytes.Buffer
	if run([]string{"declare", dir, "--product", "hay fizz", "--market", "us"}, &said, &bytes.Buffer{}, scriptDay) == exitFailed {
		t.Fatal("declare failed")
	}
	labels, err := filepath.Glob(filepath.Join(dir, "printed", "hay-fizz-us*.pdf"))
	if err != nil || len(labels) == 0 {
		t.Fatalf("%v, %v", labels, err)
	}
	list := regexp.MustCompile(`"Ingredients: ([^"]*)"`).FindStringSubmatch(outside.Run(t, "pdfinfo", "-struct-text", labels[0]))
	if list == nil {
		t.Fatal("the label has no list of ingredients")
	}
	if words := strings.Join(strings.Fields(said.String()), " "); !strings.Contains(words, list[1]) {
		t.Errorf("the label says\n%s\nwhich is not in\n%s", list[1], words)
	}
}
