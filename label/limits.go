package label

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// judgeLimits goes through the lists of restricted substances, preservatives,
// UV filters and colours, for every substance that the materials mention as a
// part or as a constituent. Shares are the greatest that the suppliers' ranges
// allow, of the finished mass at the greatest drying.
func (d *Desk) judgeLimits(x *Declaration) {
	scopes, known := x.scopes()
	j := limitJudge{x: x, scopes: scopes, seen: map[*inci.Limit]bool{}}
	for i := range x.Composition.Items {
		for _, k := range d.mentions(x.Composition.Items[i].Material) {
			for _, l := range inci.LimitsOf(k, x.Market) {
				j.judge(k, l)
			}
		}
	}
	j.askType(known)
}

// askType asks what kind of product it is where some limit depends on it.
func (j *limitJudge) askType(known bool) {
	if x := j.x; j.open && !known {
		x.add(finding.Finding{Rule: "product.type", Severity: finding.Question, Where: x.Product.At("type"),
			Message: fmt.Sprintf("the type %q is not a kind of product that is known here, and limits differ by kind", x.Product.Type),
			Cure:    "use a plain type such as bath fizz, bath salts, bath melt, bar soap, shampoo bar, body balm, lip balm or scrub"})
	}
}

// scopes returns what the lists of limits ask about a product: its kind, and
// whether it is rinsed off. An unstated exposure counts as leave-on.
func (x *Declaration) scopes() (scopes []inci.Scope, known bool) {
	kinds, known := inci.ProductScopes(x.Product.Type)
	exposure := inci.LeaveOn
	if x.Product.Exposure == RinseOff {
		exposure = inci.RinseOff
	}
	scopes = append(slices.Clone(kinds), exposure)
	if x.Product.ForChildren {
		scopes = append(scopes, inci.ChildrenUnder3)
	}
	return scopes, known
}

type limitJudge struct {
	x      *Declaration
	scopes []inci.Scope
	seen   map[*inci.Limit]bool // sums that were judged already
	open   bool                 // some limit depends on the kind of product
}

func (j *limitJudge) judge(k formula.Key, l *inci.Limit) {
	if l.Sum != nil {
		if j.seen[l] {
			return
		}
		j.seen[l] = true
	}
	j.open = j.open || !l.Applies.Everything()
	if !l.Duty.Binds(j.x.Occasion) || !l.Applies.Covers(j.scopes) {
		return
	}
	g := formula.Group{Total: totalOf(k, l), Members: l.Sum, Weigh: l.Most}
	in := j.x.Composition.Inside(g)
	if in == nil || in.Share.Max.IsZero() || otherPurpose(l, in) {
		return
	}
	f := finding.Finding{Rule: ruleOf(j.x.Market, l), Severity: finding.Error, Where: in.From[0].Material.Pos, Source: l.Source}
	if f.Where == (finding.Pos{}) {
		f.Where = j.x.Product.Pos
	}
	name := limitName(k, l)
	switch {
	case l.Question:
		f.Severity = finding.Question
		f.Message = fmt.Sprintf("%s (%s): %s", name, entryOf(l), l.Conditions)
		f.Cure = "find out, and write answers: with the reason in the product"
		if l.Source.Unverified() {
			f.Severity = finding.Warning // what was not seen is listed; it does not hold the print back
		}
		j.x.add(f)
	case l.Forbidden:
		f.Message = fmt.Sprintf("%s is %s of the finished piece; %s does not allow it in %s", name, percentUp(in.Share.Max, exact.Rat{}), entryOf(l), scopeText(l))
		f.Cure = "take it out: " + sources(in)
		if l.Purpose != "" && !samePurpose(l, in) {
			f.Severity = finding.Question
			f.Message += purposeText(l.Purpose)
			f.Cure += "; or, if it serves another purpose, write answers: with that purpose"
		}
		j.x.add(f)
	case l.HasMax && in.CanExceed(l.Max):
		j.over(f, name, l, in, g)
	}
	if l.Warning != "" && l.WarnWhen.Covers(j.scopes) && in.CanExceed(l.WarnAbove) {
		for _, sentence := range strings.Split(l.Warning, "; ") {
			j.x.warn(Warning{Text: sentence, Why: name, Source: l.Source})
		}
	}
}

