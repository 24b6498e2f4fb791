package label

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// olderSheet is a scent whose sheet answers only the list of 26.
func olderSheet(name string, allergens ...string) *formula.Material {
	return with(fragrance(name, allergens...), func(s *Sheet) { s.Covers = []inci.List{inci.EU26} })
}

func day(s string) date.Date { return fresh(s).On }

// told words a change in one line: day, market, packs, supplied before, last day
// of sale, rule and the first words of the message.
func toldChange(c Change) string {
	words := strings.Fields(c.Finding.Message)
	return fmt.Sprintf("%s %s %s before %s last %s: %s: %s", c.Day, c.Market, c.Packs, c.Before, c.LastSale, c.Finding.Rule, strings.Join(words[:min(len(words), 7)], " "))
}

func toldAll(changes []Change) []string {
	out := []string{}
	for _, c := range changes {
		out = append(out, toldChange(c))
	}
	return out
}

// Dates: Regulation (EU) 2023/1545 Article 2 (2026-08-01 for new packs, 2028-08-01
// for stock); Great Britain's transitional rule for persons in the Union
// (2027-12-31); Regulation (EU) 2026/909, Triphenyl Phosphate (2027-01-01 and
// 2028-07-01). All in market-timeline.csv.
func TestCalendar(t *testing.T) {
	base := weigh(of("SODIUM BICARBONATE"), "99")
	lacking := rinseOff(base, weigh(olderSheet("hay", "LINALOOL 4.2"), "1"))
	full := rinseOff(base, weigh(fragrance("hay", "LINALOOL 4.2"), "1"))
	gains := rinseOff(base, weigh(fragrance("hay", "LINALYL ACETATE 5"), "1"))
	banned := rinseOff(base, weigh(of("TRIPHENYL PHOSPHATE"), "1"))
	for _, c := range []struct {
		name        string
		product     *Product
		markets     []inci.Market
		from        date.Occasion
		until       string
		personForGB string
		want        []string
	}{
		{"a sheet of the older list, asked before the switch", lacking, []inci.Market{inci.EU}, fresh("2026-06-01"), "2028-08-01", "", []string{
			"2026-08-01 eu new before 2026-08-01 last 2028-07-31: allergen.uncovered: the sheet of hay does not answer",
			"2028-08-01 eu stock before 2026-08-01 last 2028-07-31: allergen.uncovered: the sheet of hay does not answer"}},
		{"the last sale is known although it lies beyond the days asked for", lacking, []inci.Market{inci.EU}, fresh("2026-06-01"), "2028-06-01", "", []string{
			"2026-08-01 eu new before 2026-08-01 last 2028-07-31: allergen.uncovered: the sheet of hay does not answer"}},
		{"the day before the switch is the last that is quiet", lacking, []inci.Market{inci.EU}, fresh("2026-06-01"), "2026-07-31", "", []string{}},
		{"asked on the day of the switch only stock is left to tell", lacking, []inci.Market{inci.EU}, fresh("2026-08-01"), "2028-08-01", "", []string{
			"2028-08-01 eu stock before 2026-08-01 last 2028-07-31: allergen.uncovered: the sheet of hay does not answer"}},
		{"asked once all is over", lacking, []inci.Market{inci.EU}, fresh("2028-08-01"), "2030-08-01", "", []string{}},
		{"a batch placed long ago is told with the rest of its kind", lacking, []inci.Market{inci.EU}, stock("2025-03-01", "2026-11-25"), "2028-11-25", "", []string{
			"2028-08-01 eu stock before 2026-08-01 last 2028-07-31: allergen.uncovered: the sheet of hay does not answer"}},
		{"a whole sheet", full, []inci.Market{inci.EU}, fresh("2026-06-01"), "2028-11-25", "", []string{}},
		{"a name joins the list", gains, []inci.Market{inci.EU, inci.NI}, fresh("2026-06-01"), "2028-11-25", "", []string{
			"2026-08-01 eu new before 2026-08-01 last 2028-07-31: calendar.list: the list of ingredients gains Linalyl Acetate",
			"2026-08-01 ni new before 2026-08-01 last 2028-07-31: calendar.list: the list of ingredients gains Linalyl Acetate",
			"2028-08-01 eu stock before 2026-08-01 last 2028-07-31: calendar.list: the list of ingredients gains Linalyl Acetate",
			"2028-08-01 ni stock before 2026-08-01 last 2028-07-31: calendar.list: the list of ingredients gains Linalyl Acetate"}},
		{"Great Britain and the United States know nothing of it", gains, []inci.Market{inci.GB, inci.US}, fresh("2026-06-01"), "2028-11-25", "", []string{}},
		{"a person in the Union on packs for Great Britain; stock has no end", full, []inci.Market{inci.GB}, fresh("2026-11-25"), "2028-11-25", "DE", []string{
			"2028-01-01 gb new before 2028-01-01 last : gb.responsible.outside: the responsible person is in DE; for"}},
		{"a prohibition", banned, []inci.Market{inci.EU}, fresh("2026-11-25"), "2028-11-25", "", []string{
			"2027-01-01 eu new before 2027-01-01 last 2028-06-30: eu.prohibited: Triphenyl Phosphate in triphenyl phosphate is on",
			"2028-07-01 eu stock before 2027-01-01 last 2028-06-30: eu.prohibited: Triphenyl Phosphate in triphenyl phosphate is on"}},
		{"all packs at once: Canada's first date (SOR/2024-63)", full, []inci.Market{inci.CA}, fresh("2026-01-01"), "2026-07-31", "", []string{
			"2026-04-12 ca all before 2026-04-12 last 2026-04-11: calendar.list: the list of ingredients gains Linalool"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := workshop()
			if c.personForGB != "" {
				r := w.Responsible[inci.GB]
				r.Country = c.personForGB
				w.Responsible[inci.GB] = r
			}
			d := NewDesk(w)
			got := d.Calendar(d.Declare(c.product, c.markets, c.from), day(c.until))
			if diff := cmp.Diff(c.want, toldAll(got)); diff != "" {
				t.Error(diff)
			}
			for _, ch := range got {
				if ch.Product != c.product || len(ch.Sources) == 0 || !ch.Worse() || ch.Finding.Cure == "" {
					t.Errorf("incomplete: %+v", ch)
				}
			}
		})
	}
}

