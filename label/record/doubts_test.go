package record_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/record"
)

// What is odd may have happened all the same: it is recorded, and asked about once. The last entry of each case is the
// one being recorded.
func TestDoubts(t *testing.T) {
	shop := func(on date.Date) *record.Shipment {
		return &record.Shipment{Lot: "1", On: on, Pieces: 5, Kind: record.Shop, To: "Harbour Shop"}
	}
	status := func(s record.State, on date.Date) *record.Status { return &record.Status{Lot: "1", On: on, State: s} }
	curing := &record.Lot{Code: "1", Product: "a", On: june, Pieces: 10, State: record.Curing, ReadyOn: june.AddDays(28)}
	eu := markets("eu")
	for _, c := range []struct {
		name  string
		rule  finding.Code // "" for nothing to ask
		whats []any
	}{
		{"pieces of a lot in hand go", "", []any{lot("1", "a", june, 10), shop(june)}},
		{"the same went twice", record.RuleTwice, []any{lot("1", "a", june, 10), shop(june), shop(june)}},
		{"as many went on another day", "", []any{lot("1", "a", june, 10), shop(june), shop(june.AddDays(1))}},
		{"the same came in twice", record.RuleTwice, []any{&record.Receipt{Material: "soda", Code: "B1", On: june, Grams: exact.Int(500)}, &record.Receipt{Material: "Soda", Code: "b1", On: june, Grams: exact.Int(500)}}},
		{"a second delivery of one lot", "", []any{&record.Receipt{Material: "soda", Code: "B1", On: june}, &record.Receipt{Material: "soda", Code: "B1", On: june.AddDays(7)}}},
		{"pieces of a lot that is held go", record.RuleNotReady, []any{lot("1", "a", june, 10), status(record.Held, june), shop(june)}},
		{"pieces of a lot that was held go", "", []any{lot("1", "a", june, 10), status(record.Held, june), status(record.Ready, june), shop(june)}},
		{"pieces of a lot that is curing go", record.RuleNotReady, []any{curing, shop(june)}},
		{"pieces of a trial go", record.RuleNotReady, []any{&record.Lot{Code: "1", Product: "a", On: june, Pieces: 10, Trial: true}, shop(june)}},
		{"pieces of a lot that is held are kept", "", []any{lot("1", "a", june, 10), status(record.Held, june), &record.Shipment{Lot: "1", On: june, Pieces: 5, Kind: record.KeptBack}}},
		{"ready before its day", record.RuleNotReady, []any{curing, status(record.Ready, june.AddDays(27))}},
		{"ready on its day", "", []any{curing, status(record.Ready, june.AddDays(28))}},
		{"gone with pieces left", record.RuleUnaccounted, []any{lot("1", "a", june, 10), shop(june), status(record.Gone, june)}},
		{"gone with none left", "", []any{lot("1", "a", june, 5), shop(june), status(record.Gone, june)}},
		{"made of what came later", record.RuleBeforeCame, []any{&record.Receipt{Material: "soda", Code: "B1", On: june.AddDays(1)}, lot("1", "a", june, 5, of("soda", "B1"))}},
		{"came after it was used", record.RuleBeforeCame, []any{lot("1", "a", june, 5, of("soda", "B1")), &record.Receipt{Material: "soda", Code: "B1", On: june.AddDays(1)}}},
		{"made on the day it came", "", []any{&record.Receipt{Material: "soda", Code: "B1", On: june}, lot("1", "a", june, 5, of("soda", "B1"))}},
		{"a correction leaves out the lots used", record.RuleLeftOut, []any{lot("1", "a", june, 5, of("soda", "B1")), &record.Entry{What: lot("1", "a", june, 6), Corrects: 1, Reason: "counted again"}}},
		{"a correction says all of it", "", []any{lot("1", "a", june, 5, of("soda", "B1")), &record.Entry{What: lot("1", "a", june, 6, of("soda", "B1")), Corrects: 1, Reason: "counted again"}}},
		{"labels counted that were never printed", record.RuleNoLabels, []any{&record.Count{Product: "a", Markets: eu, On: june, Left: 9}}},
		{"labels counted of another market", record.RuleNoLabels, []any{&record.Printing{Product: "a", Markets: markets("us"), On: june, Copies: 9, Text: "x"}, &record.Count{Product: "a", Markets: eu, On: june, Left: 9}}},
		{"labels counted for one market of two", "", []any{&record.Printing{Product: "a", Markets: markets("eu", "gb"), On: june, Copies: 9, Text: "x"}, &record.Count{Product: "a", Markets: eu, On: june, Left: 9}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			all := journal(c.whats...)
			l, _ := record.NewLedger(all)
			found := l.Doubts(all[len(all)-1:])
			var got finding.Code
			if len(found) > 0 {
				got = found[0].Rule
			}
			if got != c.rule || len(found) > 1 || len(found) == 1 && (found[0].Cure == "" || found[0].Severity != finding.Warning) {
				t.Errorf("found %v, want %q", found, c.rule)
			}
		})
	}
}

