package record

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/inci"
)

// Rule codes of what is recorded all the same, and asked about once.
const (
	RuleTwice       finding.Code = "record.twice"
	RuleLeftOut     finding.Code = "record.left-out"
	RuleNotReady    finding.Code = "record.not-ready"
	RuleUnaccounted finding.Code = "record.unaccounted"
	RuleBeforeCame  finding.Code = "record.before-came"
	RuleNoLabels    finding.Code = "record.no-labels"
)

// Doubts returns what is odd about entries that are being recorded: the same
// twice, pieces of a lot that is held sold, a correction that leaves out what
// counted so far. All of it may have happened, so all are warnings. The ledger
// holds the entries already.
func (l *Ledger) Doubts(fresh []*Entry) finding.List {
	d := &doubts{l: l}
	for _, e := range fresh {
		d.leftOut(e)
		switch x := e.What.(type) {
		case *Receipt:
			d.receipt(e, x)
		case *Lot:
			for _, u := range x.Used {
				for _, part := range u.Lots {
					d.before(e, x, l.Receipt(u.Name, part.Code))
				}
			}
		case *Shipment:
			d.shipment(e, x)
		case *Status:
			d.status(e, x)
		case *Count:
			d.count(e, x)
		}
	}
	return d.out
}

type doubts struct {
	l   *Ledger
	out finding.List
}

func (d *doubts) add(rule finding.Code, e *Entry, message, cure string) {
	d.out.Add(finding.Finding{Rule: rule, Severity: finding.Warning, Where: e.Pos, Message: message, Cure: cure})
}

func (d *doubts) twice(e, was *Entry, what string) {
	d.add(RuleTwice, e, fmt.Sprintf("entry %d says the same already: %s", was.Number, what),
		fmt.Sprintf("if it happened once only: withdrawn: %d, reason: recorded twice", e.Number))
}

func (d *doubts) receipt(e *Entry, x *Receipt) {
	for _, r := range d.l.ReceiptsOf(x.Material) {
		if r.Entry.Number < e.Number && fold(r.Code) == fold(x.Code) && r.On == x.On && r.Grams.Equal(x.Grams) {
			d.twice(e, r.Entry, fmt.Sprintf("%s, lot %s, on %s", x.Material, x.Code, x.On))
			break
		}
	}
	for _, lot := range d.l.Users(x.Material, x.Code) {
		d.before(lot.Entry, lot, x)
	}
}

// before doubts a lot that was made of something that had not come in.
func (d *doubts) before(at *Entry, x *Lot, r *Receipt) {
	if r != nil && x.On < r.On {
		d.add(RuleBeforeCame, at, fmt.Sprintf("lot %s was made on %s, and lot %s of %s in it came in on %s", x.Code, x.On, r.Code, r.Material, r.On), "check both days, and the code")
	}
}

func (d *doubts) shipment(e *Entry, x *Shipment) {
	lot := d.l.lotBy(x.Lot)
	if lot == nil {
		return // said already
	}
	for _, s := range d.l.shipped[lot] {
		if s.Entry.Number < e.Number && s.On == x.On && s.Pieces == x.Pieces && s.Kind == x.Kind && inci.Fold(s.To) == inci.Fold(x.To) {
			d.twice(e, s.Entry, fmt.Sprintf("%d of lot %s on %s", x.Pieces, lot.Code, x.On))
			break
		}
	}
	if !slices.Contains([]Buyer{Shop, Order, MarketDay}, x.Kind) {
		return
	}
	where := "were sold"
	if x.To != "" {
		where = "went to " + x.To
	}
	switch s := d.l.saidOf(lot, e.Number); {
	case d.l.OnTrial(lot):
		d.add(RuleNotReady, e, fmt.Sprintf("%d of lot %s %s, and it is a trial that was not kept", x.Pieces, lot.Code, where), fmt.Sprintf("get them back, or keep it: lot: %s, keep: yes", lot.Code))
	case s == Held || s == Curing:
		d.add(RuleNotReady, e, fmt.Sprintf("%d of lot %s %s, and it is %s", x.Pieces, lot.Code, where, s), fmt.Sprintf("get them back, or settle it: lot: %s, state: ready", lot.Code))
	}
}

