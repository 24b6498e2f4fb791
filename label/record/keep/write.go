package keep

import (
	"archive/zip"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"time"

	"panelwright/formula/date"
)

// Write writes the archive of the book in fsys, kept on a day, and returns what is in it. It reads every file
// once. The error names the file that could not be kept; what was written by then is no archive.
func Write(w io.Writer, fsys fs.FS, kept date.Date) (Manifest, error) {
	m := Manifest{Kept: kept}
	names, err := names(fsys)
	if err != nil {
		return m, err
	}
	zw := zip.NewWriter(w)
	for _, name := range names {
		f, err := add(zw, fsys, name, kept)
		if err != nil {
			return m, err
		}
		m.Files = append(m.Files, f)
	}
	if err := m.check(); err != nil {
		return m, err
	}
	out, err := create(zw, manifestName, kept)
	if err == nil {
		_, err = io.WriteString(out, m.String())
	}
	if err == nil {
		err = zw.Close()
	}
	return m, err
}

// names returns the files of the book, sorted.
func names(fsys fs.FS) ([]string, error) {
	var names []string
	err := fs.WalkDir(fsys, ".", func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case name == ".":
			return nil
		case strings.HasPrefix(e.Name(), "."), e.IsDir() && name == "printed":
			if e.IsDir() {
				return fs.SkipDir
			}
			return nil
		case e.IsDir():
			return nil
		}
		mode := e.Type()
		if mode&fs.ModeSymlink != 0 {
			info, err := fs.Stat(fsys, name) // of what it leads to
			if err != nil {
				return fmt.Errorf("%s is a link that leads nowhere", name)
			}
			mode = info.Mode().Type()
		}
		if mode != 0 {
			return fmt.Errorf("%s is neither a file nor a folder; only files can be kept: put the files themselves there", name)
		}
		if err := fitName(name); err != nil {
			return err
		}
		names = append(names, name)
		return nil
	})
	if err != nil {
		return nil, err
	}
	if len(names) == 0 {
		return nil, errors.New("there is no file here to keep")
	}
	slices.Sort(names)
	return names, nil
}

// add copies one file into the archive.
func add(zw *zip.Writer, fsys fs.FS, name string, kept date.Date) (File, error) {
	f := File{Name: name}
	in, err := fsys.Open(name)
	if err != nil {
		return f, err
	}
	defer in.Close()
	out, err := create(zw, folder+"/"+name, kept)
	if err != nil {
		return f, err
	}
	sum := sha256.New()
	if f.Size, err = io.Copy(io.MultiWriter(out, sum), in); err != nil {
		if _, named := errors.AsType[*fs.PathError](err); !named {
			err = &fs.PathError{Op: "read", Path: name, Err: err}
		}
		return f, err
	}
	f.SHA256 = hex.EncodeToString(sum.Sum(nil))
	return f, nil
}

func create(zw *zip.Writer, name string, kept date.Date) (io.Writer, error) {
	h := &zip.FileHeader{Name: name, Method: zip.Deflate,
		Modified: time.Date(kept.Year(), time.Month(kept.Month()), kept.Day(), 0, 0, 0, 0, time.UTC)}
	h.SetMode(0o644)
	return zw.CreateHeader(h)
}
