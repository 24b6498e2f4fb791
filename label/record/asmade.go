package record

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
)

// Rule codes of a lot that cannot be made up as it was weighed.
const (
	RuleNoLine       finding.Code = "lot.no-line"
	RuleWhichFormula finding.Code = "lot.which-formula"
	RuleNoSwap       finding.Code = "lot.swap"
	RuleTwoSheets    finding.Code = "lot.two-sheets"
	RuleWhichSheet   finding.Code = "lot.which-sheet"
	RuleStranger     finding.Code = "lot.not-in-recipe"
)

// Shelf is what a lot is made up from besides the recipe.
type Shelf interface {
	// Material returns the material of a name, or nil.
	Material(name string) *formula.Material
	// OfLot returns the material as the supplier's sheet for one of its lots describes it: m itself where the
	// book has one sheet only. earlier reports whether lot a came in before lot b.
	OfLot(m *formula.Material, code string, earlier func(a, b string) bool) *formula.Material
}

// Made is a lot as it was weighed: a product like the one in the book, with
// the piece that was really made.
type Made struct {
	Lot     *Lot
	Book    *label.Product // as the book says
	Product *label.Product // as made
	Batches []BatchAsMade  // those in which something was weighed otherwise

	Mixed []BatchAsMade     // formulas taken from lots of their own, where those were weighed otherwise
	taken map[string][]*Lot // every formula that was taken from lots of its own, by folded name

	Variants []Variant // the sheets that its material lots were judged by, where the book has several

	BookSet *label.Set   // of a lot of boxes: the set as the book says; nil for a product
	Boxes   []*label.Set // and as made, several where several lots of a product are in them
}

// BatchAsMade is one formula of a lot as weighed.
type BatchAsMade struct {
	Formula *formula.Formula
	Recipe  []formula.Weighing // what the recipe says for this batch
	Weighed []formula.Weighing // what was weighed, line by line
}

// Variant is a material whose lots come with different sheets.
type Variant struct {
	Material string
	Code     string
	Sheet    string // the reference of the sheet
}

// AsMade makes up the product of a lot as it was weighed, with the materials
// that stood in for others and the sheets of the lots that were used. The
// composer must be the one that the product is declared with.
func (l *Ledger) AsMade(c *formula.Composer, p *label.Product, x *Lot, shelf Shelf) (*Made, finding.List) {
	m := &making{ledger: l, composer: c, shelf: shelf, made: &Made{Lot: x, Book: p}, formulas: formulasOf(p)}
	m.swap()
	m.chooseSheets()
	m.strangers()
	made := *p
	made.Piece = *p.Piece.Changed(formula.Change{Material: m.material})
	made.Lot = x.Code
	m.made.Product = &made
	if m.out.Count(finding.Error) == 0 {
		m.weigh()
	}
	return m.made, m.out
}

type making struct {
	ledger   *Ledger
	composer *formula.Composer
	shelf    Shelf
	made     *Made
	out      finding.List
	formulas []*formula.Formula

	instead map[*formula.Material]*formula.Material
}

func (m *making) fail(rule finding.Code, at finding.Pos, message, cure string) {
	m.out.Add(finding.Finding{Rule: rule, Severity: finding.Error, Product: m.made.Book.Name, Where: at,
		Message: fmt.Sprintf("lot %s: %s", m.made.Lot.Code, message), Cure: cure})
}

// material returns what was taken for a material of the recipe.
func (m *making) material(was *formula.Material) *formula.Material {
	if in, ok := m.instead[was]; ok {
		return in
	}
	return was
}

// swap notes what stood in for what.
func (m *making) swap() {
	m.instead = map[*formula.Material]*formula.Material{}
	for _, s := range m.made.Lot.Swaps {
		out := m.inRecipe(s.Out)
		in := m.shelf.Material(s.In)
		switch {
		case out == nil:
			m.fail(RuleNoSwap, s.Pos, fmt.Sprintf("%s is not in the recipe of %s, so nothing can stand in for it", s.Out, m.made.Book.Name),
				"name it as the recipe does: "+strings.Join(m.materialNames(), ", "))
		case in == nil:
			m.fail(RuleNoSwap, s.Pos, fmt.Sprintf("“%s” is not a known material", s.In), "write a material for it")
		default:
			m.instead[out] = in
		}
	}
}

