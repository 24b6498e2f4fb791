package layout

import (
	"slices"

	"panelwright/label"
	"panelwright/label/look"
	"panelwright/label/scene"
)

// columnGap is the space between a column and the hairline beside it.
const columnGap scene.Um = 2600

// arrangement is a way to divide a panel into columns, with the sizes found for it.
type arrangement struct {
	columns []*column
	hairs   []scene.Um // x of the upright hairlines between them
	under   *column    // that the others stand on: the net quantity across all of them; nil for none
	parted  int        // how many times what is better read together stands in two columns
	sizes   sizes
}

// fits reports whether all columns hold their blocks at sizes z.
func (a *arrangement) fits(z sizes) bool {
	for _, c := range a.columns {
		if !c.fits(z) {
			return false
		}
	}
	return true
}

// suited returns the ways to divide the panel that suit its shape, the best looking first.
func (f *face) suited() []*arrangement {
	p := f.panel
	switch {
	case f.plain() && len(f.back) > 0 && !p.round() && p.w >= 100*scene.Mm && p.w > p.h:
		var out []*arrangement
		for n := max(2, int(p.w/goodColumn)); n > 1; n-- {
			out = append(out, f.side(n)...)
		}
		return append(out, f.single())
	case f.plain() || f.upright():
		return []*arrangement{f.single()}
	case p.w*100 < p.h*280:
		return append(f.twos(), f.bridged()...)
	}
	var out []*arrangement
	for _, k := range evenly(f.back) {
		for _, share := range shares(f.Look.Band, 36, 30, 42) {
			out = append(out, f.three(share, 50, k))
		}
	}
	return out
}

// upright reports whether one column suits the panel better than two: lines that begin flush leave half of a panel
// empty that is not much wider than high.
func (f *face) upright() bool {
	p, least := f.panel, scene.Um(125)
	if !f.centred(false) {
		least = 115
	}
	return p.round() || p.w*100 < p.h*least
}

// leaning returns the ways to set a band in three columns whose outer two are as wide as what they hold asks, so that
// the middle one leans to a side: where one block is most of the small print, the others leave it too little width.
func (f *face) leaning() (out []*arrangement) {
	ks := evenly(f.back)
	for _, k := range ks[:min(len(ks), leans)] {
		right, left := weight(f.back[:k]), weight(f.back[k:])
		part := min(max(left*100/(left+right), 34), 66)
		for _, part := range []int{(part + 50) / 2, part} {
			if part > 44 && part < 56 {
				continue
			}
			for _, share := range shares(f.Look.Band, 36, 30, 42) {
				out = append(out, f.three(share, scene.Um(part), k))
			}
		}
	}
	return out
}

// leans is how many of the ways to part the small print are tried leaning; the others are less even.
const leans = 3

// shares returns the shares that a layout tries, or the usual ones.
func shares(own []int, usual ...int) []scene.Um {
	if own == nil {
		own = usual
	}
	out := make([]scene.Um, len(own))
	for i, s := range own {
		out[i] = scene.Um(s)
	}
	return out
}

// centred returns whether lines are centred where a plain label has them so or not.
func (f *face) centred(usual bool) bool {
	switch f.Look.Align {
	case look.Centre:
		return true
	case look.Left:
		return f.panel.round()
	}
	return usual
}

// unsuited returns the other ways to divide it.
func (f *face) unsuited() []*arrangement {
	p := f.panel
	switch {
	case f.plain() || p.round():
		return nil
	case f.upright():
		return f.twos()
	case p.w*100 < p.h*280:
		return []*arrangement{f.single()}
	}
	return append(append(f.leaning(), f.twos()...), f.single())
}

// plain reports whether the face has only statements of the front, or only others.
func (f *face) plain() bool { return len(f.back) == 0 || len(f.front)+len(f.net) == 0 }

// goodColumn is about as wide as small print should run: 60 to 75 letters a line. Common practice, no source.
const goodColumn = 68 * scene.Mm

// side returns ways to set blocks that belong to no front in n columns: where one of them has most to say, in columns
// as wide as what they hold asks, and in columns of one width.
func (f *face) side(n int) (out []*arrangement) {
	if n > len(f.back) {
		return nil
	}
	p := f.panel
	room := p.safe.right - p.safe.left - 2*columnGap*scene.Um(n-1)
	for _, first := range evenlyIn(f.back, n) {
		parts := [][]*block{f.back[:first]}
		for rest := f.back[first:]; len(parts) < n; {
			k := len(rest)
			if left := n - len(parts); left > 1 {
				k = evenlyIn(rest, left)[0]
			}
			parts, rest = append(parts, rest[:k]), rest[k:]
		}
		wide, lopsided := columnWidths(parts, room)
		if lopsided {
			out = append(out, f.beside(parts, wide))
		}
		for i := range wide {
			wide[i] = room / scene.Um(n)
		}
		out = append(out, f.beside(parts, wide))
	}
	return out
}

// columnWidths shares out the room for columns by what they hold, and reports whether that is far from even. None
// becomes so narrow that its lines break after every other word.
func columnWidths(parts [][]*block, room scene.Um) (wide []scene.Um, lopsided bool) {
	n, total := scene.Um(len(parts)), 0
	for _, p := range parts {
		total += weight(p)
	}
	least := room * 55 / 100 / n
	for _, p := range parts {
		w := weight(p)
		wide = append(wide, least+(room-n*least)*scene.Um(w)/scene.Um(total))
		lopsided = lopsided || w*int(n)*10 > total*16
	}
	return wide, lopsided
}

