package layout

import (
	"fmt"

	"panelwright/label"
	"panelwright/label/code"
	"panelwright/label/scene"
)

// codeGap is the space between two codes beside each other, beyond the light margins they bring along.
const codeGap scene.Um = 1500

// codesBlock is the codes for scanners that the book wants on the label: nil where it wants none. They are of
// the normal size where each takes no more than a third of the sides of the panel, else as small as their
// specification allows.
func (d *dressed) codesBlock(c *label.PackCopy, p *panel) (*block, error) {
	if c.Product == nil {
		return nil, nil
	}
	b := &block{d: d, s: &label.Statement{Kind: label.CodeText}, role: roleText, group: 4, scale: 100}
	for _, scan := range d.Scans {
		draw, least := func(x scene.Um) (*code.Symbol, error) { return code.Bars(code.Number(c.Product.Barcode), x) }, code.LeastBars
		switch scan {
		case label.ScanNothing:
			continue
		case label.ScanQR:
			draw, least = func(x scene.Um) (*code.Symbol, error) { return code.QR(c.Product.Link, x) }, code.LeastQR
		}
		s, err := draw(0)
		if err == nil && (s.W*3 > p.w || s.H*3 > p.h) {
			s, err = draw(least())
		}
		if err != nil {
			return nil, fmt.Errorf("%s: the code: %w", c.Name, err)
		}
		b.codes = append(b.codes, s)
	}
	if b.codes == nil {
		return nil, nil
	}
	return b, nil
}

// setCodes puts the codes side by side, or where there is no room for that one below the other. Each is a line
// with its left and right edges, its top in a and its bottom in b: the box of the code with its light margins.
func (c *column) setCodes(b *block, y scene.Um) (scene.Um, bool) {
	for i := 0; i < len(b.codes); {
		if i > 0 {
			y += codeGap
		}
		n, wide, tall := 0, scene.Um(0), scene.Um(0)
		var left, right scene.Um
		for ; i+n < len(b.codes); n++ {
			s := b.codes[i+n]
			w, t := wide+s.W, max(tall, s.H)
			if n > 0 {
				w += codeGap
			}
			l, r := c.chord(y, y+t)
			if w > r-l {
				break
			}
			wide, tall, left, right = w, t, l, r
		}
		if n == 0 {
			return y, false
		}
		if c.centred {
			left += (right - left - wide) / 2
		}
		for _, s := range b.codes[i : i+n] {
			c.lines = append(c.lines, line{a: int(y), b: int(y + s.H), left: left, right: left + s.W})
			left += s.W + codeGap
		}
		y += tall
		i += n
	}
	return y, true
}

// drawCodes returns the codes in the boxes that setCodes gave them.
func drawCodes(b *block, places []line) (items []scene.Item) {
	for i, at := range places {
		items = append(items, b.codes[i].At(at.left, scene.Um(at.a))...)
	}
	return items
}
