package card

import (
	"fmt"
	"strings"

	"panelwright/label/font"
	"panelwright/label/scene"
	"panelwright/label/stock"
)

// Marks of the calibration page.
const (
	tickLong  scene.Um = 8 * scene.Mm
	barEnd    scene.Um = 4 * scene.Mm
	crossAt   scene.Um = 20 * scene.Mm // of both edges, or less on small paper
	crossArm  scene.Um = 3 * scene.Mm
	mostBar   scene.Um = 100 * scene.Mm
	leastPage scene.Um = 60 * scene.Mm // below, there is no room for words
)

var faint = scene.Ink{K: 45}

// Calibration returns the page that shows how a printer lies: rulers along the edges, the cells of the stock with
// their numbers, a bar to measure and a cross to measure from. The page says how to write what was measured into
// the stock; on small labels, where there is no room for words, only a bar and the rulers are drawn.
func Calibration(s *stock.Stock) (*scene.Scene, error) {
	page := &scene.Scene{W: s.Paper.W, H: s.Paper.H, Title: "Calibration of " + s.Name, Lang: "en"}
	page.Items = rulers(s.Paper)
	for n := 1; n <= s.Cells(); n++ {
		c := s.Cell(n)
		path := scene.Rounded(c, s.Corner)
		if s.Round {
			path = scene.Oval(scene.Point{X: (c.Left + c.Right) / 2, Y: (c.Top + c.Bottom) / 2}, s.Label.W/2, s.Label.H/2, 0)
		}
		page.Items = append(page.Items, &scene.Path{Segments: path, Stroke: &faint, Width: hairline})
	}
	bar, words := measures(s)
	page.Items = append(page.Items, bar...)
	y := s.Paper.H * 38 / 100
	if words == nil {
		y = s.Paper.H / 2
	}
	across := barOf(s.Paper.W)
	name, err := stack(scene.Rect{Left: (s.Paper.W - across) / 2, Right: (s.Paper.W + across) / 2, Top: y - 6*scene.Mm, Bottom: y - 1*scene.Mm},
		[]para{{text: "this bar is " + across.String(), face: font.Text, percent: 100, whole: true}}, centred, lower, 3300)
	if err != nil {
		return nil, err
	}
	page.Items = append(page.Items, name...)
	if s.Paper.W < leastPage || s.Paper.H < leastPage {
		numbers, err := cellNumbers(s, scene.Rect{})
		page.Items = append(page.Items, numbers...)
		return page, err
	}
	width := min(s.Paper.W-2*crossAt-10*scene.Mm, 140*scene.Mm)
	box := scene.Rect{Left: (s.Paper.W - width) / 2, Right: (s.Paper.W + width) / 2, Top: s.Paper.H*42/100 + 2*scene.Mm, Bottom: s.Paper.H * 85 / 100}
	_, tall, _, err := set(words, 3300, width)
	if err != nil {
		return nil, err
	}
	if tall < box.Bottom-box.Top {
		box.Bottom = box.Top + tall
	}
	items, err := stack(box, words, left, upper, 3300)
	if err != nil {
		return nil, err
	}
	// A white ground, so that the words can be read over the outlines.
	ground := scene.Rect{Left: box.Left - 3*scene.Mm, Right: box.Right + 3*scene.Mm, Top: box.Top - 3*scene.Mm, Bottom: box.Bottom + 3*scene.Mm}
	page.Items = append(page.Items, &scene.Path{Segments: scene.Rounded(ground, 1500), Fill: &scene.Ink{}, Stroke: &faint, Width: hairline})
	page.Items = append(page.Items, items...)
	numbers, err := cellNumbers(s, ground)
	page.Items = append(page.Items, numbers...)
	return page, err
}

// cellNumbers writes the number of each cell into it: at its top, or where the words of the page stand there, at
// another edge that they leave free. A cell all under the words has none, nor have those of a single row.
func cellNumbers(s *stock.Stock, words scene.Rect) (items []scene.Item, err error) {
	if s.Rows == 1 {
		return nil, nil
	}
	for n := 1; n <= s.Cells(); n++ {
		c := s.Cell(n)
		box, ok := numberBox(c, words, s.Paper.W)
		if !ok {
			continue
		}
		number, err := stack(box, []para{{text: fmt.Sprint(n), face: font.Text, percent: 100}}, centred, upper, numberEm)
		if err != nil {
			return nil, err
		}
		items = append(items, number...)
	}
	return items, nil
}

// Size of the number of a cell and of the room it takes.
const (
	numberEm   scene.Um = 2800
	numberTall scene.Um = 4500
	numberWide scene.Um = 6 * scene.Mm
)

// numberBox returns where the number of a cell goes so that it keeps clear of the words of the page, and of the rulers
// at its sides.
func numberBox(c, words scene.Rect, page scene.Um) (scene.Rect, bool) {
	middle, half := (c.Top+c.Bottom-numberTall)/2, (c.Left+c.Right)/2
	at := func(x, y scene.Um) scene.Rect {
		return scene.Rect{Left: x - numberWide/2, Right: x + numberWide/2, Top: y, Bottom: y + numberTall}
	}
	for _, box := range []scene.Rect{
		{Left: c.Left, Right: c.Right, Top: c.Top + 1000, Bottom: c.Top + 1000 + numberTall},
		at(half, c.Bottom-1000-numberTall), at(max(c.Left, tickLong*3/2)+numberWide/2, middle), at(min(c.Right, page-tickLong*3/2)-numberWide/2, middle),
	} {
		ink := at((box.Left+box.Right)/2, box.Top)
		if !ink.Overlaps(words) {
			return box, true
		}
	}
	return scene.Rect{}, false
}

