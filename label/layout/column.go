package layout

import (
	"panelwright/label"
	"panelwright/label/look"
	"panelwright/label/scene"
)

// sizes is what the solver chooses: everything else about a column follows from it.
type sizes struct {
	width width
	loose bool     // names in lists may be broken at spaces
	text  scene.Um // em of all small text, where no floor asks for more
	title scene.Um // em of the name
	level scene.Um // em that small print is raised to but for the list, so that it is of one size; 0 for none
	part  bool     // that only the cautions are raised to

	tight bool     // less space between statements
	fair  bool     // small print is of one size from the start, and nothing dwarfs the name and the identity
	net   scene.Um // em of the net quantity at the least, where that is so
}

// of returns the em of a block.
func (z sizes) of(b *block) scene.Um {
	want := z.text
	switch b.role {
	case roleText:
		if b.s.Kind == label.CautionText || !z.part && b.s.Kind != label.ListText && b.symbol == noSymbol {
			want = max(want, z.level)
		}
	case roleTitle:
		want = z.title
	case roleSecond:
		want = max(z.title*58/100, z.text*14/10)
	case roleIdentity:
		want = max(min(max(z.title*46/100, z.text*115/100), z.text*19/10), z.net*fairIdentity/100)
	case roleNet:
		want = max(z.text*13/10, min(z.title*45/100, z.text*17/10))
	}
	if b.scale != 100 {
		want = want * b.scale / 100
	}
	return max(want, b.floor[z.width])
}

// How large the name and the identity are at the least, in percent of the net quantity, where there is room. The
// identity must be in a size reasonably related to the most prominent printed matter (21 CFR 701.11(c)), for which no
// text gives a figure; these are ours.
const (
	fairTitle    = 75
	fairIdentity = 45
)

// air returns a space between statements, in percent of the text.
func (z sizes) air(percent scene.Um) scene.Um {
	if z.tight {
		percent = percent * tightly / 100
	}
	return z.text * percent / 100
}

// tightly is what is left of the space between statements, in percent, where there is little room.
const tightly = 60

// lead returns the distance of baselines of a block at an em of size: by its role, but never so close that
// the ink of two lines could touch.
func (z sizes) lead(b *block, size scene.Um) scene.Um {
	f := b.flows[z.width]
	percent := scene.Um(121)
	switch b.role {
	case roleTitle, roleSecond:
		percent = 108
	case roleNet:
		percent = 112
	}
	return max(size*percent/100, f.ascent(size)+f.descent(size)+size/40)
}

// column is a stack of blocks within an outline, with others standing at its foot.
type column struct {
	d       *dressed
	panel   *panel
	area    outline
	left    scene.Um // of the column itself, within the outline
	right   scene.Um
	centred bool
	blocks  []*block
	foot    []*block
	under   *column // that it stands on
	rule    bool    // a hairline after the first group

	gap scene.Um // added to each space between groups
	// reserve is height left empty while the size of the name is sought: a name grows only where it leaves air.
	reserve scene.Um
	y       scene.Um // where the stack begins; found by fits

	flat  bool       // the least height is sought, each line being as wide as the column; see straighten
	rest  []scene.Um // height of the stack from each block on, at the least; scratch
	lines []line     // scratch
	parts []part     // scratch
}

// chord returns the room of a line box in the column.
func (c *column) chord(top, bottom scene.Um) (left, right scene.Um) {
	if c.flat {
		return c.left, c.right
	}
	l, r := c.area.chord(top, bottom)
	left, right = max(l, c.left), min(r, c.right)
	if c.centred && c.area.notch > 0 { // what a sprig takes on one side is left free on the other
		in := max(left-c.left, c.right-right)
		left, right = c.left+in, c.right-in
	} else if c.area.notch > 0 && c.left == c.area.left { // words that stand flush do so past the sprig too
		left = max(left, c.left+c.area.notch)
	}
	return left, right
}

// indent returns how far a column that is flush left moves away from the one beside it, so that its words begin
// under one another with a net quantity that must stand clear.
func (c *column) indent(z sizes) scene.Um {
	in := scene.Um(0)
	if !c.centred && c.left > c.area.left {
		for _, b := range c.foot {
			in = max(in, c.sides(b, z)-columnGap)
		}
	}
	return in
}

