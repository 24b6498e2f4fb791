package label

import (
	"fmt"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// ListAs says how a soap is listed.
type ListAs uint8

const (
	ByMarket ListAs = iota // as the market does it unless the maker chooses
	WentIn                 // fats, lye and water, by weight at the time of adding
	CameOut                // soaps, glycerin and what is left, by share of the finished soap
)

// wanted returns what the maker chose for the market.
func (p *Product) wanted(m inci.Market) ListAs {
	if c, ok := p.ListAs[m]; ok {
		return c
	}
	return p.ListAs[""]
}

// chooseList decides what the list names. Nothing but a soap leaves a choice.
func (x *Declaration) chooseList() {
	x.ordered = x.Composition
	if x.wentIn() {
		x.ordered = x.Composition.Weighed()
	}
}

// wentIn reports whether the list names what went into a soap.
func (x *Declaration) wentIn() bool {
	if len(x.Composition.Reactions()) == 0 {
		return false
	}
	rule := x.Rules.SoapList()
	if c := x.Product.wanted(x.Market); c != ByMarket && rule.Choice {
		return c == WentIn
	}
	return rule.WentIn
}

// soapBothWays returns two declarations of one soap of which the first lists what
// went in and the second what came out; nil where all list the same.
func soapBothWays(ds []*Declaration) (in, out *Declaration) {
	for _, d := range ds {
		switch {
		case d.Composition == nil || len(d.Composition.Reactions()) == 0:
		case d.wentIn() && in == nil:
			in = d
		case !d.wentIn() && out == nil:
			out = d
		}
	}
	if in == nil || out == nil {
		return nil, nil
	}
	return in, out
}

// Convention returns the sentence that is printed with the declaration: how the
// market orders the list, and of a soap what the list names.
func (x *Declaration) Convention() string {
	says := x.Rules.Convention()
	if x.Composition == nil || len(x.Composition.Reactions()) == 0 {
		return says
	}
	rule := x.Rules.SoapList()
	if x.wentIn() {
		return rule.InSays
	}
	return rule.OutSays
}

// soapNeverBelow reports whether entry a never weighs less than b because both
// came out of one reaction and hang on the same figure there.
func (x *Declaration) soapNeverBelow(a, b Entry) bool {
	only := func(e Entry) (m *formula.Material, k formula.Key) {
		for i, own := range x.names.Owner {
			for p, n := range own {
				if n != e.index {
					continue
				}
				if m != nil {
					return nil, ""
				}
				m = x.ordered.Items[i].Material
				k = m.Parts[p].Key
			}
		}
		return m, k
	}
	for _, r := range x.ordered.Reactions() {
		ma, ka := only(a)
		if mb, kb := only(b); ma == r.Product && mb == r.Product {
			return r.NeverBelow(ka, kb)
		}
	}
	return false
}

// openName names whose figures leave the shares in m open.
func (x *Declaration) openName(m *formula.Material) string {
	for _, r := range x.Composition.Reactions() {
		if r.Product == m {
			return "the fats and the lye of " + m.Name
		}
	}
	return m.Name
}

// judgeListAs says by which convention a soap is listed and what that rests on,
// and refuses what the market does not leave open.
func (x *Declaration) judgeListAs() {
	rule := x.Rules.SoapList()
	want := x.Product.wanted(x.Market)
	at := x.Product.At("list as")
	if want != ByMarket && !rule.Choice && (want == WentIn) != rule.WentIn {
		x.add(finding.Finding{Rule: "soap.list-as", Severity: finding.Error, Where: at,
			Message: "the market does not leave open how a soap is listed: " + rule.Why, Cure: "take the choice for this market out of list as:", Source: rule.Source})
	}
	words := "what came out: soaps, glycerin and what is left"
	if x.wentIn() {
		words = "what went in: fats, lye and water"
	}
	basis := "the usual convention here"
	if want != ByMarket && rule.Choice {
		basis = "as the maker chose"
	}
	x.add(finding.Finding{Rule: "soap.list", Severity: finding.Note, Where: at,
		Message: fmt.Sprintf("the soap is listed as %s (%s); %s", words, basis, rule.Why), Cure: cureOf(rule.Choice), Source: rule.Source})
	for _, e := range x.Entries {
		for _, k := range e.Keys {
			if what, ok := inci.NoSoapName(k); ok {
				x.add(finding.Finding{Rule: "soap.no-name", Severity: finding.Error, Where: at,
					Message: "the ingredient inventory has no name for the " + what,
					Cure:    noNameCure(rule.Choice), Source: inci.Substance{}.Source()})
			}
		}
	}
}

func cureOf(choice bool) string {
	if choice {
		return "write list as: in or list as: out to choose"
	}
	return ""
}

func noNameCure(choice bool) string {
	cure := "use another fat, or write sodium soap: or potassium soap: in its material with the name from the ingredient dictionary"
	if choice {
		cure += "; or list what went in, with list as: in"
	}
	return cure
}
