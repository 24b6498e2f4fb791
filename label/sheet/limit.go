package sheet

import (
	"regexp"
	"strings"

	"panelwright/inci"
)

var (
	category    = regexp.MustCompile(`(?i)\b(?:categor(?:y|ie)|kategorie|catégorie|cat|class)\b\.?:?\s*([0-9]{1,2}\s?\.?\s?[A-D]?)\b((?:\s*(?:,|/|&|and|\+)\s*[0-9]{1,2}\s?\.?\s?[A-D]?\b)*)`)
	categoryID  = regexp.MustCompile(`(?i)^[0-9]{1,2}\s?\.?\s?[A-D]?$`)
	moreIDs     = regexp.MustCompile(`(?i)[0-9]{1,2}\s?\.?\s?[A-D]?`)
	forbidden   = regexp.MustCompile(`(?i)\bnot (?:permitted|allowed|recommended|approved|supported|to be used)\b|\bprohibited\b|\bforbidden\b`)
	unlimited   = regexp.MustCompile(`(?i)\b(?:no restriction|not restricted|unrestricted|no limit)\b`)
	figureAtEnd = regexp.MustCompile(`(?i)(?:^|\s)([<≤]?=?\s*(?:max\.?\s*)?[0-9][0-9.,]*\s*(?:%|ppm|mg/kg)?)\s*\)?$`)
)

// limitRow reads a line of a certificate of highest uses: "Category 5A  1.2 %".
func (r *reader) limitRow(i int) bool {
	text := r.lines[i].text
	ms := category.FindAllStringSubmatchIndex(text, -1)
	if ms == nil {
		cs := filled(cells(text))
		if !r.lines[i].limits || len(cs) < 2 || !categoryID.MatchString(cs[0]) {
			return false
		}
		if _, ok := inci.Category(categoryOf(cs[0])); !ok {
			return false
		}
		if r.identify(cs[1]).entry != nil {
			return false // a numbered row of another table
		}
		if !r.limit(i, []string{cs[0]}, strings.Join(cs[1:], "  ")) {
			r.noLimit(i)
		}
		return true
	}
	any := false
	for k, m := range ms {
		end := len(text)
		if k+1 < len(ms) {
			end = ms[k+1][0]
		}
		ids := append([]string{text[m[2]:m[3]]}, moreIDs.FindAllString(text[m[4]:m[5]], -1)...)
		rest := text[m[1]:end]
		// The figure may stand on the line after, if nothing else does.
		if figureOf(rest) == "" && k+1 == len(ms) && i+1 < len(r.lines) && !r.lines[i+1].done {
			if next := trimCell(r.lines[i+1].text); figureOf(next) == next && next != "" {
				rest += "  " + next
				r.lines[i+1].done = true
				r.mark(r.lines[i+1].at, Limit, "belongs to line "+decimal(r.number(r.lines[i].at)))
			}
		}
		any = r.limit(i, ids, rest) || any
	}
	if !any && ms[0][0] < 3 && len(strings.Fields(text)) < 12 {
		r.noLimit(i)
		return true
	}
	return any
}

// noLimit asks for the highest use that stands with no category.
func (r *reader) noLimit(i int) {
	r.ask(Question{Read: strings.TrimSpace(r.lines[i].text), Wrong: "there is no highest use for this category", Cure: "write it behind the category, as in Category 9 12 %"}, r.lines[i].at)
}

// categoryOf writes "5 A" and "5.a" as the standards do.
func categoryOf(id string) string {
	return strings.ToUpper(strings.NewReplacer(" ", "", ".", "").Replace(id))
}

// figureOf returns the highest use in a text, or "".
func figureOf(rest string) string {
	rest = strings.TrimRight(rest, " ,;.")
	if m := forbidden.FindString(rest); m != "" {
		return m
	}
	if m := unlimited.FindString(rest); m != "" {
		return m
	}
	cs := filled(cells(rest))
	if len(cs) == 0 {
		return ""
	}
	last := cs[len(cs)-1]
	if figureLike(last) && !isEmpty(last) {
		return last
	}
	if len(cs) > 1 && unitOnly.MatchString(last) && figureLike(cs[len(cs)-2]) {
		return cs[len(cs)-2] + " " + last
	}
	if m := figureAtEnd.FindStringSubmatch(last); m != nil {
		return strings.TrimSpace(m[1])
	}
	return ""
}

// limit keeps the highest use of categories.
func (r *reader) limit(i int, ids []string, rest string) bool {
	figure := figureOf(rest)
	if figure == "" {
		return false
	}
	p := &r.lines[i]
	unit, from := r.unitAt(i)
	text, notes := "", []string(nil)
	switch {
	case forbidden.MatchString(figure):
		text = "not permitted"
	case unlimited.MatchString(figure):
		text, notes = "100 %", []string{"not limited: written as 100 %"}
	default:
		sh, q := r.readShare(figure, unit, from)
		switch {
		case q != nil:
			r.ask(*q, p.at)
			return true
		case !sh.unit:
			r.wantUnit = append(r.wantUnit, p.at)
			return true
		case sh.NotDetected || sh.Rest || !sh.Lo.IsZero() && !sh.Stated:
			r.ask(Question{Read: figure, Wrong: "this is not one highest share", Cure: "write one figure, as in 12 %"}, p.at)
			return true
		}
		text, notes = strings.TrimPrefix(sh.text, "<"), sh.notes
	}
	for _, id := range ids {
		r.oneLimit(p, id, text, notes)
	}
	return true
}

func (r *reader) oneLimit(p *pasted, id, text string, notes []string) {
	known, ok := inci.Category(categoryOf(id))
	if !ok {
		var parts []string
		for _, c := range inci.UseCategories() {
			if strings.TrimRight(c.ID, "ABCD") == categoryOf(id) {
				parts = append(parts, c.ID)
			}
		}
		cure := "look it up on the certificate"
		if parts != nil {
			cure = "write a line for each of " + strings.Join(parts, ", ")
		}
		r.ask(Question{Read: "category " + id, Wrong: "there is no such category of use", Cure: cure}, p.at)
		return
	}
	u := UseLimit{Line: r.number(p.at), Category: known, Text: text}
	for _, c := range inci.UseCategories() {
		if c.ID == known {
			u.Words = c.Word
		}
	}
	for _, l := range r.s.Limits {
		if l.Category != known {
			continue
		}
		if l.Text != text {
			r.ask(Question{Read: "category " + known, Wrong: "line " + decimal(l.Line) + " says " + l.Text + ", this one " + text, Cure: "leave the one that is meant"}, p.at)
		} else {
			r.mark(p.at, Limit, "category "+known+" again, the same")
		}
		return
	}
	r.s.Limits = append(r.s.Limits, u)
	says := "highest use, category " + known
	if u.Words != "" {
		says += " (" + u.Words + ")"
	}
	r.mark(p.at, Limit, append([]string{says + ": " + text}, notes...)...)
}
