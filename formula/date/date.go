// Package date holds calendar days and the windows in which a rule is in
// force. There is no clock here: today's date comes in from the command line.
package date

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"time"
)

// Date is a calendar day of the Gregorian calendar, kept as the number
// yyyymmdd so that days compare as numbers. The zero Date means "not given".
type Date int32

// Of returns the day y-m-d. It panics if there is no such day.
func Of(y, m, d int) Date {
	x, err := make8(y, m, d)
	if err != nil {
		panic(err)
	}
	return x
}

// Parse reads a day written year-month-day, as in 2026-08-01.
func Parse(s string) (Date, error) {
	if len(s) == 10 && s[4] == '-' && s[7] == '-' {
		y, e1 := strconv.Atoi(s[:4])
		m, e2 := strconv.Atoi(s[5:7])
		d, e3 := strconv.Atoi(s[8:])
		if e1 == nil && e2 == nil && e3 == nil {
			return make8(y, m, d)
		}
	}
	return 0, fmt.Errorf("%q is not a date; write year-month-day, as in 2026-08-01", s)
}

func make8(y, m, d int) (Date, error) {
	t := time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC)
	if y < 1 || y > 9999 || t.Year() != y || int(t.Month()) != m || t.Day() != d {
		return 0, fmt.Errorf("there is no day %04d-%02d-%02d", y, m, d)
	}
	return Date(y*10000 + m*100 + d), nil
}

// Year, Month and Day return the parts of the date.
func (d Date) Year() int  { return int(d) / 10000 }
func (d Date) Month() int { return int(d) / 100 % 100 }
func (d Date) Day() int   { return int(d) % 100 }

// AddMonths returns the day n months later; the 31st becomes the last day of a
// shorter month.
func (d Date) AddMonths(n int) Date {
	y, m := d.Year(), d.Month()-1+n
	y, m = y+m/12, m%12
	if m < 0 {
		y, m = y-1, m+12
	}
	last := time.Date(y, time.Month(m+2), 0, 0, 0, 0, 0, time.UTC).Day()
	return Of(y, m+1, min(d.Day(), last))
}

// AddDays returns the day n days later.
func (d Date) AddDays(n int) Date {
	t := time.Date(d.Year(), time.Month(d.Month()), d.Day()+n, 0, 0, 0, 0, time.UTC)
	return Of(t.Year(), int(t.Month()), t.Day())
}

// String returns yyyy-mm-dd, or "" for the zero Date.
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year(), d.Month(), d.Day())
}

// MarshalText writes the date as yyyy-mm-dd.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// Window is a span of days: from From, that day included, up to but not
// including Until. A zero bound is open.
type Window struct{ From, Until Date }

// Has reports whether d lies in the window.
func (w Window) Has(d Date) bool {
	return (w.From == 0 || d >= w.From) && (w.Until == 0 || d < w.Until)
}

// Occasion is the pair of days that a pack is judged on. They differ for stock:
// a pack supplied in June is still judged in December, and some rules reach
// only packs supplied after they began.
type Occasion struct {
	On     Date // the day judged
	Placed Date // first supply of the batch in that territory
}

// Duty says when a rule binds: packs newly placed on the market from New, and
// all packs still on sale from All. A zero New means "since before any date
// this project knows". A zero All means that packs already placed before New
// are never reached.
type Duty struct{ New, All Date }

// Binds reports whether the duty binds a pack on the occasion. A pack that is
// still to be supplied is bound by what holds on the day of first supply.
func (u Duty) Binds(o Occasion) bool {
	return o.Placed >= u.New || u.All != 0 && o.On >= u.All
}

// Distinct sorts duties, earliest first, and drops repeats and those without a
// date. It reuses the slice.
func Distinct(all []Duty) []Duty {
	all = slices.DeleteFunc(all, func(u Duty) bool { return u == Duty{} })
	slices.SortFunc(all, func(a, b Duty) int { return cmp.Or(cmp.Compare(a.New, b.New), cmp.Compare(a.All, b.All)) })
	return slices.Compact(all)
}
