package record_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/record"
)

// journal numbers entries as the journal does.
func journal(whats ...any) []*record.Entry {
	var out []*record.Entry
	for i, w := range whats {
		e, ok := w.(*record.Entry)
		if !ok {
			e = &record.Entry{What: w}
		}
		e.Number = i + 1
		e.Pos = finding.Pos{File: "j", Line: i + 1}
		out = append(out, e)
	}
	return out
}

func lot(code, product string, on date.Date, pieces int, used ...record.Used) *record.Lot {
	return &record.Lot{Code: code, Product: product, On: on, Pieces: pieces, Used: used}
}

func of(name string, codes ...string) record.Used {
	u := record.Used{Name: name, Pos: finding.Pos{File: "j", Line: 1}}
	for _, c := range codes {
		u.Lots = append(u.Lots, record.Portion{Code: c})
	}
	return u
}

func codes(t *record.Trail) (out []string) {
	for _, x := range t.Lots {
		out = append(out, x.Code)
	}
	return out
}

func markets(all ...inci.Market) []inci.Market { return all }

var june = date.Of(2026, 6, 1)

// A scent lot goes into two lots of fizzes, one of them into gift boxes; a third lot has another scent lot. What
// each reaches was written down by hand.
func TestTrail(t *testing.T) {
	l, found := record.NewLedger(journal(
		&record.Receipt{Material: "hay scent", Code: "A16", On: june},
		&record.Receipt{Material: "hay scent", Code: "A17", On: june.AddDays(1)},
		&record.Receipt{Material: "baking soda", Code: "A17", On: june}, // another supplier's A17
		lot("0610", "hay fizz", june.AddDays(9), 40, of("hay scent", "A16"), of("baking soda", "A17")),
		lot("0614", "hay fizz", june.AddDays(13), 80, of("Hay Scent", "a17"), of("baking soda", "A17")),
		lot("0616", "hay melt", june.AddDays(15), 30, of("hay scent", "A17", "A16")),
		lot("BX1", "gift box", june.AddDays(20), 10, record.Used{Name: "hay fizz", Lots: []record.Portion{{Code: "0614", Pieces: 20}}}),
		&record.Shipment{Lot: "0614", On: june.AddDays(21), Pieces: 18, Kind: record.MarketDay, To: "June market"},
		&record.Shipment{Lot: "BX1", On: june.AddDays(22), Pieces: 4, Kind: record.Shop, To: "Harbour Shop"},
		&record.Complaint{Code: "C1", Lot: "0614", On: june.AddDays(40), Text: "red arms"},
	))
	if len(found) > 0 {
		t.Fatalf("findings: %v", found)
	}
	out := l.Forward([]*record.Receipt{l.Receipt("hay scent", "A17")})
	if diff := cmp.Diff([]string{"0614", "0616", "BX1"}, codes(out)); diff != "" {
		t.Errorf("forward of hay scent A17 (-want +got):\n%s", diff)
	}
	if len(out.Shipments) != 2 || len(out.Complaints) != 1 {
		t.Errorf("forward finds %d shipments and %d complaints, want 2 and 1", len(out.Shipments), len(out.Complaints))
	}
	type sum struct{ Pieces, Boxes record.Pieces }
	var got sum
	got.Pieces, got.Boxes = l.PiecesOf(out.Lots) // 80 and 30 pieces, 20 of them in the 10 boxes
	want := sum{record.Pieces{Lots: 2, Made: 110, Left: 42 + 30, Boxed: 20, Went: map[record.Buyer]int{record.MarketDay: 18}},
		record.Pieces{Lots: 1, Made: 10, Left: 6, Went: map[record.Buyer]int{record.Shop: 4}}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("pieces (-want +got):\n%s", diff)
	}
	if both := l.Receipts("A17"); len(both) != 2 {
		t.Errorf("A17 names %d lots, want 2", len(both))
	}
	back := l.Back(l.Lot("BX1"))
	if diff := cmp.Diff([]string{"BX1", "0614"}, codes(back)); diff != "" {
		t.Errorf("back from BX1 (-want +got):\n%s", diff)
	}
	var in []string
	for _, r := range back.Receipts {
		in = append(in, r.Material+" "+r.Code)
	}
	if diff := cmp.Diff([]string{"hay scent A17", "baking soda A17"}, in); diff != "" {
		t.Errorf("receipts in BX1 (-want +got):\n%s", diff)
	}
}

// A correction takes the place of its entry, and may be corrected itself; the entry stays in All.
func TestCorrections(t *testing.T) {
	l, found := record.NewLedger(journal(
		lot("0614", "hay fizz", june, 80),
		&record.Entry{What: lot("0614", "hay fizz", june, 58), Corrects: 1, Reason: "miscounted"},
		&record.Entry{What: lot("0614", "hay fizz", june, 60), Corrects: 2, Reason: "counted again"},
	))
	if len(found) > 0 {
		t.Fatalf("findings: %v", found)
	}
	if got := l.Lot("0614").Pieces; got != 60 || len(l.All) != 3 || len(l.Force) != 1 {
		t.Errorf("%d pieces of %d entries, %d in force; want 60 of 3, 1 in force", got, len(l.All), len(l.Force))
	}
}

