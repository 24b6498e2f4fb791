package inci

import (
	"slices"
	"testing"

	"panelwright/formula"
	"panelwright/formula/finding"
)

func TestFormaldehydeReleasers(t *testing.T) {
	// Notes to Annex V, section 1: nine entries, and entry 45 from memory.
	want := []formula.Key{
		"2-BROMO-2-NITROPROPANE-1,3-DIOL", "5-BROMO-5-NITRO-1,3-DIOXANE", "7-ETHYLBICYCLOOXAZOLIDINE", "BENZYLHEMIFORMAL",
		"DIAZOLIDINYL UREA", "DIMETHYL OXAZOLIDINE", "DMDM HYDANTOIN", "IMIDAZOLIDINYL UREA", "METHENAMINE", "SODIUM HYDROXYMETHYLGLYCINATE",
	}
	if got := FormaldehydeReleasers(); !slices.Equal(got, want) {
		t.Errorf("%v", got)
	}
	for _, k := range want {
		m, ok := MemberOf(ClassReleaser, k)
		if !ok || m.Source.Unverified() != (k == "DIMETHYL OXAZOLIDINE") {
			t.Errorf("%s: %+v", k, m)
		}
		if !slices.ContainsFunc(LimitsOf(k, EU), func(l *Limit) bool { return l.List == "Annex V" }) {
			t.Errorf("%s is not in Annex V", k)
		}
	}
}

func TestClasses(t *testing.T) {
	for _, c := range []struct {
		name    string
		is      func(formula.Key) bool
		members []formula.Key
		others  []formula.Key
	}{
		{"alpha hydroxy acid", AHA, []formula.Key{"GLYCOLIC ACID", "LACTIC ACID", "MALIC ACID", "TARTARIC ACID", "CITRIC ACID", "MANDELIC ACID"},
			[]formula.Key{"SALICYLIC ACID", "ASCORBIC ACID", "SODIUM CITRATE", "AQUA"}},
		{"borate", Borate, []formula.Key{"SODIUM BORATE", "BORIC ACID", "ZINC BORATE"}, []formula.Key{"SODIUM PERBORATE", "CALCIUM ALUMINUM BOROSILICATE"}},
		{"plastic", Microplastic, []formula.Key{"POLYETHYLENE TEREPHTHALATE", "NYLON-12", "POLYURETHANE-33", "ACRYLATES COPOLYMER"}, []formula.Key{"MICA", "CELLULOSE", "SYNTHETIC FLUORPHLOGOPITE"}},
		{"nano", Nano, []formula.Key{"ZINC OXIDE (NANO)"}, []formula.Key{"ZINC OXIDE", "NANOCHLOROPSIS OCULATA EXTRACT"}},
		{"surfactant", Surfactant, []formula.Key{"SODIUM LAURYL SULFATE", "SODIUM LAURYL SULFOACETATE", "COCAMIDOPROPYL BETAINE", "SODIUM COCOYL ISETHIONATE"},
			[]formula.Key{"SODIUM BICARBONATE", "THEOBROMA CACAO SEED BUTTER", "CITRIC ACID", "CETYL ALCOHOL", "XANTHAN GUM", "STEARIC ACID", "POLYSORBATE 80", "not a name"}},
	} {
		for _, k := range c.members {
			if !c.is(k) {
				t.Errorf("%s is no %s", k, c.name)
			}
		}
		for _, k := range c.others {
			if c.is(k) {
				t.Errorf("%s is a %s", k, c.name)
			}
		}
	}
	for _, k := range Members(ClassMicroplastic) {
		if k.Source.Seen != finding.Memory || k.Note == "" {
			t.Errorf("%s: %+v", k.Key, k)
		}
	}
}

// Article 19(1)(g): the word nano in brackets behind the name. Annex VI has rows for the nano forms.
func TestFindNano(t *testing.T) {
	for name, want := range map[string]formula.Key{
		"Titanium Dioxide (nano)": "TITANIUM DIOXIDE (NANO)", "zinc oxide(NANO)": "ZINC OXIDE (NANO)", "CI 77266 (nano)": "CI 77266 (NANO)",
		"water (nano)": "AQUA (NANO)", "(nano)": "", "nothing known (nano)": "", "Zinc Oxide (nano) (nano)": "",
	} {
		s, ok := Find(name)
		if s.Key != want || ok != (want != "") || ok && !Nano(s.Key) {
			t.Errorf("%q gives %q, %v", name, s.Key, ok)
		}
	}
	if p := Name("ZINC OXIDE (NANO)", EU); !p.OK || p.Source.Unverified() {
		t.Errorf("the nano form of zinc oxide is printed as %+v", p)
	}
	if len(LimitsOf("ZINC OXIDE (NANO)", EU)) == 0 {
		t.Error("no limit for the nano form of zinc oxide")
	}
}

func TestCarries(t *testing.T) {
	for _, c := range []struct{ oil, constituent formula.Key }{
		{"OCIMUM BASILICUM OIL", "METHYL EUGENOL"}, {"MYRISTICA FRAGRANS KERNEL OIL", "SAFROLE"},
		{"ARTEMISIA DRACUNCULUS OIL", "ESTRAGOLE"}, {"SALVIA OFFICINALIS OIL", "THUJONE"},
		{"CYMBOPOGON FLEXUOSUS OIL", "CITRAL"}, {"GAULTHERIA PROCUMBENS LEAF OIL", "METHYL SALICYLATE"},
	} {
		i := slices.IndexFunc(Carries(c.oil), func(k Carrier) bool { return k.Constituent == c.constituent })
		if i < 0 {
			t.Errorf("%s does not carry %s", c.oil, c.constituent)
		}
	}
	// Lemongrass, essential-oil table: citral 65 to 85 %.
	for _, k := range Carries("CYMBOPOGON FLEXUOSUS OIL") {
		if k.Constituent == "CITRAL" && (!k.HasLow || k.Low.String() != "0.65" || k.High.String() != "0.85" || k.Rule != "Annex III 70") {
			t.Errorf("lemongrass: %+v", k)
		}
	}
	if Carries("AQUA") != nil {
		t.Error("water carries something")
	}
	for _, r := range readTable(carriersText).rows {
		if _, ok := Find(r.get("oil")); !ok {
			t.Errorf("%s is not in the inventory", r.get("oil"))
		}
		k := formula.Key(r.get("constituent"))
		switch r.get("rule") {
		case "", "Hotlist":
		default:
			if len(LimitsOf(k, EU)) == 0 && len(Prohibited(k, EU)) == 0 {
				t.Errorf("%s has no rule %s", k, r.get("rule"))
			}
		}
	}
}
