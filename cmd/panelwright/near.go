package main

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"panelwright/formula/quantity"
)

// didYouMean returns "; did you mean hay fizz?" with the name nearest to what
// was typed, or the other hint if none is near enough to be meant.
func didYouMean(typed string, names []string, otherwise string) string {
	word := strings.ToLower(strings.TrimSpace(typed))
	best, near := 1+len(word)/3, ""
	for _, name := range names {
		low := strings.ToLower(name)
		if len(word) > 60 || len(low)-len(word) > best || len(word)-len(low) > best {
			continue
		}
		if n := quantity.Distance(word, low); n < best {
			best, near = n, name
		}
	}
	if near == "" {
		return otherwise
	}
	return "; did you mean " + near + "?"
}

// listed lists the names that something could have had, the first few of many.
func listed(what string, names []string) string {
	const most = 12
	switch n := len(names); {
	case n == 0:
		return ""
	case n > most:
		return fmt.Sprintf("; %s are %s and %d more", what, strings.Join(names[:most], ", "), n-most)
	}
	return fmt.Sprintf("; %s are %s", what, strings.Join(names, ", "))
}

// noBook says that a path leads to no book.
func noBook(path string, err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("there is no book at %s; name the folder that holds it, or its file", path)
	}
	return fmt.Errorf("there is no book at %s: %w", path, err)
}
