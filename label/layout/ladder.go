package layout

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/look"
	"panelwright/label/market"
	"panelwright/label/scene"
)

// climb sets the copy, trying the steps that the book allows one after the other until it fits. The frame of the
// layout gives way before any of them.
func (d *dressed) climb(c *label.PackCopy) (*Laid, error) {
	steps := d.Ladder
	if steps == nil {
		steps = []label.Step{label.Narrower}
	}
	if c.Pack.Label.Kind == label.Booklet && !slices.Contains(steps, label.FoldOut) {
		steps = append(slices.Clip(steps), label.FoldOut) // it has an inside
	}
	// Narrower letters are weighed against smaller ones from the start where they come first.
	d.widest = normal
	if len(steps) > 0 && steps[0] == label.Narrower {
		d.widest, steps = widths-1, steps[1:]
	}
	whole := d.Look.Frame != look.NoFrame || d.Look.Block != look.NoBlock || d.Look.Strip > 0
	try := func(c *label.PackCopy) ([]*flat, *face, error) {
		d.bare = false
		sheets, full, err := d.fit(c)
		if err != nil || full == nil || !whole {
			return sheets, full, err
		}
		d.bare = true
		return d.fit(c)
	}
	sheets, full, err := try(c)
	if err != nil {
		return nil, err
	}
	out := &Laid{}
	set, first, bare := c, full, d.bare
	var extra []*flat
	for _, step := range steps {
		if full == nil {
			break
		}
		for _, change := range d.changes(step, set, c) {
			if sheets, full, err = try(change.copy); err != nil {
				return nil, err
			}
			if full == nil || step == label.Narrower || step == label.SecondPanel {
				set = change.copy
				extra = append(extra, change.sheets...)
				out.Findings = append(out.Findings, change.notes...)
				break
			}
		}
	}
	if full != nil {
		d.bare = bare
		d.widest = widths - 1
		return nil, d.noRoom(c, first)
	}
	if d.bare {
		out.Findings.Add(d.note(c, "pack.no-frame", fmt.Sprintf("the layout %s draws more than the text leaves room for; its frame was left out", d.Look.Name),
			"take a larger label or another layout: if it matters"))
	}
	for _, s := range append(sheets, extra...) {
		if s.blank() {
			continue
		}
		out.Scenes = append(out.Scenes, s.draw(set, d))
	}
	out.Findings = append(out.Findings, d.grain(c, out.Scenes)...)
	return out, nil
}

// fit deals the copy to the faces and solves each; full is the first that does not hold its blocks.
func (d *dressed) fit(c *label.PackCopy) (sheets []*flat, full *face, err error) {
	if sheets, err = d.deal(c); err != nil {
		return nil, nil, err
	}
	for _, s := range sheets {
		for _, f := range s.faces {
			if f.empty() {
				continue
			}
			if f.best = f.solve(); f.best == nil {
				return sheets, f, nil
			}
		}
	}
	return sheets, nil, nil
}

// empty reports whether nothing was dealt to the face.
func (f *face) empty() bool { return len(f.front)+len(f.net)+len(f.back) == 0 }

// blank reports whether nothing stands on the sheet.
func (s *flat) blank() bool {
	for _, f := range s.faces {
		if f.best != nil {
			return false
		}
	}
	return true
}

// change is what a step makes of a label: the copy that stays, and the sheets that go with it.
type change struct {
	copy   *label.PackCopy
	sheets []*flat
	notes  finding.List
}

// changes returns what a step can do, the least first. The copy as it stands after earlier steps is set; all is
// the copy of the book.
func (d *dressed) changes(step label.Step, set, all *label.PackCopy) []change {
	switch step {
	case label.Narrower:
		d.widest = widths - 1
		return []change{{copy: set}}
	case label.SecondPanel:
		if set.Pack.Back.Kind != label.NoShape || !single(set.Pack.Label.Kind) {
			return nil
		}
		c, p := *set, *set.Pack
		p.Back = p.Label
		p.Back.Overlap = 0
		c.Pack = &p
		return []change{{copy: &c, notes: finding.List{d.note(all, "pack.second-label",
			fmt.Sprintf("the text does not fit on the label of %s; a second label of that size was added for the back of the pack", dimensions(p.Label)),
			"stick both on each piece, or write back: with the size you want")}}}
	}
	var out []change
	for n := 1; n <= 3; n++ {
		if ch, ok := d.leave(step, set, n); ok {
			out = append(out, ch)
		}
	}
	return out
}

