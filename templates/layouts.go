package templates

import "embed"

// Layouts holds the layout files: how a label looks, each a plain file that may be copied into a book and
// changed. The format is described in layouts/README.md.
//
//go:embed layouts/*.yaml
var Layouts embed.FS