// A set is told with what changes for the products in it.
func TestCalendarSet(t *testing.T) {
	p := rinseOff(weigh(of("SODIUM BICARBONATE"), "99"), weigh(fragrance("hay", "LINALYL ACETATE 5"), "1"))
	s := &Set{Product: *rinseOff(), Holds: []Held{{Product: p, Count: 2}}}
	s.Name = "winter two"
	d := NewDesk(workshop())
	got := d.CalendarSet(s, d.DeclareSet(s, []inci.Market{inci.EU}, fresh("2026-06-01")), day("2026-12-31"))
	want := []string{"2026-08-01 eu new before 2026-08-01 last 2028-07-31: calendar.list: the list of ingredients gains Linalyl Acetate"}
	if diff := cmp.Diff(want, toldAll(got)); diff != "" {
		t.Error(diff)
	}
	if len(got) > 0 && got[0].Product.Name != "winter two" {
		t.Errorf("told of %s", got[0].Product.Name)
	}
}

// Only days on which a rule switches are judged. Judging every single day of
// three years finds the same: no switch is overlooked.
func TestCalendarMissesNoDay(t *testing.T) {
	p := rinseOff(weigh(of("SODIUM BICARBONATE"), "96"), weigh(of("KAOLIN"), "1"), weigh(of("TRIPHENYL PHOSPHATE"), "1"),
		weigh(olderSheet("hay", "LINALOOL 4.2", "LINALYL ACETATE 5", "CITRAL 3", "BENZYL SALICYLATE 2"), "1"), weigh(of("RETINYL PALMITATE"), "1"))
	w := workshop()
	r := w.Responsible[inci.GB]
	r.Country = "DE"
	w.Responsible[inci.GB] = r
	from, until := fresh("2026-03-01"), day("2029-03-01")
	for _, m := range inci.Markets {
		d := NewDesk(w)
		got := d.Calendar(d.Declare(p, []inci.Market{m}, from), until)
		var newPacks []string
		for _, c := range got {
			if c.Packs != Stock {
				newPacks = append(newPacks, c.Day.String()+" "+c.Finding.Message)
			}
		}
		var want []string
		last := d.Declare(p, []inci.Market{m}, from)[0]
		for at := from.On.AddDays(1); at <= until; at = at.AddDays(1) {
			next := d.Declare(p, []inci.Market{m}, date.Occasion{On: at, Placed: at})[0]
			for _, f := range differences(last, next) {
				want = append(want, at.String()+" "+f.finding.Message)
			}
			last = next
		}
		slices.Sort(newPacks)
		slices.Sort(want)
		if diff := cmp.Diff(want, newPacks); diff != "" {
			t.Errorf("%s, new packs: every day (-), the calendar (+):\n%s", m, diff)
		}
		if (m == inci.EU || m == inci.GB || m == inci.CA) && len(want) == 0 {
			t.Errorf("%s: nothing ever changes", m)
		}
		for _, before := range []date.Date{day("2025-02-01"), day("2026-05-01"), day("2026-08-01"), day("2027-01-01"), day("2028-01-01")} {
			missed := stockDayByDay(d, p, m, before, max(from.On, before.AddDays(-1)), until)
			for _, c := range got {
				delete(missed, c.Day.String()+" "+c.Finding.Message)
			}
			for what := range missed {
				t.Errorf("%s, packs supplied before %s: the calendar does not have %s", m, before, what)
			}
		}
		// What is said of earlier packs holds for them: still right on the last day
		// of sale, wrong on the day after.
		for _, c := range got {
			if c.LastSale == 0 || c.Finding.Rule == ruleListChanges || c.Finding.Rule == ruleStatementChanges {
				continue
			}
			has := func(on date.Date) bool {
				x := d.Declare(p, []inci.Market{m}, date.Occasion{On: on, Placed: c.Before.AddDays(-1)})[0]
				return slices.ContainsFunc(x.Findings, func(f finding.Finding) bool {
					return subject(f) == subject(c.Finding) && f.Severity == c.Finding.Severity && f.Message == c.Finding.Message
				})
			}
			if has(c.LastSale) || !has(c.LastSale.AddDays(1)) {
				t.Errorf("%s: not so on the days around: %s", m, toldChange(c))
			}
		}
	}
}

