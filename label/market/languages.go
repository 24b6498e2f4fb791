package market

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"

	"panelwright/formula/finding"
)

// CountryError says that the countries given do not decide the languages.
type CountryError struct {
	Country string   // the one that is not known; "" where none was given
	Known   []string // the codes that are, in order
}

// Error names the country and what may be written instead.
func (e *CountryError) Error() string {
	if e.Country == "" {
		return "no country of the EU is stated, and the country decides the languages; write them as in eu countries: [DE, IE]"
	}
	return fmt.Sprintf("%q is no member state of the EU; known are %s", e.Country, strings.Join(e.Known, ", "))
}

// state is a row of data/member-states.csv.
type state struct {
	code, name string
	languages  []string
	any        bool // one of the languages is enough
	source     finding.Citation
}

type stateTable struct {
	byCode map[string]state
	codes  []string
}

var states = sync.OnceValue(func() stateTable {
	t := stateTable{byCode: map[string]state{}}
	for _, r := range load("member-states.csv") {
		how := r.text("how")
		if how != "any" && how != "all" {
			r.fail("how", "neither any nor all")
		}
		s := state{r.text("code"), r.text("name"), r.words("languages"), how == "any", r.cite()}
		t.byCode[s.code] = s
		t.codes = append(t.codes, s.code)
	}
	slices.Sort(t.codes)
	return t
})

// MemberStates returns the ISO codes of the member states of the EU, in order.
func MemberStates() []string { return slices.Clone(states().codes) }

// Languages returns the two-letter codes of the languages a pack for the market
// speaks, in the order of the countries. In the EU the countries of destination decide,
// given as ISO codes (EL serves for GR); where one of several languages is enough
// in a country, one already asked for by another country is taken, else the
// first. Elsewhere countries is not read. An unknown country, or none in the EU,
// is a *CountryError.
func (r *Rules) Languages(countries []string) ([]string, finding.Citation, error) {
	if f, ok := r.fact("languages"); ok {
		return f.list(), f.source, nil
	}
	if len(countries) == 0 {
		return nil, finding.Citation{}, &CountryError{Known: MemberStates()}
	}
	var chosen []state
	for _, c := range countries {
		s, ok := states().byCode[countryCode(c)]
		if !ok {
			return nil, finding.Citation{}, &CountryError{Country: c, Known: MemberStates()}
		}
		chosen = append(chosen, s)
	}
	var langs []string
	var sources []finding.Citation
	for _, s := range chosen {
		sources = append(sources, s.source)
		if !s.any {
			for _, l := range s.languages {
				if !slices.Contains(langs, l) {
					langs = append(langs, l)
				}
			}
		}
	}
	for _, s := range chosen {
		if s.any && !slices.ContainsFunc(s.languages, func(l string) bool { return slices.Contains(langs, l) }) {
			langs = append(langs, s.languages[0])
		}
	}
	from := func(lang string) int {
		return slices.IndexFunc(chosen, func(s state) bool { return slices.Contains(s.languages, lang) })
	}
	slices.SortStableFunc(langs, func(a, b string) int { return cmp.Compare(from(a), from(b)) })
	return langs, joinSources(sources), nil
}

// AllIfForeign reports whether any foreign wording on the label asks for every
// mandatory word in that language too.
func (r *Rules) AllIfForeign() (bool, finding.Citation) {
	f := r.facts["all-if-foreign"]
	return f.value == "yes", f.source
}

// countryAliases are codes that people write for the one used here.
var countryAliases = map[string]string{"UK": "GB", "EL": "GR", "XI": "NI", "GB-NIR": "NI", "USA": "US", "GB-ENG": "GB", "GB-SCT": "GB", "GB-WLS": "GB"}

func countryCode(s string) string {
	c := strings.ToUpper(strings.TrimSpace(s))
	if a, ok := countryAliases[c]; ok {
		return a
	}
	return c
}

// Country returns the code of a country as used here: "uk" is GB, "XI" is NI.
// It reports whether the code has the form of one.
func Country(s string) (string, bool) {
	c := countryCode(s)
	ok := len(c) == 2 && strings.Trim(c, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
	return c, ok
}

// isEU reports whether the code is one of a member state.
func isEU(code string) bool { _, ok := states().byCode[code]; return ok }

var languageNames = sync.OnceValue(func() map[string]string {
	all := map[string]string{}
	for _, r := range load("languages.csv") {
		all[r.text("lang")] = r.text("name")
	}
	return all
})

// LanguageName returns the English name of a language by its two-letter code, or
// the code in quotes where it is not in the table.
func LanguageName(code string) string {
	if n := languageNames()[code]; n != "" {
		return n
	}
	return "“" + code + "”"
}
