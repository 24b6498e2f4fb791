package label

import (
	"slices"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// edge is a row with a maximum, met by one substance in one product.
type edge struct {
	l   *inci.Limit
	k   formula.Key
	p   tried
	m   inci.Market
	day date.Occasion
}

// over reports whether a share of the substance, counted as the row counts it,
// is said to be above the row.
func (e edge) over(share exact.Rat) bool {
	f, _ := e.l.Factor(e.k)
	g := share.Quo(f).Mul(hundred)
	parts := []formula.Part{whole(e.k)}
	if e.l.With != "" && e.k != e.l.With { // the mixture: both halves count
		half := formula.Point(exact.Frac(1, 2))
		parts = []formula.Part{{Key: e.k, Range: half}, {Key: e.l.With, Range: half}}
	}
	m := purposed(blend("tried", "other", parts...), e.l)
	lines := []formula.Line{{Amount: formula.Amount{Value: hundred.Sub(g)}, Material: of("SODIUM BICARBONATE")}, {Amount: formula.Amount{Value: g}, Material: m}}
	x := substancesOnly(e.m, e.p.product(lines...), e.day)
	return slices.ContainsFunc(x.Findings, func(f finding.Finding) bool {
		return f.Rule == ruleOf(e.m, e.l) && (f.Severity >= finding.Question) == !unread(e.l) && f.Severity >= finding.Warning && strings.Contains(f.Message, entryOf(e.l)+" allows")
	})
}

// Every list, every row with a maximum: a share of exactly the limit passes, and
// a millionth more does not; where the limit itself is too much, a millionth less
// passes. Rows that a stricter one always covers, and those of what is banned,
// never decide.
func TestEveryLimitAtItsEdge(t *testing.T) {
	lists := map[string]int{}
	for _, m := range []inci.Market{inci.EU, inci.GB, inci.US, inci.CA} { // NI has the rows of the EU
		for _, l := range inci.Limits(m) {
			if !l.HasMax || l.Max.Equal(exact.Int(1)) {
				continue
			}
			e, ok := deciding(l, m)
			if !ok {
				continue
			}
			lists[string(m)+" "+l.List]++
			tiny := l.Max.Mul(exact.Frac(1, 1_000_000))
			most, above := l.Max, l.Max.Add(tiny)
			if l.Below {
				most, above = l.Max.Sub(tiny), l.Max
			}
			if e.over(most) {
				t.Errorf("%s %s: %s at the limit in a %s is said to be over it", m, entryOf(l), e.k, e.p.kind)
			}
			if !e.over(above) {
				t.Errorf("%s %s: %s above the limit in a %s is not said to be", m, entryOf(l), e.k, e.p.kind)
			}
		}
	}
	for list, least := range map[string]int{
		"eu Annex II": 1, "eu Annex III": 150, "eu Annex V": 45, "eu Annex VI": 30, "eu REACH Annex XVII": 3,
		"gb Annex II": 1, "gb Annex III": 80, "gb Annex V": 45, "gb Annex VI": 25, "gb REACH Annex XVII": 1,
		"us 21 CFR": 1, "ca Hotlist": 1,
	} {
		if lists[list] < least {
			t.Errorf("%s: only %d rows met at their edge", list, lists[list])
		}
	}
	t.Log(lists)
}

// deciding returns a product in which no other row about the substance is as
// strict, for the first substance for which there is one and whose factor is known.
func deciding(l *inci.Limit, m inci.Market) (edge, bool) {
	products, day := coveredBy(l)
	for _, k := range l.Keys {
		if own, ok := l.Factor(k); !ok || own.Less(l.Max) || bannedOn(k, m, day) {
			continue
		}
		for _, p := range products {
			if !slices.ContainsFunc(inci.LimitsOf(k, m), func(o *inci.Limit) bool {
				return o != l && p.kinds.in(&o.Applies) && o.Duty.Binds(day) && o.HasMax && stricter(o, l, k)
			}) {
				return edge{l, k, p, m, day}, true
			}
		}
	}
	return edge{}, false
}

// stricter reports whether o lets through no more of k than l does, for the same
// purpose.
func stricter(o, l *inci.Limit, k formula.Key) bool {
	if o.Purpose != l.Purpose || o.Without != l.Without {
		return false
	}
	a, b := o.Most(k), l.Most(k)
	return !l.Max.Quo(b).Less(o.Max.Quo(a))
}

func bannedOn(k formula.Key, m inci.Market, day date.Occasion) bool {
	return slices.ContainsFunc(inci.Prohibited(k, m), func(b inci.Ban) bool { return b.ByName && b.Condition == "" && b.Duty.Binds(day) })
}
