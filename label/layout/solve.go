package layout

import (
	"panelwright/label"
	"panelwright/label/font"
	"panelwright/label/scene"
)

// Heights of the lower-case o that the solver aims for. Common practice, no source: 1.25 mm reads well at
// arm's length, and small print larger than 1.75 mm only looks loud.
const (
	goodHeight        = 1250
	comfortableHeight = 1750
)

// leastTitle is the em that a name is never set below.
const leastTitle scene.Um = 3600

// ways are the ways to set a face, the best first: with small print of one size and a name that nothing dwarfs, with
// less space between statements and, at last, without either.
var ways = []sizes{{fair: true}, {fair: true, tight: true}, {tight: true}}

// solve finds the arrangement and the sizes for the face in the best of the ways that fits, or nil where none does.
func (f *face) solve() *arrangement {
	for _, z := range ways {
		if a := f.settle(z); a != nil {
			return a
		}
	}
	return nil
}

// settle does so for one way to set it. The arrangements that suit the shape come first, then those that do not; of
// each kind the first that reads well in the widest type is taken, else the one with the largest type.
func (f *face) settle(as sizes) *arrangement {
	var best *arrangement
	var bestSizes sizes
	var bestScore scene.Um
	for kind, find := range []func() []*arrangement{f.suited, f.unsuited} {
		if bestSizes.read() {
			break
		}
		all := find()
		for w := range f.widest + 1 {
			for _, loose := range []bool{false, true} {
				if bestSizes.read() || !f.words(w) {
					continue
				}
				for _, a := range all {
					z, handicap := as, 8*kind+25*a.parted
					z.width, z.loose = w, loose
					least, can := z.beats(bestScore, handicap)
					if !can {
						continue
					}
					z, ok := a.largest(z, least)
					if !ok {
						continue
					}
					if score := z.score(handicap); score > bestScore {
						best, bestSizes, bestScore = a, z, score
					}
					if z.read() && !loose && a.parted == 0 {
						break
					}
				}
			}
		}
	}
	if best != nil {
		best.sizes = bestSizes
		best.spread(f.panel)
	}
	return best
}

// read reports whether the text is large enough to read well.
func (z sizes) read() bool { return z.text >= size(goodHeight) }

// score tells how good sizes are. Narrow type, broken names, columns that do not suit the shape and those that part
// what belongs together have to earn their place with larger letters, by a handicap in percent.
func (z sizes) score(handicap int) scene.Um {
	worth := max(100-3*scene.Um(z.width)-scene.Um(handicap), 1) // what fits at all is better than nothing
	score := min(z.text, size(goodHeight)) * worth
	if z.loose {
		score = score * 90 / 100
	}
	return score
}

// beats returns the smallest text with which sizes like z have a better score than best, from the smallest text
// there is, or false if none has. What cannot win need not be searched for.
func (z sizes) beats(best scene.Um, handicap int) (scene.Um, bool) {
	least, good := size(houseHeight), size(goodHeight)
	for z.text = least; z.text <= good; {
		score := z.score(handicap)
		if score > best {
			return z.text, true
		}
		z.text += max((best-score)/100, 1) // a micrometre of text counts for less than 100
	}
	return 0, false
}

// size returns the em at which the lower-case o of the text face has a height.
func size(height int64) scene.Um {
	return scene.Um(font.Text.SizeForHeight(height, font.LowerO))
}

// titleFor returns the em of the name that goes with an em of the text, before it is made larger.
func titleFor(text scene.Um) scene.Um { return max(leastTitle, text*2) }

// largest returns sizes with the largest text that fits, or false if not even text as large as lo does.
func (a *arrangement) largest(z sizes, lo scene.Um) (sizes, bool) {
	at := func(text scene.Um) sizes { return a.sized(z, text) }
	hi := size(comfortableHeight)
	if !a.fits(at(lo)) {
		return z, false
	}
	if a.fits(at(hi)) {
		return at(hi), true
	}
	return at(most(lo, hi, fine, func(text scene.Um) bool { return a.fits(at(text)) })), true
}

