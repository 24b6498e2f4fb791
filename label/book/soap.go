package book

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/formula/quantity"
	"panelwright/inci"
	"panelwright/label"
)

var soapKeys = []string{"lye", "purity", "superfat", "lye discount", "water", "process", "cure", "water left", "in place of water", "after cooking"}

// soapPage is saponify: of one formula while it is read.
type soapPage struct {
	*page
	l       *loader
	f       *formula.Formula
	s       *formula.Saponify
	at      map[string]entry
	purity  map[formula.Key]formula.Interval // by lye; "" for any
	torn    bool
	purityN *yaml.Node
}

// saponify reads how a formula is turned into soap. It returns false if that
// could not be read whole.
func (l *loader) saponify(p *page, e entry, f *formula.Formula) bool {
	sp := &soapPage{page: p, l: l, f: f, at: map[string]entry{}, purity: map[formula.Key]formula.Interval{}}
	sp.s = &formula.Saponify{Pos: p.at(e.k), By: inci.Stoichiometry(), Info: &label.Sheet{Class: "soap"}}
	for _, e := range p.known(e.v, "saponify", "write it as in {lye: sodium hydroxide, purity: 98-100 %, superfat: 5 %, water: 2 x lye}", soapKeys) {
		sp.at[e.key] = e
	}
	sp.torn = p.torn[e.v]
	sp.readPurity()
	sp.readLye()
	sp.readSuperfat()
	sp.readWater()
	sp.readProcess()
	sp.readLeft()
	sp.s.InPlace = sp.named("in place of water")
	sp.s.After = sp.named("after cooking")
	if _, late := sp.at["after cooking"]; late && !sp.s.Hot {
		sp.bad("soap.form", sp.at["after cooking"].k, "fat that goes in after the lye is used up needs a hot process", "write process: hot, or take after cooking: out: in a cold process all fats react alike")
	}
	f.Saponify = sp.s
	return !sp.torn
}

func (sp *soapPage) bad(rule finding.Code, n *yaml.Node, msg, cure string) {
	sp.fail(rule, n, msg, cure)
	sp.torn = true
}

// readPurity reads one purity, or one for each lye.
func (sp *soapPage) readPurity() {
	e, ok := sp.at["purity"]
	if !ok {
		return
	}
	sp.purityN, sp.s.PurityKnown = e.k, true
	if e.v.Kind == yaml.ScalarNode {
		if x, ok := sp.share(e.v, "the purity"); ok {
			sp.purity[""] = x
		}
		return
	}
	for _, one := range sp.entries(e.v, "purity", "write it as in 98-100 %, or {sodium hydroxide: 98 %, potassium hydroxide: 90 %}") {
		_, k := sp.lyeNamed(one.k, one.key)
		if x, ok := sp.share(one.v, "the purity of "+one.key); ok && k != "" {
			sp.purity[k] = x
		}
	}
}

// share reads a share above 0 and up to 100 %.
func (sp *soapPage) share(n *yaml.Node, what string) (formula.Interval, bool) {
	sh, ok := sp.quantityShare(n, what)
	if ok && (sh.Rest || sh.NotDetected || sh.Hi.Sign() == 0) {
		sp.fail("book.share", n, fmt.Sprintf("“%s” is no share for %s", clip(n.Value), what), "write it as in 98 %, or 98-100 %")
		ok = false
	}
	sp.torn = sp.torn || !ok
	return formula.Interval{Lo: sh.Lo, Hi: sh.Hi}, ok
}

// lyeNamed resolves the name of a lye: a material with a hydroxide in it.
func (sp *soapPage) lyeNamed(n *yaml.Node, name string) (*thing, formula.Key) {
	t := sp.l.resolve(sp.page, n, name)
	if t == nil || t.torn {
		sp.torn = true
		return nil, ""
	}
	if t.material != nil {
		for _, p := range t.material.Parts {
			if p.Reacts != nil && p.Reacts.Kind.Lye() {
				return t, p.Key
			}
		}
	}
	sp.bad("soap.lye", n, fmt.Sprintf("“%s” is no lye", clip(name)), "write sodium hydroxide or potassium hydroxide")
	return nil, ""
}