func TestLedgerFinds(t *testing.T) {
	for _, c := range []struct {
		name    string
		rule    finding.Code
		entries []*record.Entry
	}{
		{"the same lot twice", record.RuleRepeatedLot, journal(lot("0614", "a", june, 1), lot("0614", "b", june, 1))},
		{"a shipment of no lot", record.RuleUnknownLot, journal(&record.Shipment{Lot: "0614", On: june, Pieces: 1})},
		{"a status of no lot", record.RuleUnknownLot, journal(&record.Status{Lot: "0614", On: june, State: record.Held})},
		{"a complaint about no lot", record.RuleUnknownLot, journal(&record.Complaint{Code: "C1", Lot: "0614", On: june})},
		{"two complaints of one code", record.RuleSameComplaint, journal(&record.Complaint{Code: "C1", On: june}, &record.Complaint{Code: "c1", On: june})},
		{"a complaint before the lot was made", record.RuleBeforeMade, journal(lot("0614", "a", june, 1), &record.Complaint{Code: "C1", Lot: "0614", On: june.AddDays(-1)})},
		{"a material lot that never came", record.RuleUnknownLot, journal(lot("0614", "a", june, 1, of("scent", "A17")))},
		{"more gone than made", record.RuleTooMany, journal(lot("0614", "a", june, 10), &record.Shipment{Lot: "0614", On: june, Pieces: 11})},
		{"more in boxes than made", record.RuleTooMany, journal(lot("0614", "a", june, 10),
			lot("BX", "box", june, 1, record.Used{Name: "a", Lots: []record.Portion{{Code: "0614", Pieces: 11}}}))},
		{"sold before it was made", record.RuleBeforeMade, journal(lot("0614", "a", june, 10), &record.Shipment{Lot: "0614", On: june.AddDays(-1), Pieces: 1})},
		{"a correction of nothing", record.RuleCorrects, journal(&record.Entry{What: lot("0614", "a", june, 1), Corrects: 9, Reason: "x"})},
		{"a correction of another kind", record.RuleCorrects, journal(lot("0614", "a", june, 1),
			&record.Entry{What: &record.Shipment{Lot: "0614", On: june, Pieces: 1}, Corrects: 1, Reason: "x"})},
		{"an entry changed by hand", record.RuleByHand, journal(&record.Entry{What: lot("0614", "a", june, 1), Changed: true})},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, found := record.NewLedger(c.entries)
			for _, f := range found {
				if f.Rule == c.rule && f.Cure != "" && f.Where.Line > 0 {
					return
				}
			}
			t.Errorf("no %s among %v", c.rule, found)
		})
	}
}

