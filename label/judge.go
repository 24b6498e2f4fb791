package label

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// judgeExposure asks for the exposure if it is not stated. It is never guessed
// from the type: the allergen threshold differs by a factor of ten.
func (x *Declaration) judgeExposure() {
	if x.Product.Exposure != Unstated {
		return
	}
	f := finding.Finding{Rule: "product.exposure", Severity: finding.Error, Where: x.Product.At("exposure"),
		Message: "the exposure is not stated; it was judged as leave-on, the stricter case",
		Cure:    "write exposure: rinse-off or exposure: leave-on, as your assessor decides"}
	if len(inci.Allergens(x.Market)) > 0 {
		f.Source = finding.Citation{Text: "Regulation (EC) No 1223/2009, preamble to Annexes II to VI, point 1", Seen: finding.Yes}
	}
	x.add(f)
}

// judgeMaterials goes through the materials: blends without a composition,
// prohibited substances, suppliers' highest use, and pairs in the list that
// could stand the other way round.
func (d *Desk) judgeMaterials(x *Declaration) {
	for i := range x.Composition.Items {
		m := x.Composition.Items[i].Material
		if sheet(m).Unknown {
			x.add(finding.Finding{Rule: "material.blend", Severity: finding.Error, Where: firstPos(m.Pos, x.Product.Pos),
				Message: fmt.Sprintf("%s is a blend, and what is in it is not known", m.Name),
				Cure:    "ask the supplier for the composition and write it as contains: in a material of that name"})
		}
		d.judgeBans(x, m)
		x.judgeByName(m)
	}
	x.judgeUseLimits()
	x.judgeOrder()
}

// banned is a substance of a material that a list of prohibited substances
// names in some market.
type banned struct {
	key         formula.Key
	constituent bool
	ban         inci.Ban
}

type materialIn struct {
	material *formula.Material
	market   inci.Market
}

// bansOn returns what the lists of the market name of a material.
func (d *Desk) bansOn(m *formula.Material, in inci.Market) []banned {
	k := materialIn{m, in}
	if v, ok := d.banned.Load(k); ok {
		return v.([]banned)
	}
	var out []banned
	for _, p := range m.Parts {
		for _, ban := range inci.Prohibited(p.Key, in) {
			if !p.Range.Hi.IsZero() {
				out = append(out, banned{p.Key, false, ban})
			}
		}
	}
	for _, c := range m.Constituents {
		for _, ban := range inci.Prohibited(c.Key, in) {
			if !c.Range.Hi.IsZero() {
				out = append(out, banned{c.Key, true, ban})
			}
		}
	}
	d.banned.Store(k, out)
	return out
}

// judgeBans reports prohibited substances. A bare match by number, a condition,
// and a trace inside a material (Article 17) are questions for the maker and
// her assessor; the same substance as a line of the recipe is an error.
//
// A substance that is banned outright is said once, whatever else asks about it;
// a ban whose condition stands in figures in another list is left to that list.
func (d *Desk) judgeBans(x *Declaration, m *formula.Material) {
	outright := map[formula.Key]bool{}
	bans := slices.Clone(d.bansOn(m, x.Market))
	bans = slices.DeleteFunc(bans, func(b banned) bool {
		gone := !b.ban.Duty.Binds(x.Occasion) || b.ban.OnlyAsFragrance && !sheet(m).Scents() || b.ban.Yields(b.key, x.Market, b.constituent && natural(m))
		if !gone && b.outright() {
			outright[b.key] = true
		}
		return gone
	})
	told := map[formula.Key]bool{}
	for _, b := range bans {
		ban := b.ban
		if outright[b.key] && (!b.outright() || told[b.key]) {
			continue
		}
		told[b.key] = true
		what := fmt.Sprintf("%s in %s", inci.Readable(string(b.key)), m.Name)
		f := finding.Finding{Rule: finding.Code(string(x.Market) + ".prohibited"), Severity: finding.Error, Where: firstPos(m.Pos, x.Product.Pos),
			Message: fmt.Sprintf("%s is on the list of prohibited substances (%s)", what, shorten(ban.Substance)),
			Cure:    "leave it out, or ask the supplier for a grade without it", Source: ban.Source}
		trace := b.constituent && ban.Trace
		if !b.outright() {
			f.Severity = finding.Question
			f.Message = fmt.Sprintf("%s may be on the list of prohibited substances (%s)", what, shorten(ban.Substance))
			f.Cure = "find out which it is, and write answers: with the reason in the product"
		}
		switch {
		case ban.Condition != "":
			f.Message += ": " + ban.Condition
		case trace:
			f.Message += "; a trace that cannot be avoided may be allowed if the product stays safe, which an assessor decides"
		}
		if x.bans == nil {
			x.bans = map[formula.Key]finding.Severity{}
		}
		x.bans[b.key] = max(x.bans[b.key], f.Severity)
		x.add(f)
	}
}

