//go:build unix

package book

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"panelwright/formula/outside"
)

// Reading a pipe would wait for ever for its other end: it is refused unopened,
// as a file of the book and as a picture that the book names.
func TestPipeIsNotRead(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe.yaml"), 0o600); err != nil {
		outside.Missing(t, fmt.Sprint("no pipes here: ", err))
	}
	if err := syscall.Mkfifo(filepath.Join(dir, "logo.png"), 0o600); err != nil {
		t.Fatal(err)
	}
	text := "workshop: Sample Tub Works\nsell in: [us]\n---\nproduct: plain fizz\nexposure: rinse-off\n" +
		"piece:\n  - baking soda: 100 g\nlogo: logo.png\n"
	if err := os.WriteFile(filepath.Join(dir, "book.yaml"), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{dir: "pipe.yaml: the file cannot be read: it is a folder, a pipe or a device", filepath.Join(dir, "pipe.yaml"): "pipe.yaml: the file",
		filepath.Join(dir, "book.yaml"): "logo.png” cannot be read: it is a folder, a pipe or a device"} {
		_, out := Load(name)
		if all := strings.Join(lines(out), "\n"); !strings.Contains(all, want) {
			t.Errorf("%s: found %q; want %q", filepath.Base(name), all, want)
		}
	}
}
