package keep

import (
	"archive/zip"
	"bytes"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/date"
	"panelwright/formula/outside"
)

var day = date.Of(2026, 11, 25)

// workshop is an invented book.
func workshop() fstest.MapFS {
	return fstest.MapFS{
		"workshop.yaml":           {Data: []byte("workshop: Sample Tub Works\n")},
		"sheets/hay.pdf":          {Data: []byte("no real sheet\n")},
		"sheets-old.txt":          {Data: []byte("")},
		"pictures/hay field ü.md": {Data: bytes.Repeat([]byte("hay "), 10_000)},
		"records/journal.yaml":    {Data: []byte("---\nmade: hay fizz\n")},
		"MANIFEST":                {Data: []byte("of last year\n")},
		"more/printed/tag.txt":    {Data: []byte("kept: printed is not at the top\n")},
		"printed/hay-us.pdf":      {Data: []byte("can be made again\n")},
		".git/config":             {Data: []byte("no part of the book\n")},
		"sheets/.part-12":         {Data: []byte("half\n")},
	}
}

func archive(t testing.TB, fsys fs.FS) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := Write(&b, fsys, day); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func open(data []byte) (*Kept, error) { return Open(bytes.NewReader(data), int64(len(data))) }

func mustOpen(t testing.TB, data []byte) *Kept {
	t.Helper()
	k, err := open(data)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// The sums and the fingerprint were worked out with sha256sum.
const manifest = `# panelwright book kept on 2026-11-25 with 7 files of 40105 bytes; to check an unpacked copy: sha256sum -c MANIFEST
# 13 bytes
16497fc0603e17a8ba5cb431889058d3bbe85f1663eb8961a0401bf0c401add0  book/MANIFEST
# 32 bytes
d8e06ecdc4d9e6dc9ad08dfd44395d47699eedfa87f94f76ba6e9b52ef4cf215  book/more/printed/tag.txt
# 40000 bytes
6423ce85c7bf52906f302c510f4adf9d4ed18d7f4eb989b27ab3e0e860fb8851  book/pictures/hay field ü.md
# 19 bytes
9a05c23bf239a9f73cbff79c116907c46155b271c0f5d47e4e997aec0acc1470  book/records/journal.yaml
# 0 bytes
e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855  book/sheets-old.txt
# 14 bytes
f3e036b5441fde9aed2f917626ca7a3a9e69b647e924fdc72c3b8c16ff7a3c8d  book/sheets/hay.pdf
# 27 bytes
f3119b99101abc1b197961f42d62685c2e72099483295326406ce406f5b0e998  book/workshop.yaml
`

func TestManifest(t *testing.T) {
	k := mustOpen(t, archive(t, workshop()))
	if diff := cmp.Diff(manifest, k.Manifest.String()); diff != "" {
		t.Error("want (-), got (+)\n" + diff)
	}
	if got, want := k.Manifest.Fingerprint(), "3b45a94505003299"; got != want {
		t.Errorf("fingerprint %s, want %s", got, want)
	}
}

func TestSameBytes(t *testing.T) {
	a, b := workshop(), workshop()
	for _, f := range b {
		f.ModTime, f.Mode = time.Unix(1e9, 0), 0o600
	}
	if !bytes.Equal(archive(t, a), archive(t, b)) {
		t.Error("the same book is not the same archive")
	}
	again := archive(t, mustOpen(t, archive(t, a)).FS())
	if !bytes.Equal(archive(t, a), again) {
		t.Error("the archive of a kept book is another one")
	}
}

func TestFS(t *testing.T) {
	k := mustOpen(t, archive(t, workshop()))
	if err := fstest.TestFS(k.FS(), "workshop.yaml", "sheets/hay.pdf", "MANIFEST", "records/journal.yaml"); err != nil {
		t.Error(err)
	}
	for name, f := range workshop() {
		data, err := fs.ReadFile(k.FS(), name)
		if strings.HasPrefix(name, ".") || strings.HasPrefix(name, "printed/") || strings.Contains(name, "/.") {
			if err == nil {
				t.Errorf("%s was kept", name)
			}
			continue
		}
		if err != nil || !bytes.Equal(data, f.Data) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestSha256sum unpacks an archive and has the program sha256sum compare it with the manifest.
func TestSha256sum(t *testing.T) {
	outside.Tool(t, "sha256sum")
	data := archive(t, workshop())
	zr, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.CopyFS(dir, zr); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	said := outside.Run(t, "sha256sum", "--strict", "-c", "MANIFEST")
	if n := strings.Count(said, ": OK\n"); n != 7 || strings.Count(said, "\n") != 7 {
		t.Errorf("of 7 files %d are as they were:\n%s", n, said)
	}
}

func TestNotKept(t *testing.T) {
	for _, tt := range []struct {
		name string
		book fs.FS
		want string
	}{
		{"nothing", fstest.MapFS{}, "there is no file here to keep"},
		{"only what is not kept", fstest.MapFS{"printed/a.pdf": {}, ".b": {}}, "there is no file here to keep"},
		{"backslash", fstest.MapFS{`sheets\hay.pdf`: {}}, `"sheets\\hay.pdf" has a backslash`},
		{"line end in a name", fstest.MapFS{"hay\n.pdf": {}}, `"hay\n.pdf" has a sign in it that does not print`},
		{"pipe", fstest.MapFS{"pipe": {Mode: fs.ModeNamedPipe}}, "pipe is neither a file nor a folder"},
		{"link that leads nowhere", fstest.MapFS{"logo.svg": {Data: []byte("gone.svg"), Mode: fs.ModeSymlink}}, "logo.svg is a link that leads nowhere"},
		{"link to a folder", fstest.MapFS{"old": {Data: []byte("new"), Mode: fs.ModeSymlink}, "new/a": {}}, "old is neither a file nor a folder"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := Write(io.Discard, tt.book, day); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want %q", err, tt.want)
			}
		})
	}
	k := mustOpen(t, archive(t, fstest.MapFS{"logo.svg": {Data: []byte("real.txt"), Mode: fs.ModeSymlink}, "real.txt": {Data: []byte("drawn")}}))
	if data, err := fs.ReadFile(k.FS(), "logo.svg"); err != nil || string(data) != "drawn" {
		t.Errorf("a link to a file is kept as %q, %v", data, err)
	}
}

// tree returns the files below dir.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(name)
		rel, _ := filepath.Rel(dir, name)
		out[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestRestore(t *testing.T) {
	k := mustOpen(t, archive(t, workshop()))
	want := map[string]string{}
	for _, f := range k.Manifest.Files {
		want[f.Name] = string(workshop()[f.Name].Data)
	}
	for _, tt := range []struct {
		name string
		make func(dir string) error
		say  string // of the refusal
	}{
		{"new", func(string) error { return nil }, ""},
		{"empty", func(dir string) error { return os.Mkdir(dir, 0o755) }, ""},
		{"not empty", func(dir string) error { return os.CopyFS(dir, fstest.MapFS{"mine.yaml": {Data: []byte("mine\n")}}) }, "is not empty; nothing was written"},
		{"a file", func(dir string) error { return os.WriteFile(dir, []byte("mine\n"), 0o644) }, "is no folder; nothing was written"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			top := t.TempDir()
			dir := filepath.Join(top, "book again")
			if err := tt.make(dir); err != nil {
				t.Fatal(err)
			}
			before := tree(t, top)
			err := k.Restore(dir)
			if tt.say != "" {
				if err == nil || !strings.Contains(err.Error(), tt.say) {
					t.Errorf("error %v, want %q", err, tt.say)
				}
				if diff := cmp.Diff(before, tree(t, top)); diff != "" {
					t.Error("something was written:\n" + diff)
				}
			} else if err != nil {
				t.Error(err)
			} else if diff := cmp.Diff(want, tree(t, dir)); diff != "" {
				t.Error("want (-), got (+)\n" + diff)
			}
			if names, _ := os.ReadDir(top); len(names) != 1 {
				t.Errorf("left behind: %v", names)
			}
		})
	}
}

// An archive that goes bad after it was opened is found out, and nothing is left of what was begun.
func TestRestoreFails(t *testing.T) {
	data := archive(t, workshop())
	k := mustOpen(t, data)
	i := bytes.Index(data, []byte("sheets/hay.pdf")) + len("sheets/hay.pdf") + 20
	data[i] ^= 0xff
	top := t.TempDir()
	for _, dir := range []string{"again", "nowhere/again"} {
		err := k.Restore(filepath.Join(top, dir))
		if err == nil || !strings.Contains(err.Error(), "nothing was restored: ") {
			t.Errorf("%s: %v", dir, err)
		}
	}
	if names, _ := os.ReadDir(top); len(names) != 0 {
		t.Errorf("left behind: %v", names)
	}
}
