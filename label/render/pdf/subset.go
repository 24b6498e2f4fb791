package pdf

import (
	"bytes"
	"fmt"
	"hash/fnv"
	"strings"
)

// plainName returns a name that may stand in the file: letters, figures and hyphens of the name of a font file.
func plainName(name string) string {
	name = strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return -1
	}, name)
	if name == "" {
		return "Font"
	}
	return name
}

// subsets returns the names of the fonts in the file, by what the library calls them. A font that is cut down to some
// letters has six capitals before its name, which tell it from other parts of the same font (PDF 1.7, 9.6.4).
func subsets(faces []*face) map[string]string {
	out := map[string]string{}
	for _, f := range faces {
		h := fnv.New32a()
		h.Write([]byte(f.name + string(f.list)))
		var tag [6]byte
		for i, sum := 0, h.Sum32(); i < len(tag); i++ {
			tag[i] = byte('A' + sum%26)
			sum /= 26
		}
		out["utf8"+strings.ToLower(f.name)] = fmt.Sprintf("%s+%s", tag[:], f.name)
	}
	return out
}

// renamed returns an object of the library's file; that of a font has the font's name in place of the library's.
func (f *file) renamed(object []byte) []byte {
	const reach = 100
	for _, key := range []string{"/BaseFont /", "/FontName /"} {
		i := bytes.Index(object[:min(len(object), reach)], []byte(key))
		if i < 0 {
			continue
		}
		from := i + len(key)
		to := from + bytes.IndexAny(object[from:], " \n")
		if name, ok := f.subsets[string(object[from:to])]; ok {
			return append(append(append(make([]byte, 0, len(object)+8), object[:from]...), name...), object[to:]...)
		}
	}
	return object
}
