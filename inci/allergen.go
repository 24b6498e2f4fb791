package inci

import (
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Allergen is an entry of Annex III of Regulation (EC) No 1223/2009 whose name a
// list must carry above a share.
type Allergen struct {
	Entry string // "88"; for the two prohibited former entries the Annex II reference
	Name  string // as prescribed; the annex mixes its letters, here they are as in other names
	// EachByName says that no collective name is prescribed and each member is
	// printed under its own name; Name is then that of the first.
	EachByName bool
	// Members are the substances added up under the entry, in the order of the
	// annex. A substance with isomers has the isomers as members, not itself; an
	// oil has every oil and extract named. In either case the share of the entry in
	// one material is the greater of the figure stated under GroupKey and the sum
	// of the figures of the members.
	Members []Member
	CAS     []string // of the entry as a whole
	// LeaveOn and RinseOff are the shares of the finished product above which,
	// strictly, the name is printed; fractions of 1.
	LeaveOn, RinseOff exact.Rat
	Duty              date.Duty // of the entry and of a figure stated for it; see Member
	Oil               bool      // an oil, extract or absolute, not a single chemical
	Prohibited        bool      // a former entry, now banned
	Note              string
	Source            finding.Citation

	key formula.Key
}

// Member is one substance of an entry.
type Member struct {
	Key  formula.Key
	Name string // label name, in the letters of other names
	CAS  []string
	// Added says that the member came with Regulation (EU) 2023/1545. Duty is its
	// own: where an entry was widened, the old scope stays undated.
	Added bool
	Duty  date.Duty
	// Cautious marks a member outside the words of the entry in this market, kept
	// because it is the same chemical: the isomers of citral in Great Britain.
	Cautious bool
}

// GroupKey returns the key of a figure stated for the entry as a whole, such as
// CITRAL or LAVANDULA OIL/EXTRACT. For a single substance it is its own key.
func GroupKey(a *Allergen) formula.Key { return a.key }

// In returns the same entry as market m has it, with that market's members and
// dates, or nil where m does not want it named.
func (a *Allergen) In(m Market) *Allergen {
	for _, b := range Allergens(m) {
		if b.Entry == a.Entry {
			return b
		}
	}
	return nil
}

// Allergens returns the entries that market m wants named, in the order of the
// annex, with the dates of that market: EU and NI the 81 of today, GB the older
// set, CA the European set on its own dates, US none.
func Allergens(m Market) []*Allergen { return allergens()[m] }

// ProhibitedAllergens returns the former entries that are now banned.
func ProhibitedAllergens() []*Allergen { return allergens()["prohibited"] }

var allergens = sync.OnceValue(func() map[Market][]*Allergen {
	members := map[string][]row{}
	for _, r := range readTable(membersText).rows {
		members[r.get("entry")] = append(members[r.get("entry")], r)
	}
	all := map[Market][]*Allergen{}
	for _, r := range readTable(allergensText).rows {
		if r.yes("prohibited") {
			a := newAllergen(r, EU, nil)
			a.Prohibited = true
			a.Members = []Member{{Key: a.key, Name: a.Name, CAS: a.CAS, Duty: a.Duty}}
			all["prohibited"] = append(all["prohibited"], a)
			continue
		}
		all[EU] = append(all[EU], newAllergen(r, EU, members[r.get("entry")]))
		all[CA] = append(all[CA], newAllergen(r, CA, members[r.get("entry")]))
		if r.get("gb_source") != "" {
			all[GB] = append(all[GB], newAllergen(r, GB, members[r.get("entry")]))
		}
	}
	all[NI] = all[EU]
	return all
})

func newAllergen(r row, m Market, members []row) *Allergen {
	a := &Allergen{
		Entry: r.get("entry"), Name: readableAllergen(r.get("name")), EachByName: r.yes("each_by_name"), CAS: fields(r.get("cas")),
		Oil: r.yes("oil"), Note: r.get("note"), Source: r.cite(), Duty: r.duty("new", "all"), key: formula.Key(r.get("key")),
	}
	a.LeaveOn, _ = r.rat("leave_on")
	a.RinseOff, _ = r.rat("rinse_off")
	switch m {
	case GB:
		a.Source, a.Duty = r.citeIn("gb_source", "gb_seen"), date.Duty{}
	case CA:
		a.Source, a.Duty = r.citeIn("ca_source", "ca_seen"), r.duty("ca_new", "ca_all")
	}
	for _, mr := range members {
		if m == GB && mr.get("gb") == "" {
			continue
		}
		b := Member{
			Key: formula.Key(mr.get("key")), Name: readableAllergen(mr.get("name")), CAS: fields(mr.get("cas")),
			Added: mr.yes("added"), Duty: mr.duty("new", "all"),
		}
		switch m {
		case GB:
			b.Duty, b.Added, b.Cautious = date.Duty{}, false, mr.get("gb") == "cautious"
		case CA:
			b.Duty = mr.duty("ca_new", "ca_all")
		}
		a.Members = append(a.Members, b)
	}
	return a
}

// readableAllergen gives a prescribed name the letters of all other names: the
// annex prints "Hexyl cinnamal" beside "Benzyl Alcohol".
func readableAllergen(name string) string { return Readable(strings.ToUpper(name)) }
