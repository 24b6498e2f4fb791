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
	case f.plain() || p.round() || p.w*100 < p.h*135:
		return []*arrangement{f.single()}
	case p.w*100 < p.h*280:
		return f.twos()
	}
	var out []*arrangement
	for _, k := range evenly(f.back) {
		for _, share := range shares(f.Look.Band, 36, 30, 42) {
			out = append(out, f.three(share, 50, k))
		}
	}
	return out
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
	case p.w*100 < p.h*135:
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

// side returns ways to set blocks that belong to no front in n columns of one width.
func (f *face) side(n int) []*arrangement {
	if n > len(f.back) {
		return nil
	}
	p := f.panel
	wide := (p.safe.right - p.safe.left - 2*columnGap*scene.Um(n-1)) / scene.Um(n)
	var out []*arrangement
	for _, first := range evenlyIn(f.back, n) {
		a := &arrangement{}
		rest, x := f.back, p.safe.left
		for left := n; left > 0; left-- {
			k := len(rest)
			if left == n {
				k = first
			} else if left > 1 {
				k = evenlyIn(rest, left)[0]
			}
			a.columns = append(a.columns, &column{d: f.dressed, panel: p, area: p.safe, left: x, right: x + wide, blocks: rest[:k]})
			rest, x = rest[k:], x+wide+2*columnGap
			if left > 1 {
				a.hairs = append(a.hairs, x-columnGap)
			}
		}
		out = append(out, a)
	}
	return out
}

// twos returns the ways to set the face in two columns.
func (f *face) twos() []*arrangement {
	var out []*arrangement
	for _, share := range shares(f.Look.Wide, 42, 37, 47, 32) {
		out = append(out, f.two(share))
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
	return &arrangement{
		columns: []*column{
			{d: f.dressed, panel: p, area: p.safe, left: x1 + columnGap, right: x2 - columnGap, blocks: f.front, foot: f.net, centred: f.centred(true)},
			{d: f.dressed, panel: p, area: p.safe, left: x2 + columnGap, right: p.safe.right, blocks: f.back[:k]},
			{d: f.dressed, panel: p, area: p.safe, left: p.safe.left, right: x1 - columnGap, blocks: f.back[k:]},
		},
		hairs: []scene.Um{x1, x2},
	}
}
