package inci

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
)

var (
	// Regulation (EU) 2023/1545, Article 2: placing to 2026-07-31, making available
	// to 2028-07-31.
	added = date.Duty{New: date.Of(2026, 8, 1), All: date.Of(2028, 8, 1)}
	// Cosmetic Regulations, C.R.C. c. 869, s. 21.4, in force 2026-04-12.
	canadaOld = date.Duty{New: date.Of(2026, 4, 12), All: date.Of(2026, 4, 12)}
)

func entry(t *testing.T, m Market, number string) *Allergen {
	t.Helper()
	for _, a := range Allergens(m) {
		if a.Entry == number {
			return a
		}
	}
	t.Fatalf("no entry %s in %s", number, m)
	return nil
}

func TestAllergenEntries(t *testing.T) {
	for _, m := range []Market{EU, GB, NI, CA} {
		names, keys := map[string]bool{}, map[formula.Key]bool{}
		for _, a := range Allergens(m) {
			if names[a.Name] || keys[GroupKey(a)] {
				t.Errorf("%s: entry %s repeats a name or key", m, a.Entry)
			}
			names[a.Name], keys[GroupKey(a)] = true, true
			// Annex III column h: 0.001 % in leave-on and 0.01 % in rinse-off products.
			if !a.LeaveOn.Equal(exact.Must("0.00001")) || !a.RinseOff.Equal(exact.Must("0.0001")) {
				t.Errorf("%s: entry %s: %v and %v", m, a.Entry, a.LeaveOn, a.RinseOff)
			}
			if len(a.Members) == 0 || a.Source.Text == "" || a.Prohibited {
				t.Errorf("%s: entry %s: %+v", m, a.Entry, a)
			}
			if shouts(a.Name) {
				t.Errorf("%s shouts", a.Name)
			}
			for _, b := range a.Members {
				if b.Name == "" || !a.Oil && len(b.CAS) == 0 {
					t.Errorf("%s: entry %s: %+v", m, a.Entry, b)
				}
				for _, cas := range b.CAS {
					if !slices.Contains(a.CAS, cas) {
						t.Errorf("%s: entry %s does not print %s", m, a.Entry, cas)
					}
				}
			}
		}
	}
}

func TestEveryMemberIsFound(t *testing.T) {
	for _, a := range slices.Concat(Allergens(EU), ProhibitedAllergens()) {
		if got, k, ok := FindAllergen(a.Name); !ok || got != a || k != GroupKey(a) {
			t.Errorf("%s: entry %v, key %s", a.Name, got, k)
		}
		if !slices.Contains(AllergenOf(GroupKey(a)), a) {
			t.Errorf("AllergenOf(%s) lacks entry %s", GroupKey(a), a.Entry)
		}
		for _, m := range a.Members {
			if got, k, ok := FindAllergen(string(m.Key)); !ok || got != a || k != m.Key {
				t.Errorf("%s: entry %+v, key %s", m.Key, got, k)
			}
			if got, _, ok := FindAllergen(m.Name); !ok || got != a {
				t.Errorf("%s: entry %+v", m.Name, got)
			}
			if of := AllergenOf(m.Key); !slices.Equal(of, []*Allergen{a}) {
				t.Errorf("AllergenOf(%s) = %v", m.Key, of)
			}
		}
	}
	for _, r := range readTable(synonymsText).rows {
		if a, k, ok := FindAllergen(r.get("synonym")); !ok || k != formula.Key(r.get("key")) {
			t.Errorf("%s: %v, %s", r.get("synonym"), a, k)
		}
	}
}

