// Package keep puts a whole book into one file that can be laid aside, and gets it out again, proved whole.
//
//	manifest, err := keep.Write(w, os.DirFS("mybook"), on)
//
//	kept, err := keep.Open(r, size)            // every file compared with the manifest, before anything else
//	b, found := book.LoadFS(kept.FS())         // look into it as it is
//	err = kept.Restore("mybook-again")         // or write it into a new folder
//
// # The file
//
// It is a ZIP archive that any program can open. The book is in its folder book; beside that is MANIFEST, a
// list of the files in the form of sha256sum, so that a copy unpacked by hand is checked with
//
//	sha256sum -c MANIFEST
//
// The sizes stand in remarks, which sha256sum passes over. The same book kept on the same day is the same
// file, byte for byte: names are sorted, and every file has the time of that day's beginning.
//
// # What is kept
//
// Every file of the book: recipes, sheets, pictures, layouts, fonts, the records. Passed over are names that
// begin with a point, and the folder printed at the top, which can be made again. Of a link that leads to a
// file the file is kept. What else is no plain file is an error, and so is a name with a backslash or a sign
// that does not print: nothing is left out in silence. Folders without a file are not kept.
//
// The manifest proves that nothing was lost or damaged. It is no signature: who changes a file on purpose can
// change the manifest too. For that there is its fingerprint, to be written down elsewhere.
package keep

import (
	"crypto/sha256"
	"encoding/hex"

	"panelwright/formula/date"
)

// Names in the archive.
const (
	manifestName = "MANIFEST"
	folder       = "book"
)

// Bounds of what is believed of an archive before it is proved: far above any workshop's book, far below what
// could fill a disk by a trick.
const (
	mostFiles    = 100_000
	mostBytes    = 8 << 30
	mostManifest = 32 << 20
)

// Manifest lists what is in an archive.
type Manifest struct {
	Kept  date.Date // the day
	Files []File    // by name
}

// File is one file of a book.
type File struct {
	Name   string // in the book, with slashes
	Size   int64  // bytes
	SHA256 string // of the contents, in hexadecimal
}

// Bytes returns how long all files together are.
func (m Manifest) Bytes() (n int64) {
	for _, f := range m.Files {
		n += f.Size
	}
	return n
}

// Fingerprint returns the beginning of the SHA-256 of the manifest, 16 hexadecimal digits: written down apart
// from the archive, it shows that the archive is the one that was written.
func (m Manifest) Fingerprint() string {
	sum := sha256.Sum256([]byte(m.String()))
	return hex.EncodeToString(sum[:])[:16]
}
