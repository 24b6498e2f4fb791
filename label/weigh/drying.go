package weigh

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"panelwright/formula/date"
	"panelwright/formula/exact"
)

// Reading is one piece, or the mean of the same pieces, on one day.
type Reading struct {
	Day   date.Date
	Grams exact.Rat
}

// Drying is how a piece changes with the days: the curve
//
//	floor + change x exp(-days / pace)
//
// fitted to the readings by least squares. The figures of the fit are
// numerical; what is printed of them is rounded to the careful side.
type Drying struct {
	First, Last date.Date
	Days        int       // on which it was weighed
	Lowest      exact.Rat // the least that was read
	Gains       bool      // it grows heavier: water taken up, which is no net weight

	Floor, FloorError float64 // grams; where it ends, and the error of that in 19 of 20 cases
	Pace              float64 // days in which 63 % of what is still to change has changed
	Spread            float64 // grams; standard deviation of the readings around the curve

	change  float64
	cov     [3][3]float64 // of floor, change and pace
	student float64       // t of the fit's degrees of freedom
}

// fewestDays is the least number of days that a curve of three parameters and a
// word on its uncertainty can be had from.
const fewestDays = 5

// Errors of Dry.
var (
	ErrFewReadings = fmt.Errorf("it takes weighings on %d different days to tell how a piece dries", fewestDays)
	ErrNoEnd       = errors.New("the readings do not bend yet, so that no end can be told from them: weigh on for some weeks")
)

// Dry fits the readings, in any order. The error is ErrFewReadings where there
// are too few, and ErrNoEnd where they show no end; Days, First, Last and Lowest
// are right even so.
func Dry(readings []Reading) (Drying, error) {
	rs := slices.Clone(readings)
	slices.SortFunc(rs, func(a, b Reading) int { return cmp.Or(cmp.Compare(a.Day, b.Day), a.Grams.Cmp(b.Grams)) })
	var d Drying
	if len(rs) == 0 {
		return d, ErrFewReadings
	}
	d.First, d.Last, d.Lowest = rs[0].Day, rs[len(rs)-1].Day, rs[0].Grams
	t, m := make([]float64, len(rs)), make([]float64, len(rs))
	for i, r := range rs {
		if i == 0 || r.Day != rs[i-1].Day {
			d.Days++
		}
		d.Lowest = exact.Min(d.Lowest, r.Grams)
		t[i] = float64(daysBetween(d.First, r.Day))
		m[i], _ = r.Grams.Big().Float64()
	}
	if d.Days < fewestDays {
		return d, ErrFewReadings
	}
	d.fit(t, m)
	if d.still(m) {
		return d, nil
	}
	if span := t[len(t)-1]; d.Pace > span || math.IsNaN(d.FloorError) || math.IsInf(d.FloorError, 0) {
		d.Gains = m[len(m)-1] > m[0]
		return d, ErrNoEnd
	}
	d.Gains = d.change < 0
	return d, nil
}

// studentTs is Student's t at 0.975 for 2 to 30 degrees of freedom: with few
// readings twice the standard error would promise more than they tell.
// Computed; the test holds it against the sample correction factors of
// Handbook 133, which are t over the root of the number of readings.
var studentTs = [...]float64{4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.160, 2.145, 2.131, 2.120,
	2.110, 2.101, 2.093, 2.086, 2.080, 2.074, 2.069, 2.064, 2.060, 2.056, 2.052, 2.048, 2.045, 2.042}

// studentT returns t for so many degrees of freedom, 2 or more; beyond the table
// its last figure, which is a little more.
func studentT(df int) float64 { return studentTs[min(max(df-2, 0), len(studentTs)-1)] }

// still reports whether the readings only scatter: a curve that falls or rises
// by less than twice their scatter tells nothing. Then the piece is taken for
// steady at their mean.
func (d *Drying) still(m []float64) bool {
	var sum, squares float64
	for _, x := range m {
		sum += x
	}
	mean := sum / float64(len(m))
	for _, x := range m {
		squares += (x - mean) * (x - mean)
	}
	scatter := math.Sqrt(squares / float64(len(m)-1))
	if scatter > 0 && !(math.Abs(d.change) < 2*d.Spread) {
		return false
	}
	d.Floor, d.change, d.Spread, d.Pace = mean, 0, scatter, 1
	d.cov = [3][3]float64{{scatter * scatter / float64(len(m))}}
	d.student = studentT(len(m) - 1)
	d.FloorError = d.student * math.Sqrt(d.cov[0][0])
	return true
}

