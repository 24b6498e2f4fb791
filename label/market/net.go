package market

import (
	"fmt"
	"strings"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// NetOptions are the choices a maker has in the net statement. The zero value
// is the statement of a cosmetic sold by weight or measure.
type NetOptions struct {
	CountWords string // what the pieces are called, in the plural: "bath fizzes"; joins the count to the statement

	EMark     bool // the maker elects the e-mark, with the records that go with it
	FirstUnit FirstUnit
	Pounds    PoundStyle
	Places    int  // decimal places of a converted customary figure; 0 for as many as the market allows
	Comma     bool // decimal comma, where the language of a metric statement uses one

	Soap     bool // true soap, which the US judges by 16 CFR part 500
	Random   bool // with Soap: each pack is weighed and marked with its own weight, in decimal pounds
	Labelled bool // with Soap: the units inside are labelled themselves, so number, each and total are stated

	Canadian bool // CA: add the Canadian unit to the metric one

	Sample bool // EU, GB, NI: a free sample, or a pack of a single application
}

// FirstUnit says which of two systems stands first.
type FirstUnit uint8

const (
	CustomaryFirst FirstUnit = iota
	MetricFirst
)

// PoundStyle says how pounds are written in a statement of true soap.
type PoundStyle uint8

const (
	PoundsOunces   PoundStyle = iota // 1 lb 8 oz
	PoundsFraction                   // 1 1/2 lb
	PoundsDecimal                    // 1.5 lb
)

// NetStatement is the net quantity as a market wants it printed.
type NetStatement struct {
	Text      string    // for print, "Net Wt 5.64 oz (160 g)"
	Primary   string    // the figure the maker stated, "160 g"
	Secondary string    // the figure converted from it, cut off: "5.64 oz"; may be empty
	Larger    exact.Rat // grams or ml of the larger figure printed, which binds; 0 for a count alone
	EMark     bool      // Text holds the e-mark
	Exempt    string    // why this pack needs no statement, or ""; the caller decides whether to print it
	Sources   []finding.Citation
}

// EMark is the estimated sign. Its own outline must be 3 mm high.
const EMark = "℮"

// Net writes the net quantity for the market. Count is the number of pieces in
// the pack, 0 or 1 for one. Exactly what the maker stated is the primary figure;
// the other system is converted from it and cut off, never rounded up.
func (r *Rules) Net(q Quantity, count int, o NetOptions) (NetStatement, []finding.Finding) {
	n := netWriter{r: r, q: q, o: o, unit: q.unit()}
	if q.Amount.Sign() <= 0 {
		return n.countAlone(count)
	}
	n.exemptions()
	if n.value("net-system") == "dual" {
		n.us(count)
	} else {
		n.metricOnly(count)
	}
	return n.out, n.findings
}

// netWriter writes one statement.
type netWriter struct {
	r        *Rules
	q        Quantity
	o        NetOptions
	unit     Unit // as the maker wrote it
	out      NetStatement
	findings []finding.Finding
}

// value returns the value of a rule, and notes its source. With Soap, a rule
// of true soap stands in for the one of cosmetics.
func (n *netWriter) value(rule string) string {
	if n.o.Soap {
		if f, ok := n.r.fact(rule + "-soap"); ok {
			n.cite(f.source)
			return f.value
		}
	}
	f, ok := n.r.fact(rule)
	if ok {
		n.cite(f.source)
	}
	return f.value
}

func (n *netWriter) number(rule string) exact.Rat {
	s := n.value(rule)
	if s == "" {
		return exact.Rat{}
	}
	return exact.Must(s)
}

func (n *netWriter) whole(rule string) int { return int(n.number(rule).Floor().Int64()) }

func (n *netWriter) cite(c finding.Citation) {
	for _, have := range n.out.Sources {
		if have == c {
			return
		}
	}
	n.out.Sources = append(n.out.Sources, c)
}

func (n *netWriter) find(code string, s finding.Severity, source finding.Citation, message, cure string) {
	n.findings = append(n.findings, finding.Finding{
		Rule:     n.r.code("net." + code),
		Severity: s,
		Market:   string(n.r.Market),
		Where:    n.q.Pos,
		Message:  message,
		Cure:     cure,
		Source:   source,
	})
}

// code returns the code of a finding of this market.
func (r *Rules) code(s string) finding.Code { return finding.Code(string(r.Market) + "." + s) }

// countAlone judges a pack that states no weight or measure.
func (n *netWriter) countAlone(count int) (NetStatement, []finding.Finding) {
	f, _ := n.r.fact("net-count")
	switch {
	case n.q.Amount.Sign() < 0:
		n.find("missing", finding.Error, finding.Citation{}, fmt.Sprintf("the net quantity %q is less than nothing", n.q.Text), "write what is in the pack, as in net: 160 g")
	case count <= 0:
		n.find("missing", finding.Error, f.source, "no net quantity is stated", "write what is in the pack, as in net: 160 g")
	case f.value != "yes":
		n.find("count-alone", finding.Error, f.source,
			fmt.Sprintf("the net quantity is a count alone (%s), which does not tell the amount", n.counted(count)),
			"state the weight as well, as in net: 480 g")
	case count == 1:
		n.find("single", finding.Question, f.source,
			"no weight or measure is stated; that may only be left out where the piece is sold by number and its weight does not matter",
			"state the weight, as in net: 160 g, or answer that it is normally sold singly")
		n.out.Exempt = "one piece, normally sold singly, as the maker answers"
		n.cite(f.source)
	default:
		n.find("count-question", finding.Question, f.source,
			fmt.Sprintf("the net quantity is a count alone (%s); that may only stand where such pieces are normally sold by number", n.counted(count)),
			"state the weight, as in net: 480 g, or answer that they are normally sold by number")
		n.out.Text, n.out.Primary = n.counted(count), n.counted(count)
		n.cite(f.source)
	}
	return n.out, n.findings
}

func (n *netWriter) counted(count int) string {
	if n.o.CountWords == "" {
		return fmt.Sprint(count)
	}
	return fmt.Sprintf("%d %s", count, n.o.CountWords)
}

// exemptions notes where the law asks for no statement at all.
func (n *netWriter) exemptions() {
	if f, ok := n.r.fact("net-exempt-below"); ok && n.q.Amount.Less(f.number("value")) {
		n.out.Exempt = fmt.Sprintf("under %s g or ml", f.value)
		n.cite(f.source)
	}
	if f, ok := n.r.fact("net-single-use"); ok && n.o.Sample {
		n.out.Exempt = "a free sample or a pack of a single application"
		n.cite(f.source)
	}
}

// withCount puts the count before the statement.
func (n *netWriter) withCount(count int, text string) string {
	if count < 2 || n.o.CountWords == "" {
		return text
	}
	return n.counted(count) + ", " + text
}

// spelled returns the symbol of a unit as the market spells it.
func (n *netWriter) spelled(symbol string) string {
	for _, s := range strings.Fields(n.value("net-spell-litre")) {
		if strings.EqualFold(s, symbol) {
			return s
		}
	}
	return symbol
}
