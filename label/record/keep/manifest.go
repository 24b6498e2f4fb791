package keep

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"unicode"

	"panelwright/formula/date"
)

// The lines of a manifest. Those that begin with # are remarks to sha256sum.
const (
	headLine = "# panelwright book kept on %s with %d files of %d bytes; to check an unpacked copy: sha256sum -c MANIFEST\n"
	sizeLine = "# %d bytes\n"
)

// String returns the manifest as it stands in the archive.
func (m Manifest) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, headLine, m.Kept, len(m.Files), m.Bytes())
	for _, f := range m.Files {
		fmt.Fprintf(&b, sizeLine+"%s  %s/%s\n", f.Size, f.SHA256, folder, f.Name)
	}
	return b.String()
}

// parseManifest reads what String writes, and nothing else.
func parseManifest(text string) (Manifest, error) {
	var m Manifest
	var day string
	var count, bytes int64
	head, rest, _ := strings.Cut(text, "\n")
	if _, err := fmt.Sscanf(head+"\n", headLine, &day, &count, &bytes); err != nil {
		return m, errors.New("it does not begin as that of a kept book")
	}
	var err error
	if m.Kept, err = date.Parse(day); err != nil {
		return m, err
	}
	for line := 2; rest != ""; line += 2 {
		var f File
		var size, entry string
		size, rest, _ = strings.Cut(rest, "\n")
		entry, rest, _ = strings.Cut(rest, "\n")
		if _, err := fmt.Sscanf(size+"\n", sizeLine, &f.Size); err != nil {
			return m, fmt.Errorf("line %d is %q and not a size", line, clip(size))
		}
		f.SHA256, f.Name, _ = strings.Cut(entry, "  "+folder+"/")
		if len(f.SHA256) != 2*sha256.Size || strings.Trim(f.SHA256, "0123456789abcdef") != "" {
			return m, fmt.Errorf("line %d is %q and not a SHA-256 and a name in the folder %s", line+1, clip(entry), folder)
		}
		m.Files = append(m.Files, f)
	}
	if err := m.check(); err != nil {
		return m, err
	}
	if m.String() != text {
		return m, errors.New("what it says of itself in the first line is not what it holds")
	}
	return m, nil
}

// check says what is wrong with the names and sizes in a manifest.
func (m Manifest) check() error {
	if len(m.Files) == 0 || len(m.Files) > mostFiles {
		return fmt.Errorf("it lists %d files; a book has 1 to %d", len(m.Files), mostFiles)
	}
	folders := map[string]bool{}
	for i, f := range m.Files {
		if err := fitName(f.Name); err != nil {
			return err
		}
		if i > 0 && m.Files[i-1].Name >= f.Name {
			return fmt.Errorf("%s stands twice, or out of order", clip(f.Name))
		}
		if f.Size < 0 || f.Size > mostBytes {
			return fmt.Errorf("%s is said to have %d bytes", f.Name, f.Size)
		}
		for dir := path.Dir(f.Name); dir != "." && !folders[dir]; dir = path.Dir(dir) {
			folders[dir] = true
		}
	}
	for _, f := range m.Files {
		if folders[f.Name] {
			return fmt.Errorf("%s is a file and a folder", f.Name)
		}
	}
	if n := m.Bytes(); n > mostBytes {
		return fmt.Errorf("all files together are said to have %d bytes; kept are at most %d", n, int64(mostBytes))
	}
	return nil
}

// fitName says why a name cannot stand in an archive: one that leads out of the folder, or that the systems
// and programs of this world do not read alike.
func fitName(name string) error {
	switch {
	case !fs.ValidPath(name) || name == ".":
		return fmt.Errorf("%q is no name inside a book", clip(name))
	case strings.Contains(name, `\`):
		return fmt.Errorf("%q has a backslash in it, which parts folders on other systems; rename it", clip(name))
	case strings.ContainsFunc(name, unicode.IsControl):
		return fmt.Errorf("%q has a sign in it that does not print; rename it", clip(name))
	}
	return nil
}

// find returns the file of a name.
func (m Manifest) find(name string) (File, bool) {
	i, ok := slices.BinarySearchFunc(m.Files, name, func(f File, name string) int { return strings.Compare(f.Name, name) })
	if !ok {
		return File{}, false
	}
	return m.Files[i], true
}

// clip shortens a text that may be anything.
func clip(s string) string {
	if r := []rune(s); len(r) > 80 {
		return string(r[:80]) + "…"
	}
	return s
}
