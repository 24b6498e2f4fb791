package label

import (
	"strings"
	"testing"

	"panelwright/inci"
)

// Regulation (EU) 2023/1545: packs newly placed from 2026-08-01, all packs from
// 2028-08-01; market-timeline.csv rows EU, NI, GB (not adopted) and CA (its own
// dates: 2026-04-12 for the older entries, SOR/2024-63). The US has no list.
func TestDates(t *testing.T) {
	const sheet = "BENZYL ALCOHOL 5, D-LIMONENE 5, L-LIMONENE 0, LINALYL ACETATE 5, CIS-ISOEUGENOL 2, GERANIAL 5, L-CITRONELLOL 5"
	old := "Benzyl Alcohol, Citral, Citronellol, Isoeugenol, Limonene"
	wide := "Benzyl Alcohol, Citral, Citronellol, Isoeugenol, Limonene, Linalyl Acetate"
	for _, c := range []struct {
		placed, on string
		want       map[inci.Market]string
	}{
		{"2019-03-01", "2019-03-01", map[inci.Market]string{inci.EU: old, inci.NI: old, inci.GB: old, inci.CA: "", inci.US: ""}},
		{"2026-04-11", "2026-04-11", map[inci.Market]string{inci.EU: old, inci.NI: old, inci.GB: old, inci.CA: "", inci.US: ""}},
		{"2026-04-11", "2026-04-12", map[inci.Market]string{inci.CA: old}}, // all packs at once
		{"2026-04-12", "2026-04-12", map[inci.Market]string{inci.EU: old, inci.CA: old}},
		{"2026-07-31", "2026-07-31", map[inci.Market]string{inci.EU: old, inci.NI: old, inci.GB: old, inci.CA: old}},
		{"2026-08-01", "2026-08-01", map[inci.Market]string{inci.EU: wide, inci.NI: wide, inci.GB: old, inci.CA: wide, inci.US: ""}},
		{"2026-07-31", "2026-08-01", map[inci.Market]string{inci.EU: old, inci.NI: old, inci.GB: old, inci.CA: old}},
		{"2026-07-31", "2028-07-31", map[inci.Market]string{inci.EU: old, inci.NI: old, inci.GB: old, inci.CA: old}},
		{"2026-07-31", "2028-08-01", map[inci.Market]string{inci.EU: wide, inci.NI: wide, inci.GB: old, inci.CA: wide, inci.US: ""}},
		{"2031-01-01", "2031-01-01", map[inci.Market]string{inci.EU: wide, inci.GB: old}},
	} {
		scent := fragrance("hay", strings.Split(sheet, ", ")...)
		p := rinseOff(weigh(of("SODIUM BICARBONATE"), "99"), weigh(scent, "1"))
		for m, want := range c.want {
			if got := declared(declareIn(m, p, stock(c.placed, c.on))); got != want {
				t.Errorf("%s, placed %s, judged %s:\n got %s\nwant %s", m, c.placed, c.on, got, want)
			}
		}
	}
}

// Widened entries: the old scope is undated, the dates belong to the added
// members (S16; eu-annex-iii-fragrance-allergens.csv entries 88, 70, 73, 86: the
// latter three without a transition, so their members bind at once).
func TestWidenedEntries(t *testing.T) {
	for _, c := range []struct {
		member, name      string
		before, after, gb bool
	}{
		{"D-LIMONENE", "Limonene", true, true, true},
		{"LIMONENE", "Limonene", true, true, true},
		{"L-LIMONENE", "Limonene", false, true, true}, // in GB as the cautious reading
		{"DL-LIMONENE", "Limonene", false, true, true},
		{"CITRAL", "Citral", true, true, true},
		{"GERANIAL", "Citral", true, true, true},
		{"NERAL", "Citral", true, true, true},
		{"ISOEUGENOL", "Isoeugenol", true, true, true},
		{"CIS-ISOEUGENOL", "Isoeugenol", true, true, true},
		{"CITRONELLOL", "Citronellol", true, true, true},
		{"L-CITRONELLOL", "Citronellol", true, true, true},
		{"BENZYL ALCOHOL", "Benzyl Alcohol", true, true, true},
		{"LINALYL ACETATE", "Linalyl Acetate", false, true, false},
	} {
		p := rinseOff(weigh(of("SODIUM BICARBONATE"), "99"), weigh(fragrance("hay", c.member+" 2"), "1"))
		for _, d := range []struct {
			m    inci.Market
			day  string
			want bool
		}{{inci.EU, "2026-07-31", c.before}, {inci.EU, "2026-08-01", c.after}, {inci.GB, "2026-08-01", c.gb}} {
			x := declareIn(d.m, p, fresh(d.day))
			if got := declared(x) == c.name && strings.HasSuffix(x.Text(), ", "+c.name); got != d.want {
				t.Errorf("%s in %s on %s: %s", c.member, d.m, d.day, x.Text())
			}
		}
	}
	t.Run("old and added scope add up from the date", func(t *testing.T) {
		p := rinseOff(weigh(of("SODIUM BICARBONATE"), "99"), weigh(fragrance("hay", "D-LIMONENE 0.8", "L-LIMONENE 0.8"), "1"))
		if got := declared(declareIn(inci.EU, p, fresh("2026-07-31"))); got != "" {
			t.Errorf("before: %s", got)
		}
		if got := declared(declareIn(inci.EU, p, fresh("2026-08-01"))); got != "Limonene" {
			t.Errorf("after: %q", got)
		}
	})
}
