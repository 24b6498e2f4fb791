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

// FileInput is what a product file is written from.
type FileInput struct {
	Workshop    *label.Workshop
	Product     *label.Product
	Decls       []*label.Declaration // one for each market, at least one
	Read        finding.List         // what reading the book found
	Ledger      *record.Ledger
	Composer    *formula.Composer
	Missing     func(file string) bool // whether a supplier's document is not where the book says
	Fingerprint string                 // of the book
	On          date.Date
}

// notAssessment stands on the first page of a product file.
const notAssessment = "This file gathers what the book and the records say. It is not a safety assessment and not a safety report: the parts that only a qualified " +
	"assessor or a laboratory can write are left blank and say so. Which papers your market wants, in which language and for how long, is for local law to say."

// ProductFile writes everything that is known of a product as one paper, in the
// order in which Regulation (EC) No 1223/2009 Art. 11 and Annex I name the parts
// of a product information file: the description, what is in it, what the pack
// says, what was checked, suppliers' documents, how it is made, lots, weighings,
// approvals, complaints.
func ProductFile(in FileInput) *Paper {
	p := in.Product
	f := &file{in, &Paper{Title: "Product file: " + p.Name, Lang: "en"}}
	f.Footer = fmt.Sprintf("%s, product file of %s, book %s", p.Name, in.On, short(in.Fingerprint))
	f.add(Para{Words: notAssessment, Loud: true}, Pair{"Day", in.On.String()}, Pair{"Book", in.Fingerprint}, Contents{})
	f.identity()
	f.composition()
	f.declarations()
	f.checks()
	f.documents()
	f.making()
	f.lots()
	f.weighings()
	f.approvals()
	f.effects()
	f.blanks()
	f.add(Para{Words: Humility, Quiet: true})
	return f.Paper
}

// file is a product file while it is written.
type file struct {
	FileInput
	*Paper
}

func (f *file) identity() {
	p := f.Product
	f.add(Heading{1, "1 Description"})
	f.add(Pair{"Product", p.Name})
	for _, w := range []struct {
		label string
		words label.Wording
	}{{"Title", p.Title}, {"Identity", p.Identity}, {"Function", p.Function}, {"Directions", p.Directions}, {"Made in", p.MadeIn}} {
		for _, lang := range languagesOf(w.words) {
			f.add(Pair{w.label + " (" + lang + ")", w.words[lang]})
		}
	}
	f.add(Pair{"Type and use", p.Type + ", " + p.Exposure.String()})
	if p.Net.Text != "" {
		f.add(Pair{"Net quantity", p.Net.Text})
	}
	if k := keepsWords(p.Keeps); k != "" {
		f.add(Pair{"Durability, as the maker states it", k})
	}
	if p.Barcode != "" {
		f.add(Pair{"Barcode", p.Barcode})
	}
	for _, d := range f.Decls {
		if k := p.PackFor(d.Market); k != nil && k.Barcode != "" {
			f.add(Pair{"Barcode on the pack, " + d.Market.Title(), k.Barcode})
		}
	}
	f.add(Heading{2, "Who answers for it"})
	for _, d := range f.Decls {
		r, ok := f.Workshop.Responsible[d.Market]
		words := "nobody is named"
		if ok {
			words = strings.Join(append([]string{r.Name}, append(slices.Clone(r.Address), r.Contact)...), ", ")
			if r.Role != "" {
				words = r.Role + " " + words
			}
		}
		f.add(Pair{d.Market.Title(), words})
	}
	f.add(Blank{"the responsible person", "Notification or registration, market by market, with number and day", 2})
}

func languagesOf(w label.Wording) []string {
	var out []string
	for lang := range w {
		out = append(out, lang)
	}
	slices.Sort(out)
	return out
}

func keepsWords(k label.Durability) string {
	var parts []string
	if k.Keeps > 0 {
		parts = append(parts, fmt.Sprintf("keeps %d months", k.Keeps))
	}
	if k.Opened > 0 {
		parts = append(parts, fmt.Sprintf("%d months once opened", k.Opened))
	}
	if k.SingleUse {
		parts = append(parts, "single use")
	}
	if k.Before != 0 {
		parts = append(parts, "best before "+k.Before.String())
	}
	return strings.Join(parts, ", ")
}

