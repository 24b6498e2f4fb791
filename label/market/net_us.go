package market

import (
	"fmt"
	"slices"
	"strconv"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// us writes the dual statement of the United States.
func (n *netWriter) us(count int) {
	metric := n.metric()
	own := n.customary(n.q.Amount)
	if own.worth.IsZero() {
		f := n.r.facts["net-places"]
		n.find("too-small", finding.Error, f.source,
			fmt.Sprintf("%s is nothing at all in ounces of %d places", n.q.Text, n.places()), "state a larger quantity, or state it in fractions of an ounce")
	}
	n.out.Primary, n.out.Secondary = own.text, metric.text
	if n.unit.System == Metric {
		n.out.Primary, n.out.Secondary = metric.text, own.text
	}
	n.out.Larger = exact.Max(own.worth, metric.worth)
	if n.o.EMark {
		if n.o.Soap {
			n.value("e-mark")
			n.out.EMark = true
			metric.text += " " + EMark
		} else {
			n.find("e-mark", finding.Warning, n.r.facts["net-system"].source,
				"the e-mark means nothing in this market and was left out", "keep it to packs for the EU, GB or NI")
		}
	}
	text := n.pair(own, metric)
	switch {
	case n.o.Labelled && n.o.Soap && count > 1:
		n.value("net-multiunit")
		n.out.Text = n.each(count) + ", total " + text
	case count > 1 && n.o.CountWords == "":
		n.find("count-words", finding.Note, n.r.facts["net-count"].source,
			fmt.Sprintf("the pack holds %d pieces and the label does not say so", count), "say what they are called, if it should")
		n.out.Text = text
	default:
		n.out.Text = n.withCount(count, text)
	}
}

// pair joins the two figures. Where the customary one has parentheses of its
// own, the other stands beside them: "Net Wt 24 oz (1 lb 8 oz) 680 g".
func (n *netWriter) pair(own customary, metric figure) string {
	first, second, bare := own.text, metric.text, own.nested
	lead := n.value("net-lead")
	if n.o.FirstUnit == MetricFirst {
		first, second, bare = metric.text, own.text, false
		if n.o.Soap {
			lead = n.value("net-lead-soap-metric")
		}
	}
	text := first + " (" + second + ")"
	switch {
	case bare:
		text = first + " " + second
	case own.nested:
		text = first + ", " + second
	}
	if n.q.Volume { // "net" is optional for fluid measure (701.13(j))
		return text
	}
	return lead + " " + text
}

// each writes the number of units and the quantity of one (16 CFR 500.27(a)).
func (n *netWriter) each(count int) string {
	words := n.o.CountWords
	if words == "" {
		words = "units"
	}
	one := *n
	one.q.Amount = n.q.Amount.Quo(exact.Int(int64(count)))
	return fmt.Sprintf("%d %s, %s (%s) each", count, words, one.customary(one.q.Amount).text, one.metric().text)
}

// customary is a figure in pounds and ounces or in fluid measure.
type customary struct {
	figure
	nested bool // the text has parentheses of its own
}

func (n *netWriter) customary(amount exact.Rat) customary {
	switch {
	case n.q.Volume && n.o.Soap:
		return n.soapFluid(amount)
	case n.q.Volume:
		return n.fluid(amount)
	case n.o.Soap:
		return n.soapWeight(amount)
	}
	return n.weight(amount)
}

// weight: 701.13(j) and (k). Under 1 lb ounces; from 1 lb ounces followed by
// pounds and ounces in parentheses; from 4 lb pounds and ounces.
func (n *netWriter) weight(amount exact.Rat) customary {
	oz, lb := mustUnit("oz"), mustUnit("lb")
	text, x := n.numeral(amount.Quo(oz.Factor))
	worth := x.Mul(oz.Factor)
	fig := func(text string, nested bool) customary { return customary{figure{text, worth}, nested} }
	switch {
	case worth.Less(n.number("net-two-ways").Mul(lb.Factor)):
		return fig(text+" oz", false)
	case worth.Less(n.number("net-pounds-from").Mul(lb.Factor)):
		return fig(text+" oz ("+n.ladder(worth, "oz", lb, oz)+")", true)
	}
	return fig(n.ladder(worth, "oz", lb, oz), false)
}

// fluid: the same for fluid measure, with the largest whole units.
func (n *netWriter) fluid(amount exact.Rat) customary {
	oz, pt, qt, gal := mustUnit("fl oz"), mustUnit("pt"), mustUnit("qt"), mustUnit("gal")
	text, x := n.numeral(amount.Quo(oz.Factor))
	worth := x.Mul(oz.Factor)
	fig := func(text string, nested bool) customary { return customary{figure{text, worth}, nested} }
	switch {
	case worth.Less(n.number("net-two-ways").Mul(pt.Factor)):
		return fig(text+" fl oz", false)
	case worth.Less(n.number("net-gallons-from").Mul(gal.Factor)):
		return fig(text+" fl oz ("+n.ladder(worth, "oz", qt, pt, oz)+")", true)
	}
	return fig(n.ladder(worth, "fl oz", gal, qt, pt, oz), false)
}

// ladder writes an amount in whole larger units, the remainder in ounces.
func (n *netWriter) ladder(amount exact.Rat, ounce string, units ...Unit) string {
	text := ""
	add := func(number, symbol string) {
		if text != "" {
			text += " "
		}
		text += number + " " + symbol
	}
	for i, u := range units {
		x := amount.Quo(u.Factor)
		if i == len(units)-1 {
			if x.Sign() > 0 || text == "" {
				number, _ := n.numeral(x)
				add(number, ounce)
			}
			break
		}
		if whole := exact.FromDecimal(x.Decimal(0, exact.Down)); whole.Sign() > 0 {
			add(whole.String(), u.Symbol)
			amount = amount.Sub(whole.Mul(u.Factor))
		}
	}
	return text
}

// soapWeight: 16 CFR 500.9. Under 1 lb ounces; from 1 lb pounds, with the
// remainder as the maker likes it. Random packages: decimal pounds.
func (n *netWriter) soapWeight(amount exact.Rat) customary {
	oz, lb := mustUnit("oz"), mustUnit("lb")
	small := amount.Less(lb.Factor)
	if n.o.Random || !small && n.o.Pounds == PoundsDecimal {
		x := cutPlaces(amount.Quo(lb.Factor), n.places())
		return customary{figure{decimals(x) + " lb", x.Mul(lb.Factor)}, false}
	}
	if !small && n.o.Pounds == PoundsFraction {
		if text, ok := n.fraction(amount.Quo(lb.Factor)); ok {
			return customary{figure{text + " lb", amount}, false}
		}
	}
	text, x := n.numeral(amount.Quo(oz.Factor))
	worth := x.Mul(oz.Factor)
	if small {
		return customary{figure{text + " oz", worth}, false}
	}
	return customary{figure{n.ladder(worth, "oz", lb, oz), worth}, false}
}

// soapFluid: 16 CFR 500.8(b): the largest unit that is reached, with decimals.
func (n *netWriter) soapFluid(amount exact.Rat) customary {
	u := mustUnit("fl oz")
	for _, symbol := range []string{"pt", "qt", "gal"} {
		if larger := mustUnit(symbol); larger.Factor.Cmp(amount) <= 0 {
			u = larger
		}
	}
	text, x := n.numeral(amount.Quo(u.Factor))
	return customary{figure{text + " " + u.Symbol, x.Mul(u.Factor)}, false}
}

// places returns the decimal places of a customary figure.
func (n *netWriter) places() int {
	most := n.whole("net-places")
	if n.unit.System == Metric {
		most = min(most, n.whole("net-converted-places"))
		if n.o.Places > 0 {
			most = min(most, n.o.Places)
		}
	}
	return most
}

// numeral writes a customary figure and returns what it says. A figure of the
// maker's own that has too many decimals is a common fraction where there is an
// allowed one; everything else is cut off.
func (n *netWriter) numeral(x exact.Rat) (string, exact.Rat) {
	cut := cutPlaces(x, n.places())
	if cut.Less(x) && n.unit.System != Metric {
		if text, ok := n.fraction(x); ok {
			return text, x
		}
	}
	return decimals(cut), cut
}

// fraction writes x as a whole number and a common fraction in lowest terms,
// if its denominator is an allowed one.
func (n *netWriter) fraction(x exact.Rat) (string, bool) {
	whole := exact.FromDecimal(x.Decimal(0, exact.Down))
	part := x.Sub(whole).Big()
	if part.Sign() == 0 {
		return whole.String(), true
	}
	allowed := n.r.facts["net-fractions"]
	if !slices.Contains(allowed.list(), part.Denom().String()) {
		return "", false
	}
	n.cite(allowed.source)
	text := part.Num().String() + "/" + part.Denom().String()
	if whole.Sign() > 0 {
		text = whole.String() + " " + text
	}
	return text, true
}

// fractionAllowed reports whether num/den may stand in a US statement: an
// allowed denominator, in lowest terms, less than one.
func (r *Rules) fractionAllowed(num, den int64) bool {
	if num <= 0 || num >= den || num%2 == 0 {
		return false // the allowed denominators are powers of two
	}
	return slices.Contains(r.facts["net-fractions"].list(), strconv.FormatInt(den, 10))
}
