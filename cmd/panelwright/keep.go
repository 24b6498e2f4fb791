package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"panelwright/formula/date"
	"panelwright/label/record/keep"
)

// keepBook puts the whole book into one file beside it, and reads that back.
func keepBook(c *call) (int, error) {
	if len(c.args) > 1 {
		return exitFailed, usageError(fmt.Sprintf("one book at a time; %q is one too many", c.args[1]))
	}
	dir := "."
	if len(c.args) > 0 {
		dir = c.args[0]
	}
	if err := isBook(dir); err != nil {
		return exitFailed, err
	}
	target, err := keptName(dir, c.dir, c.on)
	if err != nil {
		return exitFailed, err
	}
	m, err := writeKept(target, dir, c.on)
	if err != nil {
		return exitFailed, err
	}
	if c.json {
		return exitClean, c.keptJSON(m, target, "")
	}
	fmt.Fprintf(c.out, "KEPT: %s, %s, as of %s, read back and whole\n"+
		"file:        %s\nfingerprint: %s (write it down elsewhere; restore says it again)\n"+
		"next: put the file on another disk; panelwright restore FILE DIR gets the book back\n",
		countOf(len(m.Files), "file"), byteCount(m.Bytes()), m.Kept, target, m.Fingerprint())
	return exitClean, nil
}

// isBook returns an error if dir is no folder with a book in it. A faulty book can be kept too.
func isBook(dir string) error {
	info, err := os.Stat(dir)
	if err != nil {
		return noBook(dir, err)
	}
	if !info.IsDir() {
		return fmt.Errorf("%s is one file; keep wants the folder that holds the book, with all that belongs to it", dir)
	}
	found := errors.New("found")
	err = filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() && (filepath.Ext(name) == ".yaml" || filepath.Ext(name) == ".yml") {
			return found
		}
		return err
	})
	if err == nil {
		return fmt.Errorf("there is no *.yaml file in %s, so it is no book; nothing was kept", dir)
	}
	if err != found {
		return err
	}
	return nil
}

// keptName returns the file to keep the book in: the one asked for, or one in the folder asked for, or one
// beside the book. It is new and not in the book.
func keptName(dir, asked string, on date.Date) (string, error) {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	base := filepath.Base(abs)
	if base == string(filepath.Separator) || base == "." {
		base = "book"
	}
	base = strings.TrimLeft(base, ".") + "-kept-" + on.String()
	target := asked
	if info, err := os.Stat(asked); asked == "" {
		target, err = firstFree(filepath.Join(filepath.Dir(abs), base), ".zip")
		if err != nil {
			return "", err
		}
		target = fromHere(target)
	} else if err == nil && info.IsDir() {
		if target, err = firstFree(filepath.Join(asked, base), ".zip"); err != nil {
			return "", err
		}
	} else if _, err := os.Lstat(asked); err == nil {
		return "", fmt.Errorf("%s is there already; nothing was kept. Name a new file", asked)
	}
	if liesIn(abs, target) {
		return "", fmt.Errorf("%s is inside the book and would be lost with it; nothing was kept. Name a file elsewhere with --out", target)
	}
	return target, nil
}

// firstFree returns the first of name.zip, name-2.zip and so on that is not there.
func firstFree(name, ext string) (string, error) {
	for n := 1; ; n++ {
		free := name + ext
		if n > 1 {
			free = fmt.Sprintf("%s-%d%s", name, n, ext)
		}
		if _, err := os.Lstat(free); errors.Is(err, fs.ErrNotExist) {
			return free, nil
		} else if err != nil {
			return "", err
		}
	}
}

// fromHere writes a path as seen from the working folder, if that is shorter.
func fromHere(path string) string {
	here, err := os.Getwd()
	if err != nil {
		return path
	}
	if rel, err := filepath.Rel(here, path); err == nil && len(rel) < len(path) {
		return rel
	}
	return path
}

// liesIn reports whether a file would lie in a folder, links followed.
func liesIn(dir, file string) bool {
	real, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return false // it is not there
	}
	parent, err := filepath.Abs(filepath.Dir(file))
	if err == nil {
		parent, err = filepath.EvalSymlinks(parent)
	}
	if err != nil {
		return false // and cannot be written either
	}
	rel, err := filepath.Rel(real, parent)
	return err == nil && filepath.IsLocal(rel)
}

