package main

import (
	"cmp"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
)

// lookAhead is how many months the calendar looks ahead if not told otherwise.
const lookAhead = 24

// calendar prints what changes when for the products of a book, and what is on
// the calendar besides. Nothing has to be wrong today for it to have something
// to say, so what it finds does not count as errors.
func calendar(c *call) (int, error) {
	b, err := c.open()
	if err != nil {
		return exitFailed, err
	}
	if c.until == 0 {
		c.until = c.on.AddMonths(lookAhead)
	}
	if c.until <= c.on {
		return exitFailed, usageError(fmt.Sprintf("--until %s is not after %s, the day judged", c.until, c.on))
	}
	jobs, desk, err := c.jobs(b)
	if err != nil {
		return exitFailed, err
	}
	var a agenda
	type watched struct {
		judged
		changes []label.Change
	}
	work := make([]watched, len(jobs))
	for i, j := range jobs {
		work[i].judged = j
	}
	for w := range inOrder(work, func(w watched) watched {
		ms := c.wants(w.product.SellIn)
		if w.set != nil {
			w.decls = desk.DeclareSet(w.set, ms, c.occasion())
			w.changes = desk.CalendarSet(w.set, w.decls, c.until)
		} else {
			w.decls = desk.Declare(w.product, ms, c.occasion())
			w.changes = desk.Calendar(w.decls, c.until)
		}
		return w
	}) {
		a.take(w.decls, w.changes)
	}
	a.also = events(a.markets, a.changes, c.on, c.until)
	if c.ics != "" {
		if err := c.writeICS(b.Workshop.Name, a.items()); err != nil {
			return exitFailed, err
		}
	}
	if c.json {
		return exitClean, c.agendaJSON(&a)
	}
	return exitClean, c.agendaText(&a)
}

// agenda is what the calendar has to say of a book.
type agenda struct {
	changes []label.Change
	also    []event
	markets []inci.Market // in which anything is sold
	held    int           // declarations that may not be printed today
	decls   int
}

func (a *agenda) take(decls []*label.Declaration, changes []label.Change) {
	for _, d := range decls {
		a.decls++
		if !d.Verdict().Prints() {
			a.held++
		}
		if !slices.Contains(a.markets, d.Market) {
			a.markets = append(a.markets, d.Market)
		}
	}
	a.changes = append(a.changes, changes...)
}

// days returns how many different days there are to keep.
func (a *agenda) days() int {
	seen := map[date.Date]bool{}
	for _, c := range a.changes {
		seen[c.Day] = true
	}
	return len(seen)
}

// item is a change as it is told: once for all products that it says the same of.
type item struct {
	label.Change
	products []string
	markets  []inci.Market
}

func byDay(a, b item) int {
	return cmp.Or(cmp.Compare(a.Day, b.Day), slices.Index(inci.Markets, a.markets[0])-slices.Index(inci.Markets, b.markets[0]),
		cmp.Compare(a.Packs, b.Packs), cmp.Compare(a.Before, b.Before))
}

// items joins the changes that say the same of several products in one market,
// by day and then by market.
func (a *agenda) items() []item {
	type same struct {
		day, before, last date.Date
		market            inci.Market
		packs             label.Packs
		severity          finding.Severity
		message, cure     string
	}
	var out []item
	at := map[same]int{}
	for _, c := range a.changes {
		f := c.Finding
		k := same{c.Day, c.Before, c.LastSale, c.Market, c.Packs, f.Severity, f.Message, f.Cure}
		i, ok := at[k]
		if !ok {
			i = len(out)
			at[k] = i
			out = append(out, item{Change: c, markets: []inci.Market{c.Market}})
		}
		// A set is told after its products, and has what they have.
		if !slices.Contains(out[i].products, c.Product.Name) {
			out[i].products = append(out[i].products, c.Product.Name)
		}
	}
	slices.SortStableFunc(out, byDay)
	return out
}

// acrossMarkets joins items that differ only in the market.
func acrossMarkets(items []item) []item {
	var out []item
	for _, it := range items {
		i := slices.IndexFunc(out, func(o item) bool {
			return o.Day == it.Day && o.Before == it.Before && o.LastSale == it.LastSale && o.Packs == it.Packs &&
				o.Finding.Severity == it.Finding.Severity && o.Finding.Message == it.Finding.Message && o.Finding.Cure == it.Finding.Cure &&
				slices.Equal(o.products, it.products)
		})
		if i < 0 {
			out = append(out, it)
			continue
		}
		out[i].markets = append(slices.Clone(out[i].markets), it.markets...)
		for _, s := range it.Sources {
			if !slices.Contains(out[i].Sources, s) {
				out[i].Sources = append(slices.Clone(out[i].Sources), s)
			}
		}
	}
	return out
}

