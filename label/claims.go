package label

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/label/market"
)

// spoken is a text that the pack or the shop shows.
type spoken struct {
	key  string // of the book, for the place
	what string // "the title"
	lang string
	text string
}

// spokenOf returns what is said of a product: its name, which counts as a claim
// as well as any sentence, and the rest, languages in order.
func spokenOf(p *Product) []spoken {
	var all []spoken
	said := map[string]bool{}
	add := func(key, what string, w Wording) {
		for _, l := range slices.Sorted(maps.Keys(w)) {
			if s := l + w[l]; w[l] != "" && !said[s] {
				said[s] = true
				all = append(all, spoken{key, what, l, w[l]})
			}
		}
	}
	if p.Title["en"] == "" {
		add("", "the name", Wording{"en": p.Name})
	}
	add("title", "the title", p.Title)
	add("identity", "the identity", p.Identity)
	add("function", "the function", p.Function)
	add("directions", "the directions", p.Directions)
	for _, c := range p.Claims {
		add("claims", "the claims", c)
	}
	return all
}

// judgeWords goes through what is said of the product: claims, names of food,
// and the soap exemption that a claim cancels.
func (d *Desk) judgeWords(x *Declaration) {
	food, toy := "", ""
	var cosmetic []string
	var unread []spoken
	speaks := d.spokenIn(x)
	for _, s := range spokenOf(x.Product) {
		if s.key != "" && !speaks(s.lang) {
			continue
		}
		said, read := d.sayings(s)
		if !read {
			unread = append(unread, s)
			continue
		}
		var told []string
		for i, hit := range said {
			if s.key == "directions" && warned(s.text, said[:i], hit) {
				continue
			}
			words := s.text[hit.Start:hit.End]
			quote := fmt.Sprintf("“%s” in %s (“%s”)", words, s.what, s.text)
			kind := s.kindOf(hit, said)
			switch kind {
			case "food":
				if food == "" && s.key != "directions" && s.key != "function" && s.key != "claims" {
					food = quote
				}
			case "toy":
				if toy == "" {
					toy = quote
				}
			case "cosmetic":
				cosmetic = append(cosmetic, quote)
			default:
				// A word may mean several things to the law, and is told once for each.
				if c, ok := x.Rules.Claim(kind, x.Occasion); ok && !slices.Contains(told, kind+quote) {
					told = append(told, kind+quote)
					x.add(finding.Finding{Rule: c.Rule, Severity: c.Severity, Where: x.Product.At(s.key), Message: quote + " " + c.Says, Cure: c.Cure, Source: c.Source})
				}
			}
		}
	}
	x.sayUnread(unread)
	x.judgeFood(food)
	x.judgeToy(toy)
	d.judgeSoap(x, cosmetic)
}

// warned reports whether words stand in a sentence after others that warn, as
// "wounds" in "do not use on wounds": in directions that is a precaution and no
// promise.
func warned(text string, before []market.Said, hit market.Said) bool {
	return slices.ContainsFunc(before, func(o market.Said) bool {
		return o.Kind == "warning" && !strings.ContainsAny(text[o.End:hit.Start], ".!?;")
	})
}

// spokenIn returns whether a language is spoken where the product is sold: by the
// market, or by the pack. Where the countries are not stated every language is.
func (d *Desk) spokenIn(x *Declaration) func(lang string) bool {
	need, _, err := x.Rules.Languages(d.Workshop.Countries)
	pack := x.Product.PackFor(x.Market)
	return func(lang string) bool {
		return err != nil || slices.Contains(need, lang) || pack != nil && slices.Contains(pack.Languages, lang)
	}
}

type saidKey struct{ lang, text string }

// sayings returns what a text says, and remembers it: members of a range share
// most of their texts. read is false in a language that is not read here.
func (d *Desk) sayings(s spoken) (said []market.Said, read bool) {
	k := saidKey{s.lang, s.text}
	if v, ok := d.said.Load(k); ok {
		known := v.(sayings)
		return known.said, known.read
	}
	said, read = market.Sayings(s.text, s.lang)
	d.said.Store(k, sayings{said, read})
	return said, read
}

type sayings struct {
	said []market.Said
	read bool // there are words to look for in the language
}

// sayUnread names the languages in which nobody here reads what the book says of
// the product.
func (x *Declaration) sayUnread(unread []spoken) {
	var langs []string
	for _, s := range unread {
		if l := market.LanguageName(s.lang); !slices.Contains(langs, l) {
			langs = append(langs, l)
		}
	}
	if len(langs) == 0 {
		return
	}
	x.add(finding.Finding{Rule: "claim.language", Severity: finding.Note, Where: x.Product.At(unread[0].key),
		Message: "claims in " + someOf(langs, 6) + " are not read: what the book says there was not judged",
		Cure:    "have somebody who speaks it go through the wordings for promises of healing, protection from the sun and approval", Source: practice})
}

// judgeFood asks about a piece that may be taken for food. Words that name a
// food ask; so does the maker's own yes. A stated no settles it.
func (x *Declaration) judgeFood(quote string) {
	p := x.Product
	c := x.Rules.Caution("food", x.Occasion, usesOf(p).has)
	if c == nil || p.LooksLikeFood == SaidNo || p.cautions(c) {
		return
	}
	switch {
	case p.LooksLikeFood == SaidYes:
		quote = "the book says that it looks like food"
	case quote == "":
		if quote = foodIn(p.Type); quote == "" {
			return
		}
	}
	x.add(finding.Finding{Rule: c.Rule, Severity: c.Severity, Where: x.Product.At("looks like food"), Message: quote + ": " + c.Says, Cure: c.Cure, Source: c.Source})
}

// foodIn quotes the type of a product if it names a food.
func foodIn(productType string) string {
	said, _ := market.Sayings(productType, "en")
	for _, s := range said {
		if s.Kind == "food" {
			return fmt.Sprintf("“%s” in the type (“%s”)", productType[s.Start:s.End], productType)
		}
	}
	return ""
}

// judgeToy asks about small parts, stated or suggested by the words on the pack.
func (x *Declaration) judgeToy(quote string) {
	p := x.Product
	if p.SmallParts == SaidNo {
		return
	}
	topic, where := "small-parts", "the book says that a small part is in it"
	switch {
	case p.SmallParts == SaidYes:
	case quote != "":
		where = quote
	case usesOf(p).has("children"):
		topic, where = "small-parts-unstated", ""
	default:
		return
	}
	c := x.Rules.Caution(topic, x.Occasion, usesOf(p).has)
	if c == nil {
		return
	}
	msg := strings.TrimPrefix(where+": "+c.Says, ": ")
	x.add(finding.Finding{Rule: c.Rule, Severity: c.Severity, Where: p.At("small parts"), Message: msg, Cure: c.Cure, Source: c.Source})
}
