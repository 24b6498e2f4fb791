package paper_test

import (
	"strings"
	"testing"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/label/paper"
	"panelwright/label/record"
)

// A customer has pieces, and never heard of the mix that is in them.
func TestNoticeNamesNoMix(t *testing.T) {
	june := date.Of(2026, 6, 1)
	whats := []any{
		&record.Lot{Code: "P1", Product: "scent blend", On: june, Batch: []record.Weighed{{Grams: exact.Int(200)}}},
		&record.Lot{Code: "0610", Product: "meadow fizz", On: june, Pieces: 40,
			Used: []record.Used{{Name: "scent blend", Lots: []record.Portion{{Code: "P1"}}}}},
		&record.Shipment{Lot: "0610", On: june, Pieces: 18, Kind: record.MarketDay, To: "Saturday market"},
	}
	var entries []*record.Entry
	for i, w := range whats {
		entries = append(entries, &record.Entry{Number: i + 1, What: w})
	}
	led, found := record.NewLedger(entries)
	if len(found) > 0 {
		t.Fatal(found)
	}
	var text strings.Builder
	if err := paper.Notice(led, led.Lots, nil, "", "", june).Text(&text); err != nil {
		t.Fatal(err)
	}
	if got := text.String(); !strings.Contains(got, "meadow fizz, lot 0610") || strings.Contains(got, "scent blend") {
		t.Errorf("the notice reads\n%s", got)
	}
}
