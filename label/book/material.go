package book

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/formula/quantity"
	"panelwright/inci"
	"panelwright/label"
)

var materialKeys = []string{"material", "inci", "contains", "same as", "class", "allergens", "covers", "use limit", "sheet", "sheets", "density",
	"function", "declare by name", "us certified", "unlisted", "saponification value", "acid value", "sodium soap", "potassium soap", "form", "water"}

func (l *loader) readMaterials() {
	for _, t := range l.things {
		if t.material != nil {
			l.readMaterial(t)
			if !t.torn {
				l.Materials = append(l.Materials, t.material)
			}
		}
	}
}

// materialPage is one material document while it is read.
type materialPage struct {
	*page
	t        *thing
	m        *formula.Material
	sheet    *label.Sheet
	at       map[string]*yaml.Node
	unlisted bool
}

func (l *loader) readMaterial(t *thing) {
	mp := &materialPage{page: t.page, t: t, m: t.material, sheet: &label.Sheet{NotesAt: t.material.Pos}, at: map[string]*yaml.Node{}}
	mp.m.Info = mp.sheet
	for _, e := range mp.known(mp.root, "a material", "", materialKeys) {
		mp.at[e.key] = e.v
	}
	mp.read()
	if v := mp.at["sheets"]; v != nil {
		mp.readLater(v)
	}
}

// read reads what the keys say.
func (mp *materialPage) read() {
	if v := mp.at["unlisted"]; v != nil {
		mp.unlisted = mp.yes(v, "unlisted")
	}
	mp.readSame()
	mp.readClass()
	mp.readComposition()
	mp.readReaction()
	mp.readWater()
	mp.readSheet()
	mp.readAllergens()
	if v := mp.at["density"]; v != nil {
		if d, err := quantity.ParseDensity(v.Value); err != nil {
			mp.quantityError("book.density", v, err)
		} else {
			mp.t.density = d
		}
	}
	if v := mp.at["function"]; v != nil {
		mp.sheet.Function, _ = mp.text(v, "the function")
	}
	if v := mp.at["declare by name"]; v != nil {
		mp.sheet.ByName = mp.yes(v, "declare by name")
	}
	if v := mp.at["us certified"]; v != nil {
		mp.sheet.Certified = mp.yes(v, "us certified")
	}
	label.Estimate(mp.m)
}

// quantityError reports what package quantity could not read.
func (p *page) quantityError(rule finding.Code, n *yaml.Node, err error) {
	if e, ok := err.(*quantity.Error); ok {
		p.fail(rule, n, fmt.Sprintf("“%s”: %s", clip(e.Read), e.Wrong), e.Cure)
		return
	}
	p.fail(rule, n, err.Error(), "write it as in 10 oz")
}

// readSame takes composition, class and density of a built-in row: the one
// named by "same as", or the one of the same name where the document says
// nothing of what is in the material.
func (mp *materialPage) readSame() {
	v := mp.at["same as"]
	if v == nil {
		if mp.at["inci"] != nil || mp.at["contains"] != nil {
			return
		}
		if tr, ok := inci.TradeMaterial(mp.m.Name); ok {
			mp.take(tr)
			mp.say(finding.Note, "book.same-as-built-in", mp.name, fmt.Sprintf("what is in “%s” is taken from the built-in material “%s”", clip(mp.m.Name), tr.Name),
				"write inci: or contains: if yours is another")
		}
		return
	}
	name, ok := mp.text(v, "same as")
	if !ok {
		mp.t.torn = true
		return
	}
	tr, ok := inci.TradeMaterial(name)
	if !ok {
		cure := "name a built-in material, or write inci: or contains:"
		if near := inci.Suggest(name, 1); len(near) > 0 {
			cure = did(near[0], cure)
		}
		mp.fail("book.unknown-name", v, fmt.Sprintf("“%s” is not a built-in material", clip(name)), cure)
		mp.t.torn = true
		return
	}
	mp.take(tr)
}

func (mp *materialPage) take(tr inci.Trade) {
	mp.t.fromTrade(tr)
	mp.t.figures = inci.Densities(tr.Name)
}

func (mp *materialPage) readClass() {
	v := mp.at["class"]
	if v == nil {
		return
	}
	s, ok := mp.text(v, "the class")
	if !ok {
		return
	}
	class := strings.ToLower(strings.Join(strings.Fields(s), "-"))
	if w, ok := classWords[class]; ok {
		class = w
	}
	all := classes()
	if !slices.Contains(all, class) {
		cure := "known are " + strings.Join(all, ", ")
		mp.fail("book.class", v, fmt.Sprintf("“%s” is not a known class of material", clip(s)), did(nearest(class, all), cure))
		return
	}
	mp.setClass(class)
}

func (mp *materialPage) setClass(class string) {
	mp.sheet.Class = class
	mp.m.Fat = fats[class]
	mp.t.liquid = mp.t.liquid || liquids[class]
}

