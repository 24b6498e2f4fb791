package keep

import (
	"archive/zip"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// Kept is an archive that was proved whole.
type Kept struct {
	Manifest Manifest
	zip      *zip.Reader
}

// Faults is an archive that is not whole: everything that is wrong with it.
type Faults []Fault

// Fault is what is wrong with one file of an archive.
type Fault struct {
	Name    string // of the file in the book, or in the archive if it is none of the book
	Message string
}

func (f Fault) String() string { return f.Name + ": " + f.Message }

func (f Faults) Error() string {
	if len(f) == 1 {
		return "the kept book is not whole: " + f[0].String()
	}
	return fmt.Sprintf("the kept book is not whole: %s, and %d more", f[0], len(f)-1)
}

// Open reads an archive of size bytes and proves it whole: every file of the manifest is there, of the size
// and with the contents that were kept, and nothing else is. The error is a Faults if the archive can be
// read but is not whole. No file is unpacked further than its size in the manifest.
func Open(r io.ReaderAt, size int64) (*Kept, error) {
	zr, err := zip.NewReader(r, size)
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) { // such names are found below
		return nil, fmt.Errorf("it is no kept book, or its end is missing (%w)", err)
	}
	k := &Kept{zip: zr}
	if k.Manifest, err = manifestIn(zr); err != nil {
		return nil, err
	}
	if faults := k.compare(); len(faults) > 0 {
		return nil, faults
	}
	return k, nil
}

// manifestIn reads the manifest of an archive.
func manifestIn(zr *zip.Reader) (Manifest, error) {
	i := slices.IndexFunc(zr.File, func(f *zip.File) bool { return f.Name == manifestName })
	if i < 0 {
		return Manifest{}, fmt.Errorf("it is no kept book: there is no %s in it", manifestName)
	}
	text, err := readBounded(zr.File[i], mostManifest)
	if err != nil {
		return Manifest{}, Faults{{manifestName, err.Error()}}
	}
	m, err := parseManifest(string(text))
	if err != nil {
		return Manifest{}, Faults{{manifestName, err.Error()}}
	}
	return m, nil
}

func readBounded(f *zip.File, most int64) ([]byte, error) {
	in, err := f.Open()
	if err != nil {
		return nil, damaged(err)
	}
	defer in.Close()
	text, err := io.ReadAll(io.LimitReader(in, most+1))
	if err != nil {
		return nil, damaged(err)
	}
	if int64(len(text)) > most {
		return nil, fmt.Errorf("it is longer than %d bytes", most)
	}
	return text, nil
}

// compare compares every file with the manifest.
func (k *Kept) compare() (faults Faults) {
	folders := map[string]bool{folder: true}
	for _, f := range k.Manifest.Files {
		for dir := path.Dir(f.Name); dir != "."; dir = path.Dir(dir) {
			folders[folder+"/"+dir] = true
		}
	}
	seen := map[string]bool{}
	for _, z := range k.zip.File {
		name := inBook(z.Name)
		f, listed := k.Manifest.find(name)
		switch dir, isDir := strings.CutSuffix(z.Name, "/"); {
		case seen[z.Name]:
			faults = append(faults, Fault{clip(z.Name), "it is in the archive twice"})
		case z.Name == manifestName, isDir && folders[dir] && z.UncompressedSize64 == 0:
		case !listed:
			faults = append(faults, Fault{clip(z.Name), "it is in the archive, but not in the manifest"})
		default:
			if err := prove(z, f, io.Discard); err != nil {
				faults = append(faults, Fault{name, err.Error()})
			}
		}
		seen[z.Name] = true
	}
	for _, f := range k.Manifest.Files {
		if !seen[folder+"/"+f.Name] {
			faults = append(faults, Fault{f.Name, "it is missing"})
		}
	}
	slices.SortStableFunc(faults, func(a, b Fault) int { return strings.Compare(a.Name, b.Name) })
	return faults
}

// prove copies a file of the archive to w and says how it differs from what was kept.
func prove(z *zip.File, f File, w io.Writer) error {
	if z.Mode().Type() != 0 {
		return errors.New("it is no plain file")
	}
	if z.UncompressedSize64 != uint64(f.Size) {
		return fmt.Errorf("it has %d bytes; %d were kept", z.UncompressedSize64, f.Size)
	}
	in, err := z.Open()
	if err != nil {
		return damaged(err)
	}
	defer in.Close()
	sum := sha256.New()
	_, err = io.Copy(io.MultiWriter(w, sum), io.LimitReader(in, f.Size+1))
	if pe, ok := errors.AsType[*fs.PathError](err); ok && pe.Op == "write" {
		return err // it is w that failed
	}
	switch {
	case errors.Is(err, zip.ErrChecksum), errors.Is(err, zip.ErrFormat), errors.Is(err, io.ErrUnexpectedEOF), // not of the size it says
		err == nil && hex.EncodeToString(sum.Sum(nil)) != f.SHA256:
		return errors.New("it was changed since it was kept")
	case err != nil:
		return damaged(err)
	}
	return nil
}

// damaged wraps an error of reading the archive.
func damaged(err error) error { return fmt.Errorf("it cannot be read: %w", err) }

// FS returns the kept book as a file system, to be read as any book.
func (k *Kept) FS() fs.FS {
	sub, err := fs.Sub(k.zip, folder)
	if err != nil {
		panic(err) // the folder has a valid name
	}
	return sub
}

// inBook returns the name in the book of a name in the archive, or "" if it is none.
func inBook(name string) string {
	in, ok := strings.CutPrefix(name, folder+"/")
	if !ok {
		return ""
	}
	return in
}
