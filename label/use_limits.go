package label

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// judgeUseLimits compares the share of every scent with the supplier's highest
// use, one by one and together: the sum of share/limit may be one at most. A
// product of several uses is judged in the category of each.
func (x *Declaration) judgeUseLimits() {
	var cats []string // ids
	var unknown []string
	add := func(id string) {
		if !slices.Contains(cats, id) {
			cats = append(cats, id)
		}
	}
	for _, t := range x.Product.Types() {
		cat, known := inci.ProductCategory(t)
		if !known {
			unknown = append(unknown, t)
			continue
		}
		add(cat.ID)
	}
	for _, u := range x.Product.statedUses() {
		if u.Category != "" {
			add(u.Category)
		}
		if u.LeaveOn != "" && x.Product.Exposure != RinseOff { // unstated counts as leave-on
			add(u.LeaveOn)
		}
	}
	if len(unknown) > 0 && slices.ContainsFunc(x.Composition.Items, func(it formula.Item) bool { return bringsScent(it.Material) }) {
		x.add(finding.Finding{Rule: "scent.category", Severity: finding.Question, Where: x.Product.At("type"),
			Message: fmt.Sprintf("the type %q falls under no category of the fragrance-use standards that is known here, so the suppliers' highest uses for it were not judged", strings.Join(unknown, ", ")),
			Cure:    "use a plain type such as bath fizz, bath salts, soap, body balm or lip balm, or compare the certificates by hand and write answers:"})
	}
	x.judgeCategories(cats)
}

// judgeCategories compares every scent with the strictest of what its supplier
// allows in the categories of the product.
func (x *Declaration) judgeCategories(cats []string) {
	if len(cats) == 0 {
		return
	}
	whole := x.Composition.Mass(formula.Finished).Lo
	var sum exact.Rat
	var names []string
	for i := range x.Composition.Items {
		it := &x.Composition.Items[i]
		limit, ok := x.strictestUse(it.Material, cats)
		if !ok {
			continue
		}
		share := it.Weight.Mul(scentIn(it.Material)).Quo(whole)
		if !limit.Max.IsZero() {
			sum = sum.Add(share.Quo(limit.Max))
			names = append(names, it.Material.Name)
		}
		if limit.Max.Less(share) {
			what := it.Material.Name
			if !scentIn(it.Material).Equal(one) {
				what = "the scent in " + what
			}
			x.add(finding.Finding{Rule: "scent.use-limit", Severity: finding.Error, Where: firstPos(limit.Pos, it.Material.Pos),
				Message: fmt.Sprintf("%s is %s of the piece; its supplier allows %s %% at most for %s", what,
					PercentBeside(share, limit.Max, exact.Up), limit.Max.Mul(hundred), limit.Words),
				Cure: fmt.Sprintf("use at most %s g of %s in a piece", limit.Max.Mul(whole).Quo(scentIn(it.Material)).Decimal(2, exact.Down), it.Material.Name)})
		}
	}
	if len(names) > 1 && exact.Int(1).Less(sum) {
		x.add(finding.Finding{Rule: "scent.use-limit-together", Severity: finding.Error, Where: x.Product.Pos,
			Message: fmt.Sprintf("%s together reach %s %% of what their suppliers allow, share by share", strings.Join(names, " and "), Percent(sum, 1, exact.Up)),
			Cure:    "use less of one of them", Source: finding.Citation{Text: "additive use of fragrance mixtures", Seen: finding.Memory}})
	}
}

// strictestUse returns the lowest of the supplier's limits for a material in the
// categories of the product, and asks for those that its certificate leaves out.
func (x *Declaration) strictestUse(m *formula.Material, cats []string) (best UseLimit, ok bool) {
	for _, cat := range cats {
		limit, stated := sheet(m).limitFor(cat)
		switch {
		case !stated:
			x.judgeCertificate(m, cat)
		case !ok || limit.Max.Less(best.Max):
			best, ok = limit, true
		}
	}
	return best, ok
}

// scentIn returns how much of a material its highest use is about: all of a
// scent; of a bought base that holds some, the most scent that its ranges allow;
// and all of anything else.
func scentIn(m *formula.Material) exact.Rat {
	if sheet(m).Scents() {
		return one
	}
	var hi, rest exact.Rat
	for _, p := range m.Parts {
		if isScent(p.Key) {
			hi = hi.Add(p.Range.Hi)
		} else {
			rest = rest.Add(p.Range.Lo)
		}
	}
	if hi.IsZero() {
		return one
	}
	return exact.Min(hi, one.Sub(rest))
}

// isScent reports whether a part of a blend is a scent, or an oil that the law
// of fragrances names.
func isScent(k formula.Key) bool {
	return k == parfum || k == aroma || slices.ContainsFunc(allergenIndexes()[inci.EU][k], func(a *inci.Allergen) bool { return a.Oil })
}

var one = exact.Int(1)

// judgeCertificate asks for the supplier's highest use of a scent that states
// none for products of this category.
func (x *Declaration) judgeCertificate(m *formula.Material, cat string) {
	s := sheet(m)
	if !bringsScent(m) {
		return
	}
	what := "no certificate of highest use is written down for " + m.Name
	if len(s.Limits) > 0 {
		what = fmt.Sprintf("the certificate of %s states no highest use for category %s", m.Name, cat)
	}
	x.add(finding.Finding{Rule: "scent.certificate", Severity: finding.Warning, Where: firstPos(m.Pos, x.Product.Pos), Message: what,
		Cure: fmt.Sprintf("ask the supplier and write use limit: {%s: … %%} in the material", categoryWord(cat)), Source: practice})
}

// categoryWord is a plain word for a category of use, or its number.
func categoryWord(id string) string {
	for _, c := range inci.UseCategories() {
		if c.ID == id && c.Word != "" {
			return c.Word
		}
	}
	return id
}

// limitFor returns the lowest of the supplier's limits for a category.
func (s *Sheet) limitFor(category string) (UseLimit, bool) {
	var best UseLimit
	ok := false
	for _, l := range s.Limits {
		if l.Category == category && (!ok || l.Max.Less(best.Max)) {
			best, ok = l, true
		}
	}
	return best, ok
}
