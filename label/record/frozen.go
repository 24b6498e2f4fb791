package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/market"
)

// Frozen is pack copy as it was approved: every word, with the smallest letters
// that each was judged for. It says nothing of how the label looks; that is in
// the book that was kept with the approval.
type Frozen struct {
	Product   string
	Markets   []inci.Market
	Languages []string
	On        string // the day judged
	Placed    string // the day of first supply judged
	Front     []FrozenStatement
	Back      []FrozenStatement
	EMark     int64 `json:",omitempty"` // smallest height of the e-mark in micrometres; 0 where none is printed
	EMarkRule string
}

// FrozenStatement is a label.Statement in words.
type FrozenStatement struct {
	Kind    label.StatementKind
	Lang    string             `json:",omitempty"`
	Lead    string             `json:",omitempty"`
	Text    string             `json:",omitempty"`
	Months  int                `json:",omitempty"`
	Front   bool               `json:",omitempty"`
	Bold    bool               `json:",omitempty"`
	Foot    bool               `json:",omitempty"`
	Apart   bool               `json:",omitempty"`
	Markets []inci.Market      `json:",omitempty"`
	Min     int64              `json:",omitempty"` // micrometres
	On      market.Measure     `json:",omitempty"`
	Rule    string             `json:",omitempty"`
	By      finding.Citation   // source of the height
	Sources []finding.Citation `json:",omitempty"`
}

// Freeze takes the words of pack copy. The lot and a date that is counted from
// the lot are no part of it: they are filled in when labels are printed.
func Freeze(c *label.PackCopy) *Frozen {
	f := &Frozen{Product: c.Product.Name, Markets: c.Markets, Languages: c.Languages, On: c.Occasion.On.String(), Placed: c.Occasion.Placed.String(),
		EMark: c.EMark.Min, EMarkRule: c.EMark.Rule}
	f.Front, f.Back = freezeAll(c.Front), freezeAll(c.Back)
	return f
}

func freezeAll(all []label.Statement) []FrozenStatement {
	out := make([]FrozenStatement, 0, len(all))
	for _, s := range all {
		x := FrozenStatement{Kind: s.Kind, Lang: s.Lang, Lead: s.Lead, Text: s.Text, Months: s.Months, Front: s.Front, Bold: s.Bold,
			Foot: s.Foot, Apart: s.Apart, Markets: s.Markets, Min: s.Height.Min, On: s.Height.On, Rule: s.Height.Rule, By: s.Height.Source, Sources: s.Sources}
		if s.Kind == label.LotText {
			x.Text = ""
		}
		out = append(out, x)
	}
	return out
}

// Copy returns the pack copy for a pack of a product of the kept book.
func (f *Frozen) Copy(p *label.Product, pack *label.Pack) (*label.PackCopy, error) {
	on, err1 := date.Parse(f.On)
	placed, err2 := date.Parse(f.Placed)
	if err := errors.Join(err1, err2); err != nil {
		return nil, fmt.Errorf("the approved copy of %s: %w", f.Product, err)
	}
	c := &label.PackCopy{Product: p, Pack: pack, Markets: f.Markets, Languages: f.Languages, Name: f.Product,
		Occasion: date.Occasion{On: on, Placed: placed}, EMark: market.Height{Min: f.EMark, Rule: f.EMarkRule}}
	c.Dress = pack.Dress.Over(&p.Dress)
	c.Front, c.Back = thawAll(f.Front), thawAll(f.Back)
	return c, nil
}

func thawAll(all []FrozenStatement) []label.Statement {
	out := make([]label.Statement, 0, len(all))
	for _, x := range all {
		out = append(out, label.Statement{Kind: x.Kind, Lang: x.Lang, Lead: x.Lead, Text: x.Text, Months: x.Months, Front: x.Front, Bold: x.Bold,
			Foot: x.Foot, Apart: x.Apart, Markets: x.Markets, Height: market.Height{Min: x.Min, On: x.On, Rule: x.Rule, Source: x.By}, Sources: x.Sources})
	}
	return out
}

// JSON returns the copy as it is kept, and its fingerprint: the beginning of
// the SHA-256 of what a buyer reads. The days it was judged on, the sources and
// the rules behind letter heights are kept but are no part of the fingerprint.
func (f *Frozen) JSON() (data []byte, fingerprint string) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(f); err != nil {
		panic(err) // strings, numbers and words only
	}
	return b.Bytes(), f.Fingerprint()
}

// Fingerprint is the one of [Frozen.JSON].
func (f *Frozen) Fingerprint() string {
	h := sha256.New()
	say := func(words ...any) { fmt.Fprintf(h, "%q\n", words) }
	say(f.Product, f.Markets, f.Languages, f.EMark)
	for i, side := range [][]FrozenStatement{f.Front, f.Back} {
		for _, s := range side {
			say(i, int(s.Kind), s.Lang, s.Lead, s.Text, s.Months, s.Front, s.Bold, s.Foot, s.Apart, s.Min)
		}
	}
	return hex.EncodeToString(h.Sum(nil)[:6])
}

// ParseFrozen reads what JSON wrote, and checks that it is what the
// fingerprint names.
func ParseFrozen(data []byte, fingerprint string) (*Frozen, error) {
	f := new(Frozen)
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(f); err != nil {
		return nil, fmt.Errorf("the approved copy cannot be read: %w", err)
	}
	if got := f.Fingerprint(); got != fingerprint {
		return nil, fmt.Errorf("the approved copy was changed after it was approved: its fingerprint is %s, and %s was approved", got, fingerprint)
	}
	return f, nil
}

// ApprovalFor returns the approval in force for a lot of a product in a
// market: one for the lot itself before one for the days it was made on, the
// later before the earlier; nil if there is none. Without a lot it is the last
// that is not bound to lots and has not ended by the day.
func (l *Ledger) ApprovalFor(product string, m inci.Market, x *Lot, on date.Date) *Approval {
	var best *Approval
	for _, a := range l.approved[inci.Fold(product)] {
		if !slices.Contains(a.Markets, m) {
			continue
		}
		day := on
		if x != nil {
			day = x.On
		}
		own := x != nil && slices.ContainsFunc(a.Lots, func(c string) bool { return l.Lot(c) == x })
		byDay := len(a.Lots) == 0 && (a.From == 0 || a.From <= day) && (a.Until == 0 || day <= a.Until)
		switch {
		case own, byDay && (best == nil || len(best.Lots) == 0):
			best = a
		}
	}
	return best
}