func TestStates(t *testing.T) {
	l, _ := record.NewLedger(journal(
		&record.Lot{Code: "1", Product: "a", On: june, Pieces: 10, State: record.Curing},
		&record.Status{Lot: "1", On: june.AddDays(28), State: record.Ready},
		&record.Lot{Code: "2", Product: "a", On: june, Pieces: 10},
		&record.Shipment{Lot: "2", On: june, Pieces: 10, Kind: record.Shop},
		&record.Lot{Code: "3", Product: "a", On: june, Pieces: 10, Trial: true},
		&record.Lot{Code: "4", Product: "a", On: june, Pieces: 10, Trial: true},
		&record.Status{Lot: "4", On: june, Keep: true},
		&record.Shipment{Lot: "2", On: june, Pieces: 3, Kind: record.BackInHand},
		&record.Lot{Code: "5", Product: "a", On: june, Pieces: 10},
		&record.Status{Lot: "5", On: june, State: record.Held},
		&record.Shipment{Lot: "5", On: june, Pieces: 10, Kind: record.Shop},
	))
	got := map[string]string{}
	for _, x := range l.Lots {
		got[x.Code] = fmt.Sprint(l.StateOf(x), " ", l.OnTrial(x), " ", l.Left(x))
	}
	want := map[string]string{"1": "ready false 10", "2": "ready false 3", "3": "ready true 10", "4": "ready false 10", "5": "held false 0"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// The approval for the lot itself goes before one for its days, the later before the earlier.
func TestApprovalFor(t *testing.T) {
	l, _ := record.NewLedger(journal(
		lot("0610", "a", june.AddDays(9), 1), lot("0614", "a", june.AddDays(13), 1), lot("0701", "a", june.AddDays(30), 1),
		&record.Approval{Product: "a", Markets: markets("us"), On: june, Text: "old"},
		&record.Approval{Product: "a", Markets: markets("us"), On: june, From: june.AddDays(12), Text: "new"},
		&record.Approval{Product: "a", Markets: markets("us"), On: june, Lots: []string{"0614"}, Text: "own"},
		&record.Approval{Product: "a", Markets: markets("us"), On: june, From: june.AddDays(12), Text: "newer"},
	))
	for code, want := range map[string]string{"0610": "old", "0614": "own", "0701": "newer"} {
		if a := l.ApprovalFor("a", "us", l.Lot(code), june); a == nil || a.Text != want {
			t.Errorf("lot %s: %+v, want %s", code, a, want)
		}
	}
	if a := l.ApprovalFor("a", "eu", l.Lot("0610"), june); a != nil {
		t.Errorf("another market has an approval: %+v", a)
	}
}

// A lot that was given a wrong code keeps what was recorded of it under that code.
func TestCorrectedCode(t *testing.T) {
	l, found := record.NewLedger(journal(
		lot("0641", "hay fizz", june, 40),
		&record.Shipment{Lot: "0641", On: june.AddDays(1), Pieces: 15, Kind: record.Shop, To: "Harbour Shop"},
		lot("BX1", "box", june.AddDays(2), 5, record.Used{Name: "hay fizz", Lots: []record.Portion{{Code: "0641", Pieces: 5}}}),
		&record.Entry{What: lot("0614", "hay fizz", june, 38), Corrects: 1, Reason: "wrong code"},
		&record.Entry{What: lot("0615", "hay fizz", june, 38), Corrects: 4, Reason: "wrong again"},
	))
	if len(found) > 0 {
		t.Fatal(found)
	}
	x := l.Lot("0641")
	if x == nil || x.Code != "0615" || l.Lot("0614") != x {
		t.Fatalf("0641 leads to %v", x)
	}
	if got := l.Left(x); got != 38-15-5 {
		t.Errorf("%d left, want 18", got)
	}
	if diff := cmp.Diff([]string{"0615", "BX1"}, codes(l.ForwardLots([]*record.Lot{x}))); diff != "" {
		t.Error(diff)
	}
}

// Labels left over: 100 printed for stock by the first words, of which 10 are spoiled. Lots A (30 in hand) and H (held)
// go by them, lot B by later words: 90 left, 30 wanted, 60 to bin. Of the later words nothing is binned.
func TestLeftover(t *testing.T) {
	eu := markets("eu")
	l, found := record.NewLedger(journal(
		&record.Approval{Product: "hay fizz", Markets: eu, On: june, Text: "first"},
		lot("A", "hay fizz", june.AddDays(1), 40),
		lot("H", "hay fizz", june.AddDays(2), 20),
		&record.Status{Lot: "H", On: june.AddDays(2), State: record.Held},
		&record.Printing{Product: "hay fizz", Markets: eu, On: june, Copies: 100, Text: "first", Approval: 1},
		&record.Count{Product: "hay fizz", On: june.AddDays(3), Left: -1, Spoiled: 10},
		&record.Shipment{Lot: "A", On: june.AddDays(4), Pieces: 10, Kind: record.Shop, To: "Harbour Shop"},
		&record.Approval{Product: "hay fizz", Markets: eu, On: june.AddDays(5), From: june.AddDays(5), Text: "later"},
		lot("B", "hay fizz", june.AddDays(6), 40),
		&record.Printing{Product: "hay fizz", Markets: eu, On: june.AddDays(6), Copies: 50, Text: "later", Approval: 8},
	))
	if len(found) > 0 {
		t.Fatal(found)
	}
	type row struct {
		Text                string
		Left, Pieces, ToBin int
		Latest              bool
	}
	var got []row
	for _, b := range l.Leftover("hay fizz") {
		got = append(got, row{b.Text, b.Left, b.Pieces, b.Bin, b.Latest})
	}
	if diff := cmp.Diff([]row{{"first", 90, 30, 60, false}, {"later", 50, 40, 0, true}}, got); diff != "" {
		t.Error(diff)
	}
}

// Suspects were made on or after the day the lot came in, hold the material by their recipe, and name no lot of it.
func TestSuspects(t *testing.T) {
	l, _ := record.NewLedger(journal(
		lot("early", "hay fizz", june, 4),
		lot("names another", "hay fizz", june.AddDays(9), 4, of("hay scent", "A16")),
		lot("says nothing", "hay fizz", june.AddDays(9), 4, of("baking soda", "B1")),
		lot("other scent", "plum fizz", june.AddDays(9), 4),
		lot("same day", "hay fizz", june.AddDays(1), 4),
	))
	var got []string
	for _, x := range l.Suspects("hay scent", june.AddDays(1), func(x *record.Lot) bool { return x.Product == "hay fizz" }) {
		got = append(got, x.Code)
	}
	if diff := cmp.Diff([]string{"same day", "says nothing"}, got); diff != "" {
		t.Error(diff)
	}
}
