package sheet

import (
	"cmp"
	"slices"
	"strings"

	"panelwright/formula/quantity"
	"panelwright/inci"
)

// settle turns rows into figures, asks what is open, and says of every line what
// it is.
func (r *reader) settle() {
	slices.SortStableFunc(r.all, func(a, b *entry) int { return cmp.Compare(a.at[0], b.at[0]) })
	for _, e := range r.all {
		r.settleName(e)
		r.settleShare(e)
	}
	r.settleKind()
	for _, e := range r.all {
		r.keep(e)
	}
	r.words()
	r.askForAll()
	if r.s.As == Contains {
		r.sum()
	} else {
		r.covers()
	}
	slices.SortStableFunc(r.s.Questions, func(a, b Question) int {
		if len(a.Lines) == 0 || len(b.Lines) == 0 {
			return cmp.Compare(len(b.Lines), len(a.Lines))
		}
		return cmp.Compare(a.Lines[0], b.Lines[0])
	})
}

// askRow puts a question about a row: what follows from it is not asked as well.
func (r *reader) askRow(e *entry, q Question) {
	r.ask(q, r.lines[e.at[0]].at)
	r.tail(e, Asked)
	e.id.clash = "asked"
}

// tail says of the further lines of a row that they are its.
func (r *reader) tail(e *entry, m Meaning) {
	for _, i := range e.at[1:] {
		r.mark(r.lines[i].at, m, "belongs to line "+decimal(r.number(r.lines[e.at[0]].at)))
	}
}

// askLater keeps the line of a row for a question that is asked once for many.
func (r *reader) askLater(e *entry, lines *[]int) {
	*lines = append(*lines, r.lines[e.at[0]].at)
	r.tail(e, Asked)
	e.id.clash = "asked"
}

func (e *entry) asked() bool { return e.id.clash == "asked" }

// settleName finds the substance of a row by its name, and holds its registry
// numbers against it.
func (r *reader) settleName(e *entry) {
	name := e.name()
	e.id = r.identify(name)
	if len(e.blurred) > 0 {
		n := e.blurred[0]
		q := Question{Read: n, Wrong: "a letter stands in this registry number", Cure: "write the digit that stands on the sheet"}
		if better := letters.Replace(n); validNumber(better) {
			q.Wrong = "did you mean " + better + "?"
		}
		r.askRow(e, q)
		return
	}
	var good []string
	for _, n := range e.numbers {
		if !validNumber(n) {
			q := Question{Read: n, Wrong: "this is no registry number: its last digit does not fit the others", Cure: "compare it with the sheet, or take it out if the name is right"}
			if own := r.ownNumbers(e.id); own != "" {
				q.Cure += "; that of " + e.id.name + " is " + own
			}
			r.askRow(e, q)
			return
		}
		good = append(good, n)
	}
	for _, w := range e.remarks {
		if other := r.identify(w); e.id.entry != nil && other.entry != nil && other.entry != e.id.entry {
			e.id.clash = "“" + shorten(w) + "” beside it is another substance"
		}
	}
	switch {
	case e.id.clash != "":
		r.askRow(e, Question{Read: name, Wrong: e.id.clash, Cure: "leave the one that is meant"})
	case e.id.ok():
		for _, n := range good {
			if whose, ok := belongs(e.id, n); !ok {
				r.askRow(e, Question{Read: name + " " + n, Wrong: "the number is that of " + whose, Cure: "compare both with the sheet, and leave what is right"})
				return
			}
		}
		if e.id.note != "" {
			e.says = append(e.says, e.id.note)
		}
	default:
		r.nameless(e, name, good)
	}
}

