package main

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/layout"
	"panelwright/label/paper"
	"panelwright/label/render/pdf"
)

// check prints what is wrong, worst first, by product and market; what only the
// maker can answer stands apart.
func check(c *call) (int, error) {
	if c.register {
		return c.rules()
	}
	c.fits = true
	b, jobs, _, err := c.openAndJudge()
	if err != nil {
		return exitFailed, err
	}
	found := c.found
	prints, n := 0, 0
	var markets []inci.Market
	var sheet [][]*label.Declaration
	for j := range jobs {
		markets = append(markets, j.markets()...)
		if c.pdf != "" && len(j.decls) > 0 {
			sheet = append(sheet, j.decls)
		}
		found = append(found, j.findings()...)
		for _, d := range j.decls {
			n++
			if j.prints(d) {
				prints++
			}
		}
	}
	found = append(found, b.ChangedSheets(c.bookFingerprint)...)
	found.Sort()
	if c.pdf != "" {
		if err := c.findingsSheet(b, sheet); err != nil {
			return exitFailed, err
		}
	}
	if c.json {
		out := []checkJSON{}
		for _, f := range found {
			out = append(out, checkJSON{f.Market, findingJSON(f)})
		}
		data, err := marshal(out, "")
		if err == nil {
			_, err = c.out.Write(append(data, '\n'))
		}
		return exitOf(found), err
	}
	c.verdict(found)
	fmt.Fprintf(c.out, "%d of %d declarations may be printed; judged on %s", prints, n, c.on)
	if c.placed != c.on {
		fmt.Fprintf(c.out, ", first supplied %s", c.placed)
	}
	fmt.Fprintln(c.out)
	section(c.out, "Wrong", found, finding.Error)
	section(c.out, "Only you can answer", found, finding.Question)
	section(c.out, "Worth a look", found, finding.Warning)
	if c.notes {
		section(c.out, "Notes", found, finding.Note)
	} else {
		notes(c.out, found)
	}
	fmt.Fprintf(c.out, "\n%s\nWhich: panelwright check --rules. Local law and a qualified safety assessor have the last word.\n", label.LeftOpenLine(markets))
	if c.pdf != "" {
		fmt.Fprintf(c.out, "findings sheet: %s, and as text %s\n", c.pdf, textBeside(c.pdf))
	}
	return exitOf(found), nil
}

// findingsSheet writes the sheet for an assessor, as PDF and as text beside it.
func (c *call) findingsSheet(b *book.Book, all [][]*label.Declaration) error {
	if len(all) == 0 {
		return usageError("there is no product to write a findings sheet of")
	}
	title := b.Workshop.Name
	if c.product != "" {
		title = all[0][0].Product.Name
	}
	doc := paper.Findings(title, c.found, all, b.Fingerprint)
	var text, buf bytes.Buffer
	if err := doc.Text(&text); err != nil {
		return err
	}
	scenes, err := doc.Pages(layout.A4)
	if err != nil {
		return err
	}
	if err := pdf.Write(&buf, scenes, pdf.Options{Title: doc.Title, Date: day(c.on)}); err != nil {
		return err
	}
	if err := replaceable(c.pdf, pdfMark); err != nil {
		return err
	}
	if err := replaceable(textBeside(c.pdf), sheetMark); err != nil {
		return err
	}
	if err := writeWhole(textBeside(c.pdf), text.Bytes()); err != nil {
		return err
	}
	return writeWhole(c.pdf, buf.Bytes())
}

// textBeside is the name of the text file beside a PDF file.
func textBeside(name string) string { return strings.TrimSuffix(name, ".pdf") + ".txt" }

type checkJSON struct {
	Market string `json:"market"`
	jsonFinding
}

