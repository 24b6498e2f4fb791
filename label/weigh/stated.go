package weigh

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/quantity"
	"panelwright/label/market"
)

// statedUnits are the units that a pack may state its quantity in.
var statedUnits = []string{"g", "kg", "oz", "lb", "ml", "l", "fl oz", "pt", "qt", "gal"}

// Stated reads a net quantity as a pack states it: "160 g", "4 1/2 oz", or the
// two figures of a dual statement, "5 oz (142 g)", of which the larger is
// returned.
func Stated(text string) (market.Quantity, error) {
	parts := []string{text}
	if first, second, ok := strings.Cut(text, "("); ok {
		second, ok = strings.CutSuffix(strings.TrimSpace(second), ")")
		if !ok || strings.Contains(second, "(") {
			return market.Quantity{}, fmt.Errorf("“%s” has one parenthesis too many or too few; write it as in 5 oz (142 g)", text)
		}
		parts = []string{first, second}
	}
	var best market.Quantity
	for _, p := range parts {
		q, err := statedOne(p)
		if err != nil {
			return market.Quantity{}, err
		}
		if best.Text != "" && best.Volume != q.Volume {
			return market.Quantity{}, fmt.Errorf("“%s” states a weight and a volume; write one of them", text)
		}
		if best.Amount.Less(q.Amount) {
			best = q
		}
	}
	return best, nil
}

func statedOne(text string) (market.Quantity, error) {
	q, err := quantity.Parse(text)
	var bad *quantity.Error
	if errors.As(err, &bad) {
		return market.Quantity{}, fmt.Errorf("“%s”: %s; write a weight or a volume, as in 160 g or 5 oz", bad.Read, bad.Wrong)
	}
	unit := q.Unit.Symbol
	if unit == "oz wt" {
		unit = "oz"
	}
	if !slices.Contains(statedUnits, unit) || q.Number.Sign() <= 0 {
		return market.Quantity{}, fmt.Errorf("“%s” is no net quantity; write a weight or a volume in one of %s", text, strings.Join(statedUnits, ", "))
	}
	return market.Quantity{Amount: q.Value(), Volume: q.Unit.Kind == quantity.Volume, Text: strings.TrimSpace(text), Unit: unit}, nil
}
