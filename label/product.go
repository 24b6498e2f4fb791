package label

import (
	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// Workshop is who sells, and where.
type Workshop struct {
	Name        string
	Pos         finding.Pos
	Country     string // ISO code where the goods are made; "" if not stated
	SellIn      []inci.Market
	Countries   []string // EU member states as ISO codes; they decide the languages
	Responsible map[inci.Market]Responsible
	ScaleReads  exact.Rat // grams; 0 if not stated
	ScaleUpTo   exact.Rat // grams; 0 if not stated
	Bowl        exact.Rat // grams that one bowl holds; 0 if not stated
	DryingSpace int       // single pieces that there is room for to dry or cure; 0 if not stated
}

// Responsible is the person a market asks for on the pack. There is no fallback
// from one market to another.
type Responsible struct {
	Pos     finding.Pos
	Name    string
	Address []string
	Contact string // telephone, email or web address; for complaints of customers
	Country string // ISO code where the person is established, as stated; "" if not
	Role    string // words that must stand before the name, such as "Distributed by"; "" for none
}

// Wording is one statement in the languages it was written in, by two-letter
// language code.
type Wording map[string]string

// Exposure says whether a product stays on the skin. It is stated, never guessed.
type Exposure uint8

const (
	Unstated Exposure = iota // judged as leave-on
	RinseOff
	LeaveOn
)

// String returns the word of the book format, or "unstated".
func (e Exposure) String() string { return [...]string{"unstated", "rinse-off", "leave-on"}[e] }

// Sheet is what the maker knows of a material besides its composition. It is
// the Info of a formula.Material.
type Sheet struct {
	Class  string      // as in the trade list: oil, butter, fragrance, essential-oil, colourant ...
	Covers []inci.List // lists of allergens that the supplier's sheet answers
	Ref    string      // the supplier's own reference
	Date   date.Date
	File   string
	// Fingerprint is the SHA-256 of File when it was read, in hexadecimal; "" if not stated.
	Fingerprint string
	Limits      []UseLimit
	ByName      bool // a perfuming oil that the maker declares by its own name
	Function    string
	Trade       *inci.Trade // the built-in row it was taken from, or nil
	Unknown     bool        // a blend whose supplier's composition is missing
	NotesAt     finding.Pos
	Certified   bool // colour of a batch certified for the US, as the maker states

	Later []LaterSheet // what later sheets say of it, in their order
}

// LaterSheet is a material as another sheet of its supplier describes it.
type LaterSheet struct {
	Pos      finding.Pos
	FromLot  string   // the first lot of the material that it is for; those that came in later follow it. "" where Lots names all
	Lots     []string // lots of the material that it is for
	Material *formula.Material
}

// UseLimit is the supplier's highest use of a material in products of a category.
type UseLimit struct {
	Pos      finding.Pos
	Category string    // category id of the fragrance-use standards
	Words    string    // as written
	Max      exact.Rat // fraction of the finished product
}

// LotPlace says where the lot code and the date stand.
type LotPlace uint8

const (
	LotOnLabel   LotPlace = iota // printed, or a space to write in
	LotOnSticker                 // on a sticker of its own
)

// Durability is the maker's own statement; there is no default.
type Durability struct {
	Pos       finding.Pos
	Keeps     int       // months that the closed product keeps; 0 if not stated
	Opened    int       // months after opening; 0 if not stated
	SingleUse bool      // used up in one go: an open-jar period means nothing
	Both      bool      // of a set: one product bears a date and another the open-jar period
	Before    date.Date // "best used before the end of", if stated outright
}

// Answer is what the maker answered to a question, kept in the book.
type Answer struct {
	Pos    finding.Pos
	Rule   finding.Code
	Market inci.Market // "" for every market
	About  string      // words of the question: a substance, a claim; "" where the rule asks but one
	Reason string
	Date   date.Date
}

// Pack is how a product is packed for one or more markets.
type Pack struct {
	Pos       finding.Pos
	For       []inci.Market
	Languages []string // ISO codes; empty: what the markets ask for
	Label     Shape
	Back      Shape // a second label; zero if there is none
	Body      market.Body
	Lot       LotPlace
	Dress     Dress // what it does not say is taken from the product

	Barcode string      // item number of this pack, checked; "" for that of the product, see BarcodeOn
	Link    string      // web address for a QR code; "" for that of the product
	CodesAt finding.Pos // where the first of these was written
}

// Shape is a printed label by its measurements, flat as it is printed.
type Shape struct {
	Kind    ShapeKind
	W, H    int64  // micrometres; a round label has W = H
	Corner  int64  // radius of the corners of a rounded label; 0 for the usual
	Overlap int64  // of a wrap, at its right end, which is glued under
	Text    string // as written
	Pos     finding.Pos
}

// ShapeKind is the outline of a label.
type ShapeKind uint8

const (
	NoShape   ShapeKind = iota
	Rectangle           // square corners
	Rounded             // rounded corners
	Round               // a circle
	Band                // a strip that goes round the pack
	Oval                // an ellipse
	Wrap                // a strip as long as the pack is round, with an overlap; W is filled in from the pack
	HangTag             // a card with a hole at its top
	Folded              // a card folded once, printed on its outside: the back left of the front
	Booklet             // the same, printed on its inside too
	Topper              // a card folded over the mouth of a bag, with a hole: the back above the front, upside down
)

// Product is a piece, its exposure, net quantity, packs and markets.
type Product struct {
	Name        string
	Pos         finding.Pos
	Fields      map[string]finding.Pos // where each key was written; shared by the members of a range
	Range       string                 // the range it belongs to, or ""
	Identity    Wording                // what it is: "Bath fizz with a butter core"
	Title       Wording                // the name the maker gives it on the pack; Name if empty
	Type        string                 // "bath fizz"; several uses are parted by commas, see Types
	Used        []string               // how it is used besides, in the words of market.StatedUses
	Exposure    Exposure
	Piece       formula.Piece
	Net         market.Quantity // as stated; zero if not
	Count       int             // pieces in the pack, if sold as several; 0 or 1 for one
	CountWords  string          // what the pieces are called, in the plural: "bath fizzes"
	SellIn      []inci.Market
	Packs       []Pack
	Function    Wording
	Directions  Wording
	Cautions    []Wording
	Keeps       Durability
	Lot         string  // a lot code to print; "" leaves a space
	MadeIn      Wording // country of origin, for imports
	ForChildren bool    // made for children under three
	Answers     []Answer

	Claims        []Wording              // what else the maker says of it, on the pack or in the shop; judged, not printed
	AdultsOnly    bool                   // meant for use exclusively by adults, and labeled so
	LooksLikeFood Stated                 // whether it can be taken for food
	SmallParts    Stated                 // whether a toy or another small part is in it
	ListAs        map[inci.Market]ListAs // how a soap is listed; "" for every market
	SoapExempt    bool                   // the maker claims the soap exemption of the United States
	Dose          Dose                   // what goes into one bath

	Dress Dress // how its labels look

	Barcode string // item number of the goods, checked; "" for none
	Link    string // web address for a QR code; "" for none
	Price   string // as written, such as "6.50 EUR"; "" for none

	Spares Spares // made besides those asked for

	Weights []Weighed // one piece, or the mean of the same pieces, on several days
}

// Spares are the pieces that are made besides, for those that break. One of its
// fields is set, or none.
type Spares struct {
	Share  exact.Rat // fraction of the pieces asked for
	Pieces int
	Bowl   int // pieces for each bowl
}

// Weighed is what the maker read off the scale on a day.
type Weighed struct {
	Pos   finding.Pos
	Day   date.Date
	Grams exact.Rat
}

// Stated is what the maker says to a question with yes or no, if anything.
type Stated uint8

const (
	Unsaid Stated = iota
	SaidNo
	SaidYes
)

// Dose is what goes into one bath: pieces or grams, whichever is not 0. The zero
// Dose is one piece.
type Dose struct {
	Pieces exact.Rat
	Grams  exact.Rat
	Text   string // as written
}

// At returns where key was written for this product, or where the product
// begins if it was not.
func (p *Product) At(key string) finding.Pos {
	if pos, ok := p.Fields[key]; ok {
		return pos
	}
	return p.Pos
}

// Set is several products sold in one pack, each with its own declaration. What
// the pack says of itself (identity, net quantity, packs, cautions) is kept as
// for a product; it has no piece and no exposure of its own.
type Set struct {
	Product
	Holds []Held
}

// Held is so many pieces of one product.
type Held struct {
	Product *Product
	Count   int
	Pos     finding.Pos
}
