package market

import (
	"encoding/csv"
	"path/filepath"
	"slices"
	"testing"

	"panelwright/formula/date"
	"panelwright/inci"
)

// A day of law that stands in a table and is missing from Duties would be a
// change that the calendar does not see. The timeline is what is told, not what
// is judged, and a market's day of review binds nobody.
func TestDutiesHoldEveryDay(t *testing.T) {
	known := map[date.Date]bool{}
	for _, m := range inci.Markets {
		for _, u := range For(m).Duties() {
			known[u.New], known[u.All] = true, true
		}
	}
	seen := 0
	entries, err := files.ReadDir("data")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() == "timeline.csv" || filepath.Ext(e.Name()) != ".csv" {
			continue
		}
		f, err := files.Open("data/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(f).ReadAll()
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		for line, cells := range rows[1:] {
			for col, cell := range cells {
				day, err := date.Parse(cell)
				if err != nil || slices.Contains(cells, "reviewed") {
					continue
				}
				seen++
				if !known[day] {
					t.Errorf("%s:%d: %s %s is in no market's Duties", e.Name(), line+2, rows[0][col], day)
				}
			}
		}
	}
	if seen < 5 {
		t.Errorf("only %d days read", seen)
	}
}

// The transitional rule of Great Britain for responsible persons in the Union
// ends with packs first supplied on 2027-12-31 (market-timeline.csv, row GB
// 2028-01-01).
func TestDuties(t *testing.T) {
	last := date.Duty{New: date.Of(2028, 1, 1)}
	for _, m := range inci.Markets {
		if got := slices.Contains(For(m).Duties(), last); got != (m == inci.GB) {
			t.Errorf("%s: %v", m, got)
		}
	}
}
