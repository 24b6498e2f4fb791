package market

import (
	"slices"
	"testing"

	"panelwright/inci"
)

func TestStatedUses(t *testing.T) {
	for _, c := range []struct {
		words, means      string
		has               inci.Scope
		category, leaveOn string
	}{
		{"spray", "spray", "inhalable", "", ""},
		{"Around the Eyes", "near the eyes", "eye", "3", ""},
		{"intimate use", "intimate", "mucous", "8", ""},
		{"for babies", "for children under 3", "children-under-10", "", "5D"},
		{"self-tan", "self-tanning", "self-tanning", "", ""},
		{"professional use only", "professional only", "professional", "", ""},
		{"on the face", "on the face", "face", "", "5B"},
		{"on the nappy area", "nappy area", "nappy-area", "", "5D"},
		{"for children from 3 to 10", "for children from 3 to 10", "children-under-10", "", ""}, // no baby
	} {
		u, ok := StatedUseOf(c.words)
		if !ok || u.Words != c.means || !slices.Contains(u.Scopes, c.has) || u.Category != c.category || u.LeaveOn != c.leaveOn {
			t.Errorf("%s: %+v, %v", c.words, u, ok)
		}
	}
	if u, ok := StatedUseOf("in the kitchen"); ok {
		t.Errorf("%+v", u)
	}
	// Who is six is not under three.
	if u, _ := StatedUseOf("for children from 6 to 10"); slices.Contains(u.Scopes, inci.ChildrenUnder3) {
		t.Errorf("%+v", u)
	}
	// Every scope that a maker states can be written, but for those with keys of their own.
	for _, s := range inci.Scopes() {
		if !s.Stated || slices.Contains([]inci.Scope{inci.RinseOff, inci.LeaveOn, "adults-only"}, s.Scope) {
			continue
		}
		if !slices.ContainsFunc(StatedUses(), func(u StatedUse) bool { return slices.Contains(u.Scopes, s.Scope) }) {
			t.Errorf("no words for %s", s.Scope)
		}
	}
}