func TestFindAllergen(t *testing.T) {
	for _, c := range []struct{ in, entry, key string }{
		{"Linalool", "84", "LINALOOL"},
		{"linalol", "84", "LINALOOL"},
		{"78-70-6", "84", "LINALOOL"},
		{"Limonene", "88", "LIMONENE"},
		{"d-Limonene", "88", "D-LIMONENE"},
		{"5989-27-5", "88", "D-LIMONENE"},
		{"Dipentene", "88", "DL-LIMONENE"},
		{"Citral", "70", "CITRAL"},
		{"5392-40-5", "70", "CITRAL"},
		{"Geranial", "70", "GERANIAL"},
		{"Neral", "70", "NERAL"},
		{"α-Pinene", "371", "ALPHA-PINENE"},
		{"beta-pinene", "371", "BETA-PINENE"},
		{"Damascenone", "157", "ROSE KETONE-4"},
		{"delta-Damascone", "157", "ROSE KETONE-3"},
		{"Rose Ketones", "157", "ROSE KETONES"},
		{"Cinnamaldehyde", "76", "CINNAMAL"},
		{"Methyl heptine carbonate", "89", "METHYL 2-OCTYNOATE"},
		{"Acetyl Cedrene", "327", "ACETYLCEDRENE"},
		{"Dimethyl Phenethyl Acetate", "334", "DIMETHYLBENZYL CARBINYL ACETATE"},
		{"3-Propylidenephthalide", "175", "PROPYLIDENE PHTHALIDE"},
		{"Oakmoss extract", "91", "EVERNIA PRUNASTRI EXTRACT"},
		{"Lavandula Oil/Extract", "360", "LAVANDULA OIL/EXTRACT"},
		{"lavender oil", "360", "LAVANDULA ANGUSTIFOLIA OIL"},
		{"lavandin oil", "360", "LAVANDULA HYBRIDA OIL"},
		{"sweet orange oil", "351", "CITRUS AURANTIUM DULCIS PEEL OIL"},
		{"68916-04-1", "", ""}, // peel oil in entry 351, but flower oil in the inventory
		{"72968-50-4", "", ""}, // printed in entries 350 and 351
		{"84649-98-9", "", ""}, // cinnamon bark oil, but the leaf oil has it too
		{"8007-75-8", "", ""},  // bergamot peel oil in entry 352; the fruit oil has it too
		{"8006-81-3", "347", "CANANGA ODORATA OIL/EXTRACT"},
		{"cinnamon leaf oil", "", ""},
		{"fragrance oil", "", ""},
		{"sodium bicarbonate", "", ""}, {"", "", ""},
		{"HICC", "II/1380 (was III/79)", "HYDROXYISOHEXYL 3-CYCLOHEXENE CARBOXALDEHYDE"},
		{"80-54-6", "II/1666 (was III/83)", "BUTYLPHENYL METHYLPROPIONAL"},
	} {
		a, k, ok := FindAllergen(c.in)
		got := ""
		if ok {
			got = a.Entry
		}
		if got != c.entry || string(k) != c.key {
			t.Errorf("FindAllergen(%q) = %q, %q; want %q, %q", c.in, got, k, c.entry, c.key)
		}
	}
}

// Entries that Regulation (EU) 2023/1545 widened: the older duty has no date,
// only members that the regulation added have one, and only where the text gives
// a transition (entry 88; the consolidated text gives none for 70, 73 and 86).
func TestWidenedEntries(t *testing.T) {
	for _, c := range []struct {
		entry, member string
		added         bool
		eu, ca        date.Duty
	}{
		{"45", "BENZYL ALCOHOL", false, date.Duty{}, canadaOld},
		{"70", "GERANIAL", true, date.Duty{}, canadaOld},
		{"70", "NERAL", true, date.Duty{}, canadaOld},
		{"73", "TRANS-ISOEUGENOL", false, date.Duty{}, canadaOld},
		{"73", "CIS-ISOEUGENOL", true, date.Duty{}, canadaOld},
		{"86", "D-CITRONELLOL", true, date.Duty{}, canadaOld},
		{"88", "D-LIMONENE", false, date.Duty{}, canadaOld},
		{"88", "L-LIMONENE", true, added, added},
		{"88", "DL-LIMONENE", true, added, added},
		{"84", "LINALOOL", false, date.Duty{}, canadaOld},
		{"337", "LINALYL ACETATE", true, added, added},
		{"46", "6-METHYL COUMARIN", true, added, added},
		{"360", "LAVANDULA HYBRIDA OIL", true, added, added},
	} {
		for _, m := range []Market{EU, NI, CA} {
			a := entry(t, m, c.entry)
			i := slices.IndexFunc(a.Members, func(b Member) bool { return string(b.Key) == c.member })
			if i < 0 {
				t.Errorf("%s: entry %s lacks %s", m, c.entry, c.member)
				continue
			}
			want := c.eu
			if m == CA {
				want = c.ca
			}
			if b := a.Members[i]; b.Duty != want || b.Added != c.added {
				t.Errorf("%s: entry %s, %s: %v added %v, want %v", m, c.entry, c.member, b.Duty, b.Added, want)
			}
		}
	}
	old := 0
	for _, a := range Allergens(EU) {
		if a.Duty == (date.Duty{}) {
			old++
			if entry(t, GB, a.Entry).Duty != (date.Duty{}) || entry(t, CA, a.Entry).Duty != canadaOld {
				t.Errorf("entry %s: old here but not in GB or CA", a.Entry)
			}
		} else if a.Duty != added || a.In(CA).Duty != added || a.In(GB) != nil || a.In(US) != nil {
			t.Errorf("entry %s: %v", a.Entry, a.Duty)
		}
	}
	if old != 24 { // Regulation (EU) 2023/1545 recital 5
		t.Errorf("%d undated entries", old)
	}
	if !entry(t, CA, "337").Source.Unverified() || entry(t, CA, "84").Source.Unverified() {
		t.Error("Canada: the split of new packs and stock is second-hand, the older duty was read")
	}
}

