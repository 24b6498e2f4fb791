package market

import (
	"sync"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// UnitSample returns how many units Canada takes from a lot (Schedule II Part I).
// It returns false for markets that judge in another way, and for a lot that the
// table does not hold, such as a single unit.
func (r *Rules) UnitSample(lot int) (n int, source finding.Citation, ok bool) {
	for _, row := range unitRows()[r.Market] {
		if row.table != "sample" || !row.holds(lot) {
			continue
		}
		// A share of the lot, rounded up, and not fewer than the figure beside it.
		n = int(row.value.Floor().Int64())
		if share := row.second.Mul(exact.Int(int64(lot))); share.Sign() > 0 {
			n = max(n, int(share.Decimal(0, exact.Up).IntPart()))
		}
		return n, row.source, true
	}
	return 0, finding.Citation{}, false
}

// Student is the t of a sample size (Schedule II Part III).
type Student struct {
	T        exact.Rat
	OverRoot exact.Rat // t / sqrt n as printed; 0 where the size is not printed
	Between  [2]int    // the printed sizes that T was interpolated between; zero where it is printed
	Source   finding.Citation
}

// StudentT returns t for a sample of n units. Between printed sizes t is
// interpolated in 120 / n. It returns false below 2 and above the largest
// printed size.
func (r *Rules) StudentT(n int) (Student, bool) {
	var low unitRow
	for _, row := range unitRows()[r.Market] {
		switch {
		case row.table != "t":
		case row.min == n:
			return Student{T: row.value, OverRoot: row.second, Source: row.source}, true
		case row.min < n:
			low = row
		case low.min > 0:
			at := func(size int) exact.Rat { return exact.Frac(120, int64(size)) }
			share := at(low.min).Sub(at(n)).Quo(at(low.min).Sub(at(row.min)))
			t := low.value.Add(row.value.Sub(low.value).Mul(share))
			return Student{T: t, Between: [2]int{low.min, row.min}, Source: row.source}, true
		}
	}
	return Student{}, false
}

// RejectAt returns how many units of a sample of n that are short by more than
// the tolerance fail the lot (Schedule II Part IV). Beyond the end of the table
// its last figure is returned, which is stricter; for one unit it is 1.
func (r *Rules) RejectAt(n int) (units int, source finding.Citation, ok bool) {
	for _, row := range unitRows()[r.Market] {
		if row.table != "reject" {
			continue
		}
		if ok && n < row.min {
			break
		}
		units, source, ok = int(row.value.Floor().Int64()), row.source, true
	}
	return units, source, ok
}

// unitRow is a row of data/sampling-ca.csv; max is 0 for no upper end.
type unitRow struct {
	table         string
	min, max      int
	value, second exact.Rat
	source        finding.Citation
}

func (u unitRow) holds(n int) bool { return u.min <= n && (u.max == 0 || n <= u.max) }

var unitRows = sync.OnceValue(func() map[inci.Market][]unitRow {
	all := map[inci.Market][]unitRow{}
	for _, r := range load("sampling-ca.csv") {
		m := inci.Market(r.text("market"))
		all[m] = append(all[m], unitRow{r.text("table"), r.whole("min"), r.whole("max"), r.numberIfAny("value"), r.numberIfAny("value_2"), r.cite()})
	}
	return all
})
