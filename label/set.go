package label

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// DeclareSet judges a set in each of the markets. A set is not a mixture:
// shares, thresholds and limits are those of each product in it. The pack
// carries one list for each product, headed by its name; in the United States
// what all have in common stands first, in cumulative order, and the rest by
// product (21 CFR 701.3(o)(1)).
func (d *Desk) DeclareSet(s *Set, markets []inci.Market, o date.Occasion) []*Declaration {
	out := make([]*Declaration, len(markets))
	pack := s.Product
	pack.Keeps = s.durability()
	for i, m := range markets {
		out[i] = &Declaration{Product: &pack, Market: m, Rules: market.For(m), Occasion: o}
	}
	for _, h := range s.Holds {
		comp, bad := d.Composer.Compose(&h.Product.Piece)
		for i, m := range markets {
			x := &Declaration{Product: h.Product, Market: m, Rules: market.For(m), Occasion: o, Composition: comp}
			if comp == nil {
				for _, f := range bad {
					x.add(f)
				}
			} else {
				d.judge(x)
				for _, w := range x.Warnings { // due on the pack of the set too
					out[i].warn(w)
				}
			}
			x.answer(h.Product.Answers)
			x.Findings.Sort()
			out[i].Members = append(out[i].Members, x)
			out[i].Findings = append(out[i].Findings, x.Findings...)
		}
	}
	for _, x := range out {
		if len(s.Holds) == 0 {
			x.add(finding.Finding{Rule: "set.empty", Severity: finding.Error, Where: s.Pos, Message: "the set holds nothing", Cure: "write holds: with products and counts"})
			continue
		}
		x.setNet(s)
		d.judgeWords(x) // of the set itself
		d.judgePack(x, s)
		x.answer(s.Answers)
		x.Findings.Sort()
	}
	return out
}

// durability returns what the set states of itself, or what its products state
// at the shortest (the shortest component governs). A product whose date follows
// from its lot leaves the date of the set to be written in, whatever days the
// others state. Where one product bears a date and another an open-jar period,
// the set bears both.
func (s *Set) durability() Durability {
	own := s.Keeps
	if own.Keeps != 0 || own.Before != 0 {
		return own
	}
	k := Durability{SingleUse: true}
	unstated, byLot, dated := false, false, false
	var jars []int
	for i, h := range s.Holds {
		o := h.Product.Keeps
		if i == 0 {
			k.Pos = o.Pos
		}
		unstated = unstated || o.Keeps == 0 && o.Before == 0
		byLot = byLot || o.Before == 0 && bearsDate(o.Keeps)
		dated = dated || o.Before != 0 || bearsDate(o.Keeps)
		if o.bearsJar() {
			jars = append(jars, o.Opened) // 0 where it is not stated: then the set does not state it either
		}
		k.SingleUse = k.SingleUse && o.SingleUse
		if k.Keeps == 0 || o.Keeps != 0 && o.Keeps < k.Keeps {
			k.Keeps = o.Keeps
		}
		if k.Before == 0 || o.Before != 0 && o.Before < k.Before {
			k.Before = o.Before
		}
	}
	k.SingleUse = k.SingleUse || own.SingleUse
	if len(jars) > 0 && !k.SingleUse {
		k.Opened, k.Both = slices.Min(jars), dated && !unstated
	}
	if own.Opened != 0 {
		k.Opened = own.Opened
	}
	switch {
	case unstated: // one that states nothing leaves the set unstated
		k.Keeps, k.Before = 0, 0
	case byLot:
		k.Before = 0
	}
	return k
}

// bearsJar reports whether a product of a set bears an open-jar period: it keeps
// longer than what bears a date, and is not used up in one go.
func (k Durability) bearsJar() bool {
	return k.Before == 0 && k.Keeps != 0 && !bearsDate(k.Keeps) && !k.SingleUse
}

// bearsDate reports whether a product that keeps for so many months bears a date
// in the markets that ask for one.
func bearsDate(months int) bool {
	return slices.ContainsFunc(inci.Markets, func(m inci.Market) bool {
		dated, known := market.For(m).Dated(months)
		return known && dated
	})
}

func listsOf(s *Set, x *Declaration, langs []string) []List {
	if x.Market == inci.US && len(x.Members) > 1 {
		return assortment(s, x, langs)
	}
	var out []List
	for _, m := range x.Members {
		out = append(out, List{Lead: heading(m.Product, langs) + ": " + x.Rules.Heading, Text: m.Text()})
	}
	return out
}

// heading is the name that the piece itself bears, in the languages of the set.
func heading(p *Product, langs []string) string {
	var names []string
	for _, l := range langs {
		if t := p.TitleIn(l); !slices.Contains(names, t) {
			names = append(names, t)
		}
	}
	return strings.Join(names, " / ")
}

