package book

import (
	"io/fs"
	"path"

	"panelwright/label/record"
)

// CopyFile returns where the approved copy of a fingerprint is kept, and
// KeptFile where the book that it was taken from is; with slashes, in the
// folder of the book.
func CopyFile(fingerprint string) string {
	return path.Join(recordsFolder, "copy", fingerprint+".json")
}

// KeptFile is the archive of a book by its fingerprint.
func KeptFile(fingerprint string) string {
	return path.Join(recordsFolder, "books", fingerprint[:min(12, len(fingerprint))]+".zip")
}

// ApprovedCopy reads the approved copy of a fingerprint in the folder of a
// book, and checks that it is the one.
func ApprovedCopy(fsys fs.FS, fingerprint string) (*record.Frozen, error) {
	data, err := fs.ReadFile(fsys, CopyFile(fingerprint))
	if err != nil {
		return nil, err
	}
	return record.ParseFrozen(data, fingerprint)
}