// totalOf returns the substance whose stated figure covers the others of a sum,
// as citral covers geranial and neral; the substance itself where nothing is
// added up, and none where all of a sum stand side by side.
func totalOf(k formula.Key, l *inci.Limit) formula.Key {
	if l.Sum == nil {
		return k
	}
	if t, ok := totals.Load(l); ok {
		return t.(formula.Key)
	}
	t := findTotal(l)
	totals.Store(l, t)
	return t
}

var totals sync.Map // *inci.Limit -> formula.Key

func findTotal(l *inci.Limit) formula.Key {
	for _, t := range l.Sum {
		for _, a := range allergenIndexes()[inci.EU][t] {
			covers := func(m inci.Member) bool { return m.Key != t && slices.Contains(l.Sum, m.Key) }
			if inci.GroupKey(a) == t && slices.ContainsFunc(a.Members, covers) {
				return t
			}
		}
	}
	return ""
}

// over reports a share above its limit, with the amounts that would pass.
func (j *limitJudge) over(f finding.Finding, name string, l *inci.Limit, in *formula.Inside, g formula.Group) {
	as := ""
	if l.ExpressedAs != "" {
		as = " " + l.ExpressedAs
	}
	f.Message = fmt.Sprintf("%s reaches %s%s of the finished piece; %s allows %s %% in %s", name, percentUp(in.Share.Max, l.Max), as,
		entryOf(l), l.Max.Mul(hundred), scopeText(l))
	f.Cure = passing(j.x, l.Max, in) + "; now: " + sources(in)
	f.Message += purposeText(l.Purpose)
	if unknownFactor(l, g, j.x) {
		f.Severity = finding.Question
		f.Message += "; how much of it counts is not known, and this is the most that chemistry allows"
		f.Cure = "ask the supplier how much it holds" + as + ", and write answers: with the figure"
	}
	if l.Conditions != "" {
		f.Message += " (" + l.Conditions + ")"
	}
	j.x.add(f)
}

// unknownFactor reports whether a substance of the group counts by a bound
// instead of a known ratio.
func unknownFactor(l *inci.Limit, g formula.Group, x *Declaration) bool {
	for i := range x.Composition.Items {
		for _, p := range x.Composition.Items[i].Material.Parts {
			if p.Key == g.Total || slices.Contains(g.Members, p.Key) {
				if _, ok := l.Factor(p.Key); !ok {
					return true
				}
			}
		}
	}
	return false
}

// ruleOf names the rule of a limit: eu.annex-iii.limit, eu.annex-v.use.
func ruleOf(m inci.Market, l *inci.Limit) finding.Code {
	what := "limit"
	switch {
	case l.Question:
		what = "condition"
	case l.Forbidden:
		what = "use"
	}
	list := strings.ReplaceAll(strings.ToLower(l.List), " ", "-")
	return finding.Code(string(m) + "." + list + "." + what)
}

func entryOf(l *inci.Limit) string { return l.List + " entry " + l.Entry }

func limitName(k formula.Key, l *inci.Limit) string {
	if l.Group != "" {
		return "the sum of " + l.Group
	}
	if l.Sum != nil && l.Substance != "" {
		return l.Substance
	}
	return inci.Readable(string(k))
}

// scopeText is the law's own words for the products a row is about, without the
// letter before them.
func scopeText(l *inci.Limit) string {
	text := l.Applies.Text
	if i := strings.Index(text, ") "); strings.HasPrefix(text, "(") && i > 0 && i < 5 {
		text = text[i+2:]
	}
	if text == "" || text == "all" {
		return "any product"
	}
	return strings.ToLower(text[:1]) + text[1:]
}

// purposeText says what use a row is about, as the end of a sentence.
func purposeText(purpose string) string {
	switch {
	case purpose == "":
		return ""
	case strings.HasPrefix(purpose, "other than "):
		return ", for a purpose " + purpose
	}
	return ", as " + purpose
}

// otherPurpose reports whether every material that brings the group is used for
// something the row is not about, as far as the book says: its class is
// preservative, or its function is stated.
func otherPurpose(l *inci.Limit, in *formula.Inside) bool {
	if l.Purpose == "" {
		return false
	}
	rowPreserves := l.Purpose == "preservative"
	if !rowPreserves && l.Purpose != "other than preservative" {
		return false
	}
	for _, w := range in.From {
		preserves, stated := preserving(w.Material)
		if preserves == rowPreserves || !stated {
			return false
		}
	}
	return true
}

