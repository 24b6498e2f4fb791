package book

import (
	"fmt"
	"io/fs"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula/exact"
	"panelwright/formula/quantity"
	"panelwright/label/scene"
	"panelwright/label/stock"
	"panelwright/templates"
)

var stockKeys = []string{"stock", "paper", "labels", "size", "corner", "margins", "gaps", "pitch",
	"printer edge", "bleed", "turn", "crop marks", "offset", "scale"}

// SampleStocks returns the stocks described in templates/stocks.
func SampleStocks() []*stock.Stock {
	files, err := fs.Sub(templates.Stocks, "stocks")
	if err != nil {
		panic(err) // embedded
	}
	b, found := LoadFS(files)
	if len(found) > 0 {
		panic(found[0].Line()) // embedded, see TestSampleStocks
	}
	return b.Stocks
}

// readStocks reads the stocks of blank labels.
func (l *loader) readStocks() {
	named := map[string]*page{}
	for _, p := range l.pages {
		if p.kind != "stock" {
			continue
		}
		name, ok := p.text(p.name, "the name of the stock")
		if !ok {
			continue
		}
		if before := named[foldName(name)]; before != nil {
			p.fail("book.repeated-name", p.name, fmt.Sprintf("“%s” is already a stock, on %s", clip(name), before.at(before.name)), "give one of them another name")
			continue
		}
		named[foldName(name)] = p
		if s := p.stock(name); s != nil {
			l.Stocks = append(l.Stocks, s)
		}
	}
}

// margins are the distances from the edges of the paper, of which two opposite ones and the labels between give
// the gaps. A nil one is not written.
type margins struct{ left, right, top, bottom *scene.Um }

// stock reads one stock; nil where something is wrong with it.
func (p *page) stock(name string) *stock.Stock {
	before := len(p.out)
	s := &stock.Stock{Name: name, Pos: p.at(p.name), Columns: 1, Rows: 1, ScaleX: stock.Whole, ScaleY: stock.Whole}
	var m margins
	var across, down *scene.Um // from label to label
	gaps := false
	at := map[string]*yaml.Node{}
	for _, e := range p.known(p.root, "a stock", "", stockKeys) {
		at[e.key] = e.k
		switch e.key {
		case "paper":
			s.Paper = p.paper(e.v)
		case "labels":
			s.Columns, s.Rows = p.grid(e.v)
		case "size":
			s.Label, s.Round = p.cellSize(e.v)
		case "corner":
			s.Corner, _ = p.signed(e.v, "the corner")
		case "margins":
			p.sides(e.v, "margins", []string{"left", "right", "top", "bottom"}, []**scene.Um{&m.left, &m.right, &m.top, &m.bottom})
		case "gaps", "pitch":
			gaps = e.key == "gaps"
			p.sides(e.v, e.key, []string{"across", "down"}, []**scene.Um{&across, &down})
		case "printer edge":
			s.Edge, _ = p.signed(e.v, "the printer's edge")
		case "bleed":
			s.Bleed, _ = p.signed(e.v, "the bleed")
		case "turn":
			s.Turn = p.yes(e.v, "turn")
		case "crop marks":
			s.CropMarks = p.yes(e.v, "crop marks")
		case "offset":
			var x, y *scene.Um
			p.sides(e.v, "offset", []string{"x", "y"}, []**scene.Um{&x, &y})
			s.OffsetX, s.OffsetY = value(x), value(y)
		case "scale":
			s.ScaleX, s.ScaleY = p.scales(e.v)
		}
	}
	if len(p.out) > before || p.torn[p.root] {
		return nil
	}
	if at["size"] == nil {
		p.fail("book.missing-key", p.name, "the stock does not say how large a label is", "add size: 63.5 x 38.1 mm, or size: round 40 mm")
		return nil
	}
	if at["gaps"] != nil && at["pitch"] != nil {
		p.fail("book.stock", at["pitch"], "the stock has gaps and a pitch", "keep one of them: a pitch is a label and a gap")
		return nil
	}
	if at["paper"] == nil { // a label printer
		if s.Cells() > 1 {
			p.fail("book.missing-key", p.name, fmt.Sprintf("the stock has %d x %d labels on a sheet of no size", s.Columns, s.Rows), "add paper: A4, letter, or its width and height")
			return nil
		}
		s.Paper = s.Label
		m.left, m.top = new(scene.Um), new(scene.Um)
	}
	if gaps {
		across, down = plus(across, s.Label.W), plus(down, s.Label.H)
	}
	var okX, okY bool
	s.Left, s.Across, okX = p.axis("left", "right", "across", s.Columns, s.Label.W, s.Paper.W, m.left, m.right, across)
	s.Top, s.Down, okY = p.axis("top", "bottom", "down", s.Rows, s.Label.H, s.Paper.H, m.top, m.bottom, down)
	if !okX || !okY {
		return nil
	}
	for _, bad := range s.Check() {
		p.fail("book.stock", p.name, bad.Message, bad.Cure)
	}
	if len(p.out) > before {
		return nil
	}
	return s
}