func TestMembersInGreatBritain(t *testing.T) {
	for _, c := range []struct {
		entry string
		want  []string // cautious members marked ?
	}{
		{"70", []string{"GERANIAL?", "NERAL?"}}, // the GB entry prints 5392-40-5 only
		{"88", []string{"D-LIMONENE", "L-LIMONENE?", "DL-LIMONENE?"}},
		{"73", []string{"TRANS-ISOEUGENOL", "CIS-ISOEUGENOL?"}},
		{"84", []string{"LINALOOL"}},
	} {
		var got []string
		for _, m := range entry(t, GB, c.entry).Members {
			s := string(m.Key)
			if m.Cautious {
				s += "?"
			}
			if m.Added || m.Duty != (date.Duty{}) {
				t.Errorf("%s has a date or an addition in Great Britain", m.Key)
			}
			got = append(got, s)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("entry %s:\n%s", c.entry, diff)
		}
	}
}

func TestCollectiveNames(t *testing.T) {
	for _, c := range []struct {
		entry, name string
		oil, each   bool
		members     int
	}{
		{"70", "Citral", false, false, 2},
		{"109", "Pinus Mugo", true, false, 3},
		{"122", "Cedrus Atlantica Oil/Extract", true, false, 6},
		{"154", "Myroxylon Pereirae Oil/Extract", true, false, 5},
		{"157", "Rose Ketones", false, false, 8},
		{"347", "Cananga Odorata Oil/Extract", true, false, 2},
		{"351", "Citrus Aurantium Peel Oil", true, false, 3},
		{"354", "Lemongrass Oil", true, false, 3},
		{"358", "Juniperus Virginiana Oil", true, false, 2},
		{"360", "Lavandula Oil/Extract", true, false, 8},
		{"364", "Pelargonium Graveolens Oil", true, true, 3},
		{"365", "Pogostemon Cablin Oil", true, true, 2},
		{"366", "Rose Flower Oil/Extract", true, false, 10},
		{"371", "Pinene", false, false, 2},
		{"84", "Linalool", false, false, 1},
	} {
		a := entry(t, EU, c.entry)
		if a.Name != c.name || a.Oil != c.oil || a.EachByName != c.each || len(a.Members) != c.members {
			t.Errorf("entry %s: %q oil %v each %v, %d members", c.entry, a.Name, a.Oil, a.EachByName, len(a.Members))
		}
		// The figure of an entry in one material is the greater of the stated one
		// and the sum of the members: a chemical with isomers must not be its own.
		own := slices.ContainsFunc(a.Members, func(m Member) bool { return m.Key == GroupKey(a) })
		if own && !a.Oil && len(a.Members) > 1 {
			t.Errorf("entry %s counts %s among its own isomers", c.entry, GroupKey(a))
		}
	}
}

