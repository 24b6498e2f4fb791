package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"panelwright/formula/exact"
	"panelwright/label"
	"panelwright/label/record"
)

// tables writes everything that is worked out and recorded as CSV files, for a spreadsheet.
func tables(c *call) (int, error) {
	c.productSubject()
	_, jobs, _, err := c.openAndJudge()
	if err != nil {
		return exitFailed, err
	}
	led, err := c.ledger()
	if err != nil {
		return exitFailed, err
	}
	dir, err := c.outDir()
	if err != nil {
		return exitFailed, err
	}
	dir = filepath.Join(dir, "tables")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return exitFailed, err
	}
	materials := sheetTable{"materials", [][]string{{"product", "material", "grams", "percent"}}}
	lists := sheetTable{"lists", [][]string{{"product", "market", "place", "name", "kind", "least percent", "typical percent", "greatest percent", "order"}}}
	allergens := sheetTable{"allergens", [][]string{{"product", "market", "allergen", "typical percent", "greatest percent", "threshold percent", "named"}}}
	statements := sheetTable{"statements", [][]string{{"product", "market", "language", "lead", "text", "least height mm"}}}
	findings := sheetTable{"findings", [][]string{{"product", "market", "severity", "rule", "place", "message", "cure", "source"}}}
	for j := range jobs {
		for i, d := range j.decls {
			if i == 0 && d.Composition != nil {
				materials.addMaterials(d)
			}
			for n, e := range d.Entries {
				s := label.Show(e.Share)
				lists.add(j.product.Name, string(d.Market), fmt.Sprint(n+1), e.Name, string(e.Kind), s.Min, s.Typical, s.Max, string(e.Order))
			}
			for _, r := range d.Allergens {
				allergens.add(j.product.Name, string(d.Market), r.Entry.Name, strings.TrimSuffix(label.PercentBeside(r.Share.Typical, r.Threshold, exact.Nearest), " %"),
					r.Greatest(), r.Threshold.Mul(hundred).String(), yesNo(r.Declared))
			}
			for _, s := range d.Statements {
				statements.add(j.product.Name, string(d.Market), s.Lang, s.Lead, s.Text, exact.Frac(s.Height.Min, 1000).Decimal(3, exact.Up).String())
			}
			for _, f := range d.Findings {
				findings.add(j.product.Name, string(d.Market), f.Severity.String(), string(f.Rule), f.Where.String(), f.Message, f.Cure, f.Source.String())
			}
		}
	}
	all := append([]sheetTable{materials, lists, allergens, statements, findings}, recordTables(led)...)
	rows := [][]string{{"file", "rows"}}
	for _, t := range all {
		var b bytes.Buffer
		if err := csv.NewWriter(&b).WriteAll(t.rows); err != nil {
			return exitFailed, err
		}
		if err := writeWhole(filepath.Join(dir, t.name+".csv"), b.Bytes()); err != nil {
			return exitFailed, err
		}
		rows = append(rows, []string{t.name + ".csv", fmt.Sprint(len(t.rows) - 1)})
	}
	if err := table(c.out, rows); err != nil {
		return exitFailed, err
	}
	fmt.Fprintf(c.out, "written to %s, as UTF-8 with commas\n", dir)
	return exitClean, nil
}

// sheetTable is a table on its way into a CSV file. A cell that a spreadsheet would take for a formula is led in by
// an apostrophe.
type sheetTable struct {
	name string
	rows [][]string
}

func (t *sheetTable) add(cells ...string) {
	for i, c := range cells {
		if c != "" && strings.ContainsRune("=+@\t", rune(c[0])) || strings.HasPrefix(c, "-") && len(c) > 1 && (c[1] < '0' || c[1] > '9') {
			cells[i] = "'" + c
		}
	}
	t.rows = append(t.rows, cells)
}

func (t *sheetTable) addMaterials(d *label.Declaration) {
	c := d.Composition.Weighed()
	for i := range c.Items {
		it := &c.Items[i]
		t.add(d.Product.Name, it.Material.Name, it.Weight.Decimal(6, exact.Nearest).String(), label.Percent(it.Weight.Quo(c.Added), 6, exact.Nearest))
	}
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// recordTables are the records, one table a kind.
func recordTables(led *record.Ledger) []sheetTable {
	lots := sheetTable{"lots", [][]string{{"lot", "product", "made", "pieces", "in hand", "state", "entry", "grams mixed"}}}
	used := sheetTable{"used", [][]string{{"lot", "product", "of", "of lot", "pieces"}}}
	for _, x := range led.Lots {
		mixed := ""
		if x.IsMix() {
			mixed = x.Batch[0].Grams.Decimal(3, exact.Nearest).String()
		}
		lots.add(x.Code, x.Product, x.On.String(), fmt.Sprint(x.Pieces), fmt.Sprint(led.Left(x)), stateWord(led, x), fmt.Sprint(x.Entry.Number), mixed)
		for _, u := range x.Used {
			for _, p := range u.Lots {
				used.add(x.Code, x.Product, u.Name, p.Code, countOrNothing(p.Pieces))
			}
		}
	}
	received := sheetTable{"received", [][]string{{"material", "lot", "on", "grams", "supplier", "sheet", "expires", "entry"}}}
	for _, r := range led.Received {
		grams := ""
		if !r.Grams.IsZero() {
			grams = r.Grams.Decimal(3, exact.Nearest).String()
		}
		received.add(r.Material, r.Code, r.On.String(), grams, r.Supplier, r.Sheet, r.Expires.String(), fmt.Sprint(r.Entry.Number))
	}
	went := sheetTable{"went", [][]string{{"lot", "on", "pieces", "as", "to", "contact", "entry"}}}
	for _, s := range led.Shipments {
		went.add(s.Lot, s.On.String(), fmt.Sprint(s.Pieces), string(s.Kind), s.To, s.Contact, fmt.Sprint(s.Entry.Number))
	}
	approved := sheetTable{"approved", [][]string{{"product", "for", "on", "by", "lots", "from", "until", "text", "entry"}}}
	for _, a := range led.Approvals {
		approved.add(a.Product, codes(a.Markets), a.On.String(), a.Entry.By, strings.Join(a.Lots, " "), a.From.String(), a.Until.String(), a.Text, fmt.Sprint(a.Entry.Number))
	}
	printed := sheetTable{"printed", [][]string{{"product", "for", "on", "lot", "copies", "stickers", "text", "approval", "entry"}}}
	for _, p := range led.Printings {
		printed.add(p.Product, codes(p.Markets), p.On.String(), p.Lot, fmt.Sprint(p.Copies), yesNo(p.Stickers), p.Text, countOrNothing(p.Approval), fmt.Sprint(p.Entry.Number))
	}
	said := sheetTable{"complaints", [][]string{{"complaint", "on", "product", "lot", "serious", "what", "from", "entry"}}}
	for _, x := range led.Complaints {
		said.add(x.Code, x.On.String(), x.Product, x.Lot, yesNo(x.Serious), x.Text, x.From, fmt.Sprint(x.Entry.Number))
	}
	return []sheetTable{received, lots, used, went, approved, printed, said}
}

func countOrNothing(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}