// readLye reads which lye, or finds it among the lines of the mix.
func (sp *soapPage) readLye() {
	e, ok := sp.at["lye"]
	if !ok {
		for i := range sp.f.Lines {
			ln := &sp.f.Lines[i]
			if ln.Material == nil {
				continue
			}
			for _, p := range ln.Material.Parts {
				if p.Reacts != nil && p.Reacts.Kind.Lye() {
					ln.Material = sp.pure(ln.Material, p.Key, sp.purityN)
					break
				}
			}
		}
		return
	}
	if e.v.Kind == yaml.ScalarNode {
		name, _ := sp.text(e.v, "the lye")
		if t, k := sp.lyeNamed(e.v, name); t != nil {
			sp.s.Bases = []formula.Base{{Material: sp.pure(t.material, k, e.v), Share: exact.Int(1)}}
		}
		return
	}
	var sum exact.Rat
	for _, one := range sp.entries(e.v, "lye", "write it as in sodium hydroxide, or {sodium hydroxide: 40 %, potassium hydroxide: 60 %}") {
		t, k := sp.lyeNamed(one.k, one.key)
		x, ok := sp.share(one.v, "the share of "+one.key)
		if t == nil || !ok {
			continue
		}
		if x.Lo.Cmp(x.Hi) != 0 {
			sp.bad("book.share", one.v, fmt.Sprintf("“%s” is a range", clip(one.v.Value)), "write one share of the fats that this lye is to turn into soap, as in 40 %")
		}
		sum = sum.Add(x.Hi)
		sp.s.Bases = append(sp.s.Bases, formula.Base{Material: sp.pure(t.material, k, one.v), Share: x.Hi})
	}
	sp.torn = sp.torn || len(sp.s.Bases) == 0
	if !sp.torn && !sum.Equal(exact.Int(1)) {
		sp.bad("soap.lye", e.v, fmt.Sprintf("the shares of the lyes make %s %%, not 100 %%", percent(sum)), "give each lye its share of the fats, together 100 %")
	}
}

// pure returns a lye in its purity. What is bought as one substance holds water
// besides if it is not all hydroxide; where no purity is stated it is taken as
// all hydroxide, the case that leaves most alkali.
func (sp *soapPage) pure(m *formula.Material, k formula.Key, n *yaml.Node) *formula.Material {
	x, ok := sp.purity[k]
	if !ok {
		x, ok = sp.purity[""]
	}
	if len(m.Parts) > 1 {
		if ok {
			sp.bad("soap.lye", n, fmt.Sprintf("“%s” says itself how much lye it holds", clip(m.Name)), "take purity: out")
		}
		sp.s.PurityKnown = true
		return m
	}
	if !ok {
		return m
	}
	key := "lye " + m.Name + " " + x.Lo.String() + " " + x.Hi.String()
	if sp.l.builtIn[key] == nil {
		one := exact.Int(1)
		out := *m
		out.Parts = []formula.Part{{Key: k, Range: x, Reacts: m.Parts[0].Reacts},
			{Key: "AQUA", Range: formula.Interval{Lo: one.Sub(x.Hi), Hi: one.Sub(x.Lo)}, Dries: formula.Water}}
		if x.Hi.Equal(one) && x.Fixed() {
			out.Parts = m.Parts
		}
		sp.l.builtIn[key] = &thing{name: m.Name, material: &out}
	}
	m = sp.l.builtIn[key].material
	sp.s.Stated = append(sp.s.Stated, m)
	return m
}

func (sp *soapPage) readSuperfat() {
	for _, key := range []string{"superfat", "lye discount"} {
		e, ok := sp.at[key]
		if !ok {
			continue
		}
		if _, both := sp.at["superfat"]; both && key == "lye discount" {
			sp.bad("soap.form", e.k, "both superfat: and lye discount: are written; they mean the same", "keep one of them")
			return
		}
		if _, worked := sp.at["lye"]; !worked {
			sp.bad("soap.form", e.k, "the superfat follows from the lye in the mix", "take "+key+": out, or write lye: and let it be worked out")
			return
		}
		sh, ok := sp.quantityShare(e.v, "the "+key)
		if !ok || sh.Rest || !sh.Lo.Equal(sh.Hi) || !sh.Hi.Less(exact.Int(1)) {
			switch {
			case !ok:
			case sh.Lo.Equal(exact.Int(1)):
				sp.fail("book.share", e.v, fmt.Sprintf("a %s of %s leaves all the fat, and no soap is made", key, clip(e.v.Value)), "write how much of the fats is to be left, as in 5 %")
			default:
				sp.fail("book.share", e.v, fmt.Sprintf("“%s” is not one share", clip(e.v.Value)), "write it as in 5 %")
			}
			sp.torn = true
			return
		}
		sp.s.Superfat = sh.Hi
		return
	}
	if e, ok := sp.at["lye"]; ok {
		sp.bad("book.missing-key", e.k, "saponify: has no superfat", "write how much of the fats is to be left, as in superfat: 5 %; a liquid soap may have 0 %")
	}
}