// fit looks for the pace with the least sum of squares; for each pace floor and
// change follow from a straight line.
func (d *Drying) fit(t, m []float64) {
	span := t[len(t)-1]
	squares := func(logPace float64) float64 {
		_, _, sum := line(t, m, math.Exp(logPace))
		return sum
	}
	// The best of a coarse row of paces, from a fiftieth of the span to ten spans, then golden sections.
	const steps = 120
	low, high := math.Log(span/50), math.Log(span*10)
	best := 0
	for i := range steps + 1 {
		if squares(low+(high-low)*float64(i)/steps) < squares(low+(high-low)*float64(best)/steps) {
			best = i
		}
	}
	a := low + (high-low)*float64(max(best-1, 0))/steps
	b := low + (high-low)*float64(min(best+1, steps))/steps
	golden := (math.Sqrt(5) - 1) / 2
	for range 100 {
		x, y := b-golden*(b-a), a+golden*(b-a)
		if squares(x) <= squares(y) {
			b = y
		} else {
			a = x
		}
	}
	d.Pace = math.Exp((a + b) / 2)
	var sum float64
	d.Floor, d.change, sum = line(t, m, d.Pace)
	variance := sum / float64(len(t)-3)
	d.Spread = math.Sqrt(variance)
	var normal [3][3]float64
	for _, x := range t {
		g := d.gradient(x)
		for i := range g {
			for j := range g {
				normal[i][j] += g[i] * g[j]
			}
		}
	}
	d.cov = inverse(normal)
	for i := range d.cov {
		for j := range d.cov {
			d.cov[i][j] *= variance
		}
	}
	d.student = studentT(len(t) - 3)
	d.FloorError = d.student * math.Sqrt(d.cov[0][0])
}

// line fits floor and change for a pace.
func line(t, m []float64, pace float64) (floor, change, squares float64) {
	n := float64(len(t))
	var se, sm, see, sem float64
	for i := range t {
		e := math.Exp(-t[i] / pace)
		se, sm, see, sem = se+e, sm+m[i], see+e*e, sem+e*m[i]
	}
	change = (n*sem - se*sm) / (n*see - se*se)
	floor = (sm - change*se) / n
	for i := range t {
		r := m[i] - floor - change*math.Exp(-t[i]/pace)
		squares += r * r
	}
	return floor, change, squares
}

// gradient is how the curve at day x moves with floor, change and pace.
func (d *Drying) gradient(x float64) [3]float64 {
	e := math.Exp(-x / d.Pace)
	return [3]float64{1, e, d.change * e * x / (d.Pace * d.Pace)}
}

func inverse(m [3][3]float64) (out [3][3]float64) {
	minor := func(r, c int) float64 {
		return m[(r+1)%3][(c+1)%3]*m[(r+2)%3][(c+2)%3] - m[(r+1)%3][(c+2)%3]*m[(r+2)%3][(c+1)%3]
	}
	det := m[0][0]*minor(0, 0) + m[0][1]*minor(0, 1) + m[0][2]*minor(0, 2)
	for r := range 3 {
		for c := range 3 {
			out[c][r] = minor(r, c) / det
		}
	}
	return out
}

// Steady returns the first day on which no more than step grams are still to be
// lost or gained by the curve.
func (d *Drying) Steady(step exact.Rat) date.Date {
	s, _ := step.Big().Float64()
	left := math.Abs(d.change)
	if s <= 0 || left <= s {
		return d.First
	}
	return d.First.AddDays(int(math.Ceil(d.Pace * math.Log(left/s))))
}

// LowestOn returns the least that a piece is to be taken for on a day, rounded
// down to 0.1 g: below the curve by its error in 19 of 20 cases, and never above
// what was read. What a piece gains is not counted: a gaining one is taken for
// the least that was read.
func (d *Drying) LowestOn(day date.Date) exact.Rat {
	x := float64(daysBetween(d.First, day))
	return d.least(d.Floor+d.change*math.Exp(-x/d.Pace), d.gradient(x))
}

// LowestAtEnd returns the least that a piece is to be taken for when it loses no
// more, likewise: however long after packing the last one is sold.
func (d *Drying) LowestAtEnd() exact.Rat { return d.least(d.Floor, [3]float64{1, 0, 0}) }

// least takes its error off a point of the curve.
func (d *Drying) least(curve float64, gradient [3]float64) exact.Rat {
	low := d.Lowest
	if !d.Gains {
		var v float64
		for i := range gradient {
			for j := range gradient {
				v += gradient[i] * d.cov[i][j] * gradient[j]
			}
		}
		low = exact.Min(low, exact.Frac(int64(math.Floor((curve-d.student*math.Sqrt(max(v, 0)))*10)), 10))
	}
	return exact.FromDecimal(low.Decimal(1, exact.Down))
}

// daysBetween counts the days from a to b.
func daysBetween(a, b date.Date) int { return dayNumber(b) - dayNumber(a) }

// dayNumber counts days of the Gregorian calendar.
func dayNumber(d date.Date) int {
	y, m := d.Year(), d.Month()
	if m < 3 { // years that begin in March end with the leap day
		y, m = y-1, m+12
	}
	return 365*y + y/4 - y/100 + y/400 + (153*(m-3)+2)/5 + d.Day()
}
