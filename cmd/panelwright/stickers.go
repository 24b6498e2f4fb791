package main

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/card"
	"panelwright/label/market"
	"panelwright/label/record"
)

// stickers prints lot stickers, apart from labels that were made before: the lot, the date where a market asks for
// one, and a number if asked for.
func stickers(c *call) (int, error) {
	f := &c.sheets
	if f.lot == "" {
		return exitFailed, usageError("say which lot: --lot CODE, and how many pieces, --pieces N, where it is not recorded")
	}
	b, led, err := c.openOrKept()
	if err != nil {
		return exitFailed, err
	}
	recorded, why, err := c.lotForStickers(led)
	if err != nil {
		return exitFailed, err
	}
	if why != "" {
		fmt.Fprintf(c.out, "%s\nnothing was printed\n", why)
		return exitErrors, nil
	}
	jobs, _, err := c.judge(b)
	if err != nil {
		return exitFailed, err
	}
	s, err := c.stockNamed(b, "")
	if err != nil {
		return exitFailed, err
	}
	h, err := c.inHand(s)
	if err != nil {
		return exitFailed, err
	}
	count := f.pieces
	if f.copies != 0 && f.copies != f.pieces {
		fmt.Fprintf(c.out, "ANSWER 1 QUESTION FIRST\n%d pieces, %d stickers?\nnothing was printed; make --pieces and --copies agree, or leave --copies out\n", f.pieces, f.copies)
		return exitErrors, nil
	}
	lead, _ := market.PhraseFor("lot", "")
	lot := card.Lot{Lang: "en", Lead: lead.Text, Code: f.lot}
	if c.product != "" {
		for j := range jobs {
			lot.Name = titleOf(j.product, "en")
			if lot.Dates, err = c.dates(j); err != nil {
				return exitFailed, err
			}
		}
	}
	l, err := c.newLay(h, "Stickers of lot "+f.lot)
	if err != nil {
		return exitFailed, err
	}
	free := len(l.im.Free())
	for n := 1; n <= count; n++ {
		each := count
		if f.numbered {
			lot.Number, each = fmt.Sprintf("%d of %d", n, count), 1
		}
		sticker, err := card.Sticker(&lot, s.Label, s.Round)
		if err != nil {
			return exitFailed, fmt.Errorf("the sticker does not fit on %s: %w; shorten the code of the lot, leave --product out, or name another stock", s.Name, err)
		}
		runs, err := l.im.Add(sticker, each)
		if err != nil {
			return exitFailed, err
		}
		l.add(runs, "lot "+f.lot)
		if !f.numbered {
			break
		}
	}
	fmt.Fprintln(c.out, finding.List{}.Verdict())
	if count > free && !s.Whole() {
		fmt.Fprintf(c.out, "%d pieces, %d stickers? The sheet in hand has %d cells free; %d stickers go on new sheets\n", count, free, free, count-free)
	}
	if err := l.finish(c, "lot-"+slug(f.lot), []string{"sheet", "cells", "lot", "stickers"}); err != nil {
		return exitFailed, err
	}
	for _, d := range lot.Dates {
		fmt.Fprintf(c.out, "%s %s\n", d.Lead, d.Text)
	}
	if recorded != nil && !c.proof {
		entry := fmt.Sprintf("printed: %s\non: %s\nlot: %s\ncopies: %d\nstickers: yes\n", quoted(recorded.Product), c.on, quoted(recorded.Code), count)
		return exitClean, c.recordPrinted([][]byte{[]byte(entry)})
	}
	return exitClean, nil
}

// lotForStickers takes product, pieces and day of the lot from the records, where it is there; else the flags say
// them. why says what keeps stickers from being printed.
func (c *call) lotForStickers(led *record.Ledger) (x *record.Lot, why string, err error) {
	f := &c.sheets
	if x = led.Lot(f.lot); x == nil {
		if f.pieces == 0 {
			return nil, "", usageError(fmt.Sprintf("lot %s is not recorded: say how many pieces, --pieces N", f.lot))
		}
		return nil, "", nil
	}
	p := past{led, x}
	if held, cure := p.holdsBack(); held != "" && !c.proof {
		return x, "DO NOT PRINT\n" + held + "; " + cure, nil
	}
	if c.product == "" {
		c.product = x.Product
	}
	if f.made == 0 {
		f.made = x.On
	}
	switch {
	case f.pieces == 0:
		f.pieces = x.Pieces
	case f.pieces != x.Pieces:
		return x, fmt.Sprintf("ANSWER 1 QUESTION FIRST\nlot %s has %d pieces by the records, and --pieces says %d: which is it? Correct the record, or leave --pieces out", x.Code, x.Pieces, f.pieces), nil
	}
	return x, "", nil
}

// dates words the date of a lot for the markets that ask for one, in their languages. A date of the book is taken
// as it stands; else months are counted from the day it was made.
func (c *call) dates(j judged) (out []card.Date, err error) {
	k := j.product.Keeps
	for _, d := range j.decls {
		due := slices.ContainsFunc(d.Rules.Required(c.occasion()), func(q market.Requirement) bool { return q.Kind == "durability" })
		if dated, _ := d.Rules.Dated(k.Keeps); !due || !dated && k.Before == 0 {
			continue
		}
		before := k.Before
		if before == 0 {
			if c.sheets.made == 0 {
				return nil, usageError(fmt.Sprintf("%s keeps %d months and %s asks for a date: say when the lot was made, --made DATE", j.product.Name, k.Keeps, d.Market.Title()))
			}
			before = lastWholeMonth(c.sheets.made.AddMonths(k.Keeps))
		}
		for _, lang := range languagesOf(d) {
			lead, ok := market.PhraseFor("best-before", lang)
			if !ok {
				return nil, fmt.Errorf("the words before the date are not known in %q", lang)
			}
			day := fmt.Sprintf("%02d/%04d", before.Month(), before.Year())
			if n := len(out); n == 0 || out[n-1].Text != day {
				out = append(out, card.Date{Text: day, Timer: timed(j)})
			}
			words := &out[len(out)-1].Lead
			if *words == "" {
				*words = lead.Text
			} else if !slices.Contains(strings.Split(*words, " / "), lead.Text) {
				*words += " / " + lead.Text // one date serves the words of all languages
			}
		}
	}
	return out, nil
}

// timed reports whether the book wants the egg timer before dates, on every pack judged.
func timed(j judged) bool {
	for _, d := range j.decls {
		p := j.product.PackFor(d.Market)
		if p == nil || p.Dress.Over(&j.product.Dress).EggTimer != label.SaidYes {
			return false
		}
	}
	return true
}

// lastWholeMonth returns a day of the last month that ends no later than d: "before the end of" a month promises
// its last day.
func lastWholeMonth(d date.Date) date.Date {
	if d.AddDays(1).Month() != d.Month() {
		return d
	}
	return d.AddMonths(-1)
}

// languagesOf returns the languages that a declaration's pack speaks, in their order.
func languagesOf(d *label.Declaration) (langs []string) {
	for _, s := range d.Statements {
		if s.Lang != "" && !slices.Contains(langs, s.Lang) {
			langs = append(langs, s.Lang)
		}
	}
	return langs
}

// titleOf returns the name that the maker gives a product.
func titleOf(p *label.Product, lang string) string { return p.TitleIn(lang) }

// marketOf returns the first market asked for that the product is sold in, or its first.
func (c *call) marketOf(p *label.Product) (inci.Market, bool) {
	ms := c.wants(p.SellIn)
	if len(ms) == 0 {
		return "", false
	}
	return ms[0], true
}