// natural reports whether what a material holds can only be natural content of it.
func natural(m *formula.Material) bool {
	return slices.Contains([]string{"essential-oil", "absolute", "extract"}, sheet(m).Class)
}

// outright reports whether nothing has to be asked about the ban.
func (b banned) outright() bool {
	return b.ban.Condition == "" && b.ban.ByName && !(b.constituent && b.ban.Trace)
}

// shorten cuts a long entry of a list at a word.
func shorten(text string) string {
	const most = 120
	if len(text) <= most {
		return text
	}
	return text[:strings.LastIndex(text[:most], " ")] + " …"
}

// judgeByName questions a perfuming oil named by itself in the EU and markets
// of the same text: there it is part of the parfum unless it does something
// else too, or an entry of the allergen list asks for its name.
func (x *Declaration) judgeByName(m *formula.Material) {
	s := sheet(m)
	only, rule := x.Rules.ParfumOnly()
	asked := !slices.ContainsFunc(m.Parts, func(p formula.Part) bool { return x.directHit(p.Key) == nil })
	if !s.ByName || !s.Scents() || s.Function != "" || !only || asked {
		return
	}
	x.add(finding.Finding{Rule: "list.perfuming-oil", Severity: finding.Question, Where: firstPos(m.Pos, x.Product.Pos),
		Message: fmt.Sprintf("%s is declared by its own name, but no function other than scent is stated", m.Name),
		Cure:    "write its function: in the material, or take out declare by name:", Source: rule})
}

// judgeOrder warns of neighbours above the 1 % rule that could swap places
// within the suppliers' ranges.
func (x *Declaration) judgeOrder() {
	for i := 0; i+1 < len(x.Entries); i++ {
		a, b := x.Entries[i], x.Entries[i+1]
		if a.Order != Typical || x.tail(b) > 0 || x.Rules.Free(b.Share.Max) {
			continue
		}
		x.add(finding.Finding{Rule: "list.order", Severity: finding.Warning, Where: x.Product.Pos,
			Message: fmt.Sprintf("%s and %s could swap places: %s is %s, %s is %s", a.Name, b.Name, a.Name, rangeOf(a.Share), b.Name, rangeOf(b.Share)),
			Cure:    "ask the supplier of " + x.openMaterials(a, b) + " for a narrower figure", Source: x.Rules.BasisSource})
	}
}

func rangeOf(s formula.Share) string {
	v := Show(s)
	if s.Min.Equal(s.Max) {
		return v.Typical + " %"
	}
	return v.Min + " to " + v.Max + " %"
}