// samePurpose reports whether the book says of a material that brings the group
// that it is used for what the row is about.
func samePurpose(l *inci.Limit, in *formula.Inside) bool {
	for _, w := range in.From {
		preserves, stated := preserving(w.Material)
		if stated && (l.Purpose == "preservative" && preserves || l.Purpose == "other than preservative" && !preserves) {
			return true
		}
	}
	return false
}

// preserving reports whether a material is used to preserve, and whether its
// class or function states what it is used for.
func preserving(m *formula.Material) (preserves, stated bool) {
	s := sheet(m)
	preserves = s.Class == "preservative" && s.Function == "" || strings.Contains(strings.ToLower(s.Function), "preserv")
	return preserves, preserves || s.Function != ""
}

// sources says which materials bring a group, with the grams in one piece.
func sources(in *formula.Inside) string {
	var parts []string
	for _, w := range in.From {
		parts = append(parts, fmt.Sprintf("%s g of %s", w.Weight.Decimal(3, exact.Nearest), w.Material.Name))
	}
	return someOf(parts, 3)
}

// passing says how much of the materials would pass: all of them less by the
// same factor, the rest of the piece as it is. With W their weight, A what they
// bring at most and T the whole, s*A <= limit*(T - W + s*W) gives
// s = limit*(T - W) / (A - limit*W).
func passing(x *Declaration, limit exact.Rat, in *formula.Inside) string {
	t := x.Composition.Mass(formula.Finished).Lo
	a := in.Grams().Max
	var w exact.Rat
	for _, f := range in.From {
		w = w.Add(f.Weight)
	}
	rest, per := t.Sub(w), a.Sub(limit.Mul(w))
	if rest.Sign() <= 0 || per.Sign() <= 0 {
		return "use less of it"
	}
	s := limit.Mul(rest).Quo(per)
	var parts []string
	for _, f := range in.From {
		parts = append(parts, fmt.Sprintf("%s g of %s", f.Weight.Mul(s).Decimal(3, exact.Down), f.Material.Name))
	}
	return "use at most " + someOf(parts, 3) + " in a piece"
}

// judgeCarriers reports oils that are known to hold a limited or prohibited
// substance, where the sheet gives no figure for it. What is published decides
// nothing but whether it could matter.
func (x *Declaration) judgeCarriers() {
	whole := x.Composition.Mass(formula.Finished).Lo
	scopes, _ := x.scopes()
	for i := range x.Composition.Items {
		it := &x.Composition.Items[i]
		for _, p := range it.Material.Parts {
			for _, c := range inci.Carries(p.Key) {
				if slices.ContainsFunc(it.Material.Constituents, func(o formula.Constituent) bool { return o.Key == c.Constituent && !o.Estimated }) {
					continue
				}
				limit, ok := x.strictest(c.Constituent, scopes)
				high := exact.Int(1) // unknown: the oil could be nothing else
				if c.HasHigh {
					high = c.High
				}
				if !ok || whole.Sign() > 0 && !limit.Less(it.Weight.Mul(p.Range.Hi).Mul(high).Quo(whole)) {
					continue
				}
				x.add(finding.Finding{Rule: "oil.no-figure", Severity: finding.Error, Where: firstPos(it.Material.Pos, x.Product.Pos),
					Message: fmt.Sprintf("%s is known to hold %s, which is limited to %s %% of the finished piece, and its sheet gives no figure", it.Material.Name, inci.Readable(string(c.Constituent)), limit.Mul(hundred)),
					Cure:    fmt.Sprintf("ask the supplier for a figure and write %s: under allergens: of the material", inci.Readable(string(c.Constituent))), Source: c.Source})
			}
		}
	}
}

// strictest returns the lowest maximum that binds for a substance in this
// product.
func (x *Declaration) strictest(k formula.Key, scopes []inci.Scope) (limit exact.Rat, ok bool) {
	for _, l := range inci.LimitsOf(k, x.Market) {
		if l.HasMax && l.Duty.Binds(x.Occasion) && l.Applies.Covers(scopes) && (!ok || l.Max.Less(limit)) {
			limit, ok = l.Max, true
		}
	}
	return limit, ok
}
