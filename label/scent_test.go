package label

import (
	"strings"
	"testing"

	"panelwright/formula/finding"
	"panelwright/inci"
)

const (
	lavender = "LAVANDULA ANGUSTIFOLIA OIL"
	lavandin = "LAVANDULA HYBRIDA OIL"
)

// S9 and Art. 19(1)(g): perfuming materials are one word, unless an entry of
// Annex III names the oil.
func TestScentIsOneName(t *testing.T) {
	base := of("SODIUM BICARBONATE")
	t.Run("two fragrance oils and an essential oil", func(t *testing.T) {
		p := rinseOff(weigh(base, "97"), weigh(fragrance("hay"), "1.5"), weigh(fragrance("plum"), "1"), weigh(essential("CEDRUS DEODARA WOOD OIL"), "0.5"))
		for m, want := range map[inci.Market]string{inci.EU: "Sodium Bicarbonate, Parfum", inci.GB: "Sodium Bicarbonate, Parfum",
			inci.NI: "Sodium Bicarbonate, Parfum", inci.CA: "Sodium Bicarbonate, Parfum", inci.US: "Sodium Bicarbonate, Fragrance"} {
			x := declareIn(m, p, today)
			wantList(t, x, want)
			if got := Show(x.Entries[1].Share).Typical; got != "3.00" || x.Entries[1].Kind != Fragrance {
				t.Errorf("%s: scent %s %%, a %s", m, got, x.Entries[1].Kind)
			}
		}
	})
	t.Run("Canada puts parfum at the end (s. 21.4(3))", func(t *testing.T) {
		p := rinseOff(weigh(base, "95"), weigh(fragrance("hay"), "3"), weigh(of("GLYCERIN"), "1.5"), weigh(of("CI 77891"), "0.5"))
		wantList(t, declareIn(inci.CA, p, today), "Sodium Bicarbonate, Glycerin, CI 77891, Parfum")
		wantList(t, declareIn(inci.EU, p, today), "Sodium Bicarbonate, Parfum, Glycerin, CI 77891")
	})
}

// Annex III entries 360 and 351, since 2026-08-01: the collective name is
// printed, the members are added up.
func TestOilsThatAreEntries(t *testing.T) {
	base := of("SODIUM BICARBONATE")
	t.Run("lavender leaves the parfum with its mass", func(t *testing.T) {
		p := rinseOff(weigh(base, "97"), weigh(essential(lavender), "2"), weigh(fragrance("hay"), "1"))
		x := declareIn(inci.EU, p, today)
		wantList(t, x, "Sodium Bicarbonate, Lavandula Oil/Extract, Parfum")
		if a, b := shareOf(t, x, "Lavandula Oil/Extract"), shareOf(t, x, "Parfum"); a != "2.00" || b != "1.00" {
			t.Errorf("lavender %s %%, parfum %s %%", a, b)
		}
		for name, y := range map[string]*Declaration{
			"before the date":  declareIn(inci.EU, p, fresh("2026-07-31")),
			"in Great Britain": declareIn(inci.GB, p, today),
		} {
			wantList(t, y, "Sodium Bicarbonate, Parfum")
			if got := shareOf(t, y, "Parfum"); got != "3.00" {
				t.Errorf("%s: parfum %s %%", name, got)
			}
		}
		wantList(t, declareIn(inci.US, p, today), "Sodium Bicarbonate, Fragrance")
	})
	t.Run("lavender alone leaves no parfum", func(t *testing.T) {
		wantList(t, declareIn(inci.EU, rinseOff(weigh(base, "98"), weigh(essential(lavender), "2")), today), "Sodium Bicarbonate, Lavandula Oil/Extract")
	})
	t.Run("lavender plus lavandin, each below the threshold", func(t *testing.T) {
		x := declareIn(inci.EU, rinseOff(weigh(base, "99.988"), weigh(essential(lavender), "0.006"), weigh(essential(lavandin), "0.006")), today)
		wantList(t, x, "Sodium Bicarbonate, Lavandula Oil/Extract")
		if r := allergen(t, x, "Lavandula Oil/Extract"); r.Greatest() != "0.0120" || !r.Declared {
			t.Errorf("%s, declared %v", r.Greatest(), r.Declared)
		}
		alone := declareIn(inci.EU, rinseOff(weigh(base, "99.994"), weigh(essential(lavender), "0.006")), today)
		wantList(t, alone, "Sodium Bicarbonate, Parfum")
	})
	t.Run("sweet plus bitter orange peel", func(t *testing.T) {
		x := declareIn(inci.EU, leaveOn(weigh(base, "99.9988"), weigh(essential("CITRUS AURANTIUM DULCIS PEEL OIL"), "0.0007"), weigh(essential("CITRUS AURANTIUM AMARA PEEL OIL"), "0.0005")), today)
		wantList(t, x, "Sodium Bicarbonate, Citrus Aurantium Peel Oil")
	})
	t.Run("an oil inside a fragrance blend is a constituent", func(t *testing.T) {
		x := declareIn(inci.EU, rinseOff(weigh(base, "97"), weigh(fragrance("meadow", lavender+" 10"), "3")), today)
		wantList(t, x, "Sodium Bicarbonate, Parfum, Lavandula Oil/Extract")
		if a, b := shareOf(t, x, "Parfum"), shareOf(t, x, "Lavandula Oil/Extract"); a != "3.00" || b != "0.300" {
			t.Errorf("parfum %s %%, of which lavender %s %%", a, b)
		}
	})
	t.Run("an oil by itself and inside a blend is one entry at its direct mass", func(t *testing.T) {
		x := declareIn(inci.EU, rinseOff(weigh(base, "96"), weigh(fragrance("meadow", lavender+" 10"), "3"), weigh(essential(lavender), "1")), today)
		wantList(t, x, "Sodium Bicarbonate, Parfum, Lavandula Oil/Extract")
		if a, b := shareOf(t, x, "Lavandula Oil/Extract"), allergen(t, x, "Lavandula Oil/Extract"); a != "1.00" || Show(b.Share).Typical != "1.30" {
			t.Errorf("placed by %s %%, judged on %s %%", a, Show(b.Share).Typical)
		}
	})
	t.Run("oils without a collective name are printed each by its own (entry 364)", func(t *testing.T) {
		x := declareIn(inci.EU, rinseOff(weigh(base, "97"), weigh(essential("PELARGONIUM GRAVEOLENS FLOWER OIL"), "1"),
			weigh(fragrance("hay", "PELARGONIUM GRAVEOLENS LEAF OIL 5"), "2")), today)
		wantList(t, x, "Sodium Bicarbonate, Parfum, Pelargonium Graveolens Flower Oil, Pelargonium Graveolens Leaf Oil")
	})
}

