package layout

import (
	"panelwright/label/font"
	"panelwright/label/scene"
)

// Measures of the spaces to write in and of the jar. Common practice, no source: a felt pen needs 4.5 mm of
// height, and a lot code or a date 14 mm at least.
const (
	writeHeight scene.Um = 4500
	writeLeast  scene.Um = 14 * scene.Mm
	writeWidth  scene.Um = 21 * scene.Mm
	leadSpace   scene.Um = 900  // between the words and the space to write in
	partGap     scene.Um = 3500 // between parts of a row
)

// part is how a part of a row measures.
type part struct {
	words scene.Um // width of its words
	from  scene.Um // where they begin: the width of the symbol before them, with the space between
	wide  scene.Um // with the space to write in, and the symbol, at its smallest
	tall  scene.Um
	line  scene.Um // height of its words
	drop  scene.Um // from the baseline of the words to the lower edge
}

// part measures a part of a row at sizes z.
func (b *block) part(z sizes) part {
	f, size := b.flows[z.width], z.of(b)
	m := part{words: f.width(0, len(f.glyphs), size)}
	capital := scene.Um(0) // what the other symbols are measured by
	if b.symbol != noSymbol && b.symbol != jarSymbol {
		capital = scene.Um(b.d.regular(z.width).HeightAt(int64(size), font.Capitals))
	}
	switch b.symbol {
	case jarSymbol:
		j := jarAround(m.words, f.ascent(size))
		m.from, m.wide, m.tall, m.drop = j.words, j.width, j.height, j.height-j.base
		return m
	case codeSymbol:
		pad := capital * 55 / 100
		m.from, m.wide, m.tall, m.drop = pad, m.words+2*pad, capital+2*pad, pad
		return m
	case bookSymbol:
		m.tall = max(capital*3, leastBook)
		m.wide, m.drop = m.tall*bookWide/100, (m.tall-capital)/2
		return m
	case eSymbol:
		m.tall = max(b.tail, b.tail*size/b.floor[z.width])
		m.wide = m.tall
		return m
	case timerSymbol:
		m.tall = max(capital*2, leastTimer)
		m.from = m.tall*timerWide/100 + leadSpace
		m.drop = (m.tall - capital) / 2
		if !b.fill {
			m.wide = m.from + m.words
			return m
		}
		m.wide = m.from + writeLeast
		m.tall = max(m.tall, writeHeight)
		return m
	}
	m.wide = m.words
	m.drop = max(f.descent(size), size*23/100, 2*Hairline) // alike in all parts, so that they stand on one line
	m.line = f.ascent(size) + m.drop
	m.tall = m.line
	if b.fill {
		m.wide += leadSpace + writeLeast
		m.tall = max(m.tall, writeHeight)
		if b.joined {
			m.tall = max(m.line, writeHeight*2/3) // the words above leave room beside them
		}
	}
	return m
}

// after returns the space between a part of a row and the next.
func (b *block) after() scene.Um {
	if b.fill || b.symbol != noSymbol {
		return partGap
	}
	return partGap / 2
}

// setRow puts the parts of a row side by side, in as many rows as it takes, from y on. Each part is a line
// in c.lines with its left and right edges, its top in a and its bottom in b; a part whose space to write in
// stands below its words is marked as inside.
func (c *column) setRow(row *block, z sizes, y scene.Um) (scene.Um, bool) {
	space := z.text * 30 / 100
	above := len(c.lines) // where the row above begins in c.lines
	c.parts = c.parts[:0]
	for _, b := range row.parts {
		c.parts = append(c.parts, b.part(z))
	}
	if c.flat {
		return y + c.leastRow(row, space), true
	}
	for i := 0; i < len(row.parts); y += space {
		n, wide, tall, fills := 0, scene.Um(0), scene.Um(0), scene.Um(0)
		for ; i+n < len(row.parts); n++ {
			b := row.parts[i+n]
			m := c.parts[i+n]
			if n > 0 {
				m.wide += row.parts[i+n-1].after()
			}
			if left, right := c.chord(y, y+max(tall, m.tall)); wide+m.wide > right-left {
				break
			}
			wide, tall = wide+m.wide, max(tall, m.tall)
			if b.fill {
				fills++
			}
		}
		if n > 0 && i+n < len(row.parts) && row.parts[i+n].joined {
			// Words for a space that comes on the next row go with it, unless they would leave nothing here.
			for n > 1 && row.parts[i+n].joined && !row.parts[i+n-1].fill {
				n--
				wide -= c.parts[i+n].wide + row.parts[i+n-1].after()
			}
		}
		if n == 0 {
			end, ok := c.setBelow(row.parts[i], z, y)
			if !ok {
				return y, false
			}
			y, above = end, len(c.lines)-1
			i++
			continue
		}
		x, right := c.chord(y, y+tall)
		more := scene.Um(0) // for each space to write in, beyond the least
		if fills > 0 {
			more = min((right-x-wide)/fills, writeWidth-writeLeast)
		}
		if c.centred {
			x += (right - x - wide - more*fills) / 2
		}
		here := len(c.lines)
		for k, b := range row.parts[i : i+n] {
			m := c.parts[i+k]
			if b.fill {
				m.wide += more
			}
			c.lines = append(c.lines, line{a: int(y), b: int(y + tall), left: x, right: x + m.wide})
			x += m.wide + b.after()
		}
		y += tall - c.lift(row.parts[i:i+n], c.parts[i:i+n], c.lines[above:here], c.lines[here:], space)
		i, above = i+n, here
	}
	return y - space, true
}

