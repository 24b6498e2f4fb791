package label_test

import (
	"testing"
	"testing/fstest"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/book"
)

// A calendar does not judge again where nothing that concerns the product
// differs. For every book of every rule it says what it says judging anew on
// each occasion: a dated row that a judgement reads and the calendar overlooks
// shows here.
func TestCalendarJudgesOnce(t *testing.T) {
	cases, err := readCases()
	if err != nil {
		t.Fatal(err)
	}
	changes := 0
	for _, c := range cases {
		for _, files := range []fstest.MapFS{c.fail, c.pass} {
			b, found := book.LoadFS(files)
			if found.Count(finding.Error) > 0 {
				continue
			}
			desk := label.NewDesk(&b.Workshop)
			for _, p := range b.Products {
				today := desk.Declare(p, p.SellIn, date.Occasion{On: date.Of(2024, 2, 1), Placed: date.Of(2023, 7, 1)})
				want := desk.CalendarAfresh(today, date.Of(2036, 1, 1))
				got := desk.Calendar(today, date.Of(2036, 1, 1))
				changes += len(want)
				if diff := gocmp.Diff(want, got, cmpopts.IgnoreFields(label.Change{}, "Product")); diff != "" {
					t.Errorf("%s, %s (-anew +once):\n%s", c.name, p.Name, diff)
				}
			}
		}
	}
	if changes < 50 {
		t.Errorf("only %d changes were compared", changes)
	}
}