// writeKept writes the archive into a temporary file beside target, opens it as restore would, and renames it.
func writeKept(target, dir string, on date.Date) (keep.Manifest, error) {
	f, err := os.CreateTemp(filepath.Dir(target), ".part-*")
	if err != nil {
		return keep.Manifest{}, notWritten(target, err)
	}
	defer os.Remove(f.Name())
	defer f.Close()
	m, err := keep.Write(f, os.DirFS(dir), on)
	if pe, ok := errors.AsType[*fs.PathError](err); ok && pe.Path == f.Name() {
		return m, notWritten(target, err)
	}
	if err != nil {
		return m, fmt.Errorf("nothing was kept: %w", err)
	}
	if err := f.Sync(); err != nil {
		return m, notWritten(target, err)
	}
	if _, err := openKept(f, target); err != nil {
		return m, err
	}
	err = f.Close()
	if err == nil {
		err = os.Chmod(f.Name(), 0o644)
	}
	if err == nil {
		err = os.Rename(f.Name(), target)
	}
	if err != nil {
		return m, notWritten(target, err)
	}
	return m, nil
}

// openKept proves the archive in f whole.
func openKept(f *os.File, name string) (*keep.Kept, error) {
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	k, err := keep.Open(f, info.Size())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return k, nil
}

// restoreBook proves a kept book whole and writes it into a new folder. Without a folder it only proves it.
func restoreBook(c *call) (int, error) {
	if len(c.args) < 1 || len(c.args) > 2 {
		return exitFailed, usageError("restore wants the file of a kept book and the folder to write it into")
	}
	f, err := os.Open(c.args[0])
	if err != nil {
		return exitFailed, err
	}
	defer f.Close()
	k, err := openKept(f, c.args[0])
	if faults, ok := errors.AsType[keep.Faults](err); ok {
		return exitFailed, c.notWhole(c.args[0], faults)
	}
	if err != nil {
		return exitFailed, err
	}
	dir := ""
	if len(c.args) == 2 {
		dir = c.args[1]
		if err := k.Restore(dir); err != nil {
			return exitFailed, err
		}
	}
	m := k.Manifest
	if c.json {
		return exitClean, c.keptJSON(m, c.args[0], dir)
	}
	fmt.Fprintf(c.out, "WHOLE: %s, all as kept on %s\nfingerprint: %s\n", countOf(len(m.Files), "file"), m.Kept, m.Fingerprint())
	if dir == "" {
		fmt.Fprintln(c.out, "nothing was written; name a folder to restore it into")
		return exitClean, nil
	}
	fmt.Fprintf(c.out, "restored into %s\nnext: panelwright check %s\n", dir, dir)
	return exitClean, nil
}

// notWhole says what is wrong with a kept book, one line each.
func (c *call) notWhole(name string, faults keep.Faults) error {
	for i, f := range faults {
		if i == mostProblems {
			fmt.Fprintf(c.err, "and %d more\n", len(faults)-i)
			break
		}
		fmt.Fprintf(c.err, "%s: %s\n", name, f)
	}
	return fmt.Errorf("%s is not whole: %s; nothing was restored. Take another copy", name, countOf(len(faults), "fault"))
}

// jsonKept is the stable shape of keep --json and restore --json.
type jsonKept struct {
	File        string    `json:"file"`
	Kept        date.Date `json:"kept"`
	Files       int       `json:"files"`
	Bytes       int64     `json:"bytes"`
	Fingerprint string    `json:"fingerprint"`
	Folder      string    `json:"folder,omitempty"` // restored into
}

func (c *call) keptJSON(m keep.Manifest, file, dir string) error {
	text, err := marshal(jsonKept{file, m.Kept, len(m.Files), m.Bytes(), m.Fingerprint(), dir}, "")
	if err == nil {
		_, err = fmt.Fprintf(c.out, "%s\n", text)
	}
	return err
}

// countOf writes a number and what is counted.
func countOf(n int, word string) string { return fmt.Sprintf("%d %s", n, plural(n, word)) }

// byteCount writes a number of bytes for a person, whole units rounded up.
func byteCount(n int64) string {
	switch {
	case n < 10_000:
		return fmt.Sprintf("%d bytes", n)
	case n < 10_000_000:
		return fmt.Sprintf("%d kB", (n+999)/1000)
	}
	return fmt.Sprintf("%d MB", (n+999_999)/1_000_000)
}