// chooseSheets takes each material as the sheet of its lot describes it.
func (m *making) chooseSheets() {
	for _, was := range materialsOf(&m.made.Book.Piece) {
		now := m.material(was)
		used := m.usedOf(now)
		if s, ok := now.Info.(*label.Sheet); ok && len(s.Later) > 0 && len(used) == 0 {
			m.out.Add(finding.Finding{Rule: RuleWhichSheet, Severity: finding.Question, Product: m.made.Book.Name, Where: m.made.Lot.Entry.Pos,
				Message: fmt.Sprintf("lot %s: the book has several sheets of %s, and which lot of it went in is not recorded", m.made.Lot.Code, now.Name),
				Cure:    fmt.Sprintf("record a correction with used: {%s: its lot code}", now.Name)})
		}
		var first *formula.Material
		for _, part := range used {
			m.whichSheet(now, part.Code)
			v := m.shelf.OfLot(now, part.Code, func(a, b string) bool { return m.ledger.earlier(now.Name, a, b) })
			if first != nil && first != v {
				m.fail(RuleTwoSheets, m.made.Lot.Entry.Pos, fmt.Sprintf("lots of %s with different sheets went into it: %s", now.Name, codesOf(used)),
					"make the pieces of each a lot of their own; a mixture of two sheets in one lot is not worked out")
			}
			if first = v; v == now {
				continue
			}
			ref := ""
			if s, ok := v.Info.(*label.Sheet); ok {
				ref = s.Ref
			}
			m.made.Variants = append(m.made.Variants, Variant{now.Name, part.Code, ref})
		}
		if first != nil && first != now {
			m.instead[was] = first
		}
	}
}

// strangers says what is recorded as used and is not in the recipe: a slip of the hand there sends a recall astray. What
// a mix holds that the product does not is no slip: the piece is not what its label says.
func (m *making) strangers() {
	for _, u := range m.made.Lot.Used {
		if m.stranger(u) && !m.ledger.isMix(u) {
			m.out.Add(finding.Finding{Rule: RuleStranger, Severity: finding.Warning, Product: m.made.Book.Name, Where: u.Pos,
				Message: fmt.Sprintf("lot %s: %s is recorded as used, and is not in the recipe of %s", m.made.Lot.Code, u.Name, m.made.Book.Name), Cure: "if it stood in for something, write swapped:; else check the name"})
		}
	}
	for _, x := range m.ledger.mixesIn(m.made.Lot) {
		if m.stranger(Used{Name: x.Product}) {
			m.fail(RuleMix, m.made.Lot.Entry.Pos, fmt.Sprintf("%s has no %s, and lot %s of it is said to have gone in", m.made.Book.Name, x.Product, x.Code), "name what went in as the recipe does")
			continue
		}
		for _, u := range x.Used {
			if m.stranger(u) {
				m.fail(RuleMix, m.made.Lot.Entry.Pos, fmt.Sprintf("lot %s of %s in it holds %s, which is not in the recipe of %s", x.Code, x.Product, u.Name, m.made.Book.Name), "check which mix went in, or correct what was recorded of it")
			}
		}
	}
}

// stranger reports whether something is neither in the recipe, nor in what stood in for a part of it.
func (m *making) stranger(u Used) bool {
	key, known := inci.Fold(u.Name), m.shelf.Material(u.Name)
	is := func(x *formula.Material) bool { return inci.Fold(x.Name) == key || known != nil && x == known }
	return !slices.ContainsFunc(m.formulas, func(f *formula.Formula) bool { return inci.Fold(f.Name) == key }) &&
		!slices.ContainsFunc(materialsOf(&m.made.Book.Piece), func(x *formula.Material) bool { return is(x) || is(m.material(x)) })
}

