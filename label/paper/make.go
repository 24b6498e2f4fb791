package paper

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/record"
)

// Making is what a make sheet is written from.
type Making struct {
	Plan     *record.Plan
	Workshop *label.Workshop
	On       date.Date
	Supplies []record.Supply // of each material; nil where no lot of any is recorded
	Fine     []record.Fine
	Worst    finding.List                           // what the scale may do to the declaration
	Lye      map[*formula.Formula]formula.WorstCase // of the soaps, as they will be weighed
	Prints   []string                               // labels and stickers to print, one a line
	Form     string                                 // where the form for the records is
	Labels   string                                 // why its labels may not be printed yet; "" where they may
	Trial    bool                                   // made to try something: no sale labels
}

// Make writes a make sheet: what to fetch, what to look out for, and for each
// lot what to weigh into which bowl, in the order of work, with room to write
// down what was really weighed.
func Make(m *Making) *Paper {
	p := m.Plan
	doc := &Paper{Title: "Make " + p.Product.Name, Lang: "en", Footer: fmt.Sprintf("%s, make sheet of %s", p.Product.Name, m.On)}
	m.stop(doc)
	m.glance(doc)
	m.fetch(doc)
	m.cautions(doc)
	m.fine(doc)
	for i := range p.Lots {
		m.lot(doc, &p.Lots[i])
	}
	m.after(doc)
	doc.add(Para{Words: Humility, Quiet: true})
	return doc
}

// stop says first what must not be made.
func (m *Making) stop(doc *Paper) {
	if m.Trial {
		doc.add(Para{Words: "A TRIAL: no labels for sale until it is kept.", Loud: true})
	}
	if m.Labels != "" {
		doc.add(Para{Words: m.Labels, Loud: true})
	}
	for _, x := range m.soaps() {
		w := m.Lye[x]
		words := Verdict(w) + ": " + x.Name + ", as it will be weighed"
		if w.Free.Sign() > 0 {
			words += fmt.Sprintf(", would leave alkali worth %s g of potassium hydroxide in the worst case. See panelwright lye.", w.Free.Decimal(2, exact.Up))
		} else {
			words += ", by its worst case."
		}
		doc.add(Para{Words: words, Loud: true})
	}
}

// soaps returns the formulas with a lye calculation, in the order of work.
func (m *Making) soaps() (out []*formula.Formula) {
	for _, x := range m.Plan.Lots[0].Mixes {
		if _, ok := m.Lye[x.Formula]; ok {
			out = append(out, x.Formula)
		}
	}
	return out
}

// glance is the whole plan in a few lines.
func (m *Making) glance(doc *Paper) {
	p := m.Plan
	doc.add(Large{m.howMany()})
	lots := "........................"
	if p.Lots[0].Code != "" {
		lots = p.Lots[0].Code
		switch n := len(p.Lots); {
		case n == 2:
			lots += " and " + p.Lots[1].Code
		case n > 2:
			lots += " to " + p.Lots[n-1].Code
		}
	}
	doc.add(Pair{"Lot", lots}, Pair{"Made on", m.On.String()}, Pair{"Weighed by", "........................"})
	if len(p.Lots) > 1 {
		doc.add(Pair{"Kept apart", m.apart()})
	}
	doc.add(Heading{2, "In this order"})
	t := Bench{Heads: []string{"", "mix", "in all", "bowls", "moulds"}, Right: []bool{true, false, true, false, false}, Wide: []int{8, 48, 24, 56, 38}, Strong: []int{1, 2}}
	for i, x := range p.Lots[0].Mixes {
		var sum exact.Rat
		fillings := 0
		var bowls []record.Bowl
		for _, lot := range p.Lots {
			sum = sum.Add(lot.Mixes[i].Grams)
			fillings += lot.Mixes[i].Fillings
			for _, b := range lot.Mixes[i].Bowls {
				k := slices.IndexFunc(bowls, func(o record.Bowl) bool { return o.Grams.Equal(b.Grams) })
				if k < 0 {
					bowls = append(bowls, record.Bowl{Pieces: b.Pieces, Grams: b.Grams})
					k = len(bowls) - 1
				}
				bowls[k].Count += b.Count
			}
		}
		moulds := ""
		if fillings > 0 {
			moulds = fmt.Sprintf("%d %s of %d", fillings, plural(fillings, "filling"), perFilling(x.Formula.Mould))
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(i + 1), x.Formula.Name, m.grams(sum), m.bowlWords(bowls), moulds})
	}
	doc.add(t)
	m.yield(doc)
}

