package book

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"panelwright/formula/finding"
	"panelwright/formula/outside"
)

// hostile are files that try to fill the memory or the day, and the rule that
// refuses each.
var hostile = []struct {
	name string
	rule finding.Code
	data func() []byte
}{
	{"alias bomb", "book.anchor", func() []byte {
		b := []byte("product: bomb\na0: &a0 [x, x, x, x, x, x, x, x, x]\n")
		for i := 1; i < 30; i++ {
			b = fmt.Appendf(b, "a%d: &a%d [%s]\n", i, i, strings.Repeat(fmt.Sprintf("*a%d,", i-1), 9))
		}
		return b
	}},
	{"nested brackets", "book.depth", func() []byte { return []byte("product: x\npiece: " + strings.Repeat("[", 1<<15)) }},
	{"nested braces", "book.depth", func() []byte { return []byte("product: x\npiece: " + strings.Repeat("{a: ", 1<<13)) }},
	{"brackets line by line", "book.depth", func() []byte { return []byte("product: x\npiece:\n" + strings.Repeat(" [\n", 1<<17)) }},
	{"nested dashes", "book.depth", func() []byte { return []byte("product: x\npiece:\n  " + strings.Repeat("- ", 1<<13)) }},
	{"nested question marks", "book.depth", func() []byte { return []byte(strings.Repeat("? ", 1<<14) + "a") }},
	{"nested indents", "book.depth", func() []byte {
		var b bytes.Buffer
		for i := range 2000 {
			b.WriteString(strings.Repeat(" ", i) + "a:\n")
		}
		return b.Bytes()
	}},
	{"too large", "book.size", func() []byte { return bytes.Repeat([]byte("product: x\n"), 1<<20) }},
	{"too many commas", "book.size", func() []byte { return []byte("product: x\npiece: [" + strings.Repeat("a,", 4_000_000) + "]\n") }},
	{"too many lines", "book.size", func() []byte { return bytes.Repeat([]byte("- a\n"), 2_000_000) }},
	{"too many notes", "book.size", func() []byte { return bytes.Repeat([]byte(" # a\n"), 1_600_000) }},
	{"too many documents", "book.size", func() []byte { return bytes.Repeat([]byte("---\na\n"), 60_000) }},
	{"one long line", "book.size", func() []byte { return []byte("product: x\ntitle: " + strings.Repeat("a ", 4_000_000)) }},
	{"UTF-16", "book.encoding", func() []byte { return bytes.Repeat([]byte("p\x00r\x00o\x00"), 1<<20) }},
	{"not text", "book.encoding", func() []byte { return bytes.Repeat([]byte{0xff, 0xc0, 'a', '\n'}, 1<<20) }},
}

// Every hostile file is refused with its rule, and what is allocated on the way
// stays under 50 MB. How long it takes is BenchmarkHostile's to say.
func TestHostileFiles(t *testing.T) {
	for _, c := range hostile {
		t.Run(c.name, func(t *testing.T) {
			files := []File{{"hostile.yaml", c.data()}}
			var before, after runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&before)
			_, out := LoadFiles(files)
			runtime.ReadMemStats(&after)
			if len(out) == 0 || out[0].Rule != c.rule && out[len(out)-1].Rule != c.rule {
				t.Errorf("found %d: %v; want %s", len(out), lines(out[:min(3, len(out))]), c.rule)
			}
			for _, f := range out {
				if f.Where.File != "hostile.yaml" || f.Where.Line == 0 {
					t.Fatalf("no place: %+v", f)
				}
			}
			if got := after.TotalAlloc - before.TotalAlloc; got > 50<<20 {
				t.Errorf("%d MB were allocated", got>>20)
			}
		})
	}
}

func BenchmarkHostile(b *testing.B) {
	for _, c := range hostile {
		files := []File{{"hostile.yaml", c.data()}}
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				LoadFiles(files)
			}
		})
	}
}

// A file that is too large is refused by its size, without reading it.
func TestLargeFileIsNotRead(t *testing.T) {
	dir := t.TempDir()
	f, err := os.Create(filepath.Join(dir, "large.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Truncate(1 << 32); err != nil { // sparse: takes no room
		outside.Missing(t, fmt.Sprint("no sparse files here: ", err))
	}
	f.Close()
	_, out := Load(dir)
	if len(out) != 1 || out[0].Rule != "book.file" || !strings.Contains(out[0].Message, "4096 MB") {
		t.Errorf("found %v", lines(out))
	}
}

func FuzzLoad(f *testing.F) {
	seeds, err := filepath.Glob("testdata/says/*.txt")
	if err != nil {
		f.Fatal(err)
	}
	for _, name := range seeds {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		_, parts := sections(string(data))
		f.Add(parts[0].Data)
	}
	design, err := os.ReadFile("testdata/design.yaml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(design)
	f.Add([]byte("\ufeffproduct: x\r\nlot: 5\r\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, out := LoadFiles([]File{{"f.yaml", data}})
		for _, x := range out {
			if x.Where.File != "f.yaml" || x.Where.Line < 1 || x.Message == "" || x.Cure == "" {
				t.Fatalf("no place, message or cure: %+v", x)
			}
		}
		for _, p := range b.Products {
			if p.Name == "" || len(p.Piece.Lines) == 0 {
				t.Fatalf("an unfinished product was let through: %+v", p)
			}
		}
		again, out2 := LoadFiles([]File{{"f.yaml", data}})
		if again.Fingerprint != b.Fingerprint || strings.Join(lines(out), "\n") != strings.Join(lines(out2), "\n") {
			t.Fatal("the same file gave two answers")
		}
	})
}
