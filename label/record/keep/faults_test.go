package keep

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"math/rand"
	"strings"
	"testing"
	"testing/fstest"
)

// entry is a file of an archive that the tests write by hand.
type entry struct {
	name, data string
	mode       fs.FileMode
	says       int  // bytes that the archive says the file has; as it is if 0
	packed     bool // data is deflated
}

// byHand writes an archive that may be anything.
func byHand(t testing.TB, entries ...entry) []byte {
	t.Helper()
	var b bytes.Buffer
	zw := zip.NewWriter(&b)
	for _, e := range entries {
		h := &zip.FileHeader{Name: e.name, Method: zip.Store, CRC32: crc32.ChecksumIEEE([]byte(e.data)),
			CompressedSize64: uint64(len(e.data)), UncompressedSize64: uint64(len(e.data))}
		if e.packed {
			h.Method = zip.Deflate
		}
		if e.says != 0 {
			h.UncompressedSize64 = uint64(e.says)
		}
		h.SetMode(e.mode | 0o644)
		w, err := zw.CreateRaw(h)
		if err == nil {
			_, err = w.Write([]byte(e.data))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := zw.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func deflated(t *testing.T, s string) string {
	t.Helper()
	var b bytes.Buffer
	w, err := flate.NewWriter(&b, flate.BestCompression)
	if err == nil {
		_, err = w.Write([]byte(s))
	}
	if err == nil {
		err = w.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestFaults(t *testing.T) {
	m := mustOpen(t, archive(t, fstest.MapFS{"a.yaml": {Data: []byte("a\n")}, "b/c.yaml": {Data: []byte("c\n")}})).Manifest
	list := entry{name: "MANIFEST", data: m.String()}
	a, c := entry{name: "book/a.yaml", data: "a\n"}, entry{name: "book/b/c.yaml", data: "c\n"}
	if _, err := open(byHand(t, c, a, list)); err != nil {
		t.Fatalf("the archive without a fault: %v", err)
	}
	if _, err := open(byHand(t, entry{name: "book/", mode: fs.ModeDir}, a, entry{name: "book/b/", mode: fs.ModeDir}, c, list)); err != nil {
		t.Fatalf("packed again, with its folders: %v", err)
	}
	other := func(old, new string) entry {
		if !strings.Contains(list.data, old) {
			t.Fatalf("%q is not in the manifest", old)
		}
		return entry{name: "MANIFEST", data: strings.ReplaceAll(list.data, old, new)}
	}
	for _, tt := range []struct {
		name    string
		entries []entry
		want    string // "" of Faults: the error itself
	}{
		{"missing", []entry{a, list}, "b/c.yaml: it is missing"},
		{"two missing", []entry{list}, "a.yaml: it is missing, and 1 more"},
		{"changed", []entry{a, {name: c.name, data: "d\n"}, list}, "b/c.yaml: it was changed since it was kept"},
		{"longer", []entry{a, {name: c.name, data: "c\nd\n"}, list}, "b/c.yaml: it has 4 bytes; 2 were kept"},
		{"longer than it says", []entry{a, {name: c.name, data: deflated(t, strings.Repeat("c", 1<<24)), says: 2, packed: true}, list}, "b/c.yaml: it was changed since it was kept"},
		{"shorter than it says", []entry{a, {name: c.name, data: "c", says: 2}, list}, "b/c.yaml: it was changed since it was kept"},
		{"extra", []entry{a, c, {name: "book/d.yaml", data: "d\n"}, list}, "book/d.yaml: it is in the archive, but not in the manifest"},
		{"extra folder", []entry{a, c, {name: "book/d/", mode: fs.ModeDir}, list}, "book/d/: it is in the archive, but not in the manifest"},
		{"beside the book", []entry{a, c, {name: "README", data: "d\n"}, list}, "README: it is in the archive, but not in the manifest"},
		{"up and out", []entry{a, c, {name: "book/../../d.yaml", data: "d\n"}, list}, "book/../../d.yaml: it is in the archive, but not in the manifest"},
		{"absolute", []entry{a, c, {name: "/etc/d.yaml", data: "d\n"}, list}, "/etc/d.yaml: it is in the archive"},
		{"backslash", []entry{a, c, {name: `book\d.yaml`, data: "d\n"}, list}, `book\d.yaml: it is in the archive`},
		{"twice", []entry{a, c, a, list}, "book/a.yaml: it is in the archive twice"},
		{"two manifests", []entry{a, c, list, other("a.yaml", "d.yaml")}, "MANIFEST: it is in the archive twice"},
		{"link", []entry{a, {name: c.name, data: "c\n", mode: fs.ModeSymlink}, list}, "b/c.yaml: it is no plain file"},
		{"no manifest", []entry{a, c}, "it is no kept book: there is no MANIFEST in it"},
		{"manifest of another program", []entry{a, c, {name: "MANIFEST", data: "a.yaml\n"}}, "MANIFEST: it does not begin as that of a kept book"},
		{"manifest: empty", []entry{{name: "MANIFEST", data: strings.SplitAfter(list.data, "\n")[0]}}, "MANIFEST: it lists 0 files"},
		{"manifest: no such day", []entry{a, c, other("2026-11-25", "2026-11-31")}, "MANIFEST: there is no day 2026-11-31"},
		{"manifest: up and out", []entry{a, c, other("book/a.yaml", "book/../a.yaml")}, `MANIFEST: "../a.yaml" is no name inside a book`},
		{"manifest: absolute", []entry{a, c, other("book/a.yaml", "book//a.yaml")}, `MANIFEST: "/a.yaml" is no name inside a book`},
		{"manifest: backslash", []entry{a, c, other("book/b/c.yaml", `book/b\c.yaml`)}, `MANIFEST: "b\\c.yaml" has a backslash`},
		{"manifest: twice", []entry{a, c, other("b/c.yaml", "a.yaml")}, "MANIFEST: a.yaml stands twice"},
		{"manifest: file and folder", []entry{a, c, other("a.yaml", "b")}, "MANIFEST: b is a file and a folder"},
		{"manifest: no size", []entry{a, c, other("# 2 bytes", "# two bytes")}, "MANIFEST: line 2 is \"# two bytes\" and not a size"},
		{"manifest: no sum", []entry{a, c, other(m.Files[0].SHA256, "0")}, "MANIFEST: line 3 is"},
		{"manifest: less than nothing", []entry{a, c, other("# 2 bytes", "# -2 bytes")}, "MANIFEST: a.yaml is said to have -2 bytes"},
		{"manifest: more than all disks", []entry{a, c, other("# 2 bytes", "# 9000000000000000000 bytes")}, "MANIFEST: a.yaml is said to have 9000000000000000000 bytes"},
		{"manifest: too much together", []entry{a, c, other("# 2 bytes", "# 8000000000 bytes")}, "MANIFEST: all files together are said to have 16000000000 bytes"},
		{"manifest: wrong count", []entry{a, c, other("2 files", "3 files")}, "MANIFEST: what it says of itself"},
		{"manifest: other sum", []entry{a, c, other(m.Files[0].SHA256, m.Files[1].SHA256)}, "a.yaml: it was changed since it was kept"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			k, err := open(byHand(t, tt.entries...))
			if k != nil || err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("%v\nwant %q", err, tt.want)
			}
			if _, ok := errors.AsType[Faults](err); ok == strings.HasPrefix(tt.want, "it is no") {
				t.Errorf("the error is Faults: %v", ok)
			}
		})
	}
}

// An archive cut off anywhere is refused.
func TestCutOff(t *testing.T) {
	data := archive(t, workshop())
	for at := range len(data) {
		if _, err := open(data[:at]); err == nil {
			t.Fatalf("cut off at %d of %d bytes it is whole", at, len(data))
		}
	}
}

// Bytes that change either show, or are none of the book's: the time of a file, or an unused field.
func TestFlipped(t *testing.T) {
	data := archive(t, workshop())
	whole := mustOpen(t, data).Manifest.String()
	rnd := rand.New(rand.NewSource(6))
	found := 0
	for range 2000 {
		bad := bytes.Clone(data)
		bad[rnd.Intn(len(bad))] ^= byte(1 + rnd.Intn(255))
		k, err := open(bad)
		if err != nil {
			found++
			continue
		}
		if k.Manifest.String() != whole {
			t.Fatal("a changed manifest is whole")
		}
		if err := sameBook(k.FS()); err != nil {
			t.Fatal(err)
		}
	}
	if found < 1000 {
		t.Errorf("only %d of 2000 archives were refused", found)
	}
}

// sameBook says which file of the invented book is another one in fsys.
func sameBook(fsys fs.FS) error {
	for name, f := range workshop() {
		data, err := fs.ReadFile(fsys, name)
		if !bytes.Equal(data, f.Data) && !errors.Is(err, fs.ErrNotExist) || err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("%s is another file: %v", name, err)
		}
	}
	return nil
}

func FuzzOpen(f *testing.F) {
	f.Add(archive(f, workshop()))
	f.Add(byHand(f, entry{name: "MANIFEST", data: "# panelwright book kept on 2026-11-25 with 1 files of 0 bytes; to check an unpacked copy: sha256sum -c MANIFEST\n"}))
	f.Fuzz(func(t *testing.T, data []byte) {
		k, err := open(data)
		if err != nil {
			return
		}
		for _, file := range k.Manifest.Files {
			if got, err := fs.ReadFile(k.FS(), file.Name); err != nil || int64(len(got)) != file.Size {
				t.Errorf("%s: %d bytes, %v", file.Name, len(got), err)
			}
		}
	})
}
