package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
)

const bookMeans = "\nBOOK is a folder of YAML files, or one file; without it, this folder.\n" +
	"It is a calculator with a printer, not an assessor: local law and a qualified safety assessor have the last word.\n"

// usage lists all verbs and all flags.
func usage(w io.Writer) {
	fmt.Fprint(w, "panelwright works out what the packs of a bath-goods workshop have to say, shows why, and prints it.\n\n")
	rows := [][2]string{{"panelwright", "what needs doing today, for the book in this folder"}}
	for _, v := range verbs {
		rows = append(rows, [2]string{callOf(v), v.does})
	}
	columns(w, rows)
	fmt.Fprint(w, "\nflags; those of one verb: panelwright help VERB\n")
	rows = nil
	for _, f := range flags {
		rows = append(rows, [2]string{strings.TrimSpace("--" + f.name + " " + f.arg), f.does})
	}
	columns(w, rows)
	fmt.Fprint(w, bookMeans)
}

// usageOf lists the flags that one verb takes; of no verb, everything.
func usageOf(w io.Writer, v verb) {
	if v.name == "" {
		usage(w)
		return
	}
	fmt.Fprintf(w, "%s\n  %s\n\nflags:\n", callOf(v), v.does)
	var rows [][2]string
	for _, f := range flags {
		if does, ok := f.of(v.name); ok {
			rows = append(rows, [2]string{strings.TrimSpace("--" + f.name + " " + f.arg), does})
		}
	}
	columns(w, rows)
	fmt.Fprint(w, bookMeans)
}

// callOf is how a verb is called.
func callOf(v verb) string { return strings.TrimSpace("panelwright " + v.name + " " + v.args) }

// of returns what a flag does in a verb. What a flag does begins with the verbs
// that take it and a colon, "print, cards: ..."; several such parts are parted by
// semicolons. A flag that names no verb belongs to all.
func (f *flagSpec) of(name string) (does string, ok bool) {
	scoped := false
	var mine []string
	for _, part := range strings.Split(f.does, "; ") {
		head, rest, found := strings.Cut(part, ": ")
		heads := strings.Split(head, ", ")
		if found && !slices.ContainsFunc(heads, func(h string) bool { return !isVerb(h) }) {
			scoped = true
			if ok = slices.Contains(heads, name); ok {
				mine = append(mine, rest)
			}
			continue
		}
		if ok || !scoped {
			mine = append(mine, part)
		}
	}
	return strings.Join(mine, "; "), len(mine) > 0
}

// takes refuses a flag that the verb would not look at: who typed it means
// something by it.
func (c *call) takes(v verb) error {
	for _, f := range c.given {
		if _, ok := f.of(v.name); !ok {
			return usageError(fmt.Sprintf("--%s means nothing to %s, so nothing was done; it is for %s", f.name, strings.TrimSpace("panelwright "+v.name), f.takers()))
		}
	}
	return nil
}

// takers lists the verbs that a flag is for.
func (f *flagSpec) takers() string {
	var all []string
	for _, v := range verbs {
		if _, ok := f.of(v.name); ok {
			all = append(all, v.name)
		}
	}
	return strings.Join(all, ", ")
}

func isVerb(name string) bool {
	return slices.ContainsFunc(verbs, func(v verb) bool { return v.name == name })
}

// columns prints what is called beside what it does.
func columns(w io.Writer, rows [][2]string) {
	wide := 0
	for _, r := range rows {
		wide = max(wide, len(r[0]))
	}
	for _, r := range rows {
		fmt.Fprintf(w, "  %-*s  %s\n", wide, r[0], r[1])
	}
}
