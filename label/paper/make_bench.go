package paper

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/quantity"
	"panelwright/label"
	"panelwright/label/record"
)

// fetch lists what all lots take, what of it is in hand by the records, and
// what to buy.
func (m *Making) fetch(doc *Paper) {
	doc.add(Heading{2, "Fetch"})
	defer m.sheets(doc)
	b := Bench{Heads: []string{"", "material", "takes", "in hand by the records", "buy"}, Wide: []int{8, 44, 26, 66, 26}, Right: []bool{false, false, true, false, true}, Tick: []int{0}, Strong: []int{2, 4}}
	if m.Supplies == nil {
		b = Bench{Heads: []string{"", "material", "takes"}, Wide: []int{8, 90, 40}, Right: []bool{false, false, true}, Tick: []int{0}, Strong: []int{2}}
		for _, n := range m.Plan.Needs {
			b.Rows = append(b.Rows, []string{"", n.Name(), m.grams(n.Grams)})
		}
		doc.add(b, Para{Words: "No lot of a material is recorded, so nothing is said of what is in hand. To record one: panelwright record.", Quiet: true})
		return
	}
	for i := range m.Supplies {
		s := &m.Supplies[i]
		buy := ""
		if s.Buy.Sign() > 0 && s.Recorded {
			buy = s.Buy.Decimal(0, exact.Up).String() + " g"
		}
		b.Rows = append(b.Rows, []string{"", s.Name(), m.grams(s.Grams), lotsInHand(s), buy})
	}
	doc.add(b, Para{Words: "In hand is what came in less what recorded lots took; what was spilled, or used and not recorded, is not counted. Look before you buy.", Quiet: true})
}

// sheets says which materials come with several sheets of their supplier.
func (m *Making) sheets(doc *Paper) {
	for _, n := range m.Plan.Needs {
		if s, ok := n.Material.Info.(*label.Sheet); ok && len(s.Later) > 0 {
			doc.add(Para{Words: fmt.Sprintf("The book has several sheets of %s: which lot goes in decides what the label must say. Write it down, and do not mix lots of two sheets.", n.Name()), Loud: true})
		}
	}
}

// lotsInHand words the lots of a material that may be used.
func lotsInHand(s *record.Supply) string {
	var all []string
	for _, b := range s.Lots {
		r := b.Receipt
		w := r.Code
		if b.Known {
			w += ": " + b.Left.Decimal(0, exact.Down).String() + " g"
		} else {
			w += ": weight not recorded"
		}
		if r.Expires != 0 {
			w += ", until " + r.Expires.String()
		}
		all = append(all, w)
	}
	for _, b := range s.Expired {
		all = append(all, fmt.Sprintf("%s expired on %s: not counted", b.Receipt.Code, b.Receipt.Expires))
	}
	switch {
	case len(all) == 0 && !s.Recorded:
		return "not recorded"
	case len(all) == 0:
		return "used up"
	}
	return strings.Join(all, "; ")
}

// sideBySide is how many bowls stand beside one another in a table.
const sideBySide = 3

// lot writes the sheet of one lot, which begins on a page of its own.
func (m *Making) lot(doc *Paper, lot *record.PlannedLot) {
	doc.add(Keep(wholePage))
	code := lot.Code
	if code == "" {
		code = "................"
	}
	doc.add(Large{fmt.Sprintf("Lot %s: %d %s", code, lot.Pieces, plural(lot.Pieces, "piece"))})
	doc.add(Pair{"Made on", "................"})
	for i := range lot.Mixes {
		x := &lot.Mixes[i]
		doc.add(Heading{2, fmt.Sprintf("%d. %s", i+1, x.Formula.Name)})
		m.mixFoot(doc, x)
		first := 1
		for k := range x.Bowls {
			b := &x.Bowls[k]
			for n := 0; n < b.Count; n += sideBySide {
				last := min(n+sideBySide, b.Count)
				m.bowl(doc, x, b, first+n, first+last-1)
			}
			first += b.Count
		}
		m.rounding(doc, &x.Bowls[len(x.Bowls)-1])
	}
	m.assemble(doc)
}

// wholePage is all that a page has, in millimetres, less a line or two.
const wholePage = 250

// lineHigh is about how high a line of a bench table is, in millimetres.
const lineHigh = 10

