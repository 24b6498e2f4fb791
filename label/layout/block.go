package layout

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"panelwright/label"
	"panelwright/label/code"
	"panelwright/label/font"
	"panelwright/label/look"
	"panelwright/label/market"
	"panelwright/label/picture"
	"panelwright/label/scene"
)

// role is how a block is sized: all blocks of a role but the net quantity share one size, unless the law
// asks more of one.
type role uint8

const (
	roleTitle  role = iota
	roleSecond      // the name in a further language
	roleIdentity
	roleText
	roleNet
)

// width is one of the three widths of the text family, the narrower the higher.
type width uint8

const (
	normal width = iota
	semi
	condensed
	widths
)

var (
	regularFace = [widths]*font.Face{font.Text, font.Semi, font.Condensed}
	boldFace    = [widths]*font.Face{font.TextBold, font.SemiBold, font.CondensedBold}
)

// block is a statement, ready to be set.
type block struct {
	d      *dressed // how it is to look; nil for a row
	s      *label.Statement
	text   string // of the statement, with single spaces
	lead   string // likewise
	role   role
	group  int              // blocks of one group stand closer together
	scale  scene.Um         // of its size, in percent
	fill   bool             // a space to write in follows the words
	joined bool             // the space serves the words before these too
	symbol symbol           // drawn with the words
	logo   *picture.Picture // instead of words
	codes  []*code.Symbol   // instead of words
	apart  bool             // keeps the space clear that the law asks round a net quantity
	parts  []*block         // of a row: spaces to write in, and symbols, side by side
	flows  [widths]*flow
	floor  [widths]scene.Um // smallest em the law, or the eye, allows
	tail   scene.Um         // height of the e-mark that follows the words, at the floor; 0 for none
	on     font.Measure
}

// wordless reports whether the block is a picture or codes.
func (b *block) wordless() bool { return b.logo != nil || b.codes != nil }

// words for a statement in marks and messages.
var kindWords = map[label.StatementKind]string{
	label.TitleText:       "name",
	label.IdentityText:    "identity",
	label.NetText:         "net quantity",
	label.ListText:        "ingredients",
	label.ResponsibleText: "responsible person",
	label.ContactText:     "contact",
	label.LotText:         "lot",
	label.DurabilityText:  "durability",
	label.FunctionText:    "function",
	label.DirectionsText:  "directions",
	label.CautionText:     "caution",
	label.OriginText:      "origin",
	label.MakerText:       "maker",
	label.CodeText:        "material code",
	label.NoticeText:      "notice",
}

// houseHeight is the smallest height of the lower-case o where no rule sets one. Common practice, no
// source: one millimetre is what most people past forty still read at arm's length in fair light.
const houseHeight = 1000

// newBlock measures a statement. The narrower widths are measured when they are needed, see flow. It is nil for
// a statement that another stands for: with the egg timer one date serves all languages, and where the name says
// what the product is, the identity is the name.
func (d *dressed) newBlock(s *label.Statement) (*block, error) {
	b := &block{d: d, role: roleText, group: 1, scale: 100, apart: s.Apart}
	b.say(s)
	twice := (s.Kind == label.TitleText || s.Kind == label.IdentityText) && slices.Contains(d.named, plain(s.Text))
	switch s.Kind {
	case label.TitleText:
		if twice {
			return nil, nil // the identity is set as the name
		}
		b.role, b.group, b.scale = roleTitle, 0, percent(d.Look.Title.Size)
	case label.IdentityText:
		b.role, b.group, b.scale = roleIdentity, 0, percent(d.Look.Identity.Size)
		if twice {
			b.role, b.scale = roleTitle, percent(d.Look.Title.Size)
		}
	case label.FunctionText:
		b.group = 0
	case label.NetText:
		b.role, b.group = roleNet, 3
	case label.ResponsibleText, label.ContactText, label.OriginText, label.MakerText,
		label.LotText, label.DurabilityText, label.CodeText:
		b.group = 2
	}
	switch {
	case s.Kind == label.DurabilityText && s.Months > 0:
		b.symbol = jarSymbol
	case s.Kind == label.DurabilityText && d.EggTimer == label.SaidYes:
		if d.timed {
			return nil, nil
		}
		d.timed = true
		b.symbol = timerSymbol
	case s.Kind == label.CodeText:
		b.symbol = codeSymbol
	case s.Kind == label.NoticeText && s.Text == "":
		b.symbol = bookSymbol
	}
	if (s.Kind == label.LotText || s.Kind == label.DurabilityText) && s.Months == 0 && strings.TrimSpace(s.Text) == "" {
		b.fill = true
	}
	b.on = b.measured()
	_, err := b.flow(normal)
	return b, err
}

