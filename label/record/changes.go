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

// Change is what became of a product between two states of the book, or two
// days.
type Change struct {
	Product  string
	Came     bool         // it is new
	Went     bool         // it is no more
	Packs    bool         // what a pack says, or whether it may be printed, is not what it was
	Says     finding.List // by market: names, statements and findings that come and go
	Verdicts []Turn
	Causes   []Cause // what was written otherwise
	Touches  Touched
}

// Turn is a verdict that turned.
type Turn struct {
	Market  inci.Market
	Was, Is finding.Verdict
}

// Cause is something in the book that was written otherwise.
type Cause struct {
	Where finding.Pos // in the later book; zero where it is no more
	Words string
	Sheet bool // what a supplier's sheet says: it may be true of lots made before, too
}

// Touched is what a change reaches: labels in hand, lots in hand, sets that
// hold the product, and who has pieces.
type Touched struct {
	Labels []LabelStock
	Lots   []*Lot // with pieces in hand
	Sold   []*Lot // with none in hand and some sold; only where a supplier's sheet is another
	Sets   []string
	Shops  []string // that have pieces
}

// Compare compares the declarations of a product of two books, or on two days,
// market by market. Either may be empty.
func Compare(was, is []*label.Declaration) *Change {
	c := &Change{}
	switch {
	case len(is) == 0 && len(was) == 0:
		return c
	case len(is) == 0:
		c.Product, c.Went, c.Packs = was[0].Product.Name, true, true
		return c
	case len(was) == 0:
		c.Product, c.Came, c.Packs = is[0].Product.Name, true, true
		return c
	}
	c.Product = is[0].Product.Name
	for _, d := range is {
		n := slices.IndexFunc(was, func(o *label.Declaration) bool { return o.Market == d.Market })
		if n < 0 {
			c.Packs = true
			c.Says.Add(finding.Finding{Rule: "changes.market", Severity: finding.Warning, Product: c.Product, Market: string(d.Market), Message: "it is sold there now"})
			continue
		}
		o := was[n]
		c.Says = append(c.Says, label.Differences(o, d)...)
		if a, b := o.Verdict(), d.Verdict(); a.String() != b.String() {
			c.Verdicts = append(c.Verdicts, Turn{d.Market, a, b})
			c.Packs = true
		}
	}
	for _, o := range was {
		if !slices.ContainsFunc(is, func(d *label.Declaration) bool { return o.Market == d.Market }) {
			c.Packs = true
			c.Says.Add(finding.Finding{Rule: "changes.market", Severity: finding.Warning, Product: c.Product, Market: string(o.Market), Message: "it is no longer sold there"})
		}
	}
	c.Packs = c.Packs || len(c.Says) > 0
	var seen []*label.Product // what the markets of a product were approved from may be several states of the book
	for _, o := range was {
		if slices.Contains(seen, o.Product) {
			continue
		}
		seen = append(seen, o.Product)
		for _, cause := range causes(o.Product, is[0].Product) {
			if !slices.Contains(c.Causes, cause) {
				c.Causes = append(c.Causes, cause)
			}
		}
	}
	return c
}

// Nothing reports whether neither a pack nor anything behind it changed.
func (c *Change) Nothing() bool { return !c.Packs && len(c.Causes) == 0 }

// causes returns what the two books write otherwise of what is in a product.
func causes(was, is *label.Product) (out []Cause) {
	add := func(at finding.Pos, format string, args ...any) {
		out = append(out, Cause{Where: at, Words: fmt.Sprintf(format, args...)})
	}
	if was.Exposure != is.Exposure {
		add(is.At("exposure"), "the exposure, %s, became %s", was.Exposure, is.Exposure)
	}
	if was.Type != is.Type {
		add(is.At("type"), "the type, %s, became %s", was.Type, is.Type)
	}
	if was.Net.Text != is.Net.Text {
		add(is.At("net"), "net: “%s” became “%s”", was.Net.Text, is.Net.Text)
	}
	out = append(out, lineCauses("the piece", was.Piece.Lines, is.Piece.Lines, is.Pos)...)
	out = append(out, slotCauses(was, is)...)
	old := map[string]*formula.Formula{}
	for _, f := range formulasOf(was) {
		old[inci.Fold(f.Name)] = f
	}
	for _, f := range formulasOf(is) {
		g := old[inci.Fold(f.Name)]
		if g == nil {
			continue // a line says it
		}
		out = append(out, lineCauses(f.Name, g.Lines, f.Lines, f.Pos)...)
		if !sameDrying(g.Dries, f.Dries) {
			add(f.Pos, "%s dries otherwise", f.Name)
		}
		if !sameSoap(g.Saponify, f.Saponify) {
			add(f.Pos, "%s is saponified otherwise", f.Name)
		}
	}
	before := map[string]*formula.Material{}
	for _, m := range materialsOf(&was.Piece) {
		before[inci.Fold(m.Name)] = m
	}
	for _, m := range materialsOf(&is.Piece) {
		if o := before[inci.Fold(m.Name)]; o != nil {
			out = append(out, sheetCauses(o, m)...)
		}
	}
	return out
}

