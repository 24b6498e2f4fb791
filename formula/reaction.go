package formula

import (
	"slices"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Rule codes of what a saponification cannot be worked out for.
const (
	RuleNoFat      finding.Code = "soap.no-fat"
	RuleUnknownFat finding.Code = "soap.unknown-fat"
	RuleLye        finding.Code = "soap.lye"
	RuleNoWater    finding.Code = "soap.no-water"
	RuleNoSize     finding.Code = "soap.no-size"
	RuleAcidOnly   finding.Code = "soap.acid-only"
)

// Use is one substance of a batch that takes part in the reaction.
type Use struct {
	Material *Material
	Key      Key
	Reacts   *Reactant
	Grams    Share // in the batch; a range where the supplier's is one
	Takes    Share // grams of potassium hydroxide that it could take up
}

// Dose is a lye of the batch.
type Dose struct {
	Material *Material
	Grams    exact.Rat // as bought
	Worth    Share     // grams of potassium hydroxide that do the same
	Soda     bool
	Worked   bool // worked out, not written by the maker
}

// Reaction is the lye calculation of a formula: what is weighed, what becomes of
// it, and how much alkali the worst case leaves.
//
// The saponification value of each fat is one unknown however many lines use
// the fat; what the lye is worth, and what acids and fats take up, are bounds
// that are then treated apart, which widens the bounds of the parts a little.
// The fat that is left over is spread over the fats by weight: a convention of
// the trade, for nobody can say which fat is left.
type Reaction struct {
	Formula *Formula
	Batch   exact.Rat // grams of what stands in the mix
	Sized   bool      // the mix says grams; if not, the figures are for 1,000 g of fats
	Fats    []Use
	Acids   []Use // neutralised before any fat
	Lye     []Dose
	Water   exact.Rat // grams to add, the liquids in its place taken off
	InPlace exact.Rat // grams of the liquids in place of water
	Poured  exact.Rat // grams of everything together

	Worth    Share // of all lye, in grams of potassium hydroxide
	AcidTake Share // of the acids, likewise
	FatTake  Share // of the fats, likewise
	Superfat Share // share of the fats that is left
	FreeLye  Share // grams of potassium hydroxide without anything to react with

	Made      []Made    // what is in the soap, water before drying
	Product   *Material // the same as a material
	Weight    exact.Rat // grams of it
	FreeWater exact.Rat // grams of water in what is poured, typical
	Loss      Drying    // share of the water that leaves
	LossKnown bool      // it follows from what the maker wrote

	s       *Saponify
	inputs  []input
	reacted []*Material // the materials that Product takes the place of
	dryer   *Formula    // stands for Formula where things dry
}

// Made is one substance of the soap.
type Made struct {
	Key   Key
	Grams Share
	Dries Volatile

	of   portion
	bare Share // grams but for the factor that all of the same portion share
}

// portion says which open factor an amount hangs on, so that two amounts that
// hang on the same one can be compared whatever it is.
type portion uint8

const (
	mixed      portion = iota // several factors, or none in common
	sodaSoap                  // the share of the fats that sodium hydroxide turned into soap
	potashSoap                // the same of potassium hydroxide
	left                      // the share of the fats that is left
)

// NeverBelow reports whether there is never less of a in the soap than of b,
// because both hang on one factor, such as how much fat is left, and what else
// is open does not turn them round.
func (r *Reaction) NeverBelow(a, b Key) bool {
	var x, y *Made
	for i := range r.Made {
		switch r.Made[i].Key {
		case a:
			x = &r.Made[i]
		case b:
			y = &r.Made[i]
		}
	}
	return x != nil && y != nil && x.of != mixed && x.of == y.of && !x.bare.Min.Less(y.bare.Max)
}

// input is a material of the mix in grams.
type input struct {
	material *Material
	grams    exact.Rat
	spent    bool // has reacted before, in a formula of its own
}

// sameInputs reports whether two batches are made of the same grams of whatever
// the reaction depends on.
func sameInputs(a, b []input) bool {
	return slices.EqualFunc(a, b, func(x, y input) bool {
		return x.material == y.material && x.spent == y.spent && x.grams.Equal(y.grams)
	})
}

// reacting reports whether lye does anything with a part of m, or is one.
func (m *Material) reacting() bool {
	return slices.ContainsFunc(m.Parts, func(p Part) bool { return p.Reacts != nil && p.Reacts.Kind != Unreactive })
}

// reaction works out what becomes of a batch of the given inputs.
func react(f *Formula, inputs []input, whole exact.Rat, sized bool) (*Reaction, *finding.Finding) {
	r := &Reaction{Formula: f, Batch: whole, Sized: sized, s: f.Saponify, inputs: inputs}
	for _, in := range inputs {
		if in.spent || !in.material.reacting() || slices.Contains(f.Saponify.After, in.material) {
			continue
		}
		if bad := r.take(in); bad != nil {
			return nil, bad
		}
	}
	if bad := r.needs(); bad != nil {
		return nil, bad
	}
	r.dose()
	if bad := r.settle(); bad != nil {
		return nil, bad
	}
	r.make()
	return r, r.dry()
}

func (r *Reaction) bad(rule finding.Code, msg, cure string) *finding.Finding {
	return &finding.Finding{Rule: rule, Severity: finding.Error, Where: r.Formula.Saponify.Pos, Message: r.Formula.Name + ": " + msg, Cure: cure}
}

var thousand = exact.Int(1000)

// take sorts the parts of one material of the mix.
func (r *Reaction) take(in input) *finding.Finding {
	b, bad := newBox(in.material)
	if bad != nil {
		return bad
	}
	r.reacted = append(r.reacted, in.material)
	for i := range in.material.Parts {
		p := &in.material.Parts[i]
		if p.Reacts == nil {
			continue
		}
		g := span{b.parts[i].Lo, b.typical[i], b.parts[i].Hi}.scaled(in.grams)
		if p.Reacts.Kind.Lye() {
			r.Lye = append(r.Lye, r.lye(in.material, in.grams, p.Reacts.Kind, g, false))
			continue
		}
		v := p.Reacts
		u := Use{in.material, p.Key, v, g, g.times(span{v.Value.Lo, v.Typical, v.Value.Hi}).scaled(exact.Frac(1, 1000))}
		switch {
		case v.Kind.Fat():
			r.Fats = append(r.Fats, u)
			r.FatTake = r.FatTake.plus(u.Takes)
		case v.Kind == PlainAcid:
			r.Acids = append(r.Acids, u)
			r.AcidTake = r.AcidTake.plus(u.Takes)
		}
	}
	return nil
}

// lye returns the dose of a lye of which pure is hydroxide.
func (r *Reaction) lye(m *Material, grams exact.Rat, kind ReactantKind, pure span, worked bool) Dose {
	worth := pure
	if kind == SodaLye {
		worth = pure.scaled(one.Quo(r.s.By.Soda))
	}
	return Dose{m, grams, worth, kind == SodaLye, worked}
}

// needs looks for what has to be there before anything can be worked out.
func (r *Reaction) needs() *finding.Finding {
	for _, in := range r.inputs {
		m := in.material
		if in.spent || !m.Fat || slices.Contains(r.s.After, m) {
			continue
		}
		for i := range m.Parts {
			if p := &m.Parts[i]; p.Reacts == nil && len(m.Parts) == 1 {
				f := r.bad(RuleUnknownFat, "no saponification value of "+m.Name+" is known",
					"write saponification value: in its material, from the supplier's certificate, as in 190 mg KOH/g")
				if m.Pos != (finding.Pos{}) {
					f.Where = m.Pos
				}
				return f
			}
		}
	}
	switch {
	case len(r.Fats) == 0:
		return r.bad(RuleNoFat, "there is no fat in it that lye could turn into soap", "give the fats their class (oil, butter), or take saponify: out")
	case len(r.Lye) > 0 && len(r.s.Bases) > 0:
		return r.bad(RuleLye, "the lye stands in the mix, and saponify: asks for it to be worked out too",
			"take the lye out of the mix, or take lye: and superfat: out of saponify:")
	case len(r.Lye) == 0 && len(r.s.Bases) == 0:
		return r.bad(RuleLye, "there is no lye", "write lye: sodium hydroxide, or potassium hydroxide, and superfat: under saponify:, or weigh the lye in as a line of the mix")
	case r.s.WaterBy == WaterGrams && !r.Sized:
		return r.bad(RuleNoSize, "the water is in grams, but the mix has no weights", "write the water as in 2 x lye or 33 % lye")
	}
	return nil
}

// SolidLye is the least share of hydroxide, by weight, in lye that is sold dry:
// sodium hydroxide has 97 to 99 %, potassium hydroxide about 90 %, and a handbook
// of 1908 lists 75 to 80 %; the choice is ours. What holds less is a solution:
// water by the lye is then by the hydroxide in it, and what the solution brings
// is taken off.
var SolidLye = exact.Frac(75, 100)

// dose works out the lye and the water to weigh. The lye is for the typical
// saponification values and for the highest purity: of a weaker lye there is
// then a little less, which leaves fat, not alkali.
func (r *Reaction) dose() {
	take := r.AcidTake.Typical.Add(r.FatTake.Typical.Mul(one.Sub(r.s.Superfat)))
	for _, b := range r.s.Bases {
		for i := range b.Material.Parts {
			p := &b.Material.Parts[i]
			if p.Reacts == nil || !p.Reacts.Kind.Lye() {
				continue
			}
			pure := take.Mul(b.Share)
			if p.Reacts.Kind == SodaLye {
				pure = pure.Mul(r.s.By.Soda)
			}
			grams := pure.Quo(p.Range.Hi)
			mid := p.Range.Lo.Add(p.Range.Hi).Quo(exact.Int(2))
			if p.Exact {
				mid = p.Typical
			}
			r.Lye = append(r.Lye, r.lye(b.Material, grams, p.Reacts.Kind, span{p.Range.Lo.Mul(grams), mid.Mul(grams), pure}, true))
			r.reacted = append(r.reacted, b.Material)
		}
	}
	var lye, fats, own exact.Rat // own is the water that a solution brings
	for i := range r.Lye {
		d := &r.Lye[i]
		r.Worth = r.Worth.plus(d.Worth)
		dry := d.Grams
		if p := d.Purity().Hi; p.Less(SolidLye) {
			dry = dry.Mul(p)
			own = own.Add(d.Grams.Sub(dry))
		}
		lye = lye.Add(dry)
	}
	for _, u := range r.Fats {
		fats = fats.Add(u.Grams.Typical)
	}
	for _, in := range r.inputs {
		if slices.Contains(r.s.InPlace, in.material) {
			r.InPlace = r.InPlace.Add(in.grams)
		}
	}
	water := r.s.added(lye, fats)
	if r.s.WaterBy != WaterGrams {
		water = water.Sub(own)
	}
	r.Water = exact.Max(exact.Rat{}, water.Sub(r.InPlace))
	r.Poured = r.Batch.Add(r.Water)
	for _, d := range r.Lye {
		if d.Worked {
			r.Poured = r.Poured.Add(d.Grams)
		}
	}
}

// settle works out how far the lye goes: acids first, then fats.
func (r *Reaction) settle() *finding.Finding {
	left := r.Worth.less(r.AcidTake)
	if left.Typical.Sign() <= 0 {
		return r.bad(RuleAcidOnly, "the acids in it take up all the lye, and no soap is made", "use less acid, or have the lye worked out")
	}
	done := left.over(r.FatTake)
	r.Superfat = done.rest()
	r.FreeLye = left.less(r.FatTake).positive()
	return nil
}

// Purity returns the share of hydroxide in a lye, least and greatest.
func (d *Dose) Purity() Interval {
	for i := range d.Material.Parts {
		if p := &d.Material.Parts[i]; p.Reacts != nil && p.Reacts.Kind.Lye() {
			return p.Range
		}
	}
	return Interval{}
}

// Strength returns the share of hydroxide in the lye as it is dissolved: by the
// highest purity, in the water that is added or stands in the mix and in the
// liquids in its place. It is 1 where there is nothing to dissolve it in.
func (r *Reaction) Strength() exact.Rat {
	liquid := r.Water
	water := func(m *Material, grams exact.Rat) {
		b, bad := newBox(m)
		if bad != nil {
			return // reported when it was taken
		}
		for i := range m.Parts {
			if m.Parts[i].Dries == Water {
				liquid = liquid.Add(grams.Mul(b.parts[i].Lo))
			}
		}
	}
	for _, in := range r.inputs {
		switch {
		case in.spent || slices.Contains(r.s.After, in.material):
		case slices.Contains(r.s.InPlace, in.material):
			liquid = liquid.Add(in.grams)
		default:
			water(in.material, in.grams)
		}
	}
	var pure exact.Rat
	for i := range r.Lye {
		d := &r.Lye[i]
		pure = pure.Add(d.Grams.Mul(d.Purity().Hi))
		if d.Worked {
			water(d.Material, d.Grams)
		}
	}
	return pure.Quo(pure.Add(liquid))
}

// WorstCase is the alkali that the worst case leaves: the least that fats and
// acids may take up, against the most that the lye may be worth, every weighing
// off by one division of a scale that reads in steps (0: not counted) to the bad side. The lye is
// taken as weighed in whole steps, rounded down where it was worked out.
type WorstCase struct {
	Free exact.Rat   // grams of potassium hydroxide left over; below 0 there is room for so much more
	Safe []exact.Rat // of each lye, the most grams to weigh that leave nothing over: in whole steps
}

// Worst works out the worst case for a scale that reads in steps of so many
// grams; 0 if it is not known.
func (r *Reaction) Worst(step exact.Rat) WorstCase {
	if !r.Sized {
		step = exact.Rat{}
	}
	var take, worth, off exact.Rat
	for _, uses := range [...][]Use{r.Fats, r.Acids} {
		for _, u := range uses {
			least := exact.Max(exact.Rat{}, u.Grams.Min.Sub(step))
			take = take.Add(least.Mul(u.Reacts.Value.Lo).Quo(thousand))
		}
	}
	for i := range r.Lye {
		d := &r.Lye[i]
		grams := r.Weigh(i, step)
		per := d.Purity().Hi // worth of a gram at the highest purity
		if d.Soda {
			per = per.Quo(r.s.By.Soda)
		}
		worth = worth.Add(grams.Mul(per))
		off = off.Add(step.Mul(per))
	}
	out := WorstCase{Free: worth.Add(off).Sub(take), Safe: make([]exact.Rat, len(r.Lye))}
	room := exact.Max(exact.Rat{}, take.Sub(off)).Quo(worth)
	for i := range r.Lye {
		out.Safe[i] = whole(r.Weigh(i, step).Mul(room), step)
	}
	return out
}

// Weigh returns how much of lye i to weigh on a scale that reads in steps: what
// was worked out is rounded down, what the maker wrote stands.
func (r *Reaction) Weigh(i int, step exact.Rat) exact.Rat {
	if d := &r.Lye[i]; !d.Worked || !r.Sized {
		return d.Grams
	}
	return whole(r.Lye[i].Grams, step)
}

// whole rounds down to whole steps.
func whole(x, step exact.Rat) exact.Rat {
	if step.Sign() == 0 {
		return x
	}
	return exact.FromDecimal(x.Quo(step).Decimal(0, exact.Down)).Mul(step)
}
