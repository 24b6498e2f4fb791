package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"sync"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/book"
	"panelwright/label/record"
)

// call is one invocation: where to write, what to do it to, and the flags.
type call struct {
	out, err io.Writer
	args     []string

	on, placed date.Date
	until      date.Date // zero: two years after on
	ics        string
	pdf        string        // where check writes the findings sheet
	fits       bool          // the verb wants to know whether the labels hold their text
	register   bool          // check prints the register of rules
	markets    []inci.Market // empty: those of each product
	product    string
	formula    string
	why        string
	dir        string
	json       bool
	notes      bool       // check prints notes in full
	given      []flagSpec // the flags of the call
	proof      bool

	weighed netFlags
	pasted  sheetFlags
	sheets  printFlags
	rec     recordFlags
	making  makeFlags

	approved *record.Ledger // label: the records, for what was approved; nil elsewhere

	keptMu     sync.Mutex
	halfEdited bool // the book cannot be used as it stands, and a kept one is

	kept map[string]*book.Book // books kept with lots and approvals, by fingerprint

	found finding.List // what loading the book found
}

var errHelp = errors.New("help")

type flagSpec struct {
	name, arg, does string
	set             func(c *call, v string) error
}

var flags = []flagSpec{
	{"market", "LIST", "only these markets: us, eu, gb, ni, ca (commas between)", (*call).setMarkets},
	{"on", "DATE", "the day judged, as in 2026-08-01; today if not given", func(c *call, v string) (err error) { c.on, err = date.Parse(v); return }},
	{"placed", "DATE", "the day the batch was or will be first supplied there; --on if not given", func(c *call, v string) (err error) { c.placed, err = date.Parse(v); return }},
	{"product", "NAME", "only this product", func(c *call, v string) error { c.product = v; return nil }},
	{"formula", "NAME", "lye: only this formula", func(c *call, v string) error { c.formula = v; return nil }},
	{"why", "NAME", "declare: show where a name or an allergen comes from, gram by gram", func(c *call, v string) error { c.why = v; return nil }},
	{"out", "DIR", "label, print, stickers, cards, calibrate, statement, papers, stall, shop, tables, make: the folder to write into; BOOK/printed if not given; keep: the new file, or the folder to put it in; beside the book if not given; sheet: the new file for the material", func(c *call, v string) error { c.dir = v; return nil }},
	{"proof", "", "label, print, stickers, cards: print proofs, marked as such, of what may not be printed for sale", func(c *call, _ string) error { c.proof = true; return nil }},
	{"stock", "NAME", "print, stickers, cards, calibrate: the sheet or label printer, of the book or a sample", func(c *call, v string) error { c.sheets.stock = v; return nil }},
	{"list", "FILE", "print: the print list, a line such as \"hay fizz x 20\" for each product, or CSV, or YAML", func(c *call, v string) error { c.sheets.list = v; return nil }},
	{"copies", "N", "print, stickers, cards: how many", number(func(c *call) *int { return &c.sheets.copies })},
	{"from", "CELL", "print, stickers, cards: the first cell to fill, counted row by row from the top left", number(func(c *call) *int { return &c.sheets.from })},
	{"used", "CELLS", "print, stickers, cards: the cells used on the sheet in hand, as in 1-5,9, or none; corrects what is remembered", func(c *call, v string) error { c.sheets.used = v; return nil }},
	{"face", "FACE", "print: only the front, or only the back", (*call).setFace},
	{"lot", "CODE", "net, stickers, print, approve, make: the lot", func(c *call, v string) error { c.sheets.lot = v; return nil }},
	{"pieces", "N", "stickers: pieces in the lot; make: how many to make", number(func(c *call) *int { return &c.sheets.pieces })},
	{"made", "DATE", "stickers: the day the lot was made, from which the date is counted", func(c *call, v string) (err error) { c.sheets.made, err = date.Parse(v); return }},
	{"numbered", "", "stickers: number them, 1 of 60 and so on", func(c *call, _ string) error { c.sheets.numbered = true; return nil }},
	{"backs", "", "cards: print backs too, with the list and the fragrance allergens", func(c *call, _ string) error { c.sheets.back = true; return nil }},
	{"until", "DATE", "calendar, net: the last day looked at; two years after --on, or the last day of sale, if not given", func(c *call, v string) (err error) { c.until, err = date.Parse(v); return }},
	{"ics", "FILE", "calendar: write the dates into this file too, for a calendar program (RFC 5545)", func(c *call, v string) error { c.ics = v; return nil }},
	{"net", "QUANTITY", "net: what the packs state, as in \"160 g\", instead of a product of the book", func(c *call, v string) error { c.weighed.stated = v; return nil }},
	{"weights", "FILE", "net: what was weighed, one figure a line; or the figures themselves, \"160.2 159.8\"", func(c *call, v string) error { c.weighed.weights = v; return nil }},
	{"lot-size", "N", "net: packs in the batch, if not all were weighed", (*call).setLot},
	{"tare", "FIGURES", "net: weight of the empty pack, or of several, whose average is taken off", func(c *call, v string) error { c.weighed.tare = v; return nil }},
	{"scale", "STEP", "net: the smallest step that the scale reads, as in \"0.1 g\"", func(c *call, v string) error { c.weighed.scale = v; return nil }},
	{"drying", "FILE", "net: the same piece weighed over weeks, a figure and a date a line", func(c *call, v string) error { c.weighed.drying = v; return nil }},
	{"chart", "FILE", "net: draw the weights into this file, .svg or .pdf", func(c *call, v string) error { c.weighed.chart = v; return nil }},
	{"rules", "", "check: print the register of rules instead: what is judged, what in part, what not", func(c *call, _ string) error { c.register = true; return nil }},
	{"notes", "", "check: print notes in full too, with cures and sources", func(c *call, _ string) error { c.notes = true; return nil }},
	{"pdf", "FILE", "trace, complaint, lye, make: write the paper as a PDF; check: write a findings sheet with room for remarks too, and the same as text beside it", func(c *call, v string) error {
		if !strings.EqualFold(filepath.Ext(v), ".pdf") {
			return fmt.Errorf("%q has no name of a PDF file; write it as in findings.pdf", v)
		}
		c.pdf = v
		return nil
	}},
	{"batch", "WEIGHT", "make: how much to make of everything together, as in \"3 kg\", instead of --pieces", (*call).setBatch},
	{"from-stock", "", "make: say how many pieces could be made of what is in hand by the records", func(c *call, _ string) error { c.making.stock = true; return nil }},
	{"lots", "LIST", "make: take a material from these of its lots alone (commas between)", (*call).setLots},
	{"trial", "", "make: to try something; no labels for sale until it is kept", func(c *call, _ string) error { c.making.trial = true; return nil }},
	{"form", "FILE", "record, trials: the entries to record or to try, as YAML; - reads them from standard input", func(c *call, v string) error { c.rec.form = v; return nil }},
	{"say", "ENTRY", "record, trials: one entry in a line, as in \"lot: 0614; state: ready\"; dated today if it says no day", func(c *call, v string) error { c.rec.say = v; return nil }},
	{"made-from", "DATE", "approve: only for lots made from this day on", func(c *call, v string) (err error) { c.rec.since, err = date.Parse(v); return }},
	{"made-until", "DATE", "approve: only for lots made up to this day", func(c *call, v string) (err error) { c.rec.until, err = date.Parse(v); return }},
	{"for", "NAME", "statement: the shop it is for", func(c *call, v string) error { c.rec.shop = v; return nil }},
	{"against", "WHAT", "changes: approval (if not given), a day, git:REVISION, or another folder or kept archive of the book", func(c *call, v string) error { c.rec.against = v; return nil }},
	{"unit", "UNIT", "sheet: % or ppm, of figures that no unit stands beside", (*call).setUnit},
	{"as", "KIND", "sheet: allergens (inside a scent or an oil) or contains (sums to 100 %); by what is found if not given", (*call).setAs},
	{"empty", "SHARE", "sheet: what a dash or an empty cell means, as in nd or \"nd <10 ppm\"", (*call).setEmpty},
	{"line", "N: TEXT", "sheet: what is read in place of line N, where it was misread; without a text the line is left out; may be given several times", (*call).setLine},
	{"ref", "TEXT", "sheet: its reference; what the text says if not given", func(c *call, v string) error { c.pasted.ref = v; return nil }},
	{"date", "DATE", "sheet: its date, as in 2026-03-02; what the text says if not given", func(c *call, v string) (err error) { c.pasted.date, err = date.Parse(v); return }},
	{"file", "FILE", "sheet: where the sheet itself is kept, inside the book's folder; its fingerprint is taken", func(c *call, v string) error { c.pasted.file = v; return nil }},
	{"material", "NAME", "trace: the material, where lots of several have one code; sheet: its name in the book", func(c *call, v string) error { c.rec.material = v; return nil }},
	{"notice", "FILE", "trace: write a notice for the stall as a PDF, that asks for the pieces back", func(c *call, v string) error {
		if !strings.EqualFold(filepath.Ext(v), ".pdf") {
			return fmt.Errorf("%q has no name of a PDF file; write it as in notice.pdf", v)
		}
		c.rec.notice = v
		return nil
	}},
	{"reason", "TEXT", "trace: why, for the notice; a blank is left without it", func(c *call, v string) error { c.rec.reason = v; return nil }},
	{"by", "NAME", "record, approve: who says so", func(c *call, v string) error { c.rec.by = v; return nil }},
	{"json", "", "calendar, changes, check, complaint, declare, keep, leftover, lye, make, net, record, restore, sheet, shop, statement, trace: print JSON instead of text", func(c *call, _ string) error { c.json = true; return nil }},
}