// before returns the space between block i and the one above it.
func (c *column) before(i int, z sizes) scene.Um {
	if i == 0 {
		if c.solid(0) {
			return max(solidAir(z)-(c.area.top-solidInset), 0)
		}
		return 0
	}
	a, b := c.blocks[i-1], c.blocks[i]
	switch {
	case c.solid(i-1) && !c.solid(i):
		return solidAir(z) + max(z.air(80)+c.gap/3, c.apart(b, z))
	case c.d.rules() == look.Every && c.ruled(i):
		return max(2*z.air(52)+c.gap/2, c.apart(a, z), c.apart(b, z))
	case a.role <= roleSecond && c.ruled(i):
		return max(z.of(a)*34/100, 2*z.air(95)+c.gap)
	case a.role <= roleSecond:
		return max(z.of(b)*64/100, z.of(a)*38/100) + c.gap/4
	case a.group != b.group:
		space := z.air(85) + c.gap
		if c.ruled(i) {
			space = 2*z.air(95) + c.gap
		}
		return max(space, c.apart(a, z), c.apart(b, z))
	case a.role == roleIdentity && b.role == roleIdentity:
		return z.of(b) * 30 / 100
	case b.group == 2:
		return z.air(40) + c.gap/6
	case a.s.Lang != b.s.Lang && a.s.Lang != "" && b.s.Lang != "": // what is said in one language keeps together
		return z.air(80) + c.gap*2/3
	}
	return z.air(55) + c.gap/3
}

// ruled reports whether a hairline stands above block i.
func (c *column) ruled(i int) bool {
	if i == 0 || c.solid(i-1) {
		return false
	}
	a, b := c.blocks[i-1], c.blocks[i]
	switch c.d.rules() {
	case look.NoRules:
		return false
	case look.Every:
		return a.role > roleSecond && b.role == roleText && (a.role != roleText || a.s.Kind != b.s.Kind)
	}
	return c.rule && a.group == 0 && b.group != 0
}

// solid reports whether block i stands on the solid area of the layout: the name, in every language.
func (c *column) solid(i int) bool {
	return c.d.Look.Block == look.BlockName && !c.d.bare && c.blocks[i].role <= roleSecond && c.blocks[i].logo == nil
}

// solidAir is the space between the name and the edge of the solid area it stands on.
func solidAir(z sizes) scene.Um { return max(z.title*34/100, 1200) }

// apart returns the space a statement keeps clear above and below: the height of its lettering, for which
// the ascenders are taken (21 CFR 701.13(f)).
func (c *column) apart(b *block, z sizes) scene.Um {
	if !b.apart {
		return 0
	}
	return b.flows[z.width].ascent(z.of(b))
}

// sides returns the space a statement keeps clear at either side: twice the width of its N.
func (c *column) sides(b *block, z sizes) scene.Um {
	if !b.apart {
		return 0
	}
	f := b.flows[z.width]
	return scene.Um(2*f.wideN*int64(z.of(b))/f.upem) + 1
}

// set breaks block b into lines from y on, appends them to c.lines and returns where its ink ends.
func (c *column) set(b *block, z sizes, y scene.Um, most int) (scene.Um, bool) {
	if len(b.parts) > 0 {
		return c.setRow(b, z, y)
	}
	switch {
	case b.logo != nil:
		return c.setLogo(b, z, y)
	case b.codes != nil:
		return c.setCodes(b, y)
	}
	f, size := b.flows[z.width], z.of(b)
	lead, tall := z.lead(b, size), f.ascent(size)+f.descent(size)
	from := len(c.lines)
	// The ink of a line may stick out a little at both ends. A centred line has that much less room at each
	// side; a line that starts flush is moved in by what it needs, see draw.
	side := f.overhang(size)
	airLeft, airRight := scene.Um(0), 2*side
	if c.centred {
		airLeft, airRight = side, side
	}
	if b.role <= roleIdentity {
		// A name that reaches from edge to edge looks squeezed in.
		air := (c.right - c.left) * 4 / 100
		airRight += air
		if c.centred {
			airLeft += air
		}
	}
	var ok bool
	c.lines, ok = f.lines(c.lines, size, func(i int) (scene.Um, scene.Um) {
		top := y + scene.Um(i)*lead
		left, right := c.chord(top, top+tall)
		return left + airLeft, right - airRight
	}, z.loose, most)
	n := scene.Um(len(c.lines) - from)
	return y + (n-1)*lead + tall, ok && n > 0
}

