package label

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// kindsOfProduct are enough types of product that every row about something made
// here covers one of them.
var kindsOfProduct = []string{
	"bath fizz", "bath salts", "bar soap", "shampoo bar", "hair conditioner", "body balm", "body lotion", "face cream", "hand cream", "foot cream",
	"lip balm", "lipstick", "deodorant", "antiperspirant", "roll-on deodorant", "perfume", "solid perfume", "eau de toilette", "hair oil", "hair lotion",
	"talcum powder", "dusting powder", "body mist", "shower gel", "hand soap", "baby oil", "baby powder", "nappy balm", "foot powder", "nail oil",
	"body scrub", "face mask", "sun balm", "scented body cream", "antidandruff shampoo", "face wash", "antidandruff shampoo bar", "self-tanning face cream",
	"self-tanning body lotion", "face powder", "face dusting powder", "spray hair oil", "spray body lotion", "aerosol hair oil", "professional aerosol hair oil",
	"aerosol body lotion", "aerosol deodorant", "makeup cream", "sun cream", "deodorant spray", "intimate wash", "dry shampoo",
}

// tried is a product that a row may be about.
type tried struct {
	kind     string
	exposure Exposure
	children bool
	kinds    kinds
}

var triedProducts = sync.OnceValue(func() (all []tried) {
	for _, k := range kindsOfProduct {
		for _, e := range []Exposure{RinseOff, LeaveOn} {
			for _, c := range []bool{false, true} {
				p := tried{kind: k, exposure: e, children: c}
				p.kinds, _ = kindsOf(p.product())
				all = append(all, p)
			}
		}
	}
	return all
})

func (p tried) product(lines ...formula.Line) *Product {
	out := rinseOff(lines...)
	out.Type, out.Exposure, out.ForChildren = p.kind, p.exposure, p.children
	return out
}

// coveredBy returns the products that the row is about, on a day that it binds.
func coveredBy(l *inci.Limit) (all []tried, o date.Occasion) {
	o = today
	if l.Duty.New > o.On {
		o = date.Occasion{On: l.Duty.New, Placed: l.Duty.New}
	}
	for _, p := range triedProducts() {
		if p.kinds.in(&l.Applies) {
			all = append(all, p)
		}
	}
	return all, o
}

// purposed gives a material the purpose that a row is about.
func purposed(m *formula.Material, l *inci.Limit) *formula.Material {
	s := m.Info.(*Sheet)
	switch l.Purpose {
	case "preservative":
		s.Class = "preservative"
	case "other than preservative":
		s.Function = "conditioning"
	}
	return m
}

// rowMaterials returns materials that hold what a row is about: each substance
// by itself, two that are added up, and all of them.
func rowMaterials(l *inci.Limit) (all []*formula.Material) {
	mixed := func(keys ...formula.Key) {
		if l.With != "" && !slices.Contains(keys, l.With) {
			keys = append(keys, l.With)
		}
		var parts []formula.Part
		for _, k := range keys {
			parts = append(parts, formula.Part{Key: k, Range: formula.Point(exact.Frac(1, int64(len(keys))))})
		}
		all = append(all, purposed(blend("tried", "other", parts...), l))
	}
	for _, k := range l.Keys {
		mixed(k)
	}
	if len(l.Sum) > 1 {
		mixed(l.Keys[0], l.Sum[len(l.Sum)-1])
		mixed(l.Sum[0], l.Sum[len(l.Sum)-1])
	}
	return all
}

// names reports whether a finding or a sentence on the pack is about the row.
func names(x *Declaration, l *inci.Limit) bool {
	sentences := strings.Split(l.Warning, "; ")
	return slices.ContainsFunc(x.Findings, func(f finding.Finding) bool {
		return strings.Contains(f.Message, entryOf(l)) || strings.Contains(f.Message, fmt.Sprintf("(entry %s)", l.Entry)) && strings.HasSuffix(string(f.Rule), ".terms")
	}) || slices.ContainsFunc(x.Warnings, func(w Warning) bool { return slices.Contains(sentences, w.Text) })
}

