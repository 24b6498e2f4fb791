package inci

import (
	"slices"
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/finding"
)

// limitTables holds the limits of each market, read on first use.
var limitTables = func() map[Market]func() *limitTable {
	m := map[Market]func() *limitTable{}
	for _, market := range Markets {
		m[market] = sync.OnceValue(func() *limitTable { return newLimitTable(market) })
	}
	return m
}()

type limitTable struct {
	all   []*Limit
	byKey map[formula.Key][]*Limit
}

// Limits returns the limits of market m in the order of the lists. The caller must not change them.
//
// EU and NI share one list. GB has the rows that were law before it left, seen from memory, and those of its
// own acts with their own days; a later European row is not law there. CA and US have the few rows seen.
func Limits(m Market) []*Limit {
	if t, ok := limitTables[m]; ok {
		return t().all
	}
	return nil
}

// LimitsOf returns the limits of market m that name substance k, nil for none. Whether a limit is about a
// product is Applies.Covers, and whether it binds a pack yet Duty.Binds.
func LimitsOf(k formula.Key, m Market) []*Limit {
	if t, ok := limitTables[m]; ok {
		return t().byKey[Canonical(k)]
	}
	return nil
}

func newLimitTable(m Market) *limitTable {
	t := &limitTable{byKey: map[formula.Key][]*Limit{}}
	var rest []*Limit // rows about what the other rows of their entry leave over
	for _, r := range readTable(limitsText).rows {
		limits := rowLimits(r, m)
		t.all = append(t.all, limits...)
		if r.get("rest") != "" {
			rest = append(rest, limits...)
		}
	}
	entries, order := entriesOf(t.all)
	for _, l := range rest {
		for _, other := range entries[entryOf(l)] {
			if other != l && !slices.Contains(rest, other) {
				l.Applies.Outside = append(l.Applies.Outside, &other.Applies)
			}
		}
	}
	for _, e := range order {
		if u := unnamedProducts(entries[e]); u != nil {
			t.all = append(t.all, u)
		}
	}
	for _, l := range t.all {
		for _, k := range l.Keys {
			if own := t.byKey[k]; len(own) == 0 || own[len(own)-1] != l {
				t.byKey[k] = append(own, l)
			}
		}
	}
	return t
}

// rowLimits reads a row for a market: one limit, or several where the row holds groups that are summed
// apart; none where the row is not law there.
func rowLimits(r row, m Market) []*Limit {
	duty, source, ok := rowIn(r, m)
	if !ok {
		return nil
	}
	var limits []*Limit
	for group := range strings.SplitSeq(r.get("keys"), ";") {
		l := &Limit{
			List: r.get("list"), Entry: r.get("entry"), Substance: r.get("substance"), Keys: memberKeys(group),
			Group: r.get("group"), With: formula.Key(r.get("with")), Without: formula.Key(r.get("without")), Below: r.yes("below"), Applies: scopesOf(r, "all", "any", "none"),
			Forbidden: r.get("kind") == "forbidden", Together: r.get("kind") == "together", Question: r.get("kind") == "question" || r.get("kind") == "ask",
			ExpressedAs: r.get("expressed_as"), form: r.get("form"),
			Conditions: r.get("conditions"), Warning: r.get("warning"), WarnNote: r.get("warn_note"),
			WarnWhen: scopesOf(r, "warn_all", "", "warn_none"),
			Duty:     duty, Purpose: r.get("purpose"), Note: r.get("note"), Source: source,
		}
		if list, ok := strings.CutPrefix(group, "@"); ok {
			l.remarks = memberRemarks()[list]
		}
		if strings.Contains(r.get("keys"), ";") {
			l.Group = Readable(string(l.Keys[0])) + " and its salts" // one of several groups of the row
		}
		l.Applies.Text = r.get("scope_text")
		l.Max, l.HasMax = r.rat("max")
		l.WarnAbove, _ = r.rat("warn_above")
		switch sum := r.get("sum"); sum {
		case "":
		case "keys":
			l.Sum = l.Keys
		default:
			l.Sum = memberKeys(sum)
		}
		limits = append(limits, l)
	}
	return limits
}

// rowIn returns the days and the source of a row in a market. The column markets holds the market whose
// law the row is; a European row is law in NI too, and in GB as the column gb says: yes, no, or a pair of
// days of an instrument of its own.
func rowIn(r row, m Market) (duty date.Duty, source finding.Citation, ok bool) {
	source, duty = r.cite(), r.duty("new", "existing")
	switch own := Market(r.get("market")); {
	case own == m, own == EU && m == NI:
		return duty, source, true
	case own != EU || m != GB:
		return duty, source, false
	}
	switch gb := r.get("gb"); gb {
	case "no":
		return duty, source, false
	case "yes":
		source = finding.Citation{Text: source.Text + "; kept as law in Great Britain", Seen: kept(source.Seen)}
	default:
		from, all, _ := strings.Cut(gb, "/")
		duty = date.Duty{New: mustDay(from), All: mustDay(all)}
		source = r.citeIn("gb_source", "gb_seen")
	}
	return duty, source, true
}

