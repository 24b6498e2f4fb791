package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/paper"
	"panelwright/label/record"
	"panelwright/label/record/journal"
)

// statement writes one page for a shop: which product holds what, tick or blank. It is recorded, so that changes can
// tell when it goes stale.
func statement(c *call) (int, error) {
	c.productSubject()
	if c.rec.shop == "" {
		return exitFailed, usageError("say who it is for: --for NAME")
	}
	b, led, err := c.openWithRecords()
	if err != nil {
		return exitFailed, err
	}
	all, markets, found, err := c.ticks(b, led)
	if err != nil {
		return exitFailed, err
	}
	if len(all) == 0 {
		return exitFailed, usageError("there is no product to write of")
	}
	doc := paper.Statement(b.Workshop.Name, contactFor(b, markets), c.rec.shop, markets, all, c.on)
	path := c.pdf
	if path == "" {
		dir, err := c.outDir()
		if err != nil {
			return exitFailed, err
		}
		path = filepath.Join(dir, "statement-"+slug(c.rec.shop)+".pdf")
	}
	if err := c.paperFile(doc, path); err != nil {
		return exitFailed, err
	}
	var e strings.Builder
	fmt.Fprintf(&e, "statement: %s\non: %s\nmarkets: [%s]\nproducts:\n", quoted(c.rec.shop), c.on, strings.ReplaceAll(codes(markets), "+", ", "))
	for _, t := range all {
		fmt.Fprintf(&e, "  %s: '%s'\n", quoted(t.Product), t.Print())
	}
	if _, err := journal.Append(c.bookDir(), stamp(), []byte(e.String())); err != nil {
		return exitFailed, err
	}
	if c.json {
		return exitClean, c.writeJSON(statementJSON(c.rec.shop, c.on, all))
	}
	fmt.Fprintf(c.out, "STATEMENT for %s, %d %s, written to %s\n\n", c.rec.shop, len(all), plural(len(all), "product"), path)
	if err := doc.Text(c.out); err != nil {
		return exitFailed, err
	}
	c.problems(found)
	return exitClean, nil
}

// ticks works out what a statement says of every product that may be sold. What has errors is left out, and said.
func (c *call) ticks(b *book.Book, led *record.Ledger) (all []paper.Ticks, markets []inci.Market, found finding.List, err error) {
	jobs, _, err := c.judge(b)
	if err != nil {
		return nil, nil, nil, err
	}
	for j := range jobs {
		if j.set != nil || len(j.decls) == 0 {
			continue // a set holds what its products hold
		}
		if slices.ContainsFunc(j.decls, func(d *label.Declaration) bool { return d.Findings.Count(finding.Error) > 0 }) {
			found.Add(finding.Finding{Rule: "statement.left-out", Severity: finding.Warning, Where: j.product.Pos, Product: j.product.Name,
				Message: j.product.Name + " is left out: it may not be printed as it stands", Cure: "see panelwright check"})
			continue
		}
		for _, d := range j.decls {
			if !slices.Contains(markets, d.Market) {
				markets = append(markets, d.Market)
			}
		}
		all = append(all, paper.TicksOf(calledProduct(j.product), j.decls))
	}
	return all, markets, found, nil
}

// calledProduct is what a product is called on its pack, in English.
func calledProduct(p *label.Product) string {
	name := titleOf(p, "en")
	if id := p.Identity["en"]; id != "" && !strings.EqualFold(id, name) {
		name += ", " + strings.ToLower(id[:1]) + id[1:]
	}
	return name
}

// contactFor returns how the workshop is reached in the first of some markets that says it.
func contactFor(b *book.Book, ms []inci.Market) string {
	for _, m := range ms {
		if r, ok := b.Workshop.Responsible[m]; ok && r.Contact != "" {
			return r.Contact
		}
	}
	return ""
}

// stale says which statements for shops no longer say what is so.
func (c *call) stale(b *book.Book, led *record.Ledger) ([]string, error) {
	last := led.LastStatements()
	if len(last) == 0 {
		return nil, nil
	}
	asked := c.markets
	defer func() { c.markets = asked }()
	known := map[string]map[string]string{} // by markets: the ticks of each product
	var out []string
	for _, s := range last {
		key := codes(s.Markets)
		if known[key] == nil {
			c.markets = s.Markets
			all, _, _, err := c.ticks(b, led)
			if err != nil {
				return nil, err
			}
			known[key] = map[string]string{}
			for _, t := range all {
				known[key][inci.Fold(t.Product)] = t.Print()
			}
		}
		now := known[key]
		var names []string
		for _, p := range s.Products {
			if now[inci.Fold(p.Product)] != p.Print {
				names = append(names, p.Product)
			}
		}
		if len(names) > 0 {
			out = append(out, fmt.Sprintf("the statement for %s of %s is stale: %s", s.For, s.On, strings.Join(names, ", ")))
		}
	}
	return out, nil
}

// stall writes the folder for a stall: two pages, one for customers and one for an inspector.
func stall(c *call) (int, error) {
	b, led, err := c.openWithRecords()
	if err != nil {
		return exitFailed, err
	}
	all, markets, found, err := c.ticks(b, led)
	if err != nil {
		return exitFailed, err
	}
	var rows []paper.StallRow
	for _, t := range all {
		p, _ := productNamed(b, t.Product)
		r := paper.StallRow{Name: t.Name, Net: p.Net.Text, Price: p.Price, Approved: led.LastApproval(p.Name)}
		for _, x := range led.LotsOf(p.Name) {
			if led.Left(x) > 0 && led.StateOf(x) == record.Ready && !led.OnTrial(x) { // no other is laid on a stall
				r.Lots = append(r.Lots, x)
			}
		}
		rows = append(rows, r)
	}
	if len(all) == 0 {
		return exitFailed, usageError("there is no product that may be printed, so there is nothing for a stall")
	}
	path := c.pdf
	if path == "" {
		dir, err := c.outDir()
		if err != nil {
			return exitFailed, err
		}
		path = filepath.Join(dir, "stall-folder.pdf")
	}
	if err := c.paperFile(paper.Stall(&b.Workshop, markets, all, rows, c.on), path); err != nil {
		return exitFailed, err
	}
	fmt.Fprintf(c.out, "STALL FOLDER, %d %s, written to %s\n", len(all), plural(len(all), "product"), path)
	c.problems(found)
	return exitClean, nil
}

// jsonStatement is the stable shape of statement --json.
type jsonStatement struct {
	For      string      `json:"for"`
	On       date.Date   `json:"on"`
	Products []jsonTicks `json:"products"`
}

type jsonTicks struct {
	Product   string            `json:"product"`
	Allergens []string          `json:"allergens"`
	Foods     map[string]string `json:"foods"` // "x": made of it; "?": may be
	Open      bool              `json:"open"`  // a supplier does not say all that is in it
}

func statementJSON(shop string, on date.Date, all []paper.Ticks) jsonStatement {
	out := jsonStatement{shop, on, []jsonTicks{}}
	for _, t := range all {
		out.Products = append(out.Products, jsonTicks{t.Product, append([]string{}, t.Allergens...), t.Foods, t.Open})
	}
	return out
}