// readComposition reads inci: or contains:, or takes the one name under which
// all of a scent stands.
func (mp *materialPage) readComposition() {
	one, many := mp.at["inci"], mp.at["contains"]
	switch {
	case one != nil && many != nil:
		mp.fail("book.form", many, "both inci: and contains: say what is in it", "keep one of them")
		mp.t.torn = true
	case many != nil:
		mp.readContains(many)
	case one != nil:
		mp.readINCI(one)
	case len(mp.m.Parts) > 0 || mp.t.torn || mp.torn[mp.root]:
		mp.t.torn = mp.t.torn || len(mp.m.Parts) == 0
	case mp.sheet.Class == "fragrance":
		mp.m.Parts = []formula.Part{wholly("PARFUM")}
	case mp.sheet.Class == "flavour":
		mp.m.Parts = []formula.Part{wholly("AROMA")}
	default:
		mp.fail("book.no-composition", mp.name, fmt.Sprintf("nothing says what is in “%s”", clip(mp.m.Name)),
			"write inci: with its name, contains: with its parts, or same as: with a built-in material")
		mp.t.torn = true
	}
}

// readINCI reads the name of one ingredient, or a list of names without shares:
// then each may be anything from none to all of it.
func (mp *materialPage) readINCI(n *yaml.Node) {
	mp.m.Parts = nil
	mp.sheet.Unknown = false
	names := list(n)
	for _, v := range names {
		name, ok := mp.text(v, "the ingredient name")
		if !ok {
			mp.t.torn = true
			continue
		}
		k, ok := mp.substance(v, name, mp.unlisted)
		if !ok {
			mp.t.torn = true
			continue
		}
		part := wholly(k)
		if len(names) > 1 {
			part = formula.Part{Key: k, Range: formula.Interval{Hi: exact.Int(1)}, Dries: driesAs(k)}
			mp.sheet.Unknown = true
		} else if mp.t.figures == nil {
			mp.t.figures = inci.Densities(name)
			mp.t.liquid = mp.t.liquid || part.Dries != formula.Stays
		}
		if len(names) == 1 && mp.sheet.Class == "" {
			mp.setClass(classOf(k))
		}
		if slices.ContainsFunc(mp.m.Parts, func(q formula.Part) bool { return q.Key == k }) {
			mp.fail("book.repeated-name", v, fmt.Sprintf("“%s” stands twice", clip(name)), "keep one of them")
			mp.t.torn = true
			continue
		}
		mp.m.Parts = append(mp.m.Parts, part)
	}
	if len(names) == 0 {
		mp.t.torn = true
		if !mp.torn[n] {
			mp.fail("book.empty-value", n, "the list of ingredients is empty", "write the name of what is in it")
		}
	}
}

// quantityShare reads a share of a supplier's sheet.
func (p *page) quantityShare(n *yaml.Node, what string) (quantity.Share, bool) {
	s, ok := p.text(n, what)
	if !ok {
		return quantity.Share{}, false
	}
	sh, err := quantity.ParseShare(s)
	if err != nil {
		p.quantityError("book.share", n, err)
		return sh, false
	}
	return sh, true
}

func (mp *materialPage) readSheet() {
	if v := mp.at["sheet"]; v != nil {
		if v.Kind == yaml.ScalarNode {
			mp.sheet.Ref = strings.TrimSpace(v.Value)
		} else {
			mp.readSheetEntries(v)
		}
	}
	if v := mp.at["covers"]; v != nil {
		for _, n := range list(v) {
			s, ok := mp.text(n, "the list covered")
			if !ok {
				continue
			}
			found, ok := inci.ListNamed(s)
			if !ok {
				mp.fail("book.list", n, fmt.Sprintf("“%s” is not a known list of allergens", clip(s)),
					did(nearest(s, inci.Lists()), "known are "+strings.Join(inci.Lists(), ", ")))
				continue
			}
			mp.sheet.Covers = append(mp.sheet.Covers, found)
		}
	}
	if v := mp.at["use limit"]; v != nil {
		for _, e := range mp.entries(v, "use limit", "write it as in {bath: 12 %}") {
			mp.readUseLimit(e)
		}
	}
}

func (mp *materialPage) readSheetEntries(v *yaml.Node) {
	for _, e := range mp.known(v, "a sheet", "write it as in {ref: certificate 12, date: 2026-03-02}", []string{"ref", "date", "file", "fingerprint"}) {
		switch e.key {
		case "ref":
			mp.sheet.Ref, _ = mp.text(e.v, "the sheet's reference")
		case "date":
			mp.sheet.Date = mp.date(e.v, "the sheet's date")
		case "file":
			mp.sheet.File, _ = mp.text(e.v, "the sheet's file")
		case "fingerprint":
			mp.readFingerprint(e.v)
		}
	}
}

func (mp *materialPage) readUseLimit(e entry) {
	id, ok := inci.Category(e.key)
	if !ok {
		mp.fail("book.use-category", e.k, fmt.Sprintf("“%s” is not a known category of use", clip(e.key)),
			"write its number on the certificate, such as 9, or a word such as bath, soap, lip or body")
		return
	}
	limit := label.UseLimit{Pos: mp.page.at(e.k), Category: id, Words: e.key}
	if s := strings.ToLower(strings.TrimSpace(e.v.Value)); s != "not permitted" && s != "not allowed" {
		sh, ok := mp.quantityShare(e.v, "the use limit")
		if !ok {
			return
		}
		if sh.Rest || !sh.Lo.IsZero() && !sh.Stated {
			mp.fail("book.share", e.v, fmt.Sprintf("“%s” is not one highest share", clip(e.v.Value)), "write it as in 12 %")
			return
		}
		limit.Max = sh.Hi
	}
	mp.sheet.Limits = append(mp.sheet.Limits, limit)
}
