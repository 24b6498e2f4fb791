package date

import "testing"

func TestDuty(t *testing.T) {
	// Regulation (EU) 2023/1545: packs placed from 2026-08-01, all from 2028-08-01.
	long := Duty{New: Of(2026, 8, 1), All: Of(2028, 8, 1)}
	for _, c := range []struct {
		name       string
		on, placed Date
		want       bool
	}{
		{"the day before", Of(2026, 7, 31), Of(2026, 7, 31), false},
		{"new on the day", Of(2026, 8, 1), Of(2026, 8, 1), true},
		{"stock on the last day", Of(2028, 7, 31), Of(2026, 7, 31), false},
		{"stock after the last day", Of(2028, 8, 1), Of(2026, 7, 31), true},
		{"planned for September, judged in July", Of(2026, 7, 1), Of(2026, 9, 1), true},
	} {
		if got := long.Binds(Occasion{On: c.on, Placed: c.placed}); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
	if !(Duty{}).Binds(Occasion{On: Of(2020, 1, 1), Placed: Of(2020, 1, 1)}) {
		t.Error("an undated duty always binds")
	}
}

func TestParse(t *testing.T) {
	for _, bad := range []string{"", "2026-02-30", "2026-2-3", "26-08-01", "2026/08/01", "2026-08-01T00", "0000-01-01"} {
		if d, err := Parse(bad); err == nil {
			t.Errorf("Parse(%q) = %v", bad, d)
		}
	}
	d, err := Parse("2026-01-31")
	if err != nil || d.AddMonths(1).String() != "2026-02-28" || d.AddMonths(-2).String() != "2025-11-30" || d.AddMonths(11).String() != "2026-12-31" {
		t.Errorf("month arithmetic: %v %v %v", d.AddMonths(1), d.AddMonths(-2), d.AddMonths(11))
	}
	if d.AddDays(1).String() != "2026-02-01" {
		t.Errorf("AddDays: %v", d.AddDays(1))
	}
}

func TestWindow(t *testing.T) {
	w := Window{From: Of(2026, 1, 1), Until: Of(2027, 1, 1)}
	if !w.Has(w.From) || w.Has(w.Until) || !(Window{}).Has(w.From) {
		t.Error("window bounds")
	}
}
