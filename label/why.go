package label

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/inci"
)

// Branch is a line of working and the lines it follows from.
type Branch struct {
	Text string
	Kids []Branch
}

// Lines draws the branch as a small tree, one string a line.
func (b Branch) Lines() []string {
	out := []string{b.Text}
	for i, k := range b.Kids {
		head, tail := "├─ ", "│  "
		if i == len(b.Kids)-1 {
			head, tail = "└─ ", "   "
		}
		for n, l := range k.Lines() {
			if n == 0 {
				out = append(out, head+l)
			} else {
				out = append(out, tail+l)
			}
		}
	}
	return out
}

// Why walks a name of the list, or a listed allergen that is not on it, back to
// the lines of the book, with the grams at every step. It finds names by their
// text, by a substance they stand for, or by a member of an allergen; ok is
// false if nothing matches. The figures are the typical ones; ranges follow in
// brackets where there are any.
func (d *Desk) Why(x *Declaration, name string) (b Branch, ok bool) {
	if x.Composition == nil {
		return Branch{}, false
	}
	for _, r := range x.Allergens {
		if matches(name, r.Entry.Name, allergenKeys(r.Entry)) {
			return d.whyAllergen(x, r), true
		}
	}
	for _, e := range x.Entries {
		if e.index >= 0 && matches(name, e.Name, e.Keys) {
			return d.whyEntry(x, e), true
		}
	}
	return Branch{}, false
}

func allergenKeys(a *inci.Allergen) []formula.Key {
	keys := []formula.Key{inci.GroupKey(a)}
	for _, m := range a.Members {
		keys = append(keys, m.Key)
	}
	return keys
}

func matches(name, text string, keys []formula.Key) bool {
	if strings.EqualFold(name, text) {
		return true
	}
	if slices.ContainsFunc(keys, func(k formula.Key) bool { return strings.EqualFold(name, string(k)) }) {
		return true
	}
	s, ok := inci.Find(name)
	return ok && slices.Contains(keys, s.Key)
}

func (d *Desk) whyEntry(x *Declaration, e Entry) Branch {
	basis := x.basis()
	mass := x.ordered.TypicalMass(basis)
	b := Branch{Text: fmt.Sprintf("%s in %s, %s: %s of %s g %s", e.Name, x.Product.Name, x.Market.Title(), shareText(e.Share), grams(mass), basisWords(basis))}
	b.Kids = append(b.Kids, Branch{Text: "place: " + placeWords(x, e)})
	for i := range x.ordered.Items {
		it := &x.ordered.Items[i]
		for p, n := range x.names.Owner[i] {
			if n != e.index {
				continue
			}
			typ, lo, hi := x.ordered.PartGrams(i, p, basis)
			text := fmt.Sprintf("%s g from %s g of %s", grams(typ), grams(it.Weight), it.Material.Name)
			switch {
			case it.Material.OwnWater(p):
				text += ": its water"
			case len(it.Material.Parts) > 1 || !typ.Equal(it.Weight):
				text += fmt.Sprintf(": %s", inci.Readable(string(it.Material.Parts[p].Key)))
			}
			if !lo.Equal(hi) {
				text += fmt.Sprintf(" (%s to %s g by the supplier's range)", grams(lo), grams(hi))
			}
			b.Kids = append(b.Kids, Branch{Text: text + place(it.Material), Kids: append(x.trail(it.Material), x.whySoap(it.Material, it.Material.Parts[p].Key)...)})
		}
	}
	return b
}