// say makes the block one of the words of a statement.
func (b *block) say(s *label.Statement) {
	b.s, b.text, b.lead = s, spaced(s.Text), spaced(s.Lead)
}

// slash ends the words of a block with a stroke, so that those of the next language read apart from them. A face
// of the maker's that has none does without.
func (b *block) slash() {
	before, measured := b.s, b.flows
	s := *b.s
	if s.Lead = strings.TrimSpace(s.Lead + " " + s.Text); s.Lead == "" {
		return
	}
	s.Lead, s.Text = s.Lead+" /", ""
	b.say(&s)
	b.flows = [widths]*flow{}
	if _, err := b.flow(normal); err != nil {
		b.say(before)
		b.flows = measured
	}
}

func percent(size int) scene.Um {
	if size == 0 {
		return 100
	}
	return scene.Um(size)
}

// measured returns the letter that the block's height is taken from: that of its rule, and where the rule takes
// the lower-case o the capital if the block has no small letter.
func (b *block) measured() font.Measure {
	switch b.s.Height.On {
	case market.Capital:
		return font.Capitals
	case market.Numeral:
		return font.Numerals
	}
	spans, _ := b.spans(normal)
	letters := false
	for _, s := range spans {
		if strings.ContainsFunc(s.text, unicode.IsLower) {
			return font.LowerO
		}
		letters = letters || strings.ContainsFunc(s.text, unicode.IsLetter)
	}
	if letters {
		return font.Capitals
	}
	return font.LowerO
}

// flow returns the statement measured in one width of the text family.
func (b *block) flow(w width) (*flow, error) {
	if b.flows[w] != nil || b.wordless() {
		return b.flows[w], nil
	}
	spans, how := b.spans(w)
	shape := measure
	if n := b.flows[normal]; n != nil {
		if n.in(spans) { // of a face that has but one width
			b.flows[w], b.floor[w] = n, b.floor[normal]
			return n, nil
		}
		shape = n.measureAs
	}
	f, err := shape(how, spans...)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", kindWords[b.s.Kind], err)
	}
	b.flows[w] = f
	if b.role == roleText && b.symbol == noSymbol || b.role == roleIdentity {
		for _, sp := range spans {
			strut := sp.face.Strut()
			f.top, f.bottom = max(f.top, int64(strut.Up)), max(f.bottom, int64(strut.Down))
		}
	}
	if b.apart {
		n, err := spans[0].face.Shape("N")
		if err != nil {
			return nil, fmt.Errorf("%s: %w", kindWords[b.s.Kind], err)
		}
		f.wideN = int64(n[0].Advance)
	}
	least := scene.Um(b.s.Height.Min)
	for _, sp := range spans {
		if least > 0 {
			b.floor[w] = max(b.floor[w], scene.Um(sp.face.SizeForHeight(int64(least), b.on)))
		}
		b.floor[w] = max(b.floor[w], scene.Um(sp.face.SizeForHeight(houseHeight, font.LowerO)))
	}
	if b.role == roleNet {
		b.floor[w] = max(b.floor[w], fractionFloor(b.s, spans))
	}
	if b.tail > 0 {
		f.follow(b.tail, b.floor[w])
	}
	return f, nil
}

// fractionFloor returns the smallest em at which each figure of the common fractions in a net quantity has its
// height: where the markets name none for fractions, the height of the whole (21 CFR 701.13(h)(3)).
func fractionFloor(s *label.Statement, spans []span) scene.Um {
	floor := scene.Um(0)
	for _, sp := range spans {
		for _, r := range sp.text {
			if !strings.ContainsRune(font.Fractions, r) {
				continue
			}
			if h := sp.face.FractionHeight(r); h > 0 {
				floor = max(floor, scene.Um((fractionHeight(s)*sp.face.UnitsPerEm()+h-1)/h))
			}
		}
	}
	return floor
}

