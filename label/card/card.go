// Package card draws what goes with the goods besides their labels: price and shelf cards, lot stickers, and the
// page that a printer is set right with.
//
//	front, err := card.Front(&card.Goods{Name: "Hay Meadow", Price: "6.50 EUR"}, stock.Size{W: 85000, H: 55000})
//	back, err := card.Back(...)
//	sticker, err := card.Sticker(&card.Lot{Code: "0614"}, s.Label, s.Round)
//	page, err := card.Calibration(s)
//
// Text is as large as fits, up to a comfortable size, and never smaller than an eye past forty still reads; where
// it does not fit, the error is a [*NoRoom].
package card

import (
	"panelwright/label/code"
	"panelwright/label/font"
	"panelwright/label/scene"
	"panelwright/label/stock"
)

// Goods is what a card says of a product. What is empty is left out, but for the price: a line to write it on
// stands in its place.
type Goods struct {
	Lang     string
	Name     string
	Identity string
	Net      string
	Price    string
	Barcode  code.Number
	Link     string // web address for a QR code
	Notes    []Note // for the back
}

// Note is a paragraph with the words before it, such as "Ingredients:".
type Note struct{ Lead, Text string }

// Measures of a card. Common practice, no source.
const (
	margin   scene.Um = 5 * scene.Mm
	codeGap  scene.Um = 2 * scene.Mm
	blank    scene.Um = 26 * scene.Mm // for a price written by hand
	hairline scene.Um = 90
)

// Front returns the front of a price card.
func Front(g *Goods, size stock.Size) (*scene.Scene, error) {
	s := &scene.Scene{W: size.W, H: size.H, Title: g.Name, Lang: g.Lang}
	box := scene.Rect{Left: margin, Top: margin, Right: size.W - margin, Bottom: size.H - margin}
	codes, foot, err := g.codes(box)
	if err != nil {
		return nil, err
	}
	const price = 9 * scene.Mm // room for the price where there is no code to set the height
	low := box
	low.Top, low.Right = box.Bottom-max(box.Bottom-foot.Top, price), foot.Left
	high := box
	high.Bottom = low.Top - codeGap
	words := []para{{text: g.Name, face: display(g.Name), percent: 220}, {text: g.Identity, face: font.Text, percent: 100, before: 25},
		{text: g.Net, face: font.TextBold, percent: 100, before: 45}}
	items, err := stack(high, words, left, upper, 4200)
	if err != nil {
		return nil, err
	}
	s.Items = items
	if g.Price != "" {
		items, err := stack(low, []para{{text: g.Price, face: font.TextBold, percent: 100, whole: true}}, left, lower, 9*scene.Mm)
		if err != nil {
			return nil, err
		}
		s.Items = append(s.Items, items...)
	} else {
		s.Items = append(s.Items, scene.Line(low.Left, low.Bottom, min(low.Left+blank, low.Right), low.Bottom, hairline, scene.Black))
	}
	s.Items = append(s.Items, codes...)
	return s, nil
}

// display returns the face of names, or another where that lacks a letter.
func display(name string) *font.Face {
	if font.Display.Has(name) {
		return font.Display
	}
	return font.TextBold
}

// codes draws the codes at the lower right of a box, the barcode outermost, and returns the room they take. They
// are of the normal size where the card is large, and else as small as is allowed.
func (g *Goods) codes(box scene.Rect) (items []scene.Item, room scene.Rect, err error) {
	room = scene.Rect{Left: box.Right, Right: box.Right, Top: box.Bottom, Bottom: box.Bottom}
	bars, qr := scene.Um(0), scene.Um(0)
	if box.Right-box.Left < 100*scene.Mm {
		bars, qr = 264, 396
	}
	var symbols []*code.Symbol
	if g.Barcode != "" {
		s, err := code.Bars(g.Barcode, bars)
		if err != nil {
			return nil, room, err
		}
		symbols = append(symbols, s)
	}
	if g.Link != "" {
		s, err := code.QR(g.Link, qr)
		if err != nil {
			return nil, room, err
		}
		symbols = append(symbols, s)
	}
	for _, s := range symbols {
		room.Left -= s.W
		room.Top = min(room.Top, box.Bottom-s.H)
		items = append(items, s.At(room.Left, box.Bottom-s.H)...)
		room.Left -= codeGap
	}
	if wide := room.Right - room.Left; wide > (box.Right-box.Left)*3/4 {
		return nil, room, &NoRoom{What: "the codes", Wide: wide - (box.Right-box.Left)*3/4}
	}
	if tall := room.Bottom - room.Top; tall > (box.Bottom-box.Top)*2/3 {
		return nil, room, &NoRoom{What: "the codes", High: tall - (box.Bottom-box.Top)*2/3}
	}
	return items, room, nil
}

// Back returns the back of a card: the name and the notes.
func Back(g *Goods, size stock.Size) (*scene.Scene, error) {
	s := &scene.Scene{W: size.W, H: size.H, Title: g.Name, Lang: g.Lang}
	words := []para{{text: g.Name, face: font.TextBold, percent: 120}}
	for _, n := range g.Notes {
		words = append(words, para{lead: n.Lead, text: n.Text, face: font.Text, percent: 100, before: 50})
	}
	var err error
	s.Items, err = stack(scene.Rect{Left: margin, Top: margin, Right: size.W - margin, Bottom: size.H - margin}, words, left, upper, 3300)
	return s, err
}

// Lot is what a lot sticker says. What is empty is left out.
type Lot struct {
	Lang   string
	Name   string
	Lead   string // before the code, such as "Lot"
	Code   string
	Dates  []Date
	Number string // such as "12 of 60"
}

// Date is the words before a date, in all the languages that it is for, and the date.
type Date struct {
	Lead, Text string
	Timer      bool // an egg timer stands for the words, in every language
}

// stickerMargin is narrower than that of a card: stickers are small, and cut where they are cut.
const stickerMargin = 1500

// Sticker returns a lot sticker, round or not.
func Sticker(l *Lot, size stock.Size, round bool) (*scene.Scene, error) {
	s := &scene.Scene{W: size.W, H: size.H, Title: l.Lead + " " + l.Code, Lang: l.Lang}
	box := scene.Rect{Left: stickerMargin, Top: stickerMargin, Right: size.W - stickerMargin, Bottom: size.H - stickerMargin}
	if round { // the largest box of the same proportions in the oval: half axes by the root of two
		x, y := inscribed(size.W/2-stickerMargin), inscribed(size.H/2-stickerMargin)
		box = scene.Rect{Left: size.W/2 - x, Top: size.H/2 - y, Right: size.W/2 + x, Bottom: size.H/2 + y}
		s.Die = scene.Path{Segments: scene.Oval(scene.Point{X: size.W / 2, Y: size.H / 2}, size.W/2, size.H/2, 0)}
	}
	words := []para{{text: l.Name, face: font.Semi, percent: 100}, {text: l.Lead + " " + l.Code, face: font.SemiBold, percent: 140, before: 10}}
	for _, d := range l.Dates {
		if d.Timer {
			words = append(words, para{timer: true, text: d.Text, face: font.SemiBold, percent: 115, before: 10})
			continue
		}
		words = append(words, para{text: d.Lead, tail: d.Text, face: font.Semi, percent: 100, before: 10})
	}
	words = append(words, para{text: l.Number, face: font.Semi, percent: 100, before: 10})
	var err error
	s.Items, err = stack(box, words, centred, middle, 3300)
	return s, err
}

// inscribed returns half a side of the square in a circle of radius r.
func inscribed(r scene.Um) scene.Um { return scene.Um(scene.Root(int64(r * r / 2))) }