// stockDayByDay returns what becomes wrong for the packs supplied just before a
// day, judged on every single day.
func stockDayByDay(d *Desk, p *Product, m inci.Market, before, start, until date.Date) map[string]bool {
	out := map[string]bool{}
	o := date.Occasion{On: start, Placed: before.AddDays(-1)}
	last := d.Declare(p, []inci.Market{m}, o)[0]
	for o.On < until {
		o.On = o.On.AddDays(1)
		next := d.Declare(p, []inci.Market{m}, o)[0]
		for _, f := range differences(last, next) {
			out[o.On.String()+" "+f.finding.Message] = true
		}
		last = next
	}
	return out
}

// What falls away is told once and is nothing to do; a message that names the
// day it was judged on is not news every day.
func TestDifferences(t *testing.T) {
	at := func(on string, fs ...finding.Finding) *Declaration {
		x := declareIn(inci.EU, rinseOff(weigh(of("SODIUM BICARBONATE"), "1")), fresh(on))
		x.Findings = fs
		return x
	}
	wrong := finding.Finding{Rule: "x.wrong", Severity: finding.Error, Message: "the glass is empty"}
	other := wrong
	other.Message = "the glass is broken"
	softer := wrong
	softer.Severity = finding.Warning
	note := finding.Finding{Rule: "x.note", Message: "by the way"}
	dated := func(on string) finding.Finding {
		return finding.Finding{Rule: "x.dated", Severity: finding.Error, Message: "first supplied on " + on + "; the rule began on 2026-01-01"}
	}
	for _, c := range []struct {
		name       string
		last, next *Declaration
		want       []string
	}{
		{"the same", at("2027-01-01", wrong), at("2027-01-02", wrong), nil},
		{"it appears", at("2027-01-01"), at("2027-01-02", wrong), []string{"error the glass is empty"}},
		{"it falls away", at("2027-01-01", wrong), at("2027-01-02"), []string{"note no longer so: the glass is empty"}},
		{"another takes its place", at("2027-01-01", wrong), at("2027-01-02", other), []string{"error the glass is broken"}},
		{"it weighs less", at("2027-01-01", wrong), at("2027-01-02", softer), []string{"warning the glass is empty"}},
		{"a note comes", at("2027-01-01"), at("2027-01-02", note), nil},
		{"a note goes", at("2027-01-01", note), at("2027-01-02"), nil},
		{"it names the day", at("2027-01-01", dated("2027-01-01")), at("2027-01-02", dated("2027-01-02")), nil},
		{"it names a day that is now", at("2025-12-31", dated("2025-01-01")), at("2026-01-01", dated("2025-01-01")), nil},
	} {
		var got []string
		for _, f := range differences(c.last, c.next) {
			got = append(got, f.finding.Severity.String()+" "+f.finding.Message)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s:\n%s", c.name, diff)
		}
	}
	t.Run("a statement comes and goes", func(t *testing.T) {
		last, next := at("2027-01-01"), at("2027-01-02")
		next.Statements = append(slices.Clone(next.Statements), Statement{Kind: CautionText, Lang: "en", Text: "Mind the step"})
		for _, c := range []struct {
			last, next *Declaration
			want       string
		}{{last, next, "warning the pack must also say “Mind the step”"}, {next, last, "note the pack need no longer say “Mind the step”"}} {
			got := differences(c.last, c.next)
			if len(got) != 1 || got[0].finding.Severity.String()+" "+got[0].finding.Message != c.want {
				t.Errorf("%v, want %s", got, c.want)
			}
		}
	})
}

// BenchmarkCalendar looks two years ahead for one product in three markets.
func BenchmarkCalendar(b *testing.B) {
	p := rinseOff(weigh(of("SODIUM BICARBONATE"), "98"), weigh(of("KAOLIN"), "1"), weigh(fragrance("hay", "LINALOOL 4.2", "LINALYL ACETATE 5", "CITRAL 3"), "1"))
	d := NewDesk(workshop())
	for b.Loop() {
		if got := d.Calendar(d.Declare(p, []inci.Market{inci.US, inci.EU, inci.GB}, today), day("2028-11-25")); len(got) == 0 {
			b.Fatal("nothing changes")
		}
	}
}
