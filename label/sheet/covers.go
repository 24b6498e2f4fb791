package sheet

import (
	"slices"
	"strings"

	"panelwright/formula"
	"panelwright/inci"
)

// covers finds the lists that the sheet answers in full.
func (r *reader) covers() {
	s := r.s
	has := map[formula.Key]bool{}
	for _, f := range s.Figures {
		has[f.Key] = true
	}
	if len(s.Figures) == 0 {
		return
	}
	for _, l := range []inci.List{inci.EU81, inci.EU26, inci.EU24} {
		lacking := lacks(l, has)
		switch {
		case len(lacking) == 0 && !(l == inci.EU24 && len(s.Covers) > 0): // the longer ones say it too
			s.Covers = append(s.Covers, l)
		case s.Nearest == "" || len(lacking) < len(s.Lacking):
			s.Nearest, s.Lacking = l, lacking
		}
	}
	if len(s.Covers) > 0 {
		s.Nearest, s.Lacking = "", nil
	}
}

// lacks names the entries of a list that are not answered whole: by a figure for
// the entry, or by one for each of its members.
func lacks(l inci.List, has map[formula.Key]bool) (out []string) {
	market := inci.GB // the older lists have the older scope of the entries
	if l == inci.EU81 {
		market = inci.EU
	}
	for _, a := range slices.Concat(inci.Allergens(market), inci.ProhibitedAllergens()) {
		if !l.Covers(a.Entry) || has[inci.GroupKey(a)] {
			continue
		}
		var only []string
		members := 0
		for _, m := range a.Members {
			if m.Cautious {
				continue
			}
			members++
			if has[m.Key] {
				only = append(only, inci.Readable(string(m.Key)))
			}
		}
		switch {
		case members > 0 && len(only) == members:
		case len(only) > 0:
			out = append(out, a.Name+" (only "+strings.Join(only, ", ")+")")
		default:
			out = append(out, a.Name)
		}
	}
	return out
}
