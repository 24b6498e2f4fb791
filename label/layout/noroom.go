package layout

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/label"
	"panelwright/label/scene"
)

// NoRoom is the error where the copy does not fit on a label at the smallest type that is allowed.
type NoRoom struct {
	Name         string // of the product
	Panel        string // "front" or "back"
	W, H         scene.Um
	NeedW, NeedH scene.Um // the smallest label of the same shape that would do; 0 if even a large one would not
	Round        bool
	Back         bool // a back label of the same size would do instead
	Codes        bool // it would do without the codes for scanners
	Languages    int  // how many languages would fit if there were fewer; 0 if that alone would not do

	Tried    []label.Step // what the book allows
	Vain     []label.Step // of those, what could change nothing: the law of a market or the shape of the label is against it
	Would    []label.Step // what the book does not allow, and each of which would do
	Together []label.Step // the same, which would do together where none does alone
	Left     bool         // what is lacking is so after what was tried
}

func (e *NoRoom) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: the text does not fit on the %s label of %s at the smallest type that may be used",
		e.Name, e.Panel, e.dimensions(e.W, e.H))
	if e.NeedW == 0 {
		b.WriteString("; a word is wider than the label, or there is far too much text")
	} else {
		b.WriteString("; ")
		if e.Left {
			b.WriteString("after what was tried it still lacks ")
		} else {
			b.WriteString("it lacks ")
		}
		b.WriteString((e.NeedW - e.W).String())
		if !e.Round {
			fmt.Fprintf(&b, " of width and %s of height", (e.NeedH - e.H).String())
		}
		fmt.Fprintf(&b, "; a label of %s would do", e.dimensions(e.NeedW, e.NeedH))
	}
	if e.Back {
		b.WriteString(", or a back label of the same size")
	}
	if e.Codes {
		b.WriteString(", or this one without its codes")
	}
	if e.Languages > 0 {
		fmt.Fprintf(&b, ", or %d %s on it", e.Languages, plural(e.Languages, "language", "languages"))
	}
	return b.String()
}

func (e *NoRoom) dimensions(w, h scene.Um) string {
	if e.Round {
		return w.String() + " across"
	}
	return strings.TrimSuffix(w.String(), " mm") + " x " + h.String()
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// possible reports whether solve finds a way to set the face: at the smallest text, in any arrangement and width. A
// larger name may fit a circle where a smaller one does not, since it moves the small print to where lines are longer.
func (f *face) possible() bool {
	for w := f.widest + 1; w > 0; {
		w--
		if !f.words(w) {
			continue
		}
		for _, a := range append(f.suited(), f.unsuited()...) {
			for _, z := range slices.Backward(ways) { // the most likely first
				z.width = w
				for _, z.loose = range []bool{true, false} {
					if a.fits(a.sized(z, size(houseHeight))) {
						return true
					}
				}
			}
		}
	}
	return false
}

// noRoom works out what would help a copy that does not fit, whether as it stood first, before the steps that the book
// allows, or last, after them: what lacks less.
func (d *dressed) noRoom(c *label.PackCopy, first, last *attempt) error {
	f, step, ok := first.lacking(c)
	left := false
	if last.full != first.full {
		if g, less, can := last.lacking(c); can && (!ok || less < step) {
			f, step, ok, left = g, less, true, true
		}
	}
	e := &NoRoom{Name: c.Name, Panel: f.panel.name, W: f.panel.w, H: f.panel.h, Round: f.panel.shape.Kind == label.Round, Left: left}
	if ok {
		s := enlarged(f.panel.shape, step)
		e.NeedW, e.NeedH = scene.Um(s.W), scene.Um(s.H)
	}
	d.untried(c, first.full, e)
	if c.Pack.Back.Kind == label.NoShape && len(c.Back) > 0 && single(c.Pack.Label.Kind) {
		e.Back = d.works(c, func(p *label.Pack) { p.Back = p.Label }, nil)
	}
	if codes := d.Scans; codes != nil {
		d.Scans = nil
		e.Codes = d.works(c, nil, nil)
		d.Scans = codes
	}
	for n := len(c.Languages) - 1; n > 0 && e.Languages == 0; n-- {
		if d.works(c, nil, c.Languages[:n]) {
			e.Languages = n
		}
	}
	return e
}

// single reports whether a label of a kind has one panel, so that another can go on the back of the pack.
func single(k label.ShapeKind) bool {
	switch k {
	case label.Wrap, label.Folded, label.Booklet, label.Topper:
		return false
	}
	return true
}

// growth is the step by which a label is enlarged, on its longer side, and the most steps that are tried.
const (
	growth  = 1000
	mostMms = 400
)

// enlarged returns s with its longer side longer by steps millimetres, and the other in proportion.
func enlarged(s label.Shape, steps int64) label.Shape {
	long := max(s.W, s.H)
	up := func(side int64) int64 {
		return (side + side*steps*growth/long + growth - 1) / growth * growth
	}
	s.W, s.H = up(s.W), up(s.H)
	return s
}

// grow returns by how many millimetres the longer side must grow for the blocks to fit.
func (f *face) grow() (int64, bool) {
	fits := func(steps int64) bool {
		g := *f
		s := enlarged(f.panel.shape, steps)
		g.panel = newPanel(f.panel.name, s, f.margin, f.frame(scene.Um(min(s.W, s.H))))
		if h := f.panel.hole; h.r > 0 {
			h.x = g.panel.w / 2
			g.panel.punch(h, holeAir)
		}
		return g.possible()
	}
	if !fits(mostMms) {
		return 0, false
	}
	lo, hi := int64(0), int64(mostMms)
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; fits(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, true
}

// lacking returns the face that lacks most and by how many millimetres its longer side must grow; false if that cannot
// be said. Faces that grow with the one that is too full are asked too: those of one piece, and the second label that
// was added in the size of the first.
func (a *attempt) lacking(c *label.PackCopy) (*face, int64, bool) {
	worst := a.full
	most, ok := worst.grow()
	for _, s := range a.sheets {
		if c.Pack.Back.Kind != label.NoShape && !slices.Contains(s.faces, a.full) {
			continue
		}
		for _, f := range s.faces {
			if f == a.full || f.empty() || f.panel.w != a.full.panel.w || f.panel.h != a.full.panel.h || f.possible() {
				continue
			}
			step, can := f.grow()
			if ok = ok && can; step > most {
				worst, most = f, step
			}
		}
	}
	return worst, most, ok
}

// works reports whether the copy would fit with another pack or fewer languages.
func (d *dressed) works(c *label.PackCopy, change func(*label.Pack), languages []string) bool {
	copy, p := *c, *c.Pack
	if change != nil {
		change(&p)
	}
	copy.Pack = &p
	if languages != nil {
		copy.Front, copy.Back = spoken(c.Front, languages), spoken(c.Back, languages)
	}
	sheets, err := d.deal(&copy)
	if err != nil {
		return false
	}
	if d.framed() {
		stripAll(sheets)
	}
	for _, s := range sheets {
		for _, f := range s.faces {
			if !f.empty() && !f.possible() {
				return false
			}
		}
	}
	return true
}

// spoken returns the statements in one of the languages, or in none.
func spoken(all []label.Statement, languages []string) []label.Statement {
	var out []label.Statement
	for _, s := range all {
		keep := s.Lang == ""
		for _, l := range languages {
			keep = keep || s.Lang == l
		}
		if keep {
			out = append(out, s)
		}
	}
	return out
}
