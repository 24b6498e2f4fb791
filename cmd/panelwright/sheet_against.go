package main

import (
	"fmt"
	"strings"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/inci"
	"panelwright/label"
)

// against prints what the document changes in the book, figure by figure.
func (j *sheetJob) against() error {
	w := j.c.out
	if j.book != "" {
		write(w, "\nAgainst the book: "+j.book+".", "")
	}
	if j.old == nil {
		return nil
	}
	if j.fresh == nil {
		write(w, "\nAgainst the book: not compared before the questions are answered.", "")
		return nil
	}
	rows, same := compared(j.old, j.fresh)
	if len(rows) == 0 {
		fmt.Fprintf(w, "\nAgainst %s: nothing changes, %d %s the same\n", j.old.Pos, same, plural(same, "figure"))
		return nil
	}
	fmt.Fprintf(w, "\nAgainst %s: %d changed, %d the same\n", j.old.Pos, len(rows), same)
	if err := table(w, append([][]string{{"", "in the book", "on this sheet"}}, rows...)); err != nil {
		return err
	}
	write(w, "The document above has what the sheet says and no more: keep your density: and the like. If only lots from now on come with this sheet, write it under sheets: with from lot:.", "")
	return nil
}

// compared lists what differs between two states of a material.
func compared(old, fresh *formula.Material) (rows [][]string, same int) {
	a, b := sheetShares(old), sheetShares(fresh)
	for _, x := range a {
		y, ok := shareNamed(b, x.name)
		switch {
		case !ok:
			rows = append(rows, []string{x.name, x.text, "not on it"})
		case x.text != y.text:
			rows = append(rows, []string{x.name, x.text, y.text})
		default:
			same++
		}
	}
	for _, y := range b {
		if _, ok := shareNamed(a, y.name); !ok {
			rows = append(rows, []string{y.name, "not in it", y.text})
		}
	}
	return rows, same
}

// named is a share with its name, as text that is equal where the share is.
type named struct{ name, text string }

func shareNamed(all []named, name string) (named, bool) {
	for _, x := range all {
		if x.name == name {
			return x, true
		}
	}
	return named{}, false
}

// sheetShares lists what a sheet says of a material.
func sheetShares(m *formula.Material) (out []named) {
	text := func(r formula.Interval, typical exact.Rat, stated bool) string {
		pc := func(x exact.Rat) string { return x.Mul(hundred).Decimal(9, exact.Nearest).String() }
		switch {
		case r.Hi.IsZero():
			return "nd"
		case r.Lo.Equal(r.Hi):
			return pc(r.Lo) + " %"
		case stated:
			return pc(r.Lo) + "-" + pc(r.Hi) + " %, typical " + pc(typical) + " %"
		case r.Lo.IsZero():
			return "<" + pc(r.Hi) + " %"
		}
		return pc(r.Lo) + "-" + pc(r.Hi) + " %"
	}
	if len(m.Parts) > 1 {
		for i, p := range m.Parts {
			name := inci.Readable(string(p.Key))
			if m.OwnWater(i) {
				name = "the water of " + name
			}
			out = append(out, named{name, text(p.Range, p.Typical, p.Exact)})
		}
	}
	of := map[*inci.Allergen]int{} // figures of each entry
	for _, c := range m.Constituents {
		for _, a := range inci.AllergenOf(c.Key) {
			of[a]++
		}
	}
	for _, c := range m.Constituents {
		if c.Estimated {
			continue
		}
		name := inci.Readable(string(c.Key))
		if a := inci.AllergenOf(c.Key); len(a) == 1 && of[a[0]] == 1 && !a[0].EachByName {
			name = a[0].Name // one sheet names the entry where another names its one member that is sold
		}
		middle := c.Range.Lo.Add(c.Range.Hi).Quo(exact.Int(2))
		out = append(out, named{name, text(c.Range, c.Typical, !c.Typical.Equal(middle))})
	}
	s, ok := m.Info.(*label.Sheet)
	if !ok {
		return out
	}
	var covers []string
	for _, l := range s.Covers {
		covers = append(covers, string(l))
	}
	if len(covers) > 0 {
		out = append(out, named{"covers", strings.Join(covers, ", ")})
	}
	for _, l := range s.Limits {
		most := l.Max.Mul(hundred).String() + " %"
		if l.Max.IsZero() {
			most = "not permitted"
		}
		out = append(out, named{"use limit, category " + l.Category, most})
	}
	for _, x := range []named{{"sheet", s.Ref}, {"its date", s.Date.String()}, {"its file", s.File}, {"fingerprint", s.Fingerprint[:min(12, len(s.Fingerprint))]}} {
		if x.text != "" {
			out = append(out, x)
		}
	}
	return out
}
