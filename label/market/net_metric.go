package market

import (
	"fmt"
	"strings"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// figure is a number with its unit as printed, and what it says.
type figure struct {
	text  string
	worth exact.Rat // grams or millilitres
}

// metricOnly writes the statement of the markets that go by SI units.
func (n *netWriter) metricOnly(count int) {
	fig := n.metric()
	text := fig.text
	n.out.Larger = fig.worth
	if n.unit.System == Metric {
		n.out.Primary = fig.text
	} else {
		n.out.Primary, n.out.Secondary = n.q.Text, fig.text
		f := n.r.facts["net-system"]
		n.find("converted", finding.Note, f.source,
			fmt.Sprintf("the net quantity is stated as %s and printed as %s, cut off so that it never overstates", n.q.Text, fig.text),
			"if you fill by weight in grams, state it in grams")
	}
	if f, ok := n.r.fact("net-canadian"); ok && n.o.Canadian {
		c := n.canadian()
		n.cite(f.source)
		n.out.Secondary = c.text
		n.out.Larger = exact.Max(fig.worth, c.worth)
		text += " (" + c.text + ")"
	}
	n.out.Text = n.withCount(count, text)
	if n.o.EMark {
		n.eMark()
	}
}

// metric returns the SI figure: the maker's own where it is metric, exact; else
// converted and cut off.
func (n *netWriter) metric() figure {
	u := n.metricUnit()
	x := n.q.Amount.Quo(u.Factor)
	cut := x
	switch {
	case n.unit.System != Metric:
		cut = cutDigits(x, n.whole("net-digits"))
	case n.value("net-limit-digits") == "yes":
		cut = cutDigits(x, n.whole("net-digits"))
	default:
		cut = cutPlaces(x, 3)
	}
	if n.unit.System == Metric && cut.Less(x) {
		n.find("figures", finding.Note, n.r.facts["net-digits"].source,
			fmt.Sprintf("%s has more figures than are printed; %s is printed, which never overstates", n.q.Text, cut),
			"state a rounder quantity that every pack holds")
	}
	return n.printed(cut, u)
}

// metricUnit chooses the unit: by size where the market says so, else the
// maker's own, else by size.
func (n *netWriter) metricUnit() Unit {
	small, large := "g", "kg"
	if n.q.Volume {
		small, large = "ml", "l"
	}
	if n.value("net-kilo") != "yes" && n.unit.System == Metric && n.unit.Symbol != "mg" {
		return n.unit
	}
	if thousand := mustUnit(large); thousand.Factor.Cmp(n.q.Amount) <= 0 {
		return thousand
	}
	return mustUnit(small)
}

func (n *netWriter) printed(x exact.Rat, u Unit) figure {
	text := decimals(x)
	if n.o.Comma {
		text = strings.ReplaceAll(text, ".", ",")
	}
	return figure{text + " " + n.spelled(u.Symbol), x.Mul(u.Factor)}
}

// canadian returns the figure in Canadian units: ounces avoirdupois, or the
// fluid ounces of the imperial gallon.
func (n *netWriter) canadian() figure {
	u, symbol := mustUnit("oz"), "oz"
	if n.q.Volume {
		u, symbol = mustUnit("imp fl oz"), "fl oz"
	}
	x := cutDigits(n.q.Amount.Quo(u.Factor), n.whole("net-digits"))
	return figure{decimals(x) + " " + symbol, x.Mul(u.Factor)}
}

// eMark adds the estimated sign where the quantity may bear it.
func (n *netWriter) eMark() {
	from, ok := n.r.fact("e-mark-from")
	if !ok {
		n.find("e-mark", finding.Warning, n.r.facts["net-system"].source,
			"the e-mark means nothing in this market and was left out", "keep it to packs for the EU, GB or NI")
		return
	}
	to := n.r.facts["e-mark-to"]
	if n.q.Amount.Less(from.number("value")) || to.number("value").Less(n.q.Amount) {
		n.find("e-mark", finding.Error, from.source,
			fmt.Sprintf("the e-mark is for %s to %s g or ml; this pack states %s", from.value, to.value, n.q.Text), "leave the e-mark out")
		return
	}
	n.out.Text += " " + EMark
	n.out.EMark = true
	n.value("e-mark")
}

// cutPlaces cuts x off after so many decimal places.
func cutPlaces(x exact.Rat, places int) exact.Rat {
	return exact.FromDecimal(x.Decimal(places, exact.Down))
}

// cutDigits cuts x off after so many significant digits.
func cutDigits(x exact.Rat, digits int) exact.Rat {
	places, scaled := digits, x
	for one := exact.Int(1); one.Cmp(scaled) <= 0; places-- {
		scaled = scaled.Quo(exact.Int(10))
	}
	for tenth := exact.Frac(1, 10); scaled.Sign() > 0 && scaled.Less(tenth); places++ {
		scaled = scaled.Mul(exact.Int(10))
	}
	if places >= 0 {
		return cutPlaces(x, places)
	}
	unit := exact.Int(1)
	for ; places < 0; places++ {
		unit = unit.Mul(exact.Int(10))
	}
	return cutPlaces(x.Quo(unit), 0).Mul(unit)
}

// decimals prints a number whose decimals end, with a leading zero and without
// final zeros.
func decimals(x exact.Rat) string { return x.String() }