// fractionHeight returns the smallest height of a figure of a fraction, in micrometres.
func fractionHeight(s *label.Statement) int64 {
	least := int64(0)
	for _, m := range s.Markets {
		if rules := market.For(m); rules != nil {
			least = max(least, rules.FractionHeight(s.Height).Min)
		}
	}
	if least == 0 {
		return s.Height.Min
	}
	return least
}

// regular and bold return the text faces of a width: those of the text family, or the maker's own.
func (d *dressed) regular(w width) *font.Face {
	if d.Text != nil {
		return d.Text
	}
	return regularFace[w]
}

func (d *dressed) bold(w width) *font.Face {
	if d.Text != nil {
		return d.Text
	}
	return boldFace[w]
}

// cased returns a text in the case of a layout. The sharp s has no capital that all faces have.
func cased(text string, t look.Type) string {
	if !t.Upper {
		return text
	}
	return strings.ToUpper(strings.ReplaceAll(text, "ß", "ss"))
}

// spaced returns a text with one space wherever it has some, and none at its ends.
func spaced(text string) string { return strings.Join(strings.Fields(text), " ") }

// spans returns the faces a statement is set in, and where its lines may end.
func (b *block) spans(w width) ([]span, breaking) {
	text, lead := b.text, b.lead
	d := b.d
	regular, bold := d.regular(w), d.bold(w)
	switch b.symbol {
	case jarSymbol: // the period stands on the jar, which says the rest
		return []span{{text: fmt.Sprintf("%dM", b.s.Months), face: bold}}, atSpaces
	case timerSymbol: // stands for the words before the date
		return []span{{text: text, face: regular}}, atSpaces
	case codeSymbol, eSymbol, bookSymbol:
		return []span{{text: text, face: bold}}, atSpaces
	}
	switch b.role {
	case roleTitle, roleSecond:
		t := d.Look.Title
		text = cased(text, t)
		switch {
		case b.s.Bold: // an identity that has to be bold is so as the name too
			return []span{{text, bold, t.Space}}, atSpaces
		case d.Title != nil:
			return []span{{text, d.Title, t.Space}}, atSpaces
		case t.Face != nil && t.Face.Has(text):
			return []span{{text, t.Face, t.Space}}, atSpaces
		case font.Display.Has(text):
			return []span{{text, font.Display, t.Space}}, atSpaces
		}
		return []span{{text, bold, t.Space}}, atSpaces
	case roleNet:
		if lead != "" {
			text = lead + " " + text
		}
		return []span{{text: text, face: bold}}, atGroups
	case roleIdentity:
		t := d.Look.Identity
		face := regular
		if b.s.Bold {
			face = bold
		} else if d.Text == nil && t.Face != nil && t.Face.Has(text) {
			face = t.Face
			for i := range regularFace { // a face of the family follows the width
				if face == regularFace[i] {
					face = regular
				} else if face == boldFace[i] {
					face = bold
				}
			}
		}
		return []span{{cased(text, t), face, t.Space}}, atSpaces
	}
	face, how := regular, atSpaces
	if b.s.Bold {
		face = bold
	}
	switch b.s.Kind {
	case label.ListText:
		how = atCommas
	case label.ResponsibleText:
		how = atAddress
	}
	if lead == "" {
		return []span{{text: text, face: face}}, how
	}
	return []span{{cased(lead, d.Look.Leads) + " ", bold, d.Look.Leads.Space}, {text: text, face: face}}, how
}

// mark says what the block's text is there for, at an em of size.
func (b *block) mark(w width, size scene.Um) *scene.Mark {
	m := &scene.Mark{
		Statement: kindWords[b.s.Kind],
		Lang:      b.s.Lang,
		On:        b.on,
		MinHeight: scene.Um(b.s.Height.Min),
		Rule:      b.s.Height.Rule,
		Source:    b.s.Height.Source.String(),
	}
	for i, r := range b.flows[w].runs {
		if h := scene.Um(r.face.HeightAt(int64(size), b.on)); i == 0 || h < m.Height {
			m.Height = h
		}
	}
	return m
}
