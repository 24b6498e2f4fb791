// Command panelwright works out what the packs of a small bath-goods workshop
// have to say, shows why, and prints it.
//
// What goes where: results go to standard output, and their first line is the
// verdict. Problems with the book go to standard error, one line each: place,
// what was read, what is wrong, the cure. The exit code is 0 if there is no
// error finding, 1 if there is one, and 2 if the work could not be done.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"panelwright/formula/date"
	"panelwright/formula/exact"
)

const (
	exitClean  = 0
	exitErrors = 1
	exitFailed = 2
)

// verb is one thing that the command does.
type verb struct {
	name, args, does string
	run              func(c *call) (int, error)
}

var hundred = exact.Int(100)

var verbs []verb

func init() {
	verbs = []verb{
		{"demo", "[DIR]", "write the starter book into a new folder and make everything from it", demo},
		{"start", "DIR", "write only the starter book", start},
		{"check", "[BOOK]", "say what is wrong, what only you can answer, and the cures", check},
		{"declare", "[BOOK]", "print the ingredient lists, allergens and net statements", declare},
		{"label", "[BOOK]", "write label PDFs and declaration sheets", labels},
		{"print", "[BOOK]", "lay labels on sheets of a stock, and remember the cells used", printSheets},
		{"stickers", "[BOOK]", "print lot stickers, apart from the labels", stickers},
		{"cards", "[BOOK]", "print price and shelf cards", cards},
		{"calibrate", "[BOOK]", "write the page that a printer is set right with", calibrate},
		{"calendar", "[BOOK]", "say what changes when, and which stock may still be sold", calendar},
		{"net", "[PRODUCT [BOOK]]", "judge weighed pieces against the net quantity they state", net},
		{"lye", "[BOOK]", "work out the lye of a soap: what to weigh, what comes out, what the worst case leaves", lye},
		{"names", "QUERY", "look an ingredient up: names, markets, listings", names},
	}
}

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr, today()))
}

func today() date.Date {
	t := time.Now()
	return date.Of(t.Year(), int(t.Month()), t.Day())
}

// usageError is a mistake in the call itself.
type usageError string

func (e usageError) Error() string { return string(e) }

// run is main without the process: it returns the exit code.
func run(args []string, stdout, stderr io.Writer, today date.Date) int {
	c := &call{out: stdout, err: stderr, on: today}
	name := ""
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		name, args = args[0], args[1:]
	}
	if name == "help" || name == "" && len(args) > 0 && (args[0] == "-h" || args[0] == "--help") {
		usage(stdout)
		return exitClean
	}
	v, err := find(name)
	if err == nil {
		err = c.parse(args)
	}
	if errors.Is(err, errHelp) {
		usage(stdout)
		return exitClean
	}
	code := exitFailed
	if err == nil {
		code, err = v.run(c)
	}
	if err != nil {
		fmt.Fprintln(stderr, "panelwright: "+err.Error())
		var u usageError
		if errors.As(err, &u) {
			fmt.Fprintln(stderr, "for the list of verbs and flags: panelwright help")
		}
		return exitFailed
	}
	return code
}

func find(name string) (verb, error) {
	if name == "" {
		return verb{name: "", run: todo}, nil
	}
	known := make([]string, len(verbs))
	for i, v := range verbs {
		if v.name == name {
			return v, nil
		}
		known[i] = v.name
	}
	return verb{}, usageError(fmt.Sprintf("there is no verb %q; known are %s", name, strings.Join(known, ", ")))
}

func usage(w io.Writer) {
	fmt.Fprint(w, "panelwright works out what the packs of a bath-goods workshop have to say, shows why, and prints it.\n\n"+
		"  panelwright                     what needs doing today, for the book in this folder\n")
	for _, v := range verbs {
		fmt.Fprintf(w, "  panelwright %-19s %s\n", v.name+" "+v.args, v.does)
	}
	fmt.Fprint(w, "\nflags:\n")
	for _, f := range flags {
		fmt.Fprintf(w, "  %-19s %s\n", strings.TrimSpace("--"+f.name+" "+f.arg), f.does)
	}
	fmt.Fprint(w, "\nBOOK is a folder of YAML files, or one file; without it, this folder.\n"+
		"It is a calculator with a printer, not an assessor: local law and a qualified safety assessor have the last word.\n")
}