func (d *Desk) whyAllergen(x *Declaration, r AllergenRow) Branch {
	verdict := "not declared"
	if r.Declared {
		verdict = "declared"
	}
	// The typical share is of the typical mass, the greatest of the least.
	mass := grams(x.Composition.Mass(formula.Finished).Lo) + " g at the greatest drying"
	if typical := x.Composition.TypicalMass(formula.Finished); !typical.Equal(x.Composition.Mass(formula.Finished).Lo) {
		mass = grams(typical) + " g finished, " + mass
	}
	b := Branch{Text: fmt.Sprintf("%s in %s, %s: %s of %s; limit above %s %%: %s", r.Entry.Name, x.Product.Name, x.Market.Title(),
		limitText(r.Share, r.Threshold), mass, r.Threshold.Mul(hundred), verdict)}
	for _, f := range r.From {
		text := fmt.Sprintf("%s g from %s g of %s x %s", grams(f.Fraction.Typical.Mul(f.Weight)), grams(f.Weight), f.Material.Name, shareText(f.Fraction))
		if f.Estimated {
			text += ", estimated from published figures"
		}
		kid := Branch{Text: text + place(f.Material)}
		for _, c := range f.Material.Constituents {
			if slices.Contains(allergenKeys(r.Entry), c.Key) {
				line := c.Text
				if at := c.Pos.String(); at != "" {
					line += " [" + at + "]"
				}
				kid.Kids = append(kid.Kids, Branch{Text: line})
			}
		}
		kid.Kids = append(kid.Kids, x.trail(f.Material)...)
		b.Kids = append(b.Kids, kid)
	}
	return b
}

// trail shows the ways a material gets into the piece.
func (x *Declaration) trail(m *formula.Material) []Branch {
	var out []Branch
	ways, more := x.Composition.Trace(m)
	for _, way := range ways {
		var at *[]Branch = &out
		for _, s := range way {
			text := fmt.Sprintf("%s g: \"%s\" in %s", grams(s.Grams), s.Line.Text, s.Within)
			if s.Share.Sign() > 0 {
				text = fmt.Sprintf("%s g: \"%s\", %s %% of %s", grams(s.Grams), s.Line.Text, Percent(s.Share, 4, exact.Nearest), s.Within)
			}
			if p := s.Line.Pos.String(); p != "" {
				text += " [" + p + "]"
			}
			*at = append(*at, Branch{Text: text})
			at = &(*at)[len(*at)-1].Kids
		}
	}
	if more {
		out = append(out, Branch{Text: fmt.Sprintf("more ways than the %d above, which are not listed; the figure counts them all", len(ways))})
	}
	return out
}

func place(m *formula.Material) string {
	if p := m.Pos.String(); p != "" {
		return " [" + p + "]"
	}
	return ""
}

func placeWords(x *Declaration, e Entry) string {
	switch {
	case x.tail(e) == 2:
		return "at the end, where the market lets the scent stand"
	case x.tail(e) == 1:
		return "after all others, as a colourant"
	case e.Order == Free:
		return "free: inside the market's 1 % rule; sorted by share all the same"
	case e.Order == Typical:
		return "by the typical figures; the suppliers' ranges leave it open"
	}
	return "proven: it outweighs the next name whatever the ranges hide"
}

func basisWords(b formula.Basis) string {
	if b == formula.AsAdded {
		return "as weighed"
	}
	return "finished"
}

func shareText(s formula.Share) string {
	v := Show(s)
	if s.Min.Equal(s.Max) {
		return v.Typical + " %"
	}
	return fmt.Sprintf("%s %% (%s to %s %%)", v.Typical, v.Min, v.Max)
}

// limitText prints a share beside a threshold, with digits enough to tell them apart.
func limitText(s formula.Share, limit exact.Rat) string {
	if s.Min.Equal(s.Max) {
		return percentUp(s.Max, limit)
	}
	return fmt.Sprintf("%s (up to %s)", PercentBeside(s.Typical, limit, exact.Nearest), percentUp(s.Max, limit))
}

// grams prints a weight with three decimals, or six where it is below a gram,
// so that the sums can be followed to the last digit of the share.
func grams(x exact.Rat) string {
	if x.Sign() > 0 && x.Less(exact.Int(1)) {
		return x.Decimal(6, exact.Nearest).String()
	}
	return x.Decimal(3, exact.Nearest).String()
}
