package label

import (
	"cmp"
	"slices"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// Packs says which packs a change reaches.
type Packs string

const (
	NewPacks Packs = "new"   // those first supplied from the day on
	Stock    Packs = "stock" // those supplied earlier and still on sale
	AllPacks Packs = "all"   // both
)

// Change is one thing that becomes different for a product in a market on a
// day, for no other reason than the date. What it says stands in the finding:
// the message, the cure and the first source.
type Change struct {
	Day     date.Date
	Product *Product
	Market  inci.Market
	Packs   Packs
	// Before bounds the earlier packs that the change tells of: those first
	// supplied before this day. A change of NewPacks does not reach them; one of
	// Stock or AllPacks does.
	Before date.Date
	// LastSale is the last day on which those earlier packs may be sold as they
	// are. It is zero where no rule known here ends their sale, and where nothing
	// becomes wrong.
	LastSale date.Date
	Finding  finding.Finding
	Sources  []finding.Citation // all there are; the first is that of the finding
}

// Worse reports whether something that was right until then needs doing: the
// change is not one that lifts a duty.
func (c Change) Worse() bool { return c.Finding.Severity > finding.Note }

// Calendar returns what changes for a product after the occasion that it was
// declared on in some markets, up to and including until, in the order of days.
// It judges packs newly supplied on each day on which a rule of the market
// switches, and packs of earlier supply for as long as a rule may still reach
// them: those first supplied on the day that the occasion names, and those
// supplied before a rule began that reaches stock only later. What is wrong
// already on the day declared is not in it.
func (d *Desk) Calendar(declared []*Declaration, until date.Date) []Change {
	return calendar(declared, until, func(x *Declaration) watch {
		return watch{declare: func(o date.Occasion) *Declaration { return d.again(x, o) }, when: d.when(x)}
	})
}

// CalendarSet is Calendar for a set and the products in it.
func (d *Desk) CalendarSet(s *Set, declared []*Declaration, until date.Date) []Change {
	all := calendar(declared, until, func(x *Declaration) watch {
		return watch{declare: func(o date.Occasion) *Declaration { return d.DeclareSet(s, []inci.Market{x.Market}, o)[0] }, when: eachDay}
	})
	for i := range all {
		all[i].Product = &s.Product
	}
	return all
}

func calendar(declared []*Declaration, until date.Date, over func(*Declaration) watch) []Change {
	var all []Change
	for _, x := range declared {
		w := over(x)
		w.market, w.until, w.duties, w.known = x.Market, until, duties(x.Market), map[string]*Declaration{w.when(x.Occasion): x}
		for _, c := range w.changes(x.Occasion) {
			c.Product = x.Product
			all = append(all, c)
		}
	}
	slices.SortStableFunc(all, func(a, b Change) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(slices.Index(inci.Markets, a.Market), slices.Index(inci.Markets, b.Market)),
			cmp.Compare(a.Packs, b.Packs), cmp.Compare(a.Before, b.Before))
	})
	return all
}

// lastDay is later than any day of a rule.
var lastDay = date.Of(9999, 12, 31)

// watch follows one product in one market through the days on which rules
// switch.
type watch struct {
	market  inci.Market
	until   date.Date
	duties  []date.Duty
	declare func(date.Occasion) *Declaration
	when    func(date.Occasion) string // occasions that are called the same have the same declaration
	known   map[string]*Declaration    // by when
}

// differences compares what holds on two occasions, and judges only if they
// differ in anything that matters.
func (w *watch) differences(last, next date.Occasion) []difference {
	if w.when(last) == w.when(next) {
		return nil
	}
	return differences(w.on(last), w.on(next))
}

func (w *watch) on(o date.Occasion) *Declaration {
	k := w.when(o)
	if w.known[k] == nil {
		w.known[k] = w.declare(o)
	}
	return w.known[k]
}

// change is a Change in the making, with what it is told apart by.
type change struct {
	Change
	difference
}

