package label

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// The fixtures build materials, pieces and products in a line each. Workshops,
// sheets and recipes are invented; only substances and rules are real.

// pure is a material of one substance.
func pure(name string, k formula.Key, class string) *formula.Material {
	return blend(name, class, whole(k))
}

// of is a pure material named after its substance.
func of(k formula.Key) *formula.Material { return pure(strings.ToLower(string(k)), k, "base") }

// water is a material that dries off.
func water() *formula.Material {
	m := of("AQUA")
	m.Parts[0].Dries = formula.Water
	return m
}

// blend is a material of several parts.
func blend(name, class string, parts ...formula.Part) *formula.Material {
	return &formula.Material{Name: name, Parts: parts, Info: &Sheet{Class: class}}
}

func whole(k formula.Key) formula.Part { return part(k, "100") }

// part reads a share of a blend in per cent: "60" or "50-62".
func part(k formula.Key, percents string) formula.Part {
	return formula.Part{Key: k, Range: span(percents)}
}

func span(percents string) formula.Interval {
	lo, hi, ranged := strings.Cut(percents, "-")
	if !ranged {
		hi = lo
	}
	return formula.Interval{Lo: percent(lo), Hi: percent(hi)}
}

func percent(s string) exact.Rat { return exact.Must(s).Quo(hundred) }

// fragrance is a scent whose sheet answers the whole list, with allergens
// written "LINALOOL 4.2" or "COUMARIN 0.5-1.2", in per cent of the scent.
func fragrance(name string, allergens ...string) *formula.Material {
	return scented(pure(name, parfum, "fragrance"), allergens...)
}

// essential is an essential oil with a sheet that answers the whole list.
func essential(k formula.Key, allergens ...string) *formula.Material {
	return scented(pure(strings.ToLower(string(k)), k, "essential-oil"), allergens...)
}

func scented(m *formula.Material, allergens ...string) *formula.Material {
	m.Info.(*Sheet).Covers = []inci.List{inci.EU81}
	for _, a := range allergens {
		i := strings.LastIndex(a, " ")
		r := span(a[i+1:])
		m.Constituents = append(m.Constituents, formula.Constituent{Key: formula.Key(a[:i]), Range: r,
			Typical: r.Lo.Add(r.Hi).Quo(exact.Int(2)), Text: inci.Readable(a[:i]) + ": " + a[i+1:] + " %"})
	}
	return m
}

// with changes what the maker knows of a material.
func with(m *formula.Material, change func(*Sheet)) *formula.Material {
	change(m.Info.(*Sheet))
	return m
}

// weigh is a line of so many grams of a material or a formula.
func weigh(what any, g string) formula.Line {
	l := formula.Line{Text: g + " g", Amount: formula.Amount{Value: exact.Must(g)}}
	switch w := what.(type) {
	case *formula.Material:
		l.Material = w
	case *formula.Formula:
		l.Formula = w
	}
	return l
}

// mix is a formula; dries is what it loses of its water, in per cent.
func mix(name, dries string, lines ...formula.Line) *formula.Formula {
	f := &formula.Formula{Name: name, Lines: lines}
	if dries != "" {
		f.Dries.Water = span(dries)
	}
	return f
}

// rinseOff is a product whose pack is complete in every market.
func rinseOff(lines ...formula.Line) *Product {
	p := &Product{Name: "hay fizz", Type: "bath fizz", Exposure: RinseOff, Piece: formula.Piece{Name: "hay fizz", Lines: lines},
		Identity: Wording{"en": "Bath fizz", "de": "Badekugel", "fr": "Bombe de bain"},
		Keeps:    Durability{Keeps: 24}, Net: net("50"), Lot: "0614",
		MadeIn: Wording{"en": "Made in Germany", "fr": "Fabriqué en Allemagne", "de": "Hergestellt in Deutschland"}}
	for _, m := range inci.Markets {
		p.Packs = append(p.Packs, Pack{For: []inci.Market{m}})
	}
	return p
}

func leaveOn(lines ...formula.Line) *Product {
	p := rinseOff(lines...)
	p.Type, p.Exposure = "body balm", LeaveOn
	return p
}

func net(g string) market.Quantity {
	return market.Quantity{Amount: exact.Must(g), Text: g + " g", Unit: "g"}
}

// workshop sells everywhere from Germany, with a person in every market.
func workshop() *Workshop {
	w := &Workshop{Name: "Fernhollow Bath Works", Country: "DE", SellIn: inci.Markets, Countries: []string{"DE"}, Responsible: map[inci.Market]Responsible{}}
	for m, c := range map[inci.Market]string{inci.US: "US", inci.EU: "DE", inci.GB: "GB", inci.NI: "NI", inci.CA: "CA"} {
		w.Responsible[m] = Responsible{Name: "Fernhollow", Address: []string{"4 Mill Lane", "Exampleton"}, Contact: "hello@fernhollow.example", Country: c}
	}
	return w
}

// fresh is a pack first supplied on the day it is judged.
func fresh(day string) date.Occasion { return stock(day, day) }

// stock is a pack supplied on one day and judged on another.
func stock(placed, on string) date.Occasion {
	p, err := date.Parse(placed)
	if err != nil {
		panic(err)
	}
	o, err := date.Parse(on)
	if err != nil {
		panic(err)
	}
	return date.Occasion{Placed: p, On: o}
}

var today = fresh("2026-11-25")

func declareIn(m inci.Market, p *Product, o date.Occasion) *Declaration {
	return NewDesk(workshop()).Declare(p, []inci.Market{m}, o)[0]
}

func declareAll(p *Product, ms ...inci.Market) []*Declaration {
	return NewDesk(workshop()).Declare(p, ms, today)
}

// wantList compares the printed list.
func wantList(t *testing.T, x *Declaration, want string) {
	t.Helper()
	if got := x.Text(); got != want {
		t.Errorf("%s:\n got %s\nwant %s", x.Market, got, want)
	}
}

// marks returns how the place of every name was decided.
func marks(x *Declaration) string {
	var out []string
	for _, e := range x.Entries {
		out = append(out, string(e.Order))
	}
	return strings.Join(out, " ")
}

// found returns the findings of a rule.
func found(l finding.List, rule finding.Code) finding.List {
	return slices.DeleteFunc(slices.Clone(l), func(f finding.Finding) bool { return f.Rule != rule })
}

// grave returns the rules of the errors and questions, sorted, once each.
func grave(x *Declaration) string {
	var out []string
	for _, f := range x.Findings {
		if s := fmt.Sprintf("%s %s", f.Severity, f.Rule); f.Severity >= finding.Question && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	slices.Sort(out)
	return strings.Join(out, "; ")
}

// declared returns the names of the allergens to be named.
func declared(x *Declaration) string {
	var out []string
	for _, r := range x.Allergens {
		if r.Declared {
			out = append(out, r.Entry.Name)
		}
	}
	return strings.Join(out, ", ")
}

func allergen(t *testing.T, x *Declaration, entry string) AllergenRow {
	t.Helper()
	for _, r := range x.Allergens {
		if r.Entry.Name == entry {
			return r
		}
	}
	t.Fatalf("%s: no row for %s", x.Market, entry)
	return AllergenRow{}
}

func entry(t *testing.T, x *Declaration, name string) Entry {
	t.Helper()
	for _, e := range x.Entries {
		if e.Name == name {
			return e
		}
	}
	t.Fatalf("%s: %q is not in %s", x.Market, name, x.Text())
	return Entry{}
}
