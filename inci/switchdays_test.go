package inci

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"panelwright/formula/date"
)

// A day of law that stands in a table and is missing from Duties would be a
// change that the calendar does not see. The tables are read here anew, cell by
// cell, so that a table added later is not forgotten.
func TestDutiesHoldEveryDay(t *testing.T) {
	known := map[date.Date]bool{}
	for _, m := range Markets {
		for _, u := range Duties(m) {
			known[u.New], known[u.All] = true, true
		}
	}
	seen := 0
	files, err := filepath.Glob("data/*.csv")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	for _, name := range files {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(f).ReadAll()
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		for line, cells := range rows[1:] {
			// Former allergens that are banned today are judged as bans.
			if i := slices.Index(rows[0], "prohibited"); i >= 0 && cells[i] == "yes" {
				continue
			}
			for col, cell := range cells {
				if slices.Contains([]string{"reviewed", "value"}, rows[0][col]) {
					continue
				}
				for _, word := range strings.Split(cell, "/") {
					day, err := date.Parse(word)
					if err != nil {
						continue
					}
					seen++
					if !known[day] {
						t.Errorf("%s:%d: %s %s is in no market's Duties", name, line+2, rows[0][col], day)
					}
				}
			}
		}
	}
	if seen < 400 {
		t.Errorf("only %d days read", seen)
	}
}

// Regulation (EU) 2023/1545 Article 2 and its footnotes (2026-08-01, 2028-08-01);
// Regulation (EU) 2026/909 (Triphenyl Phosphate: 2027-01-01, 2028-07-01). Great
// Britain is not known to have adopted either.
func TestDuties(t *testing.T) {
	long := date.Duty{New: date.Of(2026, 8, 1), All: date.Of(2028, 8, 1)}
	phosphate := date.Duty{New: date.Of(2027, 1, 1), All: date.Of(2028, 7, 1)}
	for _, c := range []struct {
		market Market
		duty   date.Duty
		want   bool
	}{
		{EU, long, true}, {NI, long, true}, {CA, long, true}, {GB, long, false}, {US, long, false},
		{EU, phosphate, true}, {NI, phosphate, true}, {GB, phosphate, false}, {US, phosphate, false},
	} {
		if got := slices.Contains(Duties(c.market), c.duty); got != c.want {
			t.Errorf("%s %v: %v", c.market, c.duty, got)
		}
	}
	for _, m := range Markets {
		if d := Duties(m); !slices.IsSortedFunc(d, func(a, b date.Duty) int { return int(a.New - b.New) }) || slices.Contains(d, date.Duty{}) {
			t.Errorf("%s: %v", m, d)
		}
	}
}
