package label

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"panelwright/formula/date"
	"panelwright/inci"
)

func said(x *Declaration, k StatementKind) []Statement {
	return slices.DeleteFunc(slices.Clone(x.Statements), func(s Statement) bool { return s.Kind != k })
}

// texts joins what a kind of statement says, by language.
func texts(x *Declaration, k StatementKind) string {
	var out []string
	for _, s := range said(x, k) {
		out = append(out, strings.Join(strings.Fields(s.Lang+" "+s.Lead+" "+s.Text), " "))
	}
	return strings.Join(out, " | ")
}

func plain() *Product { return rinseOff(weigh(of("SODIUM BICARBONATE"), "50")) }

// A title is a name: it stands as it is in a language it is not put into, and the
// name in the book is printed only where there is no title at all.
func TestTitleIn(t *testing.T) {
	for _, c := range []struct {
		name  string
		title Wording
		want  string // in German
	}{
		{"none", nil, "Hay fizz 2"},
		{"in English only", Wording{"en": "Meadow Evening"}, "Meadow Evening"},
		{"in both", Wording{"en": "Meadow Evening", "de": "Wiesenabend"}, "Wiesenabend"},
		{"in French and Dutch", Wording{"nl": "Weide", "fr": "Prairie"}, "Prairie"},
	} {
		p := &Product{Name: "hay fizz 2", Title: c.title}
		if got := p.TitleIn("de"); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// A complete book has no error and no question in any market.
func TestCompleteBookPrints(t *testing.T) {
	for _, x := range declareAll(plain(), inci.Markets...) {
		if !x.Verdict().Prints() {
			t.Errorf("%s: %s", x.Market, grave(x))
		}
		if got := texts(x, ResponsibleText); got != "Fernhollow, 4 Mill Lane, Exampleton" {
			t.Errorf("%s: responsible %q", x.Market, got)
		}
	}
}

// One thing is taken away or changed; each market says what it asks for.
func TestStatements(t *testing.T) {
	type errs map[inci.Market]string
	every := func(s string) errs {
		out := errs{}
		for _, m := range inci.Markets {
			out[m] = strings.ReplaceAll(s, "MARKET", string(m))
		}
		return out
	}
	person := func(w *Workshop, change func(*Responsible)) {
		for m, r := range w.Responsible {
			change(&r)
			w.Responsible[m] = r
		}
	}
	for _, c := range []struct {
		name   string
		change func(*Product, *Workshop)
		want   errs // errors and questions; markets left out have none
	}{
		{"no person in the EU; the others do not stand in", func(_ *Product, w *Workshop) { delete(w.Responsible, inci.EU) },
			errs{inci.EU: "error eu.missing.responsible"}},
		{"no person in GB", func(_ *Product, w *Workshop) { delete(w.Responsible, inci.GB) }, errs{inci.GB: "error gb.missing.responsible"}},
		{"no person in NI", func(_ *Product, w *Workshop) { delete(w.Responsible, inci.NI) }, errs{inci.NI: "error ni.missing.responsible"}},
		{"no dealer in CA", func(_ *Product, w *Workshop) { delete(w.Responsible, inci.CA) }, errs{inci.CA: "error ca.missing.responsible"}},
		{"no person in the US", func(_ *Product, w *Workshop) { delete(w.Responsible, inci.US) }, errs{inci.US: "error us.missing.responsible"}},
		{"a name without an address", func(_ *Product, w *Workshop) { person(w, func(r *Responsible) { r.Address = nil }) }, every("error MARKET.missing.responsible")},
		// 609(a): a domestic address serves; Cosmetic Regulations s. 20(a).
		{"no contact", func(_ *Product, w *Workshop) { person(w, func(r *Responsible) { r.Contact = "" }) }, errs{inci.CA: "question ca.contact.missing"}},
		{"no contact and a person abroad", func(_ *Product, w *Workshop) { person(w, func(r *Responsible) { r.Contact, r.Country = "", "DE" }) },
			errs{inci.US: "error us.contact.missing", inci.CA: "question ca.contact.missing"}},
		{"all persons in the US", func(_ *Product, w *Workshop) { person(w, func(r *Responsible) { r.Country = "US" }) },
			errs{inci.EU: "error eu.responsible.outside", inci.GB: "error gb.responsible.outside", inci.NI: "error ni.responsible.outside"}},
		{"a person's country not stated", func(_ *Product, w *Workshop) { person(w, func(r *Responsible) { r.Country = "" }) },
			errs{inci.EU: "question eu.responsible.country", inci.GB: "question gb.responsible.country", inci.NI: "question ni.responsible.country", inci.CA: "question ca.dealer.country"}},
		{"origin of imports", func(p *Product, _ *Workshop) { p.MadeIn = nil },
			errs{inci.US: "error us.missing.origin", inci.GB: "error gb.missing.origin", inci.CA: "error ca.missing.origin"}},
		{"made at home in the US, origin not worded", func(p *Product, w *Workshop) { p.MadeIn, w.Country = nil, "US" },
			errs{inci.EU: "error eu.missing.origin", inci.GB: "error gb.missing.origin", inci.NI: "error ni.missing.origin", inci.CA: "error ca.missing.origin"}},
		{"nobody says where it is made", func(p *Product, w *Workshop) { p.MadeIn, w.Country = nil, "" }, every("question origin.unknown")},
		{"durability not stated", func(p *Product, _ *Workshop) { p.Keeps = Durability{} },
			errs{inci.EU: "error eu.missing.durability", inci.GB: "error gb.missing.durability", inci.NI: "error ni.missing.durability"}},
		{"single use does not state it either", func(p *Product, _ *Workshop) { p.Keeps = Durability{SingleUse: true} },
			errs{inci.EU: "error eu.missing.durability", inci.GB: "error gb.missing.durability", inci.NI: "error ni.missing.durability"}},
		{"31 months and no open-jar period", func(p *Product, _ *Workshop) { p.Keeps = Durability{Keeps: 31} },
			errs{inci.EU: "error eu.missing.durability", inci.GB: "error gb.missing.durability", inci.NI: "error ni.missing.durability"}},
		{"30 months and no open-jar period", func(p *Product, _ *Workshop) { p.Keeps = Durability{Keeps: 30} }, nil},
		{"31 months and single use", func(p *Product, _ *Workshop) { p.Keeps = Durability{Keeps: 31, SingleUse: true} }, nil},
		{"identity in English only", func(p *Product, _ *Workshop) { p.Identity = Wording{"en": "Bath fizz"} },
			errs{inci.EU: "error pack.wording", inci.CA: "error pack.wording"}},
		{"identity in German only", func(p *Product, _ *Workshop) { p.Identity = Wording{"de": "Badekugel"} },
			errs{inci.US: "error pack.wording", inci.GB: "error pack.wording", inci.NI: "error pack.wording", inci.CA: "error pack.wording"}},
		{"directions without French", func(p *Product, _ *Workshop) { p.Directions = Wording{"en": "Drop in.", "de": "Ins Wasser geben."} }, errs{inci.CA: "error pack.wording"}},
		{"a caution without German", func(p *Product, _ *Workshop) { p.Cautions = []Wording{{"en": "Slippery.", "fr": "Glissant."}} }, errs{inci.EU: "error pack.wording"}},
		{"a caution of the list", func(p *Product, _ *Workshop) { p.Cautions = []Wording{{"phrase": "caution.slippery"}} }, nil},
		{"a caution known in English only", func(p *Product, _ *Workshop) { p.Cautions = []Wording{{"phrase": "us.foam-bath"}} },
			errs{inci.EU: "error pack.wording", inci.CA: "error pack.wording"}},
		{"no country of the EU", func(_ *Product, w *Workshop) { w.Countries = nil }, errs{inci.EU: "error pack.languages"}},
		{"Poland as well", func(_ *Product, w *Workshop) { w.Countries = []string{"DE", "PL"} }, errs{inci.EU: "error pack.wording"}},
		// 21 CFR 701.2(b)(2)-(3).
		{"German on every label", func(p *Product, _ *Workshop) {
			for i := range p.Packs {
				p.Packs[i].Languages = []string{"en", "fr", "de"}
			}
		}, errs{inci.US: "error us.foreign-words"}},
		{"labels in English only", func(p *Product, _ *Workshop) {
			for i := range p.Packs {
				p.Packs[i].Languages = []string{"en"}
			}
		}, errs{inci.EU: "error pack.languages", inci.CA: "error pack.languages"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, w := plain(), workshop()
			c.change(p, w)
			got := errs{}
			for _, x := range NewDesk(w).Declare(p, inci.Markets, today) {
				if g := grave(x); g != "" {
					got[x.Market] = g
				}
			}
			if !maps.Equal(got, c.want) {
				t.Errorf("got %v\nwant %v", got, c.want)
			}
		})
	}
}

// Another language never stands in for a missing one.
func TestMissingLanguageStaysMissing(t *testing.T) {
	p := plain()
	p.Identity = Wording{"en": "Bath fizz"}
	if got := texts(declareIn(inci.EU, p, today), IdentityText); got != "" {
		t.Errorf("the German pack says %q", got)
	}
	if got := texts(declareIn(inci.CA, p, today), IdentityText); got != "en Bath fizz" {
		t.Errorf("the Canadian pack says %q", got)
	}
	p.Identity = Wording{"en": "Bath fizz", "fr": "Bombe de bain"}
	if got := texts(declareIn(inci.CA, p, today), IdentityText); got != "en Bath fizz | fr Bombe de bain" {
		t.Errorf("the Canadian pack says %q", got)
	}
}

// Art. 19(1)(c): 30 months or less a date, more the open-jar period; single use
// waives only the jar.
func TestDurabilityStatements(t *testing.T) {
	for _, c := range []struct {
		name  string
		keeps Durability
		want  string
	}{
		{"30 months", Durability{Keeps: 30, Opened: 12}, "de mindestens haltbar bis Ende"},
		{"30 months, single use", Durability{Keeps: 30, SingleUse: true}, "de mindestens haltbar bis Ende"},
		{"a date outright", Durability{Before: date.Of(2028, 3, 31)}, "de mindestens haltbar bis Ende 03/2028"},
		{"31 months", Durability{Keeps: 31, Opened: 12}, "12M"},
		{"31 months, single use", Durability{Keeps: 31, Opened: 12, SingleUse: true}, ""},
	} {
		p := plain()
		p.Keeps = c.keeps
		if got := texts(declareIn(inci.EU, p, today), DurabilityText); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		for _, m := range []inci.Market{inci.US, inci.CA} {
			if got := texts(declareIn(m, p, today), DurabilityText); got != "" {
				t.Errorf("%s in %s: %q, though nothing is asked", c.name, m, got)
			}
		}
	}
}

func TestLotOnSticker(t *testing.T) {
	p := plain()
	x := declareIn(inci.EU, p, today)
	if got := texts(x, LotText); got != "Lot 0614" {
		t.Errorf("lot %q", got)
	}
	for i := range p.Packs {
		p.Packs[i].Lot = LotOnSticker
	}
	x = declareIn(inci.EU, p, today)
	if l, d := texts(x, LotText), texts(x, DurabilityText); l != "" || d != "" || !x.Verdict().Prints() {
		t.Errorf("lot %q and date %q belong on the sticker; %s", l, d, grave(x))
	}
}

func TestWithoutPackSaysWhatIsNotJudged(t *testing.T) {
	p := plain()
	p.Packs = nil
	x := declareIn(inci.EU, p, today)
	if f := found(x.Findings, "pack.none"); len(f) != 1 || !strings.Contains(f[0].Message, "not judged") || !x.Verdict().Prints() {
		t.Errorf("%v", x.Findings)
	}
}
