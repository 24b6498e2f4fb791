package inci

import (
	"slices"
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/finding"
)

// Ban is an entry of a list of prohibited substances that names k.
type Ban struct {
	Ref       string // "Annex II 1666", "21 CFR 700.18"
	Substance string
	Condition string // in the words of the list; empty for an outright ban
	// ByName is true for a ban without a condition that surely means the
	// substance. Where it is false the match rests on a registry number, a form or
	// a purity, or on a group such as "lead and its compounds", and only the maker
	// or the supplier can answer.
	ByName bool
	// OnlyAsFragrance says that the ban is of use as a fragrance ingredient.
	OnlyAsFragrance bool
	// Trace says that the substance is known to come along in small amounts with
	// others, which Article 17 allows where it cannot be avoided and the product
	// stays safe: inside an ingredient it is a question, as a line of a recipe a ban.
	Trace   bool
	instead []string  // entries of lists of limits that put its condition in figures: "Annex III 186"
	Duty    date.Duty // zero: no date was looked up, the ban is in force
	Source  finding.Citation
}

// banTable finds the rows of a list of bans in the ways a substance can be named.
type banTable struct {
	rows   []row // all of them
	byKey  map[formula.Key][]row
	byName map[string][]row // by the folded words of the list itself
	byCAS  map[string][]row
	byRef  map[string]row
}

var (
	bansEU = sync.OnceValue(func() banTable { return newBanTable(bansEUText) })
	bansUS = sync.OnceValue(func() banTable { return newBanTable(bansUSText) })
)

// newBanTable leaves out what is banned in hair dyes only, which are not made
// here: the same dye may be a colour of Annex IV, and that annex decides.
func newBanTable(text string) banTable {
	t := banTable{
		byKey: map[formula.Key][]row{}, byName: map[string][]row{}, byCAS: map[string][]row{}, byRef: map[string]row{},
	}
	for _, r := range readTable(text).rows {
		t.rows = append(t.rows, r)
		if r.get("use") == "hair-dye" {
			continue
		}
		t.byRef[r.get("ref")] = r
		for _, k := range r.keys("names") {
			k = Canonical(k)
			t.byKey[k] = append(t.byKey[k], r)
		}
		for _, name := range r.list("also") {
			f := Fold(name)
			t.byName[f] = append(t.byName[f], r)
		}
		for cas := range strings.FieldsSeq(r.get("cas")) {
			t.byCAS[cas] = append(t.byCAS[cas], r)
		}
	}
	return t
}

// Prohibited returns the bans that name substance k in market m: by the name of
// the inventory, by the words of the list, and as a member of a group, the last
// with ByName false. Great Britain numbers and dates its newer entries itself: a
// European ban that it is not known to share comes back with ByName false. For
// Canada there is no list here, and nil says nothing.
func Prohibited(k formula.Key, m Market) []Ban {
	k = Canonical(k)
	t := bansEU
	if m == US {
		t = bansUS
	}
	rows := slices.Clone(t().byKey[k])
	for _, r := range t().byName[Fold(string(k))] {
		rows = addRow(rows, r)
	}
	bans := newBans(rows, m)
	if m == US {
		return bans
	}
	for _, g := range banGroups() {
		if !g.has(k) {
			continue
		}
		r := bansEU().byRef[g.ref]
		if slices.ContainsFunc(rows, func(o row) bool { return o.get("ref") == g.ref }) {
			continue
		}
		rows = append(rows, r)
		for _, b := range newBans([]row{r}, m) {
			b.ByName, b.Condition = false, strings.TrimPrefix(b.Condition+"; "+g.note, "; ")
			bans = append(bans, b)
		}
	}
	return bans
}

// ProhibitedCAS returns the bans whose entry prints the registry number. A number
// can be shared by substances that are not meant: a ban with a condition comes
// back with ByName false.
func ProhibitedCAS(cas string, m Market) []Ban {
	if m == US {
		return newBans(bansUS().byCAS[cas], m)
	}
	return newBans(bansEU().byCAS[cas], m)
}

