package inci

import (
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/outside"
)

// closeTo reports whether a and b differ by less than one part in ten thousand.
func closeTo(a, b exact.Rat) bool {
	d := a.Sub(b)
	if d.Sign() < 0 {
		d = d.Neg()
	}
	return d.Less(b.Mul(exact.Must("0.0001")))
}

// Molar masses by the CIAAW weights of 2021 in full, as worked out for the table of soap chemistry.
func TestMolarMass(t *testing.T) {
	for text, want := range map[string]string{
		"NaOH": "39.99677", "KOH": "56.10530", "H2O": "18.01500", "CO2": "44.00900", "C3H8O3": "92.09400", "C6H8O7": "192.12300",
		"C6H8O7.H2O": "210.13800", "C6H5Na3O7": "258.06831", "C6H5K3O7": "306.39390", "NaHCO3": "84.00577", "KHCO3": "100.11430",
		"Na2CO3": "105.98754", "C3H6O3": "90.07800", "C3H5NaO3": "112.05977", "C2H4O2": "60.05200", "C2H3NaO2": "82.03377",
		"C4H6O6": "150.08600", "C4H5KO6": "188.17630", "NaCl": "58.43977", "MgSO4.7H2O": "246.46600", "C12H24O2": "200.32200",
		"C16H32O2": "256.43000", "C18H36O2": "284.48400", "C18H34O2": "282.46800", "C18H32O2": "280.45200", "C18H34O3": "298.46700",
		"C18H35NaO2": "306.46577", "C18H33NaO2": "304.44977", "C12H23KO2": "238.41230", "C27H50O6": "470.69100", "C39H74O6": "639.01500",
		"C57H110O6": "891.50100", "C57H104O6": "885.45300",
		"KAl(SO4)2.12H2O": "474.375", "2Na2CO3.3H2O2": "314.0157", "Ca(OH)2": "74.092", // sums of the same weights by hand
	} {
		if got, err := MolarMass(text); err != nil || !closeTo(got, exact.Must(want)) {
			t.Errorf("%s: %v, want %s (%v)", text, got, want, err)
		}
	}
	for _, text := range []string{"", "Xx", "H2O)", "(H2O", "h2o", "H2O.", "C 6", "()2", "H-2"} {
		if m, err := MolarMass(text); err == nil {
			t.Errorf("%q was read as %v", text, m)
		}
	}
}

// Factors of the notes to Annex V, section 7, to the four digits printed there.
func TestFactors(t *testing.T) {
	for _, c := range []struct {
		key   formula.Key
		entry string
		want  string
	}{
		{"SODIUM BENZOATE", "1(a)", "0.8475"}, {"POTASSIUM BENZOATE", "1a", "0.7623"}, {"CALCIUM BENZOATE", "1a", "0.8652"},
		{"POTASSIUM SORBATE", "4", "0.7464"}, {"SODIUM SORBATE", "4", "0.8361"}, {"CALCIUM SORBATE", "4", "0.8549"},
		{"METHYLPARABEN", "12 (mixtures)", "0.9078"}, {"SODIUM METHYLPARABEN", "12 (mixtures)", "0.7932"},
		{"ETHYLPARABEN", "12 (mixtures)", "0.8312"}, {"SODIUM ETHYLPARABEN", "12 (mixtures)", "0.7341"},
		{"PROPYLPARABEN", "12a (sum)", "0.7665"}, {"SODIUM PROPYLPARABEN", "12a (sum)", "0.6831"},
		{"BUTYLPARABEN", "12a (sum)", "0.7111"}, {"SODIUM BUTYLPARABEN", "12a (sum)", "0.6388"},
		{"SODIUM DEHYDROACETATE", "13", "0.8844"}, {"SODIUM SALICYLATE", "3 (salts)", "0.8627"},
		{"SODIUM PROPIONATE", "2", "0.7712"}, {"CALCIUM PROPIONATE", "2", "0.7956"}, {"SODIUM FORMATE", "14", "0.6768"},
		{"SODIUM SULFITE", "9", "0.5082"}, {"SODIUM BISULFITE", "9", "0.6156"}, {"SODIUM METABISULFITE", "9", "0.6740"},
		{"POTASSIUM METABISULFITE", "9", "0.5763"}, {"POTASSIUM SULFITE", "9", "0.4048"}, {"SODIUM O-PHENYLPHENATE", "7(a)", "0.8856"},
		{"BENZOIC ACID", "1(a)", "1"}, {"PHENOXYETHANOL", "29", "1"},
	} {
		found := false
		for _, l := range LimitsOf(c.key, EU) {
			if l.Entry != c.entry || l.Forbidden {
				continue
			}
			found = true
			f, ok := l.Factor(c.key)
			half := exact.Must("0.00006") // the last digit printed, and the shorter weight of potassium
			if d := f.Sub(exact.Must(c.want)); !ok || half.Less(d) || d.Less(half.Neg()) {
				t.Errorf("%s in entry %s: %v %v, want %s", c.key, c.entry, f.Decimal(6, exact.Nearest), ok, c.want)
			}
		}
		if !found {
			t.Errorf("%s: no entry %s", c.key, c.entry)
		}
	}
}

