package record

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
)

// Rule codes of what the label of a lot gets wrong.
const (
	RuleLotList      finding.Code = "lot.list"
	RuleLotStatement finding.Code = "lot.statement"
	RuleLotWeighed   finding.Code = "lot.weighed"
	RuleLotLight     finding.Code = "lot.light"
)

// Judgement is what a lot as it was made means for its labels.
type Judgement struct {
	*Made
	Packs    []PackAsMade
	Findings finding.List // about the lot; those of the book alone are not repeated
	Adds     []Addition   // what brings the lot back to its recipe; nil where nothing was weighed otherwise, or nothing would help

	manyLists bool // the sheets of a material lead to lists that differ
}

// PackAsMade is one pack of the product: what it says, and what it ought to say
// of this lot.
type PackAsMade struct {
	Pack *label.Pack
	Says *label.PackCopy // approved, or what the book says now
	Due  *label.PackCopy // for the lot as made
	True bool            // they say the same
}

// Addition is what to weigh into a batch that got too much of something.
type Addition struct {
	Formula string
	Lines   []formula.Weighing // grams to add of each line
	Sum     exact.Rat
}

// Says returns what the label of a pack says: the approved copy, or nil where
// nothing was approved and the book has the word.
type Says func(p *label.Product, pack *label.Pack) *label.PackCopy

// Judge declares a lot as it was made, for every market of its product, and
// compares the labels with it. The occasion is that of the judgement: the lot
// is placed on its Placed day.
func Judge(desk *label.Desk, made *Made, o date.Occasion, says Says) *Judgement {
	j := &Judgement{Made: made}
	j.deviations()
	if made.BookSet != nil {
		asBook := desk.DeclareSet(made.BookSet, made.Book.SellIn, o)
		for _, box := range made.Boxes {
			j.against(asBook, desk.DeclareSet(box, box.SellIn, o), says)
		}
	} else {
		j.against(desk.Declare(made.Book, made.Book.SellIn, o), desk.Declare(made.Product, made.Product.SellIn, o), says)
		j.cure()
	}
	j.once()
	j.Findings.Sort()
	return j
}

// against compares what the book declares, and the labels, with the lot as made.
func (j *Judgement) against(asBook, asMade []*label.Declaration, says Says) {
	j.compareFindings(asBook, asMade)
	for _, group := range packsOf(j.Product, asMade) {
		pack := j.Product.PackFor(group[0].Market)
		if pack == nil {
			continue
		}
		x := PackAsMade{Pack: pack, Due: label.CopyFor(pack, group)}
		if x.Says = says(j.Book, pack); x.Says == nil {
			x.Says = label.CopyFor(pack, sameMarkets(asBook, group))
		}
		x.True = j.compare(&x)
		n := slices.IndexFunc(j.Packs, func(o PackAsMade) bool { return o.Pack == pack })
		switch {
		case n < 0:
			j.Packs = append(j.Packs, x)
		case j.Packs[n].True: // of several boxes the one that the label is wrong for tells
			j.Packs[n] = x
		}
	}
	j.light(asMade)
	for _, d := range asMade {
		j.manyLists = j.manyLists || slices.ContainsFunc(d.Findings, func(f finding.Finding) bool { return f.Rule == label.RuleAnotherList })
	}
}

// Open returns what AsMade found, without the questions that the judgement makes idle: which lot of a material with
// several sheets went in matters only where they lead to different lists.
func (j *Judgement) Open(found finding.List) finding.List {
	if j.manyLists {
		return found
	}
	out := slices.Clone(found)
	for i := range out {
		if out[i].Rule == RuleWhichSheet {
			out[i].Severity = finding.Note
			out[i].Message += "; the list is the same by each of them"
		}
	}
	return out
}

// once leaves out what several boxes of a lot have in common.
func (j *Judgement) once() {
	seen := map[string]bool{}
	j.Findings = slices.DeleteFunc(j.Findings, func(f finding.Finding) bool {
		key := string(f.Rule) + f.Market + f.Message
		was := seen[key]
		seen[key] = true
		return was
	})
}

// packsOf groups declarations by the pack that serves them.
func packsOf(p *label.Product, ds []*label.Declaration) [][]*label.Declaration {
	var out [][]*label.Declaration
	at := map[*label.Pack]int{}
	for _, d := range ds {
		pack := p.PackFor(d.Market)
		if i, ok := at[pack]; ok {
			out[i] = append(out[i], d)
			continue
		}
		at[pack] = len(out)
		out = append(out, []*label.Declaration{d})
	}
	return out
}

