package book

import (
	"fmt"
	"maps"
	"slices"

	"gopkg.in/yaml.v3"

	"panelwright/formula"
	"panelwright/label"
)

// Material returns the material that a name means in this book: one of the
// maker's own, or a built-in one; nil for none. It may be used by several
// goroutines.
func (b *Book) Material(name string) *formula.Material {
	b.asked.Lock()
	defer b.asked.Unlock()
	if b.names == nil {
		return nil
	}
	t := b.names.lookup(name)
	if t == nil || t.torn {
		return nil
	}
	return t.material
}

// OfLot returns a material as the sheet for one of its lots describes it: m
// where the book has no other sheet for that lot. earlier reports whether lot
// a of the material came in before lot b.
func (b *Book) OfLot(m *formula.Material, code string, earlier func(a, b string) bool) *formula.Material {
	s, ok := m.Info.(*label.Sheet)
	if !ok {
		return m
	}
	of := m
	for _, l := range s.Later {
		if slices.ContainsFunc(l.Lots, func(c string) bool { return sameCode(c, code) }) {
			return l.Material
		}
		if l.FromLot != "" && (sameCode(l.FromLot, code) || earlier(l.FromLot, code)) {
			of = l.Material
		}
	}
	return of
}

func sameCode(a, b string) bool { return foldName(a) == foldName(b) }

// laterKeys are what another sheet of a material may say otherwise.
var laterKeys = []string{"from lot", "lots", "ref", "date", "file", "fingerprint", "inci", "contains", "allergens", "covers", "use limit",
	"saponification value", "acid value"}

// readLater reads what later sheets say of a material. What a sheet does not
// write is as in the material, but for the allergens and what they cover: a
// sheet that is silent on them would be taken for the one before.
func (mp *materialPage) readLater(n *yaml.Node) {
	const cure = "write it as in - {from lot: A17, ref: certificate 14, allergens: {...}}"
	for _, item := range list(n) {
		later := label.LaterSheet{Pos: mp.page.at(item)}
		over := map[string]*yaml.Node{}
		sheet := &yaml.Node{Kind: yaml.MappingNode, Line: item.Line, Column: item.Column}
		before := len(mp.out)
		for _, e := range mp.known(item, "a later sheet", cure, laterKeys) {
			switch e.key {
			case "from lot":
				later.FromLot, _ = mp.text(e.v, "the first lot")
			case "lots":
				later.Lots = mp.texts(e.v, "a lot")
			case "ref", "date", "file", "fingerprint":
				sheet.Content = append(sheet.Content, e.k, e.v)
			default:
				over[e.key] = e.v
			}
		}
		over["sheet"] = sheet
		if len(mp.out) == before && later.FromLot == "" && len(later.Lots) == 0 {
			mp.fail("book.missing-key", item, "the sheet does not say for which lots it is", "write from lot: with the first lot that came with it, or lots: with all of them")
		}
		if len(mp.out) == before && mp.at["allergens"] != nil && over["allergens"] == nil {
			mp.fail("book.missing-key", item, fmt.Sprintf("the sheet of %s does not give its allergens", clip(mp.m.Name)), "write allergens: as this sheet gives them, and covers:")
		}
		if len(mp.out) > before {
			mp.t.torn = true
			continue
		}
		if later.Material = mp.variant(over, item); later.Material != nil {
			mp.sheet.Later = append(mp.sheet.Later, later)
		}
	}
}

// variant reads the material again with what another sheet says.
func (mp *materialPage) variant(over map[string]*yaml.Node, n *yaml.Node) *formula.Material {
	at := maps.Clone(mp.at)
	for _, key := range []string{"sheets", "sheet", "covers", "allergens"} {
		delete(at, key)
	}
	if over["inci"] != nil || over["contains"] != nil {
		delete(at, "inci")
		delete(at, "contains")
		delete(at, "same as")
	}
	maps.Copy(at, over)
	v := &materialPage{page: mp.page, t: &thing{name: mp.t.name, page: mp.page, density: mp.t.density}, at: at}
	v.m = &formula.Material{Name: mp.m.Name, Pos: mp.page.at(n)}
	v.sheet = &label.Sheet{NotesAt: v.m.Pos}
	v.m.Info = v.sheet
	v.read()
	if v.t.torn {
		mp.t.torn = true
		return nil
	}
	return v.m
}

// Nearest returns the one of some names that a name was meant for, or "".
func Nearest(name string, all []string) string { return nearest(name, all) }