// What cannot be known is not guessed, and its bound is above every figure that could be meant.
func TestMost(t *testing.T) {
	for _, c := range []struct {
		key     formula.Key
		entry   string
		known   bool
		atLeast string // a real figure: the bound must not be below it
		atMost  string
	}{
		{"MICA", "381(e)", false, "0.2032", "0.28"},           // muscovite, KAl3Si3O10(OH)2: 20.3 % Al
		{"POTASSIUM ALUM", "381(e)", false, "0.0569", "0.11"}, // crystals 5.7 %, dried 10.4 %
		{"ILLITE", "381(e)", false, "0.209", "0.25"},          // kaolinite 20.9 %
		{"CI 77007", "381(e)", false, "0.16", "0.2"},          // ultramarine blue, Na7Al6Si6O24S3: about 17 %
		{"CI 19140", "381(e)", false, "0.1", "0.53"},          // a dye or its lake
		{"PUMICE", "381(e)", false, "0.08", "0.53"},           // about 15 % alumina
		{"ALUMINUM HYDROXIDE", "381(e)", true, "0.3459", "0.346"},
		{"PVP-HYDROGEN PEROXIDE", "12(b)", false, "0.2", "1"},
		{"ZINC ASPARTATE", "24(d)", false, "0.2", "1"},
		{"LITHIUM HYDROXIDE", "15b(c)", true, "1.66", "1.68"}, // 39.997/23.947
	} {
		i := -1
		limits := LimitsOf(c.key, EU)
		for j, l := range limits {
			if l.Entry == c.entry {
				i = j
			}
		}
		if i < 0 {
			t.Errorf("%s: no entry %s", c.key, c.entry)
			continue
		}
		_, ok := limits[i].Factor(c.key)
		if most := limits[i].Most(c.key); ok != c.known || most.Less(exact.Must(c.atLeast)) || exact.Must(c.atMost).Less(most) {
			t.Errorf("%s: known %v, most %v", c.key, ok, most.Decimal(5, exact.Nearest))
		}
	}
}

func TestMolarMassRows(t *testing.T) {
	forms := map[string]bool{}
	for _, r := range readTable(limitsText).rows {
		forms[r.get("form")] = true
	}
	for _, r := range readTable(molarMassesText).rows {
		if !forms[r.get("form")] {
			t.Errorf("%s: no limit is expressed as %q", r.get("key"), r.get("form"))
		}
		text := r.get("formula")
		if text == "" {
			if m := mostOf(r.get("most")); m.Sign() <= 0 || exact.Int(2).Less(m) {
				t.Errorf("%s as %s: bound %v", r.get("key"), r.get("form"), m)
			}
			continue
		}
		mass, err := MolarMass(text)
		if stated, _ := r.rat("mass"); err != nil || !stated.Equal(mass) {
			t.Errorf("%s %s: computed %v, the row says %v (%v)", r.get("key"), text, mass, stated, err)
		}
		if c := conversions()[conversion{Canonical(formula.Key(r.get("key"))), r.get("form")}]; c.factor.Sign() <= 0 || exact.Int(2).Less(c.factor) {
			t.Errorf("%s as %s: factor %v", r.get("key"), r.get("form"), c.factor)
		}
	}
}

// The formulas against an independent program of chemistry: the structure gives the same mass, and so does the
// structure of the form counted, where that is a substance with a row of its own.
func TestMolarMassesAgainstOpenBabel(t *testing.T) {
	outside.Tool(t, "obabel")
	var structures []string
	var rows []row
	for _, r := range readTable(molarMassesText).rows {
		switch s := r.get("smiles"); {
		case s != "":
			structures, rows = append(structures, s), append(rows, r)
		case r.get("formula") != "" && r.get("key") != "LITHIUM SULFIDE": // the abridged weight of lithium, 6.94, is coarser than the tolerance
			t.Errorf("%s: a formula without a structure to check it by", r.get("key"))
		}
	}
	out := outside.Run(t, "obabel", "-:"+strings.Join(structures, "\n"), "-otxt", "--append", "MW")
	lines := strings.Fields(out)
	if len(lines) != len(rows) || len(rows) < 120 {
		t.Fatalf("%d answers for %d structures", len(lines), len(rows))
	}
	theirs := map[formula.Key]exact.Rat{}
	for i, r := range rows {
		want, err := exact.Parse(lines[i])
		got, _ := MolarMass(r.get("formula"))
		if err != nil || !closeTo(got, want) {
			t.Errorf("%s %s: %v here, %s there (%v)", r.get("key"), r.get("formula"), got, lines[i], err)
		}
		theirs[formula.Key(r.get("key"))] = want
	}
	factors := 0
	for _, r := range rows {
		form, ok := theirs[formula.Key(strings.ToUpper(r.get("form")))]
		if !ok {
			continue
		}
		factors++
		count, _ := r.rat("count")
		want := form.Mul(count).Quo(theirs[formula.Key(r.get("key"))])
		if got := conversions()[conversion{formula.Key(r.get("key")), r.get("form")}].factor; !closeTo(got, want) {
			t.Errorf("%s as %s: %v here, %v there", r.get("key"), r.get("form"), got, want)
		}
	}
	if factors < 60 {
		t.Errorf("only %d factors compared", factors)
	}
}
