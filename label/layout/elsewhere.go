package layout

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/look"
	"panelwright/label/market"
)

// leave moves statements off the label: the list alone, then the precautions too, then the directions. It is
// false where the law of a market keeps the first of them on the label, or where nothing more would move.
func (d *dressed) leave(step label.Step, set *label.PackCopy, n int) (change, bool) {
	kinds := []label.StatementKind{label.ListText, label.CautionText, label.DirectionsText}[:n]
	c := *set
	var moved []label.Statement
	c.Back = nil
	last := false
	var rungs []market.Escape
	for i := range set.Back {
		s := &set.Back[i]
		goes, rank := false, -1
		for r, k := range kinds {
			if s.Kind == k {
				rank = r
			}
		}
		if rank >= 0 {
			why, may := set.MayLeave(s, step)
			may = may && !slices.ContainsFunc(why, func(e market.Escape) bool { return e.Rung > d.rung })
			goes = may || s.Kind == label.DirectionsText // directions as such are asked for by no market
			rungs = append(rungs, why...)
		}
		if !goes {
			c.Back = append(c.Back, *s)
			continue
		}
		last = last || rank == n-1
		moved = append(moved, *s)
	}
	if !last || len(moved) == 0 || moved[0].Kind == label.DirectionsText {
		return change{}, false
	}
	if step == label.Website && (set.Product == nil || set.Product.LinkOn(set.Pack) == "") {
		return change{}, false // there is no address to name
	}
	c.Back = append(c.Back, notices(step, moved, set)...)
	if step == label.Website {
		return change{copy: &c, notes: finding.List{d.told(set, moved, "the page "+set.Product.LinkOn(set.Pack), "keep the list on that page for as long as packs are sold", rungs)}}, true
	}
	sheet, name := d.elsewhere(step, set, moved)
	if sheet == nil {
		return change{}, false
	}
	cure := "put one with every piece; without it the pack does not say all it must"
	if step == label.ShelfNotice {
		cure = "put it beside the product wherever that is sold; without it the buyer is not told all that the law asks"
	}
	return change{copy: &c, sheets: []*flat{sheet}, notes: finding.List{d.told(set, moved, name, cure, rungs)}}, true
}

// told says what has moved where, and on what terms the law of the markets lets it. Where it is not the first
// choice of the law only the maker can tell whether the terms are met.
func (d *dressed) told(c *label.PackCopy, moved []label.Statement, place, cure string, rungs []market.Escape) finding.Finding {
	points := ", and the label points to it"
	var terms []string
	later := false
	for _, r := range rungs {
		if r.Pointer == market.NoPointer {
			points = ""
		}
		if r.When != "" && !slices.Contains(terms, r.When) {
			terms = append(terms, r.When)
		}
		later = later || r.Rung > 1
	}
	if len(terms) > 0 {
		points += "; the law lets them where " + strings.Join(terms, ", and where ")
	}
	f := d.note(c, "pack.elsewhere", fmt.Sprintf("the text does not fit on the label of %s; %s now stand on %s%s",
		dimensions(c.Pack.Label), movedWords(moved), place, points), cure)
	if later {
		f.Severity = finding.Warning
	}
	if len(rungs) > 0 {
		f.Source = rungs[0].Source
	}
	return f
}

// movedWords names the kinds of statements that have moved.
func movedWords(moved []label.Statement) string {
	var all []string
	for _, s := range moved {
		w := map[label.StatementKind]string{label.ListText: "the ingredients", label.CautionText: "the cautions", label.DirectionsText: "the directions"}[s.Kind]
		if !slices.Contains(all, w) {
			all = append(all, w)
		}
	}
	if n := len(all); n > 1 {
		return strings.Join(all[:n-1], ", ") + " and " + all[n-1]
	}
	return all[0]
}

// notices returns what the label says of the statements that have left it: the hand in the open book where the law
// knows it, words or an address where it does not, nothing where it asks for nothing.
func notices(step label.Step, moved []label.Statement, c *label.PackCopy) []label.Statement {
	symbol, words := label.Statement{Kind: label.NoticeText}, label.Statement{Kind: label.NoticeText}
	address := false
	for i := range moved {
		s := &moved[i]
		rungs, _ := c.MayLeave(s, step)
		for k, r := range rungs { // one for each market
			m := s.Markets[k]
			switch r.Pointer {
			case market.ByHand:
				symbol.Markets = append(symbol.Markets, m)
			case market.ByWords, market.ByAddress:
				address = address || r.Pointer == market.ByAddress
				if s.Height.Min > words.Height.Min {
					words.Height = market.Height{Min: s.Height.Min, On: market.LowerO, Rule: s.Height.Rule, Source: s.Height.Source}
				}
				words.Markets = append(words.Markets, m)
			}
		}
	}
	var out []label.Statement
	if words.Markets != nil {
		words.Text = pointing(step, c.Languages)
		if address {
			_, bare, _ := strings.Cut(c.Product.LinkOn(c.Pack), "://")
			words.Text += ": " + strings.TrimSuffix(bare, "/")
		}
		out = append(out, words)
	}
	if symbol.Markets != nil {
		out = append(out, symbol)
	}
	return out
}