// rulers draws millimetres along all four edges of the paper. Every fifth tick begins at the edge itself, and shows
// by what is missing of it how much the printer cannot reach.
func rulers(p stock.Size) (items []scene.Item) {
	long := min(tickLong, p.W/6, p.H/6)
	for at := 5 * scene.Mm; at < p.W; at += scene.Mm {
		if from, to, ok := tickAt(at, p.W, long); ok {
			items = append(items, scene.Line(at, from, at, to, hairline, scene.Black), scene.Line(at, p.H-to, at, p.H-from, hairline, scene.Black))
		}
	}
	for at := 5 * scene.Mm; at < p.H; at += scene.Mm {
		if from, to, ok := tickAt(at, p.H, long); ok {
			items = append(items, scene.Line(from, at, to, at, hairline, scene.Black), scene.Line(p.W-to, at, p.W-from, at, hairline, scene.Black))
		}
	}
	return items
}

// tickAt returns where the tick at a distance from the corner of a side begins and ends; in the corners there are
// only the long ones.
func tickAt(at, side, long scene.Um) (from, to scene.Um, ok bool) {
	switch corner := min(at, side-at) < long*3/2; {
	case at%(10*scene.Mm) == 0:
		return 0, long * 3 / 2, true
	case at%(5*scene.Mm) == 0:
		return 0, long, !corner || at == 5*scene.Mm
	default:
		return long * 3 / 4, long, !corner
	}
}

// measures draws the bars and the cross, and words what to do with them.
func measures(s *stock.Stock) (items []scene.Item, words []para) {
	across, down := barOf(s.Paper.W), barOf(s.Paper.H)
	x, y := (s.Paper.W-across)/2, s.Paper.H*38/100
	if s.Paper.W < leastPage || s.Paper.H < leastPage {
		return bar(x, s.Paper.H/2, across, 0), nil
	}
	items = append(items, bar(x, y, across, 0)...)
	upright := min(30*scene.Mm, s.Paper.W/4)
	items = append(items, bar(upright, (s.Paper.H-down)/2, 0, down)...)
	cx, cy := min(crossAt, s.Paper.W/4), min(crossAt, s.Paper.H/4)
	items = append(items,
		scene.Line(cx-crossArm, cy, cx+crossArm, cy, 2*hairline, scene.Black),
		scene.Line(cx, cy-crossArm, cx, cy+crossArm, 2*hairline, scene.Black))
	say := func(lead, format string, args ...any) {
		text := strings.NewReplacer(" mm", "\u00a0mm", " %", "\u00a0%").Replace(fmt.Sprintf(format, args...))
		words = append(words, para{lead: lead, text: text, face: font.Text, percent: 100, before: 45})
	}
	say("Print at actual size", "(100 %%), with no fitting to the page, on plain paper.")
	say("1. The size.", "The bar across is %v and the upright bar %v. Measure them. New scale x = %s x %d / what you measured; "+
		"new scale y = %s x %d / what you measured. Write them into the stock: scale: {x: %s, y: %s}, and print this page again.",
		across, down, number(s.ScaleX), across/scene.Mm, number(s.ScaleY), down/scene.Mm, number(s.ScaleX), number(s.ScaleY))
	say("2. The place.", "The cross stands %v from the left edge of the paper and %v from the top. Measure it. New offset x = %v + %v - what you "+
		"measured from the left; new offset y = %v + %v - what you measured from the top. Write: offset: {x: %v, y: %v}",
		cx, cy, s.OffsetX, cx, s.OffsetY, cy, s.OffsetX, s.OffsetY)
	say("3. The edge.", "The rulers count millimetres from the edges of the paper, and every fifth tick begins at the edge itself and is "+
		"8 or 12 mm long. What is missing of it is what the printer cannot reach. Write: printer edge: %v, or more.", s.Edge)
	say("4. The cells.", "Hold this page on a sheet of labels against the light. The outlines must lie on the labels.")
	words = append(words, para{text: fmt.Sprintf("%s: offset %v, %v; scale %s, %s", s.Name, s.OffsetX, s.OffsetY, number(s.ScaleX), number(s.ScaleY)),
		face: font.TextBold, percent: 100, before: 45})
	return items, words
}

// number prints a scale, such as "100.2 %".
func number(millionths int64) string { return stock.Percent(millionths) }

// barOf returns the length of the bar for a side of the paper: 100 mm, or the tens of millimetres that fit.
func barOf(side scene.Um) scene.Um {
	return min(mostBar, max((side-20*scene.Mm)/(10*scene.Mm)*(10*scene.Mm), 10*scene.Mm))
}

// bar draws a measure with a stroke across both ends; its length is from the middle of one to that of the other.
func bar(x, y, w, h scene.Um) []scene.Item {
	dx, dy := scene.Um(0), barEnd/2
	if h > 0 {
		dx, dy = barEnd/2, 0
	}
	return []scene.Item{
		scene.Line(x, y, x+w, y+h, 3*hairline, scene.Black),
		scene.Line(x-dx, y-dy, x+dx, y+dy, hairline, scene.Black),
		scene.Line(x+w-dx, y+h-dy, x+w+dx, y+h+dy, hairline, scene.Black),
	}
}
