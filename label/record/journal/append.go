package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/lockedfile"
)

// head is the first line of a new journal.
const head = "# What was recorded, one entry below the other. To correct one, record a correction: a change by hand shows.\n"

// Moved says that the journal is not in the state that was judged: somebody else has appended, or entries
// were lost. Read it again, judge again, append again.
type Moved struct {
	After int // the last entry that was read
	Last  int // the last entry that is there
}

func (m *Moved) Error() string {
	if m.Last < m.After {
		return fmt.Sprintf("nothing was recorded: the records ended with entry %d when they were read, and now end with entry %d; look at what is missing", m.After, m.Last)
	}
	if m.Last == m.After+1 {
		return fmt.Sprintf("nothing was recorded: entry %d was recorded meanwhile, perhaps in another window; look at it, and record again", m.Last)
	}
	return fmt.Sprintf("nothing was recorded: entries %d to %d were recorded meanwhile, perhaps in another window; look at them, and record again", m.After+1, m.Last)
}

// Append adds the documents to the journal in the book's folder dir, all or none, and returns the number of
// the first when they are safely on the disk. It makes the file, and the folder it is in, but not dir.
//
// A document is UTF-8 text that ends in a line end. It may not hold a line that begins with --- or ..., a mark
// of YAML, nor a line that begins with entry:, recorded: or seal:. Recorded is the time in letters, digits and
// the signs - : . + and blank, written as it is.
func Append(dir, recorded string, docs ...[]byte) (first int, err error) {
	return appendIf(dir, recorded, -1, docs)
}

// AppendIf does what Append does if the last entry is still the one numbered after, 0 for none. That is the
// number of the last entry read, not how many were read: some may be missing. If another one is the last it
// changes nothing and returns an error that is a *Moved.
func AppendIf(dir, recorded string, after int, docs ...[]byte) (first int, err error) {
	if after < 0 {
		return 0, fmt.Errorf("there is no entry %d to append after", after)
	}
	return appendIf(dir, recorded, after, docs)
}

func appendIf(dir, recorded string, after int, docs [][]byte) (int, error) {
	docs, err := accept(recorded, docs)
	if err != nil {
		return 0, err
	}
	if info, err := os.Stat(dir); err != nil {
		return 0, notRecorded(err)
	} else if !info.IsDir() {
		return 0, fmt.Errorf("nothing was recorded: %s is a file; records need a book that is a folder", dir)
	}
	folder := filepath.Join(dir, Folder)
	if err := os.Mkdir(folder, 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
		return 0, notRecorded(err)
	}
	f, err := lockedfile.Edit(filepath.Join(dir, filepath.FromSlash(File)))
	if err != nil {
		return 0, notRecorded(err)
	}
	j := journal{file: f, save: func(torn []byte) error { return saveTorn(folder, torn) }}
	first, err := j.append(recorded, after, docs)
	if cerr := f.Close(); err == nil && cerr != nil {
		return 0, notRecorded(cerr)
	}
	if err == nil && j.fresh {
		syncFolder(folder)
		syncFolder(dir)
	}
	return first, err
}

// file is what append does to the journal's file.
type file interface {
	io.Reader
	io.WriterAt
	Truncate(size int64) error
	Sync() error
}

// journal is the locked file, read from its beginning.
type journal struct {
	file
	save  func(torn []byte) error // puts torn bytes where they are safe
	fresh bool                    // there was no entry
}

// append adds documents that are fit to be added. A step is begun only when the one before it is on the disk.
func (j *journal) append(recorded string, after int, docs [][]byte) (first int, err error) {
	data, err := io.ReadAll(j.file)
	if err != nil {
		return 0, notRecorded(err)
	}
	c := read(data)
	if after >= 0 && c.last != after {
		return 0, &Moved{After: after, Last: c.last}
	}
	if c.last+len(docs) > mostNumber {
		return 0, fmt.Errorf("nothing was recorded: the last entry has the number %d, and there are none after it; put it right in %s", c.last, File)
	}
	if torn := data[c.kept:]; len(torn) > 0 {
		if err := j.save(torn); err != nil {
			return 0, notRecorded(err)
		}
		if err := j.Truncate(int64(c.kept)); err != nil {
			return 0, notRecorded(err)
		}
	}
	j.fresh = c.last == 0
	text := write(data[:c.kept], c.last, c.seal, recorded, docs)
	if _, err = j.WriteAt(text, int64(c.kept)); err == nil {
		err = j.Sync()
	}
	if err != nil {
		// If this fails too, what was written is a torn tail and the next Append takes it off.
		if j.Truncate(int64(c.kept)) == nil {
			j.Sync()
		}
		return 0, notRecorded(err)
	}
	return c.last + 1, nil
}

