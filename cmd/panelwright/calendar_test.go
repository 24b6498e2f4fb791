package main

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/market"
)

// Changes that say the same are told once, for all products and markets.
func TestItems(t *testing.T) {
	hay, pine := &label.Product{Name: "hay"}, &label.Product{Name: "pine"}
	day := date.Of(2027, 1, 1)
	says := func(p *label.Product, m inci.Market, message, source string) label.Change {
		return label.Change{Day: day, Product: p, Market: m, Packs: label.NewPacks, Before: day,
			Finding: finding.Finding{Severity: finding.Error, Message: message}, Sources: []finding.Citation{{Text: source}}}
	}
	a := agenda{changes: []label.Change{
		says(hay, inci.NI, "both", "b"), says(hay, inci.EU, "both", "a"), says(hay, inci.EU, "one", "a"),
		says(pine, inci.EU, "both", "a"), says(pine, inci.NI, "both", "b"), says(pine, inci.NI, "two", "b"), says(hay, inci.EU, "two", "a"),
	}}
	var got []string
	for _, it := range acrossMarkets(a.items()) {
		line := codes(it.markets) + " " + strings.Join(it.products, "+") + ": " + it.Finding.Message
		for _, s := range it.Sources {
			line += " " + s.Text
		}
		got = append(got, line)
	}
	want := []string{"eu+ni hay+pine: both a b", "eu hay: one a", "eu hay: two a", "ni pine: two b"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if a.days() != 1 {
		t.Errorf("%d days", a.days())
	}
	if len(a.changes[1].Sources) != 1 {
		t.Error("joining changed what it was given")
	}
}

// An event of the timeline is left out where a change tells of it already. Where
// that is in doubt it is kept: what is not judged must not look clean.
func TestToldEvents(t *testing.T) {
	day := date.Of(2027, 1, 1)
	change := func(m inci.Market, message, source string) label.Change {
		return label.Change{Day: day, Market: m, Finding: finding.Finding{Message: message}, Sources: []finding.Citation{{Text: source}}}
	}
	at := func(what, act string) market.Event { return market.Event{Date: day, What: what, Instrument: act} }
	citral, zinc := at("Citral maximum 1.2 %", "Regulation (EU) 2026/909"), at("Water-soluble zinc salts", "Regulation (EU) 2026/909")
	allergens := at("Products first placed on the market", "Regulation (EU) 2023/1545")
	undated := market.Event{What: "Citral maximum", Instrument: "Regulation (EU) 2026/909"}
	for _, c := range []struct {
		name    string
		changes []label.Change
		want    []string // events that are left
	}{
		{"no change", nil, []string{"Citral", "Water-soluble", "Products", "Citral"}},
		{"one of several things of an act is named", []label.Change{change(inci.EU, "citral in hay", "2026/909 entry 70")}, []string{"Water-soluble", "Products", "Citral"}},
		{"the only thing of an act", []label.Change{change(inci.EU, "the list gains Vanillin", "as added by Regulation (EU) 2023/1545, OJ")}, []string{"Citral", "Water-soluble", "Citral"}},
		{"another act", []label.Change{change(inci.EU, "citral in hay", "1223/2009")}, []string{"Citral", "Water-soluble", "Products", "Citral"}},
		{"another market", []label.Change{change(inci.NI, "citral in hay", "2026/909")}, []string{"Citral", "Water-soluble", "Products", "Citral"}},
	} {
		line := []market.Event{citral, zinc, allergens, undated}
		var left []string
		for _, e := range line {
			if !told(e, line, inci.EU, c.changes) {
				left = append(left, strings.Fields(e.What)[0])
			}
		}
		if diff := cmp.Diff(c.want, left); diff != "" {
			t.Errorf("%s:\n%s", c.name, diff)
		}
	}
}

func TestEntriesTogether(t *testing.T) {
	got := entriesTogether([]finding.Citation{
		{Text: "Annex III entry 337 as added, entry form", Seen: finding.Yes}, {Text: "Annex III entry 332 as added, entry form", Seen: finding.Yes},
		{Text: "Annex III entry 331 as added, entry form", Seen: finding.Memory}, {Text: "21 CFR 701.3", Seen: finding.Yes}, {Text: "21 CFR 701.3", Seen: finding.Yes},
	})
	want := []string{"Annex III entries 337, 332 as added, entry form", "Annex III entry 331 as added, entry form (unverified: memory)", "21 CFR 701.3"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// BenchmarkCalendar looks two years ahead for a whole book, each product in two
// markets.
func BenchmarkCalendar(b *testing.B) {
	dir := bigBook(b, 10000)
	for b.Loop() {
		c := bench(dir)
		if code, err := calendar(c); err != nil || code != exitClean {
			b.Fatal(code, err)
		}
	}
}