func perFilling(x *formula.Mould) int {
	c, _ := x.Cut()
	return c.Pieces
}

func (m *Making) howMany() string {
	p := m.Plan
	s := fmt.Sprintf("%d %s", p.Pieces, plural(p.Pieces, "piece"))
	if p.Batch.Sign() > 0 {
		s += " out of " + m.grams(p.Batch)
	}
	if p.Spares > 0 {
		s += fmt.Sprintf(" and %d spare", p.Spares)
	}
	if p.Each() > 1 {
		s += fmt.Sprintf(", %d in each: %d to make", p.Each(), p.All()*p.Each())
	} else if p.Spares > 0 {
		s += fmt.Sprintf(": %d to make", p.All())
	}
	return s
}

// apart says how an order is parted into lots, and why.
func (m *Making) apart() string {
	var all []string
	for _, l := range m.Plan.Lots {
		code := l.Code
		if code == "" {
			code = "a lot"
		}
		all = append(all, fmt.Sprintf("%s with %d", code, l.Pieces))
	}
	return fmt.Sprintf("%d lots, for there is room for %d pieces to dry at once: %s. That is %d days of making: begin the next lot when the last has left the shelf, and write the lots of its materials down apart.",
		len(m.Plan.Lots), m.Workshop.DryingSpace, strings.Join(all, ", "), len(m.Plan.Lots))
}

// bowlWords says what is in the bowls of a mix.
func (m *Making) bowlWords(bowls []record.Bowl) string {
	var all []string
	for _, b := range bowls {
		s := fmt.Sprintf("%d of %s", b.Count, m.grams(b.Grams))
		if b.Pieces > 0 {
			s += fmt.Sprintf(" (%d %s)", b.Pieces, plural(b.Pieces, "piece"))
		}
		all = append(all, s)
	}
	return strings.Join(all, ", ")
}

// yield says what comes out.
func (m *Making) yield(doc *Paper) {
	p := m.Plan
	n := exact.Int(int64(p.All() * p.Each()))
	fresh, dried := p.Piece.Added, p.Piece.Mass(formula.Finished)
	words := fmt.Sprintf("%s fresh, %s a piece.", m.grams(fresh.Mul(n)), g1(fresh))
	if !dried.Lo.Equal(fresh) || !dried.Hi.Equal(fresh) {
		span := g1(dried.Lo)
		if !dried.Lo.Equal(dried.Hi) {
			span += " to " + g1(dried.Hi)
		}
		words += fmt.Sprintf(" Dried as the book says: %s a piece.", span)
	}
	over := 0
	for _, lot := range p.Lots {
		for _, x := range lot.Mixes {
			over += x.Over
		}
	}
	if over > 0 {
		words += fmt.Sprintf(" Full moulds give %d more.", over)
	}
	doc.add(Pair{"Expect", words})
}

// g1 prints a weight to a tenth of a gram.
func g1(x exact.Rat) string { return x.Decimal(1, exact.Nearest).String() + " g" }

// grams prints a weight as the scale would show it.
func (m *Making) grams(x exact.Rat) string {
	if m.Plan.Step.Sign() == 0 {
		return g1(x)
	}
	return onScale(x, m.Plan.Step, true)
}

// handling is what to look out for with materials of some classes. Common
// practice of the trade, no source.
var handling = []struct {
	classes []string
	words   string
}{
	{[]string{"acid", "base", "starch", "surfactant", "clay", "pigment", "colourant", "milk", "thickener"}, "Dust: mask and goggles, and keep the air still. It stings in eyes and lungs; citric acid and surfactants most of all."},
	{[]string{"essential-oil", "fragrance", "absolute", "fragrance-constituent"}, "Scent: gloves, and air the room. Undiluted it burns and can make skin sensitive for good; it burns with a flame too."},
	{[]string{"oil", "butter", "wax"}, "Oil and butter: the floor gets slippery; wipe at once. Melt over water, never alone."},
	{[]string{"preservative"}, "Preservative as bought is far too strong for skin: gloves and goggles."},
}

