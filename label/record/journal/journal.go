// Package journal keeps the one file that a workshop may never lose: what was made, weighed, corrected and
// approved, entry by entry. It knows bytes only; what an entry means is for others.
//
//	first, err := journal.Append(book, "2026-06-14 12:30", []byte("made: hay fizz\nlot: 0614\n"))
//	entries, damage, err := journal.Read(book)
//
// # The file
//
// The file is records/journal.yaml in the folder of the book. It is YAML of several documents that a person
// can read: every document is followed by a second, short one that numbers and seals it.
//
//	---
//	made: hay fizz
//	lot: 0614
//	---
//	entry: 17
//	recorded: 2026-06-14 12:30
//	seal: 3f9a61c2d4e5f607 after 90c1d6b2e0a37f54
//
// Entries are only ever added. A correction is a new entry. The seal is the beginning of the SHA-256 of the
// seal before it, the number, the time recorded and the text, so that an entry that was edited, removed,
// moved or put in by hand shows. Line ends do not count. The seal shows accidents and edits; it is no
// signature: who knows how it is made can make another. Last entries that were taken off cleanly do not show.
// Comments and blank lines between entries are nobody's harm.
//
// # What it promises
//
// Append writes all its documents or none, and returns when they are on the disk. It holds a lock on the
// file meanwhile, so two writers take turns; AppendIf keeps those apart that judged the same state. A writer
// killed at any moment leaves a torn tail, which is no entry: several documents appended together are
// numbered “17 of 17-19”, and count only when the last is there. The next Append puts the torn bytes into
// a file records/torn-1.txt of their own and cuts them off. On a full disk the file is cut back to what it
// was. Read returns every good entry, whatever stands between them.
package journal

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/rogpeppe/go-internal/lockedfile"
)

// Names in the folder of a book, with slashes.
const (
	Folder = "records"              // holds the journal and what was torn off it
	File   = "records/journal.yaml" // the journal
)

// Entry is one document of the journal.
type Entry struct {
	Number   int    // from 1, in the order recorded
	Recorded string // when, as the writer gave it
	Text     []byte // the document as given, its line ends normalised
	Line     int    // the first line of Text in the file, from 1
	Seal     string // as it stands in the file, 16 hexadecimal digits; empty where it cannot be read
	Changed  bool   // the entry no longer matches its seal: it was changed by hand after it was recorded
}

// Damage is something in the file that is no entry, or an entry that should be there. Entries that were
// changed are no damage: they say so themselves.
type Damage struct {
	Line    int    // where in the file, from 1
	Message string // what is wrong
	Cure    string // what to do
}

// Read returns the entries of the journal in the book's folder dir, in the order of their numbers, and what
// is damaged, in the order of the file. A book without a journal has no entries. It waits while somebody
// appends. The error is about reading the file, never about what is in it.
func Read(dir string) ([]Entry, []Damage, error) {
	data, err := readFile(filepath.Join(dir, filepath.FromSlash(File)))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, nil
	}
	if err != nil {
		return nil, nil, err
	}
	entries, damage := Parse(data)
	return entries, damage, nil
}

// readFile reads under a shared lock, where the disk knows locks.
func readFile(name string) ([]byte, error) {
	f, err := lockedfile.Open(name)
	if errors.Is(err, errors.ErrUnsupported) {
		return os.ReadFile(name)
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	data := make([]byte, info.Size())
	if _, err := io.ReadFull(f, data); err != nil {
		return nil, &fs.PathError{Op: "read", Path: name, Err: err}
	}
	return data, nil
}

// Parse returns what Read returns, of the bytes of a journal.
func Parse(data []byte) ([]Entry, []Damage) {
	c := read(data)
	return c.entries, c.damage
}
