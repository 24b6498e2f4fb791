package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/market"
)

// event is a day of the timeline, once for all markets that share it.
type event struct {
	market.Event
	markets []inci.Market
}

// writeEvents prints those of the events that rules judge, or those that they do
// not, under a heading; nothing where there are none.
func writeEvents(w io.Writer, heading string, events []event, judged bool) {
	var rows [][]string
	for _, e := range events {
		if (len(e.Judged) > 0) == judged {
			rows = append(rows, []string{cmp.Or(e.Date.String(), "no day yet"), codes(e.markets), applies[e.Applies], e.words()})
		}
	}
	if len(rows) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s\n", heading)
	for _, line := range aligned(rows) {
		fmt.Fprintf(w, "  %s\n", line)
	}
}

// same reports whether an event of another market is the same one.
func (e event) same(o market.Event) bool {
	return e.Date == o.Date && e.Applies == o.Applies && e.What == o.What && e.Instrument == o.Instrument && e.Source == o.Source
}

var applies = map[string]string{"new": "new packs", "existing": "stock", "all": "all packs", "process": "your work", "info": "to know"}

func (e event) words() string {
	s := e.What + " [" + e.Instrument
	if e.Source.Unverified() {
		s += "; unverified: " + string(e.Source.Seen)
	}
	return s + "]"
}

// events returns what is on the timeline of the markets in the days looked at,
// and what has no day yet, without what the changes tell already.
func events(ms []inci.Market, changes []label.Change, from, until date.Date) []event {
	var out []event
	for _, m := range inci.Markets {
		if !slices.Contains(ms, m) {
			continue
		}
		line := market.Timeline(m)
		for _, e := range line {
			if e.Date != 0 && (e.Date <= from || e.Date > until) || told(e, line, m, changes) {
				continue
			}
			if i := slices.IndexFunc(out, func(o event) bool { return o.same(e) }); i >= 0 {
				out[i].markets = append(out[i].markets, m)
				continue
			}
			out = append(out, event{e, []inci.Market{m}})
		}
	}
	slices.SortStableFunc(out, func(a, b event) int {
		if (a.Date == 0) != (b.Date == 0) {
			return cmp.Compare(b.Date, a.Date) // days not known come last
		}
		return cmp.Compare(a.Date, b.Date)
	})
	return out
}

// told reports whether the changes tell of an event: one of the same market and
// day comes from the same act, whose number, such as 2023/1545, stands in its
// source. Where an act does several things on that day only those are told whose
// subject the changes name.
func told(e market.Event, line []market.Event, m inci.Market, changes []label.Change) bool {
	var words []string
	for _, c := range changes {
		if c.Day == e.Date && c.Market == m && slices.ContainsFunc(c.Sources, func(s finding.Citation) bool { return sameAct(e.Instrument, s.Text) }) {
			words = append(words, c.Finding.Message)
		}
	}
	named := func(o market.Event) bool {
		subject, _, _ := strings.Cut(strings.ToLower(o.What), " ")
		subject, _, _ = strings.Cut(subject, "-")
		return len(subject) > len("water") && strings.Contains(strings.ToLower(strings.Join(words, " ")), subject)
	}
	peer := func(o market.Event) bool { return o.Date == e.Date && sameAct(o.Instrument, e.Instrument) }
	return len(words) > 0 && (named(e) || !slices.ContainsFunc(line, func(o market.Event) bool { return peer(o) && named(o) }))
}

func sameAct(a, b string) bool {
	return slices.ContainsFunc(acts(a), func(act string) bool { return slices.Contains(acts(b), act) })
}

// acts returns the numbers of acts in a text: digits, a stroke, digits.
func acts(text string) []string {
	var out []string
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r != '/' && (r < '0' || r > '9') }) {
		if a, b, ok := strings.Cut(word, "/"); ok && a != "" && b != "" && !strings.Contains(b, "/") {
			out = append(out, word)
		}
	}
	return out
}
