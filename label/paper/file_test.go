package paper_test

import (
	"bytes"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/paper"
	"panelwright/label/record"
)

// The product file names the file that the figures of a sheet were read from, with
// its fingerprint. The workshop, the scent and the sheet are invented.
func TestProductFileFingerprint(t *testing.T) {
	sum := strings.Repeat("0f", 32)
	b, read := book.LoadFiles([]book.File{{Name: "b.yaml", Data: []byte(`workshop: Example Bath Works
sell in: [gb]
---
material: hay scent
class: fragrance
allergens: {Linalool: 4.2 %}
covers: eu-81
sheet: {ref: certificate 12, file: sheets/hay.pdf, fingerprint: ` + strings.ToUpper(sum) + `}
---
product: hay salt
type: bath salts
exposure: rinse-off
piece: {Epsom salt: 98 g, hay scent: 2 g}
net: 100 g
`)}})
	if read.Count(finding.Error) > 0 {
		t.Fatal(read)
	}
	day := date.Of(2026, 11, 25)
	p := b.Products[0]
	led, _ := record.NewLedger(nil)
	doc := paper.ProductFile(paper.FileInput{Workshop: &b.Workshop, Product: p, Ledger: led, Composer: &formula.Composer{}, On: day,
		Decls: label.NewDesk(&b.Workshop).Declare(p, p.SellIn, date.Occasion{On: day, Placed: day}), Missing: func(string) bool { return false }})
	var text bytes.Buffer
	if err := doc.Text(&text); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(text.String(), "sheets/hay.pdf") || !strings.Contains(text.String(), sum) {
		t.Errorf("no fingerprint in:\n%s", text.String())
	}
}