// lyeCautions is about how high the cautions of lye are, in millimetres: they
// are read as one.
const lyeCautions = 110

func (m *Making) cautions(doc *Paper) {
	doc.add(Heading{2, "Before you begin"}, Para{Words: "Scale level and wiped, zeroed with the empty bowl. Children and animals out."})
	classes, spirit := map[string]bool{}, false
	for _, n := range m.Plan.Needs {
		if s, ok := n.Material.Info.(*label.Sheet); ok {
			classes[s.Class] = true
		}
		spirit = spirit || slices.ContainsFunc(n.Material.Parts, func(p formula.Part) bool { return p.Dries == formula.Alcohol })
	}
	if spirit {
		doc.add(Para{Words: "Alcohol: no flame and no sparks near it."})
	}
	for _, h := range handling {
		if slices.ContainsFunc(h.classes, func(c string) bool { return classes[c] }) {
			doc.add(Para{Words: h.words})
		}
	}
	for _, r := range m.Plan.Piece.Reactions() {
		doc.add(Keep(lyeCautions))
		caution(doc, r)
	}
}

// fine says what the scale cannot weigh, and what its error may change.
func (m *Making) fine(doc *Paper) {
	if m.Plan.Step.Sign() == 0 {
		doc.add(Heading{2, "The scale"}, Para{Words: "The book does not say what your scale reads: amounts are worked out to a tenth of a gram, and nothing is said of what it cannot weigh. Write scale: {reads: 1 g, up to: 5 kg} in the workshop."})
		return
	}
	if len(m.Fine) == 0 && len(m.Worst) == 0 {
		return
	}
	doc.add(Heading{2, "Too fine for a scale that reads " + m.grams(m.Plan.Step)})
	if len(m.Fine) > 0 {
		t := Table{Heads: []string{"what", "in", "amount", "bowl", "scale that would do", "or at once"}, Right: []bool{false, false, true, true, true, true}, Wide: []int{44, 30, 20, 22, 32, 46}}
		for i := range m.Fine {
			f := &m.Fine[i]
			enough := g(f.Enough, 0)
			if f.Pieces > 0 {
				enough += fmt.Sprintf(" (%d pieces)", f.Pieces)
			}
			t.Rows = append(t.Rows, []string{f.Amount.Name(), f.Formula.Name, g(f.Amount.Grams, 2), onScale(f.Bowl, m.Plan.Step, true), f.Reads.String() + " g", enough})
		}
		doc.add(t, Para{Words: "One step of the scale is more than 2 % of these amounts. Common practice, no source.", Quiet: true})
	}
	for i := range m.Fine {
		if w := premixWords(&m.Fine[i], m.Plan.Step); w != "" {
			doc.add(Pair{"Or a premix of " + m.Fine[i].Amount.Name() + ", 1 in 10", w})
		}
	}
	for _, f := range m.Worst {
		doc.add(Para{Words: inci.Market(f.Market).Title() + ": " + f.Message + ". Cure: " + f.Cure + ".", Loud: true})
	}
}

// premixWords says how to weigh a small amount with nine times as much of
// something else of its mix; "" where nothing would carry it.
func premixWords(f *record.Fine, step exact.Rat) string {
	x := f.Premix
	if x == nil {
		return ""
	}
	return fmt.Sprintf("mix %s of it evenly into %s of %s. Into a bowl of %s weigh %s of that, and %s of %s instead of %s. What is in the piece stays the same. Give the premix a label with both lots in it.",
		onScale(x.Own, step, true), onScale(x.With, step, true), x.Carrier.Name(), onScale(f.Bowl, step, true), onScale(x.Take, step, true), onScale(x.Left, step, true), x.Carrier.Name(),
		onScale(x.Carrier.Grams, step, true))
}
