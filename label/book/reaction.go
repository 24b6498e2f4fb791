package book

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/inci"
)

// reacts tells the parts of a material what lye does with them. form are words
// that say in which form an acid is bought; without one the form is not known,
// and the acid counts as the one that takes up least lye.
func reacts(m *formula.Material, form string) {
	for i := range m.Parts {
		p := &m.Parts[i]
		if r := inci.AcidForm(p.Key, form); r != nil {
			p.Reacts = r
			continue
		}
		p.Reacts = inci.Reactant(p.Key)
	}
}

// acidForm returns words for the form of a built-in acid: the name as typed,
// which may leave it open where the built-in name does not.
func acidForm(tr inci.Trade) string {
	if inci.AcidForm(tr.Key, tr.Name) == nil {
		return ""
	}
	if tr.Alias != "" {
		return " " + tr.Alias
	}
	return " " + tr.Name
}

// readReaction reads what the supplier says of the fat or acid: a certificate
// wins over what is published.
func (mp *materialPage) readReaction() {
	form := mp.m.Name
	if v := mp.at["same as"]; v != nil {
		form += " " + v.Value
	}
	if v := mp.at["form"]; v != nil {
		s, _ := mp.text(v, "the form")
		form = s
		if len(mp.m.Parts) != 1 || inci.AcidForm(mp.m.Parts[0].Key, s) == nil {
			mp.fail("book.form-of-acid", v, fmt.Sprintf("“%s” is no form of it that is known here", clip(s)), "write anhydrous or monohydrate, of citric acid")
		}
	}
	reacts(mp.m, form)
	value, acid := mp.at["saponification value"], mp.at["acid value"]
	if value == nil && acid == nil && mp.at["sodium soap"] == nil && mp.at["potassium soap"] == nil {
		return
	}
	fats := 0
	for i := range mp.m.Parts {
		p := &mp.m.Parts[i]
		if f, ok := inci.FatOf(p.Key); (ok || len(mp.m.Parts) == 1) && (p.Reacts == nil || p.Reacts.Kind.Fat()) {
			if !ok {
				f = inci.SoapFat{Key: p.Key, Kind: formula.Glyceride}
			}
			fats++
			mp.certify(p, f, value, acid)
		}
	}
	if fats == 0 && !mp.t.torn {
		n := value
		for _, key := range []string{"acid value", "sodium soap", "potassium soap"} {
			if n == nil {
				n = mp.at[key]
			}
		}
		mp.fail("soap.no-fat", n, fmt.Sprintf("“%s” is no fat that lye could turn into soap", clip(mp.m.Name)), "take it out, or write inci: with the name of the fat")
	}
}

func (mp *materialPage) certify(p *formula.Part, f inci.SoapFat, value, acid *yaml.Node) {
	var certified *formula.Interval
	if value != nil {
		x, ok := mp.koh(value, "the saponification value")
		if !ok {
			return
		}
		if x.Hi.Sign() == 0 {
			mp.fail("soap.value", value, fmt.Sprintf("the saponification value is written as “%s”: such a fat takes up no lye", clip(value.Value)), "look at the certificate, or take the line out")
			return
		}
		certified = &x
	}
	soapName := func(key string, to *formula.Key) {
		if v := mp.at[key]; v != nil {
			name, _ := mp.text(v, "the "+key)
			if k, ok := mp.substance(v, name, mp.unlisted); ok {
				*to = k
			}
		}
	}
	soapName("sodium soap", &f.Sodium)
	soapName("potassium soap", &f.Potassium)
	r, known := f.React(certified)
	if !known {
		return
	}
	if certified != nil {
		r.Pos = mp.page.at(value)
	}
	if acid != nil {
		x, ok := mp.koh(acid, "the acid value")
		switch {
		case ok && r.Value.Lo.Less(x.Hi): // free acids are part of what the whole fat takes up
			mp.fail("soap.value", acid, fmt.Sprintf("the acid value is written as “%s”, more than the saponification value %s mg KOH/g, which holds it", clip(acid.Value), r.Value.Lo.Decimal(1, exact.Nearest)),
				"look at the certificate: the acid value is the smaller of the two")
		case ok && f.Kind == formula.Glyceride:
			r.Acid = x
		}
	}
	p.Reacts = r
}

// koh reads a saponification or acid value: 190 mg KOH/g, 184-196 mg KOH/g, the
// same in grams, 0.19 g KOH/g, or a figure for sodium hydroxide as makers' tables
// print it, 0.135 g NaOH/g.
func (mp *materialPage) koh(n *yaml.Node, what string) (x formula.Interval, ok bool) {
	const cure = "write it as on the certificate, as in 190 mg KOH/g or 184-196 mg KOH/g"
	s, ok := mp.text(n, what)
	if !ok {
		return x, false
	}
	text := strings.ToLower(strings.Join(strings.Fields(s), ""))
	factor := exact.Int(1)
	number, found := strings.CutSuffix(text, "mgkoh/g")
	if !found {
		if number, found = strings.CutSuffix(text, "gkoh/g"); found {
			factor = exact.Int(1000)
		}
	}
	if !found {
		if number, found = strings.CutSuffix(text, "gnaoh/g"); found {
			factor = exact.Int(1000).Quo(inci.Stoichiometry().Soda)
		}
	}
	if !found {
		mp.fail("soap.value", n, fmt.Sprintf("%s is written as “%s”, without its unit", what, clip(s)), cure)
		return x, false
	}
	lo, hi, _ := strings.Cut(strings.NewReplacer("–", "-", "to", "-").Replace(number), "-")
	if hi == "" {
		hi = lo
	}
	a, err1 := exact.Parse(lo)
	b, err2 := exact.Parse(hi)
	x = formula.Interval{Lo: a.Mul(factor), Hi: b.Mul(factor)}
	// No fat takes up more than tributyrin (557) or, for the acid value, less than nothing.
	if err1 != nil || err2 != nil || a.Sign() < 0 || b.Less(a) || exact.Int(600).Less(x.Hi) {
		mp.fail("soap.value", n, fmt.Sprintf("%s is written as “%s”", what, clip(s)), cure)
		return x, false
	}
	return x, true
}
