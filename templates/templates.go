// Package templates holds the files that a person may read, copy or replace: the typefaces that labels and
// sheets are set in, each with its licence beside it, and what else other files of this package embed.
//
// Nothing here computes anything. Every group of files has a Go file of its own that embeds it, so that a
// group can be added or changed without touching another.
package templates
