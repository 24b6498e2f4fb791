package book

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/code"
)

// digitalLink stands for the address of a product's or a pack's own number until that is known.
const digitalLink = "digital link"

// tradeItems is what the packs of one number are told by.
var tradeItems = finding.Citation{Text: "GS1 General Specifications, GTIN management: each trade item that differs from another has a number of its own", Seen: finding.Memory}

// checkCodes fills in addresses made of item numbers, and finds numbers that two products or packs share.
func (l *loader) checkCodes() {
	seen := map[string]*label.Product{}
	all := make([]*label.Product, 0, len(l.Products)+len(l.Sets))
	all = append(all, l.Products...)
	for _, s := range l.Sets {
		all = append(all, &s.Product)
	}
	for _, pr := range all {
		l.checkScans(pr)
		l.fillLinks(pr)
		l.checkNumbers(pr, seen)
		l.checkPacks(pr)
	}
}

// withoutCodes returns packs without the item numbers and addresses of their own, which belong to one product only,
// but for those that stand in was too.
func withoutCodes(packs, was []label.Pack) []label.Pack {
	has := func(k label.Pack) bool { return k.Barcode != "" || k.Link != "" }
	if !slices.ContainsFunc(packs, has) && !slices.ContainsFunc(was, has) {
		return packs
	}
	packs = slices.Clone(packs)
	for i := range packs {
		k := &packs[i]
		k.Barcode, k.Link, k.CodesAt = "", "", finding.Pos{}
		if n := slices.IndexFunc(was, func(o label.Pack) bool { return o.Pos == k.Pos }); n >= 0 {
			k.Barcode, k.Link, k.CodesAt = was[n].Barcode, was[n].Link, was[n].CodesAt
		}
	}
	return packs
}

// fillLinks makes the addresses of item numbers.
func (l *loader) fillLinks(pr *label.Product) {
	bare := func(k label.Pack) bool { return k.Link == "" && k.Barcode == "" }
	fill := func(k label.Pack) bool { return k.Link == digitalLink || pr.Link == digitalLink && k.Link == "" }
	if slices.ContainsFunc(pr.Packs, fill) {
		all := slices.Clone(pr.Packs) // the members of a range share theirs
		for i := range all {
			k := &all[i]
			switch number := pr.BarcodeOn(k); {
			case !fill(*k):
			case number == "" && k.Link == "": // said of the product
			case number == "":
				k.Link = ""
				l.out.Add(errorAtPos("book.qr", k.CodesAt, fmt.Sprintf("a pack of “%s” has no item number to make a GS1 Digital Link of", clip(pr.Name)),
					"add barcode: and the number, or write the web address after qr:"))
			case k.Link == digitalLink || k.Barcode != "":
				k.Link = code.DigitalLink(code.Number(number))
			}
		}
		pr.Packs = all
	}
	switch {
	case pr.Link != digitalLink:
	case pr.Barcode != "":
		pr.Link = code.DigitalLink(code.Number(pr.Barcode))
	default:
		pr.Link = ""
		if len(pr.Packs) == 0 || slices.ContainsFunc(pr.Packs, bare) {
			l.out.Add(errorAtPos("book.qr", pr.At("qr"), fmt.Sprintf("“%s” has no item number to make a GS1 Digital Link of", clip(pr.Name)),
				"add barcode: and the number, or write the web address after qr:"))
		}
	}
}

// checkNumbers finds numbers that another product has, or two packs of this one.
func (l *loader) checkNumbers(pr *label.Product, seen map[string]*label.Product) {
	var own []string // of its packs
	said := map[string]bool{}
	check := func(number string, at finding.Pos, pack bool) {
		if number == "" {
			return
		}
		gtin := code.Number(number).GTIN()
		other := seen[gtin]
		switch {
		case said[gtin]:
		case other != nil && other != pr:
			said[gtin] = true
			l.out.Add(errorAtPos("book.barcode", at, fmt.Sprintf("“%s” and “%s” have the same item number %s", clip(other.Name), clip(pr.Name), number),
				"each product needs a number of its own"))
		case pack && slices.Contains(own, gtin):
			said[gtin] = true
			l.out.Add(errorAtPos("book.barcode", at, fmt.Sprintf("two packs of “%s” have the same item number %s", clip(pr.Name), number),
				"give each pack a number of its own; where they are the same goods to a shop, write barcode: once, in the product"))
		default:
			seen[gtin] = pr
		}
		if pack {
			own = append(own, gtin)
		}
	}
	check(pr.Barcode, pr.At("barcode"), false)
	for i := range pr.Packs {
		check(pr.Packs[i].Barcode, pr.Packs[i].CodesAt, true)
	}
}

