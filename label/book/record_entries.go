package book

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/label/record"
)

// receipt reads a lot of a material that came in.
func (r *recordPage) receipt(name string) {
	x := &record.Receipt{Material: name}
	r.e.What = x
	r.each([]string{"lot", "on", "amount", "supplier", "sheet", "expires"}, func(e entry) {
		switch e.key {
		case "lot":
			x.Code, _ = r.text(e.v, "the lot")
		case "on":
			x.On = r.date(e.v, "the day")
		case "amount":
			x.Grams = r.mass(e.v, "the amount")
		case "supplier":
			x.Supplier, _ = r.text(e.v, "the supplier")
		case "sheet":
			x.Sheet, _ = r.text(e.v, "the sheet")
		case "expires":
			x.Expires = r.lastDay(e.v, "the day it expires")
		}
	})
	r.need(x.Code == "", "lot", "lot: A17")
	r.need(x.On == 0, "on", "on: 2026-06-02")
}

// lot reads a lot of a product.
func (r *recordPage) lot(name string) {
	x := &record.Lot{Product: name}
	r.e.What = x
	keys := []string{"lot", "on", "pieces", "used", "weighed", "batch", "swapped", "weights", "state", "ready on", "trial", "book"}
	r.each(keys, func(e entry) {
		switch e.key {
		case "lot":
			x.Code, _ = r.text(e.v, "the lot")
		case "on":
			x.On = r.date(e.v, "the day")
		case "pieces":
			x.Pieces = r.whole(e.v, "the pieces")
		case "used":
			x.Used = r.used(e.v)
		case "weighed":
			x.Weighed = r.weighings(e.v)
		case "batch":
			x.Batch = r.batch(e.v)
		case "swapped":
			for _, s := range r.entries(e.v, "swapped", "write it as in {cocoa butter: mango butter}, what was left out before what was taken") {
				in, ok := r.text(s.v, "what was taken instead")
				if ok {
					x.Swaps = append(x.Swaps, record.Swap{Out: s.key, In: in, Pos: r.at(s.k)})
				}
			}
		case "weights":
			x.Weights = r.weights(e.v)
		case "state":
			x.State = r.state(e.v)
		case "ready on":
			x.ReadyOn = r.date(e.v, "the day it is ready")
		case "trial":
			x.Trial = r.yes(e.v, "trial")
		case "book":
			x.Book, _ = r.text(e.v, "the fingerprint of the book")
		}
	})
	r.need(x.Code == "", "lot", `lot: "0614"`)
	r.need(x.On == 0, "on", "on: 2026-06-14")
	r.need(x.Pieces == 0 && len(x.Batch) == 0, "pieces", "pieces: 80; of a mix made beforehand batch: 1 kg")
}

// status reads what became of a lot.
func (r *recordPage) status(code string) {
	x := &record.Status{Lot: code}
	r.e.What = x
	r.each([]string{"on", "state", "keep", "weights"}, func(e entry) {
		switch e.key {
		case "on":
			x.On = r.date(e.v, "the day")
		case "state":
			x.State = r.state(e.v)
		case "keep":
			x.Keep = r.yes(e.v, "keep")
		case "weights":
			x.Weights = r.weights(e.v)
		}
	})
	r.need(x.On == 0, "on", "on: 2026-07-12")
	r.need(x.State == "" && !x.Keep && len(x.Weights) == 0 && r.e.Remarks == "", "state, weights, keep or remarks", "state: ready")
}

// shipment reads where pieces of a lot went.
func (r *recordPage) shipment(code string) {
	x := &record.Shipment{Lot: code, Kind: record.Shop}
	r.e.What = x
	said := false
	r.each([]string{"on", "pieces", "to", "as", "contact"}, func(e entry) {
		switch e.key {
		case "on":
			x.On = r.date(e.v, "the day")
		case "pieces":
			x.Pieces = r.whole(e.v, "the pieces")
		case "to":
			x.To, _ = r.text(e.v, "where they went")
		case "contact":
			x.Contact, _ = r.text(e.v, "the contact")
		case "as":
			if s, ok := r.text(e.v, "what they went as"); ok {
				said = true
				x.Kind = record.Buyer(strings.ToLower(s))
				if !slices.Contains(record.Buyers, x.Kind) {
					r.fail("book.form", e.v, fmt.Sprintf("pieces do not go as “%s”", clip(s)), "known are "+joined(record.Buyers))
				}
			}
		}
	})
	if low := strings.ToLower(x.To); !said && (strings.Contains(low, "market") || strings.Contains(low, "fair")) {
		x.Kind = record.MarketDay
	}
	r.need(x.On == 0, "on", "on: 2026-07-01")
	r.need(x.Pieces == 0, "pieces", "pieces: 18; if none went, withdrawn: and the number of the entry")
	r.need(x.To == "" && (x.Kind == record.Shop || x.Kind == record.Order), "to", "to: Harbour Shop")
}

func joined[S ~string](all []S) string {
	var out []string
	for _, s := range all {
		out = append(out, string(s))
	}
	return strings.Join(out, ", ")
}

