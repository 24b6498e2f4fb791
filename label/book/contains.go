package book

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

var whole = exact.Int(1)

// readContains reads the parts of a blend. Their ranges must be able to sum to
// 100 %: the lower ends may not pass it, the upper ends must reach it.
func (mp *materialPage) readContains(n *yaml.Node) {
	mp.m.Parts, mp.sheet.Unknown = nil, false
	rest := -1
	for _, e := range mp.entries(n, "contains", "write each part with its share, one per line, as in Mica: 50-62 %") {
		sh, ok := mp.quantityShare(e.v, "the share of "+e.key)
		if !ok {
			mp.t.torn = true
			continue
		}
		k, ok := mp.part(e)
		if !ok {
			mp.t.torn = true
			continue
		}
		if i := slices.IndexFunc(mp.m.Parts, func(q formula.Part) bool { return q.Key == k }); i >= 0 {
			mp.fail("book.repeated-name", e.k, fmt.Sprintf("“%s” is an ingredient that stands above under another name", clip(e.key)), "add the two shares up in one line")
			mp.t.torn = true
			continue
		}
		if sh.Rest {
			if rest >= 0 {
				mp.fail("book.rest", e.v, "“rest” stands twice", "leave one and give the other its share")
				mp.t.torn = true
				continue
			}
			rest = len(mp.m.Parts)
		}
		mp.noLimit(e, sh.NotDetected)
		mp.m.Parts = append(mp.m.Parts, formula.Part{Key: k, Range: formula.Interval{Lo: sh.Lo, Hi: sh.Hi},
			Exact: sh.Stated, Typical: sh.Typical, Dries: driesAs(k)})
	}
	if mp.t.torn || mp.torn[n] {
		mp.t.torn = true
		return
	}
	mp.fillUp(n, rest)
}

// part returns the key of one line of contains:. What a supplier does not
// disclose is an ingredient of its own, and keeps the material from being whole.
func (mp *materialPage) part(e entry) (formula.Key, bool) {
	switch strings.ToLower(strings.TrimSpace(e.key)) {
	case "undisclosed", "unknown", "not disclosed":
		mp.sheet.Unknown = true
		return formula.Key("UNDISCLOSED IN " + strings.ToUpper(mp.m.Name)), true
	}
	return mp.substance(e.k, e.key, mp.unlisted)
}

// fillUp works out "rest" and checks that the parts can make 100 %.
func (mp *materialPage) fillUp(n *yaml.Node, rest int) {
	var lo, hi, typical exact.Rat
	stated := true
	for i, q := range mp.m.Parts {
		if i != rest {
			lo, hi, typical = lo.Add(q.Range.Lo), hi.Add(q.Range.Hi), typical.Add(q.Typical)
			stated = stated && q.Exact
		}
	}
	bad := func(sum exact.Rat, msg, cure string) {
		mp.fail("book.sum", n, fmt.Sprintf("what “%s” contains %s %s %%, %s", clip(mp.m.Name), msg, percent(sum), "not 100 %"), cure)
		mp.t.torn = true
	}
	switch {
	case len(mp.m.Parts) == 0:
		mp.fail("book.empty-value", n, "nothing stands under contains:", "write each part with its share, as in Mica: 50-62 %")
		mp.t.torn = true
	case whole.Less(lo):
		bad(lo, "is at least", "check the shares against the supplier's sheet")
	case rest >= 0:
		q := &mp.m.Parts[rest]
		q.Range = formula.Interval{Lo: exact.Max(exact.Int(0), whole.Sub(hi)), Hi: whole.Sub(lo)}
		q.Exact, q.Typical = stated, whole.Sub(typical)
		if !stated || q.Typical.Sign() < 0 {
			q.Exact, q.Typical = false, exact.Rat{}
		}
	case hi.Less(whole):
		bad(hi, "is at most", "write “rest” for the part that takes what is left, or undisclosed: rest")
	}
}

// percent prints a fraction as a percentage, exactly where that is short.
func percent(x exact.Rat) string { return x.Mul(exact.Int(100)).Decimal(6, exact.Nearest).String() }

// noLimit warns of "nd" without a limit: it counts as nothing.
func (mp *materialPage) noLimit(e entry, notDetected bool) {
	if notDetected {
		mp.say(finding.Warning, "book.no-limit", e.v, fmt.Sprintf("“%s: %s” does not say below what it was not detected; it counts as none", clip(e.key), clip(e.v.Value)),
			"ask the supplier for the detection limit and write it as in nd <10 ppm")
	}
}

// readAllergens reads what is inside the ingredients: of which, not added mass,
// and without a sum.
func (mp *materialPage) readAllergens() {
	n := mp.at["allergens"]
	if n == nil {
		return
	}
	if n.Kind == yaml.ScalarNode && strings.EqualFold(strings.TrimSpace(n.Value), "none") {
		return // covers: says which list was looked through
	}
	source := finding.Citation{Text: mp.citation(), Seen: finding.Yes}
	for _, e := range mp.entries(n, "allergens", "write each with its share, one per line, as in Linalool: 4.2 %") {
		sh, ok := mp.quantityShare(e.v, "the share of "+e.key)
		if ok && sh.Rest {
			mp.fail("book.rest", e.v, "“rest” has no meaning for allergens: they have no sum", "write the share, as in 4.2 %")
			ok = false
		}
		k, known := mp.allergen(e)
		if !ok || !known {
			mp.t.torn = true
			continue
		}
		if i := slices.IndexFunc(mp.m.Constituents, func(c formula.Constituent) bool { return c.Key == k }); i >= 0 {
			mp.fail("book.repeated-name", e.k, fmt.Sprintf("“%s” is the same substance as one above", clip(e.key)), "keep one of the lines")
			mp.t.torn = true
			continue
		}
		mp.noLimit(e, sh.NotDetected)
		c := formula.Constituent{Key: k, Range: formula.Interval{Lo: sh.Lo, Hi: sh.Hi}, Typical: sh.Typical,
			Pos: mp.page.at(e.k), Text: e.key + ": " + strings.TrimSpace(e.v.Value), Source: source}
		if !sh.Stated {
			c.Typical = sh.Lo.Add(sh.Hi).Quo(exact.Int(2))
		}
		mp.m.Constituents = append(mp.m.Constituents, c)
	}
}

// allergen resolves a line of a supplier's sheet.
func (mp *materialPage) allergen(e entry) (formula.Key, bool) {
	if _, k, ok := inci.FindAllergen(e.key); ok {
		return k, true
	}
	return mp.substance(e.k, e.key, mp.unlisted)
}

// citation names the supplier's sheet.
func (mp *materialPage) citation() string {
	s := "supplier's sheet of " + mp.m.Name
	if mp.sheet.Ref != "" {
		s += ", " + mp.sheet.Ref
	}
	if mp.sheet.Date != 0 {
		s += ", " + mp.sheet.Date.String()
	}
	return s
}
