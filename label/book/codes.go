package book

import (
	"fmt"
	"regexp"
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
	if e.key != "price" {
		return p.code(e, &pr.Barcode, &pr.Link)
	}
	s, ok := p.text(e.v, "the price")
	if !ok {
		return false
	}
	if !priceForm.MatchString(s) {
		p.fail("book.price", e.v, fmt.Sprintf("“%s” is no price", clip(s)), "write a number and the currency, as in 6.50 EUR")
		return false
	}
	pr.Price = s
	return true
}

// code reads the item number or the web address of a product or a pack.
func (p *page) code(e entry, number, link *string) bool {
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
		*number = string(n)
		if kind, src := n.Circulation(); kind != "" {
			p.out.Add(finding.Finding{Rule: "book.barcode-circulation", Severity: finding.Note, Where: p.at(e.v), Source: src,
				Message: fmt.Sprintf("“%s” is a %s number: %s", s, kind, circulation[kind]), Cure: "for goods that shops scan, get a number from the GS1 office of your country"})
		}
	case "qr":
		if strings.EqualFold(s, "digital link") {
			*link = digitalLink // the number may be written further down, see checkCodes
			return true
		}
		if err := code.CheckURI(s); err != nil {
			p.errorAt("book.qr", e.v, err)
			return false
		}
		*link = s
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