func (f *file) composition() {
	f.add(Heading{1, "2 Quantitative and qualitative composition"})
	c := f.Decls[0].Composition
	if c == nil {
		f.add(Para{Words: "The piece does not compose; see the findings."})
		return
	}
	f.add(Pair{"Piece", pieceWords(c)})
	materials(f.Paper, c.Weighed())
	chemistry(f.Paper, f.Decls[0])
	t := Table{Heads: []string{"substance", "CAS", "typical %", "functions in the inventory"}, Right: []bool{false, false, true, false}, Wide: []int{52, 24, 16, 60}}
	for _, s := range substances(c) {
		t.Rows = append(t.Rows, []string{inci.Readable(string(s.key)), s.cas, label.Percent(s.share, 4, exact.Nearest), s.functions})
	}
	f.add(Heading{2, "By substance, of the piece as weighed"}, t)
}

// substance is one key of a composition and its share.
type substance struct {
	key            formula.Key
	share          exact.Rat
	cas, functions string
}

// substances adds up the parts of a composition as weighed, the heaviest first.
func substances(c *formula.Composition) []substance {
	var all []substance
	c = c.Weighed()
	for i := range c.Items {
		for k, p := range c.Items[i].Material.Parts {
			typical, _, _ := c.PartGrams(i, k, formula.AsAdded)
			n := slices.IndexFunc(all, func(s substance) bool { return s.key == p.Key })
			if n < 0 {
				s := substance{key: p.Key}
				if g, ok := inci.Find(string(p.Key)); ok {
					s.cas, s.functions = g.CAS, strings.ReplaceAll(g.Functions, ";", ", ")
				}
				all = append(all, s)
				n = len(all) - 1
			}
			all[n].share = all[n].share.Add(typical.Quo(c.Added))
		}
	}
	slices.SortStableFunc(all, func(a, b substance) int { return b.share.Cmp(a.share) })
	return all
}

func (f *file) declarations() {
	f.add(Heading{1, "3 Declarations, allergens and what the pack says"})
	for _, d := range f.Decls {
		f.add(Heading{2, d.Market.Title()}, Para{Words: d.Verdict().String(), Loud: true})
		if d.Composition == nil {
			continue
		}
		f.add(Pair{strings.TrimSuffix(d.Rules.Heading, ":"), d.Text()})
		if d.Net.Text != "" {
			f.add(Pair{"Net", d.Net.Text})
		}
		f.add(Para{Words: d.Convention(), Quiet: true})
		entries(f.Paper, d)
		allergens(f.Paper, d)
		var rows [][]string
		for _, s := range d.Statements {
			if s.Kind != label.ListText {
				rows = append(rows, []string{s.Lang, strings.TrimSpace(s.Lead + " " + s.Text)})
			}
		}
		f.add(Heading{2, "Other statements"}, Table{Heads: []string{"language", "words"}, Right: make([]bool, 2), Wide: []int{14, 120}, Rows: rows})
	}
}

func (f *file) checks() {
	f.add(Heading{1, "4 What was checked"})
	var found finding.List
	for _, d := range f.Decls {
		found = append(found, d.Findings...)
	}
	found.Sort()
	findings(f.Paper, found)
	f.add(Para{Words: label.LeftOpenLine(marketsOf([][]*label.Declaration{f.Decls})) + " The findings sheet (panelwright check --pdf) names them one by one."})
}