// A withdrawn entry counts no more, nor does what corrected it; both stay in All, and what hangs on it has to go first.
func TestWithdrawals(t *testing.T) {
	all := journal(
		lot("1", "a", june, 10),
		&record.Shipment{Lot: "1", On: june, Pieces: 4, Kind: record.Shop, To: "Harbour Shop"},
		&record.Entry{What: &record.Shipment{Lot: "1", On: june, Pieces: 3, Kind: record.Shop, To: "Harbour Shop"}, Corrects: 2, Reason: "counted again"},
		&record.Entry{What: &record.Withdrawal{Of: 2, On: june}, Reason: "they never came for them"},
	)
	l, found := record.NewLedger(all)
	if len(found) > 0 || l.Left(l.Lot("1")) != 10 || len(l.All) != 4 || len(l.Force) != 1 {
		t.Errorf("%d left of %d entries, %d in force, %v; want 10 of 4, 1 in force", l.Left(l.Lot("1")), len(l.All), len(l.Force), found)
	}
	for _, c := range []struct {
		name string
		rule finding.Code
		more *record.Entry
	}{
		{"of nothing", record.RuleCorrects, &record.Entry{What: &record.Withdrawal{Of: 9}}},
		{"of what was withdrawn", record.RuleCorrects, &record.Entry{What: &record.Withdrawal{Of: 3}}},
		{"a correction of what was withdrawn", record.RuleCorrects, &record.Entry{What: &record.Shipment{Lot: "1", On: june, Pieces: 1}, Corrects: 2, Reason: "x"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.more.Number = 5
			_, found := record.NewLedger(append(all[:4:4], c.more))
			if len(found) != 1 || found[0].Rule != c.rule {
				t.Errorf("found %v, want %s", found, c.rule)
			}
		})
	}
	_, found = record.NewLedger(journal(lot("1", "a", june, 10), &record.Shipment{Lot: "1", On: june, Pieces: 4}, &record.Withdrawal{Of: 1}))
	if len(found) != 1 || found[0].Rule != record.RuleUnknownLot || found[0].Cure != "withdraw first what was recorded of it: entry 2, “went”" {
		t.Errorf("a lot withdrawn before what went of it: %v", found)
	}
}

// 80 made: 12 and 12 to a shop, of which 3 came back, 5 on a market day, of which 2 came back, 2 kept, 1 came back from
// nobody knows where: 80 - 24 - 5 - 2 + 6 = 55 in hand, 21 with the shop, 3 with buyers unknown.
func TestStillOut(t *testing.T) {
	went := func(kind record.Buyer, n int, to string) *record.Shipment {
		return &record.Shipment{Lot: "1", On: june, Pieces: n, Kind: kind, To: to}
	}
	l, found := record.NewLedger(journal(
		lot("1", "a", june, 80),
		went(record.Shop, 12, "Harbour Shop"), went(record.Shop, 12, "harbour shop"), went(record.BackInHand, 3, "Harbour Shop"),
		went(record.MarketDay, 5, "July market"), went(record.BackInHand, 2, "July market"),
		went(record.KeptBack, 2, "shelf"), went(record.BackInHand, 1, ""),
	))
	if len(found) > 0 {
		t.Fatal(found)
	}
	p, boxes := l.PiecesOf(l.Lots)
	if p.Left != 55 || p.Went[record.Shop] != 21 || p.Went[record.MarketDay] != 3 || p.Went[record.KeptBack] != 2 || p.Back != 1 || boxes.Lots != 0 {
		t.Errorf("pieces %+v, boxes %+v", p, boxes)
	}
	if sum := p.Left + p.Went[record.Shop] + p.Went[record.MarketDay] + p.Went[record.KeptBack] - p.Back; sum != p.Made {
		t.Errorf("they sum to %d of %d", sum, p.Made)
	}

	// Of a lot that went to one place only, what came back came from there.
	l, _ = record.NewLedger(journal(lot("1", "a", june, 80), went(record.Order, 9, "order 7"), went(record.BackInHand, 9, "")))
	if p, _ := l.PiecesOf(l.Lots); p.Went[record.Order] != 0 || p.Back != 0 || l.Sold(l.Lot("1")) {
		t.Errorf("pieces %+v, sold %v; want none out", p, l.Sold(l.Lot("1")))
	}
}