func slotCauses(was, is *label.Product) (out []Cause) {
	var names []string
	for s := range is.Piece.Slots {
		names = append(names, s)
	}
	slices.Sort(names)
	name := func(f formula.Filling) string {
		switch {
		case f.Material != nil:
			return f.Material.Name
		case f.Formula != nil:
			return f.Formula.Name
		}
		return "nothing"
	}
	for _, s := range names {
		if a, b := name(was.Piece.Slots[s]), name(is.Piece.Slots[s]); a != b {
			out = append(out, Cause{Where: is.Piece.Slots[s].Pos, Words: fmt.Sprintf("%s: %s became %s", s, a, b)})
		}
	}
	return out
}

// lineCauses compares lines by what they are of.
func lineCauses(in string, was, is []formula.Line, at finding.Pos) (out []Cause) {
	of := func(l *formula.Line) string {
		switch {
		case l.Slot != "":
			return "slot " + inci.Fold(l.Slot)
		case l.Formula != nil:
			return "formula " + inci.Fold(l.Formula.Name)
		}
		return inci.Fold(l.Material.Name)
	}
	left := map[string][]*formula.Line{}
	for i := range was {
		left[of(&was[i])] = append(left[of(&was[i])], &was[i])
	}
	for i := range is {
		l := &is[i]
		olds := left[of(l)]
		if len(olds) == 0 {
			out = append(out, Cause{Where: l.Pos, Words: fmt.Sprintf("%s: “%s” is new", in, l.Text)})
			continue
		}
		o := olds[0]
		left[of(l)] = olds[1:]
		if o.Amount.Kind != l.Amount.Kind || !o.Amount.Value.Equal(l.Amount.Value) {
			out = append(out, Cause{Where: l.Pos, Words: fmt.Sprintf("%s: “%s” became “%s”", in, o.Text, l.Text)})
		}
	}
	for i := range was {
		if o := &was[i]; slices.Contains(left[of(o)], o) {
			out = append(out, Cause{Where: at, Words: fmt.Sprintf("%s: “%s” was taken out", in, o.Text)})
		}
	}
	return out
}

func sameDrying(a, b formula.Drying) bool {
	same := func(x, y formula.Interval) bool { return x.Lo.Equal(y.Lo) && x.Hi.Equal(y.Hi) }
	return same(a.Water, b.Water) && same(a.Alcohol, b.Alcohol)
}

func sameSoap(a, b *formula.Saponify) bool {
	if a == nil || b == nil {
		return a == b
	}
	if len(a.Bases) != len(b.Bases) || !a.Superfat.Equal(b.Superfat) || a.WaterBy != b.WaterBy || !a.WaterValue.Equal(b.WaterValue) || a.Hot != b.Hot || a.Cure != b.Cure {
		return false
	}
	for i := range a.Bases {
		if a.Bases[i].Material.Name != b.Bases[i].Material.Name || !a.Bases[i].Share.Equal(b.Bases[i].Share) {
			return false
		}
	}
	return (a.Left == nil) == (b.Left == nil) && (a.Left == nil || a.Left.Lo.Equal(b.Left.Lo) && a.Left.Hi.Equal(b.Left.Hi))
}

// sheetCauses compares what two sheets say of a material.
func sheetCauses(was, is *formula.Material) (out []Cause) {
	var words []string
	say := func(format string, args ...any) { words = append(words, fmt.Sprintf(format, args...)) }
	parts := map[string]formula.Interval{}
	for i, p := range was.Parts {
		parts[partName(was, i)] = p.Range
	}
	for i, p := range is.Parts {
		name := partName(is, i)
		o, ok := parts[name]
		delete(parts, name)
		switch {
		case !ok:
			say("%s is new in it", name)
		case !o.Lo.Equal(p.Range.Lo) || !o.Hi.Equal(p.Range.Hi):
			say("%s, %s, became %s", name, percents(o), percents(p.Range))
		}
	}
	for i := range was.Parts {
		if _, gone := parts[partName(was, i)]; gone {
			say("%s is no more in it", partName(was, i))
		}
	}
	held := map[formula.Key]formula.Constituent{}
	for _, k := range was.Constituents {
		held[k.Key] = k
	}
	for _, k := range is.Constituents {
		o, ok := held[k.Key]
		delete(held, k.Key)
		switch {
		case !ok:
			say("%s is new: %s", inci.Readable(string(k.Key)), percents(k.Range))
		case !o.Range.Lo.Equal(k.Range.Lo) || !o.Range.Hi.Equal(k.Range.Hi):
			say("%s, %s, became %s", inci.Readable(string(k.Key)), percents(o.Range), percents(k.Range))
		}
	}
	for _, k := range was.Constituents {
		if _, gone := held[k.Key]; gone {
			say("%s is no longer mentioned", inci.Readable(string(k.Key)))
		}
	}
	a, b := sheetOf(was), sheetOf(is)
	if a.Ref != b.Ref {
		say("sheet %s became %s", orElse(a.Ref, "without a reference"), orElse(b.Ref, "without a reference"))
	}
	if !slices.EqualFunc(a.Limits, b.Limits, func(x, y label.UseLimit) bool { return x.Category == y.Category && x.Max.Equal(y.Max) }) {
		say("its highest uses are others")
	}
	if !slices.Equal(a.Covers, b.Covers) {
		say("it covers other lists of allergens")
	}
	if len(words) > 0 {
		out = append(out, Cause{is.Pos, is.Name + ": " + strings.Join(words, "; "), true})
	}
	return out
}