func sameMarkets(all, like []*label.Declaration) []*label.Declaration {
	return slices.DeleteFunc(slices.Clone(all), func(d *label.Declaration) bool {
		return !slices.ContainsFunc(like, func(o *label.Declaration) bool { return o.Market == d.Market })
	})
}

func (j *Judgement) add(rule finding.Code, sev finding.Severity, message, cure string) {
	j.Findings.Add(finding.Finding{Rule: rule, Severity: sev, Product: j.Book.Name, Where: j.Lot.Entry.Pos, Message: "lot " + j.Lot.Code + ": " + message, Cure: cure})
}

// deviations says what was weighed otherwise than the recipe says.
func (j *Judgement) deviations() {
	for _, b := range slices.Concat(j.Batches, j.Mixed) {
		was, is := sumOf(b.Recipe), sumOf(b.Weighed)
		for i, w := range b.Weighed {
			r := b.Recipe[i]
			if w.Grams.Equal(r.Grams) {
				continue
			}
			j.add(RuleLotWeighed, finding.Note, fmt.Sprintf("%s in %s: %s g weighed, the recipe says %s g for this batch: %s became %s", w.Name(), b.Formula.Name,
				grams(w.Grams), grams(r.Grams), label.Percent(r.Grams.Quo(was), 2, exact.Nearest)+" %", label.Percent(w.Grams.Quo(is), 2, exact.Nearest)+" %"), "")
		}
	}
	for _, s := range j.Lot.Swaps {
		j.add(RuleLotWeighed, finding.Note, fmt.Sprintf("%s stood in for %s", s.In, s.Out), "")
	}
	for _, v := range j.Variants {
		j.add(RuleLotWeighed, finding.Note, fmt.Sprintf("%s lot %s: judged by %s", v.Material, v.Code, orElse(v.Sheet, "its own sheet")), "")
	}
}

func orElse(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}

func sumOf(ws []formula.Weighing) (sum exact.Rat) {
	for _, w := range ws {
		sum = sum.Add(w.Grams)
	}
	return sum
}

// grams prints a weight with as many places as a bench scale may show.
func grams(x exact.Rat) string {
	d := x.Decimal(2, exact.Nearest)
	return d.String()
}

// compareFindings adds what is wrong with the lot as made and not with the
// recipe: a limit passed, a net quantity not reached.
func (j *Judgement) compareFindings(book, made []*label.Declaration) {
	known := map[string]bool{}
	for _, d := range book {
		for _, f := range d.Findings {
			known[string(f.Rule)+f.Market+f.Message] = true
		}
	}
	for _, d := range made {
		for _, f := range d.Findings {
			if f.Severity < finding.Question || known[string(f.Rule)+f.Market+f.Message] {
				continue
			}
			f.Message = "lot " + j.Lot.Code + " as made: " + f.Message
			j.Findings.Add(f)
		}
	}
}

// compare says what the label of a pack gets wrong.
func (j *Judgement) compare(x *PackAsMade) bool {
	whole := true
	who := marketsTitle(x.Due.Markets)
	lists, due := listsOf(x.Says), listsOf(x.Due)
	if !slices.Equal(lists, due) {
		whole = false
		j.add(RuleLotList, finding.Error, fmt.Sprintf("the label for %s is wrong for this lot: %s", who, listDifference(lists, due)),
			"reprint it for this lot after approving the lot as made (panelwright approve --lot "+j.Lot.Code+"), or bring the batch back to its recipe")
	}
	for _, s := range statements(x.Due) {
		if s.Kind != label.NetText && s.Kind != label.CautionText || says(x.Says, s) {
			continue // other words may change from one print to the next, and stay true
		}
		whole = false
		j.add(RuleLotStatement, finding.Error, fmt.Sprintf("the label for %s does not say “%s”", who, strings.TrimSpace(s.Lead+" "+s.Text)), "reprint it for this lot")
	}
	return whole
}

func statements(c *label.PackCopy) []label.Statement { return slices.Concat(c.Front, c.Back) }

func says(c *label.PackCopy, s label.Statement) bool {
	return slices.ContainsFunc(statements(c), func(o label.Statement) bool {
		return o.Kind == s.Kind && o.Lang == s.Lang && o.Lead == s.Lead && o.Text == s.Text && o.Months == s.Months
	})
}

// list is a list of ingredients on a pack with what stands before it.
type list struct{ lead, text string }