func (f *file) documents() {
	f.add(Heading{1, "5 Suppliers' documents"})
	t := Table{Heads: []string{"material", "class", "sheet", "date", "answers", "missing"}, Right: make([]bool, 6), Wide: []int{40, 22, 28, 20, 20, 46}}
	kept := Table{Heads: []string{"file of a sheet", "fingerprint when it was read (SHA-256)"}, Right: make([]bool, 2), Wide: []int{50, 126}}
	var seen []*formula.Material
	if c := f.Decls[0].Composition; c != nil {
		c = c.Weighed()
		for i := range c.Items {
			m := c.Items[i].Material
			if slices.Contains(seen, m) {
				continue
			}
			seen = append(seen, m)
			t.Rows = append(t.Rows, f.document(m))
			if s, ok := m.Info.(*label.Sheet); ok && s.Fingerprint != "" {
				kept.Rows = append(kept.Rows, []string{s.File, s.Fingerprint})
			}
		}
	}
	f.add(t)
	if len(kept.Rows) > 0 {
		f.add(kept)
	}
	f.add(Para{Words: "Certificates of analysis, purity and impurities, and the safety data sheets are not read by this program.", Quiet: true})
}

func (f *file) document(m *formula.Material) []string {
	s, _ := m.Info.(*label.Sheet)
	if s == nil {
		s = &label.Sheet{}
	}
	var covers []string
	for _, l := range s.Covers {
		covers = append(covers, string(l))
	}
	var missing []string
	day := ""
	if s.Date != 0 {
		day = s.Date.String()
	}
	if s.Ref == "" && s.File == "" {
		missing = append(missing, "no sheet is named")
	}
	if s.File != "" && f.Missing(s.File) {
		missing = append(missing, "the file "+s.File+" is not there")
	}
	if scented(s.Class) {
		if len(s.Covers) == 0 && len(m.Constituents) == 0 {
			missing = append(missing, "allergens")
		}
		if len(s.Limits) == 0 {
			missing = append(missing, "highest use")
		}
	}
	if s.Unknown {
		missing = append(missing, "shares of its parts")
	}
	return []string{m.Name, s.Class, s.Ref, day, strings.Join(covers, ", "), strings.Join(missing, "; ")}
}

// scented are the classes whose sheets have to answer for allergens.
func scented(class string) bool {
	return class == "fragrance" || class == "essential-oil" || class == "absolute" || class == "flavour" || class == "fragrance-constituent"
}

func (f *file) making() {
	f.add(Heading{1, "6 How it is made"})
	for _, x := range record.FormulasOf(f.Product) {
		lines, bad := f.Composer.Batch(x, f.Product.Piece.Slots, exact.Int(1000))
		if len(bad) > 0 {
			continue
		}
		t := Table{Heads: []string{"weighed in", "grams in 1000 g"}, Right: []bool{false, true}, Wide: []int{90, 30}}
		for _, w := range lines {
			name := w.Name()
			if w.Slot != "" {
				name += " (" + w.Slot + ")"
			}
			if w.Lye {
				name += ", worked out"
			}
			t.Rows = append(t.Rows, []string{name, w.Grams.Decimal(2, exact.Nearest).StringFixed(2)})
		}
		f.add(Heading{2, x.Name}, t)
	}
	f.add(Blank{"the maker", "Steps, temperatures, times; cleaning; how good manufacturing practice is kept", 5})
}

// The parts of the safety report are those of Annex I of Regulation (EC) No
// 1223/2009.
func (f *file) blanks() {
	f.add(Heading{1, "11 Left to others"})
	f.add(Para{Words: "Headings of Annex I, Regulation (EC) No 1223/2009; other markets ask for other papers.", Quiet: true})
	const lab, who = "a laboratory", "a qualified safety assessor"
	for _, b := range []Blank{
		{lab, "Physical and chemical data, and stability (A 2)", 2},
		{lab, "Microbiology and challenge test (A 3)", 2},
		{lab, "Impurities, traces, the pack's material (A 4)", 2},
		{who, "Normal and foreseeable use; exposure to the product and to each substance (A 5 to 7)", 3},
		{who, "Toxicological profile of the substances (A 8)", 3},
		{who, "Undesirable effects, and other information (A 9, 10)", 2},
		{who, "Conclusion, warnings, reasoning (B 1 to 3)", 4},
		{who, "Name, address, qualification, day and signature (B 4)", 2},
		{"the maker", "Proof of what is claimed; data on tests with animals (Art. 11(2)(d), (e))", 2},
	} {
		f.add(b)
	}
}