// mixFoot says into how many bowls and moulds a mix goes.
func (m *Making) mixFoot(doc *Paper, x *record.Mix) {
	bowls := 0
	for _, b := range x.Bowls {
		bowls += b.Count
	}
	s := fmt.Sprintf("%s in all", m.grams(x.Grams))
	if bowls > 1 {
		s += fmt.Sprintf(", in %d bowls", bowls)
	}
	if x.Fillings > 0 {
		s += fmt.Sprintf(", into %d %s", x.Fillings, plural(x.Fillings, "mould"))
		if h := x.Formula.Mould.Holds; h.Sign() > 0 {
			s += ", each filled with " + m.grams(h)
		}
	}
	doc.add(Para{Words: s + "."})
}

// bowl writes the table of some bowls that are weighed alike.
func (m *Making) bowl(doc *Paper, x *record.Mix, b *record.Bowl, from, to int) {
	doc.add(Keep(min(25+len(b.Lines)*lineHigh, wholePage)))
	if to > 1 || from > 1 {
		name := fmt.Sprintf("Bowl %d", from)
		if to > from {
			name = fmt.Sprintf("Bowls %d to %d, each", from, to)
			if to == from+1 {
				name = fmt.Sprintf("Bowls %d and %d, each", from, to)
			}
		}
		name += ": " + m.grams(b.Grams)
		if b.Pieces > 0 {
			name += fmt.Sprintf(", %d %s", b.Pieces, plural(b.Pieces, "piece"))
		}
		doc.add(Para{Words: name, Loud: true})
	}
	for _, ph := range phasesOf(x.Formula, b) {
		if ph.name != "" {
			doc.add(Para{Words: ph.name, Loud: true})
		}
		t := Bench{Heads: []string{"what", "weigh", "as written", "its lot"}, Wide: []int{46, 30, 34, 28}, Right: []bool{false, true, false, false}, Strong: []int{0}, Loud: []int{1}, Write: []int{3}}
		for n := from; n <= to; n++ {
			head := "weighed"
			if to > from {
				head = fmt.Sprintf("bowl %d", n)
			}
			t.Write, t.Tick = append(t.Write, len(t.Heads)), append(t.Tick, len(t.Heads))
			t.Heads, t.Wide, t.Right = append(t.Heads, head), append(t.Wide, 34), append(t.Right, false)
		}
		var sum exact.Rat
		for i := range ph.lines {
			a := &ph.lines[i]
			sum = sum.Add(a.Weigh)
			t.Rows = append(t.Rows, []string{a.Name(), m.shown(a), Written(a), ""})
		}
		doc.add(t)
		m.inGoes(doc, ph.lines)
		if len(ph.lines) > 1 {
			doc.add(Para{Words: "Together " + m.grams(sum) + ": if the scale says otherwise, something was forgotten or weighed twice.", Quiet: true})
		}
	}
}

// inGoes says what is more than the scale holds at once.
func (m *Making) inGoes(doc *Paper, lines []record.Amount) {
	most := m.Workshop.ScaleUpTo
	for _, a := range lines {
		if most.Sign() > 0 && most.Less(a.Weigh) {
			doc.add(Para{Words: fmt.Sprintf("%s is more than the scale holds: weigh it in %s goes.", a.Name(), a.Weigh.Quo(most).Decimal(0, exact.Up))})
		}
	}
}

// shown is an amount as the scale should show it.
func (m *Making) shown(a *record.Amount) string {
	if s := m.Plan.Step; s.Sign() > 0 && a.Weigh.Less(s) {
		return g(a.Grams, 2) // less than the scale shows
	}
	return m.grams(a.Weigh)
}

// phase is what is weighed together before something else happens.
type phase struct {
	name  string
	lines []record.Amount
}

// phasesOf parts a soap into lye, mix and what goes in after cooking; all else
// is one phase.
func phasesOf(f *formula.Formula, b *record.Bowl) []phase {
	if f.Saponify == nil {
		return []phase{{"", b.Lines}}
	}
	all := []phase{{name: "Lye: into the water, never water into lye"}, {name: "The mix"}, {name: "Once it is cooked and no lye is left"}}
	for _, a := range b.Lines {
		switch {
		case a.Lye:
			all[0].lines = append(all[0].lines, a)
		case slices.Contains(f.Saponify.After, a.Material):
			all[2].lines = append(all[2].lines, a)
		default:
			all[1].lines = append(all[1].lines, a)
		}
	}
	return slices.DeleteFunc(all, func(p phase) bool { return len(p.lines) == 0 })
}

