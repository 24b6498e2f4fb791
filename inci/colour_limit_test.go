package inci

import (
	"slices"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/date"
)

// The inventory has names for hair dyes alone; what colours anything else goes by a number.
func TestHairDyeAsColour(t *testing.T) {
	for k, want := range map[formula.Key]bool{"BASIC RED 46": true, "ULTRAMARINES": true, "CI 77007": false, "MICA": false, "CI 16035": false} {
		if HairDye(k) != want {
			t.Errorf("%s is a hair dye alone: %v", k, !want)
		}
		for _, m := range Markets {
			limits := ColourLimits(k, m)
			asks := len(limits) == 1 && limits[0].Question && strings.Contains(limits[0].Conditions, "hair")
			if asks != (want && m != CA) {
				t.Errorf("%s in %s: %v", k, m, limits)
			}
		}
	}
}

func TestColourLimits(t *testing.T) {
	now := date.Of(2026, 11, 25)
	for _, c := range []struct {
		key    formula.Key
		m      Market
		scopes []Scope
		day    date.Date
		want   string // forbid, ask, a share, a condition, or none
	}{
		{"CI 77891", EU, []Scope{RinseOff, "bath", "skin"}, now, none},
		{"CI 10006", EU, []Scope{LeaveOn, "skin"}, now, forbid}, // Annex IV 1: rinse-off products
		{"CI 10006", EU, []Scope{RinseOff, "bath", "skin"}, now, none},
		{"CI 45100", GB, []Scope{LeaveOn, "skin"}, now, forbid},
		{"CI 10020", EU, []Scope{RinseOff, "mucous", "skin"}, now, forbid}, // Annex IV 2: not on mucous membranes
		{"CI 10020", EU, []Scope{RinseOff, "bath", "skin"}, now, ask},
		{"CI 10020", EU, []Scope{RinseOff, "hair"}, now, none},
		{"CI 12085", EU, []Scope{LeaveOn, "lip"}, now, "0.03"},       // Annex IV 9
		{"CI 42520", EU, []Scope{RinseOff, "bath"}, now, "0.000005"}, // Annex IV 67: 5 ppm
		{"CI 45396", EU, []Scope{LeaveOn, "lip"}, now, "0.01"},       // Annex IV 77: 1 % in lip products
		{"CI 45396", EU, []Scope{RinseOff, "bath"}, now, none},       //
		{"CI 77820", EU, []Scope{RinseOff, "soap-bar"}, now, forbid}, // Annex IV 142 since 2026-05-01
		{"CI 77820", EU, []Scope{RinseOff, "soap-bar"}, date.Of(2026, 4, 30), none},
		{"CI 77820", EU, []Scope{LeaveOn, "lip"}, now, "0.002"},
		{"CI 77820", GB, []Scope{RinseOff, "soap-bar"}, now, none},
		{"CI 12150", EU, []Scope{RinseOff}, now, forbid}, // in the inventory, not in Annex IV (notes, section 8)
		{"CI 45425", NI, []Scope{RinseOff}, now, forbid},
		{"MICA", EU, []Scope{RinseOff}, now, none},
		{"SODIUM BICARBONATE", EU, []Scope{RinseOff}, now, none},
		{"SODIUM BICARBONATE", US, []Scope{RinseOff}, now, none},
		{"MICA", US, []Scope{LeaveOn, "lip"}, now, none},       // generally incl. eye
		{"CI 77007", US, []Scope{LeaveOn, "lip"}, now, forbid}, // ultramarines: external incl. eye
		{"CI 77007", US, []Scope{RinseOff, "bath", "skin"}, now, none},
		{"CI 77289", US, []Scope{LeaveOn, "lip"}, now, forbid},       // chromium hydroxide green
		{"CI 77820", US, []Scope{RinseOff, "soap-bar"}, now, forbid}, // nail polish only
		{"CI 45100", US, []Scope{RinseOff}, now, forbid},             // not listed
		{"CI 59040", US, []Scope{RinseOff, "bath"}, now, "0.0001"},   // D&C Green No. 8: 0.01 %
		{"CI 12085", US, []Scope{LeaveOn, "lip"}, now, "0.03"},       // D&C Red No. 36
		{"CI 61565", US, []Scope{LeaveOn, "lip"}, now, forbid},       // D&C Green No. 6: external
		{"CI 99999", US, []Scope{RinseOff}, now, forbid},
		{"CI 77891", CA, []Scope{RinseOff}, now, none},
	} {
		got := ""
		rank := map[string]int{"": 0, "condition": 1, ask: 2, forbid: 4}
		for _, l := range ColourLimits(c.key, c.m) {
			if !l.Applies.Covers(c.scopes) || !l.Duty.Binds(date.Occasion{On: c.day, Placed: c.day}) {
				continue
			}
			if l.Source.Text == "" || l.Purpose != "colourant" || !slices.Contains(l.Keys, c.key) {
				t.Errorf("%s: %+v", c.key, l)
			}
			this := ""
			switch {
			case l.Forbidden:
				this = forbid
			case l.HasMax:
				this = l.Max.String()
			case l.Question:
				this = ask
			}
			r := func(s string) int {
				if n, ok := rank[s]; ok {
					return n
				}
				return 3
			}
			if r(this) > r(got) {
				got = this
			}
		}
		if got != c.want {
			t.Errorf("%s in %s for %v: %q, want %q", c.key, c.m, c.scopes, got, c.want)
		}
	}
	// Tartrazine: the dye, the lake and D&C names are certified (21 CFR 74.2705).
	if !slices.ContainsFunc(ColourLimits("CI 19140", US), func(l *Limit) bool { return strings.Contains(l.Conditions, "certified") }) {
		t.Error("nothing says that tartrazine must come from a certified batch")
	}
	if slices.ContainsFunc(ColourLimits("CI 77491", US), func(l *Limit) bool { return strings.Contains(l.Conditions, "certified") }) {
		t.Error("iron oxides are said to be certified")
	}
	// Every restriction of the lists is understood.
	for _, c := range colours() {
		if _, ok := areas()["Annex IV "+c.Restriction]; !ok && c.AnnexIV != "" && c.Restriction != "all" && c.Restriction != "other" {
			t.Errorf("%s: restriction %q", c.Key, c.Restriction)
		}
		for _, u := range c.US {
			if _, ok := areas()["21 CFR "+u.Uses]; !ok && u.Name != "" {
				t.Errorf("%s: uses %q", c.Key, u.Uses)
			}
		}
	}
}
