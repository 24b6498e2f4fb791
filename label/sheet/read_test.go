package sheet_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/label/sheet"
)

var update = flag.Bool("update", false, "write what is understood into the files of testdata/sheets")

// parts cuts a file of testdata/sheets: what it shows, then sheets, each with what
// is to be understood of it.
func parts(t *testing.T, file string) (comment string, sheets, wants []string, options []sheet.Options) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	pieces := strings.Split("\n"+string(data), "\n-- ")
	comment = strings.TrimPrefix(pieces[0], "\n")
	for _, p := range pieces[1:] {
		head, body, _ := strings.Cut(p, " --\n")
		kind, answer, _ := strings.Cut(head, " ")
		if kind == "want" {
			wants[len(sheets)-1] = body
			continue
		}
		var o sheet.Options
		switch key, value, _ := strings.Cut(answer, "="); key {
		case "unit":
			o.Unit = value
		case "empty":
			o.Empty = value
		case "":
		default:
			t.Fatalf("%s: no answer is called %s", file, key)
		}
		sheets, wants, options = append(sheets, body), append(wants, ""), append(options, o)
	}
	return comment, sheets, wants, options
}

// report writes what was understood, line by line.
func report(s *sheet.Sheet) string {
	var b strings.Builder
	for _, l := range s.Lines {
		fmt.Fprintf(&b, "%d %s: %s\n", l.Number, l.Is, l.Understood())
	}
	for _, q := range s.Questions {
		fmt.Fprintf(&b, "? %s%s\n", q.Place(), q)
	}
	fmt.Fprintf(&b, "= %s: %s\n", s.As, s.Because)
	return b.String()
}

// TestSheets reads invented sheets of many layouts; what each shows stands on top
// of its file.
func TestSheets(t *testing.T) {
	files, err := filepath.Glob("testdata/sheets/*.txt")
	if err != nil || len(files) < 12 {
		t.Fatalf("found %d files, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			comment, sheets, wants, options := parts(t, file)
			if !strings.HasPrefix(comment, "INVENTED") {
				t.Error("the file does not say that it is invented")
			}
			out := comment
			for i := range sheets {
				got := report(sheet.Read(sheets[i], options[i]))
				if diff := cmp.Diff(strings.TrimRight(wants[i], "\n"), strings.TrimRight(got, "\n")); diff != "" && !*update {
					t.Errorf("sheet %d: want (-), got (+):\n%s", i+1, diff)
				}
				head := "sheet"
				if o := options[i]; o.Unit != "" {
					head += " unit=" + o.Unit
				} else if o.Empty != "" {
					head += " empty=" + o.Empty
				}
				out += "\n-- " + head + " --\n" + strings.TrimRight(sheets[i], "\n") + "\n-- want --\n" + strings.TrimRight(got, "\n")
			}
			if *update {
				if err := os.WriteFile(file, []byte(out+"\n"), 0o644); err != nil {
					t.Fatal(err)
				}
			}
		})
	}
}
