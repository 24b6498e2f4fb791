package outside

import (
	"fmt"
	"path/filepath"
	"testing"
)

// verdict stands in for a test: it records how Tool ended it instead of ending it.
type verdict struct {
	testing.TB
	skipped, failed string
}

func (v *verdict) Helper()                        {}
func (v *verdict) Skipf(format string, a ...any)  { v.skipped = fmt.Sprintf(format, a...) }
func (v *verdict) Fatalf(format string, a ...any) { v.failed = fmt.Sprintf(format, a...) }

func TestTool(t *testing.T) {
	const missing = "no-program-of-this-name"
	for _, tt := range []struct {
		name, tool, allTools   string
		found, skipped, failed bool
	}{
		{name: "present", tool: "go", found: true},
		{name: "present and promised", tool: "go", allTools: "1", found: true},
		{name: "missing", tool: missing, skipped: true},
		{name: "missing though promised", tool: missing, allTools: "1", failed: true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Setenv(AllTools, tt.allTools)
			v := &verdict{TB: t}
			path := Tool(v, tt.tool)
			if got := filepath.Base(path) == tt.tool; got != tt.found {
				t.Errorf("found = %v (%q), want %v", got, path, tt.found)
			}
			// A failed test does not return from Fatalf, the stand-in does; only the first verdict counts.
			if (v.failed != "") != tt.failed {
				t.Errorf("failed with %q, want failure %v", v.failed, tt.failed)
			}
			if v.failed == "" && (v.skipped != "") != tt.skipped {
				t.Errorf("skipped with %q, want skip %v", v.skipped, tt.skipped)
			}
		})
	}
}
