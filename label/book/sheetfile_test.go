package book

import (
	"strings"
	"testing"

	"panelwright/formula/finding"
)

// A file that is no longer the one that was read is told once, with both
// fingerprints; one that is not there, or has not changed, is not.
func TestChangedSheets(t *testing.T) {
	sum := strings.Repeat("0f", 32)
	b, read := LoadFiles([]File{{Name: "b.yaml", Data: []byte(`workshop: Example Bath Works
sell in: [gb]
---
material: hay scent
class: fragrance
allergens: {Linalool: 4.2 %}
sheet: {file: sheets/hay.pdf, fingerprint: ` + sum + `}
sheets:
  - {from lot: B, file: sheets/later.pdf, fingerprint: ` + sum + `, allergens: {Linalool: 4.4 %}}
`)}})
	if read.Count(finding.Error) > 0 {
		t.Fatal(read)
	}
	other := strings.Repeat("1e", 32)
	for _, c := range []struct {
		name string
		of   map[string]string
		want []string
	}{
		{"as it was", map[string]string{"sheets/hay.pdf": sum, "sheets/later.pdf": sum}, nil},
		{"not there", nil, nil},
		{"the first", map[string]string{"sheets/hay.pdf": other}, []string{"sheets/hay.pdf"}},
		{"the later", map[string]string{"sheets/hay.pdf": sum, "sheets/later.pdf": other}, []string{"sheets/later.pdf"}},
	} {
		found := b.ChangedSheets(func(file string) string { return c.of[file] })
		if len(found) != len(c.want) {
			t.Errorf("%s: %v", c.name, found)
			continue
		}
		for i, f := range found {
			if f.Rule != "sheet.file-changed" || f.Severity != finding.Warning || !strings.Contains(f.Message, c.want[i]) || !strings.Contains(f.Message, other[:12]) {
				t.Errorf("%s: %s", c.name, f.Line())
			}
		}
	}
}
