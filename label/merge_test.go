package label

import (
	"testing"

	"panelwright/formula"
	"panelwright/inci"
)

func shareOf(t *testing.T, x *Declaration, name string) string {
	t.Helper()
	return Show(entry(t, x, name).Share).Typical
}

// S2: one weight for each material, one entry for each printed name.
func TestMerging(t *testing.T) {
	soda, starch := of("SODIUM BICARBONATE"), of("ZEA MAYS STARCH")
	cut := blend("green cut", "colourant", part("CI 77288", "40"), part("ZEA MAYS STARCH", "60"))
	blue := blend("blue cut", "colourant", part("CI 77007", "25"), part("ZEA MAYS STARCH", "75"))

	t.Run("starch of two cut colours and of the base", func(t *testing.T) {
		p := rinseOff(weigh(soda, "70"), weigh(starch, "20"), weigh(cut, "6"), weigh(blue, "4"))
		x := declareIn(inci.EU, p, today)
		wantList(t, x, "Sodium Bicarbonate, Zea Mays Starch, CI 77288, CI 77007")
		if got := shareOf(t, x, "Zea Mays Starch"); got != "26.60" { // 20 + 6 x 0.60 + 4 x 0.75
			t.Errorf("starch %s %%, want 26.60", got)
		}
	})
	t.Run("three nested formulas", func(t *testing.T) {
		inner := mix("inner", "", weigh(starch, "1"), weigh(cut, "1"))
		middle := mix("middle", "", weigh(inner, "1"), weigh(starch, "1"), weigh(soda, "2"))
		outer := mix("outer", "", weigh(middle, "1"), weigh(soda, "1"))
		x := declareIn(inci.EU, rinseOff(weigh(outer, "80"), weigh(inner, "20")), today)
		wantList(t, x, "Sodium Bicarbonate, Zea Mays Starch, CI 77288")
		// inner holds 0.8 starch; of the outer an eighth is inner and an eighth starch:
		// 80 x (1/8 x 0.8 + 1/8) + 20 x 0.8 = 34; green 80 x 1/8 x 0.2 + 20 x 0.2 = 6.
		if got := shareOf(t, x, "Zea Mays Starch"); got != "34.00" {
			t.Errorf("starch %s %%, want 34.00", got)
		}
		if got := shareOf(t, x, "CI 77288"); got != "6.00" {
			t.Errorf("green %s %%, want 6.00", got)
		}
	})
	t.Run("aqua of a solution and water", func(t *testing.T) {
		soap := blend("foamer", "surfactant", part("COCAMIDOPROPYL BETAINE", "30"), formula.Part{Key: "AQUA", Range: span("70"), Dries: formula.Water})
		x := declareIn(inci.EU, rinseOff(weigh(soap, "50"), weigh(water(), "10"), weigh(soda, "40")), today)
		wantList(t, x, "Aqua, Sodium Bicarbonate, Cocamidopropyl Betaine")
		if got := shareOf(t, x, "Aqua"); got != "45.00" {
			t.Errorf("aqua %s %%, want 45.00", got)
		}
	})
	t.Run("ranges of one blend met twice are one unknown", func(t *testing.T) {
		loose := blend("loose", "colourant", part("MICA", "40-60"), part("ZEA MAYS STARCH", "40-60"))
		a, b := mix("a", "", weigh(soda, "1"), weigh(loose, "1")), mix("b", "", weigh(starch, "1"), weigh(loose, "3"))
		x := declareIn(inci.EU, rinseOff(weigh(a, "40"), weigh(b, "60")), today)
		// 65 g of the blend in all: 15 g of starch beside 26 to 39 g.
		if got := Show(entry(t, x, "Zea Mays Starch").Share); got != (Shown{"41.00", "47.50", "54.00"}) {
			t.Errorf("starch %v", got)
		}
	})
	t.Run("iron oxides are one name in the US", func(t *testing.T) {
		p := rinseOff(weigh(soda, "95"), weigh(of("CI 77491"), "1"), weigh(of("CI 77492"), "1.5"), weigh(of("CI 77499"), "2.5"))
		wantList(t, declareIn(inci.EU, p, today), "Sodium Bicarbonate, CI 77499, CI 77492, CI 77491")
		us := declareIn(inci.US, p, today)
		wantList(t, us, "Sodium Bicarbonate, Iron Oxides")
		if e := entry(t, us, "Iron Oxides"); Show(e.Share).Typical != "5.00" || len(e.Keys) != 3 {
			t.Errorf("iron oxides: %s %% of %v", Show(e.Share).Typical, e.Keys)
		}
	})
}