// Written says an amount in the unit of its line: ounces of a line in ounces,
// cups of one in cups, the per cent of one in per cent. Lye that was worked out
// has none.
func Written(a *record.Amount) string {
	if a.Line == nil {
		return "worked out"
	}
	q, ok := writtenAs(a.Line.Text)
	if !ok {
		return ""
	}
	switch q.Unit.Kind {
	case quantity.Mass:
		if q.Unit.Symbol == "g" || q.Unit.Symbol == "kg" || q.Unit.Symbol == "mg" {
			return ""
		}
		return a.Grams.Quo(q.Unit.Factor).Decimal(2, exact.Nearest).String() + " " + q.Unit.Symbol
	case quantity.Volume: // as many times the volume as it is times the grams of the line
		if a.Line.Amount.Value.IsZero() {
			return ""
		}
		n := q.Number.Mul(a.Grams).Quo(a.Line.Amount.Value).Decimal(2, exact.Nearest)
		unit := q.Unit.Symbol
		if unit == "cup" && n.String() != "1" {
			unit = "cups"
		}
		return n.String() + " " + unit
	}
	if a.Slot != "" {
		return a.Slot + " " + q.Text
	}
	return q.Text
}

// writtenAs reads the amount of a line as it stands in the book.
func writtenAs(text string) (quantity.Quantity, bool) {
	if i := strings.LastIndex(text, ": "); i >= 0 {
		if q, err := quantity.Parse(text[i+2:]); err == nil {
			return q, true
		}
	}
	q, _, err := quantity.Leading(text)
	return q, err == nil
}

// rounding says what whole steps of the scale do to the bowl that suffers most.
func (m *Making) rounding(doc *Paper, b *record.Bowl) {
	if m.Plan.Step.Sign() == 0 || len(b.Lines) < 2 {
		return
	}
	var was, is, most exact.Rat
	for _, a := range b.Lines {
		was, is = was.Add(a.Grams), is.Add(a.Weigh)
	}
	worst := -1
	for i, a := range b.Lines {
		off := a.Weigh.Sub(a.Grams)
		if off.Sign() < 0 {
			off = off.Neg()
		}
		if off = off.Quo(a.Grams); most.Less(off) {
			worst, most = i, off
		}
	}
	words := "Nothing was rounded."
	if worst >= 0 {
		a := &b.Lines[worst]
		words = fmt.Sprintf("Rounded to steps of %s. That changes %s most: %s %% of the mix became %s %%.", m.grams(m.Plan.Step), a.Name(), pc(a.Grams.Quo(was)), pc(a.Weigh.Quo(is)))
	}
	doc.add(Para{Words: words, Quiet: true})
}

// pc prints a share to a hundredth of a per cent.
func pc(x exact.Rat) string {
	return x.Mul(exact.Int(100)).Decimal(2, exact.Nearest).StringFixed(2)
}

// assemble says what goes into each piece.
func (m *Making) assemble(doc *Paper) {
	p := &m.Plan.Product.Piece
	t := Bench{Heads: []string{"into each piece", "weigh", "as written"}, Wide: []int{70, 40, 40}, Right: []bool{false, true, false}, Strong: []int{0}, Loud: []int{1}}
	for i := range p.Lines {
		l := &p.Lines[i]
		w := formula.Weighing{Line: l, Material: l.Material, Formula: l.Formula, Slot: l.Slot, Grams: l.Amount.Value}
		if l.Slot != "" {
			w.Material, w.Formula = p.Slots[l.Slot].Material, p.Slots[l.Slot].Formula
		}
		a := record.Amount{Weighing: w, Weigh: l.Amount.Value}
		t.Rows = append(t.Rows, []string{a.Name(), g1(a.Grams), Written(&a)})
	}
	doc.add(Keep(70), Heading{2, "Shape"}, t)
	out, weigh := "Pieces that came out", "Fresh, five pieces weigh"
	if n := m.Plan.Each(); n > 1 { // what is recorded is of packs
		out, weigh = fmt.Sprintf("Packs of %d that came out", n), fmt.Sprintf("Fresh, five packs of %d weigh", n)
	}
	doc.add(Pair{out, "............"}, Pair{weigh, "........  ........  ........  ........  ........"})
	doc.add(Pair{"Remarks", ""}, Room(22))
}

// after says what follows the making.
func (m *Making) after(doc *Paper) {
	doc.add(Keep(35), Heading{2, "Afterwards"})
	for _, r := range m.Plan.Piece.Reactions() {
		if r.Cure() > 0 {
			doc.add(Para{Words: fmt.Sprintf("Cure %d days: until %s. Weigh a bar now and at the end.", r.Cure(), m.On.AddDays(r.Cure()))})
		}
	}
	for _, s := range m.Prints {
		doc.add(Para{Words: s})
	}
	if m.Form != "" {
		doc.add(Para{Words: fmt.Sprintf("Record it: fill in %s and hand it to panelwright record --form.", m.Form)})
	}
}
