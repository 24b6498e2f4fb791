package layout

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/label"
	"panelwright/label/look"
	"panelwright/label/scene"
)

// climb sets the copy, trying the steps that the book allows one after the other until it fits. The frame of the
// layout gives way before any of them.
func (d *dressed) climb(c *label.PackCopy) (*Laid, error) {
	steps := d.steps(c)
	// Narrower letters are weighed against smaller ones from the start where they come first.
	d.widest = normal
	if len(steps) > 0 && steps[0] == label.Narrower {
		d.widest, steps = widths-1, steps[1:]
	}
	widest := d.widest
	try, err := d.whole(c)
	if err != nil {
		return nil, err
	}
	first, timed := try, false
	if try.full != nil {
		with, still, err := d.timer(c)
		switch {
		case err != nil:
			return nil, err
		case still != nil:
			first, timed = attempt{set: c, sheets: with, full: still}, true // what is said to be lacking is the least that does
		case with != nil:
			try.sheets, try.full = with, nil
			try.notes.Add(d.timerNote(c))
		}
	}
	if err := d.try(&try, steps, c); err != nil {
		return nil, err
	}
	if try.full != nil && timed {
		d.EggTimer = label.SaidYes
		if len(steps) > 0 { // the date stays on the pack: the timer, where its words do not fit beside what has not left
			d.widest, try = widest, first
			try.notes = finding.List{d.timerNote(c)}
			if err := d.try(&try, steps, c); err != nil {
				return nil, err
			}
		}
	}
	switch {
	case try.full == nil:
		return d.laid(c, &try), nil
	case d.ease():
		if timed {
			d.EggTimer = label.Unsaid
		}
		return d.climb(c)
	}
	return nil, d.noRoom(c, &first, &try)
}

// whole sets the copy without any step. A small barcode, and one that bends too far, come before text that leaves the
// label.
func (d *dressed) whole(c *label.PackCopy) (a attempt, err error) {
	a = attempt{set: c}
	if a.sheets, a.full, err = d.fit(c); err != nil || a.full == nil {
		return a, err
	}
	was := *d
	for d.ease() {
		if sheets, full, err := d.fit(c); err != nil || full == nil {
			return attempt{set: c, sheets: sheets}, err
		}
	}
	d.small, d.lies, d.large, d.stood, d.bent = was.small, was.lies, was.large, was.stood, was.bent
	return a, nil
}

// laid draws a copy that fits, and says what was done for it.
func (d *dressed) laid(c *label.PackCopy, try *attempt) *Laid {
	out := &Laid{Findings: try.notes}
	if bare(try.sheets) {
		out.Findings.Add(d.note(c, "pack.no-frame", fmt.Sprintf("the layout %s draws more than the text leaves room for; its frame was left out", d.Look.Name),
			"take a larger label or another layout: if it matters"))
	}
	for _, s := range append(try.sheets, try.extra...) {
		if s.blank() {
			continue
		}
		out.Scenes = append(out.Scenes, s.draw(try.set, d))
	}
	out.Findings = append(out.Findings, d.grain(c, out.Scenes)...)
	out.Findings = append(out.Findings, d.curved(c)...)
	return out
}

// attempt is how far the steps have come.
type attempt struct {
	set    *label.PackCopy // the copy that stays on the label
	sheets []*flat
	full   *face   // the first that does not hold its blocks; nil where all do
	extra  []*flat // what goes with the label
	notes  finding.List
}

// try goes through the steps until the copy c fits.
func (d *dressed) try(a *attempt, steps []label.Step, c *label.PackCopy) (err error) {
	for d.rung = 1; d.rung <= c.Rungs(); d.rung++ { // what the law puts last comes last, whatever the book's order
		for _, step := range steps {
			stays := step == label.Narrower || step == label.SecondPanel
			if a.full == nil || stays && d.rung > 1 {
				continue
			}
			for _, change := range d.changes(step, a.set, c) {
				if a.sheets, a.full, err = d.fit(change.copy); err != nil {
					return err
				}
				if a.full == nil || stays {
					a.set = change.copy
					a.extra = append(a.extra, change.sheets...)
					a.notes = append(a.notes, change.notes...)
					break
				}
			}
		}
	}
	return nil
}

// steps returns what is tried, in order: what the book says, or narrower letters alone.
func (d *dressed) steps(c *label.PackCopy) []label.Step {
	steps := d.Ladder
	if steps == nil {
		steps = []label.Step{label.Narrower}
	}
	if c.Pack.Label.Kind == label.Booklet && !slices.Contains(steps, label.FoldOut) {
		steps = append(slices.Clip(steps), label.FoldOut) // it has an inside
	}
	return steps
}

// timerNote says that the egg timer stands for the words before the date.
func (d *dressed) timerNote(c *label.PackCopy) finding.Finding {
	return d.note(c, "pack.egg-timer", "the words before the date do not fit in every language; the egg timer stands for them",
		"write egg timer: yes to have it so, or egg timer: no for the words and a larger label")
}

// timer tries the egg timer instead of the words that lead in a date in several languages, unless the book says what
// it wants: it stands for those words (Regulation (EC) No 1223/2009 Art. 19(1)(c)), so that nothing has to leave the
// label. It returns no sheets where it is not tried, and the face that is still too full where that is of no use.
func (d *dressed) timer(c *label.PackCopy) (sheets []*flat, full *face, err error) {
	words := 0
	for _, s := range c.Back {
		if s.Kind == label.DurabilityText && s.Months == 0 {
			words++
		}
	}
	if d.EggTimer != label.Unsaid || words < 2 {
		return nil, nil, nil
	}
	d.EggTimer = label.SaidYes
	if sheets, full, err = d.fit(c); err != nil || full != nil {
		d.EggTimer = label.Unsaid
		return sheets, full, err
	}
	return sheets, nil, nil
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
			if f.best = f.solve(); f.best == nil && d.framed() {
				return d.stripped(sheets)
			}
			if f.best == nil {
				return sheets, f, nil
			}
		}
	}
	return sheets, nil, nil
}

// stripped solves all faces without what the layout draws round their words: they go together, so that where one has
// no room for it the others leave it out too.
func (d *dressed) stripped(sheets []*flat) ([]*flat, *face, error) {
	stripAll(sheets)
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

// stripAll leaves out what the layout draws round the words of all faces.
func stripAll(sheets []*flat) {
	for _, s := range sheets {
		for _, f := range s.faces {
			f.strip(s)
		}
	}
}

// framed reports whether the layout draws something that takes room from the text.
func (d *dressed) framed() bool {
	return d.Look.Frame != look.NoFrame || d.Look.Block != look.NoBlock || d.Look.Strip > 0 || d.Look.Rules == look.Every
}

// rules returns the hairlines that are drawn: fewer where there is no room for a frame.
func (d *dressed) rules() look.Rules {
	if d.bare && d.Look.Rules == look.Every {
		return look.RulesAsSuit
	}
	return d.Look.Rules
}

// strip leaves out what the layout draws round the words of the face.
func (f *face) strip(s *flat) {
	d := *f.dressed
	d.bare = true
	f.dressed = &d
	hole := f.panel.hole
	f.panel = newPanel(f.panel.name, f.panel.shape, d.margin, frame{})
	if hole.r > 0 {
		f.panel.punch(hole, holeAir)
	}
	f.edges(s, scene.Um(d.Bleed))
}

// bare reports whether a face of the sheets was stripped.
func bare(sheets []*flat) bool {
	for _, s := range sheets {
		for _, f := range s.faces {
			if f.bare && !f.empty() {
				return true
			}
		}
	}
	return false
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
