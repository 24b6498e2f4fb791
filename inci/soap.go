package inci

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// SoapFat is what is published of a fat that lye turns into soap. Fats that the
// inventory knows by one name, such as palm oil and its fractions, are one
// SoapFat whose range covers them all.
type SoapFat struct {
	Key   formula.Key
	Names []string // as published
	Kind  formula.ReactantKind
	// Low and High are the saponification value in mg KOH/g. Known is false where
	// no trustworthy figure was found.
	Low, High exact.Rat
	Known     bool
	// OneSample says that the range is a single analysis: no specification.
	OneSample bool
	// Sodium and Potassium are the names of its soaps in the ingredient inventory,
	// "" where it has none. None is made up.
	Sodium, Potassium formula.Key
	Source            finding.Citation
}

var fatKinds = map[string]formula.ReactantKind{"glyceride": formula.Glyceride, "acid": formula.FattyAcid, "wax": formula.WaxEster, "none": formula.Unreactive}

var soapFats = sync.OnceValue(func() map[formula.Key]*SoapFat {
	m := map[formula.Key]*SoapFat{}
	for _, r := range readTable(fatsText).rows {
		k := Canonical(formula.Key(r.get("key")))
		lo, known := r.rat("sv_low")
		hi, _ := r.rat("sv_high")
		one := strings.HasPrefix(r.get("note"), "one sample")
		f := m[k]
		if f == nil {
			m[k] = &SoapFat{Key: k, Names: []string{r.get("name")}, Kind: fatKinds[r.get("kind")], Low: lo, High: hi, Known: known, OneSample: one,
				Sodium: formula.Key(r.get("sodium_soap")), Potassium: formula.Key(r.get("potassium_soap")), Source: r.cite()}
			continue
		}
		f.Names = append(f.Names, r.get("name"))
		f.Low, f.High, f.OneSample = exact.Min(f.Low, lo), exact.Max(f.High, hi), f.OneSample && one
	}
	return m
})

// FatOf returns what is published of the fat with key k.
func FatOf(k formula.Key) (SoapFat, bool) {
	f, ok := soapFats()[Canonical(k)]
	if !ok {
		return SoapFat{}, false
	}
	return *f, true
}

// noName begins the key that stands for a soap without a name in the inventory.
const noName = "NO INVENTORY NAME: "

func unnamed(base string, k formula.Key) formula.Key {
	return formula.Key(noName + base + " SOAP OF " + string(k))
}

// NoSoapName reports whether k stands for a soap that the ingredient inventory
// has no name for, and which: "sodium soap of canola oil".
func NoSoapName(k formula.Key) (what string, ok bool) {
	s, ok := strings.CutPrefix(string(k), noName)
	return strings.ToLower(s), ok
}

// React returns what lye does with the fat: the supplier's value if certified
// is not nil, else the published one. ok is false where neither is known.
func (f SoapFat) React(certified *formula.Interval) (r *formula.Reactant, ok bool) {
	r = &formula.Reactant{Kind: f.Kind, Value: formula.Interval{Lo: f.Low, Hi: f.High}, Sodium: f.Sodium, Potassium: f.Potassium, Source: f.Source}
	if f.Known {
		r.Published = r.Value
	}
	if certified != nil {
		r.Value, r.Certified = *certified, true
	}
	if r.Sodium == "" {
		r.Sodium = unnamed("SODIUM", f.Key)
	}
	if r.Potassium == "" {
		r.Potassium = unnamed("POTASSIUM", f.Key)
	}
	r.Typical = r.Value.Lo.Add(r.Value.Hi).Quo(exact.Int(2))
	return r, f.Known || certified != nil || f.Kind == formula.Unreactive
}

// Reactant returns what lye does with the substance, or nil if nothing is known
// of it here. An acid whose form is not known counts as the one that takes up
// least lye. The result is shared and not to be changed.
func Reactant(k formula.Key) *formula.Reactant { return reactants()[Canonical(k)] }

