package paper

import (
	"fmt"
	"strings"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
)

// Margin is the first line of a lye calculation whose worst case leaves no
// alkali, DoNotMake that of one whose worst case does, or of lye that cannot be
// dissolved. LookFirst is that of one that rests on a figure far from what is
// usual: were it a slip, the worst case would be another.
const (
	Margin    = "NO LYE LEFT OVER"
	LookFirst = "LOOK AT THE FIGURES FIRST"
	DoNotMake = "DO NOT MAKE"
)

// Verdict returns Margin, LookFirst or DoNotMake; doubts are those of
// label.LyeDoubts.
func Verdict(w formula.WorstCase, doubts ...finding.Finding) string {
	words := Margin
	for _, f := range doubts {
		switch {
		case f.Severity == finding.Error:
			return DoNotMake
		case f.Severity == finding.Question:
			words = LookFirst
		}
	}
	if w.Free.Sign() > 0 {
		return DoNotMake
	}
	return words
}

// Lye writes the lye calculation of one formula: the verdict over its worst
// case, what it rests on, what to weigh, what comes out, the working, and what
// belongs beside lye work. Step is what the scale reads in, in grams; 0 if it is
// not known.
func Lye(r *formula.Reaction, w formula.WorstCase, step exact.Rat) *Paper {
	doc := &Paper{Title: "Lye calculation: " + r.Formula.Name, Lang: "en", Footer: r.Formula.Name}
	found := label.LyeDoubts(r, step)
	found.Sort()
	words := marginWords(r, w, step)
	if w.Free.Sign() <= 0 && found.Count(finding.Error) > 0 { // they come first
		words = found[0].Message + "."
	}
	doc.add(Para{Words: Verdict(w, found...) + ": " + words, Loud: true})
	doubts(doc, found)
	weigh(doc, r, step)
	caution(doc, r)
	cameOut(doc, r)
	working(doc, r, w, step)
	doc.add(Para{Words: Humility, Quiet: true})
	return doc
}

// doubts lists what is far from what is usual, or not stated, before anything is
// weighed by it. What must not be made comes first.
func doubts(doc *Paper, found finding.List) {
	if len(found) == 0 {
		return
	}
	doc.add(Heading{2, "Look at first"})
	for _, f := range found {
		doc.add(Pair{strings.ToUpper(f.Severity.String()[:1]) + f.Severity.String()[1:], f.Message + "; " + f.Cure + "."})
	}
}

func g(x exact.Rat, places int) string {
	return x.Decimal(places, exact.Nearest).StringFixed(int32(places)) + " g"
}

func marginWords(r *formula.Reaction, w formula.WorstCase, step exact.Rat) string {
	if w.Free.Sign() > 0 {
		return label.Unsafe(r, w) + ". Weigh at most " + lyes(r, w.Safe) + "."
	}
	var take exact.Rat
	for _, u := range r.Fats {
		take = take.Add(u.Takes.Min)
	}
	words := fmt.Sprintf("in the worst case %s %% of the fats are still left over, by typical figures %s %%", label.Percent(w.Free.Neg().Quo(take), 1, exact.Down),
		label.Percent(r.Superfat.Typical, 1, exact.Nearest))
	if step.Sign() == 0 || !r.Sized {
		words += "; the error of a scale is not counted"
	}
	return words + "."
}

func lyes(r *formula.Reaction, grams []exact.Rat) string {
	var parts []string
	for i := range r.Lye {
		parts = append(parts, grams[i].Decimal(2, exact.Down).String()+" g of "+r.Lye[i].Material.Name)
	}
	return strings.Join(parts, " and ")
}

// weigh lists what to weigh. Lye is echoed as the scale reads, rounded down, so
// that rounding never adds alkali.
func weigh(doc *Paper, r *formula.Reaction, step exact.Rat) {
	of := "for the batch as written"
	if !r.Sized {
		of = "for 1,000 g of fats: the mix has no weights"
	}
	doc.add(Heading{2, "Weigh, " + of})
	t := Table{Heads: []string{"what", "weigh", "worked out"}, Right: []bool{false, true, true}, Wide: []int{60, 24, 24}}
	sum := r.Batch.Add(r.Water)
	for i := range r.Lye {
		d := &r.Lye[i]
		what := d.Material.Name + ", " + rangeWords(d.Purity())
		if !d.Worked {
			what += ", as written in the mix"
		} else {
			sum = sum.Add(r.Weigh(i, step))
		}
		t.Rows = append(t.Rows, []string{what, onScale(r.Weigh(i, step), step, r.Sized), g(d.Grams, 3)})
	}
	if r.Water.Sign() > 0 {
		t.Rows = append(t.Rows, []string{"water", onScale(r.Water, step, r.Sized), g(r.Water, 3)})
	}
	if r.InPlace.Sign() > 0 {
		t.Rows = append(t.Rows, []string{"liquids of the mix in place of water", "", g(r.InPlace, 3)})
	}
	t.Rows = append(t.Rows, []string{"everything in the mix", "", g(r.Batch, 3)})
	doc.add(t)
	doc.add(Pair{"Cross-check", fmt.Sprintf("put the empty vessel on the scale first; with everything in it the scale must show %s more. If it does not, something was forgotten or weighed twice: do not use the batch.",
		onScale(sum, step, r.Sized))})
}