// S7: a stated total covers its members; the greater of the two counts.
func TestStatedTotalsAndMembers(t *testing.T) {
	for _, c := range []struct {
		name      string
		allergens []string
		want      string // per cent of the piece, 1 % of scent
	}{
		{"members alone are added up", []string{"GERANIAL 3", "NERAL 2"}, "0.0500"},
		{"a stated citral alone", []string{"CITRAL 4"}, "0.0400"},
		{"members above the stated citral", []string{"CITRAL 4", "GERANIAL 3", "NERAL 2"}, "0.0500"},
		{"a stated citral above the members", []string{"CITRAL 6", "GERANIAL 3", "NERAL 2"}, "0.0600"},
	} {
		x := declareIn(inci.EU, rinseOff(weigh(of("SODIUM BICARBONATE"), "99"), weigh(fragrance("lemon", c.allergens...), "1")), today)
		wantList(t, x, "Sodium Bicarbonate, Parfum, Citral")
		if got := allergen(t, x, "Citral").Greatest(); got != c.want {
			t.Errorf("%s: %s %%, want %s", c.name, got, c.want)
		}
	}
	t.Run("across materials", func(t *testing.T) {
		x := declareIn(inci.EU, rinseOff(weigh(of("SODIUM BICARBONATE"), "98"), weigh(fragrance("lemon", "CITRAL 6", "GERANIAL 3"), "1"), weigh(fragrance("rose", "NERAL 1"), "1")), today)
		if got := allergen(t, x, "Citral").Greatest(); got != "0.0700" {
			t.Errorf("%s %%, want 0.0700", got)
		}
	})
}

