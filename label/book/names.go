package book

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
)

// thing is what a line of a mix may name: a material or a formula.
type thing struct {
	name     string
	page     *page // nil for what is built in
	material *formula.Material
	formula  *formula.Formula
	density  exact.Rat // grams a millilitre as the maker states it; 0 if not
	figures  []inci.Density
	liquid   bool   // "oz" of it may mean the fluid ounce
	torn     bool   // could not be read whole; the cause has been reported
	remark   string // what the name was taken to mean, until it has been said
}

// foldName is the form in which the maker's own names are compared.
func foldName(s string) string { return inci.Fold(s) }

// lookup resolves a name: the maker's own material or formula, then a built-in
// trade material, then the ingredient glossary. It returns nil if nobody knows
// the name.
func (l *loader) lookup(name string) *thing {
	if t, ok := l.found[name]; ok {
		return t
	}
	t := l.own[foldName(name)]
	if t == nil {
		t = l.builtInThing(name)
	}
	l.found[name] = t
	return t
}

func (l *loader) builtInThing(name string) *thing {
	if tr, ok := inci.TradeMaterial(name); ok {
		key := "trade " + tr.Name + acidForm(tr)
		if l.builtIn[key] == nil {
			t := &thing{name: tr.Name, figures: inci.Densities(tr.Name)}
			t.material = &formula.Material{Name: tr.Name, Info: &label.Sheet{}}
			t.fromTrade(tr)
			reacts(t.material, acidForm(tr))
			label.Estimate(t.material)
			t.remark = tr.Remark
			l.builtIn[key] = t
		}
		return l.builtIn[key]
	}
	s, ok := inci.Find(name)
	if !ok {
		return nil
	}
	key := "inci " + string(s.Key)
	if l.builtIn[key] == nil {
		l.builtIn[key] = &thing{name: name, figures: inci.Densities(s.Name), liquid: driesAs(s.Key) != formula.Stays,
			material: &formula.Material{Name: name, Info: &label.Sheet{}, Parts: []formula.Part{wholly(s.Key)}}}
		reacts(l.builtIn[key].material, "")
	}
	return l.builtIn[key]
}

// fromTrade gives a material the composition and class of a built-in row.
func (t *thing) fromTrade(tr inci.Trade) {
	m, sheet := t.material, t.material.Info.(*label.Sheet)
	sheet.Class, sheet.Trade, sheet.Unknown = tr.Class, &tr, tr.Blend && len(tr.Parts) == 0
	m.Fat = fats[tr.Class]
	m.Parts = nil
	for _, part := range tr.Parts {
		m.Parts = append(m.Parts, fixed(part.Key, part.Share))
	}
	if len(m.Parts) == 0 {
		m.Parts = []formula.Part{wholly(tr.Key)}
	}
	t.liquid = tr.Liquid()
}

// fats are the classes that count for "% of fats": what has a saponification
// value in the tables, waxes and fatty acids included.
var fats = map[string]bool{"oil": true, "butter": true, "wax": true, "fatty-acid": true}

// liquids are the classes in which "oz" may mean the fluid ounce, for materials
// of the maker's own.
var liquids = map[string]bool{"oil": true, "essential-oil": true, "absolute": true, "fragrance": true, "flavour": true,
	"fragrance-constituent": true, "alcohol": true, "solvent": true}

func wholly(k formula.Key) formula.Part { return fixed(k, exact.Int(1)) }

func fixed(k formula.Key, share exact.Rat) formula.Part {
	return formula.Part{Key: k, Range: formula.Point(share), Exact: true, Typical: share, Dries: driesAs(k)}
}

// driesAs says what may leave a part on drying: free water and alcohol. Juices,
// milks and hydrosols have names of their own and stay.
func driesAs(k formula.Key) formula.Volatile {
	switch k {
	case "AQUA":
		return formula.Water
	case "ALCOHOL", "ALCOHOL DENAT.", "ISOPROPYL ALCOHOL":
		return formula.Alcohol
	}
	return formula.Stays
}

// resolve looks a name up and reports one that nobody knows.
func (l *loader) resolve(p *page, n *yaml.Node, name string) *thing {
	if t := l.lookup(name); t != nil {
		return t
	}
	p.fail("book.unknown-name", n, fmt.Sprintf("“%s” is not a known material or formula", clip(name)), l.nearestThing(name))
	return nil
}

// mostSuggestions bounds how often the nearest name is searched for: each search
// goes through all that are known.
const mostSuggestions = 200

func (l *loader) nearestThing(name string) string {
	if before, _, ok := strings.Cut(name, " #"); ok && l.lookup(before) != nil {
		return "put a space after the # if it starts a note"
	}
	if l.suggested++; l.suggested > mostSuggestions {
		return "write a material for it"
	}
	names := make([]string, 0, len(l.things))
	for _, t := range l.things {
		names = append(names, t.name)
	}
	if near := nearest(name, names); near != "" {
		return did(near, "")
	}
	if near := inci.Suggest(name, 1); len(near) > 0 {
		return did(near[0], "")
	}
	return "write a material for it, or fill it under slots: in each product if it is a slot"
}

// substance resolves the name of one ingredient: a glossary name, or a trade
// material that is one substance.
func (p *page) substance(n *yaml.Node, name string, unlisted bool) (formula.Key, bool) {
	if s, ok := inci.Find(name); ok {
		return s.Key, true
	}
	if tr, ok := inci.TradeMaterial(name); ok {
		if !tr.Blend {
			return tr.Key, true
		}
		p.fail("book.unknown-name", n, fmt.Sprintf("“%s” is a blend of several ingredients", clip(name)),
			"name the ingredients, from the supplier's sheet")
		return "", false
	}
	if unlisted {
		p.say(finding.Note, "book.unlisted-name", n, fmt.Sprintf("“%s” is not in the ingredient inventory and is printed as written", clip(name)),
			"check it with the supplier")
		return formula.Key(strings.ToUpper(strings.Join(strings.Fields(name), " "))), true
	}
	cure := "check it against the supplier's sheet; if the sheet is right, write `unlisted: yes`"
	if len(p.out) < mostSuggestions {
		if near := inci.Suggest(name, 1); len(near) > 0 {
			cure = did(near[0], cure)
		}
	}
	p.fail("book.unknown-name", n, fmt.Sprintf("“%s” is not a known ingredient", clip(name)), cure)
	return "", false
}

// classes are the words for what a material is, as in the built-in list.
var classes = sync.OnceValue(func() []string {
	all := []string{"flavour"}
	for _, t := range inci.TradeMaterials() {
		all = append(all, t.Class)
	}
	slices.Sort(all)
	return slices.Compact(all)
})

// classOf returns the class of the built-in materials that are this substance,
// "" where there are none or they differ.
func classOf(k formula.Key) string { return classByKey()[k] }

var classByKey = sync.OnceValue(func() map[formula.Key]string {
	m := map[formula.Key]string{}
	for _, t := range inci.TradeMaterials() {
		if t.Blend {
			continue
		}
		if was, ok := m[t.Key]; ok && was != t.Class {
			m[t.Key] = ""
			continue
		}
		m[t.Key] = t.Class
	}
	return m
})

// classWords are other words for a class.
var classWords = map[string]string{"scent": "fragrance", "fragrance-oil": "fragrance", "perfume": "fragrance", "parfum": "fragrance",
	"colour": "colourant", "color": "colourant", "colorant": "colourant", "dye": "colourant", "mica": "pigment",
	"flavor": "flavour", "aroma": "flavour", "eo": "essential-oil", "carrier-oil": "oil"}
