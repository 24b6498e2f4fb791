package book

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write what is found into the files of testdata/says; read the change before keeping it")

// TestSays reads every file of testdata/says: a book, after a line that says what
// is tested, and under "want" all that must be said about it, with place and
// cure. An empty "want" is a book with nothing to say about.
func TestSays(t *testing.T) {
	names, err := filepath.Glob("testdata/says/*.txt")
	if err != nil || len(names) < 20 {
		t.Fatalf("found %d files, %v", len(names), err)
	}
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txt"), func(t *testing.T) {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			comment, parts := sections(string(data))
			var files []File
			want, found := "", false
			for _, f := range parts {
				if f.Name == "want" {
					want, found = string(f.Data), true
				} else {
					files = append(files, f)
				}
			}
			if comment == "" || !found {
				t.Fatal("the file needs a comment that says what is tested, and a want")
			}
			_, out := LoadFiles(files)
			got := strings.Join(lines(out), "\n") + "\n"
			if len(out) == 0 {
				got = ""
			}
			if *update {
				before, _, _ := strings.Cut(string(data), "-- want --\n")
				if err := os.WriteFile(name, []byte(before+"-- want --\n"+got), 0o644); err != nil {
					t.Fatal(err)
				}
				want = got
			}
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("%s (-want +got):\n%s", comment, d)
			}
			for _, f := range out {
				if f.Where.File == "" || f.Where.Line == 0 || f.Message == "" || f.Cure == "" {
					t.Errorf("no place or no cure: %+v", f)
				}
			}
		})
	}
}

// sections parts a file at its lines of the form "-- name --".
func sections(text string) (comment string, parts []File) {
	for l := range strings.Lines(text) {
		name, ok := strings.CutPrefix(strings.TrimSuffix(l, "\n"), "-- ")
		if name, cut := strings.CutSuffix(name, " --"); ok && cut {
			parts = append(parts, File{Name: name})
			continue
		}
		if len(parts) == 0 {
			comment += l
			continue
		}
		f := &parts[len(parts)-1]
		f.Data = append(f.Data, l...)
	}
	return strings.TrimSpace(comment), parts
}