// readWater reads the water: 2 x lye, 33 % lye, 38 % of fats, 300 g, none.
func (sp *soapPage) readWater() {
	const cure = "write it as in 2 x lye (twice the lye), 33 % lye (the strength of the solution), 38 % of fats, 300 g, or none"
	e, ok := sp.at["water"]
	if !ok {
		wet := slices.ContainsFunc(sp.f.Lines, func(ln formula.Line) bool {
			return ln.Formula != nil || ln.Slot != "" || ln.Material != nil && slices.ContainsFunc(ln.Material.Parts, func(q formula.Part) bool { return q.Dries == formula.Water })
		})
		if !wet {
			sp.bad(formula.RuleNoWater, sp.name, fmt.Sprintf("nothing says how much water the lye of “%s” is dissolved in", clip(sp.f.Name)), cure)
		}
		return
	}
	s, ok := sp.text(e.v, "the water")
	if !ok {
		sp.torn = true
		return
	}
	w := sp.l.lookup("water")
	if w == nil || w.material == nil || w.torn {
		w = sp.l.builtInThing("Aqua")
	}
	sp.s.Water = w.material
	fail := func() { sp.bad("soap.water", e.v, fmt.Sprintf("“%s” is no amount of water", clip(s)), cure) }
	words := strings.Fields(strings.ToLower(s))
	last := words[len(words)-1]
	switch {
	case len(words) == 1 && last == "none":
		return
	case last == "lye" && strings.Contains(s, "%"):
		sp.s.WaterBy = formula.Concentration
		ok = sp.waterShare(strings.TrimSpace(strings.TrimSuffix(strings.ToLower(s), "lye")))
	case last == "lye" && len(words) >= 2:
		n, err := exact.Parse(strings.TrimRight(words[0], "x×"))
		sp.s.WaterBy, sp.s.WaterValue = formula.PerLye, n
		middle := strings.Join(words[1:len(words)-1], " ")
		ok = err == nil && n.Sign() > 0 && slices.Contains([]string{"x", "×", "times", "times the", "x the", "", "parts", "the"}, middle)
	case strings.Contains(s, "%"):
		sp.s.WaterBy = formula.PerFats
		short, isFats := strings.CutSuffix(strings.Join(words, " "), " of fats")
		if !isFats {
			short, isFats = strings.CutSuffix(strings.Join(words, " "), " of oils")
		}
		ok = isFats && sp.waterShare(short)
	default:
		q, err := quantity.Parse(s)
		sp.s.WaterBy, sp.s.WaterValue = formula.WaterGrams, q.Value()
		switch {
		case err != nil:
			ok = false
		case q.Unit.Kind == quantity.Volume: // a millilitre of water weighs a gram within the worth of a kitchen scale
			sp.bad("soap.water", e.v, fmt.Sprintf("“%s” is a volume", clip(s)), "weigh the water and write grams: a millilitre is very nearly a gram")
			return
		default:
			ok = q.Unit.Kind == quantity.Mass && q.Number.Sign() > 0
		}
	}
	if !ok {
		fail()
	}
}

func (sp *soapPage) waterShare(s string) bool {
	sh, err := quantity.ParseShare(s)
	sp.s.WaterValue = sh.Hi
	return err == nil && sh.Lo.Equal(sh.Hi) && sh.Hi.Sign() > 0
}

func (sp *soapPage) readProcess() {
	if e, ok := sp.at["process"]; ok {
		switch s, _ := sp.text(e.v, "the process"); strings.ToLower(s) {
		case "hot":
			sp.s.Hot = true
		case "cold":
		default:
			sp.bad("soap.form", e.v, fmt.Sprintf("“%s” is no process", clip(s)), "write cold or hot")
		}
	}
	if e, ok := sp.at["cure"]; ok {
		s, _ := sp.text(e.v, "the cure")
		number, unit, _ := strings.Cut(strings.ToLower(s), " ")
		n, err := strconv.Atoi(number)
		days := map[string]int{"day": 1, "days": 1, "week": 7, "weeks": 7}[strings.TrimSpace(unit)]
		if err != nil || n <= 0 || days == 0 {
			sp.bad("soap.form", e.v, fmt.Sprintf("the cure is written as “%s”", clip(s)), "write it as in 28 days or 4 weeks")
			return
		}
		sp.s.Cure = n * days
	}
}

// readLeft reads how much of the finished soap is water, as weighed.
func (sp *soapPage) readLeft() {
	e, ok := sp.at["water left"]
	if !ok {
		return
	}
	if sp.f.Dries.Water.Hi.Sign() > 0 {
		sp.bad("soap.form", e.k, "both water left: and dries: say how much water there is in the end", "keep one of them")
		return
	}
	if e.v.Kind == yaml.ScalarNode && strings.EqualFold(strings.TrimSpace(e.v.Value), "all") {
		sp.s.KeepsAll = true
		return
	}
	if x, ok := sp.share(e.v, "the water left"); ok {
		if !x.Hi.Less(exact.Int(1)) {
			sp.bad("book.share", e.v, "a soap cannot be all water", "write the share of water in the finished soap, as in 8-12 %, or all where nothing dries off")
			return
		}
		sp.s.Left = &x
	}
}

// named reads a list of materials that stand in the mix.
func (sp *soapPage) named(key string) (all []*formula.Material) {
	e, ok := sp.at[key]
	if !ok {
		return nil
	}
	for _, n := range list(e.v) {
		name, ok := sp.text(n, key)
		if !ok {
			sp.torn = true
			continue
		}
		t := sp.l.resolve(sp.page, n, name)
		if t == nil {
			sp.torn = true
			continue
		}
		if t.material == nil || !slices.ContainsFunc(sp.f.Lines, func(ln formula.Line) bool { return ln.Material == t.material }) {
			sp.bad("soap.form", n, fmt.Sprintf("“%s” is no line of the mix", clip(name)), "weigh it in as a line of the mix, and name it here as it is named there")
			continue
		}
		all = append(all, t.material)
	}
	return all
}
