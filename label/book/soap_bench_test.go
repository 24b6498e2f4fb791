package book

import (
	"fmt"
	"strings"
	"testing"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
)

// BenchmarkSoaps composes and declares 10,000 invented soaps, each of a recipe
// of its own, in one market. The aim is under 3 s; reading the book is apart.
func BenchmarkSoaps(b *testing.B) {
	files := []File{{"shop.yaml", []byte(shop)}}
	for part := range 10 {
		var text strings.Builder
		for i := range 1000 {
			n := part*1000 + i
			fmt.Fprintf(&text, "---\nformula: dough %d\nmix: [olive oil: %d g, coconut oil: 400 g, shea butter: 100 g]\n"+
				"saponify: {lye: sodium hydroxide, purity: 98-99 %%, superfat: 9 %%, water: 2 x lye, water left: 9-12 %%}\n"+
				"---\nproduct: bar %d\ntype: bar soap\nexposure: rinse-off\nidentity: Soap\npiece: [dough %d: 125 g]\nnet: 100 g\n", n, 1000+n, n, n)
		}
		files = append(files, File{fmt.Sprintf("soaps%d.yaml", part), []byte(text.String())})
	}
	bk, out := LoadFiles(files)
	if len(bk.Products) != 10_000 {
		b.Fatal(len(bk.Products), out.Count(finding.Error))
	}
	day := date.Of(2026, 11, 25)
	for b.Loop() {
		desk := label.NewDesk(&bk.Workshop)
		for _, p := range bk.Products {
			desk.Declare(p, []inci.Market{inci.US}, date.Occasion{On: day, Placed: day})
		}
	}
}