var reactants = sync.OnceValue(func() map[formula.Key]*formula.Reactant {
	m := map[formula.Key]*formula.Reactant{
		"SODIUM HYDROXIDE": {Kind: formula.SodaLye}, "POTASSIUM HYDROXIDE": {Kind: formula.PotashLye},
	}
	for k, f := range soapFats() {
		if r, ok := f.React(nil); ok {
			m[k] = r
		}
	}
	for _, r := range readTable(soapAcidsText).rows {
		k, a := formula.Key(r.get("key")), acidOf(r)
		if was := m[k]; was != nil {
			was.Value = formula.Interval{Lo: exact.Min(was.Value.Lo, a.Value.Lo), Hi: exact.Max(was.Value.Hi, a.Value.Hi)}
			was.Crystal = formula.Interval{Lo: exact.Min(was.Crystal.Lo, a.Crystal.Lo), Hi: exact.Max(was.Crystal.Hi, a.Crystal.Hi)}
			was.Typical = was.Value.Lo
			continue
		}
		m[k] = a
	}
	return m
})

// acidForms are the rows of the acids that are sold in several forms, by substance.
var acidForms = sync.OnceValue(func() map[formula.Key][]row {
	m := map[formula.Key][]row{}
	for _, r := range readTable(soapAcidsText).rows {
		if r.get("form") != "" {
			m[formula.Key(r.get("key"))] = append(m[formula.Key(r.get("key"))], r)
		}
	}
	return m
})

// acidOf returns one row of the acids: what it takes up follows from its molar
// mass and the molecules of base that one of it takes.
func acidOf(r row) *formula.Reactant {
	mass, _ := r.rat("molar_mass")
	base, _ := r.rat("base")
	crystal, _ := r.rat("crystal")
	value := base.Mul(SoapMass("potassium hydroxide")).Mul(exact.Int(1000)).Quo(mass)
	wet := crystal.Mul(SoapMass("water")).Quo(mass)
	a := &formula.Reactant{Kind: formula.PlainAcid, Value: formula.Point(value), Crystal: formula.Point(wet), Typical: value,
		Sodium: formula.Key(r.get("sodium_salt")), Potassium: formula.Key(r.get("potassium_salt")), Source: r.cite()}
	if lo, diluted := r.rat("strength_low"); diluted { // the rest of it is water
		hi, _ := r.rat("strength_high")
		one := exact.Int(1)
		a.Value = formula.Interval{Lo: value.Mul(lo), Hi: value.Mul(hi)}
		a.Crystal = formula.Interval{Lo: one.Sub(hi), Hi: one.Sub(lo)}
		a.Typical = a.Value.Lo
	}
	return a
}

// AcidForm returns what lye does with an acid in the form that the words name
// ("anhydrous", "monohydrate"), or nil if they name none of its forms.
func AcidForm(k formula.Key, words string) *formula.Reactant {
	rows := acidForms()[Canonical(k)]
	if len(rows) == 0 {
		return nil
	}
	words = strings.ToLower(words)
	for _, r := range rows {
		form := r.get("form")
		if strings.Contains(words, form) || form == "monohydrate" && slices.Contains(strings.Fields(words), "hydrated") {
			return acidOf(r)
		}
	}
	return nil
}

// SoapMass returns the molar mass in grams per mole of one of the substances
// that every saponification involves: sodium hydroxide, potassium hydroxide,
// water, glycerol. It panics on another word.
func SoapMass(name string) exact.Rat {
	m, ok := soapMasses()[name]
	if !ok {
		panic(fmt.Sprintf("inci: no molar mass of %q", name))
	}
	return m
}

var soapMasses = sync.OnceValue(func() map[string]exact.Rat {
	m := map[string]exact.Rat{}
	for _, r := range readTable(soapMassesText).rows {
		m[r.get("id")], _ = r.rat("molar_mass")
	}
	return m
})

// Stoichiometry returns the proportions of a saponification. It is shared and
// not to be changed.
func Stoichiometry() *formula.Stoichiometry { return stoichiometry() }

var stoichiometry = sync.OnceValue(func() *formula.Stoichiometry {
	koh := SoapMass("potassium hydroxide")
	return &formula.Stoichiometry{
		Soda: SoapMass("sodium hydroxide").Quo(koh), Glycerol: SoapMass("glycerol").Quo(koh.Mul(exact.Int(3))), Water: SoapMass("water").Quo(koh),
		Glycerin: "GLYCERIN", Aqua: "AQUA",
	}
})