func (d *doubts) status(e *Entry, x *Status) {
	lot := d.l.lotBy(x.Lot)
	if lot == nil {
		return
	}
	switch left := d.l.Left(lot); {
	case x.State == Ready && lot.ReadyOn != 0 && x.On < lot.ReadyOn:
		d.add(RuleNotReady, e, fmt.Sprintf("lot %s was to be ready on %s", lot.Code, lot.ReadyOn), "check the day; pieces that are not dry weigh less later")
	case x.State == Gone && left > 0 && !d.l.OnTrial(lot): // a trial is dropped so
		d.add(RuleUnaccounted, e, fmt.Sprintf("lot %s is said to be gone, and %d of its %d pieces went nowhere by the records", lot.Code, left, lot.Pieces),
			fmt.Sprintf("record where they went, or as: destroyed; else a recall does not find them: went: %s, pieces: %d", lot.Code, left))
	}
}

// count doubts labels that were counted and of which no print is recorded: the count goes to nothing.
func (d *doubts) count(e *Entry, x *Count) {
	for _, p := range d.l.Printings {
		if !p.Stickers && p.Entry.Number < e.Number && inci.Fold(p.Product) == inci.Fold(x.Product) && serves(p.Markets, x.Markets) && (x.Text == "" || x.Text == p.Text) {
			return
		}
	}
	what := "no labels of " + x.Product
	if x.Text != "" {
		what += " with text " + x.Text
	}
	d.add(RuleNoLabels, e, what+" are recorded as printed for the markets named: the count belongs to none", "name for: and text: as panelwright leftover does, or record first what was printed: printed: "+x.Product)
}

// saidOf returns the state that was recorded for a lot before an entry.
func (l *Ledger) saidOf(x *Lot, before int) State {
	s := x.State
	for _, t := range l.status[x] {
		if t.State != "" && t.Entry.Number < before {
			s = t.State
		}
	}
	return s
}

// leftOut doubts a correction that does not repeat what the entry said: it takes
// the place of all of it.
func (d *doubts) leftOut(e *Entry) {
	if e.Corrects == 0 {
		return
	}
	was := d.l.Entry(e.Corrects)
	if was == nil {
		return
	}
	is := saidKeys(e.What)
	var gone []string
	for _, k := range saidKeys(was.What) {
		if !slices.Contains(is, k) {
			gone = append(gone, k+":")
		}
	}
	if len(gone) > 0 && was.kind() == e.kind() {
		d.add(RuleLeftOut, e, fmt.Sprintf("entry %d said %s and its correction does not: what was said there counts no more", was.Number, strings.Join(gone, " ")),
			fmt.Sprintf("if it still holds, correct entry %d with all of it", e.Number))
	}
}

// saidKeys returns the keys of an entry that it may leave out, where it has them.
func saidKeys(what any) (out []string) {
	say := func(key string, has bool) {
		if has {
			out = append(out, key)
		}
	}
	switch x := what.(type) {
	case *Receipt:
		say("amount", x.Grams.Sign() > 0)
		say("supplier", x.Supplier != "")
		say("sheet", x.Sheet != "")
		say("expires", x.Expires != 0)
	case *Lot:
		say("used", len(x.Used) > 0)
		say("weighed", len(x.Weighed) > 0)
		say("batch", len(x.Batch) > 0)
		say("swapped", len(x.Swaps) > 0)
		say("weights", len(x.Weights) > 0)
		say("state", x.State != "")
		say("ready on", x.ReadyOn != 0)
		say("trial", x.Trial)
	case *Status:
		say("state", x.State != "")
		say("weights", len(x.Weights) > 0)
	case *Shipment:
		say("contact", x.Contact != "")
	case *Complaint:
		say("product", x.Product != "")
		say("lot", x.Lot != "")
		say("from", x.From != "")
		say("serious", x.Serious)
		say("told", len(x.Told) > 0)
	}
	return out
}
