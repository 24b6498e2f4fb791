package inci

import (
	"strings"
	"testing"
)

// Figures of a two-core machine are in DEVELOPERS.md. What a command pays at its
// start is nothing; the first question of each kind reads its table.

func BenchmarkFind(b *testing.B) {
	b.ReportAllocs()
	names := []string{"sodium bicarbonate", "Caprylic/Capric Triglyceride", "Aqua", "zea mays starch", "not a name"}
	for i := 0; b.Loop(); i++ {
		Find(names[i%len(names)])
	}
}

// BenchmarkFirstLookup is the cost of the tables that almost every run needs:
// trade names, twins, names for two markets, allergens and colours, each read
// afresh.
func BenchmarkFirstLookup(b *testing.B) {
	for b.Loop() {
		for _, text := range []string{
			twinsText, tradeText, aliasesText, usNamesText, canadaNamesText, allergensText,
			membersText, synonymsText, coloursEUText, coloursUSText, sourcesText,
		} {
			for _, r := range readTable(text).rows {
				Fold(r.fields[0])
			}
		}
	}
}

func BenchmarkSuggest(b *testing.B) {
	everyName()
	for _, name := range []string{"lavendar oil", "Butyrospermum parki butter", "SODIUM LAUROYL METHYL ISETHIONATEE AND SOMETHING"} {
		b.Run(strings.ReplaceAll(name, " ", "_"), func(b *testing.B) {
			for b.Loop() {
				Suggest(name, 3)
			}
		})
	}
}

// BenchmarkEveryName is what the first Suggest or Search pays on top.
func BenchmarkEveryName(b *testing.B) {
	for b.Loop() {
		var buf []byte
		eachLine(func(at int) {
			from := len(buf)
			buf = appendFold(buf, nameAt(at))
			lettersOf(buf[from:])
		})
	}
}

func BenchmarkName(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Name("BUTYROSPERMUM PARKII BUTTER", US)
		Name("CI 77891", EU)
	}
}

func BenchmarkSearch(b *testing.B) {
	for b.Loop() {
		Search("lavender", 10)
	}
}
