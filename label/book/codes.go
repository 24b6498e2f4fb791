package book

import (
	"fmt"
	"regexp"
	"strings"

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
