package label

import (
	"fmt"

	"panelwright/formula"
	"panelwright/formula/exact"
)

// whySoap shows how a substance came out of a reaction, in grams of the batch.
func (x *Declaration) whySoap(m *formula.Material, k formula.Key) (out []Branch) {
	for _, r := range x.Composition.Reactions() {
		if r.Product != m {
			continue
		}
		for _, o := range r.Origins(k) {
			text := fmt.Sprintf("%s g in %s: %s g of %s with %s g of pure lye, less %s g of glycerin or water set free", grams(o.Made()), batchWords(r),
				grams(o.Reacted), o.Use.Material.Name, grams(o.Lye), grams(o.Free))
			if o.Left {
				text = fmt.Sprintf("%s g in %s: what is left of %s g of %s, %s %%", grams(o.Made()), batchWords(r), grams(o.Use.Grams.Typical), o.Use.Material.Name,
					Percent(r.Superfat.Typical, 4, exact.Nearest))
			}
			out = append(out, Branch{Text: text + place(o.Use.Material)})
		}
		out = append(out, Branch{Text: fmt.Sprintf("the working: panelwright lye --formula %q", r.Formula.Name)})
	}
	return out
}
