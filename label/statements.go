package label

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// PackFor returns the pack that serves market m, or nil.
func (p *Product) PackFor(m inci.Market) *Pack {
	for i := range p.Packs {
		if slices.Contains(p.Packs[i].For, m) {
			return &p.Packs[i]
		}
	}
	return nil
}

// judgePack writes every statement that the market asks for on this product's
// pack, in the languages of the destination, and reports what is missing. A
// missing wording is an error; English never stands in for another language.
func (d *Desk) judgePack(x *Declaration, set *Set) {
	s := scribe{desk: d, x: x, set: set, p: x.Product, pack: x.Product.PackFor(x.Market)}
	if s.pack == nil {
		x.add(finding.Finding{Rule: "pack.none", Severity: finding.Warning, Where: x.Product.At("packs"),
			Message: "no pack is written down for this market, so no label is drawn and letter heights are not judged",
			Cure:    fmt.Sprintf("add a line to packs: with for: [%s], label: and pack:", x.Market)})
		s.pack = &Pack{}
	}
	s.languages()
	s.due = d.required(x.Rules, x.Occasion)
	s.out = make([]Statement, 0, 12)
	s.title()
	s.identity()
	s.net()
	s.list()
	s.person()
	s.maker()
	s.origin()
	s.lot()
	s.durability()
	s.sayBlank()
	s.wordings(FunctionText, "function", s.p.Function)
	s.wordings(DirectionsText, "directions", s.p.Directions)
	for _, c := range s.p.Cautions {
		s.caution(c)
	}
	s.warnings()
	s.slipCaution()
	x.Statements = s.out
}

// scribe writes the statements of one pack for one market.
type scribe struct {
	desk  *Desk
	x     *Declaration
	set   *Set // nil for a product
	p     *Product
	pack  *Pack
	langs []string // of the label: those the market asks for, then those the pack adds
	due   map[string]market.Requirement
	out   []Statement
	blank []string // what the label leaves a space for
}

// missing reports a statement that the market asks for and the book lacks.
func (s *scribe) missing(kind, key, message, cure string) {
	q, ok := s.due[kind]
	if !ok {
		return
	}
	s.x.add(finding.Finding{Rule: finding.Code(string(s.x.Market) + ".missing." + kind), Severity: finding.Error, Where: s.p.At(key),
		Message: message, Cure: cure, Source: q.Source})
}

// source returns where the market asks for a kind of statement.
func (s *scribe) source(kind string) []finding.Citation {
	if q, ok := s.due[kind]; ok {
		return []finding.Citation{q.Source}
	}
	return nil
}

func (s *scribe) add(st Statement, kind market.TextKind) {
	if st.Height.Min == 0 {
		st.Height = s.x.Rules.TextHeight(kind, s.pack.Body.Surface())
	}
	st.Markets = []inci.Market{s.x.Market}
	s.out = append(s.out, st)
}

func (s *scribe) languages() {
	need, src, err := s.x.Rules.Languages(s.desk.Workshop.Countries)
	var bad *market.CountryError
	if errors.As(err, &bad) {
		s.x.add(finding.Finding{Rule: "pack.languages", Severity: finding.Error, Where: s.desk.Workshop.Pos,
			Message: err.Error(), Cure: "the language of a pack is that of the country where it is sold"})
	}
	s.langs = slices.Clone(s.pack.Languages) // in the maker's own order
	for _, l := range need {
		if !slices.Contains(s.langs, l) {
			s.langs = append(s.langs, l)
		}
	}
	var more []string
	for _, l := range s.langs {
		if !slices.Contains(need, l) {
			more = append(more, l)
		}
	}
	if len(s.pack.Languages) > 0 {
		for _, l := range need {
			if !slices.Contains(s.pack.Languages, l) {
				s.x.add(finding.Finding{Rule: "pack.languages", Severity: finding.Error, Where: s.pack.Pos,
					Message: fmt.Sprintf("the pack does not speak %q, which %s asks for", l, s.x.Market.Inside()),
					Cure:    fmt.Sprintf("add %s to languages:, and the wordings to the product", l), Source: src})
			}
		}
	}
	if all, rule := s.x.Rules.AllIfForeign(); all && len(more) > 0 {
		s.x.add(finding.Finding{Rule: "us.foreign-words", Severity: finding.Error, Where: s.pack.Pos,
			Message: fmt.Sprintf("the label also speaks %s; in the United States every mandatory word must then be in that language too, and those wordings are not known here", strings.Join(more, ", ")),
			Cure:    "make a label of its own for the United States", Source: rule})
	}
}

