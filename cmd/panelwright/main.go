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
		{"print", "[PRODUCT] [BOOK]", "lay labels on sheets of a stock, and remember the cells used", printSheets},
		{"stickers", "[BOOK]", "print lot stickers, apart from the labels", stickers},
		{"cards", "[BOOK]", "print price and shelf cards", cards},
		{"calibrate", "[BOOK]", "write the page that a printer is set right with", calibrate},
		{"calendar", "[BOOK]", "say what changes when, and which stock may still be sold", calendar},
		{"net", "[PRODUCT [BOOK]]", "judge weighed pieces against the net quantity they state", net},
		{"lye", "[BOOK]", "work out the lye of a soap: what to weigh, what comes out, what the worst case leaves", lye},
		{"make", "PRODUCT [BOOK]", "a sheet to make a lot by: what to fetch, buy and weigh, bowl by bowl, and a form to record it", makeVerb},
		{"record", "[BOOK]", "write down what came in, was made, went out or was said; lots are judged as made", recordVerb},
		{"trials", "[PRODUCT] [BOOK]", "trials side by side: list, allergens, limits and labels as they would be made", trials},
		{"approve", "[PRODUCT] [BOOK]", "freeze the words of a product's packs: labels for sale say them from then on", approve},
		{"keep", "[BOOK]", "put the whole book into one file to lay aside, and prove that it is whole", keepBook},
		{"restore", "FILE [DIR]", "prove a kept book whole, and write it into a new folder", restoreBook},
		{"trace", "LOT [BOOK]", "follow a lot of a material or product: what it went into, where the pieces are, what is in it", trace},
		{"complaint", "CODE [BOOK]", "a page for a doctor, other lots with the same scent, and whom the law may want told", complaintVerb},
		{"changes", "[PRODUCT] [BOOK]", "what packs say otherwise than they did, why, and which labels, lots, sets and shops it touches", changes},
		{"leftover", "[PRODUCT] [BOOK]", "labels left over: the lots they are true for, and how many to bin", leftover},
		{"statement", "[BOOK]", "one page for a shop: which product holds which allergen and food, tick or blank", statement},
		{"papers", "PRODUCT [BOOK]", "the product file: all that the book and the records say of a product, as one PDF", papers},
		{"stall", "[BOOK]", "the folder for a stall: a page for customers and a page for an inspector", stall},
		{"shop", "[PRODUCT] [BOOK]", "what the page of a product in an online shop must show, as text, HTML and JSON", offer},
		{"sheet", "FILE [BOOK]", "read a supplier's sheet as pasted, line by line, into a material of the book; - for what is pasted here", sheetVerb},
		{"tables", "[PRODUCT] [BOOK]", "everything worked out and recorded as CSV files", tables},
		{"names", "QUERY", "look an ingredient up: names, markets, listings", names},
	}
}

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr, today()))
}

// stamp is the time that an entry of the records is written down at.
func stamp() string { return time.Now().Format("2006-01-02 15:04") }

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
		if len(args) > 0 {
			if v, err := find(args[0]); err == nil {
				usageOf(stdout, v)
				return exitClean
			}
		}
		usage(stdout)
		return exitClean
	}
	v, err := find(name)
	if err == nil {
		err = c.parse(args)
	}
	if err == nil {
		err = c.takes(v)
	}
	if errors.Is(err, errHelp) {
		usageOf(stdout, v)
		return exitClean
	}
	code := exitFailed
	if err == nil {
		code, err = v.run(c)
	}
	if err != nil {
		fmt.Fprintln(stderr, "panelwright: "+inWords(err))
		var u usageError
		if errors.As(err, &u) {
			fmt.Fprintln(stderr, strings.TrimSpace("for the list of verbs and flags: panelwright help "+v.name))
		}
		return exitFailed
	}
	return code
}

func find(name string) (verb, error) {
	if name == "" {
		return verb{name: "", run: needsDoing}, nil
	}
	known := make([]string, len(verbs))
	for i, v := range verbs {
		if v.name == name {
			return v, nil
		}
		known[i] = v.name
	}
	if _, err := os.Stat(name); err == nil {
		return verb{}, usageError(fmt.Sprintf("%q is no verb; a book comes after the verb, as in panelwright check %s", name, name))
	}
	return verb{}, usageError(fmt.Sprintf("there is no verb %q%s", name, didYouMean(name, known, "; known are "+strings.Join(known, ", "))))
}
