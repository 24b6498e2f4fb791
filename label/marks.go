package label

import (
	"fmt"

	"panelwright/formula/finding"
	"panelwright/label/market"
)

// codes returns the statements for the codes of the pack's materials. They are no statement the law of
// cosmetics asks for: their letters are as high as other small print.
func (c *PackCopy) codes(all []Statement) []Statement {
	var out []Statement
	for _, code := range c.Dress.Codes {
		s := Statement{Kind: CodeText, Text: code}
		for _, o := range all {
			if o.Kind == OriginText || o.Kind == ResponsibleText {
				s.Height = market.Height{Min: o.Height.Min, On: market.Capital, Rule: o.Height.Rule, Source: o.Height.Source}
			}
		}
		out = append(out, s)
	}
	return out
}

// eMark settles whether the e-mark is printed: only where the maker elected it, in a market that knows it, for
// a quantity it may stand on (Directive 76/211/EEC; its limits are rows of the market).
func (c *PackCopy) eMark(ds []*Declaration) {
	if c.Dress.EMark != SaidYes {
		return
	}
	for _, d := range ds {
		h := d.Rules.EMarkHeight()
		low, high, ok := d.Rules.EMarkRange()
		switch {
		case !ok || h.Min == 0:
			continue
		case d.Stated.Amount.Cmp(low) < 0 || high.Less(d.Stated.Amount):
			c.Findings.Add(finding.Finding{Rule: "pack.e-mark", Severity: finding.Error, Where: c.Dress.Pos, Product: c.Name, Market: string(d.Market),
				Message: fmt.Sprintf("the e-mark may stand on %v to %v g or ml, and the pack holds %v", low, high, d.Stated.Amount),
				Cure:    "take e-mark: out", Source: h.Source})
			c.Proof = true
			return
		case c.EMark.Min < h.Min:
			c.EMark = h
		}
	}
	if c.EMark.Min == 0 {
		c.Findings.Add(finding.Finding{Rule: "pack.e-mark", Severity: finding.Warning, Where: c.Dress.Pos, Product: c.Name,
			Message: "the e-mark is asked for, but no market of this pack knows it; it is left out", Cure: "take e-mark: out of this pack"})
		return
	}
	c.Findings.Add(finding.Finding{Rule: "pack.e-mark", Severity: finding.Note, Where: c.Dress.Pos, Product: c.Name,
		Message: "the e-mark is printed because the book elects it: whoever prints it fills under the average system and keeps the records of its checks",
		Cure:    "take e-mark: out if no such checks are made; a cosmetic does not need the mark", Source: c.EMark.Source})
}