// S9: threshold on the total, place by the direct mass, one entry.
func TestAllergensAddedForThemselves(t *testing.T) {
	base := of("SODIUM BICARBONATE")
	t.Run("benzyl alcohol as preservative and in the scent", func(t *testing.T) {
		p := rinseOff(weigh(base, "97.995"), weigh(pure("benzyl alcohol", "BENZYL ALCOHOL", "preservative"), "0.005"), weigh(fragrance("hay", "BENZYL ALCOHOL 0.4"), "2"))
		x := declareIn(inci.EU, p, today)
		wantList(t, x, "Sodium Bicarbonate, Parfum, Benzyl Alcohol")
		if got := Show(entry(t, x, "Benzyl Alcohol").Share).Typical; got != "0.00500" {
			t.Errorf("placed by %s %%, want its direct 0.005", got)
		}
		if r := allergen(t, x, "Benzyl Alcohol"); r.Greatest() != "0.0130" || !r.Declared { // 0.005 + 2 x 0.4 %
			t.Errorf("judged on %s %%", r.Greatest())
		}
	})
	t.Run("below the threshold it is an ingredient all the same", func(t *testing.T) {
		x := declareIn(inci.EU, rinseOff(weigh(base, "99.995"), weigh(pure("benzyl alcohol", "BENZYL ALCOHOL", "preservative"), "0.005")), today)
		wantList(t, x, "Sodium Bicarbonate, Benzyl Alcohol")
	})
	t.Run("menthol for cooling", func(t *testing.T) {
		p := rinseOff(weigh(base, "97"), weigh(pure("menthol", "MENTHOL", "additive"), "2"), weigh(fragrance("mint", "L-MENTHOL 20"), "1"))
		wantList(t, declareIn(inci.EU, p, today), "Sodium Bicarbonate, Menthol, Parfum")
		wantList(t, declareIn(inci.US, p, today), "Sodium Bicarbonate, Menthol, Fragrance")
		wantList(t, declareIn(inci.GB, p, today), "Sodium Bicarbonate, Menthol, Parfum")
	})
	t.Run("an aroma chemical bought pure stays in the parfum and is named", func(t *testing.T) {
		x := declareIn(inci.EU, rinseOff(weigh(base, "99"), weigh(fragrance("hay"), "0.5"), weigh(pure("linalool", "LINALOOL", "fragrance-constituent"), "0.5")), today)
		wantList(t, x, "Sodium Bicarbonate, Parfum, Linalool")
		if a, b := shareOf(t, x, "Parfum"), shareOf(t, x, "Linalool"); a != "1.00" || b != "0.500" {
			t.Errorf("parfum %s %%, linalool %s %%", a, b)
		}
	})
	t.Run("a scent sold in an allergen as solvent", func(t *testing.T) {
		m := scented(blend("hay in benzyl benzoate", "fragrance", part(parfum, "70"), part("BENZYL BENZOATE", "30")))
		x := declareIn(inci.EU, rinseOff(weigh(base, "98"), weigh(m, "2")), today)
		wantList(t, x, "Sodium Bicarbonate, Parfum, Benzyl Benzoate")
		if got := shareOf(t, x, "Parfum"); got != "2.00" {
			t.Errorf("parfum %s %%: the solvent of a scent is part of it", got)
		}
	})
	t.Run("the kind of an entry does not hang on the order of the lines", func(t *testing.T) {
		care := with(essential(lavandin), func(s *Sheet) { s.Class = "extract" })
		a := declareIn(inci.EU, rinseOff(weigh(base, "98"), weigh(care, "1"), weigh(essential(lavender), "1")), today)
		b := declareIn(inci.EU, rinseOff(weigh(base, "98"), weigh(essential(lavender), "1"), weigh(care, "1")), today)
		if x, y := entry(t, a, "Lavandula Oil/Extract"), entry(t, b, "Lavandula Oil/Extract"); x.Kind != y.Kind || x.Kind != Ingredient {
			t.Errorf("kinds %s and %s", x.Kind, y.Kind)
		}
	})
}

// EU: by-name needs another function or an Annex III entry (S9).
func TestDeclaredByName(t *testing.T) {
	base := of("SODIUM BICARBONATE")
	byName := func(k string, function string) *Declaration {
		m := with(essential("PLACEHOLDER"), func(s *Sheet) { s.ByName, s.Function = true, function })
		m.Parts[0].Key = "MELALEUCA ALTERNIFOLIA LEAF OIL"
		if k != "" {
			m.Parts[0].Key = lavender
		}
		return declareIn(inci.EU, rinseOff(weigh(base, "97"), weigh(m, "2"), weigh(fragrance("hay"), "1")), today)
	}
	for _, c := range []struct {
		name, key, function, list string
		asks                      bool
	}{
		{"no other function", "", "", "Sodium Bicarbonate, Melaleuca Alternifolia Leaf Oil, Parfum", true},
		{"another function", "", "skin conditioning", "Sodium Bicarbonate, Melaleuca Alternifolia Leaf Oil, Parfum", false},
		{"an entry of Annex III", lavender, "", "Sodium Bicarbonate, Lavandula Oil/Extract, Parfum", false},
	} {
		x := byName(c.key, c.function)
		wantList(t, x, c.list)
		f := found(x.Findings, "list.perfuming-oil")
		if (len(f) == 1 && f[0].Severity == finding.Question) != c.asks {
			t.Errorf("%s: %v", c.name, f)
		}
	}
	us := with(essential(lavender), func(s *Sheet) { s.ByName = true })
	x := declareIn(inci.US, rinseOff(weigh(base, "98"), weigh(us, "2")), today)
	wantList(t, x, "Sodium Bicarbonate, Lavandula Angustifolia (Lavender) Oil")
	if strings.Contains(grave(x), "perfuming") {
		t.Errorf("US: %s", grave(x))
	}
}
