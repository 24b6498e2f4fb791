// Package look reads layout files: how a label looks, apart from what it says.
//
//	l, err := look.Named("quiet")           // one of templates/layouts
//	l, err := look.Parse("mine.yaml", data) // the maker's own copy
//
// A layout file is a short list of choices: whether lines are centred, what frames the label, which face the
// name is set in, how wide the front is where a label is wide. It holds no position and no letter size: those
// are found anew for each label, so that every layout keeps the legal heights in every shape. The format is
// described in templates/layouts/README.md.
package look

import (
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"panelwright/formula/quantity"
	"panelwright/label/font"
	"panelwright/templates"
)

// Look is a layout file.
type Look struct {
	Name  string
	About string // one line for a person who chooses

	Align Align  // of the lines
	Frame Frame  // round the whole label
	Block Block  // the solid area behind the name
	Rules Rules  // hairlines between statements
	Motif Motif  // in the middle of the rule under the name
	Strip int    // width of a solid strip along the left edge, in thousandths of the shorter side; 0 for none
	Pad   int    // blank beyond the safe margin, in thousandths of the shorter side
	Wide  []int  // share of the front in percent where a label has two columns, the best first; nil: as it comes
	Band  []int  // the same where it has three
	Order []Role // of the small print; nil: the usual order

	Title    Type // the name
	Identity Type
	Leads    Type // words before a text, such as "Ingredients:"
}

// Type is how a statement is set, beyond its size, which the label decides.
type Type struct {
	Face  *font.Face // nil: the usual one
	Upper bool       // in capitals
	Size  int        // in percent of the usual size; never below the legal height
	Space int        // added between letters, in thousandths of the em
}

// Align says how lines stand in their column.
type Align uint8

const (
	AsSuits Align = iota // centred on a front and in a circle, else flush left
	Centre
	Left // but centred in a circle and an oval, where the left edge is curved
)

// Frame is what is drawn along the edge.
type Frame uint8

const (
	NoFrame Frame = iota
	Single
	Double
	Beads  // a row of dots between two lines
	Leaves // sprigs in the corners; in a circle or an oval a wreath
)

// Block is the solid area behind the name, which is then set in white where the accent is dark.
type Block uint8

const (
	NoBlock Block = iota
	BlockName
)

// Rules are the hairlines between statements.
type Rules uint8

const (
	RulesAsSuit Rules = iota // between columns, and short under the front
	NoRules
	Short // short ones under the front only
	Every // as wide as the column, between all groups of statements
)

// Motif stands in the middle of the rule under the front.
type Motif uint8

const (
	NoMotif Motif = iota
	Diamond
	Leaf
	Dots
)

// Role is a kind of small print.
type Role string

// roles are the kinds of small print, in the usual order.
var roles = []Role{"list", "directions", "cautions", "responsible", "contact", "origin", "lot"}

// Plain is the layout of a label for which none is named.
var Plain = &Look{Name: "plain", About: "No ornament: as the label suits."}

// named are the layouts that come with the project, by name.
var named = sync.OnceValue(func() map[string]*Look {
	all := map[string]*Look{Plain.Name: Plain}
	files, err := fs.Glob(templates.Layouts, "layouts/*.yaml")
	if err != nil {
		panic(err) // the pattern is constant
	}
	for _, f := range files {
		data, err := templates.Layouts.ReadFile(f)
		if err != nil {
			panic(err) // embedded
		}
		l, err := Parse(path.Base(f), data)
		if err != nil {
			panic("look: " + err.Error()) // embedded, see TestNamed
		}
		all[l.Name] = l
	}
	return all
})

// Names returns the names of the layouts that come with the project, sorted.
func Names() []string {
	var all []string
	for name := range named() {
		all = append(all, name)
	}
	slices.Sort(all)
	return all
}

// Named returns the layout of a name: one of own, the maker's, or one that comes with the project. The error
// names the nearest one.
func Named(name string, own ...*Look) (*Look, error) {
	names := Names()
	for _, l := range own {
		if strings.EqualFold(l.Name, name) {
			return l, nil
		}
		names = append(names, l.Name)
	}
	if l, ok := named()[strings.ToLower(name)]; ok {
		return l, nil
	}
	return nil, unknown("layout", name, names)
}

// nearest returns the candidate that is likest to word, or "" where none is likely meant.
func nearest(word string, candidates []string) string {
	best, found := 1+len(word)/3, ""
	for _, c := range candidates {
		if d := quantity.Distance(strings.ToLower(word), c); d < best || d == best && found == "" {
			best, found = d, c
		}
	}
	return found
}
