package market

import (
	"errors"
	"sync"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// Measure says which letter a height is measured on.
type Measure uint8

const (
	LowerO  Measure = iota // the lower-case o where the text has lower-case letters, else the capital
	Capital                // the capital letter
	Numeral                // the figures
)

// String returns the letter in words.
func (m Measure) String() string { return [...]string{"lower-case o", "capital", "figures"}[m] }

var measures = map[string]Measure{"lower o": LowerO, "capital": Capital, "numeral": Numeral}

// Height is the smallest height of printed letters.
type Height struct {
	Min    int64 // micrometres, rounded up; 0 for none
	On     Measure
	Rule   string // the rule in words
	Source finding.Citation
}

// TextKind is a kind of text that has a height of its own.
type TextKind string

const (
	ListLetters    TextKind = "list"        // the list of ingredients
	WarningLetters TextKind = "warning"     // warnings and cautions
	NetLetters     TextKind = "net-letters" // letters of the net statement other than its figures
	OtherLetters   TextKind = "other"       // everything else a pack must say
)

// ErrNoPanel is returned by NetHeight where the market goes by the principal
// display panel and its area is not known.
var ErrNoPanel = errors.New("the letters of the net statement go by the principal display panel of the pack, " +
	"and the pack is not measured; write its shape and size, as in pack: ball 65 mm")

// heightRow is a row of data/heights.csv. A band is open below and closed
// above: the upper bound belongs to the band.
type heightRow struct {
	what, driver string
	above, to    exact.Rat // in g or ml, or mm2; to is 0 for no upper bound
	min          exact.Rat // micrometres, exact
	on           Measure
	rule         string
	source       finding.Citation
}

func (h heightRow) height() Height {
	return Height{h.min.Decimal(0, exact.Up).IntPart(), h.on, h.rule, h.source}
}

func (h heightRow) holds(x exact.Rat) bool {
	return h.above.Less(x) && (h.to.IsZero() || x.Cmp(h.to) <= 0)
}

var heightRows = sync.OnceValue(func() map[inci.Market][]heightRow {
	all := map[inci.Market][]heightRow{}
	for _, r := range load("heights.csv") {
		bound := func(col string) exact.Rat {
			switch {
			case r.text(col) == "":
				return exact.Rat{}
			case r.text("driver") == "quantity":
				return r.number(col)
			}
			return r.measure(col)
		}
		on, ok := measures[r.text("on")]
		if !ok {
			r.fail("on", "unknown measure")
		}
		m := inci.Market(r.text("market"))
		all[m] = append(all[m], heightRow{r.text("what"), r.text("driver"), bound("above"), bound("to"),
			r.measure("height").Mul(exact.Int(1000)), on, r.text("rule"), r.cite()})
	}
	return all
})

// NetHeight returns the smallest height of the net statement of a cosmetic.
// The panel lies between areaLow and areaHigh square millimetres; EU, GB and NI
// go by the quantity and do not read it. Moulded says that the statement is
// blown, embossed or moulded instead of printed. Where a market goes by the
// panel and areaHigh is 0, the error is ErrNoPanel.
func (r *Rules) NetHeight(q Quantity, areaLow, areaHigh exact.Rat, moulded bool) (Height, error) {
	return r.netHeight("net", q, areaLow, areaHigh, moulded)
}

// SoapNetHeight is NetHeight for true soap, which the US keeps apart from
// cosmetics (16 CFR part 500). Other markets do not.
func (r *Rules) SoapNetHeight(q Quantity, areaLow, areaHigh exact.Rat, moulded bool) (Height, error) {
	for _, row := range heightRows()[r.Market] {
		if row.what == "net-soap" {
			return r.netHeight("net-soap", q, areaLow, areaHigh, moulded)
		}
	}
	return r.NetHeight(q, areaLow, areaHigh, moulded)
}

func (r *Rules) netHeight(what string, q Quantity, areaLow, areaHigh exact.Rat, moulded bool) (Height, error) {
	var best, least, add heightRow
	for _, row := range heightRows()[r.Market] {
		switch {
		case row.what == what+"-moulded" && moulded:
			add = row
		case row.what != what:
		case row.driver == "quantity":
			if row.holds(q.Amount) {
				best, least = row, row
			}
		case areaHigh.Sign() <= 0:
			return Height{}, ErrNoPanel
		default: // heights grow with the panel: the upper area asks for the larger letters
			if row.holds(areaHigh) {
				best = row
			}
			if row.holds(areaLow) {
				least = row
			}
		}
	}
	if best.min.IsZero() {
		return Height{}, errors.New("no quantity is stated, so no letter height follows from it")
	}
	if least.rule != "" && least.rule != best.rule {
		best.rule += " (the panel lies on the edge of two bands; the larger letters are asked for)"
	}
	if !add.min.IsZero() {
		best.min = best.min.Add(add.min)
		best.rule += "; " + add.rule
		best.source = joinSources([]finding.Citation{best.source, add.source})
	}
	return best.height(), nil
}

// TextHeight returns the smallest height for text of the kind on a pack of the
// given outer surface in square millimetres. Where the law names no height it is
// our own floor of legibility, which also holds where the law allows less. A
// smaller height that the law is only remembered to allow is not used.
func (r *Rules) TextHeight(kind TextKind, surface exact.Rat) Height {
	var legal heightRow
	for _, row := range heightRows()[r.Market] {
		if TextKind(row.what) != kind {
			continue
		}
		small := row.driver == "surface"
		switch {
		case !small:
			legal = row
		case row.source.Seen == finding.Yes && surface.Sign() > 0 && surface.Less(row.to):
			return larger(row, floorHeight()).height()
		}
	}
	return larger(legal, floorHeight()).height()
}

func floorHeight() heightRow { return heightRows()["any"][0] }

func larger(a, b heightRow) heightRow {
	if a.min.Less(b.min) {
		return b
	}
	return a
}

// FractionHeight returns the smallest height of each figure of a common
// fraction in a net statement of height h: half of it in the US, h elsewhere.
func (r *Rules) FractionHeight(h Height) Height {
	f, ok := r.fact("fraction-share")
	if !ok {
		return h
	}
	h.Min = exact.Int(h.Min).Mul(f.number("value")).Decimal(0, exact.Up).IntPart()
	h.On, h.Rule, h.Source = Numeral, f.words, f.source
	return h
}

// EMarkHeight returns the smallest height of the drawn e-mark, measured on its
// own outline; Min is 0 where the market has none.
func (r *Rules) EMarkHeight() Height {
	f, ok := r.fact("e-mark")
	if !ok {
		if f, ok = r.fact("e-mark-soap"); !ok {
			return Height{}
		}
	}
	mm := f.number("value").Mul(exact.Int(1000))
	return Height{mm.Decimal(0, exact.Up).IntPart(), Capital, "e-mark at least " + f.value + " mm high", f.source}
}

// EMarkRange returns the least and the greatest quantity in g or ml that the
// e-mark may stand on, or false where the market has none for cosmetics.
func (r *Rules) EMarkRange() (low, high exact.Rat, ok bool) {
	from, ok := r.fact("e-mark-from")
	to, too := r.fact("e-mark-to")
	if !ok || !too {
		return low, high, false
	}
	return from.number("value"), to.number("value"), true
}

// seenRank orders how a fact was come by, the weakest last.
var seenRank = map[finding.Seen]int{finding.Yes: 0, finding.Practice: 1, finding.Secondary: 2, finding.Memory: 3}

// joinSources makes one citation of several: all texts once, and the weakest
// way of having seen them.
func joinSources(cs []finding.Citation) finding.Citation {
	var all finding.Citation
	have := map[string]bool{}
	for _, c := range cs {
		if c.Text == "" || have[c.Text] {
			continue
		}
		have[c.Text] = true
		if all.Text != "" {
			all.Text += "; "
		}
		all.Text += c.Text
		if all.Seen == "" || seenRank[c.Seen] > seenRank[all.Seen] {
			all.Seen = c.Seen
		}
	}
	return all
}
