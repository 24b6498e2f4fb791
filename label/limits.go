package label

import (
	"cmp"
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
	j := newLimitJudge(x)
	for i := range x.Composition.Items {
		for _, k := range d.mentions(x.Composition.Items[i].Material) {
			for _, l := range inci.LimitsOf(k, x.Market) {
				j.judge(k, l)
			}
		}
	}
	j.close()
}

func newLimitJudge(x *Declaration) *limitJudge {
	kinds, unknown := kindsOf(x.Product)
	return &limitJudge{x: x, kinds: kinds, unknown: unknown, seen: map[*inci.Limit]bool{}}
}

// close says what was gathered on the way.
func (j *limitJudge) close() {
	j.sayOver()
	j.sayTerms()
	j.askType()
}

// askType asks what kind of product it is where some limit depends on it. An
// answer does not judge those limits: see leavesOpen.
func (j *limitJudge) askType() {
	if x := j.x; len(j.open) > 0 {
		x.add(finding.Finding{Rule: "product.type", Severity: finding.Question, Where: x.Product.At("type"),
			Message: fmt.Sprintf("the type “%s” is not a kind of product that is known here, and the limits of %s differ by kind: those for single kinds were not judged", strings.Join(j.unknown, ", "), someOf(j.open, 4)),
			Cure:    "use a plain type such as bath fizz, bath salts, bath melt, bar soap, shampoo bar, body balm, lip balm or scrub; for several uses list the nearest of them, as in type: [body oil, bath oil]: the strictest counts"})
	}
}

type limitJudge struct {
	x       *Declaration
	kinds   kinds
	unknown []string             // types of the product that are not known
	open    []string             // substances with limits that depend on the kind of product
	seen    map[*inci.Limit]bool // sums that were judged already
	forbade []*inci.Limit        // rows that forbid the use, and did
	over    []over
	terms   []terms
}

// judge compares what there is of k, or of the sum that it belongs to, with a
// row of a list.
func (j *limitJudge) judge(k formula.Key, l *inci.Limit) {
	if l.Sum != nil {
		if j.seen[l] {
			return
		}
		j.seen[l] = true
	}
	if name := limitName(k, l); len(j.unknown) > 0 && !l.Applies.Everything() && l.Duty.Binds(j.x.Occasion) && !slices.Contains(j.open, name) {
		j.open = append(j.open, name)
	}
	if !l.Duty.Binds(j.x.Occasion) || !j.kinds.in(&l.Applies) || j.saidByBan(k, l) {
		return
	}
	g := formula.Group{Total: totalOf(k, l), Members: l.Sum, Weigh: l.Most, Of: concerned(l)}
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
	case l.Together:
		second := cmp.Or(l.With, l.Without) // in the same material, or in another
		if other := j.x.holding(second); other != nil {
			f.Message = fmt.Sprintf("%s in %s and %s in %s: %s (%s)", inci.Readable(string(k)), in.From[0].Material.Name, inci.Readable(string(second)), other.Name, l.Conditions, entryOf(l))
			f.Cure = "leave one of the two out"
			j.add(f, l)
		}
	case l.Question:
		f.Severity = finding.Question
		f.Message = fmt.Sprintf("%s (%s): %s", name, entryOf(l), l.Conditions)
		f.Cure = "find out, and write answers: with the reason in the product"
		j.add(f, l)
	case l.Forbidden:
		f.Message = fmt.Sprintf("%s is %s of the finished piece; %s does not allow it in %s", name, percentUp(in.Share.Max, exact.Rat{}), entryOf(l), scopeText(l))
		f.Cure = "take it out: " + sources(in)
		if l.Purpose != "" && !samePurpose(l, in) {
			f.Severity = finding.Question
			f.Message += purposeText(l.Purpose)
			f.Cure += "; or, if it serves another purpose, write answers: with that purpose"
		} else {
			j.forbade = append(j.forbade, l)
		}
		j.add(f, l)
	case l.HasMax && tooMuch(l, in):
		j.over = append(j.over, over{f, name, l, in, g})
	default:
		j.terms = append(j.terms, terms{k, name, l, in.From[0].Material})
	}
	if l.Warning != "" && j.kinds.in(&l.WarnWhen) && in.CanExceed(l.WarnAbove) {
		for _, sentence := range strings.Split(l.Warning, "; ") {
			j.x.warn(Warning{Text: sentence, Why: name, Source: l.Source})
		}
	}
}

// saidByBan reports whether the list of prohibited substances has said what
// there is to say of k: it is banned outright, and how much of it is no matter;
// or the ban was asked about, and the row only adds that its entry is silent.
func (j *limitJudge) saidByBan(k formula.Key, l *inci.Limit) bool {
	if l.Sum != nil {
		return false
	}
	s, ok := j.x.bans[k]
	return ok && (s == finding.Error || l.Silent)
}

// concerned returns which materials a row counts: all of them, those that hold
// the whole of a mixture, or those that do not hold the other part of it.
func concerned(l *inci.Limit) func(*formula.Material) bool {
	if l.With == "" && l.Without == "" {
		return nil
	}
	return func(m *formula.Material) bool {
		return (l.With == "" || hasKey(m, l.With)) && (l.Without == "" || !hasKey(m, l.Without))
	}
}

// hasKey reports whether k is a part or a constituent of m.
func hasKey(m *formula.Material, k formula.Key) bool {
	return slices.ContainsFunc(m.Parts, func(p formula.Part) bool { return p.Key == k && !p.Range.Hi.IsZero() }) ||
		slices.ContainsFunc(m.Constituents, func(c formula.Constituent) bool { return c.Key == k && !c.Range.Hi.IsZero() })
}

// holding returns the first material of the piece that holds k, or nil.
func (x *Declaration) holding(k formula.Key) *formula.Material {
	for i := range x.Composition.Items {
		if m := x.Composition.Items[i].Material; hasKey(m, k) {
			return m
		}
	}
	return nil
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

// ruleOf names the rule of a limit: eu.annex-iii.limit, eu.annex-v.use.
func ruleOf(m inci.Market, l *inci.Limit) finding.Code {
	what := "limit"
	switch {
	case l.Together:
		what = "together"
	case l.Question:
		what = "condition"
	case l.Forbidden:
		what = "use"
	}
	return finding.Code(string(m) + "." + listCode(l) + "." + what)
}

// termsOf names the rule under which the conditions of a row are said.
func termsOf(m inci.Market, l *inci.Limit) finding.Code {
	return finding.Code(string(m) + "." + listCode(l) + ".terms")
}

// listCode is the list of a row as a word of a code: "annex-iii".
func listCode(l *inci.Limit) string { return strings.ReplaceAll(strings.ToLower(l.List), " ", "-") }

func entryOf(l *inci.Limit) string {
	if l.Entry == "" {
		return l.List // which has none for it
	}
	return l.List + " entry " + l.Entry
}

func limitName(k formula.Key, l *inci.Limit) string {
	switch {
	case l.With != "":
		return "the " + l.Group
	case l.Group != "":
		return "the sum of " + l.Group
	case l.Sum != nil && l.Substance != "":
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
	text = strings.ToLower(text[:1]) + text[1:]
	switch {
	case l.Forbidden: // names what it forbids
		return strings.TrimPrefix(strings.TrimPrefix(text, "not to be used in "), "not in ")
	case strings.HasPrefix(text, "not "):
		return "others (" + text + ")"
	}
	return strings.TrimPrefix(text, "only for ")
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
