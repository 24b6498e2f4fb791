package layout

import (
	"fmt"

	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/code"
	"panelwright/label/market"
	"panelwright/label/scene"
)

// codeGap is the space between two codes beside each other, beyond the light margins they bring along.
const codeGap scene.Um = 1500

// codesBlock is the codes for scanners that the book wants on the label: nil where it wants none.
func (d *dressed) codesBlock(c *label.PackCopy, p *panel) (*block, error) {
	if c.Product == nil {
		return nil, nil
	}
	b := &block{d: d, s: &label.Statement{Kind: label.CodeText}, role: roleText, group: 4, scale: 100}
	for _, scan := range d.Scans {
		var s *code.Symbol
		var err error
		switch scan {
		case label.ScanBarcode:
			s, err = d.bars(code.Number(c.Product.BarcodeOn(c.Pack)), c.Pack.Body, p)
		case label.ScanQR:
			s, err = d.sized(p, code.LeastQR(), func(x scene.Um) (*code.Symbol, error) { return code.QR(c.Product.LinkOn(c.Pack), x) })
		default:
			continue
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

// sized draws a code in the normal size where it takes no more than a third of the sides of the panel, unless there
// is no room for that, else as small as its specification allows.
func (d *dressed) sized(p *panel, least scene.Um, draw func(x scene.Um) (*code.Symbol, error)) (*code.Symbol, error) {
	s, err := draw(0)
	if err == nil && (d.small || s.W*3 > p.w || s.H*3 > p.h) {
		return draw(least)
	}
	d.large = true
	return s, err
}

// ease lets the codes take less room, if they can: as small as they may be, then lying though they bend.
func (d *dressed) ease() bool {
	switch {
	case d.large:
		d.small = true
	case d.stood:
		d.lies = true
	default:
		return false
	}
	return true
}

// bars draws an item number. Round a pack of small diameter it stands upright, its bars like the rungs of a ladder;
// where there is no room for that, and round a ball, which bends both ways, it is at least as small as is allowed.
func (d *dressed) bars(n code.Number, body market.Body, p *panel) (*code.Symbol, error) {
	upright := func(x scene.Um) (*code.Symbol, error) { return code.Bars(n, x) }
	s, err := d.sized(p, code.LeastBars(), upright)
	across := bent(body, p.shape)
	if err != nil || across == 0 || !s.Bends(across) {
		return s, err
	}
	if body.Kind != market.Ball && !d.lies {
		s, err = d.sized(p, code.LeastBars(), func(x scene.Um) (*code.Symbol, error) {
			s, err := upright(x)
			if err != nil {
				return nil, err
			}
			return s.Turned(), nil
		})
		if err != nil || s.W <= p.safe.right-p.safe.left && s.H <= p.safe.bottom-p.safe.top {
			d.stood = true
			return s, err
		}
	}
	s, err = upright(code.LeastBars())
	d.bent = err == nil && s.Bends(across)
	return s, err
}

// bent returns the diameter of the pack where a label of a shape goes round it, or 0 where it lies flat: on a lid, or
// on a tag.
func bent(body market.Body, shape label.Shape) scene.Um {
	switch body.Kind {
	case market.Ball:
		if shape.Kind == label.HangTag {
			return 0
		}
		return scene.Um(body.A)
	case market.Cylinder, market.Jar, market.Tube:
		switch shape.Kind {
		case label.Rectangle, label.Rounded, label.Oval, label.Band:
			return scene.Um(body.A)
		}
	case market.Tin: // its top is flat, and may bear any label but a band
		if shape.Kind == label.Band {
			return scene.Um(body.A)
		}
	}
	return 0
}

// setCodes puts the codes side by side, or where there is no room for that one below the other; a barcode too wide
// for the column is turned by a quarter. Each is a line with its left and right edges, its top in a and its bottom in
// b: the box of the code with its light margins. One that is turned is marked as inside.
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
		turned := n == 0
		if turned {
			n, wide, tall = 1, b.codes[i].H, b.codes[i].W
			if left, right = c.chord(y, y+tall); !c.turns() || wide >= tall || wide > right-left {
				return y, false
			}
		}
		if c.centred {
			left += (right - left - wide) / 2
		}
		for _, s := range b.codes[i : i+n] {
			w, h := s.W, s.H
			if turned {
				w, h = h, w
			}
			foot := y + tall // they stand on one line
			c.lines = append(c.lines, line{a: int(foot - h), b: int(foot), left: left, right: left + w, inside: turned})
			left += w + codeGap
		}
		y += tall
		i += n
	}
	return y, true
}

// turns reports whether the column can gain from turning a code: in a circle, or an oval that lies, a box that does
// not fit does not fit upright either, or only where the words should stand.
func (c *column) turns() bool { return !c.panel.round() || c.panel.w < c.panel.h }

// drawCodes returns the codes in the boxes that setCodes gave them.
func drawCodes(b *block, places []line) (items []scene.Item) {
	for i, at := range places {
		s := b.codes[i]
		if at.inside {
			s = s.Turned()
		}
		items = append(items, s.At(at.left, scene.Um(at.a))...)
	}
	return items
}

// curved warns of a barcode that bends too far round its pack.
func (d *dressed) curved(c *label.PackCopy) (out finding.List) {
	if !d.bent {
		return nil
	}
	upright, cure := ", and has no room to stand upright", "take a higher label, on which it can, or "
	if c.Pack.Body.Kind == market.Ball {
		upright, cure = "", ""
	}
	f := d.note(c, "pack.code-bent", fmt.Sprintf("the barcode bends too far round a %s of %v for a scanner to read it all at once%s", c.Pack.Body.Kind, scene.Um(c.Pack.Body.A), upright),
		cure+"give it a flat place, such as a lid or a tag, or an EAN-8 number; or write codes: none in the pack")
	f.Severity, f.Source = finding.Warning, code.BendSource()
	out.Add(f)
	return out
}
