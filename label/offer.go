package label

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/label/market"
)

// Offer is the text that the offer of a product must show where it is sold at a
// distance, online or by post, in one language.
type Offer struct {
	Lang   string
	Lines  []OfferLine
	Source finding.Citation
	// Missing says what an offer must show beside the text, and what the book lacks
	// for it. The picture always stands there: no book holds it.
	Missing []string
}

// OfferLine is one line of an offer.
type OfferLine struct {
	Lead string // "Manufacturer"; empty where the text needs none
	Text string
}

// Text returns the offer as plain text, a line each.
func (o *Offer) Text() string {
	var b strings.Builder
	for _, l := range o.Lines {
		if l.Lead != "" {
			b.WriteString(l.Lead + ": ")
		}
		b.WriteString(l.Text + "\n")
	}
	return b.String()
}

// Offers returns what the offer of a declared product must show in the market, in
// each language that its pack speaks there; nil where the market asks for nothing
// of the kind. In the EU and Northern Ireland Regulation (EU) 2023/988 Art. 19 asks
// for the manufacturer, for the responsible person where the manufacturer is
// outside the Union, for picture, type and identifier, and for the cautions of the
// pack in the buyer's language.
func (d *Desk) Offers(x *Declaration) []Offer {
	c := x.Rules.Caution("offer", x.Occasion, usesOf(x.Product).has)
	if c == nil {
		return nil
	}
	var all []Offer
	for _, lang := range x.offerLanguages() {
		w := offerWriter{desk: d, x: x, out: Offer{Lang: lang, Source: c.Source}}
		w.product()
		w.persons()
		w.cautions()
		w.out.Missing = append(w.out.Missing, "a picture of the product")
		all = append(all, w.out)
	}
	return all
}

// offerLanguages are those of the statements on the pack.
func (x *Declaration) offerLanguages() (langs []string) {
	for _, s := range x.Statements {
		if s.Lang != "" && !slices.Contains(langs, s.Lang) {
			langs = append(langs, s.Lang)
		}
	}
	return langs
}

type offerWriter struct {
	desk *Desk
	x    *Declaration
	out  Offer
}

func (w *offerWriter) lacks(format string, args ...any) {
	w.out.Missing = append(w.out.Missing, fmt.Sprintf(format, args...))
}

// line adds a line led in by a stock wording in the language of the offer.
func (w *offerWriter) line(phrase, text string) {
	lead, ok := market.PhraseFor(phrase, w.out.Lang)
	if !ok {
		en, _ := market.PhraseFor(phrase, "en")
		w.lacks("the word for “%s” in %s", en.Text, market.LanguageName(w.out.Lang))
	}
	w.out.Lines = append(w.out.Lines, OfferLine{lead.Text, text})
}

// product writes name, type and identifier.
func (w *offerWriter) product() {
	p := w.x.Product
	w.out.Lines = append(w.out.Lines, OfferLine{Text: p.TitleIn(w.out.Lang)})
	if text := p.Identity[w.out.Lang]; text != "" {
		w.out.Lines = append(w.out.Lines, OfferLine{Text: text})
	} else {
		w.lacks("what the product is (identity:) in %s", market.LanguageName(w.out.Lang))
	}
	id := p.BarcodeOn(p.PackFor(w.x.Market))
	if id == "" {
		id = p.Name // the book knows it by no other
	}
	w.line("offer.item", id)
}

// persons writes the manufacturer and, where that is outside the territory, the
// responsible person, each with postal and electronic address.
func (w *offerWriter) persons() {
	shop, who := w.desk.Workshop, w.desk.Workshop.Responsible[w.x.Market]
	maker, known := shop.asPerson()
	if !known {
		maker = Responsible{Name: shop.Name}
		w.lacks("the manufacturer's postal and electronic address: no person of the workshop's name stands under responsible:")
	}
	w.person("offer.maker", "the manufacturer", maker, known)
	home, stated := w.x.Rules.Home(shop.Country)
	if !stated {
		w.lacks("where the manufacturer is established: country: in the workshop")
	}
	if !home && who.Name != "" && who.Name != maker.Name {
		w.person("offer.responsible", "the responsible person", who, true)
	}
	if !home && who.Name == "" {
		w.lacks("the responsible person of the market, with postal and electronic address")
	}
}

func (w *offerWriter) person(phrase, what string, r Responsible, addressed bool) {
	parts := append([]string{r.Name}, r.Address...)
	if r.Contact != "" {
		parts = append(parts, r.Contact)
	}
	w.line(phrase, strings.Join(parts, ", "))
	if addressed && !market.Electronic(r.Contact) {
		w.lacks("an electronic address of %s, such as an email address (contact:)", what)
	}
}

// asPerson returns the person named on some pack who is the workshop itself.
func (w *Workshop) asPerson() (Responsible, bool) {
	for _, m := range w.SellIn {
		if r := w.Responsible[m]; r.Name == w.Name && len(r.Address) > 0 {
			return r, true
		}
	}
	return Responsible{}, false
}

// cautions writes what the pack cautions of.
func (w *offerWriter) cautions() {
	var texts []string
	for _, s := range w.x.Statements {
		if s.Kind == CautionText && (s.Lang == w.out.Lang || s.Lang == "") {
			texts = append(texts, s.Text)
		}
	}
	if len(texts) > 0 {
		w.line("offer.warnings", strings.Join(texts, " "))
	}
}
