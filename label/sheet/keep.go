package sheet

import (
	"regexp"
	"slices"
	"strings"

	"panelwright/formula/exact"
	"panelwright/formula/quantity"
)

var aboutAllergens = regexp.MustCompile(`(?i)allerg`)

// settleKind decides what the table is about.
func (r *reader) settleKind() {
	s := r.s
	entries, n := 0, 0
	var lo, hi exact.Rat
	for _, e := range r.all {
		if !e.id.ok() {
			continue
		}
		n++
		if e.id.entry != nil {
			entries++
		}
		if !e.asked() {
			lo, hi = lo.Add(e.share.Lo), hi.Add(e.share.Hi)
		}
	}
	one := exact.Int(1)
	whole := n > 0 && !one.Less(lo) && !hi.Less(one)
	spoken := slices.IndexFunc(s.Lines, func(l Line) bool { return aboutAllergens.MatchString(l.Text) })
	switch {
	case r.o.As != Unsettled:
		s.As, s.Because = r.o.As, "as answered"
	case whole && entries == 0:
		s.As, s.Because = Contains, "the figures can make 100 %"
	case spoken >= 0:
		s.As, s.Because = Allergens, "line "+decimal(s.Lines[spoken].Number)+" speaks of allergens"
	case len(s.Limits) > 0:
		s.As, s.Because = Allergens, "highest uses by category stand with it"
	case whole && entries < n:
		// The analysis of an oil can make 100 % as well as a recipe can.
		s.As, s.Because = Allergens, "not settled yet"
		r.ask(Question{Wrong: "the figures can make 100 %, and " + decimal(entries) + " of " + decimal(n) + " names are fragrance allergens: is this what it is made of, or what is inside an oil?",
			Cure: "say --as contains, or --as allergens"})
	case n > 0 && entries*2 <= n:
		s.As, s.Because = Contains, "most names are no fragrance allergens"
	case n > 0:
		s.As, s.Because = Allergens, decimal(entries)+" of "+decimal(n)+" names are fragrance allergens"
	default:
		s.As, s.Because = Allergens, "no figure was read"
	}
}

// keep makes a row a figure of the sheet, once for each substance.
func (r *reader) keep(e *entry) {
	if e.asked() || !e.id.ok() {
		return
	}
	key, name := e.id.of(r.s.As)
	switch {
	case key == "":
		r.askRow(e, Question{Read: e.name(), Wrong: "this stands in no ingredient inventory", Cure: "write the ingredient name, or say --as allergens if these are inside a scent"})
		return
	case e.id.hidden && r.s.As == Allergens:
		r.askRow(e, Question{Read: e.name(), Wrong: "what is not disclosed is no allergen with a name", Cure: "take the line out, or say --as contains"})
		return
	case e.share.Rest && r.s.As == Allergens:
		r.askRow(e, Question{Read: e.name(), Wrong: "“rest” has no meaning for allergens: they have no sum", Cure: "write a share, or say --as contains"})
		return
	}
	at := r.lines[e.at[0]].at
	f := Figure{Found: e.name(), Name: name, Key: key, Entry: e.id.entry, Number: strings.Join(e.numbers, ", "), Share: e.share.Share, Text: e.share.text}
	for _, i := range e.at {
		f.Lines = append(f.Lines, r.number(r.lines[i].at))
	}
	if k := slices.IndexFunc(r.s.Figures, func(g Figure) bool { return g.Key == key }); k >= 0 {
		first := &r.s.Figures[k]
		if !same(first.Share, f.Share) || r.s.As == Contains {
			r.askRow(e, Question{Read: e.name(), Wrong: name + " is on line " + decimal(first.Lines[0]) + " already, with " + first.Text + "; here " + f.Text, Cure: "leave the one that is meant"})
			return
		}
		r.mark(at, Row, name+": "+f.Text+" again, as on line "+decimal(first.Lines[0]))
	} else {
		r.s.Figures = append(r.s.Figures, f)
		r.mark(at, Row, name+": "+f.Text)
	}
	r.echo(e, name, at)
}

