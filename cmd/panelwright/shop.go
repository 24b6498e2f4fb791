package main

import (
	"bytes"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"strings"

	"panelwright/formula/finding"
	"panelwright/label"
)

// offer writes what the page of a product in a shop has to show, market by market and language by language: as plain
// text, as a fragment of HTML, and as JSON.
func offer(c *call) (int, error) {
	c.productSubject()
	_, jobs, desk, err := c.openAndJudge()
	if err != nil {
		return exitFailed, err
	}
	dir, err := c.outDir()
	if err != nil {
		return exitFailed, err
	}
	dir = filepath.Join(dir, "shop")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return exitFailed, err
	}
	rows := [][]string{{"product", "market", "language", "files"}}
	var pages []shopPage
	var found, missing finding.List
	for j := range jobs {
		found = append(found, j.findings()...)
		for _, d := range j.decls {
			if !d.Verdict().Prints() {
				continue
			}
			for _, p := range pagesOf(desk, d) {
				base := fmt.Sprintf("%s-%s-%s", j.file, d.Market, p.Lang)
				for ext, text := range map[string]string{".txt": p.text(), ".html": p.html()} {
					if err := writeWhole(filepath.Join(dir, base+ext), []byte(text)); err != nil {
						return exitFailed, err
					}
				}
				rows = append(rows, []string{p.Product, p.Market, p.Lang, base + ".txt, .html"})
				for _, m := range p.Missing {
					missing.Add(finding.Finding{Rule: "offer.lacks", Severity: finding.Warning, Where: d.Product.Pos, Product: p.Product, Market: p.Market,
						Message: fmt.Sprintf("%s, %s, %s: the page must show %s too, and the book has it not", p.Product, p.Market, p.Lang, m)})
				}
				pages = append(pages, p)
			}
		}
	}
	data, err := marshal(pages, "")
	if err != nil {
		return exitFailed, err
	}
	if c.json {
		_, err := c.out.Write(append(data, '\n'))
		return exitOf(found), err
	}
	if err := writeWhole(filepath.Join(dir, "shop.json"), append(data, '\n')); err != nil {
		return exitFailed, err
	}
	c.verdict(found)
	if err := table(c.out, rows); err != nil {
		return exitFailed, err
	}
	fmt.Fprintf(c.out, "written to %s, all of it as shop.json too; products that may not be printed are left out\n", dir)
	c.problems(missing)
	return exitOf(found), nil
}

// shopPage is the stable shape of shop.json.
type shopPage struct {
	Product  string     `json:"product"`
	Market   string     `json:"market"`
	Lang     string     `json:"language"`
	Title    string     `json:"title"`
	Lines    []shopLine `json:"lines"`
	Missing  []string   `json:"missing"`
	Verdict  string     `json:"verdict"`
	Reviewed string     `json:"reviewed"`
}

type shopLine struct {
	Lead string `json:"lead,omitempty"`
	Text string `json:"text"`
}

// pagesOf writes the pages of one product for one market: what the pack says, and what the law asks of an offer at a
// distance besides.
func pagesOf(desk *label.Desk, d *label.Declaration) []shopPage {
	var out []shopPage
	offers := desk.Offers(d)
	for _, lang := range languagesOf(d) {
		p := shopPage{Product: d.Product.Name, Market: string(d.Market), Lang: lang, Title: titleOf(d.Product, lang), Lines: []shopLine{}, Missing: []string{},
			Verdict: d.Verdict().String(), Reviewed: d.Rules.Reviewed.String()}
		for _, s := range d.Statements {
			if s.Lang != lang && s.Lang != "" || s.Text == "" || s.Kind == label.LotText || s.Kind == label.TitleText || s.Kind == label.DurabilityText || s.Kind == label.CodeText || s.Kind == label.NoticeText {
				continue
			}
			if len(offers) > 0 && (s.Kind == label.ResponsibleText || s.Kind == label.ContactText || s.Kind == label.MakerText) {
				continue // the offer names them, with what they are
			}
			p.Lines = append(p.Lines, shopLine{s.Lead, s.Text})
		}
		for _, o := range offers {
			if o.Lang != lang {
				continue
			}
			for _, l := range o.Lines {
				if !p.says(l.Text) {
					p.Lines = append(p.Lines, shopLine{l.Lead, l.Text})
				}
			}
			p.Missing = append(p.Missing, o.Missing...)
		}
		out = append(out, p)
	}
	return out
}

func (p *shopPage) says(text string) bool {
	if text == p.Title {
		return true
	}
	for _, l := range p.Lines {
		if strings.Contains(l.Text, text) {
			return true
		}
	}
	return false
}

func (p *shopPage) text() string {
	var b strings.Builder
	b.WriteString(p.Title + "\n\n")
	for _, l := range p.Lines {
		b.WriteString(joinLead(l) + "\n")
	}
	return b.String()
}

func joinLead(l shopLine) string {
	switch {
	case l.Lead == "":
		return l.Text
	case strings.HasSuffix(l.Lead, ":"):
		return l.Lead + " " + l.Text
	}
	return l.Lead + ": " + l.Text
}

// html writes the page as a fragment to paste into a page: no style, no script, every text escaped.
func (p *shopPage) html() string {
	var b bytes.Buffer
	fmt.Fprintf(&b, "<section lang=\"%s\">\n  <h2>%s</h2>\n", html.EscapeString(p.Lang), html.EscapeString(p.Title))
	for _, l := range p.Lines {
		if l.Lead == "" {
			fmt.Fprintf(&b, "  <p>%s</p>\n", html.EscapeString(l.Text))
			continue
		}
		fmt.Fprintf(&b, "  <p><strong>%s</strong> %s</p>\n", html.EscapeString(strings.TrimSuffix(l.Lead, ":")+":"), html.EscapeString(l.Text))
	}
	b.WriteString("</section>\n")
	return b.String()
}