// parse reads flags and arguments in any order.
func (c *call) parse(args []string) error {
	for len(args) > 0 {
		a := args[0]
		args = args[1:]
		if a == "--" {
			c.args = append(c.args, args...)
			break
		}
		if !strings.HasPrefix(a, "-") || a == "-" {
			c.args = append(c.args, a)
			continue
		}
		name, value, given := strings.Cut(strings.TrimLeft(a, "-"), "=")
		if name == "help" || name == "h" {
			return errHelp
		}
		spec, err := flagNamed(name)
		if err != nil {
			return err
		}
		c.given = append(c.given, spec)
		if spec.arg != "" && !given {
			if len(args) == 0 {
				return usageError(fmt.Sprintf("--%s wants %s", name, spec.arg))
			}
			value, args = args[0], args[1:]
		}
		if spec.arg == "" && given {
			return usageError(fmt.Sprintf("--%s takes no value", name))
		}
		if err := spec.set(c, value); err != nil {
			return usageError(fmt.Sprintf("--%s: %v", name, err))
		}
	}
	if c.placed == 0 {
		c.placed = c.on
	}
	return nil
}

func flagNamed(name string) (flagSpec, error) {
	var known []string
	for _, f := range flags {
		if f.name == name {
			return f, nil
		}
		known = append(known, "--"+f.name)
	}
	return flagSpec{}, usageError(fmt.Sprintf("there is no flag --%s%s", name, didYouMean("--"+name, known, "; known are "+strings.Join(known, ", "))))
}

func (c *call) setMarkets(v string) error {
	for _, s := range strings.Split(v, ",") {
		m, _, ok := inci.ParseMarket(strings.TrimSpace(s))
		if !ok {
			if strings.EqualFold(strings.TrimSpace(s), "uk") {
				return fmt.Errorf("the UK is two markets: write gb for England, Scotland and Wales, ni for Northern Ireland, gb,ni for both")
			}
			return fmt.Errorf("%q is not a market; known are us, eu, gb, ni, ca", s)
		}
		c.markets = append(c.markets, m)
	}
	return nil
}

// occasion returns the days to judge on.
func (c *call) occasion() date.Occasion { return date.Occasion{On: c.on, Placed: c.placed} }

// want reports whether the flags leave market m in.
func (c *call) wants(ms []inci.Market) []inci.Market {
	if len(c.markets) == 0 {
		return ms
	}
	var out []inci.Market
	for _, m := range ms {
		for _, w := range c.markets {
			if m == w {
				out = append(out, m)
			}
		}
	}
	return out
}
