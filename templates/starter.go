package templates

import "embed"

// Starter holds the starter book: the YAML files of a workshop that does not exist. Its name, its recipes, its
// suppliers' figures and the people it names are all invented; they show the book format at work on fizzes, bath
// salts, bath melts, balms, bars, scrubs and a gift box. One product is wrong on purpose, to show what the gate says.
//
// The files lie in the folder starter and form one book.
//
//go:embed starter/*.yaml
var Starter embed.FS