// openMaterials names the materials whose ranges leave the order of two entries open.
func (x *Declaration) openMaterials(a, b Entry) string {
	var names []string
	for i, own := range x.names.Owner {
		m := x.ordered.Items[i].Material
		for p, n := range own {
			name := x.openName(m)
			if (n == a.index || n == b.index) && !m.Parts[p].Range.Fixed() && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	if len(names) == 0 {
		return "the blend"
	}
	return someOf(names, 2)
}

// judgeNet compares the stated net quantity with the lowest mass after drying.
// Of two statements the larger one binds.
func (x *Declaration) judgeNet() {
	p := x.Product
	count := max(p.Count, 1)
	lowest := x.Composition.Mass(formula.Finished).Lo.Mul(exact.Int(int64(count)))
	grams := lowest.Decimal(1, exact.Down).String()
	if p.Net.IsZero() && p.Count == 0 { // a count alone is judged by the market
		x.add(finding.Finding{Rule: "net.missing", Severity: finding.Error, Where: p.Pos,
			Message: "the net quantity is not stated", Cure: fmt.Sprintf("write net: with a figure the lightest piece holds; by the recipe that is %s g at most", grams),
			Source: x.netSource()})
		return
	}
	stmt, found := x.Rules.Net(p.Net, count, market.NetOptions{CountWords: p.CountWords})
	x.Net, x.Stated = stmt, p.Net
	for _, f := range found {
		if f.Where == (finding.Pos{}) {
			f.Where = p.At("net")
		}
		if p.Net.IsZero() {
			f.Where, f.Cure = p.At("count"), f.Cure+"; by the recipe they hold "+grams+" g at most"
		}
		x.add(f)
	}
	switch {
	case p.Net.IsZero():
		return
	case p.Net.Volume:
		x.judgeFar(lowest.Quo(p.Net.Amount), lightest, densest, fmt.Sprintf("%s g a millilitre", lowest.Quo(p.Net.Amount).Decimal(2, exact.Nearest)))
		x.judgeVolume(grams)
		return
	}
	if bound := stmt.Larger; lowest.Less(bound) {
		x.add(finding.Finding{Rule: "net.over", Severity: finding.Error, Where: p.At("net"),
			Message: fmt.Sprintf("the pack says %s, but the recipe leaves %s g at the greatest drying: %s g short", p.Net.Text, grams,
				bound.Sub(lowest).Decimal(2, exact.Up)),
			Cure: fmt.Sprintf("state %s g or less, or weigh more into a piece", lowest.Decimal(0, exact.Down)), Source: x.netSource()})
		return
	}
	x.judgeFar(lowest.Quo(p.Net.Amount), exact.Rat{}, mostOver, grams+" g at the least")
}

// judgeVolume says that a volume is not compared with weights; of a solid it asks
// whether a volume is meant, where the market wants the weight of one.
func (x *Declaration) judgeVolume(grams string) {
	f := finding.Finding{Rule: "net.volume", Severity: finding.Note, Where: x.Product.At("net"),
		Message: "the net quantity is a volume; it was not compared with the weights of the recipe",
		Cure:    "fill by volume at 20 °C and check a few packs", Source: x.netSource()}
	if words, source, ok := x.Rules.SolidByWeight(); ok && usesOf(x.Product).has("solid") {
		f.Severity, f.Source = finding.Question, source
		f.Message = fmt.Sprintf("the pack says %s of a solid piece (%s); the net quantity asked for is %s", x.Product.Net.Text, x.Product.Type, words)
		f.Cure = fmt.Sprintf("state a weight, by the recipe %s g at most, or write answers: with the trade custom", grams)
	}
	x.add(f)
}

// Bounds past which a net quantity is asked about: what a piece may hold more than it states, and the grams of a
// millilitre of anything filled by volume. Common practice, no source.
var mostOver, lightest, densest = exact.Int(2), exact.Frac(3, 5), exact.Frac(17, 10)

// judgeFar asks about a net quantity that is far from what the recipe leaves: a slip of the pen in one of them.
func (x *Declaration) judgeFar(ratio, least, most exact.Rat, leaves string) {
	if !ratio.Less(least) && !most.Less(ratio) {
		return
	}
	x.add(finding.Finding{Rule: "net.far", Severity: finding.Question, Where: x.Product.At("net"),
		Message: fmt.Sprintf("the pack says %s, and by the recipe it holds %s: is that meant?", x.Product.Net.Text, leaves),
		Cure:    "correct the piece or the net quantity, or answer that it is meant", Source: practice})
}

func (x *Declaration) netSource() finding.Citation {
	if len(x.Net.Sources) > 0 {
		return x.Net.Sources[0]
	}
	return finding.Citation{}
}