// leave moves statements off the label: the list alone, then the precautions too, then the directions. It is
// false where the law of a market keeps the first of them on the label, or where nothing more would move.
func (d *dressed) leave(step label.Step, set *label.PackCopy, n int) (change, bool) {
	kinds := []label.StatementKind{label.ListText, label.CautionText, label.DirectionsText}[:n]
	c := *set
	var moved []label.Statement
	c.Back = nil
	last := false
	var cites []finding.Citation
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
			goes = may || s.Kind == label.DirectionsText // directions as such are asked for by no market
			cites = append(cites, why...)
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
	c.Back = append(c.Back, notices(step, moved, set.Languages)...)
	sheet, name := d.elsewhere(step, set, moved)
	if sheet == nil {
		return change{}, false
	}
	note := d.note(set, "pack.elsewhere", fmt.Sprintf("the text does not fit on the label of %s; %s now stand on %s, and the label points to it",
		dimensions(set.Pack.Label), movedWords(moved), name),
		"put one with every piece; without it the pack does not say all it must")
	if len(cites) > 0 {
		note.Source = cites[0]
	}
	return change{copy: &c, sheets: []*flat{sheet}, notes: finding.List{note}}, true
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

// notices returns what the label says of the statements that have left it: the hand in the open book where the
// law knows it, words where it does not.
func notices(step label.Step, moved []label.Statement, languages []string) []label.Statement {
	var out []label.Statement
	symbol := label.Statement{Kind: label.NoticeText}
	var words label.Statement
	for _, s := range moved {
		for _, m := range s.Markets {
			h := market.Height{Min: s.Height.Min, On: market.LowerO, Rule: s.Height.Rule, Source: s.Height.Source}
			if m == inci.US || m == inci.CA {
				if words.Kind = label.NoticeText; h.Min > words.Height.Min {
					words.Height = h
				}
				words.Markets = append(words.Markets, m)
				continue
			}
			symbol.Markets = append(symbol.Markets, m)
		}
	}
	if words.Markets != nil {
		var all []string
		for _, l := range languages {
			if w := pointers[l]; w != nil {
				all = append(all, w[step])
			}
		}
		words.Text = strings.Join(all, " / ")
		if words.Text == "" {
			words.Text = pointers["en"][step]
		}
		out = append(out, words)
	}
	if symbol.Markets != nil {
		out = append(out, symbol)
	}
	return out
}

// pointers are the words that point to a list that stands elsewhere. No law prescribes them; common practice, no
// source. The markets that know the hand in the open book need no words.
var pointers = map[string]map[label.Step]string{
	"en": {label.FoldOut: "Ingredients inside", label.Leaflet: "Ingredients: see leaflet", label.TagCard: "Ingredients: see tag"},
	"fr": {label.FoldOut: "Ingrédients à l’intérieur", label.Leaflet: "Ingrédients : voir la notice", label.TagCard: "Ingrédients : voir l’étiquette volante"},
}

// sizes in millimetres of leaflets (A7, A6, A5) and tags that are tried. Common practice, no source.
var (
	leaflets = [][2]int64{{74, 105}, {105, 148}, {148, 210}}
	tags     = [][2]int64{{45, 80}, {55, 90}, {70, 120}, {90, 140}}
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
		return s, "a " + name + " of " + dimensions(shape)
	}
	return nil, ""
}

// plain returns how a sheet looks that goes with a label: no ornament.
func (d *dressed) plain() *dressed {
	out := *d
	out.Look, out.Logo, out.bare, out.widest = look.Plain, nil, false, widths-1
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

// dimensions words the size of a label.
func dimensions(s label.Shape) string {
	if s.Kind == label.Round {
		return scene.Um(s.W).String() + " across"
	}
	return strings.TrimSuffix(scene.Um(s.W).String(), " mm") + " x " + scene.Um(s.H).String()
}

// note returns a finding that says what was done.
func (d *dressed) note(c *label.PackCopy, rule finding.Code, message, cure string) finding.Finding {
	return finding.Finding{Rule: rule, Severity: finding.Note, Where: c.Pack.Pos, Product: c.Name, Message: message, Cure: cure}
}

// leastDensity is how many dots an inch a picture needs to print without steps. Common practice, no source.
const leastDensity = 200

// grain warns of a picture that prints coarse.
func (d *dressed) grain(c *label.PackCopy, scenes []scene.Scene) (out finding.List) {
	if d.Logo == nil {
		return nil
	}
	for _, s := range scenes {
		for _, item := range s.Items {
			m, ok := item.(*scene.Image)
			if !ok {
				continue
			}
			wide := m.Box.Right - m.Box.Left
			if n := d.Logo.Density(wide); n < leastDensity {
				f := d.note(c, "pack.picture", fmt.Sprintf("the picture %s has %d dots an inch where it is %v wide; it will look coarse", d.Logo.Name, n, wide),
					fmt.Sprintf("use one with at least %d dots across, or a drawing (SVG)", int64(wide)*leastDensity/int64(scene.Inch)+1))
				f.Severity = finding.Warning
				out.Add(f)
				return out
			}
		}
	}
	return out
}