// usedOf returns the lots of a material that went in, by whatever name the lot calls it, those in mixes made beforehand
// too.
func (m *making) usedOf(x *formula.Material) (out []Portion) {
	for _, u := range m.ledger.usedIn(m.made.Lot) {
		if inci.Fold(u.Name) == inci.Fold(x.Name) || m.shelf.Material(u.Name) == x {
			for _, part := range u.Lots {
				if !slices.ContainsFunc(out, func(o Portion) bool { return fold(o.Code) == fold(part.Code) }) {
					out = append(out, part)
				}
			}
		}
	}
	return out
}

// earlier reports whether lot a of a material came in before lot b.
func (l *Ledger) earlier(material, a, b string) bool {
	ra, rb := l.Receipt(material, a), l.Receipt(material, b)
	if ra == nil || rb == nil {
		return false
	}
	all := l.ReceiptsOf(material)
	return ra.On < rb.On || ra.On == rb.On && slices.Index(all, ra) < slices.Index(all, rb)
}

func codesOf(parts []Portion) string {
	var all []string
	for _, p := range parts {
		all = append(all, p.Code)
	}
	return strings.Join(all, ", ")
}

// weigh puts the weights of the lot in the place of the recipe's.
func (m *making) weigh() {
	// The formulas of the changed piece are copies: they are told apart by name.
	piece := &m.made.Product.Piece
	all := formulasIn(piece)
	m.made.taken = m.mixed()
	if len(m.made.Lot.Weighed) == 0 && len(m.made.taken) == 0 {
		return
	}
	as := map[string]*formula.Formula{}
	for _, f := range all {
		if lots := m.made.taken[inci.Fold(f.Name)]; len(lots) > 0 {
			as[inci.Fold(f.Name)] = m.asMixed(piece, f, lots)
			continue
		}
		mine := m.of(m.made.Lot, f)
		if len(mine) == 0 {
			continue
		}
		batch, ok := m.batchSize(piece, f)
		if !ok {
			continue
		}
		recipe, bad := m.composer.Batch(f, piece.Slots, batch)
		if len(bad) > 0 {
			m.out = append(m.out, bad...)
			continue
		}
		weighed := slices.Clone(recipe)
		for _, w := range mine {
			n := m.lineOf(recipe, w.Name)
			if n < 0 {
				continue // said already
			}
			weighed[n].Grams = w.Grams
		}
		m.made.Batches = append(m.made.Batches, BatchAsMade{f, recipe, weighed})
		as[inci.Fold(f.Name)] = f.As(weighed)
	}
	m.unknownLines(piece)
	if m.out.Count(finding.Error) > 0 {
		return
	}
	m.made.Product.Piece = *piece.Changed(formula.Change{Formula: func(f *formula.Formula) *formula.Formula {
		if g, ok := as[inci.Fold(f.Name)]; ok {
			return g
		}
		return f
	}})
}

// of returns the weighings of a lot that belong to a formula.
func (m *making) of(x *Lot, f *formula.Formula) []Weighed {
	var out []Weighed
	for _, w := range x.Weighed {
		if w.Formula != "" && inci.Fold(w.Formula) != inci.Fold(f.Name) {
			continue
		}
		if w.Formula == "" && !m.hasLine(f, w.Name) {
			continue
		}
		out = append(out, w)
	}
	return out
}

// hasLine reports whether a formula has a line of the name: a material, a formula, or a slot.
func (m *making) hasLine(f *formula.Formula, name string) bool {
	recipe, bad := m.composer.Batch(f, m.made.Product.Piece.Slots, exact.Int(1))
	return len(bad) == 0 && m.lineOf(recipe, name) >= 0
}

// lineOf finds the line of a name, by what is weighed, by the slot it fills,
// or by what the recipe calls it where something else stood in.
func (m *making) lineOf(recipe []formula.Weighing, name string) int {
	key, known := inci.Fold(name), m.shelf.Material(name)
	return slices.IndexFunc(recipe, func(w formula.Weighing) bool {
		if w.Lye && isWorked(w.Material, key) || inci.Fold(w.Name()) == key || w.Slot != "" && inci.Fold(w.Slot) == key || known != nil && w.Material == known {
			return true
		}
		for was, now := range m.instead {
			if w.Material == now && (inci.Fold(was.Name) == key || was == known) {
				return true
			}
		}
		return false
	})
}

