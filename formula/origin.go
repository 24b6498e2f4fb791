package formula

import "panelwright/formula/exact"

// Origin is how one substance of a soap came about, in grams of the batch by the
// typical figures: so much of a fat or acid with so much lye, less what is set
// free as glycerol or water. Of fat that is left there is no lye.
type Origin struct {
	Use     Use
	Reacted exact.Rat // of the fat or acid
	Lye     exact.Rat // pure
	Free    exact.Rat // glycerol or water
	Left    bool      // it is the fat itself, as it is left
}

// Made returns the grams that came of it.
func (o Origin) Made() exact.Rat { return o.Reacted.Add(o.Lye).Sub(o.Free) }

// Origins returns how substance k of the soap came about; nil for water, and for
// glycerin, which every glyceride sets free.
func (r *Reaction) Origins(k Key) (all []Origin) {
	soda, potash := r.shares()
	done := one.Sub(r.Superfat.Typical)
	for _, uses := range [...][]Use{r.Fats, r.Acids} {
		for _, u := range uses {
			v, grams := u.Reacts, u.Grams.Typical
			if k == u.Key && v.Kind.Fat() {
				all = append(all, Origin{Use: u, Reacted: grams.Mul(r.Superfat.Typical), Left: true})
				continue
			}
			share, per := exact.Rat{}, one
			switch k {
			case v.Sodium:
				share, per = soda.Typical, r.s.By.Soda
			case v.Potassium:
				share = potash.Typical
			}
			if share.Sign() == 0 {
				continue
			}
			reacted := grams.Mul(share)
			if v.Kind.Fat() {
				reacted = reacted.Mul(done)
			}
			koh := reacted.Mul(v.Typical).Quo(thousand)
			acid := reacted.Mul(v.Acid.Lo.Add(v.Acid.Hi)).Quo(exact.Int(2000))
			free := exact.Rat{}
			switch v.Kind {
			case Glyceride:
				free = koh.Sub(acid).Mul(r.s.By.Glycerol).Add(acid.Mul(r.s.By.Water))
			case FattyAcid:
				free = koh.Mul(r.s.By.Water)
			case PlainAcid:
				free = koh.Mul(r.s.By.Water).Add(reacted.Mul(v.crystal()))
			}
			all = append(all, Origin{Use: u, Reacted: reacted, Lye: koh.Mul(per), Free: free})
		}
	}
	return all
}