// approval reads a frozen pack copy; the copy itself is kept apart, by its
// fingerprint.
func (r *recordPage) approval(name string) {
	x := &record.Approval{Product: name}
	r.e.What = x
	r.each([]string{"for", "on", "placed", "from", "until", "lots", "text", "book"}, func(e entry) {
		switch e.key {
		case "for":
			x.Markets, _ = r.markets(e.v, nil, false)
		case "on":
			x.On = r.date(e.v, "the day")
		case "placed":
			x.Placed = r.date(e.v, "the day of first supply")
		case "from":
			x.From = r.date(e.v, "the first day")
		case "until":
			x.Until = r.date(e.v, "the last day")
		case "lots":
			x.Lots = r.texts(e.v, "a lot")
		case "text":
			x.Text, _ = r.text(e.v, "the fingerprint")
		case "book":
			x.Book, _ = r.text(e.v, "the fingerprint of the book")
		}
	})
	r.need(x.On == 0, "on", "on: 2026-06-01")
	r.need(len(x.Markets) == 0, "for", "for: [us]")
	r.need(x.Text == "", "text", "the command panelwright approve writes it")
	r.need(r.e.By == "", "by", "by: and who approved it")
}

// printing reads labels or stickers that were printed for sale.
func (r *recordPage) printing(name string) {
	x := &record.Printing{Product: name}
	r.e.What = x
	r.each([]string{"for", "on", "lot", "copies", "stickers", "text", "approval"}, func(e entry) {
		switch e.key {
		case "for":
			x.Markets, _ = r.markets(e.v, nil, false)
		case "on":
			x.On = r.date(e.v, "the day")
		case "lot":
			x.Lot, _ = r.text(e.v, "the lot")
		case "copies":
			x.Copies = r.whole(e.v, "the copies")
		case "stickers":
			x.Stickers = r.yes(e.v, "stickers")
		case "text":
			x.Text, _ = r.text(e.v, "the fingerprint")
		case "approval":
			x.Approval = r.whole(e.v, "the approval")
		}
	})
	r.need(x.On == 0, "on", "on: 2026-06-01")
	r.need(x.Copies == 0, "copies", "copies: 80; if none was printed, withdrawn: and the number of the entry")
	r.need(len(x.Markets) == 0 && !x.Stickers && r.e.Corrects == 0, "for", "for: [us]")
}

// count reads labels counted or spoiled.
func (r *recordPage) count(name string) {
	x := &record.Count{Product: name, Left: -1}
	r.e.What = x
	r.each([]string{"for", "on", "text", "left", "spoiled"}, func(e entry) {
		switch e.key {
		case "for":
			x.Markets, _ = r.markets(e.v, nil, false)
		case "on":
			x.On = r.date(e.v, "the day")
		case "text":
			x.Text, _ = r.text(e.v, "the fingerprint")
		case "left":
			x.Left = r.whole(e.v, "the labels left")
		case "spoiled":
			x.Spoiled = r.whole(e.v, "the labels spoiled")
		}
	})
	r.need(x.On == 0, "on", "on: 2026-06-01")
	r.need(x.Left < 0 && x.Spoiled == 0, "left or spoiled", "left: 140")
}

// complaint reads what a customer said.
func (r *recordPage) complaint(code string) {
	x := &record.Complaint{Code: code}
	r.e.What = x
	r.each([]string{"on", "product", "lot", "what", "from", "serious", "told"}, func(e entry) {
		switch e.key {
		case "on":
			x.On = r.date(e.v, "the day")
		case "product":
			x.Product, _ = r.text(e.v, "the product")
		case "lot":
			x.Lot, _ = r.text(e.v, "the lot")
		case "what":
			x.Text = strings.Join(r.texts(e.v, "what happened"), " ")
		case "from":
			x.From, _ = r.text(e.v, "who said it")
		case "serious":
			x.Serious = r.yes(e.v, "serious")
		case "told":
			for _, t := range r.entries(e.v, "told", "write it as in {safety assessor: 2026-08-02}") {
				x.Told = append(x.Told, record.Told{Who: t.key, On: r.date(t.v, "the day"), Pos: r.at(t.k)})
			}
		}
	})
	r.need(x.On == 0, "on", "on: 2026-08-01")
	r.need(x.Text == "", "what", "what: red arms after a bath, gone the next day")
	r.need(x.Product == "" && x.Lot == "", "lot or product", `lot: "0614"`)
}

// statement reads a paper for a shop.
func (r *recordPage) statement(name string) {
	x := &record.Statement{For: name}
	r.e.What = x
	r.each([]string{"on", "markets", "products"}, func(e entry) {
		switch e.key {
		case "markets":
			x.Markets, _ = r.markets(e.v, nil, false)
		case "on":
			x.On = r.date(e.v, "the day")
		case "products":
			for _, p := range r.entries(e.v, "products", "the command panelwright statement writes them") {
				if s, ok := r.text(p.v, "the fingerprint"); ok {
					x.Products = append(x.Products, record.Stated{Product: p.key, Print: s})
				}
			}
		}
	})
	r.need(x.On == 0, "on", "on: 2026-11-01")
}

// withdrawal reads that an entry was of something that did not happen.
func (r *recordPage) withdrawal(string) {
	x := &record.Withdrawal{Of: r.whole(r.name, "the number of the entry")}
	r.e.What = x
	r.each([]string{"on"}, func(e entry) {
		x.On = r.date(e.v, "the day")
	})
	r.need(r.e.Reason == "", "reason", "reason: recorded twice")
}

// state reads where a lot is.
func (r *recordPage) state(n *yaml.Node) record.State {
	s, ok := r.text(n, "the state")
	if !ok {
		return ""
	}
	st := record.State(strings.ToLower(s))
	if !slices.Contains(record.States, st) {
		r.fail("book.form", n, fmt.Sprintf("“%s” is no state of a lot", clip(s)), did(nearest(s, strings.Split(joined(record.States), ", ")), "known are "+joined(record.States)))
	}
	return st
}
