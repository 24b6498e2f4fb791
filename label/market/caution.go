package market

import (
	"slices"
	"strings"
	"sync"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// Caution is one row of data/cautions.csv: what a market, or the practice of
// the trade, says about a topic, such as borates or a slippery tub. Which
// products a topic concerns is decided in package label.
type Caution struct {
	Topic    string
	Rule     finding.Code
	Uses     []string // the uses it is about; empty for every use
	Severity finding.Severity
	Limit    exact.Rat // grams, or a fraction of the finished product; read only if HasLimit
	HasLimit bool
	// LimitText is the limit for messages: "1/2 oz (14.17 g)", "0.022 %".
	LimitText string
	From      bool      // a figure equal to Limit is caught too
	Classes   []string  // of material that it counts or looks for; see the trade list of package inci
	Words     []Pattern // what a caution on the pack says where the matter is settled
	Phrase    string    // id of the wording it asks for, or ""
	Says      string
	Cure      string
	Duty      date.Duty
	Source    finding.Citation
}

// Passes reports whether a figure keeps the limit.
func (c *Caution) Passes(x exact.Rat) bool {
	n := x.Cmp(c.Limit)
	return n < 0 || n == 0 && !c.From
}

// Has reports whether one of the row's words stands in the text.
func (c *Caution) Has(text string) bool {
	words := Words(text)
	return slices.ContainsFunc(c.Words, func(p Pattern) bool { return p.In(words) })
}

type cautionKey struct {
	market inci.Market
	topic  string
}

var cautions = sync.OnceValue(func() map[cautionKey][]*Caution {
	all := map[cautionKey][]*Caution{}
	for _, r := range load("cautions.csv") {
		for _, m := range r.words("markets") {
			c := &Caution{
				Topic: r.text("topic"), Rule: ruleOf(r.text("rule"), inci.Market(m)), Uses: r.uses("use"), Severity: r.severity("severity"),
				Classes: r.words("classes"), Words: parsePatterns(r.text("words")), Phrase: r.text("phrase"), Says: r.text("says"), Cure: r.text("cure"),
				Duty: date.Duty{New: r.date("new"), All: r.date("all")}, Source: r.cite(),
			}
			c.Limit, c.From, c.HasLimit = r.limit("limit")
			if _, c.LimitText, _ = strings.Cut(r.text("limit"), " "); c.HasLimit && !strings.HasSuffix(c.LimitText, "%") {
				c.LimitText += " (" + c.Limit.Decimal(2, exact.Down).String() + " g)"
			}
			if _, known := phrases().byID[c.Phrase]; !known && c.Phrase != "" {
				r.fail("phrase", "no such wording")
			}
			k := cautionKey{inci.Market(m), c.Topic}
			all[k] = append(all[k], c)
		}
	}
	return all
})

// Caution returns the first row about the topic that binds on the occasion and
// is about the use at hand; rows of later law stand before those of older law.
// It is shared and not to be changed. Nil: nothing is said there.
func (r *Rules) Caution(topic string, o date.Occasion, uses func(string) bool) *Caution {
	for _, c := range cautions()[cautionKey{r.Market, topic}] {
		if c.Duty.Binds(o) && (len(c.Uses) == 0 || slices.ContainsFunc(c.Uses, uses)) {
			return c
		}
	}
	return nil
}

func ruleOf(code string, m inci.Market) finding.Code {
	return finding.Code(strings.ReplaceAll(code, "{market}", string(m)))
}

var severities = map[string]finding.Severity{"note": finding.Note, "warning": finding.Warning, "question": finding.Question, "error": finding.Error}

func (r row) severity(col string) finding.Severity {
	s, ok := severities[r.text(col)]
	if !ok {
		r.fail(col, "no severity: "+r.text(col))
	}
	return s
}

func (r row) uses(col string) []string {
	if u := r.words(col); !slices.Equal(u, []string{"any"}) {
		return u
	}
	return nil
}

// limit reads "> 1/2 oz" (grams), ">= 0.01 %" (a fraction) or nothing.
func (r row) limit(col string) (x exact.Rat, from, ok bool) {
	sign, figure, ok := strings.Cut(r.text(col), " ")
	if !ok {
		return x, false, false
	}
	if sign != ">" && sign != ">=" {
		r.fail(col, "neither > nor >=")
	}
	num, unit, _ := strings.Cut(figure, " ")
	x, err := exact.Parse(num)
	if err != nil {
		r.fail(col, err)
	}
	if unit == "%" {
		return x.Quo(exact.Int(100)), sign == ">=", true
	}
	u, known := UnitNamed(unit)
	if !known || u.Dimension != Mass {
		r.fail(col, "no unit of weight: "+unit)
	}
	return x.Mul(u.Factor), sign == ">=", true
}
