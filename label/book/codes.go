package book

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/code"
)

// priceForm is a price: a number with at most two places, and a currency before or after it.
var priceForm = regexp.MustCompile(`^(([A-Z]{3}|[€$£]) ?[0-9]{1,6}([.,][0-9]{2})?|[0-9]{1,6}([.,][0-9]{2})? ?([A-Z]{3}|[€$£]))$`)

// codes reads the item number, the web address and the price of a product.
func (p *page) codes(e entry, pr *label.Product) bool {
	s, ok := p.text(e.v, "the "+e.key)
	if !ok {
		return false
	}
	switch e.key {
	case "barcode":
		n, err := code.Parse(s)
		if err != nil {
			p.errorAt("book.barcode", e.v, err)
			return false
		}
		pr.Barcode = string(n)
		if kind, src := n.Circulation(); kind != "" {
			p.out.Add(finding.Finding{Rule: "book.barcode-circulation", Severity: finding.Note, Where: p.at(e.v), Source: src,
				Message: fmt.Sprintf("“%s” is a %s number: %s", s, kind, circulation[kind]), Cure: "for goods that shops scan, get a number from the GS1 office of your country"})
		}
	case "qr":
		if strings.EqualFold(s, "digital link") {
			pr.Link = digitalLink // the number may be written further down, see checkCodes
			return true
		}
		if err := code.CheckURI(s); err != nil {
			p.errorAt("book.qr", e.v, err)
			return false
		}
		pr.Link = s
	case "price":
		if !priceForm.MatchString(s) {
			p.fail("book.price", e.v, fmt.Sprintf("“%s” is no price", clip(s)), "write a number and the currency, as in 6.50 EUR")
			return false
		}
		pr.Price = s
	}
	return true
}

// scans reads which codes stand on the label.
func (p *page) scans(n *yaml.Node) []label.Scan {
	words := map[string]label.Scan{"none": label.ScanNothing, "barcode": label.ScanBarcode, "qr": label.ScanQR}
	var all []label.Scan
	for _, c := range list(n) {
		s, ok := p.text(c, "a code")
		if !ok {
			continue
		}
		scan, known := words[strings.ToLower(s)]
		if !known {
			p.fail("book.form", c, fmt.Sprintf("“%s” is no code of a product", clip(s)), "write barcode, qr or none; the number stands after barcode: and the address after qr:")
			continue
		}
		all = append(all, scan)
	}
	return all
}

// circulation says what the kinds of numbers mean that are not for goods in shops.
var circulation = map[string]string{
	"restricted":    "it means something only within the business or the region that gave it out",
	"demonstration": "it is for examples and stands for nothing",
	"reserved":      "it is kept for other things than goods",
}

// digitalLink stands for the address of the product's own number until that is known.
const digitalLink = "digital link"

// checkCodes fills in addresses made of item numbers, and finds numbers that two products share.
func (l *loader) checkCodes() {
	seen := map[string]*label.Product{}
	all := make([]*label.Product, 0, len(l.Products)+len(l.Sets))
	all = append(all, l.Products...)
	for _, s := range l.Sets {
		all = append(all, &s.Product)
	}
	for _, pr := range all {
		l.checkScans(pr)
		if pr.Link == digitalLink {
			if pr.Barcode == "" {
				pr.Link = ""
				l.out.Add(errorAtPos("book.qr", pr.At("qr"), fmt.Sprintf("“%s” has no item number to make a GS1 Digital Link of", clip(pr.Name)),
					"add barcode: and the number, or write the web address after qr:"))
			} else {
				pr.Link = code.DigitalLink(code.Number(pr.Barcode))
			}
		}
		if pr.Barcode == "" {
			continue
		}
		gtin := code.Number(pr.Barcode).GTIN()
		if other := seen[gtin]; other != nil {
			l.out.Add(errorAtPos("book.barcode", pr.At("barcode"), fmt.Sprintf("“%s” and “%s” have the same item number %s", clip(other.Name), clip(pr.Name), pr.Barcode),
				"each product needs a number of its own"))
			continue
		}
		seen[gtin] = pr
	}
}

// checkScans finds labels that ask for a code the product does not have.
func (l *loader) checkScans(pr *label.Product) {
	said := map[finding.Code]bool{}
	wrong := func(rule finding.Code, key string) bool { // it is written, and was said to be wrong
		at, ok := pr.Fields[key]
		return ok && slices.ContainsFunc(l.out, func(f finding.Finding) bool {
			return f.Rule == rule && f.Severity == finding.Error && f.Where.File == at.File && f.Where.Line == at.Line
		})
	}
	miss := func(d *label.Dress, rule finding.Code, key string) {
		if !said[rule] && !wrong(rule, key) {
			l.out.Add(errorAtPos(rule, d.Pos, fmt.Sprintf("a label of “%s” is to bear a code, but the product has no %s:", clip(pr.Name), key),
				"add "+key+": to the product, or take the code off the label"))
		}
		said[rule] = true
	}
	dresses := []*label.Dress{&pr.Dress}
	for i := range pr.Packs {
		dresses = append(dresses, &pr.Packs[i].Dress)
	}
	for _, d := range dresses {
		for _, s := range d.Scans {
			switch {
			case s == label.ScanBarcode && pr.Barcode == "":
				miss(d, "book.barcode", "barcode")
			case s == label.ScanQR && pr.Link == "":
				miss(d, "book.qr", "qr")
			}
		}
	}
}