// checkPacks tells of packs that have the product's number in common. It is likely to be wrong where the packs are of
// different measures.
func (l *loader) checkPacks(pr *label.Product) {
	if pr.Barcode == "" {
		return
	}
	var sharing []*label.Pack
	differ := false
	for i := range pr.Packs {
		k := &pr.Packs[i]
		sold := slices.ContainsFunc(k.For, func(m inci.Market) bool { return slices.Contains(pr.SellIn, m) && pr.PackFor(m) == k })
		if sold && (k.Barcode == "" || k.Barcode == pr.Barcode) {
			sharing = append(sharing, k)
			a, b := sharing[0].Body, k.Body
			differ = differ || a.Kind != b.Kind || a.A != b.A || a.B != b.B || a.C != b.C
		}
	}
	if len(sharing) < 2 {
		return
	}
	f := finding.Finding{Rule: "book.barcode-packs", Severity: finding.Note, Where: pr.At("barcode"), Source: tradeItems,
		Message: fmt.Sprintf("%d packs of “%s” have the one item number %s; packs that a shop orders and sells as different goods each need a number of their own",
			len(sharing), clip(pr.Name), pr.Barcode),
		Cure: "write barcode: in the line of each pack; one number is enough where only the words on the label differ and no shop tells them apart"}
	if differ {
		f.Severity = finding.Warning
		f.Message = fmt.Sprintf("packs of “%s” that are not alike (%s) have the one item number %s; each trade item needs a number of its own",
			clip(pr.Name), bodiesOf(sharing), pr.Barcode)
		f.Cure = "write barcode: in the line of each pack"
	}
	l.out.Add(f)
}

// bodiesOf names the packs by their measures, each once.
func bodiesOf(packs []*label.Pack) string {
	var all []string
	for _, k := range packs {
		words := k.Body.String()
		if words == "" {
			words = "not measured"
		}
		if !slices.Contains(all, words) {
			all = append(all, words)
		}
	}
	return strings.Join(all, ", ")
}

// checkScans finds labels that ask for a code that neither the pack nor the product has.
func (l *loader) checkScans(pr *label.Product) {
	said := map[finding.Code]bool{}
	wrong := func(rule finding.Code, key string) bool { // it is written, and was said to be wrong
		at, ok := pr.Fields[key]
		return ok && slices.ContainsFunc(l.out, func(f finding.Finding) bool {
			return f.Rule == rule && f.Severity == finding.Error && f.Where.File == at.File && f.Where.Line == at.Line
		})
	}
	miss := func(k *label.Pack, at finding.Pos, rule finding.Code, key string) {
		if !said[rule] && !wrong(rule, key) {
			f := errorAtPos(rule, at, fmt.Sprintf("a label of “%s” is to bear a code, but the product has no %s:", clip(pr.Name), key),
				"add "+key+": to the product, or take the code off the label")
			if k != nil && slices.ContainsFunc(pr.Packs, func(o label.Pack) bool { return key == "barcode" && o.Barcode != "" || key == "qr" && o.Link != "" }) {
				f.Message = fmt.Sprintf("the label of “%s” for %s is to bear a code, but neither that pack nor the product has a %s:", clip(pr.Name), marketList(k.For), key)
				f.Cure = "add " + key + ": to the pack, or write codes: none in it"
			}
			l.out.Add(f)
		}
		said[rule] = true
	}
	check := func(k *label.Pack, d *label.Dress) {
		for _, s := range d.Scans {
			switch {
			case k != nil && l.badCodes[k.Pos]:
			case s == label.ScanBarcode && pr.BarcodeOn(k) == "":
				miss(k, d.Pos, "book.barcode", "barcode")
			case s == label.ScanQR && pr.LinkOn(k) == "":
				miss(k, d.Pos, "book.qr", "qr")
			}
		}
	}
	if len(pr.Packs) == 0 {
		check(nil, &pr.Dress)
	}
	for i := range pr.Packs {
		k := &pr.Packs[i]
		if d := &k.Dress; d.Scans != nil {
			check(k, d)
		} else {
			check(k, &pr.Dress)
		}
	}
}

// marketList writes the codes of markets.
func marketList(ms []inci.Market) string {
	var all []string
	for _, m := range ms {
		all = append(all, string(m))
	}
	return strings.Join(all, ", ")
}
