package record

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// Rule codes of what a ledger finds in the records.
const (
	RuleRepeatedLot finding.Code = "record.repeated-lot"
	RuleUnknownLot  finding.Code = "record.unknown-lot"
	RuleCorrects    finding.Code = "record.corrects"
	RuleTooMany     finding.Code = "record.too-many"
	RuleByHand      finding.Code = "record.by-hand"
	RuleBeforeMade  finding.Code = "record.before-made"

	RuleSameComplaint finding.Code = "record.same-complaint"
)

// Ledger is the entries in force, joined. It does not change once it is made,
// and may be read by several goroutines.
type Ledger struct {
	All   []*Entry // every entry, those that were corrected included
	Force []*Entry // those in force, in their order

	Lots       []*Lot
	Received   []*Receipt
	Shipments  []*Shipment
	Approvals  []*Approval
	Printings  []*Printing
	Counts     []*Count
	Complaints []*Complaint
	Statements []*Statement

	lots      map[string]*Lot       // by folded code
	receipts  map[string][]*Receipt // by folded code
	materials map[string][]*Receipt // by folded material, in the order received
	status    map[*Lot][]*Status
	shipped   map[*Lot][]*Shipment
	printed   map[*Lot][]*Printing
	complains map[*Lot][]*Complaint
	users     map[string][]*Lot // lots that use a lot, by use key
	boxed     map[*Lot]int      // pieces put into boxes
	boxes     map[*Lot]bool     // lots of boxes that hold such pieces
	mixes     map[*Lot][]*Lot   // lots of mixes made beforehand that went into a lot
	byProduct map[string][]*Lot
	approved  map[string][]*Approval // by folded product
	labels    map[string][]*Entry    // printings and counts, by folded product
	renamed   map[string]string      // folded codes of lots that a correction gave another, and that
	withdrawn map[string]int         // folded codes of lots that were withdrawn, and by which entry
}