// changes follows new packs, then the stock that a later rule may reach.
func (w *watch) changes(from date.Occasion) []Change {
	var all []change
	last := date.Occasion{On: from.On, Placed: from.On}
	for _, day := range w.begin(from.On, w.until) {
		next := date.Occasion{On: day, Placed: day}
		if diff := w.differences(last, next); len(diff) > 0 {
			all = append(all, w.begins(day, diff)...)
		}
		last = next
	}
	for _, before := range w.supplies(from.On) {
		all = append(all, w.stock(before, w.reach(before, before, from.On, w.until))...)
	}
	if from.Placed < from.On { // one batch asked for by its day
		before := from.Placed.AddDays(1)
		all = append(all, w.stock(before, w.reach(before, w.until, from.On, w.until))...)
	}
	return w.told(all)
}

// begins makes the changes of new packs on a day, and adds what comes later to
// the packs supplied just before it. Those are followed to the last switch that
// is known, beyond the last day asked for: it says how long they may be sold.
func (w *watch) begins(day date.Date, diff []difference) []change {
	later := w.stock(day, w.reach(day, day, day.AddDays(-1), lastDay))
	var out []change
	for _, f := range diff {
		c := w.change(day, NewPacks, day, f)
		same := func(o change) bool { return o.about == f.about }
		if n := slices.IndexFunc(later, same); n >= 0 && f.worse() {
			c.LastSale = later[n].LastSale
		}
		if n := slices.IndexFunc(later, func(o change) bool { return o.Day == day && o.key == f.key }); n >= 0 {
			c.Packs = AllPacks
			later = slices.Delete(later, n, n+1)
		}
		out = append(out, c)
	}
	return append(out, later...)
}

// stock compares the packs first supplied just before a day on each of some
// later days with the same packs on the day before it.
func (w *watch) stock(before date.Date, days []date.Date) []change {
	placed := before.AddDays(-1)
	var out []change
	for _, day := range days {
		for _, f := range w.differences(date.Occasion{On: day.AddDays(-1), Placed: placed}, date.Occasion{On: day, Placed: placed}) {
			c := w.change(day, Stock, before, f)
			if f.worse() {
				c.LastSale = day.AddDays(-1)
			}
			out = append(out, c)
		}
	}
	return out
}

func (w *watch) change(day date.Date, packs Packs, before date.Date, f difference) change {
	c := Change{Day: day, Market: w.market, Packs: packs, Before: before, Finding: f.finding, Sources: f.sources}
	c.Finding.Market = string(w.market)
	return change{c, f}
}

// supplies returns the days on which a rule began that reaches packs supplied
// before only after from.
func (w *watch) supplies(from date.Date) []date.Date {
	var out []date.Date
	for _, u := range w.duties {
		if u.New != 0 && u.New <= from && u.All > from {
			out = append(out, u.New)
		}
	}
	return inOrder(out)
}

// told leaves out what lies after the last day asked for, and says of stock
// once what reaches several supplies on one day: the latest of them includes
// the others.
func (w *watch) told(all []change) []Change {
	var out []Change
	for i, c := range all {
		again := func(o change) bool {
			return o.Packs != NewPacks && o.Day == c.Day && o.key == c.key && o.Before > c.Before
		}
		twin := func(o change) bool {
			return o.Packs == c.Packs && o.Day == c.Day && o.key == c.key && o.Before == c.Before
		}
		if c.Day > w.until || c.Packs == Stock && (slices.ContainsFunc(all, again) || slices.ContainsFunc(all[:i], twin)) {
			continue
		}
		out = append(out, c.Change)
	}
	return out
}

// duties returns what the rows of substances and of packs say with a date.
func duties(m inci.Market) []date.Duty {
	return append(inci.Duties(m), market.For(m).Duties()...)
}

// begin returns the days after start, up to end, on which a duty of new packs
// begins. One that reaches stock on a later day says nothing new of them then.
func (w *watch) begin(start, end date.Date) []date.Date {
	var days []date.Date
	for _, u := range w.duties {
		if u.New > start && u.New <= end {
			days = append(days, u.New)
		}
	}
	return inOrder(days)
}

// reach returns the days after start, up to end, on which duties that began from
// the day first to the day last reach stock. Packs supplied before first are
// reached by nothing else then that did not reach later packs too.
func (w *watch) reach(first, last, start, end date.Date) []date.Date {
	var days []date.Date
	for _, u := range w.duties {
		if u.New >= first && u.New <= last && u.All > start && u.All <= end {
			days = append(days, u.All)
		}
	}
	return inOrder(days)
}

func inOrder(days []date.Date) []date.Date {
	slices.Sort(days)
	return slices.Compact(days)
}
