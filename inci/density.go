package inci

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Density is a published figure, in grams per millilitre. Low and High are 0
// where the source gives one figure only.
type Density struct {
	GramsPerML, Low, High exact.Rat
	Material              string // the words of the source: "salt, coarse"
	Basis                 string // how it was measured: "bulk, poured into the household measure"
	Note                  string
	Source                finding.Citation
}

type densityLine struct {
	Density
	rank int
}

var densities = sync.OnceValue(func() map[string][]densityLine {
	index := map[string][]densityLine{}
	for _, r := range readTable(densitiesText).rows {
		d := Density{Material: r.get("material"), Basis: r.get("basis"), Note: r.get("note"), Source: r.cite()}
		d.GramsPerML, _ = r.rat("g_per_ml")
		d.Low, _ = r.rat("low")
		d.High, _ = r.rat("high")
		for _, name := range r.list("trade") {
			f := Fold(name)
			index[f] = append(index[f], densityLine{d, rankDensity(d)})
		}
	}
	return index
})

// rankDensity puts what was read before what was quoted or remembered, and a
// powder poured into a kitchen measure, as makers do, before other figures.
func rankDensity(d Density) int {
	rank := map[finding.Seen]int{finding.Yes: 0, finding.Secondary: 10, finding.Practice: 10, finding.Memory: 20}[d.Source.Seen]
	if !strings.Contains(d.Basis, "household measure") {
		rank++
	}
	return rank
}

// Densities returns the published figures for a trade material, or for every
// trade material of an ingredient name, best first; nil where there are none.
// They may differ by a third: the reader should be told.
func Densities(name string) []Density {
	var materials []Trade
	if t, ok := TradeMaterial(name); ok {
		materials = []Trade{t}
	} else if s, ok := Find(name); ok {
		for _, t := range trade() {
			if t.Key == s.Key {
				materials = append(materials, t)
			}
		}
	}
	var found []densityLine
	for _, t := range materials {
		found = append(found, densities()[Fold(t.Name)]...)
		if !t.Density.IsZero() {
			d := Density{GramsPerML: t.Density, Material: t.Name, Basis: "given for the material", Source: t.DensitySource}
			found = append(found, densityLine{d, rankDensity(d) + 1})
		}
	}
	slices.SortStableFunc(found, func(a, b densityLine) int { return cmp.Compare(a.rank, b.rank) })
	var figures []Density
	for _, d := range found {
		if !slices.ContainsFunc(figures, func(e Density) bool {
			return e.Source == d.Source && e.Material == d.Material && e.GramsPerML.Equal(d.GramsPerML)
		}) {
			figures = append(figures, d.Density)
		}
	}
	return figures
}