// section prints the findings of one severity, a product and market at a time.
// The same finding in several markets is said once.
func section(w io.Writer, title string, list finding.List, s finding.Severity) {
	out := shared(together(list, s, s))
	if len(out) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s (%d)\n", title, len(out))
	for i, f := range out {
		if i == 0 || f.products != out[i-1].products {
			fmt.Fprintf(w, "  %s\n", cmp.Or(f.products, "the book"))
		}
		fmt.Fprintf(w, "    %s%s\n", bracket(f.Market), f.Message)
		if f.Cure != "" {
			fmt.Fprintf(w, "        cure: %s\n", f.Cure)
		}
		fmt.Fprintf(w, "        %s\n", strings.TrimSpace(f.place()+"  "+string(f.Rule)))
		for _, src := range f.sources {
			fmt.Fprintf(w, "        source: %s\n", src)
		}
	}
}

// notes prints the notes in short, a line each: they change nothing, and a clean book goes on one screen.
func notes(w io.Writer, list finding.List) {
	out := shared(together(list, finding.Note, finding.Note))
	if len(out) == 0 {
		return
	}
	fmt.Fprintf(w, "\nNotes (%d); with cures and sources: panelwright check --notes\n", len(out))
	for i, f := range out {
		if i == 0 || f.products != out[i-1].products {
			fmt.Fprintf(w, "  %s\n", cmp.Or(f.products, "the book"))
		}
		fmt.Fprintf(w, "    %s%s\n", bracket(f.Market), f.Message)
	}
}

func bracket(market string) string {
	if market == "" {
		return ""
	}
	return "[" + market + "] "
}

// said is a finding as it is printed: once for the markets in which it is the
// same, with the sources of each.
type said struct {
	finding.Finding
	sources  []string
	products string // of which it is said
	places   int    // more places than Where
}

// place is where to look, and how many more such places there are.
func (s said) place() string {
	if s.places == 0 || s.Where.String() == "" {
		return s.Where.String()
	}
	return fmt.Sprintf("%s and %d more %s", s.Where, s.places, plural(s.places, "place"))
}

// shared says once what is the same for several products, such as the members
// of a range, and puts what is said of the same products together.
func shared(list []said) []said {
	type same struct{ rule, market, message, cure string }
	at := map[same]int{}
	names := map[int][]string{}
	var out []said
	ofProduct := map[same]bool{}
	for _, f := range list {
		if f.Product != "" {
			ofProduct[same{string(f.Rule), "", f.Message, f.Cure}] = true
		}
	}
	for _, f := range list {
		k := same{string(f.Rule), f.Market, f.Message, f.Cure}
		if f.Product == "" && ofProduct[k] {
			continue // of the book, and said of the products that it concerns
		}
		i, ok := at[k]
		if !ok || f.Product == "" || slices.Contains(names[i], f.Product) {
			i = len(out)
			at[k] = i
			out = append(out, f)
		} else if f.Where != out[i].Where {
			out[i].places++
		}
		if f.Product != "" {
			names[i] = append(names[i], f.Product)
		}
	}
	first := map[string]int{}
	for i := range out {
		out[i].products = strings.Join(names[i], ", ")
		if _, ok := first[out[i].products]; !ok {
			first[out[i].products] = i
		}
	}
	slices.SortStableFunc(out, func(a, b said) int { return cmp.Compare(first[a.products], first[b.products]) })
	return out
}

// together keeps the findings from one severity up to another and joins those
// that say the same of the same product and place in several markets.
func together(list finding.List, from, to finding.Severity) []said {
	var out []said
	type same struct {
		product, message, cure string
		where                  finding.Pos
	}
	at := map[same]int{}
	for _, f := range list {
		if f.Severity < from || f.Severity > to {
			continue
		}
		k := same{f.Product, f.Message, f.Cure, f.Where}
		i, ok := at[k]
		if ok {
			out[i].Market += " " + f.Market
		} else {
			i = len(out)
			at[k] = i
			out = append(out, said{Finding: f})
		}
		if src := f.Source.String(); src != "" && !slices.Contains(out[i].sources, src) {
			out[i].sources = append(out[i].sources, src)
		}
	}
	return out
}
