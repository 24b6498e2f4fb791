package inci

import (
	"slices"
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Colour is what the European and United States lists say of a colour.
type Colour struct {
	Key      formula.Key
	AnnexIV  string // reference in Annex IV, "" where there is no entry
	Shade    string
	Listed   bool // counts as a colour for the order of a European list
	AlsoSeen []formula.Key
	// Restriction is the reference's code for the product types (all,
	// rinse-off-only, not-mucous, not-eye, other); the text is the annex's own.
	Restriction, RestrictionText, Conditions string
	MaxShare                                 exact.Rat // fraction; only if HasMax
	HasMax                                   bool
	SourceEU                                 finding.Citation

	US []ColourUS // the listings, nil where none was found
}

// ColourUS is a listing of 21 CFR parts 73, 74 and 82. Several colours can share
// one colour index number, such as a dye and its lake.
type ColourUS struct {
	Material       string
	Name           string // short name as printed, "" where there is no listing
	RegulationName string // "FD&C Yellow No. 5", where it differs
	OrdinaryName   string // its name as an ordinary ingredient
	Section        string
	Uses           string // product types allowed, in words
	Certified      bool   // only from batches certified by the authority
	Limits         string
	Source         finding.Citation
}

// Anywhere reports whether the listing is open to bath and body goods; some name
// a few product types only, none of them made here.
func (c ColourUS) Anywhere() bool { return c.Name != "" && !strings.HasSuffix(c.Uses, "only") }

const notListed = "no listing as a colour additive found for the United States: it may not colour a cosmetic there"

var colours = sync.OnceValue(func() map[formula.Key]*Colour {
	m := map[formula.Key]*Colour{}
	at := func(k formula.Key) *Colour {
		if m[k] == nil {
			m[k] = &Colour{Key: k}
		}
		return m[k]
	}
	for _, r := range readTable(coloursEUText).rows {
		for _, k := range r.keys("key") {
			c := at(k)
			if c.AnnexIV != "" { // 126a, the fine grade of 126, adds to the first
				c.Conditions = strings.TrimPrefix(c.Conditions+"; "+r.get("ref")+": "+r.get("conditions"), "; ")
				continue
			}
			c.AnnexIV, c.Shade, c.Listed, c.AlsoSeen = r.get("ref"), r.get("colour"), r.yes("listed_as_colour"), r.keys("also")
			c.Restriction, c.RestrictionText, c.Conditions = r.get("restriction"), r.get("restriction_text"), r.get("conditions")
			c.MaxShare, c.HasMax = r.rat("max")
			c.SourceEU = r.cite()
		}
	}
	for _, r := range readTable(coloursUSText).rows {
		c := at(formula.Key(r.get("key")))
		c.US = append(c.US, ColourUS{
			Material: r.get("material"), Name: r.get("us_name"), RegulationName: r.get("regulation_name"),
			OrdinaryName: r.get("ordinary_name"), Section: r.get("section"), Uses: r.get("uses"),
			Certified: r.yes("certified"), Limits: r.get("limits"), Source: r.cite(),
		})
	}
	return m
})

// Colourant returns what the lists say of k; ok is false for a key that no list
// of colours here names. A clay or a mica can be named without being a colour
// anywhere: see ColourIn.
func Colourant(k formula.Key) (c Colour, ok bool) {
	p, ok := colours()[Canonical(k)]
	if !ok {
		return Colour{}, false
	}
	return *p, true
}

// ColourIn reports whether k counts as a colourant for the order of a list in
// market m.
//
// EU, GB and NI: only under the name of an Annex IV entry, so mica and tin oxide
// go by weight. US: a listed colour additive, mica included. CA: the regulation
// says "colouring agents" without a list; Annex IV stands in for one here, which
// is a doubt worth telling.
func ColourIn(k formula.Key, m Market) bool {
	c, ok := Colourant(k)
	switch {
	case !ok:
		return false
	case m == US:
		return slices.ContainsFunc(c.US, func(u ColourUS) bool { return u.Name != "" })
	}
	return c.AnnexIV != "" && c.Listed
}

// ColourKey returns the colour index number under which a substance is listed
// that has another name when it does not colour: kaolin is CI 77004 as a colour.
// Which of the two applies only the maker can say.
func ColourKey(k formula.Key) (ci formula.Key, ok bool) {
	ci, ok = colourKeys()[k]
	return ci, ok
}

var colourKeys = sync.OnceValue(func() map[formula.Key]formula.Key {
	m := map[formula.Key]formula.Key{}
	for _, r := range readTable(coloursEUText).rows {
		for _, k := range r.keys("also") {
			if _, taken := m[k]; !taken {
				m[k] = r.keys("key")[0]
			}
		}
	}
	return m
})

// colourNameUS names a colour from the listings of colour additives; ok is false
// where the names of ordinary ingredients decide.
func colourNameUS(k formula.Key) (p Printed, ok bool) {
	c, found := Colourant(k)
	number := strings.HasPrefix(string(k), "CI ")
	r, named := usNames()[k]
	switch {
	case !found && number && !named:
		return Printed{Why: notListed, Source: finding.Citation{Text: "absence from 21 CFR parts 73, 74 and 82", Seen: finding.Memory}}, true
	case !found:
		return Printed{}, false
	}
	var others []string
	first := -1
	for i, u := range c.US {
		switch {
		case u.Name == "":
		case first < 0:
			first = i
		default:
			others = append(others, u.Name)
		}
	}
	switch {
	case first >= 0:
		u := c.US[first]
		p = Printed{Text: u.Name, OK: true, Others: others, Source: u.Source}
		if named && r.get("us_name") != "" {
			p.Text, p.Source = r.get("us_name"), r.cite()
		}
		if !slices.ContainsFunc(c.US, ColourUS.Anywhere) {
			p.OK, p.Why, p.Source = false, "the United States list it for "+u.Uses, u.Source
		}
		return p, true
	case named && r.get("us_name") != "":
		return Printed{}, false
	case c.AnnexIV != "" && c.Listed || number:
		p = Printed{Why: notListed, Source: finding.Citation{Text: "absence from 21 CFR parts 73, 74 and 82", Seen: finding.Memory}}
		if len(c.US) > 0 {
			p.Source = c.US[0].Source
		}
		return p, true
	}
	return Printed{}, false
}
