package label

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// judgeCautions goes through what the market, or the practice of the trade, says
// of what is in the piece. What it says stands in market/data/cautions.csv; which
// substances a topic is about, in the classes of package inci and in
// market/data/topics.csv.
func (d *Desk) judgeCautions(x *Declaration) {
	u := usesOf(x.Product)
	for _, t := range d.present(x) {
		topic := t.topic
		if topic == "plastic" && (t.grains || u.has("scrub")) {
			topic += beads
		}
		if c := x.Rules.Caution(topic, x.Occasion, u.has); c != nil {
			d.judgeTopic(x, c, t)
		}
	}
	d.judgeFoamBath(x, u)
	x.judgeTub(u)
	if c := x.Rules.Caution("offer", x.Occasion, u.has); c != nil {
		x.tellOnce(c)
	}
}

// tradeClasses are the classes under which substances are sold as built-in trade
// materials. Of blends only the surfactants count: they lead with one, while an
// emulsifying wax leads with a plain fatty alcohol.
var tradeClasses = sync.OnceValue(func() map[formula.Key][]string {
	all := map[formula.Key][]string{}
	for _, t := range inci.TradeMaterials() {
		if !t.Blend || t.Class == "surfactant" {
			all[t.Key] = append(all[t.Key], t.Class)
		}
	}
	return all
})

// soldAs reports whether a substance is sold as a material of one of the classes.
func soldAs(k formula.Key, classes []string) bool {
	return slices.ContainsFunc(tradeClasses()[k], func(c string) bool { return slices.Contains(classes, c) })
}

// nanoName gives the name of a nanomaterial the word of Art. 19(1)(g) in its
// exact letters.
func nanoName(text string, k formula.Key) string {
	word, _ := market.PhraseFor("nano", "")
	if n := len(text) - len(word.Text); inci.Nano(k) && n >= 0 && strings.EqualFold(text[n:], word.Text) {
		return text[:n] + word.Text
	}
	return text
}

// onTopic is a part or constituent of a material that a topic is about.
type onTopic struct {
	topic  string
	key    formula.Key
	part   int // -1 for a constituent
	inside exact.Rat
}

// classTopics are the topics that a class of substances falls under; those of
// single substances are in market/data/topics.csv.
var classTopics = map[string]func(formula.Key) bool{
	"aha": inci.AHA, "borate": inci.Borate, "nano": inci.Nano, "plastic": inci.Microplastic, "formaldehyde": inci.ReleasesFormaldehyde,
}

// beads ends the topic of particles that are there to scrub.
const beads = "-bead"

// topicsOf returns the topics that a substance falls under.
func topicsOf(k formula.Key) []string {
	all := slices.Clone(market.Topics(k))
	for _, t := range []string{"aha", "borate", "nano", "plastic", "formaldehyde"} {
		if classTopics[t](k) {
			all = append(all, t)
		}
	}
	return all
}

// onTopics returns the parts and constituents of a material that topics are
// about. Alkali counts where it is what the material is, in water or not: the
// trace in a bought soap base is the supplier's.
func (d *Desk) onTopics(m *formula.Material) []onTopic {
	if v, ok := d.topics.Load(m); ok {
		return v.([]onTopic)
	}
	var all []onTopic
	alkali := !slices.ContainsFunc(m.Parts, func(p formula.Part) bool {
		return p.Key != "AQUA" && !slices.Contains(market.Topics(p.Key), "lye")
	})
	for i, p := range m.Parts {
		for _, t := range topicsOf(p.Key) {
			if p.Range.Hi.Sign() > 0 && (t != "lye" || alkali) {
				all = append(all, onTopic{t, p.Key, i, exact.Rat{}})
			}
		}
	}
	for _, c := range m.Constituents {
		for _, t := range topicsOf(c.Key) {
			whole := slices.ContainsFunc(all, func(o onTopic) bool { return o.topic == t && o.part >= 0 })
			if c.Range.Hi.Sign() > 0 && t != "aha" && !whole { // menthol in peppermint oil is in its weight already
				all = append(all, onTopic{t, c.Key, -1, c.Range.Hi})
			}
		}
	}
	d.topics.Store(m, all)
	return all
}

// presence is what of a topic is in the piece.
type presence struct {
	topic  string
	grams  exact.Rat // at most, by the suppliers' ranges
	from   []source
	grains bool // bought to scrub
}

// source is so much of a substance out of one material.
type source struct {
	material *formula.Material
	key      formula.Key
	grams    exact.Rat
}

// present returns the topics that the piece touches, in the order of its
// materials.
func (d *Desk) present(x *Declaration) []presence {
	var all []presence
	for i := range x.Composition.Items {
		it := &x.Composition.Items[i]
		for _, on := range d.onTopics(it.Material) {
			n := slices.IndexFunc(all, func(p presence) bool { return p.topic == on.topic })
			if n < 0 {
				n = len(all)
				all = append(all, presence{topic: on.topic})
			}
			g := it.Weight.Mul(on.inside)
			if on.part >= 0 {
				_, _, g = x.Composition.PartGrams(i, on.part, formula.Finished)
			}
			p := &all[n]
			p.grams = p.grams.Add(g)
			p.from = append(p.from, source{it.Material, on.key, g})
			p.grains = p.grains || sheet(it.Material).Class == "exfoliant"
		}
	}
	return all
}

