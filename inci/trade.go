package inci

import (
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Trade is a raw material of this trade under the name a maker buys it by.
type Trade struct {
	Name  string
	Key   formula.Key // the substance, or the leading one of a blend
	Class string      // "oil", "butter", "salt" and so on
	// Blend says that the material is several substances. Without Parts its
	// composition is the supplier's to tell, and it must not be printed as it
	// stands; Notes may name the components.
	Blend bool
	Parts []TradePart
	// Density is in grams per millilitre, 0 where none is published here.
	Density       exact.Rat
	DensitySource finding.Citation
	USName        string // as printed in the United States; may be finer than Name(Key, US)
	USAlt         string
	USSource      finding.Citation
	French        string // where Canada prints one
	CAS, Notes    string
	Source        finding.Citation
	// Alias is set where the question used another everyday name, with Remark
	// saying what was taken for granted, if anything.
	Alias, Remark string

	liquid bool
}

// TradePart is a substance in a blend of fixed composition.
type TradePart struct {
	Key   formula.Key
	Share exact.Rat // fraction of the weight, 0 to 1
}

// Liquid reports whether "oz" of the material may mean a weight or a volume:
// oils liquid at room temperature, essential oils, water, syrups and solutions,
// but no butter, wax, powder or salt.
func (t Trade) Liquid() bool { return t.liquid }

var trade = sync.OnceValue(func() []Trade {
	t := readTable(tradeText)
	all := make([]Trade, len(t.rows))
	for i, r := range t.rows {
		all[i] = Trade{
			Name: r.get("name"), Key: formula.Key(r.get("key")), Class: r.get("class"), Blend: r.yes("blend"),
			USName: r.get("us_name"), USAlt: r.get("us_alt"), French: r.get("french"),
			CAS: r.get("cas"), Notes: r.get("notes"), liquid: r.yes("liquid"),
			Source: r.cite(), USSource: r.citeIn("us_source", "us_seen"),
		}
		if d, ok := r.rat("density"); ok {
			all[i].Density, all[i].DensitySource = d, r.citeIn("density_source", "density_seen")
		}
		for _, part := range r.list("parts") {
			key, share, _ := strings.Cut(part, "=")
			all[i].Parts = append(all[i].Parts, TradePart{formula.Key(key), exact.Must(share)})
		}
	}
	return all
})

type aliasLine struct{ name, trade, note string }

var aliases = sync.OnceValue(func() []aliasLine {
	t := readTable(aliasesText)
	all := make([]aliasLine, len(t.rows))
	for i, r := range t.rows {
		all[i] = aliasLine{r.get("alias"), r.get("trade"), r.get("note")}
	}
	return all
})

type tradeRef struct {
	index int
	alias *aliasLine
}

var tradeIndex = sync.OnceValue(func() map[string]tradeRef {
	all, other := trade(), aliases()
	index := make(map[string]tradeRef, len(all)+len(other))
	for i, t := range all {
		index[Fold(t.Name)] = tradeRef{index: i}
	}
	for i := range other {
		index[Fold(other[i].name)] = tradeRef{index[Fold(other[i].trade)].index, &other[i]}
	}
	return index
})

// TradeMaterial returns the raw material of that name after folding. Everyday
// names that mean one material are understood: "bicarbonate of soda".
func TradeMaterial(name string) (Trade, bool) {
	ref, ok := tradeIndex()[Fold(name)]
	if !ok {
		return Trade{}, false
	}
	t := trade()[ref.index]
	if ref.alias != nil {
		t.Alias, t.Remark = ref.alias.name, ref.alias.note
	}
	return t, true
}

// TradeMaterials returns all raw materials, by folded name.
func TradeMaterials() []Trade { return trade() }
