package label

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// judgeColours goes through the market's list of colours for every part that is
// a colourant there: whether it may colour a product of this kind, how much of
// it, and whether its batch must be certified. A colour that has no name in the
// market is reported with the list of ingredients.
func (d *Desk) judgeColours(x *Declaration) {
	j := newLimitJudge(x)
	var seen []formula.Key
	for i := range x.Composition.Items {
		m := x.Composition.Items[i].Material
		for _, p := range m.Parts {
			n := d.name(p.Key, x.Market)
			colours := sheet(m).Class == "colourant" || sheet(m).Class == "pigment"
			number := strings.HasPrefix(string(p.Key), "CI ") || colours && inci.HairDye(p.Key)
			if !n.OK || !n.colour && !number {
				continue
			}
			x.judgeCertified(m, p.Key)
			if slices.Contains(seen, p.Key) {
				continue
			}
			seen = append(seen, p.Key)
			for _, l := range inci.ColourLimits(p.Key, x.Market) {
				if number || colours {
					l.Purpose = "" // nothing else can be meant
				}
				if l.Forbidden || l.Question {
					// The row says where the colour is allowed.
					l.Applies.Text = fmt.Sprintf("this kind of product, %s (%s)", x.Product.Type, l.Conditions)
				}
				j.judge(p.Key, l)
			}
		}
	}
	j.sayOver()
	j.askType()
}

// judgeCertified asks for the certificate of a colour that the United States
// certify batch by batch (21 CFR parts 74 and 80), unless the book has it.
func (x *Declaration) judgeCertified(m *formula.Material, k formula.Key) {
	if x.Market != inci.US || sheet(m).Certified {
		return
	}
	c, _ := inci.Colourant(k)
	n := slices.IndexFunc(c.US, func(u inci.ColourUS) bool { return u.Certified && u.Name != "" })
	if n < 0 {
		return
	}
	x.add(finding.Finding{Rule: "colour.certified", Severity: finding.Question, Where: firstPos(m.Pos, x.Product.Pos),
		Message: fmt.Sprintf("%s in %s may colour a cosmetic in the United States only from a batch that the authority certified (21 CFR %s)", c.US[n].Name, m.Name, c.US[n].Section),
		Cure:    "ask the supplier for the certification lot number and write us certified: yes in the material, or answers: with what you know", Source: c.US[n].Source})
}