// beside sets parts of the small print in columns side by side.
func (f *face) beside(parts [][]*block, wide []scene.Um) *arrangement {
	p := f.panel
	a, x := &arrangement{}, p.safe.left
	for i, blocks := range parts {
		if i > 0 {
			a.hairs = append(a.hairs, x-columnGap)
			a.part(parts[i-1], blocks)
		}
		a.columns = append(a.columns, &column{d: f.dressed, panel: p, area: p.safe, left: x, right: x + wide[i], blocks: blocks})
		x += wide[i] + 2*columnGap
	}
	return a
}

// part counts what is better read together if it ends one column and begins the next.
func (a *arrangement) part(before, after []*block) {
	if len(before) > 0 && len(after) > 0 && akin(before[len(before)-1], after[0]) {
		a.parted++
	}
}

// twos returns the ways to set the face in two columns.
func (f *face) twos() []*arrangement {
	var out []*arrangement
	for _, share := range shares(f.Look.Wide, 42, 37, 47, 32) {
		out = append(out, f.two(share))
	}
	return out
}

// bridged returns the ways to set the face in two columns that stand on a net quantity, where that is too wide for the
// column of the front because it must stand clear of all else.
func (f *face) bridged() (out []*arrangement) {
	if !slices.ContainsFunc(f.net, func(b *block) bool { return b.apart }) {
		return nil
	}
	for _, a := range f.twos() {
		p := f.panel
		a.under = &column{d: f.dressed, panel: p, area: p.safe, left: p.safe.left, right: p.safe.right, foot: f.net, centred: f.centred(false)}
		front, back := a.columns[0], a.columns[1]
		front.foot, front.under, back.under = nil, a.under, a.under
		a.columns = []*column{front, a.under, back}
		out = append(out, a)
	}
	return out
}

// evenly returns the ways to part blocks in two, as the number in the first part, the most even first.
func evenly(blocks []*block) []int { return evenlyIn(blocks, 2) }

// evenlyIn returns how many blocks can go into the first of n parts, the best first: that which leaves the
// other parts as long. Unless n is 2, blocks are left for each of the other parts.
func evenlyIn(blocks []*block, n int) []int {
	letters, total := 0, weight(blocks)
	var ks []int
	uneven := make([]int, len(blocks)+1)
	for i, b := range blocks {
		letters += weight(blocks[i : i+1])
		if n == 2 || len(blocks)-i > n-1 {
			ks = append(ks, i+1)
		}
		uneven[i+1] = max(n*letters-total, total-n*letters)
		if i+1 < len(blocks) && akin(b, blocks[i+1]) {
			uneven[i+1] += total / 3
		}
	}
	slices.SortStableFunc(ks, func(a, b int) int { return uneven[a] - uneven[b] })
	return ks
}

// weight returns about how much room blocks take, in letters.
func weight(blocks []*block) (total int) {
	least := int(size(houseHeight))
	for _, b := range blocks {
		w := 60*len(b.parts) + 250*len(b.codes) // a space to write in takes the room of so many letters, a code more
		if b.flows[normal] != nil {
			w += len(b.flows[normal].glyphs) + 20
		}
		if f := int(b.floor[normal]); f > least { // large letters take more lines, and higher ones
			w = w * f / least * f / least
		}
		total += w
	}
	return total
}

// akin reports whether two neighbours are better read in one column: what to do and to mind in one language,
// and who answers for it with where to write to.
func akin(a, b *block) bool {
	told := func(k label.StatementKind) bool { return k == label.DirectionsText || k == label.CautionText }
	who := func(k label.StatementKind) bool { return k == label.ResponsibleText || k == label.ContactText }
	return told(a.s.Kind) && told(b.s.Kind) && a.s.Lang == b.s.Lang || who(a.s.Kind) && who(b.s.Kind)
}

// single stacks everything in one column.
func (f *face) single() *arrangement {
	p := f.panel
	c := &column{d: f.dressed, panel: p, area: p.safe, left: p.safe.left, right: p.safe.right, rule: true}
	c.blocks = append(append(c.blocks, f.front...), f.back...)
	c.foot = f.net
	c.centred = f.centred(p.round() || len(f.back) == 0)
	return &arrangement{columns: []*column{c}}
}

// two sets the front on the left, in percent of the width, and the rest on the right.
func (f *face) two(percent scene.Um) *arrangement {
	p := f.panel
	x := p.w * percent / 100
	return &arrangement{
		columns: []*column{
			{d: f.dressed, panel: p, area: p.safe, left: p.safe.left, right: x - columnGap, blocks: f.front, foot: f.net, centred: f.centred(false)},
			{d: f.dressed, panel: p, area: p.safe, left: x + columnGap, right: p.safe.right, blocks: f.back},
		},
		hairs: []scene.Um{x},
	}
}

// three sets the front in the middle, in percent of the width, the first blocks of the rest on its right, as one
// turns the pack, and those from block k on on its left, which gets a part, in percent, of what the middle leaves.
func (f *face) three(percent, part scene.Um, k int) *arrangement {
	p := f.panel
	x1 := p.w * (100 - percent) * part / 10_000
	x2 := x1 + p.w*percent/100
	a := &arrangement{
		columns: []*column{
			{d: f.dressed, panel: p, area: p.safe, left: x1 + columnGap, right: x2 - columnGap, blocks: f.front, foot: f.net, centred: f.centred(true)},
			{d: f.dressed, panel: p, area: p.safe, left: x2 + columnGap, right: p.safe.right, blocks: f.back[:k]},
			{d: f.dressed, panel: p, area: p.safe, left: p.safe.left, right: x1 - columnGap, blocks: f.back[k:]},
		},
		hairs: []scene.Um{x1, x2},
	}
	a.part(f.back[:k], f.back[k:])
	return a
}