// onScale prints grams as the scale reads them.
func onScale(x, step exact.Rat, sized bool) string {
	if step.Sign() == 0 || !sized {
		return g(x, 2)
	}
	places := 0
	for s := step; places < 4 && !exact.FromDecimal(s.Decimal(0, exact.Down)).Equal(s); places++ {
		s = s.Mul(exact.Int(10))
	}
	whole := exact.FromDecimal(x.Quo(step).Decimal(0, exact.Nearest)).Mul(step)
	return g(whole, places)
}

func cameOut(doc *Paper, r *formula.Reaction) {
	doc.add(Heading{2, "What comes out, before anything dries"})
	t := Table{Heads: []string{"name", "typical g", "least g", "greatest g"}, Right: []bool{false, true, true, true}, Wide: []int{60, 20, 20, 20}}
	for _, m := range r.Made {
		name := inci.Readable(string(m.Key))
		if what, ok := inci.NoSoapName(m.Key); ok {
			name = what + " (no name in the ingredient inventory)"
		}
		row := []string{name, m.Grams.Typical.Decimal(3, exact.Nearest).StringFixed(3), "", ""}
		if !m.Grams.Min.Equal(m.Grams.Max) {
			row[2], row[3] = m.Grams.Min.Decimal(3, exact.Down).StringFixed(3), m.Grams.Max.Decimal(3, exact.Up).StringFixed(3)
		}
		t.Rows = append(t.Rows, row)
	}
	doc.add(t)
	water := fmt.Sprintf("%s of %s poured is water.", g(r.FreeWater, 2), g(r.Poured, 2))
	cured := func(loss exact.Rat) exact.Rat { return r.Poured.Sub(r.FreeWater.Mul(loss)) }
	switch {
	case !r.LossKnown:
		water += " How much of it stays cannot be worked out from chemistry: weigh a bar when it is poured and when it is cured."
	case r.Loss.Water.Hi.Sign() > 0:
		water += fmt.Sprintf(" Of that %s leaves, and the batch weighs %s in the end.", fromTo(r.FreeWater.Mul(r.Loss.Water.Lo), r.FreeWater.Mul(r.Loss.Water.Hi)),
			fromTo(cured(r.Loss.Water.Hi), cured(r.Loss.Water.Lo)))
	}
	if r.Cure() > 0 {
		water += fmt.Sprintf(" Cure as written: %d days.", r.Cure())
	}
	doc.add(Para{Words: water})
	mould(doc, r.Formula.Mould)
	doc.add(Para{Words: "The fat that is left is spread over the fats by weight, a convention: nobody can say which fat is left. What a fat holds that does not react is counted in its soap.", Quiet: true})
}

// fromTo prints a range of grams, and one figure where both ends print alike.
func fromTo(lo, hi exact.Rat) string {
	a, b := g(lo, 1), g(hi, 1)
	if a == b {
		return a
	}
	return a + " to " + b
}

// mould says what one filling gives, where the maker weighed it.
func mould(doc *Paper, m *formula.Mould) {
	if m == nil {
		return
	}
	cut, ok := m.Cut()
	switch {
	case !ok:
	case m.Holds.IsZero():
		doc.add(Para{Words: fmt.Sprintf("A mould gives %d pieces; what it holds was never weighed, so their weight is not known.", cut.Pieces)})
	default:
		doc.add(Para{Words: fmt.Sprintf("A mould of %s gives %d pieces of %s fresh; %s are cut and planed off.", g(m.Holds, 0), cut.Pieces, g(cut.Fresh, 1), g(cut.Lost, 1))})
	}
}

