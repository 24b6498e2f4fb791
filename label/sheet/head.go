package sheet

import (
	"regexp"
	"slices"
	"strings"

	"panelwright/formula/quantity"
)

// role is what a column of a table holds.
type role struct {
	kind string // name, number, ec, figure, least, most, typical, limit, other
	unit string
	line int // of its heading
}

// headed is a unit that a heading sets for the lines after it.
type headed struct {
	at   int
	unit string
}

var headWords = func() map[string]string {
	m := map[string]string{}
	for kind, words := range map[string]string{
		"name": `allergen allergens allergene allergènes substance substances ingredient ingredients component components constituent constituents inci name names
			material materials chemical stoff bezeichnung composant nom category categories kategorie catégorie`,
		"number":  `cas casrn`,
		"ec":      `ec einecs elincs eg`,
		"figure":  `concentration concentrations conc content contents level levels amount value values result results quantity percentage share proportion gehalt anteil konzentration teneur composition`,
		"least":   `min minimum lower from`,
		"most":    `max maximum upper`,
		"typical": `typical typ average`,
		"limit":   `threshold thresholds lod loq limit limits`,
		"other":   `no nr number numbers item function functions remark remarks comment comments present presence annex regulation entry declaration list table type unit units in of the w m v wt by weight and or as per`,
	} {
		for _, w := range strings.Fields(words) {
			m[w] = kind
		}
	}
	return m
}()

var (
	letterRuns   = regexp.MustCompile(`[\pL]+`)
	digitRun     = regexp.MustCompile(`[0-9]`)
	categoryWord = regexp.MustCompile(`(?i)\b(?:categor|kategorie|catégorie)`)
	unitOnly     = regexp.MustCompile(`(?i)^\(?(%( ?\(?[wm]/[wm]\)?)?|ppm|ppb|mg/kg|µg/kg|ug/kg|g/kg)\)?$`)
	inUnit       = regexp.MustCompile(`(?i)\b(in|as|are|=)\s+\(?(%|ppm|ppb|mg ?/ ?kg|g ?/ ?kg|per ?cent)`)
	byVolume     = regexp.MustCompile(`(?i)% ?\(?v/v|% ?vol|by volume`)
	legend       = regexp.MustCompile(`(?i)^\W*(?:(?:nd|n\.d\.?|n/d|n\.n\.?|not detected|bdl)\s*(?:[=:(]|means|stands for).*?|(?:lod|loq|detection limit|limit of detection|limit of quantification|reporting limit|nachweisgrenze)\b[^0-9<]*?)([<≤]?\s*[0-9][0-9.,]*\s*(?:%|ppm|ppb|[mµu]?g ?/ ?kg)?)\W*$`)
)

// unitsIn lists the units that a text names, each once.
func unitsIn(text string) (found []string) {
	for _, m := range hasUnit.FindAllString(text, -1) {
		if u := unitOf(strings.ReplaceAll(m, " ", "")); !slices.Contains(found, u) {
			found = append(found, u)
		}
	}
	return found
}

// findHeadings looks for headings of columns, for words that set the unit, and for
// what "nd" means.
func (r *reader) findHeadings() {
	for i := range r.lines {
		p := &r.lines[i]
		if len(p.text) > mostLine {
			continue
		}
		if m := legend.FindStringSubmatch(p.text); m != nil && !r.afterName(i) {
			r.readLegend(i, m[1])
			continue
		}
		if !r.isHeading(i) {
			continue
		}
		p.done = true
		cs := cells(p.text)
		columns := make([]role, len(cs))
		figures := 0
		for k, c := range cs {
			columns[k] = roleOf(c)
			if columns[k].kind != "name" && columns[k].kind != "other" {
				figures++
			}
		}
		if len(cs) > 1 {
			p.columns = columns
		}
		if figures > 0 && r.columnsFrom == 0 {
			r.columnsFrom = i + 1
		}
		p.opens = "table"
		if categoryWord.MatchString(p.text) {
			p.opens = "limits"
		} else if unitOnly.MatchString(strings.TrimSpace(p.text)) {
			p.opens = ""
		}
		r.headUnit(i)
	}
	r.spread()
}

// spread says of each line which columns and which unit hold there: those of the
// last heading before it; a unit may also stand behind all figures.
func (r *reader) spread() {
	head, k, limits := 0, 0, false
	for i := range r.lines {
		p := &r.lines[i]
		for k < len(r.units) && r.units[k].at < i {
			k++
		}
		if len(r.units) > 0 {
			p.unit = &r.units[max(0, k-1)]
		}
		p.head, p.limits = head, limits
		if p.opens != "" {
			limits = p.opens == "limits"
		}
		if p.columns != nil {
			head = i + 1
		}
	}
}