// A label for two markets: its words are approved in both, then anew for one of them, then for the other too.
func TestLeftoverOfTwoMarkets(t *testing.T) {
	both := markets("us", "eu")
	entries := []any{
		&record.Approval{Product: "a", Markets: both, On: june, Text: "first"},
		lot("1", "a", june.AddDays(1), 30),
		&record.Printing{Product: "a", Markets: both, On: june, Copies: 100, Text: "first", Approval: 1},
		&record.Approval{Product: "a", Markets: markets("eu"), On: june, Text: "second"},
		&record.Approval{Product: "a", Markets: markets("us"), On: june, From: june.AddDays(5), Text: "third"},
	}
	for _, c := range []struct {
		name   string
		n      int
		latest bool
		only   []inci.Market
		bin    int
	}{
		{"approved in both", 3, true, nil, 0},
		{"approved anew in the second", 4, false, markets("us"), 0},
		{"and in the first, from a day on: the lot of before sells there", 5, false, markets("us"), 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, found := record.NewLedger(journal(entries[:c.n]...))
			b := l.Leftover("a")
			if len(found) > 0 || len(b) != 1 || b[0].Latest != c.latest || b[0].Bin != c.bin || len(b[0].Only) != len(c.only) || len(c.only) > 0 && b[0].Only[0] != c.only[0] {
				t.Errorf("%+v, %v", b, found)
			}
		})
	}
	l, _ := record.NewLedger(journal(&record.Printing{Product: "a", Markets: both, On: june, Copies: 9, Text: "x"}))
	if b := l.Leftover("a"); len(b) != 1 || !b[0].Open || b[0].Bin != 0 {
		t.Errorf("labels of a workshop that approves nothing: %+v", b)
	}
	l, _ = record.NewLedger(journal(&record.Printing{Product: "a", On: june, Copies: 9}))
	if b := l.Leftover("a"); len(b) != 1 || !b[0].Unknown() || b[0].Bin != 0 {
		t.Errorf("labels of which no words are recorded: %+v", b)
	}
}

// Mixes that are said to be in each other, by a slip, are followed once.
func TestMixesInCircle(t *testing.T) {
	mix := func(code, name string, used record.Used) *record.Lot {
		return &record.Lot{Code: code, Product: name, On: june, Batch: []record.Weighed{{Grams: exact.Int(100)}}, Used: []record.Used{used}}
	}
	l, _ := record.NewLedger(journal(
		mix("P1", "blend", of("base", "P2")),
		mix("P2", "base", of("blend", "P1")),
		lot("1", "a", june, 10, of("blend", "P1")),
	))
	var got []string
	for _, u := range l.UsedIn(l.Lot("1")) {
		got = append(got, u.Name+" "+u.Lots[0].Code)
	}
	if diff := cmp.Diff([]string{"blend P1", "base P2", "blend P1"}, got); diff != "" {
		t.Error(diff)
	}
	if l.IsBox(l.Lot("1")) || len(l.Back(l.Lot("1")).Lots) != 3 {
		t.Errorf("box %v, back %v", l.IsBox(l.Lot("1")), codes(l.Back(l.Lot("1"))))
	}
}
