package main

import (
	"bytes"
	"errors"
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"strings"
	"time"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/font"
	"panelwright/label/layout"
	"panelwright/label/paper"
	"panelwright/label/record"
	"panelwright/label/render/pdf"
)

// labels writes the label PDF of every pack and the declaration sheet of every
// product. What may not be printed for sale is left out, or with --proof
// printed as a proof and marked so.
func labels(c *call) (int, error) {
	b, jobs, _, err := c.openAndJudge()
	if err != nil {
		return exitFailed, err
	}
	dir := c.dir
	if dir == "" {
		book := "."
		if len(c.args) > 0 {
			book = c.args[0]
		}
		if s, err := os.Stat(book); err == nil && !s.IsDir() {
			book = filepath.Dir(book)
		}
		dir = filepath.Join(book, "printed")
	}
	if c.approved, err = c.ledger(); err != nil {
		return exitFailed, err
	}
	out, found, err := c.print(jobs, b.Fingerprint, dir)
	if err != nil {
		return exitFailed, err
	}
	c.verdict(found)
	rows := [][]string{{"product", "markets", "verdict", "label", "declaration sheet"}}
	for _, r := range out {
		rows = append(rows, []string{r.product, r.markets, r.verdict, r.label, r.sheet})
	}
	if err := table(c.out, rows); err != nil {
		return exitFailed, err
	}
	fmt.Fprintf(c.out, "written to %s; print at actual size\n", dir)
	if v := found.Verdict(); !v.Prints() {
		fmt.Fprintln(c.out, "a label marked - was held back; why, and the cure: panelwright check")
	}
	for _, r := range out {
		for _, f := range r.findings {
			if f.Severity == finding.Note {
				fmt.Fprintf(c.out, "note: %s, %s: %s\n", r.product, r.markets, f.Message)
			}
		}
		c.problems(r.findings)
	}
	return exitOf(found), nil
}

// printed is what came of one pack.
type printed struct {
	product, markets, verdict string
	label, sheet              string // file names, or "-"
	findings                  finding.List
	decls                     []*label.Declaration
}

// print writes the files of all jobs into dir and says what came of each pack,
// with every finding.
func (c *call) print(jobs iter.Seq[judged], fingerprint, dir string) (out []printed, found finding.List, err error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, nil, err
	}
	type drawn struct {
		job   judged
		packs []printed
		err   error
	}
	var all []drawn
	for j := range jobs {
		all = append(all, drawn{job: j})
	}
	draw := func(d drawn) drawn {
		sheet, err := c.sheet(d.job, fingerprint, dir)
		for _, g := range byPack(d.job) {
			if err != nil {
				break
			}
			var r printed
			r, err = c.pack(d.job, g, dir)
			r.sheet = sheet
			d.packs = append(d.packs, r)
		}
		d.err = err
		return d
	}
	for d := range inOrder(all, draw) {
		if d.err != nil {
			return nil, nil, d.err
		}
		found = append(found, d.job.findings()...)
		for _, r := range d.packs {
			out = append(out, r)
			found = append(found, r.findings...)
		}
	}
	return out, found, nil
}

// byPack groups a product's declarations by the pack that serves them;
// declarations without a pack stand alone.
func byPack(j judged) [][]*label.Declaration {
	var out [][]*label.Declaration
	at := map[*label.Pack]int{}
	for _, d := range j.decls {
		p := j.product.PackFor(d.Market)
		if i, ok := at[p]; ok && p != nil {
			out[i] = append(out[i], d)
			continue
		}
		at[p] = len(out)
		out = append(out, []*label.Declaration{d})
	}
	return out
}

// fits says what is wrong with the labels of a product, or what they ask,
// without writing any. Notes are told when a label is made.
func fits(j judged) (found finding.List) {
	for _, ds := range byPack(j) {
		r, _, _, err := layOut(j, ds, true)
		if err != nil {
			r.findings.Add(finding.Finding{Rule: "pack.no-room", Severity: finding.Error, Where: j.product.Pos, Product: j.product.Name, Market: r.markets,
				Message: "the label cannot be drawn: " + err.Error()})
		}
		for _, f := range r.findings {
			if f.Severity > finding.Note {
				f.Message = strings.TrimPrefix(f.Message, j.product.Name+": ")
				for _, d := range ds {
					f.Market = string(d.Market)
					found.Add(f)
				}
			}
		}
	}
	return found
}