func value(u *scene.Um) scene.Um {
	if u == nil {
		return 0
	}
	return *u
}

func plus(u *scene.Um, more scene.Um) *scene.Um {
	if u == nil {
		return nil
	}
	sum := *u + more
	return &sum
}

// mostAstray is by how much the measures of a sheet may fail to add up: a ruler is read to half a millimetre.
// Common practice, no source.
const mostAstray = 500

// axis works out where the first of n labels begins and how far apart they are, in one direction, from what is
// written of it.
func (p *page) axis(first, last, way string, n int, size, paper scene.Um, near, far, pitch *scene.Um) (start, step scene.Um, ok bool) {
	many := scene.Um(n - 1)
	if near == nil && far == nil {
		p.fail("book.missing-key", p.name, fmt.Sprintf("the stock does not say where on the paper the labels begin: no margin at the %s", first),
			fmt.Sprintf("add margins: {%s: …}", first))
		return 0, 0, false
	}
	if n > 1 && pitch == nil {
		if near == nil || far == nil {
			p.fail("book.missing-key", p.name, fmt.Sprintf("the stock does not say how far apart its labels are (%s)", way),
				fmt.Sprintf("add gaps: {%s: …} or pitch: {%s: …}, or both margins", way, way))
			return 0, 0, false
		}
		step := size + (paper-*near-*far-scene.Um(n)*size)/many
		return *near, step, true
	}
	step = size
	if pitch != nil {
		step = *pitch
	}
	if near == nil {
		return paper - *far - many*step - size, step, true
	}
	if far != nil {
		if sum := *near + many*step + size + *far; sum-paper > mostAstray || paper-sum > mostAstray {
			p.fail("book.stock", p.name, fmt.Sprintf("the measures do not add up: %v + %d x %v + %v + %v = %v, and the paper is %v", *near, many, step, size, *far, sum, paper),
				fmt.Sprintf("measure again from the %s to the %s, or leave one of the two margins out", first, last))
			return 0, 0, false
		}
	}
	return *near, step, true
}

// paper reads the size of a sheet.
func (p *page) paper(n *yaml.Node) stock.Size {
	text, ok := p.text(n, "the paper")
	if !ok {
		return stock.Size{}
	}
	switch strings.ToLower(text) {
	case "a4":
		return stock.A4
	case "letter", "us letter":
		return stock.Letter
	case "a4 landscape":
		return stock.Size{W: stock.A4.H, H: stock.A4.W}
	case "letter landscape":
		return stock.Size{W: stock.Letter.H, H: stock.Letter.W}
	}
	return p.size(n, text, "A4, letter, or a width and a height, as in 210 x 297 mm")
}

// size reads a width and a height.
func (p *page) size(n *yaml.Node, text, cure string) stock.Size {
	all, err := quantity.ParseLengths(text)
	if err != nil || len(all) != 2 {
		p.fail("book.stock", n, fmt.Sprintf("“%s” is no width and height", clip(text)), "write "+cure)
		return stock.Size{}
	}
	return stock.Size{W: scene.Um(micrometres(all[0])), H: scene.Um(micrometres(all[1]))}
}

