package label

import (
	"panelwright/formula/finding"
	"panelwright/label/font"
	"panelwright/label/look"
	"panelwright/label/picture"
	"panelwright/label/scene"
)

// Dress is how a label looks and which marks it bears, as far as the maker chose. What a pack leaves out is
// taken from its product.
type Dress struct {
	Look     *look.Look       // the layout file; nil for the plain one
	Accent   *scene.Ink       // of the name, the rules and the solid areas; nil for black
	Title    *font.Face       // of the name; nil for the layout's
	Text     *font.Face       // of all else; nil for the text family
	Logo     *picture.Picture // above the name; nil for none
	Codes    []string         // of the materials of the pack, as printed: "PAP 21"
	Bleed    int64            // micrometres that solid areas reach beyond the edge
	Margin   int64            // micrometres kept blank along the edge; 0 for the usual
	EMark    Stated           // whether the e-mark was elected
	EggTimer Stated           // whether the egg timer leads in the date instead of words
	Scans    []Scan           // the product's codes to print on the label; nil for none
	Ladder   []Step           // what is tried where the text does not fit; nil: narrower letters
	Pos      finding.Pos      // where the first of these was written
}

// Scan is a code for scanners: the product's item number, or its web address.
type Scan uint8

const (
	ScanNothing Scan = iota // a pack without codes, whatever its product says
	ScanBarcode
	ScanQR
)

// Step is something to try where the text does not fit.
type Step uint8

const (
	Narrower Step = iota // narrower letters of the same family
	SecondPanel
	FoldOut     // a label of two leaves, opened like a book
	Leaflet     // a page that goes with the piece
	TagCard     // a card tied or taped to it
	Website     // the address of the product's page, which shows the list
	ShelfNotice // a card that stands where the product is sold
)

// Steps are all steps, in the order in which they are usually tried.
var Steps = []Step{Narrower, SecondPanel, FoldOut, Leaflet, TagCard, Website, ShelfNotice}

// String returns the word of the book format.
func (s Step) String() string {
	return [...]string{"narrower", "back", "fold", "leaflet", "tag", "website", "notice"}[s]
}

// Over returns the choices of d, and those of base where d has none.
func (d Dress) Over(base *Dress) Dress {
	if d.Look == nil {
		d.Look = base.Look
	}
	if d.Accent == nil {
		d.Accent = base.Accent
	}
	if d.Title == nil {
		d.Title = base.Title
	}
	if d.Text == nil {
		d.Text = base.Text
	}
	if d.Logo == nil {
		d.Logo = base.Logo
	}
	if d.Codes == nil {
		d.Codes = base.Codes
	}
	if d.Bleed == 0 {
		d.Bleed = base.Bleed
	}
	if d.Margin == 0 {
		d.Margin = base.Margin
	}
	if d.EMark == Unsaid {
		d.EMark = base.EMark
	}
	if d.EggTimer == Unsaid {
		d.EggTimer = base.EggTimer
	}
	if d.Scans == nil {
		d.Scans = base.Scans
	}
	if d.Ladder == nil {
		d.Ladder = base.Ladder
	}
	if d.Pos == (finding.Pos{}) {
		d.Pos = base.Pos
	}
	return d
}
