package label

import (
	"fmt"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/label/market"
)

// Rules on what comes out of a mould. They are practice of the trade.
const (
	RuleMouldWeighed finding.Code = "mould.weighed"
	RuleMouldLight   finding.Code = "mould.light"
	RuleMouldDiffers finding.Code = "mould.differs"
	RuleMouldBand    finding.Code = "mould.band"
)

// differs is how far a piece out of the mould may be from what the product says
// before it is told, as a share of that.
var differs = exact.Frac(1, 100)

// bandPlay is how much longer or shorter than the way round a piece a band may
// be before it is told, in micrometres: our own choice.
const bandPlay = 2_000

// judgeMoulds compares what the product weighs with what its mould gives.
func (x *Declaration) judgeMoulds() {
	lines := x.Product.Piece.Lines
	for i := range lines {
		f := lines[i].Formula
		if f == nil && lines[i].Slot != "" {
			f = x.Product.Piece.Slots[lines[i].Slot].Formula
		}
		if f == nil || f.Mould == nil {
			continue
		}
		cut, ok := f.Mould.Cut()
		if !ok {
			continue // the book has said so
		}
		if f.Mould.Holds.IsZero() {
			x.add(finding.Finding{Rule: RuleMouldWeighed, Severity: finding.Question, Where: f.Mould.Pos,
				Message: f.Name + ": what its mould holds was never weighed, and it does not follow from its size",
				Cure:    "fill it once, weigh what went in, and write holds: with the grams", Source: practice})
		} else {
			x.judgeMouldPiece(f, cut, lines[i].Amount.Value, len(lines) == 1)
		}
		if len(lines) == 1 {
			x.judgeBand(f, cut)
		}
	}
}

// judgeMouldPiece compares a piece as it comes out of the mould with what the
// product takes. Where it is all of the product, it is set against the net
// quantity once it has dried, too.
func (x *Declaration) judgeMouldPiece(f *formula.Formula, cut formula.Cutting, takes exact.Rat, all bool) {
	p := x.Product
	fresh := grams1(cut.Fresh)
	if all && !p.Net.Volume && x.Composition.Added.Sign() > 0 {
		left := x.Composition.Mass(formula.Finished).Lo.Quo(x.Composition.Added)
		dry := cut.Fresh.Mul(left).Mul(exact.Int(int64(max(p.Count, 1))))
		if cut.Fresh.Less(takes) && dry.Less(x.Net.Larger) {
			x.add(finding.Finding{Rule: RuleMouldLight, Severity: finding.Error, Where: f.Mould.Pos,
				Message: fmt.Sprintf("a piece of %s weighs %s g as it comes out of the mould, and %s g at the greatest drying; the pack says %s", f.Name, fresh, grams1(dry), p.Net.Text),
				Cure:    fmt.Sprintf("cut fewer pieces, or state %s g or less", dry.Decimal(0, exact.Down)), Source: x.netSource()})
			return
		}
	}
	off := cut.Fresh.Sub(takes)
	if off.Sign() < 0 {
		off = off.Neg()
	}
	if takes.Mul(differs).Less(off) {
		x.add(finding.Finding{Rule: RuleMouldDiffers, Severity: finding.Warning, Where: f.Mould.Pos,
			Message: fmt.Sprintf("a piece of %s weighs %s g as it comes out of the mould, and the product takes %s g", f.Name, fresh, grams1(takes)),
			Cure:    fmt.Sprintf("write %s: %s g in the piece, or weigh the mould again", f.Name, fresh), Source: practice})
	}
}

func grams1(x exact.Rat) string { return x.Decimal(1, exact.Down).String() }

// judgeBand compares a band with the way round the piece that it goes on: round
// the length and the thickness, the largest face in front. A bar gets smaller as
// it dries, and a band made for the fresh one slides off.
func (x *Declaration) judgeBand(f *formula.Formula, cut formula.Cutting) {
	pack := x.Product.PackFor(x.Market)
	if pack == nil || cut.Size[0] == 0 || pack.Label.Kind != Wrap || pack.Body.Kind != market.Bar {
		return
	}
	size, state, cure := cut.Cured, "cured", "write pack: bar %s, or measure the cured bar again"
	if size[0] == 0 {
		size, state, cure = cut.Size, "as cut", "write pack: bar %s, or measure a cured bar and write shrinks: in the mould"
	}
	round := 2 * (size[0] + size[2])
	band := pack.Label.W - pack.Label.Overlap
	if d := band - round; d >= -bandPlay && d <= bandPlay {
		return
	}
	how := "loose"
	if band < round {
		how = "short"
	}
	mm := func(um int64) string { return exact.Frac(um, 1000).Decimal(1, exact.Nearest).String() }
	bar := fmt.Sprintf("%s x %s x %s mm", mm(size[0]), mm(size[1]), mm(size[2]))
	x.add(finding.Finding{Rule: RuleMouldBand, Severity: finding.Warning, Where: firstPos(pack.Label.Pos, pack.Pos),
		Message: fmt.Sprintf("the band is %s: it goes %s mm round, and the bar %s, %s, is %s mm round", how, mm(band), state, bar, mm(round)),
		Cure:    fmt.Sprintf(cure, bar), Source: practice})
}