// partName names part i of a material. A milk and the water inside it have one
// name on a pack; here they are two things.
func partName(m *formula.Material, i int) string {
	name := inci.Readable(string(m.Parts[i].Key))
	if m.OwnWater(i) {
		return "the water of " + name
	}
	return name
}

func sheetOf(m *formula.Material) *label.Sheet {
	if s, ok := m.Info.(*label.Sheet); ok {
		return s
	}
	return &label.Sheet{}
}

func percents(i formula.Interval) string {
	hundred := exact.Int(100)
	lo, hi := i.Lo.Mul(hundred).Decimal(4, exact.Down), i.Hi.Mul(hundred).Decimal(4, exact.Up)
	if i.Fixed() {
		return lo.String() + " %"
	}
	return lo.String() + "-" + hi.String() + " %"
}

// Weight orders changes by how much hangs on them: pieces and labels in hand
// first, then what may no longer be printed.
func (c *Change) Weight() int {
	w := 0
	if c.Packs {
		w += 1
	}
	for _, t := range c.Verdicts {
		if t.Was.Prints() && !t.Is.Prints() {
			w += 2
		}
	}
	if len(c.Touches.Lots) > 0 {
		w += 8
	}
	if len(c.Touches.Labels) > 0 {
		w += 4
	}
	return w
}

// Touch finds what a change reaches in the records, and the sets that hold the
// product.
func (l *Ledger) Touch(c *Change, sets []*label.Set) {
	for _, s := range l.Labels(c.Product) {
		if s.Left > 0 && slices.ContainsFunc(s.Markets, c.reaches) {
			c.Touches.Labels = append(c.Touches.Labels, s)
		}
	}
	sheets := slices.ContainsFunc(c.Causes, func(x Cause) bool { return x.Sheet })
	for _, x := range l.LotsOf(c.Product) {
		switch {
		case l.Left(x) > 0:
			c.Touches.Lots = append(c.Touches.Lots, x)
		case sheets && l.Sold(x):
			c.Touches.Sold = append(c.Touches.Sold, x)
		}
		out, _ := l.StillOut(x)
		for _, s := range out {
			if s.Kind == Shop && s.Pieces > 0 && !slices.Contains(c.Touches.Shops, s.To) {
				c.Touches.Shops = append(c.Touches.Shops, s.To)
			}
		}
	}
	for _, s := range sets {
		if slices.ContainsFunc(s.Holds, func(h label.Held) bool { return inci.Fold(h.Product.Name) == inci.Fold(c.Product) }) {
			c.Touches.Sets = append(c.Touches.Sets, s.Name)
		}
	}
}

// reaches reports whether packs of a market change.
func (c *Change) reaches(m inci.Market) bool {
	return c.Came || c.Went || slices.ContainsFunc(c.Says, func(f finding.Finding) bool { return f.Market == string(m) }) ||
		slices.ContainsFunc(c.Verdicts, func(t Turn) bool { return t.Market == m })
}

// LastApprovalIn is [Ledger.LastApproval] for one market.
func (l *Ledger) LastApprovalIn(product string, m inci.Market) *Approval {
	for _, a := range slices.Backward(l.approved[inci.Fold(product)]) {
		if len(a.Lots) == 0 && slices.Contains(a.Markets, m) {
			return a
		}
	}
	return nil
}

// LastApproval returns the last approval of a product that is not bound to
// single lots, or nil.
func (l *Ledger) LastApproval(product string) *Approval {
	for _, a := range slices.Backward(l.approved[inci.Fold(product)]) {
		if len(a.Lots) == 0 {
			return a
		}
	}
	return nil
}
