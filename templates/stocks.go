package templates

import "embed"

// Stocks holds sheets of blank labels and label printers, described by their measurements only. They are
// examples to measure your own sheets against, and to copy.
//
//go:embed stocks/*.yaml
var Stocks embed.FS
