package record_test

import (
	"strings"
	"testing"

	"panelwright/formula/exact"
	"panelwright/label/record"
)

func TestReminders(t *testing.T) {
	grams := []exact.Rat{exact.Int(100)}
	l, _ := record.NewLedger(journal(
		&record.Lot{Code: "cured", Product: "bar", On: june, Pieces: 10, State: record.Curing, ReadyOn: june.AddDays(28)},
		&record.Lot{Code: "weighed", Product: "bar", On: june, Pieces: 10, State: record.Curing, ReadyOn: june.AddDays(42)},
		&record.Status{Lot: "weighed", On: june.AddDays(25), Weights: grams},
		&record.Lot{Code: "unweighed", Product: "bar", On: june, Pieces: 10, State: record.Curing, ReadyOn: june.AddDays(42)},
		&record.Lot{Code: "fine", Product: "bar", On: june, Pieces: 10},
		&record.Entry{What: &record.Lot{Code: "stopped", Product: "bar", On: june, Pieces: 10, State: record.Held}, Remarks: "smells odd"},
		&record.Receipt{Material: "scent", Code: "A1", On: june, Expires: june.AddDays(20)},            // replaced by A2
		&record.Receipt{Material: "scent", Code: "A2", On: june.AddDays(5), Expires: june.AddDays(80)}, // within 60 days
		&record.Receipt{Material: "oil", Code: "B1", On: june, Expires: june.AddDays(200)},
		&record.Receipt{Material: "clay", Code: "C1", On: june, Expires: june.AddDays(3)},
	))
	var got []string
	for _, r := range l.Reminders(june.AddDays(28)) {
		got = append(got, r.About)
		if r.Do == "" {
			t.Errorf("%s does not say what to do", r.About)
		}
		if r.About == "lot stopped" && !strings.Contains(r.Words, "smells odd") {
			t.Errorf("%s does not say why", r.Words)
		}
	}
	if want := "lot cured|lot unweighed|lot stopped|scent, lot A2|clay, lot C1"; strings.Join(got, "|") != want {
		t.Errorf("%s, want %s", strings.Join(got, "|"), want)
	}
}