// layOut lays out the label of one pack, without writing it. What is wrong with
// the label is in the findings; laid is then nil, and so it is where the pack
// has no label, or may not be drawn.
func layOut(j judged, ds []*label.Declaration, proof bool) (r printed, copy *label.PackCopy, laid *layout.Laid, err error) {
	var ms []inci.Market
	var found finding.List
	for _, d := range ds {
		ms = append(ms, d.Market)
		found = append(found, d.Findings...)
	}
	r = printed{product: j.product.Name, markets: codes(ms), verdict: found.Verdict().String(), label: "-", decls: ds}
	p := j.product.PackFor(ds[0].Market)
	if p == nil || p.Label.Kind == label.NoShape {
		return r, nil, nil, nil
	}
	copy = label.CopyFor(p, ds)
	r.findings = copy.Findings
	if len(r.findings) > 0 {
		r.verdict = append(found, r.findings...).Verdict().String()
	}
	if copy.Proof && !proof {
		return r, copy, nil, nil
	}
	laid, err = layout.Lay(copy, layout.Options{})
	wrong := finding.Finding{Severity: finding.Error, Where: p.Pos, Product: j.product.Name, Market: r.markets}
	var room *layout.NoRoom
	var missing *font.Missing
	switch {
	case errors.As(err, &room):
		wrong.Rule, wrong.Message, wrong.Cure = "pack.no-room", room.Error(), room.Cure()
	case errors.As(err, &missing):
		wrong.Rule, wrong.Message, wrong.Cure = "pack.letter", err.Error(), "write it with other letters, or name a font that has it"
	case err != nil:
		return r, copy, nil, err
	default:
		r.findings = append(r.findings, laid.Findings...)
		return r, copy, laid, nil
	}
	r.findings.Add(wrong)
	r.verdict = append(found, r.findings...).Verdict().String()
	return r, copy, nil, nil
}

// pack writes the label of one pack, if it may be written.
func (c *call) pack(j judged, ds []*label.Declaration, dir string) (printed, error) {
	r, copy, laid, err := layOut(j, ds, c.proof)
	if err != nil || laid == nil {
		return r, err
	}
	c.approvedOtherwise(copy, &r.findings)
	o := pdf.Options{Title: j.product.Name + ", " + r.markets, Date: day(c.on)}
	name := j.file + "-" + strings.ReplaceAll(r.markets, "+", "-")
	if c.proof {
		if err := c.proofFile(copy, laid, o, filepath.Join(dir, name+"-proof.pdf")); err != nil {
			return r, err
		}
		if r.label = name + "-proof.pdf"; copy.Proof {
			return r, nil
		}
	}
	var buf bytes.Buffer
	if err := pdf.Write(&buf, laid.Scenes, o); err != nil {
		return r, err
	}
	r.label = name + ".pdf"
	return r, renew(filepath.Join(dir, r.label), pdfMark, buf.Bytes())
}

// approvedOtherwise notes that other words are approved for a pack than the book says now.
func (c *call) approvedOtherwise(copy *label.PackCopy, to *finding.List) {
	if c.approved == nil {
		return
	}
	a := c.approved.ApprovalFor(copy.Product.Name, copy.Markets[0], nil, c.on)
	if a == nil || record.Freeze(copy).Fingerprint() == a.Text {
		return
	}
	to.Add(finding.Finding{Rule: "pack.approved-otherwise", Severity: finding.Warning, Where: copy.Pack.Pos, Product: copy.Product.Name, Market: codes(copy.Markets),
		Message: fmt.Sprintf("this label says what the book says now; on %s %s approved other words", a.On, a.Entry.By),
		Cure:    "panelwright print prints what is approved, panelwright changes says what differs; approve it again to sell with the new words"})
}

// proofFile writes the label at its true size, and after it what an inspector
// would measure. Where the label may not be sold, every page says so.
func (c *call) proofFile(copy *label.PackCopy, laid *layout.Laid, o pdf.Options, file string) error {
	if copy.Proof {
		o.Watermark = "PROOF - NOT FOR SALE"
	}
	pages, err := layout.Proof(copy, laid.Scenes)
	if err != nil {
		return err
	}
	var buf bytes.Buffer
	if err := pdf.Write(&buf, append(laid.Scenes[:len(laid.Scenes):len(laid.Scenes)], pages...), o); err != nil {
		return err
	}
	return renew(file, pdfMark, buf.Bytes())
}

// sheet writes the declaration sheet of a product, as PDF and as text. A set
// has none of its own: its products do.
func (c *call) sheet(j judged, fingerprint, dir string) (string, error) {
	if j.set != nil || len(j.decls) == 0 {
		return "-", nil
	}
	doc := paper.Declaration(j.decls, fingerprint)
	var text, buf bytes.Buffer
	if err := doc.Text(&text); err != nil {
		return "", err
	}
	scenes, err := doc.Pages(layout.A4)
	if err != nil {
		return "", err
	}
	if err := pdf.Write(&buf, scenes, pdf.Options{Title: doc.Title, Date: day(c.on)}); err != nil {
		return "", err
	}
	name := j.file + "-declaration"
	if err := renew(filepath.Join(dir, name+".txt"), listMark, text.Bytes()); err != nil {
		return "", err
	}
	return name + ".pdf", renew(filepath.Join(dir, name+".pdf"), pdfMark, buf.Bytes())
}

func day(d date.Date) time.Time {
	return time.Date(d.Year(), time.Month(d.Month()), d.Day(), 0, 0, 0, 0, time.UTC)
}

// slug turns a name into a file name: small letters and digits, joined by
// hyphens. Other letters are kept.
func slug(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return r < '0' || r > '9' && r < 'a' || r > 'z' && r < 0x80
	})
	if len(words) == 0 {
		return "unnamed"
	}
	return strings.Join(words, "-")
}