// pointing returns the words that point to where a list stands, in those of the languages that a market asks words
// in: no other market than the United States and Canada does.
func pointing(step label.Step, languages []string) string {
	var all []string
	for _, l := range languages {
		if w := pointers[l]; w != nil {
			all = append(all, w[step])
		}
	}
	if all == nil {
		return pointers["en"][step]
	}
	return strings.Join(all, " / ")
}

// pointers are the words that point to a list that stands elsewhere. No law prescribes them; common practice, no
// source. The markets that know the hand in the open book need no words.
var pointers = map[string]map[label.Step]string{
	"en": {label.FoldOut: "Ingredients inside", label.Leaflet: "Ingredients: see leaflet", label.TagCard: "Ingredients: see tag", label.Website: "Ingredients"},
	"fr": {label.FoldOut: "Ingrédients à l’intérieur", label.Leaflet: "Ingrédients : voir la notice", label.TagCard: "Ingrédients : voir l’étiquette volante", label.Website: "Ingrédients"},
}

// sizes in millimetres of leaflets (A8, A7, A6, A5), tags and notices that are tried. Common practice, no source.
var (
	leaflets = [][2]int64{{52, 74}, {74, 105}, {105, 148}, {148, 210}}
	tags     = [][2]int64{{45, 80}, {55, 90}, {70, 120}, {90, 140}}
	shelves  = [][2]int64{{105, 74}, {148, 105}, {210, 148}}
)

// elsewhere returns the sheet that holds what has left the label, and what it is called; nil where it does not
// fit there either.
func (d *dressed) elsewhere(step label.Step, c *label.PackCopy, moved []label.Statement) (*flat, string) {
	if step == label.FoldOut {
		return d.inside(c, moved)
	}
	var shapes []label.Shape
	name := step.String()
	switch step {
	case label.Leaflet:
		for _, s := range leaflets {
			shapes = append(shapes, label.Shape{Kind: label.Rectangle, W: s[0] * 1000, H: s[1] * 1000})
		}
	case label.ShelfNotice:
		for _, s := range shelves {
			shapes = append(shapes, label.Shape{Kind: label.Rectangle, W: s[0] * 1000, H: s[1] * 1000})
		}
	case label.TagCard:
		for _, s := range tags {
			shapes = append(shapes, label.Shape{Kind: label.HangTag, W: s[0] * 1000, H: s[1] * 1000})
		}
	}
	plain := d.plain()
	for _, shape := range shapes {
		page := *c
		page.Front, page.Back = nil, moved
		for _, s := range c.Front {
			if s.Kind == label.TitleText {
				page.Front = append(page.Front, s) // a loose page says what it belongs to
			}
		}
		page.Pack = &label.Pack{Label: shape, Pos: c.Pack.Pos}
		sheets, full, err := plain.fit(&page)
		if err != nil || full != nil {
			continue
		}
		s := sheets[0]
		s.name = name
		if step == label.ShelfNotice {
			s.name = "notice for the shelf"
			name = s.name
		}
		return s, "a " + name + " of " + dimensions(shape)
	}
	return nil, ""
}

// plain returns how a sheet looks that goes with a label: no ornament, and a small name.
func (d *dressed) plain() *dressed {
	out := *d
	lk := *look.Plain
	lk.Title = d.Look.Title
	out.Look, out.Logo, out.Scans, out.sheet, out.widest = &lk, nil, nil, true, widths-1
	return &out
}

// inside returns the inside of the label as a card folded once, its statements on the left panel and, where
// that is full, on the right; nil where it cannot be folded or does not hold them.
func (d *dressed) inside(c *label.PackCopy, moved []label.Statement) (*flat, string) {
	shape := c.Pack.Label
	switch shape.Kind {
	case label.Rectangle, label.Rounded, label.Band:
		shape = label.Shape{Kind: label.Folded, W: 2 * shape.W, H: shape.H}
	case label.Folded, label.Booklet:
	default:
		return nil, ""
	}
	plain := d.plain()
	for left := len(moved); left > 0; left-- {
		out := plain.flat("inside", shape, c.Pack.Body)
		right := out.faces[0]
		out.faces[0], out.faces[1] = out.faces[1], right // the left panel is read first
		full := false
		for i := range moved {
			b, err := plain.newBlock(&moved[i])
			if err != nil || b == nil {
				return nil, ""
			}
			f := out.faces[0]
			if i >= left {
				f = right
			}
			f.back = append(f.back, b)
		}
		for _, f := range out.faces {
			if f.back = rows(f.back); !f.empty() {
				f.best = f.solve()
				full = full || f.best == nil
			}
		}
		if !full {
			return out, "the inside of a label folded once, " + dimensions(shape) + " flat"
		}
	}
	return nil, ""
}