// working shows where the lye comes from, in grams of potassium hydroxide, so
// that it can be followed with a calculator.
func working(doc *Paper, r *formula.Reaction, w formula.WorstCase, step exact.Rat) {
	doc.add(Heading{2, "Working, in grams of potassium hydroxide (KOH)"})
	t := Table{Heads: []string{"takes up lye", "grams", "mg KOH/g", "typical", "least", "figure from"}, Right: []bool{false, true, true, true, true, false}, Wide: []int{40, 18, 24, 18, 18, 60}}
	for _, uses := range [][]formula.Use{r.Acids, r.Fats} {
		for _, u := range uses {
			t.Rows = append(t.Rows, []string{u.Material.Name, u.Grams.Typical.Decimal(2, exact.Nearest).StringFixed(2), value(u.Reacts),
				u.Takes.Typical.Decimal(3, exact.Nearest).StringFixed(3), u.Takes.Min.Decimal(3, exact.Down).StringFixed(3), sourceOf(u.Reacts)})
		}
	}
	doc.add(t)
	by := r.Formula.Saponify.By
	take := r.FatTake.Typical
	words := fmt.Sprintf("Fats take up %s", take.Decimal(3, exact.Nearest))
	if r.Asked().Sign() > 0 {
		words += fmt.Sprintf("; with %s %% of them left, %s", label.Percent(r.Asked(), 1, exact.Nearest), take.Mul(exact.Int(1).Sub(r.Asked())).Decimal(3, exact.Nearest))
	}
	if r.AcidTake.Typical.Sign() > 0 {
		words += fmt.Sprintf("; acids take %s first", r.AcidTake.Typical.Decimal(3, exact.Nearest))
	}
	doc.add(Para{Words: words + "."})
	for i := range r.Lye {
		d := &r.Lye[i]
		p := d.Purity()
		line := fmt.Sprintf("%s: %s x %s %% hydroxide", d.Material.Name, g(d.Grams, 3), label.Percent(p.Hi, 1, exact.Up))
		if d.Soda {
			line += fmt.Sprintf(" / %s (sodium for potassium hydroxide)", by.Soda.Decimal(6, exact.Nearest))
		}
		doc.add(Para{Words: fmt.Sprintf("%s is worth %s at most.", line, d.Worth.Max.Decimal(3, exact.Nearest))})
	}
	rest := "In the worst case " + w.Free.Neg().Decimal(2, exact.Down).String() + " more could be taken up."
	if w.Free.Sign() > 0 {
		rest = "In the worst case " + w.Free.Decimal(2, exact.Up).String() + " finds nothing to react with."
	}
	rest += " Worst case: least saponification value, highest purity, weakest acid"
	if step.Sign() > 0 && r.Sized {
		rest += ", every weighing off by one step of the scale to the bad side"
	}
	doc.add(Para{Words: rest + "."})
}

func value(v *formula.Reactant) string {
	lo, hi := v.Value.Lo.Decimal(1, exact.Nearest).String(), v.Value.Hi.Decimal(1, exact.Nearest).String()
	if lo == hi {
		return lo
	}
	return lo + "-" + hi
}

func sourceOf(v *formula.Reactant) string {
	if v.Certified {
		return "supplier's certificate"
	}
	s := v.Source.Text
	if v.Source.Unverified() {
		s += " (" + string(v.Source.Seen) + ")"
	}
	return s
}

// caution prints what belongs beside lye work.
func caution(doc *Paper, r *formula.Reaction) {
	soda, potash := false, false
	for _, d := range r.Lye {
		soda, potash = soda || d.Soda, potash || !d.Soda
	}
	doc.add(Heading{2, "Before you open the jar"})
	unverified := false
	for _, kind := range []string{"work", "hazard", "precaution", "first aid"} {
		for _, l := range inci.LyeSafety() {
			if l.Kind != kind || !(l.Soda && soda || l.Potash && potash) {
				continue
			}
			head := map[string]string{"work": "Do", "hazard": "Danger", "precaution": "Precaution", "first aid": "First aid"}[kind]
			if l.Code != "" {
				head += " " + l.Code
			}
			unverified = unverified || l.Source.Unverified()
			doc.add(Pair{head, l.Text})
		}
	}
	if unverified {
		doc.add(Para{Words: "Hazard and precautionary statements after Regulation (EC) No 1272/2008, Annexes III and IV, not compared with the official text here: your supplier's safety data sheet goes before this page.", Quiet: true})
	}
}

// chemistry adds what reacts to a declaration sheet: the lye behind a soap, or
// what a fizz does in water.
func chemistry(doc *Paper, d *label.Declaration) {
	for _, r := range d.Composition.Reactions() {
		doc.add(Heading{2, "Lye of " + r.Formula.Name})
		for i := range r.Lye {
			x := &r.Lye[i]
			doc.add(Para{Words: fmt.Sprintf("%s of %s (%s) to %s of the mix%s; of the fats %s %% are left (%s to %s %%).", g(x.Grams, 2), x.Material.Name, rangeWords(x.Purity()), g(r.Batch, 2), waterWords(r),
				label.Percent(r.Superfat.Typical, 1, exact.Nearest), label.Percent(r.Superfat.Min, 1, exact.Down), label.Percent(r.Superfat.Max, 1, exact.Up))})
		}
		caution(doc, r)
	}
	if z, ok := d.Fizz(); ok {
		doc.add(Heading{2, "What it does in water"}, Para{Words: z.Says()})
	}
}

func waterWords(r *formula.Reaction) string {
	if r.Water.Sign() == 0 {
		return ""
	}
	return ", with " + g(r.Water, 2) + " of water"
}