func TestEssentialOilsAreEntries(t *testing.T) {
	for key, want := range map[formula.Key]string{
		"LAVANDULA ANGUSTIFOLIA OIL": "360", "MENTHA PIPERITA OIL": "361", "CITRUS LIMON PEEL OIL": "353",
		"POGOSTEMON CABLIN LEAF OIL": "365", "PELARGONIUM GRAVEOLENS OIL": "364", "DELTA-DAMASCONE": "157",
		"L-BETA-PINENE": "371", "MELALEUCA ALTERNIFOLIA LEAF OIL": "", "SODIUM BICARBONATE": "", "PARFUM": "",
	} {
		var got []string
		for _, a := range AllergenOf(key) {
			got = append(got, a.Entry)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: entries %v, want %q", key, got, want)
		}
	}
}

func TestProhibitedAllergens(t *testing.T) {
	for _, a := range ProhibitedAllergens() {
		if !a.Prohibited || has(Allergens(EU), a.Entry) || a.Duty.All == 0 {
			t.Errorf("%+v", a)
		}
		if len(Prohibited(GroupKey(a), EU)) != 1 || len(Prohibited(GroupKey(a), GB)) != 1 {
			t.Errorf("%s is not among the bans", GroupKey(a))
		}
	}
}

func TestLists(t *testing.T) {
	for _, c := range []struct {
		list string
		n    int
	}{{"eu-81", 81}, {"EU 26", 26}, {"eu-24", 24}, {"gb", 24}} {
		l, ok := ListNamed(c.list)
		n := 0
		for _, a := range slices.Concat(Allergens(EU), ProhibitedAllergens()) {
			if l.Covers(a.Entry) {
				n++
			}
		}
		if !ok || n != c.n {
			t.Errorf("%s covers %d entries", c.list, n)
		}
		if l.Covers("999") || l.Covers("") {
			t.Errorf("%s covers an entry that does not exist", l)
		}
	}
	if _, ok := ListNamed("everything"); ok || len(Lists()) != 4 {
		t.Error("lists")
	}
	if List("made up").Covers("84") {
		t.Error("an unknown list covers something")
	}
	if EU26.Covers("337") || !EU81.Covers("337") || !EU26.Covers("84") {
		t.Error("linalyl acetate came with the long list")
	}
}

func TestEstimates(t *testing.T) {
	find := func(oil, constituent formula.Key) (Estimate, bool) {
		for _, e := range Estimates(oil) {
			if e.Constituent == constituent {
				return e, true
			}
		}
		return Estimate{}, false
	}
	// European Pharmacopoeia, lavender oil 1338: linalool 20-45 %.
	if e, ok := find("LAVANDULA ANGUSTIFOLIA OIL", "LINALOOL"); !ok || !e.HasLow || !e.HasHigh ||
		!e.Low.Equal(exact.Must("0.20")) || !e.High.Equal(exact.Must("0.45")) || !e.Source.Unverified() {
		t.Errorf("linalool in lavender: %+v", e)
	}
	if e, ok := find("LAVANDULA ANGUSTIFOLIA OIL", "GERANIOL"); !ok || e.HasLow || e.HasHigh {
		t.Errorf("geraniol is known in lavender, without a figure: %+v", e)
	}
	// British Pharmacopoeia spearmint oil: not less than 55 % carvone, no upper figure.
	if e, ok := find("MENTHA VIRIDIS LEAF OIL", "CARVONE"); !ok || !e.HasLow || e.HasHigh {
		t.Errorf("carvone in spearmint: %+v", e)
	}
	if Estimates("PELARGONIUM GRAVEOLENS OIL") == nil || Estimates("SODIUM BICARBONATE") != nil {
		t.Error("geranium oil has estimates, baking soda has none")
	}
	figures := 0
	for oil, all := range estimates() {
		if s, ok := Find(string(oil)); !ok || s.Key != oil {
			t.Errorf("%s is not in the inventory", oil)
		}
		for _, e := range all {
			if _, k, ok := FindAllergen(string(e.Constituent)); !ok || k != e.Constituent {
				t.Errorf("%s: constituent %s", oil, e.Constituent)
			}
			if e.HasLow && e.HasHigh {
				figures++
				if e.High.Less(e.Low) {
					t.Errorf("%s: %s from %v to %v", oil, e.Constituent, e.Low, e.High)
				}
			}
		}
	}
	if figures < 131 {
		t.Errorf("%d figures", figures)
	}
}
