package label

import (
	"slices"
	"strings"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/inci"
)

// when tells occasions apart by which of the duties bind that concern a product
// and which of its answers are given: nothing else in a declaration depends on
// the day. Most days on which a rule of a market switches are about substances
// that the product does not hold.
func (d *Desk) when(x *Declaration) func(date.Occasion) string {
	concern := d.concerning(x)
	return func(o date.Occasion) string {
		var bits []byte
		bit := func(yes bool) {
			if bits = append(bits, '0'); yes {
				bits[len(bits)-1] = '1'
			}
		}
		for _, u := range concern {
			bit(u.Binds(o))
		}
		for _, a := range x.Product.Answers {
			bit(a.Date <= o.On)
		}
		return string(bits)
	}
}

// eachDay tells occasions apart by their days.
func eachDay(o date.Occasion) string { return o.On.String() + " " + o.Placed.String() }

// again judges what was declared on another occasion.
func (d *Desk) again(x *Declaration, o date.Occasion) *Declaration {
	if x.Composition == nil {
		return d.Declare(x.Product, []inci.Market{x.Market}, o)[0]
	}
	return d.declare(x.Product, x.Composition, nil, x.Market, o)
}

// concerning returns the dated duties that a judgement of the product may ask
// about: those of its substances, and those that are about no substance.
func (d *Desk) concerning(x *Declaration) []date.Duty {
	var all []date.Duty
	present := map[string]bool{}
	material := func(m *formula.Material) {
		all = append(all, d.dutiesOn(m, x.Market)...)
		for _, t := range d.onTopics(m) {
			present[t.topic] = true
		}
	}
	if x.Composition != nil {
		for _, c := range []*formula.Composition{x.Composition, x.Composition.Weighed()} {
			for i := range c.Items {
				material(c.Items[i].Material)
				for _, l := range sheet(c.Items[i].Material).Later {
					material(l.Material)
				}
			}
		}
	}
	for _, a := range inci.Allergens(x.Market) { // of all: a sheet has to answer also for those it does not hold
		all = append(all, a.Duty)
		for _, b := range a.Members {
			all = append(all, b.Duty)
		}
	}
	all = append(all, x.Rules.DutiesAbout(func(topic string) bool {
		_, ofSubstance := classTopics[strings.TrimSuffix(topic, beads)]
		return !ofSubstance || present[strings.TrimSuffix(topic, beads)]
	})...)
	return date.Distinct(all)
}

// dutiesOn returns the dated duties of everything that a material mentions, or
// is known to carry, in a market.
func (d *Desk) dutiesOn(m *formula.Material, in inci.Market) []date.Duty {
	k := materialIn{m, in}
	if v, ok := d.dated.Load(k); ok {
		return v.([]date.Duty)
	}
	var all []date.Duty
	limits := func(k formula.Key) {
		for _, l := range append(slices.Clone(inci.LimitsOf(k, in)), inci.ColourLimits(k, in)...) {
			all = append(all, l.Duty)
		}
	}
	for _, k := range d.mentions(m) {
		limits(k)
		for _, b := range inci.Prohibited(k, in) {
			all = append(all, b.Duty)
		}
		for _, c := range inci.Carries(k) {
			limits(c.Constituent)
		}
	}
	all = date.Distinct(all)
	d.dated.Store(k, all)
	return all
}