func (s *scribe) title() {
	seen := map[string]bool{}
	for _, l := range s.langs {
		if t := s.p.TitleIn(l); !seen[t] {
			seen[t] = true
			s.add(Statement{Kind: TitleText, Text: t, Front: true}, market.OtherLetters)
		}
	}
}

// TitleIn returns the name the maker gives the product in a language. A title is
// a name, so one that is not put into a language stands there as it is, the
// English one first; only a product without any title goes by its name in the
// book.
func (p *Product) TitleIn(lang string) string {
	for _, l := range append([]string{lang, "en"}, slices.Sorted(maps.Keys(p.Title))...) {
		if t := p.Title[l]; t != "" {
			return t
		}
	}
	return firstUpper(p.Name)
}

func (s *scribe) identity() {
	s.eachLanguage(s.p.Identity, "identity", "what the product is", func(l, text string) {
		s.add(Statement{Kind: IdentityText, Lang: l, Text: text, Front: true, Bold: s.due["identity"].Front, Sources: s.source("identity")}, market.OtherLetters)
	})
}

// eachLanguage calls write for the wording in every language of the label, and
// reports the languages it lacks.
func (s *scribe) eachLanguage(w Wording, key, what string, write func(l, text string)) {
	for _, l := range s.langs {
		if text := w[l]; text != "" {
			write(l, text)
			continue
		}
		s.x.add(finding.Finding{Rule: "pack.wording", Severity: finding.Error, Where: s.p.At(key),
			Message: fmt.Sprintf("%s (%s:) is not worded in %q", what, key, l),
			Cure:    fmt.Sprintf("add %s: to %s:; another language does not stand in for it", l, key)})
	}
}

func (s *scribe) wordings(kind StatementKind, key string, w Wording) {
	if len(w) == 0 {
		return
	}
	s.eachLanguage(w, key, key, func(l, text string) {
		s.add(Statement{Kind: kind, Lang: l, Text: text, Sources: s.source(key)}, market.OtherLetters)
	})
}

func (s *scribe) caution(c Wording) {
	if id := c["phrase"]; id != "" {
		for _, l := range s.langs {
			ph, ok := market.PhraseFor(id, l)
			if !ok {
				s.x.add(finding.Finding{Rule: "pack.wording", Severity: finding.Error, Where: s.p.At("cautions"),
					Message: fmt.Sprintf("the caution %q is not known in %q", id, l), Cure: "write the caution out in that language"})
				continue
			}
			s.add(Statement{Kind: CautionText, Lang: l, Text: ph.Text, Bold: s.x.Market == inci.US, Sources: []finding.Citation{ph.Source}}, market.WarningLetters)
		}
		return
	}
	s.eachLanguage(c, "cautions", "a caution", func(l, text string) {
		s.add(Statement{Kind: CautionText, Lang: l, Text: text, Bold: s.x.Market == inci.US, Sources: s.source("precautions")}, market.WarningLetters)
	})
}

