package market

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"panelwright/inci"
)

// The rungs that are read by the program are those that the table of required statements words for people.
func TestEscapes(t *testing.T) {
	for m, kinds := range statementEscapes() {
		for kind, all := range kinds {
			i := slices.IndexFunc(requirements()[m], func(q Requirement) bool { return q.Kind == kind })
			if i < 0 {
				t.Errorf("%s %s is not required", m, kind)
				continue
			}
			for _, e := range all {
				words := requirements()[m][i].Escape
				first, second, _ := strings.Cut(words, "; 2 ")
				if e.Rung == 2 {
					first = second
				}
				if !strings.Contains(first, e.To) {
					t.Errorf("%s %s rung %d: %q does not name the %s", m, kind, e.Rung, words, e.To)
				}
			}
		}
	}
	for m, all := range requirements() {
		for _, q := range all {
			if (q.Kind == "list" || q.Kind == "precautions") && (q.Escape == "none") != (len(For(m).Escapes(q.Kind)) == 0) {
				t.Errorf("%s %s: %q, and %d rungs", m, q.Kind, q.Escape, len(For(m).Escapes(q.Kind)))
			}
		}
	}
	for _, tt := range []struct {
		m    inci.Market
		kind string
		want string
	}{
		// Regulation (EC) No 1223/2009 Art. 19(2) and (3)
		{inci.EU, "list", "1 leaflet, 1 label, 1 tape, 1 tag, 1 card, 2 notice"},
		{inci.EU, "precautions", "1 leaflet, 1 label, 1 tape, 1 tag, 1 card"},
		{inci.US, "list", "1 tag, 1 tape, 1 card"}, // 21 CFR 701.3, as the reference has it
		{inci.US, "precautions", ""},
		{inci.CA, "list", "1 tag, 1 tape, 1 card, 1 website, 2 leaflet"}, // Cosmetic Regulations s. 21.5
		{inci.CA, "net", ""},
	} {
		var got []string
		for _, e := range For(tt.m).Escapes(tt.kind) {
			got = append(got, fmt.Sprintf("%d %s", e.Rung, e.To))
		}
		if s := strings.Join(got, ", "); s != tt.want {
			t.Errorf("%s %s: %s, want %s", tt.m, tt.kind, s, tt.want)
		}
	}
}
