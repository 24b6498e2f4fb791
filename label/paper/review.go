package paper

import (
	"fmt"
	"strings"

	"panelwright/formula/finding"
	"panelwright/label/layout"
	"panelwright/label/scene"
)

// Review is one finding with room for remarks beside it.
type Review struct {
	Number   int
	Result   string // "Wrong"
	Rule     string // its title
	Code     string
	Markets  string // codes, separated by spaces; may be empty
	Evidence string
	Cure     string
	Where    string // place in the book; may be empty
	Sources  []finding.Citation
}

// Signature is a line to sign on, with a word under each part of it.
type Signature []string

func (r Review) head() string { return fmt.Sprintf("%s: %s", r.Result, r.Rule) }

// small is what stands under the evidence: code, markets and place.
func (r Review) small() string {
	s := r.Code
	if r.Markets != "" {
		s += " [" + r.Markets + "]"
	}
	if r.Where != "" {
		s += ", " + r.Where
	}
	return s
}

func (r Review) text(b *strings.Builder) {
	b.WriteByte('\n')
	wrap(b, fmt.Sprintf("%d. %s", r.Number, r.head()), "    ")
	for _, s := range append([]string{r.Evidence, labelled("Cure: ", r.Cure), r.small()}, r.cited()...) {
		if s != "" {
			b.WriteString("    ")
			wrap(b, s, "    ")
		}
	}
	b.WriteString("    Remarks: " + strings.Repeat("_", textWidth-13) + "\n")
}

func labelled(label, words string) string {
	if words == "" {
		return ""
	}
	return label + words
}

func (r Review) cited() (all []string) {
	for _, c := range r.Sources {
		all = append(all, "Source: "+c.String())
	}
	return all
}

func (s Signature) text(b *strings.Builder) {
	b.WriteByte('\n')
	for _, words := range s {
		b.WriteString(words + ": " + strings.Repeat("_", 40) + "  ")
	}
	b.WriteByte('\n')
}

// Where the parts of a review stand across the page, and how far apart the lines
// to write on are.
const (
	reviewText    = 9 * scene.Mm
	reviewRemarks = 52 * scene.Mm // width of the remarks, at the right margin
	reviewGap     = 5 * scene.Mm
	writingLine   = 7 * scene.Mm
	leastLines    = 2
)

func (r Review) set(p *layout.Pages) {
	scratch := layout.NewPages(p.Paper, "", "")
	r.write(scratch)
	height := max(scratch.Y()-scratch.Paper.Top, leastLines*writingLine+2*scene.Mm)
	p.Keep(height + 4*scene.Mm)
	p.Space(1500)
	top := p.Y()
	right := p.Paper.W - p.Paper.Right
	p.Item(scene.Line(p.Paper.Left, top, right, top, layout.Hairline, scene.Ink{K: 45}))
	p.Space(1500)
	top = p.Y()
	r.write(p)
	for y := top + writingLine; y <= top+height; y += writingLine {
		p.Item(scene.Line(right-reviewRemarks, y, right, y, layout.Hairline, scene.Ink{K: 45}))
	}
	if bottom := top + height; p.Y() < bottom {
		p.Space(bottom - p.Y())
	}
	p.Space(1500)
}

// write sets number and text, without the remarks.
func (r Review) write(p *layout.Pages) {
	width := p.Width() - reviewText - reviewRemarks - reviewGap
	p.Block(layout.Body, 0, reviewText, fmt.Sprint(r.Number))
	p.Space(-layout.Body.Lead) // the head stands beside its number
	p.Block(layout.Strong, reviewText, width, r.head())
	p.Block(layout.Fine, reviewText, width, r.Evidence)
	if r.Cure != "" {
		p.Spans(reviewText, width, layout.Fine, layout.Span{Text: "Cure: ", Face: layout.Bold.Face}, layout.Span{Text: r.Cure, Face: layout.Fine.Face})
	}
	p.Block(layout.Quiet, reviewText, width, r.small())
	for _, c := range r.Sources {
		spans := []layout.Span{{Text: "Source: " + c.Text, Face: layout.Quiet.Face}}
		if c.Unverified() {
			spans = append(spans, layout.Span{Text: " (unverified: " + string(c.Seen) + ")", Face: layout.Bold.Face})
		}
		p.Spans(reviewText, width, layout.Quiet, spans...)
	}
}

func (s Signature) set(p *layout.Pages) {
	p.Keep(25 * scene.Mm)
	p.Space(14 * scene.Mm)
	gap := 8 * scene.Mm
	width := (p.Width() - gap*scene.Um(len(s)-1)) / scene.Um(len(s))
	y := p.Y()
	for i := range s {
		x := p.Paper.Left + scene.Um(i)*(width+gap)
		p.Item(scene.Line(x, y, x+width, y, layout.Hairline, scene.Black))
	}
	p.Space(scene.Mm)
	for i, words := range s {
		p.Block(layout.Quiet, scene.Um(i)*(width+gap), width, words)
		if i < len(s)-1 {
			p.Space(-layout.Quiet.Lead)
		}
	}
}
