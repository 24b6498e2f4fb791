package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gopkg.in/yaml.v3"
)

const noon = "2026-06-14 12:30"

func mustAppend(t testing.TB, dir string, docs ...string) int {
	t.Helper()
	first, err := Append(dir, noon, texts(docs)...)
	if err != nil {
		t.Fatal(err)
	}
	return first
}

func texts(docs []string) (out [][]byte) {
	for _, d := range docs {
		out = append(out, []byte(d))
	}
	return out
}

func contents(t testing.TB, dir string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, File))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func mustRead(t testing.TB, dir string) ([]Entry, []Damage) {
	t.Helper()
	entries, damage, err := Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	return entries, damage
}

// whole fails the test if the journal in dir is not the texts, one entry each, unchanged and undamaged.
func whole(t testing.TB, dir string, want ...string) {
	t.Helper()
	entries, damage := mustRead(t, dir)
	var got []string
	for i, e := range entries {
		got = append(got, string(e.Text))
		if e.Number != i+1 || e.Changed {
			t.Errorf("entry at place %d: number %d, changed %v", i+1, e.Number, e.Changed)
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error("texts: want (-), got (+)\n" + diff)
	}
	if len(damage) > 0 {
		t.Errorf("damage: %v", damage)
	}
}

// written is a journal as it stands on the disk. The seals were worked out with another program: the first is
// printf '0000000000000000\n1 1 1\n2026-06-14 12:30\nmade: hay fizz\nlot: 0614\n' | sha256sum | cut -c 1-16
const written = head + `---
made: hay fizz
lot: 0614
---
entry: 1
recorded: 2026-06-14 12:30
seal: 42afbec43dd0c9c6 after 0000000000000000
---
gone: 12
---
entry: 2 of 2-3
recorded: 2026-06-14 12:30
seal: 60106e2ed53945a3 after 42afbec43dd0c9c6
---
gone: 13
---
entry: 3 of 2-3
recorded: 2026-06-14 12:30
seal: 2cd23c0a0b3999e9 after 60106e2ed53945a3
`

func TestWritten(t *testing.T) {
	dir := t.TempDir()
	if n := mustAppend(t, dir, "made: hay fizz\r\nlot: 0614\r\n"); n != 1 {
		t.Errorf("the first entry has the number %d", n)
	}
	if n := mustAppend(t, dir, "gone: 12\n", "gone: 13\n"); n != 2 {
		t.Errorf("the second entry has the number %d", n)
	}
	if diff := cmp.Diff(written, contents(t, dir)); diff != "" {
		t.Error("want (-), got (+)\n" + diff)
	}
	entries, damage := mustRead(t, dir)
	want := []Entry{
		{Number: 1, Recorded: noon, Text: []byte("made: hay fizz\nlot: 0614\n"), Line: 3, Seal: "42afbec43dd0c9c6"},
		{Number: 2, Recorded: noon, Text: []byte("gone: 12\n"), Line: 10, Seal: "60106e2ed53945a3"},
		{Number: 3, Recorded: noon, Text: []byte("gone: 13\n"), Line: 16, Seal: "2cd23c0a0b3999e9"},
	}
	if diff := cmp.Diff(want, entries); diff != "" {
		t.Error("entries: want (-), got (+)\n" + diff)
	}
	if damage != nil {
		t.Errorf("damage: %v", damage)
	}
}

// A program that knows nothing of seals reads the file as YAML.
func TestYAML(t *testing.T) {
	dir := t.TempDir()
	mustAppend(t, dir, "made: hay fizz\nremark: |\n  cracked\n")
	mustAppend(t, dir, "- a list\n", "a word\n")
	var got []any
	for d := yaml.NewDecoder(strings.NewReader(contents(t, dir))); ; {
		var v any
		if err := d.Decode(&v); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		if m, ok := v.(map[string]any); ok {
			delete(m, "seal")
		}
		got = append(got, v)
	}
	want := []any{
		map[string]any{"made": "hay fizz", "remark": "cracked\n"}, map[string]any{"entry": 1, "recorded": noon},
		[]any{"a list"}, map[string]any{"entry": "2 of 2-3", "recorded": noon},
		"a word", map[string]any{"entry": "3 of 2-3", "recorded": noon},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error("want (-), got (+)\n" + diff)
	}
}

func TestNoJournal(t *testing.T) {
	entries, damage, err := Read(t.TempDir())
	if entries != nil || damage != nil || err != nil {
		t.Errorf("%v, %v, %v", entries, damage, err)
	}
}

func TestRefused(t *testing.T) {
	dir := t.TempDir()
	mustAppend(t, dir, "made: hay fizz\n")
	before := contents(t, dir)
	for _, tt := range []struct{ name, recorded, doc, want string }{
		{"mark of a document", noon, "a: 1\n---\nb: 2\n", "line 2 of the text begins with ---"},
		{"mark with a remark", noon, "a: 1\n--- # b\n", "line 2 of the text begins with ---"},
		{"mark behind a carriage return", noon, "a: 1\r---\r", "line 2 of the text begins with ---"},
		{"end of a document", noon, "a: |\n...\n", "line 2 of the text begins with ..."},
		{"number", noon, "entry: 4\n", "line 1 of the text begins with “entry:”"},
		{"time", noon, "a: 1\nrecorded : now\n", "line 2 of the text begins with “recorded:”"},
		{"seal", noon, "a: 1\nseal:\n", "line 2 of the text begins with “seal:”"},
		{"no line end", noon, "a: 1", "the last line of the text has no end"},
		{"empty", noon, "", "the text is empty"},
		{"remark only", noon, "# nothing\n\n", "the text is empty"},
		{"not UTF-8", noon, "a: \xff\n", "it is not UTF-8"},
		{"nought byte", noon, "a: \x00\n", "it is not UTF-8"},
		{"no time", "", "a: 1\n", `"" is no time`},
		{"time of two lines", "12:30\nentry: 9", "a: 1\n", "is no time"},
		{"time that is YAML", "at: 12", "a: 1\n", "is no time"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Append(dir, tt.recorded, []byte("good: yes\n"), []byte(tt.doc))
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want %q", err, tt.want)
			}
			if got := contents(t, dir); got != before {
				t.Errorf("the file was touched: %q", got)
			}
		})
	}
	if _, err := Append(dir, noon); err == nil {
		t.Error("nothing was appended without a word")
	}
	for _, doc := range []string{"a:\n  entry: 4\n", "entryway: 4\n", "----\n", "a: --- b\n", "....\n"} {
		if _, err := Append(dir, noon, []byte(doc)); err != nil {
			t.Errorf("%q: %v", doc, err)
		}
	}
}

