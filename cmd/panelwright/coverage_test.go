package main

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/label"
)

const (
	coverageBegin = "<!-- the register of rules: go test ./cmd/panelwright -run Coverage -update -->\n"
	coverageEnd   = "<!-- end of the register -->"
)

// TestCoverage compares the coverage tables of the README with the register.
func TestCoverage(t *testing.T) {
	const path = "../../README.md"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	head, rest, ok1 := strings.Cut(string(data), coverageBegin)
	old, tail, ok2 := strings.Cut(rest, coverageEnd)
	if !ok1 || !ok2 {
		t.Fatalf("the README lacks the lines %q and %q", coverageBegin, coverageEnd)
	}
	if *update {
		if err := os.WriteFile(path, []byte(head+coverageBegin+coverage()+coverageEnd+tail), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(old, coverage()); diff != "" {
		t.Error("README (-), the register (+); go test ./cmd/panelwright -run Coverage -update writes it:\n" + diff)
	}
}

// coverage writes the register as two tables: what is gone through, group by
// group, and what is left.
func coverage() string {
	var b strings.Builder
	b.WriteString("\n| what | gone through | judged | in part | not |\n|---|---|---:|---:|---:|\n")
	for _, g := range label.RuleGroups() {
		n := map[label.RuleState]int{}
		for _, r := range label.Rules() {
			if r.Group == g.ID {
				n[r.State]++
			}
		}
		fmt.Fprintf(&b, "| %s | %s | %d | %d | %d |\n", g.Title, g.About, n[label.Judged], n[label.Partly], n[label.NotJudged])
	}
	for _, part := range []struct {
		state label.RuleState
		head  string
	}{{label.Partly, "judged in part"}, {label.NotJudged, "not judged"}} {
		fmt.Fprintf(&b, "\n| %s | markets | what is left, and why |\n|---|---|---|\n", part.head)
		for _, r := range label.Rules() {
			if r.State == part.state {
				fmt.Fprintf(&b, "| %s | %s | %s |\n", r.Title, codes(r.Markets), r.Because)
			}
		}
	}
	b.WriteString("\n")
	return b.String()
}