// kept says how a row is known that Great Britain took over: from the European text that it repeats.
func kept(eu finding.Seen) finding.Seen {
	if eu == finding.Memory {
		return eu
	}
	return finding.Secondary
}

func scopesOf(r row, all, any, none string) AppliesTo {
	words := func(column string) (scopes []Scope) {
		if column == "" {
			return nil
		}
		for _, w := range r.list(column) {
			scopes = append(scopes, Scope(w))
		}
		return scopes
	}
	a := AppliesTo{All: words(all), None: words(none)}
	if any != "" && r.get(any) != "" {
		for set := range strings.SplitSeq(r.get(any), ";") {
			var scopes []Scope
			for w := range strings.SplitSeq(set, "|") {
				scopes = append(scopes, Scope(w))
			}
			a.Any = append(a.Any, scopes)
		}
	}
	return a
}

// memberKeys reads keys separated by "|"; "@name" stands for a list of limit-members.csv.
func memberKeys(text string) []formula.Key {
	var keys []formula.Key
	for name := range strings.SplitSeq(text, "|") {
		if list, ok := strings.CutPrefix(name, "@"); ok {
			keys = append(keys, limitMembers()[list]...)
		} else if name != "" {
			keys = append(keys, Canonical(formula.Key(name)))
		}
	}
	return keys
}

// memberRemarks holds the remarks on the members of each list.
var memberRemarks = sync.OnceValue(func() map[string]map[formula.Key]string {
	m := map[string]map[formula.Key]string{}
	for _, r := range readTable(limitMembersText).rows {
		if r.get("note") == "" {
			continue
		}
		list := r.get("list")
		if m[list] == nil {
			m[list] = map[formula.Key]string{}
		}
		m[list][Canonical(formula.Key(r.get("key")))] = r.get("note")
	}
	return m
})

var limitMembers = sync.OnceValue(func() map[string][]formula.Key {
	m := map[string][]formula.Key{}
	for _, r := range readTable(limitMembersText).rows {
		list := r.get("list")
		k := Canonical(formula.Key(r.get("key")))
		if !slices.Contains(m[list], k) {
			m[list] = append(m[list], k)
		}
	}
	return m
})

// listEntry names the rows that divide the products of an entry among them.
type listEntry struct {
	list, number, purpose string
	first                 formula.Key
	keys                  int
}

func entryOf(l *Limit) listEntry {
	number, _, _ := strings.Cut(l.Entry, "(")
	e := listEntry{list: l.List, number: strings.TrimSpace(number), purpose: l.Purpose, keys: len(l.Keys)}
	if len(l.Keys) > 0 {
		e.first = l.Keys[0]
	}
	return e
}

// entriesOf groups the rows that allow something by entry, in order.
func entriesOf(limits []*Limit) (rows map[listEntry][]*Limit, order []listEntry) {
	rows = map[listEntry][]*Limit{}
	for _, l := range limits {
		if l.Forbidden || !strings.HasPrefix(l.List, "Annex") {
			continue
		}
		e := entryOf(l)
		if rows[e] == nil {
			order = append(order, e)
		}
		rows[e] = append(rows[e], l)
	}
	return rows, order
}

// unnamedProducts returns, for an entry that names its product types, a row for all products that it does
// not name. In Annexes V and VI what is not listed is not allowed (Article 14(1)(d) and (e)); in Annex III
// the entry is silent, which is a question. Nil for an entry that is about all products, and for other lists,
// which say what they mean.
func unnamedProducts(rows []*Limit) *Limit {
	first := rows[0]
	if !slices.Contains([]string{"Annex III", "Annex V", "Annex VI"}, first.List) {
		return nil
	}
	whole := func(l *Limit) bool {
		a := l.Applies
		return l.Question || len(a.All) == 0 && len(a.Any) == 0 && len(a.None) == 0
	}
	if slices.ContainsFunc(rows, whole) {
		return nil
	}
	u := &Limit{
		List: first.List, Entry: entryOf(first).number, Substance: first.Substance, Keys: first.Keys,
		Purpose: first.Purpose, Duty: first.Duty, Source: first.Source, With: first.With, Without: first.Without,
		Applies: AppliesTo{Text: "products that the entry does not name"},
	}
	if first.With != "" {
		u.Sum, u.Group = first.Sum, first.Group // a mixture is one thing
	}
	for _, l := range rows {
		u.Applies.Outside = append(u.Applies.Outside, &l.Applies)
	}
	u.Silent, u.Forbidden = true, first.List != "Annex III"
	if u.Question = !u.Forbidden; u.Question {
		u.Conditions = "the entry names other product types only"
	}
	return u
}