// assortment sorts what all products of a set have in common by the weight in
// the whole set, and gives the rest of each product in its own order.
func assortment(s *Set, x *Declaration, langs []string) []List {
	type sum struct {
		name  string
		grams exact.Rat
		entry Entry
		in    int
	}
	var all []sum
	for i, m := range x.Members {
		if m.Composition == nil {
			continue
		}
		whole := m.Composition.TypicalMass(m.basis()).Mul(s.Holds[i].pieces())
		for _, e := range m.Entries {
			n := slices.IndexFunc(all, func(o sum) bool { return o.name == e.Name })
			if n < 0 {
				n = len(all)
				all = append(all, sum{name: e.Name, entry: e})
			}
			all[n].grams = all[n].grams.Add(e.Share.Typical.Mul(whole))
			all[n].in++
		}
	}
	common := slices.DeleteFunc(slices.Clone(all), func(e sum) bool { return e.in < len(x.Members) })
	slices.SortStableFunc(common, func(a, b sum) int {
		return cmp.Or(x.tail(a.entry)-x.tail(b.entry), b.grams.Cmp(a.grams), a.entry.tie()-b.entry.tie(), cmp.Compare(a.name, b.name))
	})
	var shared []string
	for _, e := range common {
		shared = append(shared, e.name)
	}
	var out []List
	if len(shared) > 0 {
		out = append(out, List{Lead: strings.TrimSuffix(x.Rules.Heading, ":") + " in all:", Text: strings.Join(shared, ", ")})
	}
	for _, m := range x.Members {
		var rest []string
		for _, e := range m.Entries {
			if !slices.Contains(shared, e.Name) {
				rest = append(rest, e.Name)
			}
		}
		if len(rest) > 0 {
			out = append(out, List{Lead: fmt.Sprintf("Also in %s:", heading(m.Product, langs)), Text: strings.Join(rest, ", ")})
		}
	}
	return out
}

// setNet states the net quantity of the whole set: as written, or the sum of
// what its products state.
func (x *Declaration) setNet(s *Set) {
	count := 0
	var sum exact.Rat
	whole := true
	for _, h := range s.Holds {
		count += h.Count
		whole = whole && !h.Product.Net.IsZero() && !h.Product.Net.Volume
		sum = sum.Add(h.Product.Net.Amount.Mul(exact.Int(int64(h.Count))))
	}
	q := s.Net
	switch {
	case !q.IsZero() && whole && !q.Volume && sum.Less(q.Amount):
		x.add(finding.Finding{Rule: "net.over", Severity: finding.Error, Where: s.At("net"),
			Message: fmt.Sprintf("the set says %s, but its products state %s g together", q.Text, sum), Cure: fmt.Sprintf("state %s g or less", sum)})
	case q.IsZero() && whole:
		// A whole gram is as fine as the sum of several scales can promise.
		q = market.Quantity{Amount: exact.FromDecimal(sum.Decimal(0, exact.Down)), Text: sum.Decimal(0, exact.Down).String() + " g", Unit: "g", Pos: s.Pos}
	case q.IsZero() && s.Count > 0:
		x.setCount(s)
		return
	case q.IsZero():
		x.add(finding.Finding{Rule: "net.missing", Severity: finding.Error, Where: s.Pos,
			Message: "the net quantity of the set is not stated, and not every product in it states a weight", Cure: "write net: in the set"})
		return
	}
	x.Stated = q
	stmt, found := x.Rules.Net(q, count, market.NetOptions{CountWords: s.CountWords})
	x.Net = stmt
	for _, f := range found {
		f.Where = firstPos(f.Where, s.At("net"))
		x.add(f)
	}
	if !q.Volume {
		x.judgeSetMass(s)
	}
}

// setCount judges a set that states how many pieces it holds and no weight, by
// the rules of the market for a count alone.
func (x *Declaration) setCount(s *Set) {
	stmt, found := x.Rules.Net(market.Quantity{}, s.Count, market.NetOptions{CountWords: s.CountWords})
	x.Net = stmt
	for _, f := range found {
		f.Where = firstPos(f.Where, s.At("count"))
		x.add(f)
	}
}

// judgeSetMass compares what the set states with the lowest mass of its pieces
// after drying.
func (x *Declaration) judgeSetMass(s *Set) {
	var lowest exact.Rat
	for i, m := range x.Members {
		if m.Composition == nil {
			return
		}
		lowest = lowest.Add(m.Composition.Mass(formula.Finished).Lo.Mul(s.Holds[i].pieces()))
	}
	if lowest.Less(x.Net.Larger) {
		x.add(finding.Finding{Rule: "net.over", Severity: finding.Error, Where: s.At("net"),
			Message: fmt.Sprintf("the set says %s, but its recipes leave %s g at the greatest drying", x.Net.Text, lowest.Decimal(1, exact.Down)),
			Cure:    fmt.Sprintf("state %s g or less, or weigh more into the pieces", lowest.Decimal(0, exact.Down)), Source: x.netSource()})
	}
}

// pieces returns how many pieces the set holds of the product, which may be a
// pack of several itself.
func (h Held) pieces() exact.Rat { return exact.Int(int64(h.Count * max(h.Product.Count, 1))) }