// Yields reports whether a row of limits puts the condition of the ban in figures, so that the row says all
// there is to say. A ban of Annex II with a limit of its own, such as that of safrole, yields only for what is
// natural content of an essence.
func (b Ban) Yields(k formula.Key, m Market, natural bool) bool {
	return slices.ContainsFunc(b.instead, func(entry string) bool {
		if strings.HasPrefix(entry, "Annex II ") && !natural {
			return false
		}
		return slices.ContainsFunc(LimitsOf(k, m), func(l *Limit) bool { return l.List+" "+entryOf(l).number == entry })
	})
}

func addRow(rows []row, r row) []row {
	if slices.ContainsFunc(rows, func(o row) bool { return o.get("ref") == r.get("ref") }) {
		return rows
	}
	return append(rows, r)
}

func newBans(rows []row, m Market) []Ban {
	var bans []Ban
	for _, r := range rows {
		switch m {
		case US:
			bans = append(bans, newBan(r, r.get("ref")))
		case EU, NI:
			bans = append(bans, newBan(r, "Annex II "+r.get("ref")))
		case GB:
			bans = append(bans, banGB(r))
		}
	}
	return bans
}

func newBan(r row, ref string) Ban {
	condition := r.get("condition")
	if note := r.get("note"); note != "" {
		condition = strings.TrimPrefix(condition+"; "+note, "; ")
	}
	return Ban{
		Ref: ref, Substance: r.get("substance"), Condition: condition, ByName: !r.yes("ask"),
		OnlyAsFragrance: r.get("use") == "fragrance", Trace: r.yes("trace"), instead: r.list("instead"),
		Duty: r.duty("new", "all"), Source: r.cite(),
	}
}

// banGB reads the column gb: yes for entries retained in 2020, a pair of days for
// an entry Great Britain made itself, unknown for the rest.
func banGB(r row) Ban {
	b := newBan(r, "Annex II "+r.get("ref")+" (EU number)")
	if b.Source.Seen == finding.Yes {
		b.Source.Seen = finding.Secondary
	}
	switch gb := r.get("gb"); gb {
	case "yes":
	case "unknown":
		b.ByName, b.Duty = false, date.Duty{}
		b.Condition = strings.TrimPrefix(b.Condition+"; a European entry, whether Great Britain has adopted it was not seen", "; ")
	default:
		from, all, _ := strings.Cut(gb, "/")
		b.Duty = date.Duty{New: mustDay(from), All: mustDay(all)}
	}
	return b
}

func mustDay(s string) date.Date {
	d, err := date.Parse(s)
	if err != nil {
		panic("inci: " + err.Error())
	}
	return d
}

// banGroup is a ban of a group that registry numbers cannot catch, such as
// "arsenic and its compounds", looked for by words of the name.
type banGroup struct {
	ref    string
	words  []string
	except map[formula.Key]bool
	note   string
}

var banGroups = sync.OnceValue(func() []banGroup {
	var all []banGroup
	for _, r := range readTable(banGroupsText).rows {
		g := banGroup{ref: r.get("ref"), words: r.list("words"), note: r.get("note"), except: map[formula.Key]bool{}}
		for _, k := range r.keys("except") {
			g.except[Canonical(k)] = true
		}
		all = append(all, g)
	}
	return all
})

func (g banGroup) has(k formula.Key) bool {
	return !g.except[k] && slices.ContainsFunc(g.words, func(w string) bool { return hasWord(string(k), w) })
}

// hasWord reports whether a name holds a word as a whole. A star at the end or at
// the beginning of the word stands for any letters, and "^" ties it to the
// beginning of the name.
func hasWord(name, word string) bool {
	if start, ok := strings.CutPrefix(word, "^"); ok {
		return strings.HasPrefix(name, start)
	}
	open := strings.HasSuffix(word, "*")
	tail := strings.HasPrefix(word, "*")
	word = strings.Trim(word, "*")
	for from := 0; ; {
		i := strings.Index(name[from:], word)
		if i < 0 {
			return false
		}
		i += from
		end := i + len(word)
		if (tail || i == 0 || !isWord(name[i-1])) && (open || end == len(name) || !isWord(name[end])) {
			return true
		}
		from = i + 1
	}
}

func isWord(c byte) bool { return c >= 'A' && c <= 'Z' || isDigit(c) }
