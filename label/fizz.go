package label

import (
	"fmt"
	"strings"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/inci"
)

// Fizz is the chemistry of a piece that fizzes in water, as information: nothing
// reacts while it is dry, so acid and carbonate are listed as they were added.
// Figures are typical ones, for one piece.
type Fizz struct {
	Acids, Carbonates []FizzPart
	Gas               exact.Rat // grams of carbon dioxide
	LeftAcid          exact.Rat // share of the acids that finds no carbonate, 0 to 1
	LeftCarbonate     exact.Rat // share of the carbonates that finds no acid, 0 to 1
}

// FizzPart is one substance of the fizz.
type FizzPart struct {
	Key   formula.Key
	Grams exact.Rat
	moles exact.Rat // of bicarbonate that it answers to
	gas   exact.Rat // moles of gas in it
}

// Fizz works out which of acid and carbonate is left over. ok is false if the
// piece does not hold both, or if it went through a reaction with lye.
func (x *Declaration) Fizz() (z Fizz, ok bool) {
	c := x.Composition
	if c == nil || len(c.Reactions()) > 0 {
		return z, false
	}
	var acid, base, gas exact.Rat
	for i := range c.Items {
		for p, part := range c.Items[i].Material.Parts {
			f, is := inci.FizzerOf(part.Key)
			if !is {
				continue
			}
			grams, _, _ := c.PartGrams(i, p, formula.Finished)
			mol := grams.Quo(f.MolarMass)
			fp := FizzPart{part.Key, grams, mol.Mul(exact.Int(f.Count)), mol.Mul(exact.Int(f.Gas))}
			if f.Acid {
				z.Acids, acid = gatherPart(z.Acids, fp), acid.Add(fp.moles)
			} else {
				z.Carbonates, base, gas = gatherPart(z.Carbonates, fp), base.Add(fp.moles), gas.Add(fp.gas)
			}
		}
	}
	if acid.Sign() == 0 || base.Sign() == 0 {
		return z, false
	}
	one := exact.Int(1)
	used := exact.Min(one, acid.Quo(base))
	z.LeftCarbonate = one.Sub(used)
	z.LeftAcid = one.Sub(exact.Min(one, base.Quo(acid)))
	z.Gas = gas.Mul(used).Mul(inci.GasMass())
	return z, true
}

func gatherPart(all []FizzPart, add FizzPart) []FizzPart {
	for i := range all {
		if all[i].Key == add.Key {
			all[i].Grams, all[i].moles, all[i].gas = all[i].Grams.Add(add.Grams), all[i].moles.Add(add.moles), all[i].gas.Add(add.gas)
			return all
		}
	}
	return append(all, add)
}

// Says puts it in a sentence.
func (z Fizz) Says() string {
	s := fmt.Sprintf("In water %s of %s meet %s of %s and set free about %s g of carbon dioxide. ", total(z.Acids), keyWords(z.Acids), total(z.Carbonates), keyWords(z.Carbonates),
		z.Gas.Decimal(1, exact.Nearest))
	switch {
	case z.LeftCarbonate.Sign() > 0:
		s += fmt.Sprintf("%s %% of the carbonate finds no acid and stays in the bath.", Percent(z.LeftCarbonate, 0, exact.Nearest))
	case z.LeftAcid.Sign() > 0:
		s += fmt.Sprintf("%s %% of the acid finds no carbonate and stays in the bath, which is sour then.", Percent(z.LeftAcid, 0, exact.Nearest))
	default:
		s += "Neither is left over."
	}
	return s + " Nothing reacts in a dry piece, so the list names both as added. Acid with crystal water counts as dry here."
}

func total(all []FizzPart) string {
	var sum exact.Rat
	for _, p := range all {
		sum = sum.Add(p.Grams)
	}
	return sum.Decimal(1, exact.Nearest).String() + " g"
}

func keyWords(all []FizzPart) string {
	var names []string
	for _, p := range all {
		names = append(names, inci.Readable(string(p.Key)))
	}
	return strings.Join(names, " and ")
}