// sized returns sizes like z with an em of the text, and what follows from it.
func (a *arrangement) sized(z sizes, text scene.Um) sizes {
	if z.fair {
		z.net = a.net(z.width)
	}
	z.text, z.title, z.level = text, max(titleFor(text), z.net*fairTitle/100), 0
	if z.fair {
		z.level = a.tallest(z)
	}
	return z
}

// fine and coarse are how near a search comes to the largest value: a print shows neither.
const (
	fine   scene.Um = 8
	coarse scene.Um = 50
)

// most returns a value from lo up to below hi that passes, within step of the largest, given that lo passes and
// hi does not.
func most(lo, hi, step scene.Um, passes func(scene.Um) bool) scene.Um {
	for hi-lo > step {
		if mid := (lo + hi) / 2; passes(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// widestGap is the most that is added to a space between groups.
const widestGap = 3 * scene.Mm

// spread makes the name as large as the panel bears, and then gives the space that is left in each column
// to its gaps.
func (a *arrangement) spread(p *panel) {
	z := a.even(a.sizes)
	for _, c := range a.columns {
		if c.gap = z.text / 2; !c.fits(z) {
			c.gap = 0
		}
		if c.reserve = (c.area.bottom - c.area.top) * 9 / 100; !c.fits(z) {
			c.reserve = 0
		}
	}
	try := func(title scene.Um) sizes {
		z.title = title
		return z
	}
	least, largest := z.title, min(min(p.w, p.h)*24/100, z.text*5)
	if a.columns[0].d.sheet {
		largest = min(largest, z.text*22/10)
	}
	if largest > least && !a.fits(try(largest)) {
		largest = most(least, largest, coarse, func(t scene.Um) bool { return a.fits(try(t)) })
	}
	a.sizes = try(max(least, largest))
	for _, c := range a.columns {
		c.reserve = 0
		fits := func(gap scene.Um) bool {
			c.gap = gap
			return c.fits(a.sizes)
		}
		if least := c.gap; !fits(widestGap) {
			fits(most(least, widestGap, coarse, fits))
		}
		if c.centred {
			c.centre(a.sizes)
		}
	}
}

// even returns z with the small print but for the list raised to the size that the law asks of some of it, if that
// fits with a list not much smaller; else with the cautions alone raised to it; else as it is.
func (a *arrangement) even(z sizes) sizes {
	raised := z
	raised.level = max(z.level, a.tallest(z))
	if raised.level == 0 || a.fits(raised) {
		return raised
	}
	at := func(text scene.Um) sizes {
		z := raised
		z.text, z.title = text, max(titleFor(text), z.net*fairTitle/100)
		return z
	}
	for _, part := range []bool{false, true} {
		raised.part = part
		if part && a.fits(raised) {
			return raised
		}
		if least := max(size(houseHeight), z.text*leastShare/100); least < z.text && a.fits(at(least)) {
			return at(most(least, z.text, fine, func(text scene.Um) bool { return a.fits(at(text)) }))
		}
	}
	return z
}

// leastShare is how small the list may become, in percent, for the sake of one size of all other small print.
const leastShare = 80

// tallest returns the em of the largest small print, if its law asks for more than the rest has; else 0.
func (a *arrangement) tallest(z sizes) (most scene.Um) {
	for _, c := range a.columns {
		most = max(most, c.tallest(z))
	}
	return most
}

// net returns the em of the net quantity in a width at the least, 0 where there is none.
func (a *arrangement) net(w width) (most scene.Um) {
	for _, c := range a.columns {
		for _, b := range c.foot {
			most = max(most, b.floor[w])
		}
	}
	return most
}

// tallest returns the em of the largest small print of the column, if its law asks for more than the rest has.
func (c *column) tallest(z sizes) (most scene.Um) {
	for _, b := range c.blocks {
		for _, p := range append([]*block{b}, b.parts...) {
			if p.role == roleText && p.s.Kind != label.ListText && !p.wordless() && p.symbol == noSymbol {
				most = max(most, p.floor[z.width])
			}
		}
	}
	if most <= z.text {
		return 0
	}
	return most
}
