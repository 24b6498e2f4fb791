package label

import (
	"strings"
	"testing"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// S14: several uses are judged each by itself, and one more where a stated use
// stands beside the others.
func TestKinds(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Product
		want int    // sets of scopes
		not  string // types not known
	}{
		{"one", Product{Type: "bath fizz"}, 1, ""},
		{"two", Product{Type: "bath oil, body oil"}, 2, ""},
		{"one that is sprayed", Product{Type: "body oil", Used: []string{"spray"}}, 1, ""},
		{"two, near the eyes too", Product{Type: "bath oil, body oil", Used: []string{"near the eyes"}}, 4, ""},
		{"one not known", Product{Type: "bath oil, knitted thing"}, 2, "knitted thing"},
	} {
		k, unknown := kindsOf(&c.p)
		if len(k) != c.want || strings.Join(unknown, ", ") != c.not {
			t.Errorf("%s: %v, not known %v", c.name, k, unknown)
		}
	}
	// A row that leaves lips out still covers the rest of what is for both.
	k, _ := kindsOf(&Product{Type: "lip balm, body balm"})
	if !k.in(&inci.AppliesTo{None: []inci.Scope{"lip"}}) || !k.in(&inci.AppliesTo{All: []inci.Scope{"lip"}}) {
		t.Error("a product for lips and body is both")
	}
	// Scopes of different uses do not add up to a use that it has not.
	k, _ = kindsOf(&Product{Type: "bath fizz, lip balm"})
	if k.in(&inci.AppliesTo{All: []inci.Scope{"bath", "lip"}}) {
		t.Error("nothing is a lip balm for the bath")
	}
}

// What stays on the face or on a baby falls under a category of its own; what is
// rinsed off them stays with its type (fragrance-use standards, 5B and 5D).
func TestCategoryOfAStatedUse(t *testing.T) {
	for _, c := range []struct {
		name     string
		exposure Exposure
		used     string
		children bool
		over     bool
	}{
		{"body balm", LeaveOn, "", false, false},
		{"on the face", LeaveOn, "on the face", false, true},
		{"on the face, rinsed off", RinseOff, "on the face", false, false},
		{"on the face, exposure not stated", Unstated, "on the face", false, true},
		{"on babies", LeaveOn, "for children under 3", false, true},
		{"on babies, rinsed off", RinseOff, "for children under 3", false, false},
		{"for children", LeaveOn, "", true, true},
		{"nappy area", LeaveOn, "nappy area", false, true},
		{"for older children", LeaveOn, "for children from 3 to 10", false, false},
	} {
		hay := with(fragrance("hay"), func(s *Sheet) {
			s.Limits = []UseLimit{{Category: "5A", Words: "5A", Max: percent("5")}, {Category: "5B", Words: "5B", Max: percent("0.5")}, {Category: "5D", Words: "5D", Max: percent("0.5")}}
		})
		p := leaveOn(weigh(of("BUTYROSPERMUM PARKII BUTTER"), "99"), weigh(hay, "1"))
		p.Type, p.Exposure, p.ForChildren = "body balm", c.exposure, c.children
		if c.used != "" {
			p.Used = []string{c.used}
		}
		if got := found(declareIn(inci.US, p, today).Findings, "scent.use-limit"); (len(got) == 1) != c.over {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// An answer judges no limit: what was left open for want of a known type stays a
// warning.
func TestAnswerLeavesTypeOpen(t *testing.T) {
	p := leaveOn(weigh(of("SALICYLIC ACID"), "0.1"), weigh(of("BUTYROSPERMUM PARKII BUTTER"), "99.9"))
	p.Type = "knitted thing"
	for _, answered := range []bool{false, true} {
		want := finding.Question
		if answered {
			p.Answers = []Answer{{Rule: "product.type", Reason: "looked up by hand", Date: date.Of(2026, 1, 1)}}
			want = finding.Warning
		}
		f := found(declareIn(inci.EU, p, today).Findings, "product.type")
		if len(f) != 1 || f[0].Severity != want || !strings.Contains(f[0].Message, "Salicylic Acid") {
			t.Errorf("answered %v: %v", answered, f)
		}
	}
}