// echo tells what was changed for a row to be understood, and what of it was not
// made use of.
func (r *reader) echo(e *entry, name string, at int) {
	var says []string
	says = append(append(says, e.share.notes...), e.says...)
	if r.s.As == Allergens && e.id.entry == nil {
		says = append(says, "on no list of allergens; kept")
	}
	if len(e.ecs) > 0 {
		says = append(says, "other numbers not needed")
	}
	for _, w := range e.remarks {
		says = append(says, "“"+shorten(w)+"” not needed")
	}
	r.mark(at, Row, says...)
	r.tail(e, Row)
}

// words says what the other lines are.
func (r *reader) words() {
	later := map[int]bool{}
	for _, at := range slices.Concat(r.wantUnit, r.empties) {
		later[at] = true
	}
	for i := range r.lines {
		l := r.line(r.lines[i].at)
		if len(l.Says) > 0 || later[r.lines[i].at] {
			continue
		}
		says := "words"
		if d, other, _ := dayIn(plain(l.Text)); d != 0 && other == 0 && r.s.Date == 0 {
			says = "words; if the day in them is the sheet's, say --date " + d.String()
		} else if strings.ContainsAny(plain(l.Text), "0123456789") {
			l.Unused, says = true, "words; no use was made of the number in them"
		}
		r.mark(r.lines[i].at, Words, says)
	}
}

// askForAll asks what one answer settles for many lines.
func (r *reader) askForAll() {
	for k, at := range r.wantUnit {
		if k == 0 {
			first := Question{Wrong: "no unit stands beside the figures and no heading names one", Cure: "look at the sheet, and say --unit % or --unit ppm"}
			r.s.Questions = append(r.s.Questions, first)
		}
		q := &r.s.Questions[len(r.s.Questions)-1]
		if n := r.number(at); lastOf(q.Lines) != n {
			q.Lines = append(q.Lines, n)
			r.mark(at, Asked, "per cent or ppm? no unit is named")
		}
	}
	for k, at := range r.empties {
		if k == 0 {
			r.s.Questions = append(r.s.Questions, Question{Wrong: "a name without a figure, or with a dash: none found, or not tested?",
				Cure: "ask the supplier; if none was found say --empty nd, or with the limit of the test --empty \"nd <10 ppm\""})
		}
		q := &r.s.Questions[len(r.s.Questions)-1]
		if n := r.number(at); lastOf(q.Lines) != n {
			q.Lines = append(q.Lines, n)
			r.mark(at, Asked, "no figure: none found, or not tested?")
		}
	}
}

func lastOf(all []int) int {
	if len(all) == 0 {
		return 0
	}
	return all[len(all)-1]
}

// sum checks that a composition can make 100 %.
func (r *reader) sum() {
	var lo, hi exact.Rat
	rests := 0
	for _, f := range r.s.Figures {
		if f.Share.Rest {
			rests++
			continue
		}
		lo, hi = lo.Add(f.Share.Lo), hi.Add(f.Share.Hi)
	}
	one := exact.Int(1)
	pc := func(x exact.Rat) string {
		return written(quantity.Share{Lo: x, Hi: x, Stated: true, Typical: x}, "%", x.Mul(exact.Int(100)).Decimal(6, exact.Nearest).String()+" %")
	}
	open := slices.ContainsFunc(r.all, (*entry).asked)
	switch {
	case len(r.s.Figures) == 0:
	case rests > 1:
		r.ask(Question{Wrong: "“rest” stands more than once", Cure: "leave one, and give the others their shares"})
	case one.Less(lo):
		r.ask(Question{Wrong: "the figures make at least " + pc(lo) + ", more than all of it", Cure: "compare them with the sheet; if they are inside a scent or an oil, say --as allergens"})
	case rests == 0 && hi.Less(one) && !open:
		r.ask(Question{Wrong: "the figures make at most " + pc(hi) + "; what is the rest?",
			Cure: "add a line such as “undisclosed rest”, or write rest behind the one that takes it; if they are inside a scent, say --as allergens"})
	}
}