// leastRow returns the least height that the parts of a row can take, wherever they stand: each row after the first
// adds what lift cannot take from it. Set in the whole width of the column they may be higher than in less, since a
// longer space to write in leaves less room beside the words below it.
func (c *column) leastRow(row *block, space scene.Um) scene.Um {
	room := c.right - c.left
	wide, rows := scene.Um(0), scene.Um(1)
	tallest, least := scene.Um(0), c.parts[0].tall
	for i, b := range row.parts {
		m := c.parts[i]
		if i > 0 {
			wide += row.parts[i-1].after()
		}
		if wide += m.wide; wide > room && i > 0 {
			rows, wide = rows+1, m.wide
		}
		tallest = max(tallest, m.tall)
		if b.fill && b.symbol == noSymbol {
			least = min(least, m.line, writeHeight)
		} else {
			least = min(least, m.tall)
		}
	}
	return max(tallest, c.parts[0].tall+(rows-1)*(space+least))
}

// lift moves a row of parts up beside those of the row before, as far as they leave it room, and returns how far. What
// is to be written takes its height from there too.
func (c *column) lift(parts []*block, measured []part, before, places []line, space scene.Um) scene.Um {
	if len(before) == 0 || before[0].inside {
		return 0
	}
	up := scene.Um(places[0].a - before[0].a) // no higher than the row before
	clear := func(left, right, height scene.Um) {
		top, bottom := scene.Um(places[0].b)-height, scene.Um(before[0].a)
		for _, o := range before {
			if left < o.right+partGap/2 && o.left < right+partGap/2 {
				bottom = scene.Um(o.b) + space
			}
		}
		up = min(up, top-bottom)
	}
	for i, b := range parts {
		at, m := places[i], measured[i]
		if b.fill && b.symbol == noSymbol {
			words := at.left + m.words
			clear(at.left, words, m.line)
			clear(words, at.right, writeHeight)
			continue
		}
		clear(at.left, at.right, m.tall)
	}
	if up <= 0 {
		return 0
	}
	last := places[len(places)-1]
	left, right := c.chord(scene.Um(last.a)-up, scene.Um(last.b)-up)
	if places[0].left < left || last.right > right {
		return 0
	}
	for i := range places {
		places[i].a -= int(up)
		places[i].b -= int(up)
	}
	return up
}

// setBelow sets a part with its space to write in below its words.
func (c *column) setBelow(b *block, z sizes, y scene.Um) (scene.Um, bool) {
	m, f, size := b.part(z), b.flows[z.width], z.of(b)
	tall := f.ascent(size) + f.descent(size) + writeHeight
	left, right := c.chord(y, y+tall)
	wide := max(m.words, writeWidth)
	if !b.fill || b.symbol != noSymbol || wide > right-left {
		return y, false
	}
	if c.centred {
		left += (right - left - wide) / 2
	}
	c.lines = append(c.lines, line{a: int(y), b: int(y + tall), left: left, right: left + wide, inside: true})
	return y + tall, true
}

// drawRow draws the parts that setRow placed.
func (c *column) drawRow(items []scene.Item, row *block, z sizes, places []line, ink scene.Ink) []scene.Item {
	for i, at := range places {
		b := row.parts[i]
		f, size, m := b.flows[z.width], z.of(b), b.part(z)
		base, from := scene.Um(at.b)-m.drop, at.left // parts of a row stand on one line
		mark := b.mark(z.width, size)
		box := scene.Rect{Left: at.left, Top: scene.Um(at.b) - m.tall, Right: at.left + m.wide, Bottom: scene.Um(at.b)}
		items = append(items, b.drawSymbol(box, m, f.ascent(size), ink)...)
		from += m.from
		y := base
		if at.inside {
			y = scene.Um(at.a) + f.ascent(size)
		}
		items = f.texts(items, 0, len(f.glyphs), from, y, size, ink, mark)
		if b.fill {
			if !at.inside && m.words > 0 {
				from += m.words + leadSpace
			}
			items = append(items, scene.Line(from, base+Hairline, at.right, base+Hairline, Hairline, ink))
		}
	}
	return items
}
