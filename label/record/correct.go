package record

import (
	"fmt"
	"slices"

	"panelwright/formula/finding"
)

// inForce leaves out what was corrected or withdrawn. The correction stands
// where the entry it corrects stood, so that the order of receipts and lots
// stays.
func (l *Ledger) inForce(out *finding.List) {
	at := map[int]int{} // number of an entry: its place in Force
	defer func() {
		l.Force = slices.DeleteFunc(l.Force, func(e *Entry) bool { return e == nil })
	}()
	for _, e := range l.All {
		if e.Changed {
			out.Add(finding.Finding{Rule: RuleByHand, Severity: finding.Warning, Where: e.Pos,
				Message: fmt.Sprintf("entry %d was changed by hand after it was recorded on %s", e.Number, e.Recorded),
				Cure:    "put it back as it was, and record a correction with corrects: and a reason"})
		}
		if w, ok := e.What.(*Withdrawal); ok {
			l.withdraw(e, w, at, out)
			continue
		}
		if e.Corrects == 0 {
			at[e.Number] = len(l.Force)
			l.Force = append(l.Force, e)
			continue
		}
		n, ok := at[e.Corrects]
		switch {
		case !ok:
			out.Add(finding.Finding{Rule: RuleCorrects, Severity: finding.Error, Where: e.Pos,
				Message: fmt.Sprintf("there is no earlier entry %d to correct", e.Corrects), Cure: "name the number of the entry, as in corrects: 17"})
			l.Force = append(l.Force, e)
			continue
		case l.Force[n].kind() != e.kind():
			out.Add(finding.Finding{Rule: RuleCorrects, Severity: finding.Error, Where: e.Pos,
				Message: fmt.Sprintf("entry %d says “%s”, and its correction “%s”", e.Corrects, l.Force[n].kind(), e.kind()),
				Cure:    "begin the correction as the entry begins"})
		}
		if a, b := l.Force[n].lotCode(), e.lotCode(); a != b {
			l.renamed[fold(a)] = b
		}
		l.Force[n] = e
		at[e.Number] = n // a correction may be corrected
	}
}

// withdraw takes an entry out of those in force, with what it corrected and
// what corrected it.
func (l *Ledger) withdraw(e *Entry, w *Withdrawal, at map[int]int, out *finding.List) {
	n, ok := at[w.Of]
	if !ok {
		out.Add(finding.Finding{Rule: RuleCorrects, Severity: finding.Error, Where: e.Pos,
			Message: fmt.Sprintf("there is no earlier entry %d in force to withdraw", w.Of), Cure: "name the number of the entry, as in withdrawn: 17"})
		return
	}
	if code := l.Force[n].lotCode(); code != "" {
		l.withdrawn[fold(code)] = e.Number
	}
	l.Force[n] = nil
	for number, place := range at {
		if place == n {
			delete(at, number)
		}
	}
}

// Entry returns the entry of a number, in force or not; nil for none.
func (l *Ledger) Entry(number int) *Entry {
	for _, e := range l.All {
		if e.Number == number {
			return e
		}
	}
	return nil
}

// lotCode returns the code of the lot that an entry is about as made, or "".
func (e *Entry) lotCode() string {
	if x, ok := e.What.(*Lot); ok {
		return x.Code
	}
	return ""
}

// lotBy returns the lot of a code, or of one that it had before it was
// corrected.
func (l *Ledger) lotBy(code string) *Lot {
	for range len(l.renamed) + 1 {
		if x := l.lots[fold(code)]; x != nil {
			return x
		}
		now, ok := l.renamed[fold(code)]
		if !ok {
			return nil
		}
		code = now
	}
	return nil
}