func (s *scribe) net() {
	if s.x.Net.Text == "" {
		return // reported by judgeNet
	}
	panel := s.pack.Body.PDP(s.x.Market)
	h, err := s.x.Rules.NetHeight(s.x.Stated, panel.Low, panel.High, false)
	if err != nil && s.pack.Label.Kind != NoShape && !s.x.Stated.IsZero() { // a count has no height of its own
		s.x.add(finding.Finding{Rule: "pack.body", Severity: finding.Error, Where: firstPos(s.pack.Pos, s.p.Pos),
			Message: err.Error(), Cure: "measure the pack, not the sticker"})
	}
	at := s.x.Rules.NetPlacement(panel.Low, panel.High)
	s.add(Statement{Kind: NetText, Text: s.x.Net.Text, Front: true, Bold: at.Bold, Foot: at.Foot, Apart: at.Apart,
		Height: h, Sources: append(slices.Clone(s.x.Net.Sources), at.Source)}, market.NetLetters)
}

func (s *scribe) list() {
	if s.set != nil {
		s.x.Lists = listsOf(s.set, s.x, s.langs)
		for _, l := range s.x.Lists {
			s.add(Statement{Kind: ListText, Lead: l.Lead, Text: l.Text, Sources: s.source("list")}, market.ListLetters)
		}
		return
	}
	s.add(Statement{Kind: ListText, Lead: strings.TrimSuffix(s.x.Rules.Heading, ":") + ":", Text: s.x.Text(), Sources: s.source("list")}, market.ListLetters)
}

// person writes the responsible person, or dealer, and the contact.
func (s *scribe) person() {
	w := s.desk.Workshop
	who, ok := w.Responsible[s.x.Market]
	if !ok || who.Name == "" || len(who.Address) == 0 {
		for _, kind := range []string{"responsible", "dealer"} {
			if q, due := s.due[kind]; due {
				s.x.add(finding.Finding{Rule: finding.Code(string(s.x.Market) + ".missing.responsible"), Severity: finding.Error, Where: firstPos(who.Pos, w.Pos),
					Message: fmt.Sprintf("no name and address is written down for %s", s.x.Market.Inside()),
					Cure:    fmt.Sprintf("add %s: to responsible: in the workshop; one market's person does not serve another", s.x.Market), Source: q.Source})
			}
		}
		return
	}
	for _, f := range s.x.Rules.CheckResponsible(who.Country, who.Contact, s.x.Occasion) {
		f.Where = firstPos(f.Where, who.Pos)
		s.x.add(f)
	}
	text := strings.Join(append([]string{who.Name}, who.Address...), ", ")
	if who.Role != "" {
		text = who.Role + " " + text
	}
	src := append(s.source("responsible"), s.source("dealer")...)
	s.add(Statement{Kind: ResponsibleText, Text: text, Sources: src}, market.OtherLetters)
	if who.Contact != "" {
		s.add(Statement{Kind: ContactText, Text: who.Contact, Sources: s.source("contact")}, market.OtherLetters)
	}
}

// maker puts the workshop's own name on the front where it is not the person
// named on the pack.
func (s *scribe) maker() {
	name := s.desk.Workshop.Name
	if who := s.desk.Workshop.Responsible[s.x.Market]; name == "" || who.Name == name {
		return
	}
	s.add(Statement{Kind: MakerText, Text: name, Front: true}, market.OtherLetters)
}

// origin asks for the country of origin of goods made outside the territory.
func (s *scribe) origin() {
	q, due := s.due["origin"]
	if len(s.p.MadeIn) > 0 {
		s.eachLanguage(s.p.MadeIn, "made in", "the country of origin", func(l, text string) {
			s.add(Statement{Kind: OriginText, Lang: l, Text: text, Sources: s.source("origin")}, market.OtherLetters)
		})
		return
	}
	if !due {
		return
	}
	home, known := s.x.Rules.Home(s.desk.Workshop.Country)
	switch {
	case known && home:
	case known:
		s.missing("origin", "made in", fmt.Sprintf("the goods are made in %s, so in %s they are imports, and the country of origin is not worded", s.desk.Workshop.Country, s.x.Market.Inside()),
			"add made in: to the product, in the languages of the label")
	default:
		s.x.add(finding.Finding{Rule: "origin.unknown", Severity: finding.Question, Where: s.desk.Workshop.Pos,
			Message: "where the goods are made is not stated; imports must name their country of origin",
			Cure:    "add country: to the workshop with its two letters", Source: q.Source})
	}
}

