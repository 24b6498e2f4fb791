package weigh

import (
	"panelwright/formula/exact"
	"panelwright/label/market"
)

// Largest is the largest quantity that a batch bears out by every rule of a
// market, without leaning on the benefit that a sample gets.
type Largest struct {
	Amount exact.Rat // grams or millilitres
	Text   string    // as the market has it printed
}

// largest starts from the mean, cut off to the figures that are printed, and
// goes down until the rules for single pieces hold. At the weight of the
// lightest piece they do. What is stated, such as 5 oz, may lie between two
// figures in grams, and is the answer where it is the larger.
func (j *judge) largest() Largest {
	best := j.largestInGrams()
	stated, _ := j.r.Net(j.out.Claim.Quantity, 1, market.NetOptions{})
	if best.Amount.Less(j.q) && stated.Larger.Equal(j.q) && j.q.Cmp(j.s.Mean) <= 0 && j.piecesBear(j.q, j.t.Amount) {
		return Largest{j.q, stated.Text}
	}
	return best
}

func (j *judge) largestInGrams() Largest {
	almost := exact.Frac(999_999, 1_000_000)
	floor := j.r.CutFigure(j.s.Lightest)
	for q := j.r.CutFigure(j.s.Mean); q.Sign() > 0 && floor.Cmp(q) <= 0; q = j.r.CutFigure(q.Mul(almost)) {
		t, ok := j.r.Tolerance(q, j.out.Claim.Quantity.Volume)
		if !ok || !j.piecesBear(q, t.Amount) {
			continue
		}
		unit := "g"
		if j.out.Claim.Quantity.Volume {
			unit = "ml"
		}
		stated := market.Quantity{Amount: q, Volume: j.out.Claim.Quantity.Volume, Text: plain(q) + " " + unit, Unit: unit}
		net, _ := j.r.Net(stated, 1, market.NetOptions{})
		return Largest{q, net.Text}
	}
	return Largest{}
}

// piecesBear reports whether the rules for single pieces hold for a statement
// of q with tolerance t.
func (j *judge) piecesBear(q, t exact.Rat) bool {
	short := j.s.below(q.Sub(t))
	switch j.r.Method() {
	case market.Handbook133:
		return short == 0 // what a plan overlooks is left out of an honest statement
	case market.WeightedAverage:
		reject, _, _ := j.r.RejectAt(j.s.N)
		return short < reject && j.s.below(q.Sub(t.Mul(j.rule("twice").Number()))) == 0
	}
	if n := len(j.plan.Stages); n > 0 && short > j.plan.Stages[0].Accept {
		return false
	}
	share, _ := j.r.ShortShare(j.out.Claim.Countries)
	return j.s.below(q.Sub(t.Mul(j.rule("twice").Number()))) == 0 &&
		exact.Int(int64(short)).Cmp(share.Number().Mul(exact.Int(int64(j.s.N)))) <= 0
}
