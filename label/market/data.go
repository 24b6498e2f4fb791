package market

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

//go:embed data/*.csv
var files embed.FS

// row is one line of an embedded table. The tables are part of the program, so
// a cell that cannot be read panics; a test reads every cell there is.
type row struct {
	file  string
	line  int
	cols  map[string]int
	cells []string
}

// load reads a table whose first line names its columns.
func load(name string) []row {
	f, err := files.Open("data/" + name)
	if err != nil {
		panic("market: " + err.Error())
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		panic("market: " + name + ": " + err.Error())
	}
	cols := make(map[string]int, len(lines[0]))
	for i, c := range lines[0] {
		cols[c] = i
	}
	rows := make([]row, 0, len(lines)-1)
	for i, cells := range lines[1:] {
		rows = append(rows, row{name, i + 2, cols, cells})
	}
	return rows
}

func (r row) fail(col string, err any) {
	panic(fmt.Sprintf("market: %s:%d: column %s: %v", r.file, r.line, col, err))
}

func (r row) text(col string) string {
	i, ok := r.cols[col]
	if !ok {
		r.fail(col, "no such column")
	}
	return r.cells[i]
}

func (r row) words(col string) []string { return strings.Fields(r.text(col)) }

func (r row) yes(col string) bool {
	s := r.text(col)
	if s != "yes" && s != "no" {
		r.fail(col, "neither yes nor no: "+s)
	}
	return s == "yes"
}

func (r row) number(col string) exact.Rat {
	n, err := exact.Parse(r.text(col))
	if err != nil {
		r.fail(col, err)
	}
	return n
}

func (r row) date(col string) date.Date {
	s := r.text(col)
	if s == "" {
		return 0
	}
	d, err := date.Parse(s)
	if err != nil {
		r.fail(col, err)
	}
	return d
}

// measure reads a number with a unit of the units table, as in "1/16 in", and
// returns it in the base unit of its dimension.
func (r row) measure(col string) exact.Rat {
	num, sym, ok := strings.Cut(r.text(col), " ")
	if !ok {
		r.fail(col, "not a number and a unit")
	}
	n, err := exact.Parse(num)
	if err != nil {
		r.fail(col, err)
	}
	u, ok := UnitNamed(sym)
	if !ok {
		r.fail(col, "unknown unit "+sym)
	}
	return n.Mul(u.Factor)
}

func (r row) cite() finding.Citation {
	seen := finding.Seen(r.text("seen"))
	switch seen {
	case finding.Yes, finding.Secondary, finding.Memory, finding.Practice:
	default:
		r.fail("seen", "unknown value "+string(seen))
	}
	if r.text("source") == "" {
		r.fail("source", "empty")
	}
	return finding.Citation{Text: r.text("source"), Seen: seen}
}