// fold is the form in which codes and names are compared.
func fold(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// useKey names a lot of a material or product.
func useKey(name, code string) string { return inci.Fold(name) + "\x00" + fold(code) }

// NewLedger joins entries, which stand in the order they were recorded. The
// findings tell what does not fit together; an entry that cannot be joined is
// still in All and Force.
func NewLedger(entries []*Entry) (*Ledger, finding.List) {
	l := &Ledger{All: entries, lots: map[string]*Lot{}, receipts: map[string][]*Receipt{}, materials: map[string][]*Receipt{},
		status: map[*Lot][]*Status{}, shipped: map[*Lot][]*Shipment{}, printed: map[*Lot][]*Printing{}, complains: map[*Lot][]*Complaint{},
		users: map[string][]*Lot{}, boxed: map[*Lot]int{}, boxes: map[*Lot]bool{}, mixes: map[*Lot][]*Lot{}, byProduct: map[string][]*Lot{}, renamed: map[string]string{}, withdrawn: map[string]int{},
		approved: map[string][]*Approval{}, labels: map[string][]*Entry{}}
	var out finding.List
	l.inForce(&out)
	for _, e := range l.Force {
		l.take(e, &out)
	}
	for _, e := range l.Force {
		l.join(e, &out)
	}
	l.count(&out)
	return l, out
}

// take enters what others refer to.
func (l *Ledger) take(e *Entry, out *finding.List) {
	switch x := e.What.(type) {
	case *Receipt:
		x.Entry = e
		l.Received = append(l.Received, x)
		l.receipts[fold(x.Code)] = append(l.receipts[fold(x.Code)], x)
		l.materials[inci.Fold(x.Material)] = append(l.materials[inci.Fold(x.Material)], x)
	case *Lot:
		x.Entry = e
		if was := l.lots[fold(x.Code)]; was != nil {
			out.Add(finding.Finding{Rule: RuleRepeatedLot, Severity: finding.Error, Where: e.Pos,
				Message: fmt.Sprintf("lot %s was already made, entry %d: %d x %s on %s", x.Code, was.Entry.Number, was.Pieces, was.Product, was.On),
				Cure:    fmt.Sprintf("give it a code of its own, or write corrects: %d and a reason", was.Entry.Number)})
			return
		}
		l.Lots = append(l.Lots, x)
		l.lots[fold(x.Code)] = x
		l.byProduct[inci.Fold(x.Product)] = append(l.byProduct[inci.Fold(x.Product)], x)
		for _, u := range x.Used {
			for _, part := range u.Lots {
				key := useKey(u.Name, part.Code)
				l.users[key] = append(l.users[key], x)
			}
		}
	case *Approval:
		x.Entry = e
		l.Approvals = append(l.Approvals, x)
		l.approved[inci.Fold(x.Product)] = append(l.approved[inci.Fold(x.Product)], x)
	case *Count:
		x.Entry = e
		l.Counts = append(l.Counts, x)
		l.labels[inci.Fold(x.Product)] = append(l.labels[inci.Fold(x.Product)], e)
	case *Printing:
		l.labels[inci.Fold(x.Product)] = append(l.labels[inci.Fold(x.Product)], e)
	case *Statement:
		x.Entry = e
		l.Statements = append(l.Statements, x)
	}
}

// join enters what refers to lots, and checks what lots refer to.
func (l *Ledger) join(e *Entry, out *finding.List) {
	missing := func(code string, at finding.Pos) {
		f := finding.Finding{Rule: RuleUnknownLot, Severity: finding.Error, Where: at, Message: fmt.Sprintf("no lot %s is recorded", code), Cure: l.nearLot(code)}
		if by := l.withdrawn[fold(code)]; by != 0 {
			f.Message += fmt.Sprintf(": entry %d withdrew it", by)
			f.Cure = fmt.Sprintf("withdraw first what was recorded of it: entry %d, “%s”", e.Number, e.kind())
		}
		out.Add(f)
	}
	switch x := e.What.(type) {
	case *Lot:
		l.joinUsed(x, out)
	case *Status:
		x.Entry = e
		lot := l.lotBy(x.Lot)
		if lot == nil {
			missing(x.Lot, e.Pos)
			return
		}
		l.status[lot] = append(l.status[lot], x)
		l.early(e, x.On, lot, out)
	case *Shipment:
		x.Entry = e
		l.Shipments = append(l.Shipments, x)
		lot := l.lotBy(x.Lot)
		if lot == nil {
			missing(x.Lot, e.Pos)
			return
		}
		l.shipped[lot] = append(l.shipped[lot], x)
		l.early(e, x.On, lot, out)
	case *Printing:
		x.Entry = e
		l.Printings = append(l.Printings, x)
		if x.Lot == "" {
			return
		}
		if lot := l.lotBy(x.Lot); lot != nil {
			l.printed[lot] = append(l.printed[lot], x)
		}
	case *Complaint:
		x.Entry = e
		if was := l.Complaint(x.Code); was != nil {
			out.Add(finding.Finding{Rule: RuleSameComplaint, Severity: finding.Error, Where: e.Pos,
				Message: fmt.Sprintf("complaint %s was already recorded, entry %d: %s", x.Code, was.Entry.Number, was.On),
				Cure:    fmt.Sprintf("give it a code of its own, or write corrects: %d and a reason", was.Entry.Number)})
		}
		l.Complaints = append(l.Complaints, x)
		if x.Lot == "" {
			return
		}
		lot := l.lotBy(x.Lot)
		if lot == nil {
			missing(x.Lot, e.Pos)
			return
		}
		l.complains[lot] = append(l.complains[lot], x)
		l.early(e, x.On, lot, out)
	}
}

func (l *Ledger) early(e *Entry, on date.Date, lot *Lot, out *finding.List) {
	if on != 0 && on < lot.On {
		out.Add(finding.Finding{Rule: RuleBeforeMade, Severity: finding.Error, Where: e.Pos,
			Message: fmt.Sprintf("lot %s was made on %s, and this is dated %s", lot.Code, lot.On, on), Cure: "check both dates"})
	}
}

// joinUsed checks that the lots that went into a lot are known.
func (l *Ledger) joinUsed(x *Lot, out *finding.List) {
	for _, u := range x.Used {
		for _, part := range u.Lots {
			code := part.Code
			if l.Receipt(u.Name, code) != nil {
				continue
			}
			if inner := l.inner(u.Name, code); inner != nil {
				l.boxed[inner] += part.Pieces
				switch {
				case inner == x:
				case inner.IsMix():
					l.mixes[x] = append(l.mixes[x], inner)
				default:
					l.boxes[x] = true
				}
				continue
			}
			f := finding.Finding{Rule: RuleUnknownLot, Severity: finding.Warning, Where: u.Pos,
				Message: fmt.Sprintf("lot %s of %s is not recorded as received or made", code, u.Name),
				Cure:    fmt.Sprintf("record it: received: %s, lot: %s, and the day; made: where you mixed it yourself", u.Name, code)}
			if near := l.nearReceipt(u.Name, code); near != "" {
				f.Cure = "did you mean " + near + "? Else " + f.Cure
			}
			out.Add(f)
		}
	}
}

// inner returns the lot of a product that was put into a box, or nil.
func (l *Ledger) inner(product, code string) *Lot {
	if x := l.lotBy(code); x != nil && inci.Fold(x.Product) == inci.Fold(product) {
		return x
	}
	return nil
}

// count checks that no more pieces left than were made.
func (l *Ledger) count(out *finding.List) {
	for _, lot := range l.Lots {
		if back := l.Left(lot) - lot.Pieces; back > 0 {
			out.Add(finding.Finding{Rule: RuleTooMany, Severity: finding.Error, Where: l.shipped[lot][len(l.shipped[lot])-1].Entry.Pos,
				Message: fmt.Sprintf("lot %s: %d more pieces are said to have come back than went", lot.Code, back), Cure: "record first where they went"})
		}
		if left := l.Left(lot); left < 0 {
			at := lot.Entry.Pos
			if n := len(l.shipped[lot]); n > 0 {
				at = l.shipped[lot][n-1].Entry.Pos
			}
			out.Add(finding.Finding{Rule: RuleTooMany, Severity: finding.Error, Where: at,
				Message: fmt.Sprintf("lot %s has %d pieces, and %d are said to have gone or to be in boxes", lot.Code, lot.Pieces, lot.Pieces-left),
				Cure:    "correct the pieces made, or where they went"})
		}
	}
}

// Last returns the number of the last entry; 0 where there is none.
func (l *Ledger) Last() int {
	last := 0
	for _, e := range l.All {
		last = max(last, e.Number)
	}
	return last
}

// Lot returns the lot of a code, or of one that it had before it was corrected;
// nil for none.
func (l *Ledger) Lot(code string) *Lot { return l.lotBy(code) }

// LotsOf returns the lots of a product, in the order they were recorded.
func (l *Ledger) LotsOf(product string) []*Lot { return l.byProduct[inci.Fold(product)] }

// Receipts returns what came in under a lot code: several where two materials
// have the same.
func (l *Ledger) Receipts(code string) []*Receipt { return l.receipts[fold(code)] }

// ReceiptsOf returns the lots of a material in the order they came in.
func (l *Ledger) ReceiptsOf(material string) []*Receipt { return l.materials[inci.Fold(material)] }

// Receipt returns the lot of a material, or nil.
func (l *Ledger) Receipt(material, code string) *Receipt {
	for _, r := range l.receipts[fold(code)] {
		if inci.Fold(r.Material) == inci.Fold(material) {
			return r
		}
	}
	return nil
}

// UsedIn returns the lots of everything that went into a lot, with those in the
// mixes that were made beforehand.
func (l *Ledger) UsedIn(x *Lot) []Used { return l.usedIn(x) }

// Statuses returns what was recorded of a lot after it was made.
func (l *Ledger) Statuses(x *Lot) []*Status { return l.status[x] }

// ShipmentsOf returns where pieces of a lot went.
func (l *Ledger) ShipmentsOf(x *Lot) []*Shipment { return l.shipped[x] }

// PrintingsOf returns what was printed for a lot.
func (l *Ledger) PrintingsOf(x *Lot) []*Printing { return l.printed[x] }

// ComplaintsOf returns what customers said of a lot.
func (l *Ledger) ComplaintsOf(x *Lot) []*Complaint { return l.complains[x] }

// Complaint returns the complaint of a code, or nil.
func (l *Ledger) Complaint(code string) *Complaint {
	for _, c := range l.Complaints {
		if fold(c.Code) == fold(code) {
			return c
		}
	}
	return nil
}

// StateOf returns where a lot is: what was recorded last, and gone once no
// piece is left in hand.
func (l *Ledger) StateOf(x *Lot) State {
	s := x.State
	if s == "" {
		s = Ready
	}
	for _, t := range l.status[x] {
		if t.State != "" {
			s = t.State
		}
	}
	if x.Pieces > 0 && l.Left(x) <= 0 && s != Held {
		return Gone
	}
	return s
}

// OnTrial reports whether the lot is a trial that was not kept.
func (l *Ledger) OnTrial(x *Lot) bool {
	return x.Trial && !slices.ContainsFunc(l.status[x], func(s *Status) bool { return s.Keep })
}

// Left returns how many pieces of a lot are in hand: those made, less those
// that went or were put into boxes, and those that came back.
func (l *Ledger) Left(x *Lot) int {
	left := x.Pieces - l.boxed[x]
	for _, s := range l.shipped[x] {
		if s.Kind == BackInHand {
			left += s.Pieces
		} else {
			left -= s.Pieces
		}
	}
	return left
}

// InOrder sorts lots by the day they were made, then by code.
func InOrder(lots []*Lot) {
	slices.SortStableFunc(lots, func(a, b *Lot) int { return cmp.Or(cmp.Compare(a.On, b.On), cmp.Compare(a.Code, b.Code)) })
}

// LastStatements returns the latest statement for each shop, in order of first
// mention.
func (l *Ledger) LastStatements() []*Statement {
	var out []*Statement
	for _, s := range l.Statements {
		if n := slices.IndexFunc(out, func(o *Statement) bool { return inci.Fold(o.For) == inci.Fold(s.For) }); n >= 0 {
			out[n] = s
		} else {
			out = append(out, s)
		}
	}
	return out
}
