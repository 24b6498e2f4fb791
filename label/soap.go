package label

import (
	"strings"

	"panelwright/formula/finding"
	"panelwright/inci"
)

// judgeSoap judges the soap exemption of the United States where the maker
// claims it (21 CFR 701.20): it is never assumed, and the list of ingredients is
// not dropped for it. cosmetic are the words on the pack that say more than
// "soap".
func (d *Desk) judgeSoap(x *Declaration, cosmetic []string) {
	p := x.Product
	if !p.SoapExempt {
		return
	}
	u := usesOf(p)
	add := func(topic, lead string) {
		if c := x.Rules.Caution(topic, x.Occasion, u.has); c != nil {
			x.add(finding.Finding{Rule: c.Rule, Severity: c.Severity, Where: p.At("soap exemption"), Message: lead + c.Says, Cure: c.Cure, Source: c.Source})
		}
	}
	if !u.has("soap") {
		add("soap-type", "“"+p.Type+"”: ")
	}
	if len(cosmetic) > 0 {
		add("soap-claim", strings.Join(cosmetic, ", ")+": ")
	}
	if x.Composition == nil {
		return // a set
	}
	for i := range x.Composition.Items {
		it := &x.Composition.Items[i]
		for _, part := range it.Material.Parts {
			if sheet(it.Material).Class == "surfactant" && inci.Surfactant(part.Key) && !fattySoap(string(part.Key)) {
				add("soap-detergent", grams(it.Weight)+" g of "+it.Material.Name+" ("+x.linesOf(it.Material)+"): ")
				break
			}
		}
	}
	add("soap-exempt", "")
}

// fattySoap reports whether a name is that of an alkali salt of a fatty acid: one
// base and one acid ("SODIUM PALMATE"), where a synthetic detergent names more
// ("SODIUM LAURYL SULFATE").
func fattySoap(name string) bool {
	base, acid, ok := strings.Cut(name, " ")
	return ok && (base == "SODIUM" || base == "POTASSIUM") && !strings.ContainsAny(acid, " -") && strings.HasSuffix(acid, "ATE")
}
