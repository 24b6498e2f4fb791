package book

import (
	"strings"
	"testing"

	"panelwright/formula/date"
	"panelwright/formula/finding"
)

func TestWeights(t *testing.T) {
	b := load(t, shop+`product: hay bar
piece: {cocoa butter: 101 g}
weights:
  - {date: 2026-09-01, grams: 110.00}
  - {date: 2026-09-08, grams: "106,93"}
  - {grams: 1/8 kg, date: 2026-09-15}
---
product: pine bar
like: hay bar
`)
	got := b.Products[0].Weights
	if len(got) != 3 || got[0].Day != date.Of(2026, 9, 1) || got[0].Grams.String() != "110" || got[1].Grams.String() != "106.93" || got[2].Grams.String() != "125" {
		t.Errorf("%+v", got)
	}
	if got[1].Pos.String() != "book.yaml:8:5" {
		t.Errorf("place: %s", got[1].Pos)
	}
	if w := b.Products[1].Weights; w != nil {
		t.Errorf("another product takes over what this one weighed: %v", w)
	}
}

func TestWeightsRefused(t *testing.T) {
	for written, want := range map[string]string{
		"[{date: 2026-09-31, grams: 110}]":  "is not a day",
		"[{date: 2026-09-30, grams: -1}]":   "less than nothing",
		"[{date: 2026-09-30, grams: 5 ml}]": "is not the weight of a piece",
		"[{date: 2026-09-30}]":              "lacks its date or its grams",
		"[{grams: 110}]":                    "lacks its date or its grams",
		"[{day: 2026-09-30, grams: 110}]":   "is no key of a weighing",
		"[110, 109]":                        "a weighing is written as",
	} {
		_, out := LoadFiles([]File{{"book.yaml", []byte(shop + "product: x\npiece: {cocoa butter: 1 g}\nweights: " + written + "\n")}})
		all := strings.Join(lines(out), "\n")
		if out.Count(finding.Error) == 0 || !strings.Contains(all, want) {
			t.Errorf("%s: %q does not say %q", written, all, want)
		}
	}
}