// write returns the documents as they stand in the file below what is there.
func write(there []byte, last int, seal, recorded string, docs [][]byte) []byte {
	var b []byte
	switch {
	case len(there) == 0:
		b = append(b, head...)
	case there[len(there)-1] != '\n':
		b = append(b, '\n')
	}
	t := trailer{first: last + 1, last: last + len(docs), recorded: recorded, seal: seal}
	for i, doc := range docs {
		t.number, t.after = last+1+i, t.seal
		t.seal = t.sealOf(doc)
		b = append(b, "---\n"...)
		b = append(b, doc...)
		b = t.append(b)
	}
	return b
}

// accept returns the documents with their line ends normalised, or says why one cannot be kept.
func accept(recorded string, docs [][]byte) ([][]byte, error) {
	if len(docs) == 0 {
		return nil, errors.New("there is nothing to record")
	}
	const signs = "0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ-:.+ "
	if recorded == "" || len(recorded) > 60 || strings.Trim(recorded, signs) != "" || strings.Trim(recorded, "-:. ") != recorded ||
		strings.Contains(recorded, ": ") {
		return nil, fmt.Errorf("%q is no time of recording; it has letters, digits and - : . + only", recorded)
	}
	out := make([][]byte, len(docs))
	for i, doc := range docs {
		doc = normalise(doc)
		if err := fit(doc); err != nil {
			return nil, fmt.Errorf("nothing was recorded: %w", err)
		}
		out[i] = doc
	}
	return out, nil
}

// fit says what is wrong with a document.
func fit(doc []byte) error {
	switch {
	case idle(doc):
		return errors.New("the text is empty")
	case doc[len(doc)-1] != '\n':
		return errors.New("the last line of the text has no end")
	case !utf8.Valid(doc) || bytes.IndexByte(doc, 0) >= 0:
		return errors.New("the text holds bytes that are no letters (it is not UTF-8)")
	}
	n := 0
	for line := range bytes.Lines(doc) {
		n++
		for _, mark := range []string{"---", "..."} {
			if rest, ok := bytes.CutPrefix(line, []byte(mark)); ok && bytes.IndexAny(rest, " \t\n") == 0 {
				return fmt.Errorf("line %d of the text begins with %s, which ends a document", n, mark)
			}
		}
		for _, key := range []string{"entry", "recorded", "seal"} {
			if rest, ok := bytes.CutPrefix(line, []byte(key)); ok && bytes.HasPrefix(bytes.TrimLeft(rest, " \t"), []byte(":")) {
				return fmt.Errorf("line %d of the text begins with “%s:”, which the record itself writes", n, key)
			}
		}
	}
	return nil
}

// saveTorn writes torn bytes into the first free file torn-1.txt, torn-2.txt and so on, unless one holds them
// already because a writer was killed between saving and cutting.
func saveTorn(folder string, torn []byte) error {
	for n := 1; ; n++ {
		name := filepath.Join(folder, fmt.Sprintf("torn-%d.txt", n))
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if errors.Is(err, fs.ErrExist) {
			if saved, err := os.ReadFile(name); err != nil || !bytes.Equal(saved, torn) {
				continue
			}
			f, err = os.OpenFile(name, os.O_WRONLY, 0) // and write it again, to have it synced
		}
		if err != nil {
			return err
		}
		_, err = f.Write(torn)
		if err == nil {
			err = f.Sync()
		}
		if cerr := f.Close(); err == nil {
			err = cerr
		}
		if err != nil {
			os.Remove(name)
			return err
		}
		syncFolder(folder)
		return nil
	}
}

// syncFolder puts the names in a folder on the disk, where the system can do that; where it cannot it needs not.
func syncFolder(name string) {
	if f, err := os.Open(name); err == nil {
		f.Sync()
		f.Close()
	}
}

// notRecorded says in plain words that nothing was recorded, and why.
func notRecorded(err error) error {
	if noRoom(err) {
		return fmt.Errorf("nothing was recorded: the disk is full; make room and record again (%w)", err)
	}
	return fmt.Errorf("nothing was recorded: %w", err)
}

// noRoom reports whether a write failed because there is no room for it.
func noRoom(err error) bool {
	const (
		windowsHandleDiskFull syscall.Errno = 39
		windowsDiskFull       syscall.Errno = 112
	)
	for _, full := range []error{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG} {
		if errors.Is(err, full) {
			return true
		}
	}
	return runtime.GOOS == "windows" && (errors.Is(err, windowsDiskFull) || errors.Is(err, windowsHandleDiskFull))
}