func TestAppendIf(t *testing.T) {
	dir := t.TempDir()
	if _, err := AppendIf(dir, noon, 0, []byte("a: 1\n")); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name  string
		after int
		want  Moved
		says  string
	}{
		{"one appended", 0, Moved{0, 1}, "entry 1 was recorded meanwhile"},
		{"entries lost", 7, Moved{7, 1}, "ended with entry 7 when they were read, and now end with entry 1"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			before := contents(t, dir)
			_, err := AppendIf(dir, noon, tt.after, []byte("b: 2\n"))
			moved, ok := errors.AsType[*Moved](err)
			if !ok || *moved != tt.want || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("error %v, want %+v, %q", err, tt.want, tt.says)
			}
			if contents(t, dir) != before {
				t.Error("the file was touched")
			}
		})
	}
	if n, err := AppendIf(dir, noon, 1, []byte("b: 2\n"), []byte("c: 3\n")); n != 2 || err != nil {
		t.Errorf("%d, %v", n, err)
	}
	whole(t, dir, "a: 1\n", "b: 2\n", "c: 3\n")
}

func TestNoFolder(t *testing.T) {
	dir := t.TempDir()
	if _, err := Append(filepath.Join(dir, "nowhere"), noon, []byte("a: 1\n")); err == nil {
		t.Error("a book that is not there was written to")
	}
	name := filepath.Join(dir, "book.yaml")
	if err := os.WriteFile(name, []byte("workshop: A\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Append(name, noon, []byte("a: 1\n")); err == nil || !strings.Contains(err.Error(), "a folder") {
		t.Errorf("a book of one file: %v", err)
	}
}

// A number put so high by hand that none is left after it is refused in words, and the file is left alone.
func TestNoNumberLeft(t *testing.T) {
	dir := t.TempDir()
	mustAppend(t, dir, "a: 1\n")
	before := strings.Replace(contents(t, dir), "entry: 1\n", "entry: 999999999\n", 1)
	if err := os.WriteFile(filepath.Join(dir, File), []byte(before), 0o644); err != nil {
		t.Fatal(err)
	}
	_, err := Append(dir, noon, []byte("b: 2\n"))
	if err == nil || !strings.Contains(err.Error(), "the last entry has the number 999999999") || contents(t, dir) != before {
		t.Error(err)
	}
}

// Torn bytes are saved once, beside those saved before.
func TestSaveTorn(t *testing.T) {
	dir := t.TempDir()
	for _, torn := range []string{"made: h", "made: hay", "made: h", "made: hay"} {
		if err := saveTorn(dir, []byte(torn)); err != nil {
			t.Fatal(err)
		}
	}
	for n, want := range []string{"made: h", "made: hay"} {
		if got, err := os.ReadFile(filepath.Join(dir, fmt.Sprintf("torn-%d.txt", n+1))); err != nil || string(got) != want {
			t.Errorf("torn-%d.txt holds %q, want %q; %v", n+1, got, want, err)
		}
	}
	if names, _ := os.ReadDir(dir); len(names) != 2 {
		t.Errorf("saved are %v", names)
	}
}

// many returns a journal of n entries of about 500 bytes.
func many(n int) []byte {
	doc := []byte("made: hay fizz\nlot: 0614\nused:\n" + strings.Repeat("  - alpine hay scent oil: 45 g, lot A17\n", 11))
	var b []byte
	seal := noSeal
	for i := range n {
		b = append(b, write(b, i, seal, noon, [][]byte{doc})...)
		seal = string(b[bytes.LastIndex(b, []byte("seal: "))+len("seal: "):][:sealLength])
	}
	return b
}

func BenchmarkRead(b *testing.B) {
	dir := b.TempDir()
	data := many(12_000)
	if err := os.Mkdir(filepath.Join(dir, Folder), 0o755); err != nil {
		b.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, File), data, 0o644); err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		entries, damage := mustRead(b, dir)
		if len(entries) != 12_000 || len(damage) > 0 {
			b.Fatalf("%d entries, %v", len(entries), damage)
		}
	}
}

// BenchmarkAppend appends to a journal of 12,000 entries.
func BenchmarkAppend(b *testing.B) {
	dir := b.TempDir()
	if err := os.Mkdir(filepath.Join(dir, Folder), 0o755); err != nil {
		b.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, File), many(12_000), 0o644); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		mustAppend(b, dir, "made: hay fizz\nlot: 0614\n")
	}
}