// judgeTopic says what a row has to say of what is there, unless it keeps the
// limit or a caution on the pack says it.
func (d *Desk) judgeTopic(x *Declaration, c *market.Caution, p presence) {
	whole := x.Composition.Mass(formula.Finished).Lo
	share := p.grams.Quo(whole)
	switch {
	case c.HasLimit && c.Passes(share), x.Product.cautions(c):
		return
	case c.Topic == "aha" && c.Severity == finding.Note:
		x.tellOnce(c)
		return
	case c.Topic == "borate" && c.Severity == finding.Error && slices.ContainsFunc(p.from, func(s source) bool { return x.banned(s.key) }):
		return // said by judgeBans, with the entry
	case c.Topic == "oil-eucalyptus" && usesOf(x.Product).has("solid"):
		return
	}
	f := finding.Finding{Rule: c.Rule, Severity: c.Severity, Where: firstPos(p.from[0].material.Pos, x.Product.Pos), Cure: c.Cure, Source: c.Source,
		Message: fmt.Sprintf("%s, %s of the piece: %s", x.amounts(p.from), x.sharePrinted(c, share), c.Says)}
	if c.HasLimit {
		f.Message += fmt.Sprintf("; the limit is %s %% of the finished product", c.Limit.Mul(hundred))
		f.Cure = fmt.Sprintf("use %s %s g in a piece; or %s", atMost(c), c.Limit.Mul(whole).Decimal(3, exact.Down), f.Cure)
	}
	solid := func(s source) bool { return slices.Contains([]string{"glitter", "exfoliant"}, sheet(s.material).Class) }
	if p.topic == "plastic" && c.Severity == finding.Error && !slices.ContainsFunc(p.from, solid) {
		f.Severity = finding.Question // a name does not tell a grain from a solution
		f.Message += "; whether it is in solid particles only you can tell"
		f.Cure += ", or write answers: that it is dissolved or liquid"
	}
	x.add(f)
}

func atMost(c *market.Caution) string {
	if c.From {
		return "less than"
	}
	return "at most"
}

func (x *Declaration) sharePrinted(c *market.Caution, share exact.Rat) string {
	if c.HasLimit {
		return PercentBeside(share, c.Limit, exact.Up)
	}
	return Show(formula.Share{Min: share, Typical: share, Max: share}).Max + " %"
}

// banned reports whether a ban without a condition names the substance.
func (x *Declaration) banned(k formula.Key) bool {
	return slices.ContainsFunc(inci.Prohibited(k, x.Market), func(b inci.Ban) bool { return b.ByName && b.Condition == "" && b.Duty.Binds(x.Occasion) })
}

// tellOnce adds a note that is about the market and no product: however many
// products call for it, a check says it once.
func (x *Declaration) tellOnce(c *market.Caution) {
	x.Findings.Add(finding.Finding{Rule: c.Rule, Severity: c.Severity, Market: string(x.Market), Message: c.Says, Cure: c.Cure, Source: c.Source})
}

// amounts tells what there is of several substances, from which material and
// from which lines: "0.63 g of Citric Acid in vinegar powder (“...” in base)".
func (x *Declaration) amounts(from []source) string {
	var all []string
	for _, s := range from {
		name := inci.Readable(string(s.key))
		if !strings.EqualFold(name, s.material.Name) {
			name += " in " + s.material.Name
		}
		all = append(all, fmt.Sprintf("%s g of %s (%s)", grams(s.grams), name, x.linesOf(s.material)))
	}
	return inWords(all)
}

// linesOf names the lines of the book that bring a material into the piece.
func (x *Declaration) linesOf(m *formula.Material) string {
	var all []string
	seen := map[*formula.Line]bool{}
	var down func([]formula.Step)
	down = func(steps []formula.Step) {
		for _, s := range steps {
			if seen[s.Line] || !s.Holds(m) {
				continue
			}
			seen[s.Line] = true
			if t := fmt.Sprintf("“%s” in %s", s.Line.Text, s.Within); s.Brings(m) && !slices.Contains(all, t) {
				all = append(all, t)
			}
			down(s.Inside())
		}
	}
	down(x.Composition.Steps())
	return inWords(all)
}

func inWords(list []string) string {
	if n := len(list); n > 1 {
		return strings.Join(list[:n-1], ", ") + " and " + list[n-1]
	}
	return strings.Join(list, "")
}

// cautions reports whether a caution of the product says what the row asks for.
func (p *Product) cautions(c *market.Caution) bool {
	return len(c.Words) > 0 && slices.ContainsFunc(p.Cautions, func(w Wording) bool { return says(w, c) })
}

// says reports whether a wording, in any of its languages, has the words that
// the row looks for, or is the stock phrase that it asks for.
func says(w Wording, c *market.Caution) bool {
	if id, ok := w["phrase"]; ok {
		ph, _ := market.PhraseFor(id, "en")
		return id == c.Phrase || c.Has(ph.Text)
	}
	for _, text := range w {
		if c.Has(text) {
			return true
		}
	}
	return false
}
