package layout

import (
	"panelwright/label"
	"panelwright/label/scene"
)

// logoBlock is the maker's picture, above the name.
func (d *dressed) logoBlock() *block {
	return &block{d: d, s: &label.Statement{Kind: label.TitleText}, role: roleTitle, scale: 100, logo: d.Logo}
}

// setLogo gives the picture its box: twice as high as the name, and no wider than two thirds of its room.
func (c *column) setLogo(b *block, z sizes, y scene.Um) (scene.Um, bool) {
	if c.flat {
		return y, true // it is the higher, the more room it has: what is sought is the least
	}
	tall := z.title * 2
	left, right := c.chord(y, y+tall)
	if right <= left {
		return y, false
	}
	wide := min((right-left)*2/3, tall*scene.Um(b.logo.W)/scene.Um(b.logo.H))
	if c.centred {
		left += (right - left - wide) / 2
	}
	tall = wide * scene.Um(b.logo.H) / scene.Um(b.logo.W)
	c.lines = append(c.lines, line{a: int(y), b: int(y + tall), left: left, right: left + wide})
	return y + tall, wide > 0 && tall > 0
}

// drawLogo returns the picture in the box that setLogo gave it.
func drawLogo(b *block, at line) []scene.Item {
	return b.logo.In(scene.Rect{Left: at.left, Top: scene.Um(at.a), Right: at.right, Bottom: scene.Um(at.b)})
}