func (c *call) agendaText(a *agenda) error {
	w := c.out
	switch n := a.days(); n {
	case 0:
		fmt.Fprintf(w, "NOTHING CHANGES BEFORE %s\n", c.until)
	default:
		fmt.Fprintf(w, "%d %s TO KEEP\n", n, strings.ToUpper(plural(n, "date")))
	}
	fmt.Fprintf(w, "%d %s, looked at from %s to %s\n", a.decls, plural(a.decls, "declaration"), c.on, c.until)
	if a.held > 0 {
		fmt.Fprintf(w, "%d may not be printed as it is today, which is not repeated here: panelwright check\n", a.held)
	}
	items := acrossMarkets(a.items())
	rows := make([][]string, len(items))
	for i, it := range items {
		rows[i] = []string{it.Day.String(), codes(it.markets), it.reaches(), someOf(it.products, 3)}
	}
	for i, line := range aligned(rows) {
		fmt.Fprintf(w, "\n%s\n", line)
		items[i].write(w)
	}
	writeEvents(w, "Also on the calendar: judged, and nothing in your book changes", a.also, true)
	writeEvents(w, "Also on the calendar: not judged for your products, or not in full", a.also, false)
	_, err := fmt.Fprint(w, "\nA calculation from the rows of law that are known here, not a promise that there are no others: local law and a\n"+
		"qualified safety assessor have the last word.\n")
	return err
}

// reaches says in words which packs an item is about.
func (it *item) reaches() string {
	switch it.Packs {
	case label.NewPacks:
		return "packs first supplied from then on"
	case label.AllPacks:
		return "all packs"
	}
	return fmt.Sprintf("packs first supplied before %s", it.Before)
}

// stock says what becomes of packs supplied earlier, or "".
func (it *item) stock() string {
	switch {
	case !it.Worse():
		return ""
	case it.Packs == label.NewPacks && it.LastSale == 0:
		return fmt.Sprintf("packs first supplied before %s may be sold on; no last day is known here", it.Before)
	case it.Packs == label.NewPacks:
		return fmt.Sprintf("packs first supplied before %s may be sold up to %s", it.Before, it.LastSale)
	}
	return fmt.Sprintf("if any of them are left: %s is the last day on which they may be sold as they are", it.LastSale)
}

func (it *item) write(w io.Writer) {
	fmt.Fprintf(w, "    %s\n", it.Finding.Message)
	if it.Finding.Cure != "" {
		fmt.Fprintf(w, "        to do: %s\n", it.Finding.Cure)
	}
	if s := it.stock(); s != "" {
		fmt.Fprintf(w, "        stock: %s\n", s)
	}
	for _, s := range entriesTogether(it.Sources) {
		fmt.Fprintf(w, "        source: %s\n", s)
	}
}

var entryNumber = regexp.MustCompile(`\bentry (\S+)`)

// entriesTogether words the sources, and says once what differs only in the
// number of the entry.
func entriesTogether(sources []finding.Citation) []string {
	var rest []string // the words around the number; or all words
	numbers := map[string][]string{}
	for _, s := range sources {
		text, number := s.String(), ""
		if at := entryNumber.FindStringSubmatchIndex(text); at != nil {
			number = text[at[2]:at[3]]
			text = text[:at[0]] + "\x00" + text[at[1]:]
		}
		if !slices.Contains(rest, text) {
			rest = append(rest, text)
		}
		numbers[text] = append(numbers[text], number)
	}
	for i, text := range rest {
		entries := "entry "
		if len(numbers[text]) > 1 {
			entries = "entries "
		}
		rest[i] = strings.Replace(text, "\x00", entries+strings.Join(numbers[text], ", "), 1)
	}
	return rest
}

// aligned pads all columns but the last to their widest cell.
func aligned(rows [][]string) []string {
	var wide []int
	for _, r := range rows {
		for i, cell := range r {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], len([]rune(cell)))
		}
	}
	out := make([]string, len(rows))
	for i, r := range rows {
		for k, cell := range r[:len(r)-1] {
			out[i] += cell + strings.Repeat(" ", wide[k]-len([]rune(cell))+2)
		}
		out[i] += r[len(r)-1]
	}
	return out
}

// someOf names the first n of a list and counts the rest.
func someOf(names []string, n int) string {
	if len(names) <= n+1 {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:n], ", "), len(names)-n)
}

// writeICS writes the file for calendar programs. A file that is there already
// is replaced only if this command wrote it.
func (c *call) writeICS(workshop string, items []item) error {
	if len(items) == 0 {
		fmt.Fprintf(c.err, "%s was not written: there is no date to keep\n", c.ics)
		return nil
	}
	if err := replaceable(c.ics, []byte(prodID)); err != nil {
		return err
	}
	return writeWhole(c.ics, iCalendar(workshop, items, c.on))
}
