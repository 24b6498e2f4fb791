package inci

import (
	_ "embed" // the data files
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// The data files are plain CSV with a header row. They are embedded as strings:
// nothing is read before it is asked for, and a field is a piece of the text.
var (
	//go:embed data/glossary.csv
	glossaryText string
	//go:embed data/twins.csv
	twinsText string
	//go:embed data/trade.csv
	tradeText string
	//go:embed data/aliases.csv
	aliasesText string
	//go:embed data/densities.csv
	densitiesText string
	//go:embed data/us-names.csv
	usNamesText string
	//go:embed data/canada-names.csv
	canadaNamesText string
	//go:embed data/capitals.csv
	capitalsText string
	//go:embed data/colours-eu.csv
	coloursEUText string
	//go:embed data/colours-us.csv
	coloursUSText string
	//go:embed data/allergens.csv
	allergensText string
	//go:embed data/allergen-members.csv
	membersText string
	//go:embed data/allergen-synonyms.csv
	synonymsText string
	//go:embed data/estimates.csv
	estimatesText string
	//go:embed data/colour-areas.csv
	colourAreasText string
	//go:embed data/bans-eu.csv
	bansEUText string
	//go:embed data/ban-groups.csv
	banGroupsText string
	//go:embed data/bans-us.csv
	bansUSText string
	//go:embed data/use-categories.csv
	useCategoriesText string
	//go:embed data/markets.csv
	marketsText string
	//go:embed data/scopes.csv
	scopesText string
	//go:embed data/product-types.csv
	productTypesText string
	//go:embed data/type-words.csv
	typeWordsText string
	//go:embed data/limits.csv
	limitsText string
	//go:embed data/limit-members.csv
	limitMembersText string
	//go:embed data/molar-masses.csv
	molarMassesText string
	//go:embed data/atomic-weights.csv
	atomicWeightsText string
	//go:embed data/classes.csv
	classesText string
	//go:embed data/carriers.csv
	carriersText string
	//go:embed data/fats.csv
	fatsText string
	//go:embed data/soap-acids.csv
	soapAcidsText string
	//go:embed data/soap-masses.csv
	soapMassesText string
	//go:embed data/lye-safety.csv
	lyeSafetyText string
	//go:embed data/fizz.csv
	fizzText string
	//go:embed data/sources.csv
	sourcesText string
)

// table is a data file cut into fields.
type table struct {
	columns map[string]int
	rows    []row
}

// row is one line of a table.
type row struct {
	columns map[string]int
	fields  []string
}

func readTable(text string) table {
	head, rest := cutRow(text, nil)
	t := table{columns: make(map[string]int, len(head))}
	for i, name := range head {
		t.columns[name] = i
	}
	lines := strings.Count(rest, "\n")
	t.rows = make([]row, 0, lines)
	fields := make([]string, 0, lines*len(head))
	for rest != "" {
		from := len(fields)
		fields, rest = cutRow(rest, fields)
		t.rows = append(t.rows, row{t.columns, fields[from:len(fields):len(fields)]})
	}
	return t
}

// cutRow appends the fields of the first line of text and returns what follows
// the line. A field in double quotes may hold commas and line breaks.
func cutRow(text string, fields []string) ([]string, string) {
	for {
		var field string
		if strings.HasPrefix(text, `"`) {
			end, doubled := 1, false
			for end < len(text) {
				if text[end] != '"' {
					end++
				} else if strings.HasPrefix(text[end:], `""`) {
					end, doubled = end+2, true
				} else {
					break
				}
			}
			field = text[1:end]
			if doubled {
				field = strings.ReplaceAll(field, `""`, `"`)
			}
			text = text[min(end+1, len(text)):]
		} else {
			end := strings.IndexAny(text, ",\n")
			if end < 0 {
				end = len(text)
			}
			field, text = text[:end], text[end:]
		}
		fields = append(fields, field)
		if !strings.HasPrefix(text, ",") {
			return fields, strings.TrimPrefix(text, "\n")
		}
		text = text[1:]
	}
}

// get returns the field in the named column. It panics if there is no such
// column: the files and the code are made together.
func (r row) get(column string) string {
	i, ok := r.columns[column]
	if !ok {
		panic("inci: no column " + column)
	}
	return r.fields[i]
}

// list returns the parts of a field written a|b|c, nil for an empty field.
func (r row) list(column string) []string {
	s := r.get(column)
	if s == "" {
		return nil
	}
	return strings.Split(s, "|")
}

func (r row) keys(column string) []formula.Key {
	var keys []formula.Key
	for _, s := range r.list(column) {
		keys = append(keys, formula.Key(s))
	}
	return keys
}

func (r row) yes(column string) bool { return r.get(column) == "yes" }

// rat returns the number in the column, 0 for an empty field; known tells the
// two apart.
func (r row) rat(column string) (n exact.Rat, known bool) {
	s := r.get(column)
	if s == "" {
		return exact.Rat{}, false
	}
	return exact.Must(s), true
}

// day returns the date in the column, 0 for an empty field.
func (r row) day(column string) date.Date {
	s := r.get(column)
	if s == "" {
		return 0
	}
	d, err := date.Parse(s)
	if err != nil {
		panic("inci: " + err.Error())
	}
	return d
}

func (r row) duty(from, all string) date.Duty { return date.Duty{New: r.day(from), All: r.day(all)} }

// cite returns the citation of the row.
func (r row) cite() finding.Citation { return r.citeIn("source", "seen") }

func (r row) citeIn(source, seen string) finding.Citation {
	return finding.Citation{Text: sourceText(r.get(source)), Seen: finding.Seen(r.get(seen))}
}

var sources = sync.OnceValue(func() map[string]string {
	t := readTable(sourcesText)
	m := make(map[string]string, len(t.rows))
	for _, r := range t.rows {
		m[r.get("id")] = r.get("text")
	}
	return m
})

// sourceText returns the full words of a source id. An id may carry a detail,
// as in "us-2:7", which stands where the words have a per cent sign. What is not
// an id is the source itself.
func sourceText(id string) string {
	if text, ok := sources()[id]; ok {
		return text
	}
	if base, detail, ok := strings.Cut(id, ":"); ok {
		if text, ok := sources()[base]; ok {
			return strings.Replace(text, "%", detail, 1)
		}
	}
	return id
}
