package label

import (
	"fmt"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// judgeRebatch tells how a soap that is weighed into another mix counts: as
// fresh, the way doughs of two colours are poured together. Cured soap that is
// grated and melted again holds less water than that.
func (x *Declaration) judgeRebatch(r *formula.Reaction) {
	if !r.LossKnown || r.Loss.Water.Hi.IsZero() {
		return
	}
	told := map[*formula.Formula]bool{}
	var in func(f *formula.Formula)
	in = func(f *formula.Formula) {
		if f == nil || told[f] {
			return
		}
		told[f] = true
		for i := range f.Lines {
			l := &f.Lines[i]
			if l.Formula == r.Formula {
				x.add(finding.Finding{Rule: "soap.rebatch", Severity: finding.Note, Where: firstPos(l.Pos, f.Pos), Source: practice,
					Message: fmt.Sprintf("“%s” in %s counts as fresh, with all its water", l.Text, f.Name),
					Cure:    "if it is cured soap that is melted again, " + asPoured(r, l)})
			}
			in(l.Formula)
		}
	}
	for i := range x.Product.Piece.Lines {
		in(x.Product.Piece.Lines[i].Formula)
	}
}

// asPoured says what to write for cured soap: so much more as it was heavier
// when it was poured.
func asPoured(r *formula.Reaction, l *formula.Line) string {
	ratio := func(loss exact.Rat) exact.Rat { return r.Poured.Quo(r.Poured.Sub(r.FreeWater.Mul(loss))) }
	lo, hi := ratio(r.Loss.Water.Lo), ratio(r.Loss.Water.Hi)
	if l.Amount.Kind == formula.Grams {
		return fmt.Sprintf("write what it weighed when it was poured: %s g", between(lo.Mul(l.Amount.Value), hi.Mul(l.Amount.Value), 0))
	}
	return fmt.Sprintf("write what it weighed when it was poured, %s times as much", between(lo, hi, 2))
}

func between(lo, hi exact.Rat, places int) string {
	a, b := lo.Decimal(places, exact.Nearest).String(), hi.Decimal(places, exact.Nearest).String()
	if a == b {
		return a
	}
	return a + " to " + b
}