// headUnit takes the unit that a heading sets.
func (r *reader) headUnit(i int) {
	p := &r.lines[i]
	switch us := unitsIn(p.text); {
	case byVolume.MatchString(p.text):
		r.units = append(r.units, headed{i, "%"})
		r.mark(p.at, Heading, "heading")
		r.ask(Question{Read: p.text, Wrong: "these figures are by volume; shares here are by weight", Cure: "ask the supplier for shares by weight"}, p.at)
	case len(us) == 1:
		r.units = append(r.units, headed{i, us[0]})
		r.mark(p.at, Heading, "heading: figures without a unit are in "+us[0])
	case len(us) > 1 && p.columns == nil:
		r.mark(p.at, Heading, "heading")
		r.units = append(r.units, headed{i, ""})
	case regexp.MustCompile(`(?i)\b[wm]/[wm]\b`).MatchString(p.text):
		r.units = append(r.units, headed{i, "%"})
		r.mark(p.at, Heading, "heading: by weight; figures without a unit are in %")
	default:
		r.mark(p.at, Heading, "heading")
	}
}

// readLegend keeps the limit of detection that a legend names.
func (r *reader) readLegend(i int, figure string) {
	p := &r.lines[i]
	unit, _ := r.unitAt(i)
	c := strings.TrimLeft(strings.TrimSpace(figure), "<≤ ")
	if !hasUnit.MatchString(c) {
		c += " " + unit
	}
	sh, err := quantity.ParseShare("nd <" + c)
	if err != nil {
		return // the rows come upon it again
	}
	text := written(sh, unitOf(c), "nd <"+c)
	p.done = true
	if r.none != "" && r.none != text {
		r.ask(Question{Read: p.text, Wrong: "line " + decimal(r.noneLine) + " says " + r.none, Cure: "leave the one that is meant"}, p.at)
		return
	}
	if r.none == "" {
		r.none, r.noneLine = text, r.number(p.at)
	}
	r.mark(p.at, Fact, "not detected means "+text)
}

// afterName reports whether the line before is a name that waits for its figure.
func (r *reader) afterName(i int) bool {
	return i > 0 && !r.lines[i-1].done && r.identify(trimCell(r.lines[i-1].text)).ok()
}

func (r *reader) isHeading(i int) bool {
	text := r.lines[i].text
	if unitOnly.MatchString(strings.TrimSpace(text)) {
		return i == 0 || !figureLike(trimCell(r.lines[i-1].text))
	}
	if digitRun.MatchString(text) || len(text) > 200 || figureLike(trimCell(text)) {
		return false
	}
	words := letterRuns.FindAllString(strings.ToLower(hasUnit.ReplaceAllString(text, " ")), -1)
	known, columns := 0, 0
	for _, w := range words {
		if k, ok := headWords[w]; ok {
			known++
			if k != "other" {
				columns++
			}
		}
	}
	units := unitsIn(text)
	if _, after, ok := strings.Cut(text, ":"); ok && strings.TrimSpace(after) != "" && len(units) == 0 {
		return false
	}
	switch {
	case columns > 0 && known*2 >= len(words):
		return !r.identify(trimCell(text)).ok()
	case len(units) > 0 && len(words) <= 16:
		return columns > 0 || inUnit.MatchString(text)
	}
	return false
}

// roleOf says what a column holds by its heading.
func roleOf(c string) role {
	rl := role{kind: "other"}
	if us := unitsIn(c); len(us) == 1 {
		rl = role{kind: "figure", unit: us[0]}
	}
	for _, w := range letterRuns.FindAllString(strings.ToLower(c), -1) {
		switch k := headWords[w]; k {
		case "least", "most", "typical", "limit", "number", "ec":
			rl.kind = k
			return rl
		case "name", "figure":
			if rl.kind == "other" {
				rl.kind = k
			}
		}
	}
	return rl
}

// unitAt returns the unit of figures on a line that have none, and where it comes
// from: the answer, the heading before, or else one after.
func (r *reader) unitAt(i int) (unit, from string) {
	found := r.lines[i].unit
	if r.o.Unit != "" {
		from = "as answered"
		if found != nil && found.unit != "" && found.unit != r.o.Unit {
			from += ", though line " + decimal(r.number(r.lines[found.at].at)) + " says " + found.unit
		}
		return r.o.Unit, from
	}
	if found == nil {
		return "", ""
	}
	return found.unit, "by line " + decimal(r.number(r.lines[found.at].at))
}

// columnsAt returns the columns of the heading before a line, and the number of
// its line.
func (r *reader) columnsAt(i int) (columns []role, line int) {
	if h := r.lines[i].head; h > 0 {
		return r.lines[h-1].columns, r.number(r.lines[h-1].at)
	}
	return nil, 0
}
