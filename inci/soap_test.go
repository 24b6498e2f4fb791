package inci

import (
	"slices"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/outside"
)

// Every name of a soap, fat, acid or salt is in the ingredient inventory.
func TestSoapNamesAreInTheInventory(t *testing.T) {
	check := func(k formula.Key) {
		if s, ok := Find(string(k)); k != "" && (!ok || s.Key != Canonical(k)) {
			t.Errorf("%s is not in the inventory", k)
		}
	}
	for _, r := range readTable(fatsText).rows {
		check(formula.Key(r.get("key")))
		check(formula.Key(r.get("sodium_soap")))
		check(formula.Key(r.get("potassium_soap")))
	}
	for _, r := range readTable(soapAcidsText).rows {
		check(formula.Key(r.get("key")))
		check(formula.Key(r.get("sodium_salt")))
		check(formula.Key(r.get("potassium_salt")))
	}
	for _, r := range readTable(fizzText).rows {
		check(formula.Key(r.get("key")))
	}
}

func TestFatOf(t *testing.T) {
	for _, tt := range []struct {
		key, low, high, sodium, potassium string
		kind                              formula.ReactantKind
		source                            string
	}{
		{"OLEA EUROPAEA FRUIT OIL", "184", "196", "SODIUM OLIVATE", "POTASSIUM OLIVATE", formula.Glyceride, "Codex CXS 33-1981"},
		{"COCOS NUCIFERA OIL", "248", "265", "SODIUM COCOATE", "POTASSIUM COCOATE", formula.Glyceride, "Codex CXS 210-1999"},
		{"ELAEIS GUINEENSIS OIL", "190", "209", "SODIUM PALMATE", "POTASSIUM PALMATE", formula.Glyceride, "palm oil 190-209, olein 194-202, stearin 193-205: Codex CXS 210-1999"},
		{"HELIANTHUS ANNUUS SEED OIL", "182", "194", "SODIUM SUNFLOWERSEEDATE", "POTASSIUM SUNFLOWERSEEDATE", formula.Glyceride, "182-194 high oleic, 188-194 linoleic: Codex CXS 210-1999"},
		{"CERA ALBA", "87", "104", "SODIUM BEESWAX", "", formula.WaxEster, "Regulation (EU) No 231/2012"},
		{"PALMITIC ACID", "218.8", "218.8", "SODIUM PALMITATE", "POTASSIUM PALMITATE", formula.FattyAcid, "56105.3/256.430"},
		{"STEARIC ACID", "194", "212", "SODIUM STEARATE", "POTASSIUM STEARATE", formula.FattyAcid, "sold as a mixture: European Pharmacopoeia acid value, memory; pure 197.2"},
	} {
		f, ok := FatOf(formula.Key(tt.key))
		if !ok || !f.Known || f.Low.String() != exact.Must(tt.low).String() || f.High.String() != exact.Must(tt.high).String() ||
			string(f.Sodium) != tt.sodium || string(f.Potassium) != tt.potassium || f.Kind != tt.kind {
			t.Errorf("%s: %+v, want %s (%s)", tt.key, f, tt.low+"-"+tt.high, tt.source)
		}
	}
	if f, ok := FatOf("CANOLA OIL"); !ok || f.Sodium != "" {
		t.Errorf("canola oil: %+v: the inventory has no soap name for it", f)
	}
	r, _ := FatOf("CANOLA OIL")
	re, _ := r.React(nil)
	if what, ok := NoSoapName(re.Sodium); !ok || what != "sodium soap of canola oil" {
		t.Errorf("the soap of canola oil is %q", re.Sodium)
	}
	if f, _ := FatOf("CALOPHYLLUM INOPHYLLUM SEED OIL"); f.Known || Reactant(f.Key) != nil {
		t.Errorf("tamanu oil: no figure was found, and yet %+v", f)
	}
	if f, _ := FatOf("CANNABIS SATIVA SEED OIL"); !f.OneSample {
		t.Error("hemp seed oil: the figure is one sample of 1908")
	}
}

