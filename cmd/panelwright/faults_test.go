package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestFaults checks the books of testdata/faults, in which every product has one
// deliberate fault, and of testdata/faults-us, whose fault is that of a workshop:
// check finds those that expected.txt lists, and no others.
// Lines of expected.txt that begin with # are notes; what a rule says several times
// of one place stands there once.
func TestFaults(t *testing.T) {
	for _, name := range []string{"faults", "faults-us"} {
		t.Run(name, func(t *testing.T) { checkFaults(t, "../../testdata/"+name) })
	}
}

func checkFaults(t *testing.T, dir string) {
	data, err := os.ReadFile(dir + "/expected.txt")
	if err != nil {
		t.Fatal(err)
	}
	var want []string
	for line := range strings.Lines(string(data)) {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#") {
			want = append(want, line)
		}
	}
	var stdout, stderr bytes.Buffer
	if code := run([]string{"check", dir, "--json"}, &stdout, &stderr, scriptDay); code != exitErrors {
		t.Fatalf("exit code %d: %s", code, stderr.String())
	}
	var found []struct{ Severity, Rule, Product, Market, Where string }
	if err := json.Unmarshal(stdout.Bytes(), &found); err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, f := range found {
		place := strings.Split(f.Where, ":")
		where := strings.Join(place[:min(2, len(place))], ":")
		got = append(got, strings.TrimRight(fmt.Sprintf("%-9s %-28s %-16s %-3s %s", f.Severity, f.Rule, f.Product, f.Market, where), " "))
	}
	slices.Sort(got)
	got = slices.Compact(got)
	slices.Sort(want)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("expected (-), found (+):\n%s", diff)
	}
}