// cellSize reads the size of one label, and whether it is round.
func (p *page) cellSize(n *yaml.Node) (s stock.Size, round bool) {
	text, ok := p.text(n, "the size of a label")
	if !ok {
		return s, false
	}
	const cure = "63.5 x 38.1 mm, round 40 mm or oval 60 x 40 mm"
	word, rest, _ := strings.Cut(text, " ")
	switch strings.ToLower(word) {
	case "round":
		all, err := quantity.ParseLengths(rest)
		if err != nil || len(all) != 1 {
			p.fail("book.stock", n, fmt.Sprintf("“%s” is no diameter", clip(text)), "write "+cure)
			return s, false
		}
		d := scene.Um(micrometres(all[0]))
		return stock.Size{W: d, H: d}, true
	case "oval":
		return p.size(n, rest, cure), true
	}
	return p.size(n, text, cure), false
}

// grid reads how many labels there are across and down.
func (p *page) grid(n *yaml.Node) (columns, rows int) {
	text, ok := p.text(n, "the labels")
	if !ok {
		return 0, 0
	}
	a, b, cut := strings.Cut(strings.ReplaceAll(strings.ToLower(text), "×", "x"), "x")
	var left string
	if !cut || !wholeNumber(a, &columns) || !wholeNumber(b, &rows) {
		left = text
	}
	if left != "" || columns < 1 || rows < 1 {
		p.fail("book.stock", n, fmt.Sprintf("“%s” is no number of labels across and down", clip(text)), "write it as in labels: 3 x 7, across first")
		return 1, 1
	}
	return columns, rows
}

func wholeNumber(s string, to *int) bool {
	_, err := fmt.Sscanf(strings.TrimSpace(s)+"\n", "%d\n", to)
	return err == nil
}

// signed reads one length, which may be below nothing.
func (p *page) signed(n *yaml.Node, what string) (scene.Um, bool) {
	text, ok := p.text(n, what)
	if !ok {
		return 0, false
	}
	digits := strings.TrimLeft(text, "-−+ ")
	all, err := quantity.ParseLengths(digits)
	if text == "0" {
		return 0, true
	}
	if err != nil || len(all) != 1 {
		p.fail("book.stock", n, fmt.Sprintf("%s is written as “%s”", what, clip(text)), "write a length, as in 2.5 mm")
		return 0, false
	}
	um := scene.Um(micrometres(all[0]))
	if strings.HasPrefix(text, "-") || strings.HasPrefix(text, "−") {
		um = -um
	}
	return um, true
}

// sides reads lengths by the names of their sides.
func (p *page) sides(n *yaml.Node, what string, keys []string, to []**scene.Um) {
	cure := fmt.Sprintf("write it as in %s: {%s: 5 mm, %s: 5 mm}", what, keys[0], keys[len(keys)-1])
	for _, e := range p.known(n, what, cure, keys) {
		um, ok := p.signed(e.v, what+" "+e.key)
		if !ok {
			continue
		}
		for i, k := range keys {
			if k == e.key {
				*to[i] = &um
			}
		}
	}
}

// scales reads a scale for both directions, or one for each.
func (p *page) scales(n *yaml.Node) (x, y int64) {
	x, y = stock.Whole, stock.Whole
	if n.Kind != yaml.MappingNode {
		x = p.percentage(n)
		return x, x
	}
	for _, e := range p.known(n, "a scale", "write it as in scale: 100.2 %, or {x: 100.2 %, y: 100 %}", []string{"x", "y"}) {
		if e.key == "x" {
			x = p.percentage(e.v)
		} else {
			y = p.percentage(e.v)
		}
	}
	return x, y
}

// percentage reads a percentage in millionths.
func (p *page) percentage(n *yaml.Node) int64 {
	text, ok := p.text(n, "the scale")
	if !ok {
		return stock.Whole
	}
	number, isPercent := strings.CutSuffix(text, "%")
	r, err := exact.Parse(strings.ReplaceAll(strings.TrimSpace(number), ",", "."))
	if !isPercent || err != nil || r.Sign() <= 0 || exact.Int(1000).Less(r) {
		p.fail("book.stock", n, fmt.Sprintf("the scale is written as “%s”", clip(text)), "write it as in scale: 100.2 %")
		return stock.Whole
	}
	return r.Mul(exact.Int(stock.Whole/100)).Decimal(0, exact.Nearest).IntPart()
}