// Every row of every list comes out: for each there is a product in which what
// the row is about is met by a finding or a sentence that is the row's, or is
// banned outright. Rows about products that are not made here cannot.
func TestEveryRowIsReached(t *testing.T) {
	unmade := func(l *inci.Limit) bool {
		if l.Silent {
			return true // the entry names all kinds that are made here
		}
		scopes := slices.Clone(l.Applies.All)
		for _, any := range l.Applies.Any {
			if !slices.ContainsFunc(any, made) {
				return true
			}
		}
		return slices.ContainsFunc(scopes, func(s inci.Scope) bool { return !made(s) })
	}
	reached, elsewhere := 0, 0
	for _, m := range []inci.Market{inci.EU, inci.GB, inci.US, inci.CA} { // NI has the rows of the EU
		for _, l := range inci.Limits(m) {
			products, o := coveredBy(l)
			if len(products) == 0 {
				elsewhere++
				if !unmade(l) {
					t.Errorf("%s %s (%s): no product was tried that it is about: %+v", m, entryOf(l), l.Substance, l.Applies)
				}
				continue
			}
			if l.Conditions == "" && l.Warning == "" && !l.HasMax && !l.Forbidden && !l.Question {
				t.Errorf("%s %s (%s) says nothing", m, entryOf(l), l.Substance)
			}
			if !slices.ContainsFunc(products, func(p tried) bool { return meets(p, l, m, o) }) && shown[entryOf(l)] == "" {
				t.Errorf("%s %s (%s) in a %s and %d others: nothing is said", m, entryOf(l), l.Substance, products[0].kind, len(products)-1)
			}
			reached++
		}
	}
	if reached < 750 || elsewhere > 120 {
		t.Errorf("%d rows reached, %d about what is not made here", reached, elsewhere)
	}
	t.Logf("%d rows reached, %d about what is not made here", reached, elsewhere)
}

// substancesOnly judges what the lists say of substances and leaves the pack out.
func substancesOnly(m inci.Market, p *Product, o date.Occasion) *Declaration {
	d := NewDesk(workshop())
	comp, _ := d.Composer.Compose(&p.Piece)
	x := &Declaration{Product: p, Market: m, Rules: market.For(m), Occasion: o, Composition: comp}
	for i := range comp.Items {
		d.judgeBans(x, comp.Items[i].Material)
	}
	d.judgeLimits(x)
	return x
}

// shown names the cases of rows that want more than one or two substances.
var shown = map[string]string{
	"Annex V entry 12 (mixtures)":  "testdata/rules/annex-v-sum.txtar",
	"Annex V entry 12a (mixtures)": "testdata/rules/annex-v-sum.txtar",
}

// meets reports whether a product that is nearly all of what a row is about, or
// holds a little more of it than the row allows, meets a word of the row.
func meets(p tried, l *inci.Limit, m inci.Market, o date.Occasion) bool {
	amounts := []string{"99"}
	if l.HasMax {
		amounts = append(amounts, l.Max.Mul(exact.Int(105)).String(), l.Max.Mul(exact.Int(150)).String())
	}
	for _, mat := range rowMaterials(l) {
		for _, g := range amounts {
			lines := []formula.Line{weigh(of("SODIUM BICARBONATE"), "1"), weigh(mat, g)}
			if g != "99" {
				lines = []formula.Line{weigh(of("SODIUM BICARBONATE"), "99"), weigh(mat, g)}
			}
			if l.Together {
				lines = append(lines, weigh(purposed(blend("other", "other", whole(l.Without)), l), "1"))
			}
			x := substancesOnly(m, p.product(lines...), o)
			if ban := firstBan(x); names(x, l) || strings.HasPrefix(ban, "error ") || l.Silent && ban != "" {
				return true
			}
		}
	}
	return false
}

func made(s inci.Scope) bool {
	return slices.ContainsFunc(inci.Scopes(), func(w inci.ScopeWord) bool { return w.Scope == s && w.Made })
}

// firstBan returns severity and rule of the first finding of a ban.
func firstBan(x *Declaration) string {
	for _, f := range x.Findings {
		if strings.HasSuffix(string(f.Rule), ".prohibited") {
			return f.Severity.String() + " " + string(f.Rule)
		}
	}
	return ""
}