// listsOf returns the lists of ingredients on a pack: several on a box.
func listsOf(c *label.PackCopy) (out []list) {
	for _, s := range statements(c) {
		if s.Kind == label.ListText {
			out = append(out, list{s.Lead, s.Text})
		}
	}
	return out
}

// listDifference words how lists differ: those of a box piece by piece.
func listDifference(was, is []list) string {
	if len(was) == 1 && len(is) == 1 && was[0].lead == is[0].lead {
		return textDifference(was[0].text, is[0].text)
	}
	var words []string
	with := func(all []list, lead string) *list {
		for i := range all {
			if all[i].lead == lead {
				return &all[i]
			}
		}
		return nil
	}
	head := func(l list) string { return "“" + strings.TrimSuffix(l.lead, ":") + "”" }
	for _, l := range is {
		switch o := with(was, l.lead); {
		case o == nil:
			words = append(words, "it has no list "+head(l))
		case o.text != l.text:
			words = append(words, "under "+head(l)+" "+textDifference(o.text, l.text))
		}
	}
	for _, l := range was {
		if with(is, l.lead) == nil {
			words = append(words, "its list "+head(l)+" is not due for it")
		}
	}
	if len(words) == 0 {
		return "its lists stand in another order"
	}
	return strings.Join(words, "; ")
}

// textDifference words how two lists differ.
func textDifference(was, is string) string {
	a, b := strings.Split(was, ", "), strings.Split(is, ", ")
	gains, loses := without(b, a), without(a, b)
	switch {
	case len(gains) > 0 && len(loses) > 0:
		return "it lacks " + strings.Join(gains, ", ") + " and names " + strings.Join(loses, ", ") + ", not due for it"
	case len(gains) > 0:
		return "it lacks " + strings.Join(gains, ", ")
	case len(loses) > 0:
		return "it names " + strings.Join(loses, ", ") + ", not due for it"
	}
	for i := range b {
		if i < len(a) && a[i] != b[i] {
			return "the order is another: " + b[i] + " comes before " + a[i]
		}
	}
	return "it differs"
}

func without(a, b []string) (out []string) {
	for _, x := range a {
		if !slices.Contains(b, x) {
			out = append(out, x)
		}
	}
	return out
}

// light compares the pieces weighed with what the labels state.
func (j *Judgement) light(ds []*label.Declaration) {
	if len(j.Lot.Weights) == 0 {
		return
	}
	var sum exact.Rat
	low := j.Lot.Weights[0]
	for _, w := range j.Lot.Weights {
		sum = sum.Add(w)
		low = exact.Min(low, w)
	}
	n := int64(len(j.Lot.Weights))
	mean := sum.Quo(exact.Int(n))
	for _, d := range ds {
		due := d.Net.Larger
		if due.IsZero() || d.Stated.Volume || !mean.Less(due) {
			continue
		}
		what, cure := "pieces", "keep the lot back; panelwright net says what may be stated of it"
		if each := j.Product.Count; each > 1 {
			what = fmt.Sprintf("packs of %d", each)
			cure += fmt.Sprintf("; weights: are of whole packs, so if single ones were weighed, correct the entry with packs of %d weighed together", each)
		}
		j.add(RuleLotLight, finding.Error, fmt.Sprintf("the %s weigh %s g on average (lightest %s g, %d weighed), and the label for %s states %s",
			what, mean.Decimal(2, exact.Down), low.Decimal(2, exact.Down), n, d.Market.Title(), d.Net.Text), cure)
		return
	}
}

// cure works out what to weigh in addition, so that every line stands again in
// the proportion of the recipe. The line that got the most for its share sets
// the size of the batch.
func (j *Judgement) cure() {
	if j.Findings.Verdict().Prints() || len(j.Lot.Swaps) > 0 {
		return
	}
	for _, b := range j.Batches {
		most := exact.Rat{}
		for i, r := range b.Recipe {
			if !r.Grams.IsZero() {
				most = exact.Max(most, b.Weighed[i].Grams.Quo(r.Grams))
			}
		}
		a := Addition{Formula: b.Formula.Name}
		for i, r := range b.Recipe {
			more := r.Grams.Mul(most).Sub(b.Weighed[i].Grams)
			if more.Sign() > 0 {
				w := r
				w.Grams = more
				a.Lines = append(a.Lines, w)
				a.Sum = a.Sum.Add(more)
			}
		}
		if a.Sum.Sign() > 0 {
			j.Adds = append(j.Adds, a)
		}
	}
}

func marketsTitle(ms []inci.Market) string {
	var all []string
	for _, m := range ms {
		all = append(all, m.Title())
	}
	return strings.Join(all, ", ")
}