// stack sets the blocks from y on, and returns where the ink of the last ends and how many were set; it gives up at
// the first that ends below limit. Keep, if not nil, is given each block as it is set.
func (c *column) stack(z sizes, y, limit scene.Um, keep func(b *block, y scene.Um, lines []line)) (end scene.Um, set int) {
	if in := c.indent(z); in > 0 {
		c.left += in
		defer func() { c.left -= in }()
	}
	for i, b := range c.blocks {
		y += c.before(i, z)
		if i < len(c.rest) && !c.flat && y+c.rest[i] > limit {
			return y, i
		}
		c.lines = c.lines[:0]
		most := 200
		if b.role <= roleSecond {
			most = 3
		}
		end, ok := c.set(b, z, y, most)
		if !ok || end > limit {
			return end, i
		}
		if keep != nil {
			keep(b, y, c.lines)
		}
		y = end
	}
	return y, len(c.blocks)
}

// holds reports whether the stack fits from y on.
func (c *column) holds(z sizes, y, limit scene.Um) bool {
	_, set := c.stack(z, y, limit, nil)
	return set == len(c.blocks)
}

// limit returns how far down the stack may reach: the foot, or the lower edge.
func (c *column) limit(z sizes) (scene.Um, bool) {
	if c.under != nil {
		top, ok := c.under.limit(z)
		return top - max(z.text*130/100+c.gap, c.under.apart(c.under.foot[0], z)) - c.reserve, ok
	}
	if len(c.foot) == 0 {
		return c.area.bottom - c.reserve, true
	}
	top, ok := c.setFoot(z, nil)
	if len(c.blocks) == 0 {
		return top, ok
	}
	last := c.blocks[len(c.blocks)-1]
	space := max(z.text*130/100+c.gap, c.apart(c.foot[0], z), c.apart(last, z))
	return top - space - c.reserve, ok
}

// places is how many places down the outline a stack in a circle is tried to begin at.
const places = 10

// fits reports whether the column holds its blocks at sizes z, and leaves where the stack begins in c.y.
func (c *column) fits(z sizes) bool {
	limit, ok := c.limit(z)
	if !ok {
		return false
	}
	if len(c.blocks) == 0 {
		return true
	}
	reach := c.area.reach()
	if reach == 0 {
		c.y = c.area.top
		return c.holds(z, c.y, limit)
	}
	if !c.straighten(z, limit) {
		return false
	}
	defer func() { c.rest = c.rest[:0] }()
	if c.y > 0 && c.holds(z, c.y, limit) {
		return true
	}
	for i := range scene.Um(places) {
		y := max(c.area.top+reach*i/places, c.area.ceiling)
		if y+c.rest[0] > limit {
			break
		}
		if c.holds(z, y, limit) {
			c.y = y
			return true
		}
	}
	return false
}

// straighten finds how high the blocks are at the least, however wide their lines: words as high as in a column that
// is as wide all the way down, pictures and rows no higher than they can be anywhere in it, see TestStraighten. It
// returns false where not even that holds them.
func (c *column) straighten(z sizes, limit scene.Um) bool {
	c.flat, c.rest = true, c.rest[:0]
	end, set := c.stack(z, max(c.area.top, c.area.ceiling), limit, func(_ *block, y scene.Um, _ []line) { c.rest = append(c.rest, y) })
	c.flat = false
	for i := range c.rest {
		c.rest[i] = end - c.rest[i]
	}
	return set == len(c.blocks)
}

// centre moves the start of the stack so that the free space above and below it is as even as the outline
// allows. The column has to fit where it begins.
func (c *column) centre(z sizes) {
	limit, ok := c.limit(z)
	if !ok || len(c.blocks) == 0 {
		return
	}
	low := func(y scene.Um) bool { // less space below the stack than above it
		end, set := c.stack(z, y, limit, nil)
		// A little more space below than above looks even.
		return set < len(c.blocks) || limit-end < (y-max(c.area.top, c.area.ceiling))*11/10
	}
	if low(c.y) {
		return // it is as far up as it goes, or nearly
	}
	y := most(c.y, limit, coarse, func(y scene.Um) bool { return !low(y) })
	if c.holds(z, y, limit) {
		c.y = y
	}
}
