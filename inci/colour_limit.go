package inci

import (
	"slices"
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// ColourLimits returns what the list of colours of market m says of k used as a
// colour: products in which it is forbidden, the most of it, and what somebody
// has to look at. Nil means that nothing stands against it, or, for Canada, that
// there is no list here.
//
// EU, NI and GB: Annex IV; a colour index number without an entry is forbidden
// (Article 14(1)(c)). US: 21 CFR parts 73, 74 and 82; a colour without a listing is
// forbidden, and one that is certified carries that as a condition. Where several
// colours share a number, such as a dye and its lake, what holds for all of them
// is a limit and what holds for some a question.
func ColourLimits(k formula.Key, m Market) []*Limit {
	k = Canonical(k)
	switch _, listed := Colourant(k); {
	case m == CA:
		return nil
	case !listed && HairDye(k):
		return []*Limit{hairDye(k, m)}
	case m == US:
		return colourLimitsUS(k)
	}
	return colourLimitsEU(k, m)
}

// HairDye reports whether the inventory knows k as a dye for hair and as nothing
// else. Many such names stand for a colour that has a colour index number too.
func HairDye(k formula.Key) bool {
	s, ok := Find(string(k))
	return ok && s.Functions == "Hair Dyeing"
}

// hairDye asks about a dye for hair that is to colour something else.
func hairDye(k formula.Key, m Market) *Limit {
	l := &Limit{
		List: "Annex IV", Substance: string(k), Keys: []formula.Key{k}, Question: true, Purpose: "colourant", Applies: AppliesTo{Text: "all"},
		Conditions: "the inventory has this name for a dye of hair alone; another colour goes by the colour index number that the list has for it, or may not be used",
		Source:     finding.Citation{Text: "Regulation (EC) No 1223/2009, Article 14(1)(c) and absence from Annex IV", Seen: finding.Memory},
	}
	if m == US {
		l.List, l.Source.Text = "21 CFR", "absence from 21 CFR parts 73, 74 and 82"
	}
	return l
}

// area says which products a restriction of a list of colours keeps out, leaves
// in doubt, or limits.
type area struct {
	applies, doubt, limited AppliesTo
	max                     exact.Rat
	hasMax                  bool
	text, doubtText         string
	duty                    date.Duty
	source                  finding.Citation
}

// areas holds colour-areas.csv by list and restriction, or by list and entry where
// an entry has words of its own.
var areas = sync.OnceValue(func() map[string]area {
	m := map[string]area{}
	for _, r := range readTable(colourAreasText).rows {
		a := area{
			applies: scopesOf(r, "forbid_all", "forbid_any", "forbid_none"), doubt: scopesOf(r, "", "ask_any", ""),
			limited: scopesOf(r, "max_all", "", ""), text: r.get("text"), doubtText: r.get("ask_text"),
			duty: r.duty("new", "existing"), source: r.cite(),
		}
		a.max, a.hasMax = r.rat("max")
		a.applies.Text, a.doubt.Text, a.limited.Text = a.text, a.doubtText, a.text
		m[r.get("list")+" "+r.get("restriction")] = a
	}
	return m
})

func colourLimitsEU(k formula.Key, m Market) []*Limit {
	c, ok := Colourant(k)
	if !ok || c.AnnexIV == "" {
		if !strings.HasPrefix(string(k), "CI ") {
			return nil
		}
		return []*Limit{{
			List: "Annex IV", Substance: string(k), Keys: []formula.Key{k}, Forbidden: true, Purpose: "colourant",
			Conditions: "no entry in the list of colours", Applies: AppliesTo{Text: "all"},
			Source: finding.Citation{Text: "Regulation (EC) No 1223/2009, Article 14(1)(c) and absence from Annex IV", Seen: finding.Memory},
		}}
	}
	base := Limit{
		List: "Annex IV", Entry: c.AnnexIV, Substance: c.Shade + " " + string(k), Keys: []formula.Key{k},
		Purpose: "colourant", Source: c.SourceEU,
	}
	if m == GB {
		base.Source = finding.Citation{Text: c.SourceEU.Text + "; kept as law in Great Britain", Seen: kept(c.SourceEU.Seen)}
	}
	restriction := c.Restriction
	_, own := areas()["Annex IV "+c.AnnexIV]
	if own {
		restriction = c.AnnexIV // entries with words of their own: 77 and 142
	}
	var limits []*Limit
	if a, ok := areas()["Annex IV "+restriction]; ok && !(m == GB && a.duty != date.Duty{}) {
		limits = areaLimits(base, a)
	}
	if c.HasMax && !own {
		l := base
		l.Max, l.HasMax, l.Applies.Text, l.Conditions = c.MaxShare, true, c.RestrictionText, c.Conditions
		limits = append(limits, &l)
	}
	return limits
}

func areaLimits(base Limit, a area) []*Limit {
	var limits []*Limit
	if !a.applies.Everything() {
		l := base
		l.Forbidden, l.Applies, l.Conditions, l.Duty = true, a.applies, a.text, a.duty
		limits = append(limits, &l)
	}
	if !a.doubt.Everything() {
		l := base
		l.Question, l.Applies, l.Conditions, l.Duty = true, a.doubt, a.doubtText, a.duty
		limits = append(limits, &l)
	}
	if a.hasMax {
		l := base
		l.Max, l.HasMax, l.Applies, l.Conditions, l.Duty = a.max, true, a.limited, a.text, a.duty
		limits = append(limits, &l)
	}
	return limits
}

func colourLimitsUS(k formula.Key) []*Limit {
	c, ok := Colourant(k)
	number := strings.HasPrefix(string(k), "CI ")
	if !ok && !number || ok && !number && !slices.ContainsFunc(c.US, func(u ColourUS) bool { return u.Name != "" }) && !c.Listed {
		return nil
	}
	listed := slices.DeleteFunc(slices.Clone(c.US), func(u ColourUS) bool { return u.Name == "" })
	if len(listed) == 0 {
		source := finding.Citation{Text: "absence from 21 CFR parts 73, 74 and 82", Seen: finding.Memory}
		if len(c.US) > 0 {
			source = c.US[0].Source
		}
		return []*Limit{{
			List: "21 CFR", Substance: string(k), Keys: []formula.Key{k}, Forbidden: true, Purpose: "colourant",
			Conditions: notListed, Applies: AppliesTo{Text: "all"}, Source: source,
		}}
	}
	var limits []*Limit
	for _, u := range listed {
		own := usListingLimits(k, u)
		if len(listed) > 1 || len(listed) < len(c.US) {
			// Which of the colours behind the number it is, the supplier says.
			for _, l := range own {
				if l.Forbidden && !forbiddenByAll(listed, l) {
					l.Forbidden, l.Question = false, true
				}
			}
		}
		limits = append(limits, own...)
	}
	return limits
}

// forbiddenByAll reports whether every colour behind a number has the same
// restriction.
func forbiddenByAll(listed []ColourUS, l *Limit) bool {
	return !slices.ContainsFunc(listed, func(u ColourUS) bool { return u.Uses != l.Applies.Text })
}

func usListingLimits(k formula.Key, u ColourUS) []*Limit {
	base := Limit{
		List: "21 CFR", Entry: u.Section, Substance: u.Material, Keys: []formula.Key{k}, Purpose: "colourant", Source: u.Source,
	}
	limits := areaLimits(base, areas()["21 CFR "+u.Uses])
	for _, l := range limits {
		l.Applies.Text = u.Uses
	}
	if a, ok := areas()["21 CFR "+u.Section]; ok {
		limits = append(limits, areaLimits(base, a)...)
	}
	if u.Certified {
		l := base
		l.Conditions = "only from a batch certified by the authority; " + u.Limits
		l.Applies.Text = "all"
		limits = append(limits, &l)
	}
	return limits
}