// isWorked reports whether lye or water that a lye calculation adds goes by a folded name: that of the substance, or
// lye and water in plain words.
func isWorked(m *formula.Material, key string) bool {
	return slices.ContainsFunc(m.Parts, func(p formula.Part) bool {
		substance := inci.Fold(string(p.Key))
		return substance == key || key == inci.Fold("lye") && strings.HasSuffix(substance, inci.Fold("hydroxide")) || key == inci.Fold("water") && substance == inci.Fold("aqua") && len(m.Parts) == 1
	})
}

// unknownLines says which weighings belong to no line, and which to several.
func (m *making) unknownLines(piece *formula.Piece) {
	for _, w := range m.made.Lot.Weighed {
		var in []string
		for _, f := range formulasIn(piece) {
			if (w.Formula == "" || inci.Fold(w.Formula) == inci.Fold(f.Name)) && m.hasLine(f, w.Name) {
				in = append(in, f.Name)
			}
		}
		switch {
		case len(in) == 0 && w.Formula != "":
			m.fail(RuleNoLine, w.Pos, fmt.Sprintf("%s has no line “%s”", w.Formula, w.Name), "name it as the recipe does")
		case len(in) == 0:
			m.fail(RuleNoLine, w.Pos, fmt.Sprintf("no formula of %s has a line “%s”", m.made.Book.Name, w.Name), "name it as the recipe does")
		case len(in) > 1:
			m.fail(RuleWhichFormula, w.Pos, fmt.Sprintf("“%s” is weighed into %s", w.Name, strings.Join(in, " and into ")),
				fmt.Sprintf("say into which: {%s: {%s: %s g}}", in[0], w.Name, w.Grams.Decimal(2, exact.Nearest)))
		}
	}
}

// batchSize returns how many grams of a formula were made: what the lot says,
// or what went into the formulas that hold it.
func (m *making) batchSize(piece *formula.Piece, f *formula.Formula) (exact.Rat, bool) {
	if g, ok := m.made.Lot.stated(f.Name); ok {
		return g, true
	}
	outer := m.made.Lot.outer(piece, m.made.Book.Count)
	var sum exact.Rat
	var down func(g *formula.Formula, grams exact.Rat)
	down = func(g *formula.Formula, grams exact.Rat) {
		if g == f {
			sum = sum.Add(grams)
			return
		}
		lines, bad := m.composer.Batch(g, piece.Slots, grams)
		if len(bad) > 0 {
			return
		}
		for _, w := range lines {
			if w.Formula != nil {
				down(w.Formula, w.Grams)
			}
		}
	}
	for g, grams := range outer { // the sum is the same in any order
		down(g, grams)
	}
	if sum.IsZero() {
		m.fail(RuleNoLine, m.made.Lot.Entry.Pos, fmt.Sprintf("how much of %s was made is not said", f.Name),
			fmt.Sprintf("write pieces:, or batch: {%s: 3 kg}", f.Name))
		return exact.Rat{}, false
	}
	return sum, true
}

// inRecipe returns the material of the recipe that goes by a name or fills the
// slot of that name.
func (m *making) inRecipe(name string) *formula.Material {
	key, known := inci.Fold(name), m.shelf.Material(name)
	for _, x := range materialsOf(&m.made.Book.Piece) {
		if inci.Fold(x.Name) == key || x == known {
			return x
		}
	}
	for slot, fill := range m.made.Book.Piece.Slots {
		if inci.Fold(slot) == key && fill.Material != nil {
			return fill.Material
		}
	}
	return nil
}

func (m *making) materialNames() []string {
	var out []string
	for _, x := range materialsOf(&m.made.Book.Piece) {
		out = append(out, x.Name)
	}
	return out
}
