package keep

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Restore writes the book into the folder dir, which must not exist, or be empty; the folder it is to stand in
// must exist. Everything is written into a folder beside it, compared with the manifest once more, and put on
// the disk; then that is renamed. If anything fails dir is what it was.
func (k *Kept) Restore(dir string) (err error) {
	dir, err = filepath.Abs(dir)
	if err != nil {
		return err
	}
	exists, err := emptyFolder(dir)
	if err != nil {
		return err
	}
	aside, err := os.MkdirTemp(filepath.Dir(dir), ".restore-*")
	if err != nil {
		return notWritten(dir, err)
	}
	defer os.RemoveAll(aside)
	whole := filepath.Join(aside, folder)
	if err := k.unpack(whole); err != nil {
		return err
	}
	if exists {
		if err := os.Remove(dir); err != nil { // not every system renames over an empty folder
			return notWritten(dir, err)
		}
	}
	if err := os.Rename(whole, dir); err != nil {
		if exists {
			os.Mkdir(dir, 0o777)
		}
		return notWritten(dir, err)
	}
	syncFolder(filepath.Dir(dir))
	return nil
}

// emptyFolder reports whether dir is there. It may be only an empty folder.
func emptyFolder(dir string) (bool, error) {
	info, err := os.Lstat(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	if !info.IsDir() {
		return false, fmt.Errorf("%s is there already and is no folder; nothing was written. Name a new folder", dir)
	}
	names, err := os.ReadDir(dir)
	if err == nil && len(names) > 0 {
		err = fmt.Errorf("the folder %s is not empty; nothing was written. Name a new folder", dir)
	}
	return true, err
}

// unpack writes the book into a new folder.
func (k *Kept) unpack(dir string) error {
	if err := os.Mkdir(dir, 0o777); err != nil {
		return notWritten(dir, err)
	}
	for _, z := range k.zip.File {
		f, ok := k.Manifest.find(inBook(z.Name))
		if !ok {
			continue // the manifest, or a folder
		}
		name, err := filepath.Localize(f.Name)
		if err != nil {
			return fmt.Errorf("%s: this system cannot have a file of that name", f.Name)
		}
		if err := unpackFile(filepath.Join(dir, name), func(out *os.File) error { return prove(z, f, out) }); err != nil {
			return notWritten(f.Name, err)
		}
	}
	return filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		if err == nil && e.IsDir() {
			syncFolder(name)
		}
		return err
	})
}

// unpackFile writes one file, which must not be there: two names may be one on a system that does not tell
// capitals from small letters.
func unpackFile(name string, write func(*os.File) error) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
		return err
	}
	out, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	err = write(out)
	if err == nil {
		err = out.Sync()
	}
	if cerr := out.Close(); err == nil {
		err = cerr
	}
	return err
}

// notWritten names what was to be written instead of what stands in for it until all is there.
func notWritten(name string, err error) error {
	if pe, ok := errors.AsType[*fs.PathError](err); ok {
		err = pe.Err
	} else if le, ok := errors.AsType[*os.LinkError](err); ok {
		err = le.Err
	}
	return fmt.Errorf("nothing was restored: %w", &fs.PathError{Op: "write", Path: name, Err: err})
}

// syncFolder puts the names in a folder on the disk, where the system can do that; where it cannot it needs not.
func syncFolder(name string) {
	if f, err := os.Open(name); err == nil {
		f.Sync()
		f.Close()
	}
}
