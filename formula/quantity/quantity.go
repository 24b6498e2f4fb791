// Package quantity reads amounts as a maker writes them on paper: 10 oz,
// 1 1/2 cups, ½ oz, 1.5 %, 3 % of fats, 2 parts, rest; and the figures of a
// supplier's sheet: 50-62 %, <0.1 %, 120 ppm.
//
//	q, err := quantity.Parse("1 lb 4 oz")
//	q.Unit.Kind            // quantity.Mass
//	q.Value().String()     // "566.9904625", grams, exactly
//
// Parse reads one amount, Leading an amount with words after it ("10 oz baking
// soda"), ParseShare a supplier's share with its range, ParseDensity and
// ParseLength what their names say. Numbers are exact. Factors live in
// units.csv, each with its source.
//
// What can be read in two ways is refused and both readings are named: 1,000 g
// is a thousand to one reader and one to another. A plain cup, tablespoon,
// teaspoon, fluid ounce, pint, quart or gallon is the customary one of the
// United States; the others are written out, as in "metric cup". A plain ounce
// is a weight; whether that was meant of a liquid, only the caller can ask.
package quantity

import (
	"strings"

	"panelwright/formula/exact"
)

// Quantity is a number with its unit.
type Quantity struct {
	Number exact.Rat // as written, in Unit
	Unit   Unit
	Text   string // as written
}

// Value returns the number in the base unit of its kind: grams for Mass,
// millilitres for Volume, millimetres for Length, a fraction for the shares, a
// plain number for Parts.
func (q Quantity) Value() exact.Rat { return q.Number.Mul(q.Unit.Factor) }

// Grams returns a Quantity of so many grams.
func Grams(x exact.Rat) Quantity { return Quantity{Number: x, Unit: unitOf("g")} }

// String returns the quantity in a form that Parse reads back to exactly the
// same quantity: a plain decimal or a fraction, a space, the unit's symbol.
func (q Quantity) String() string {
	if q.Unit.Kind == Rest {
		return q.Unit.Symbol
	}
	if q.Unit.Kind == Parts && !q.Number.Equal(exact.Int(1)) {
		return q.Number.String() + " parts"
	}
	return q.Number.String() + " " + q.Unit.Symbol
}

// Parse reads one amount of a recipe line. Every error is an *Error.
func Parse(text string) (Quantity, error) {
	q, after, err := leading(text)
	if err != nil {
		return Quantity{}, err
	}
	if after != "" {
		return Quantity{}, leftover(text, after)
	}
	return q, nil
}

// Leading reads an amount and returns the words after it, as in "10 oz baking
// soda" or "1 cup of corn starch". The Text of the Quantity is the amount alone. Every error is an *Error.
func Leading(text string) (q Quantity, after string, err error) {
	q, after, err = leading(text)
	if err != nil {
		return Quantity{}, "", err
	}
	q.Text = strings.TrimSpace(strings.TrimSuffix(plain(text), after))
	if w, ok := cutWord(after, "of"); ok && w != "" {
		after = w
	}
	return q, after, nil
}

func leading(text string) (Quantity, string, error) {
	sc := &scanner{s: plain(text)}
	q := Quantity{Text: strings.TrimSpace(text)}
	if sc.s == "" {
		return q, "", &Error{Read: text, Wrong: "there is no amount", Cure: "write one, such as 10 oz, 250 g or 1.5 %"}
	}
	if u, ok := sc.unit(Rest); ok {
		q.Number, q.Unit = exact.Int(1), u
		return q, sc.after(), nil
	}
	if err := sc.refused(text, false); err != nil {
		return q, "", err
	}
	n, err := sc.number(text)
	if err != nil {
		return q, "", err
	}
	if err := sc.notRange(text); err != nil {
		return q, "", err
	}
	if err := sc.refused(text, true); err != nil {
		return q, "", err
	}
	u, ok := sc.unit(Mass, Volume, OfWhole, OnTop, OfFats, Parts)
	if !ok {
		return q, "", sc.noUnit(text, Mass, Volume, OfWhole, OnTop, OfFats, Parts)
	}
	q.Number, q.Unit = n, u
	if u.Kind == Mass || u.Kind == Volume {
		q = sc.compound(q)
	}
	if err := sc.notRange(text); err != nil {
		return q, "", err
	}
	return q, sc.after(), nil
}

// compound reads on through amounts in ever smaller units: 1 lb 4 oz, 1 cup +
// 2 tbsp. The sum is kept in the smallest of them. Beside a pound a plain ounce
// can only be a weight.
func (sc *scanner) compound(q Quantity) Quantity {
	for {
		ahead := *sc
		ahead.space()
		if ahead.eat('+') {
			ahead.space()
		} else if w, ok := cutWord(ahead.rest(), "and"); ok {
			ahead.i = len(ahead.s) - len(w)
		}
		n, err := ahead.number(q.Text)
		if err != nil {
			return q
		}
		u, ok := ahead.unit(q.Unit.Kind)
		if !ok || !u.Factor.Less(q.Unit.Factor) {
			return q
		}
		if u.Asks {
			u = unitOf("oz wt")
		}
		q.Number = q.Value().Quo(u.Factor).Add(n)
		q.Unit = u
		*sc = ahead
	}
}

// notRange refuses "1-2 cups" and "1 to 2 cups" in a recipe.
func (sc *scanner) notRange(text string) error {
	ahead := *sc
	if !ahead.rangeMark() {
		return nil
	}
	if _, err := ahead.number(text); err != nil {
		return nil
	}
	return &Error{Read: text, Wrong: "an amount needs one figure, and this is a range",
		Cure: "write what you weigh"}
}

func leftover(text, after string) error {
	if strings.HasPrefix(after, "/") || strings.HasPrefix(after, "per ") {
		return &Error{Read: text, Wrong: "“" + after + "” makes it an amount per something", Cure: "write the amount alone"}
	}
	return &Error{Read: text, Wrong: "“" + after + "” after the amount is not understood",
		Cure: "write the amount alone, such as 10 oz or 1.5 % of fats"}
}