// nameless finds a row by its number where the name is not known, unless the name
// is near to that of another substance.
func (r *reader) nameless(e *entry, name string, numbers []string) {
	id := byNumber(numbers)
	near := ""
	if name != "" {
		near = r.suggest(name)
	}
	if !id.ok() {
		q := Question{Read: name, Wrong: "no substance of this name is known", Cure: "write its ingredient name, or its registry number beside it; if it is no substance, leave the line out"}
		switch {
		case name == "":
			q = Question{Read: strings.Join(numbers, ", "), Wrong: "no one substance is known by this number alone", Cure: "write the name beside it"}
		case near != "":
			q.Wrong += "; did you mean " + near + "?"
			q.Cure = "write the name that stands on the sheet"
		}
		r.askRow(e, q)
		return
	}
	if other := r.identify(near); near != "" && other.ok() && (other.entry != id.entry || other.entry == nil && other.part != id.part) {
		r.askRow(e, Question{Read: name + " " + strings.Join(numbers, ", "), Wrong: "the number is that of " + cmp.Or(id.name, id.partName) + ", the name is near to " + near,
			Cure: "compare both with the sheet, and leave what is right"})
		return
	}
	e.id = id
	note := "found by its number"
	if name != "" {
		note = "the name is not known; found by its number"
	}
	e.says = append(e.says, note+" "+numbers[0])
}

func (r *reader) ownNumbers(id ident) string {
	if id.entry == nil {
		return ""
	}
	for _, m := range id.entry.Members {
		if m.Key == id.key && len(m.CAS) > 0 {
			return m.CAS[0]
		}
	}
	if len(id.entry.CAS) > 0 && id.key == inci.GroupKey(id.entry) {
		return id.entry.CAS[0]
	}
	return ""
}

// settleShare reads the figure of a row, or the one that is meant of several.
func (r *reader) settleShare(e *entry) {
	if e.asked() {
		return
	}
	i := e.at[len(e.at)-1]
	e.figures = slices.DeleteFunc(e.figures, func(t token) bool {
		if t.role.kind == "limit" {
			e.says = append(e.says, "“"+t.text+"” is of a column of limits: passed over")
		}
		return t.role.kind == "limit"
	})
	if !onlyEmpty(e.figures) { // dashes stand in the other columns
		e.figures = slices.DeleteFunc(e.figures, func(t token) bool { return isEmpty(t.text) })
	}
	spoken := func(t token) bool { return present[strings.ToLower(t.text)] }
	if slices.ContainsFunc(e.figures, func(t token) bool { return !spoken(t) }) { // "yes" beside a figure
		e.figures = slices.DeleteFunc(e.figures, func(t token) bool {
			if spoken(t) {
				e.remarks = append(e.remarks, t.text)
			}
			return spoken(t)
		})
	}
	if len(e.figures) == 0 {
		e.figures = []token{{kind: "figure", text: "-"}}
	}
	if isEmpty(e.figures[0].text) && r.o.Empty == "" {
		r.askLater(e, &r.empties)
		return
	}
	var all []share
	for _, t := range e.figures {
		unit, from := r.unitAt(i)
		if t.role.unit != "" && r.o.Unit == "" {
			unit, from = t.role.unit, "by line "+decimal(t.role.line)
		}
		sh, q := r.readShare(t.text, unit, from)
		if q != nil {
			r.askRow(e, *q)
			return
		}
		if !sh.unit {
			r.askLater(e, &r.wantUnit)
			return
		}
		all = append(all, sh)
	}
	r.oneShare(e, all)
}

// oneShare settles several figures beside one name: a range in two columns, the
// same share in two units, or a question.
func (r *reader) oneShare(e *entry, all []share) {
	e.share = all[0]
	if len(all) == 1 {
		return
	}
	var least, most, typical *share
	for k := range all {
		switch e.figures[k].role.kind {
		case "least":
			least = &all[k]
		case "most":
			most = &all[k]
		case "typical":
			typical = &all[k]
		}
	}
	text := ""
	if least != nil && most != nil && (len(all) == 2 || len(all) == 3 && typical != nil) {
		text = least.text + " - " + most.text
		if typical != nil {
			text += ", typical " + typical.text
		}
	} else if !slices.ContainsFunc(all, func(sh share) bool { return !same(sh.Share, all[0].Share) }) {
		e.says = append(e.says, "the same figure "+decimal(len(all))+" times over")
		return
	}
	if sh, err := quantity.ParseShare(text); err == nil {
		e.share = share{Share: sh, unit: true, notes: append([]string{"from the columns of least and most"}, all[0].notes...)}
		e.share.text = written(sh, unitOf(all[0].text), text)
		return
	}
	var texts []string
	for _, sh := range all {
		texts = append(texts, sh.text)
	}
	r.askRow(e, Question{Read: e.name(), Wrong: "several figures stand beside it: " + strings.Join(texts, " and "), Cure: "leave the one that is its share"})
}
