package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the output of the README's commands into the README")

// inShell parts a command at its spaces, as a shell does that finds no quotation marks but double ones.
func inShell(s string) (out []string) {
	for i, part := range strings.Split(s, `"`) {
		if i%2 == 1 {
			out = append(out, part)
		} else {
			out = append(out, strings.Fields(part)...)
		}
	}
	return out
}

// TestReadme runs the commands of the README's tour on the book that it shows,
// and compares what they print with what it says they print.
func TestReadme(t *testing.T) {
	const path = "../../README.md"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	_, after, ok1 := strings.Cut(text, "```yaml\n")
	book, _, ok2 := strings.Cut(after, "```")
	if !ok1 || !ok2 {
		t.Fatal("the README shows no book")
	}
	old := strings.Replace(book, "covers: eu-81", "covers: eu-26", 1)
	if old == book {
		t.Fatal("the README's book has no sheet that covers eu-81")
	}
	_, after, ok1 = strings.Cut(text, "```text\n")
	pasted, _, ok2 := strings.Cut(after, "```")
	if !ok1 || !ok2 {
		t.Fatal("the README shows no sheet")
	}
	abs, err := filepath.Abs(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	t.Setenv("COLUMNS", "") // as wide as every screen
	if err := os.WriteFile("book.yaml", []byte(book), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("pasted.txt", []byte(pasted), 0o644); err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	commands := 0
	for rest := text; ; {
		head, block, ok := strings.Cut(rest, "```console\n")
		out.WriteString(head)
		if !ok {
			break
		}
		block, rest, _ = strings.Cut(block, "```")
		line, _, _ := strings.Cut(block, "\n")
		args, ok := strings.CutPrefix(line, "$ panelwright ")
		if !ok {
			t.Fatalf("%q is no command", line)
		}
		if strings.Contains(args, "old-sheet.yaml") {
			if err := os.WriteFile("old-sheet.yaml", []byte(old), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		var stdout, stderr bytes.Buffer
		code := run(inShell(args), &stdout, &stderr, scriptDay)
		if code == exitFailed || stderr.Len() > 0 {
			t.Errorf("%s: exit code %d, %s", line, code, stderr.String())
		}
		os.Remove("old-sheet.yaml")
		out.WriteString("```console\n" + line + "\n" + stdout.String() + "```")
		commands++
	}
	if commands < 5 {
		t.Errorf("only %d commands", commands)
	}
	if *update {
		if err := os.WriteFile(abs, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(text, out.String()); diff != "" {
		t.Error("README (-), what the commands print (+); go test ./cmd/panelwright -run Readme -update writes it:\n" + diff)
	}
}