// Theoretical saponification values of pure triglycerides, 3 M(KOH)/M, as the project's reference on soap
// chemistry computed them from the atomic weights of 2021; the published ranges of the fats that they are
// most of have to lie round them.
func TestPureTriglycerides(t *testing.T) {
	koh := SoapMass("potassium hydroxide")
	for _, tt := range []struct{ name, formula, want string }{
		{"tricaprylin", "C27H50O6", "357.5932"}, {"trilaurin", "C39H74O6", "263.3990"}, {"trimyristin", "C45H86O6", "232.7451"},
		{"tripalmitin", "C51H98O6", "208.4823"}, {"tristearin", "C57H110O6", "188.8006"}, {"triolein", "C57H104O6", "190.0902"},
		{"trilinolein", "C57H98O6", "191.3975"}, {"triricinolein", "C57H104O9", "180.3159"},
	} {
		m := mustMass(tt.formula)
		if got := koh.Mul(exact.Int(3000)).Quo(m).Decimal(4, exact.Nearest).String(); strings.TrimRight(tt.want, "0") != strings.TrimRight(got, "0") {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
}

// What an acid takes up for a gram, section 5 of the same reference.
func TestAcids(t *testing.T) {
	for _, tt := range []struct{ key, form, naoh, koh, water string }{
		{"CITRIC ACID", "citric acid anhydrous", "0.624549", "0.876084", "0.281304"},
		{"CITRIC ACID", "citric acid monohydrate", "0.571007", "0.800978", "0.342918"},
		{"LACTIC ACID", "", "0.444024", "0.622852", "0.199993"},
		{"ACETIC ACID", "", "0.666036", "0.934279", "0.299990"},
		{"TARTARIC ACID", "", "0.532985", "0.747642", "0.240062"},
	} {
		a := AcidForm(formula.Key(tt.key), tt.form)
		if tt.form == "" {
			a = Reactant(formula.Key(tt.key))
		}
		s := Stoichiometry()
		koh := a.Typical.Quo(exact.Int(1000))
		for _, c := range []struct {
			what, want string
			got        exact.Rat
		}{{"KOH", tt.koh, koh}, {"NaOH", tt.naoh, koh.Mul(s.Soda)}, {"water", tt.water, koh.Mul(s.Water).Add(a.Crystal.Lo)}} {
			if got := c.got.Decimal(6, exact.Nearest).StringFixed(6); got != c.want {
				t.Errorf("%s %s: %s %s, want %s", tt.key, tt.form, c.what, got, c.want)
			}
		}
	}
	open := Reactant("CITRIC ACID") // the form is not known: the weaker counts
	if !open.Typical.Equal(open.Value.Lo) || !open.Value.Lo.Less(open.Value.Hi) {
		t.Errorf("citric acid of unknown form: %+v", open)
	}
}

// Molar masses against their formulas and against openbabel, which carries older atomic weights: agreement
// within 1 part in 10,000.
func TestSoapMolarMasses(t *testing.T) {
	var smiles, want []string
	var masses []exact.Rat
	for _, text := range []string{soapMassesText, soapAcidsText, fizzText} {
		tab := readTable(text)
		for _, r := range tab.rows {
			m, _ := r.rat("molar_mass")
			if near := mustMass(r.get("formula")); !near.Sub(m).Sub(m.Mul(exact.Frac(1, 10000))).Less(exact.Rat{}) || !m.Sub(near).Less(m.Mul(exact.Frac(1, 10000))) {
				t.Errorf("%s: %s, the formula gives %s", r.get("formula"), m, near)
			}
			if slices.Contains(columnsOf(tab), "smiles") {
				smiles, want, masses = append(smiles, r.get("smiles")), append(want, r.get("formula")), append(masses, m)
			}
		}
	}
	for i, s := range smiles {
		out := strings.Fields(outside.Run(t, "obabel", "-:"+s, "-otxt", "--append", "MW"))
		got, err := exact.Parse(out[len(out)-1])
		if err != nil {
			t.Fatalf("%s: %v in %q", want[i], err, out)
		}
		diff := got.Sub(masses[i])
		if diff.Sign() < 0 {
			diff = diff.Neg()
		}
		if masses[i].Mul(exact.Frac(1, 10000)).Less(diff) {
			t.Errorf("%s: %s here, %s by openbabel", want[i], masses[i], got)
		}
	}
}

func columnsOf(t table) (names []string) {
	for n := range t.columns {
		names = append(names, n)
	}
	return names
}
