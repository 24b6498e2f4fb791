package label

import (
	"testing"

	"panelwright/formula/exact"
	"panelwright/inci"
)

// A product is judged again where something that concerns it switches, and only there. Regulation (EU) 2026/909
// prohibits triphenyl phosphate in packs first supplied from 2027-01-01 (bans-eu.csv).
func TestWhenJudgedAgain(t *testing.T) {
	soda := weigh(of("SODIUM BICARBONATE"), "99")
	plain := rinseOff(soda)
	banned := rinseOff(soda, weigh(of("TRIPHENYL PHOSPHATE"), "1"))
	answered := rinseOff(soda)
	answered.Answers = []Answer{{Rule: "product.looks-like", Reason: "no", Date: day("2027-01-01")}}
	weighed := rinseOff(soda)
	weighed.Weights = []Weighed{{Day: today.On, Grams: exact.Int(99)}}
	starch := of("ZEA MAYS STARCH")
	starch.Info.(*Sheet).Later = []LaterSheet{{Material: of("TRIPHENYL PHOSPHATE")}}
	for _, c := range []struct {
		name    string
		product *Product
		market  inci.Market
		again   bool
	}{
		{"nothing of it", plain, inci.EU, false},
		{"a ban", banned, inci.EU, true},
		{"a ban elsewhere", banned, inci.US, false},
		{"an answer of that day", answered, inci.EU, true},
		{"weighed over weeks, which no date changes", weighed, inci.EU, false},
		{"a ban by a later sheet", rinseOff(soda, weigh(starch, "1")), inci.EU, true},
	} {
		d := NewDesk(workshop())
		x := d.Declare(c.product, []inci.Market{c.market}, today)[0]
		when := d.when(x)
		if got := when(fresh("2026-12-31")) != when(fresh("2027-01-01")); got != c.again {
			t.Errorf("%s: judged again: %v", c.name, got)
		}
	}
}