func (s *scribe) lot() {
	if s.pack.Lot == LotOnSticker {
		return
	}
	lead, _ := market.PhraseFor("lot", "")
	if s.p.Lot == "" {
		s.blank = append(s.blank, "lot")
	}
	s.add(Statement{Kind: LotText, Lead: lead.Text, Text: s.p.Lot, Sources: s.source("lot")}, market.OtherLetters)
}

// sayBlank tells what the label leaves a space for: nothing is wrong with that,
// but a label that is never written on says no lot.
func (s *scribe) sayBlank() {
	if len(s.blank) == 0 || s.pack.Label.Kind == NoShape {
		return
	}
	what := strings.Join(s.blank, " and no ")
	s.x.add(finding.Finding{Rule: "pack.blank", Severity: finding.Note, Where: firstPos(s.pack.Pos, s.p.Pos),
		Message: fmt.Sprintf("no %s is written in the book: the label is printed with a space to write in by hand", what),
		Cure:    "write it on every label, print for an approved lot with panelwright print --lot CODE, or write lot goes: on sticker in the pack: panelwright stickers asks for lot and date", Source: practice})
}

// durability writes the date or the open-jar period, as the maker's own
// statement decides: at 30 months or less a date, above it the period. Single
// use waives the jar, not the date. A set may bear both.
func (s *scribe) durability() {
	q, due := s.due["durability"]
	if !due {
		return
	}
	k := s.p.Keeps
	dated, known := s.x.Rules.Dated(k.Keeps)
	switch {
	case k.Before != 0 || known && dated:
		s.bestBefore(k, q.Source)
		if k.Both {
			s.openJar(k, q.Source, "a product in it bears the period after opening beside the date of another")
		}
	case !known:
		s.missing("durability", "keeps", "how long the closed product keeps is not stated, and nothing can be assumed",
			"write keeps: with the months that your stability tests support")
	case k.SingleUse:
	default:
		s.openJar(k, q.Source, fmt.Sprintf("it keeps %d months closed", k.Keeps))
	}
}

// bestBefore writes the date, or leaves a space for it.
func (s *scribe) bestBefore(k Durability, source finding.Citation) {
	if s.pack.Lot == LotOnSticker {
		return
	}
	if k.Before == 0 {
		s.blank = append(s.blank, "date")
	}
	for _, l := range s.langs {
		lead, ok := market.PhraseFor("best-before", l)
		if !ok {
			s.x.add(finding.Finding{Rule: "pack.wording", Severity: finding.Error, Where: s.p.At("keeps"),
				Message: fmt.Sprintf("the words before the date are not known in %q", l), Cure: "use a language in which they are, or put the date on the sticker", Source: source})
			continue
		}
		s.add(Statement{Kind: DurabilityText, Lang: l, Lead: lead.Text, Text: monthYear(k.Before), Sources: []finding.Citation{source, lead.Source}}, market.OtherLetters)
	}
}

// openJar writes the period after opening, or asks for it.
func (s *scribe) openJar(k Durability, source finding.Citation, why string) {
	if k.Opened == 0 {
		s.missing("durability", "opened", why+", so the pack must say how long it keeps once opened",
			"write opened: with the months, or single use: yes if it is used up in one go")
		return
	}
	s.add(Statement{Kind: DurabilityText, Text: fmt.Sprintf("%dM", k.Opened), Months: k.Opened, Sources: []finding.Citation{source}}, market.OtherLetters)
}

// monthYear prints month and year in that order, or "" for no date.
func monthYear(d date.Date) string {
	if d == 0 {
		return ""
	}
	return fmt.Sprintf("%02d/%04d", d.Month(), d.Year())
}

func firstUpper(s string) string {
	for i := range s {
		if i > 0 {
			return strings.ToUpper(s[:i]) + s[i:]
		}
	}
	return strings.ToUpper(s)
}
