// Package record keeps what happened: which lots of material came in, which
// lots of product were made of them and how they were really weighed, which
// pack copy was approved and printed for them, where the pieces went, and what
// customers said. The book says how things are meant to be; the records say how
// they were.
//
// Records are entries of a journal that only grows. A correction is an entry
// that names the one it takes the place of; both stay. What never happened is
// withdrawn, by an entry too. A [Ledger] is the entries in force, joined:
//
//	l, found := record.NewLedger(entries)
//	lot := l.Lot("0614")
//	back := l.Back(lot)                        // the material lots in it, and theirs
//	out := l.Forward(l.Receipts("A17"))        // every lot, set, label and piece that A17 reached
//
// [AsMade] turns a lot into the product that was really weighed, so that it can
// be declared and judged as any product is; [Judge] says what its label then
// gets wrong and what would cure it.
//
// The package reads no files and knows no clock: package book reads the entries
// and package journal keeps them.
package record

import (
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// Entry is one thing that was recorded. What is a pointer to a [Receipt],
// [Lot], [Status], [Shipment], [Approval], [Printing], [Count], [Complaint],
// [Statement] or [Withdrawal].
type Entry struct {
	Number   int         // in the journal, from 1; 0 for one that is not in it yet
	Recorded string      // when it was written down, year-month-day hour:minute
	Pos      finding.Pos // where it stands
	By       string      // who recorded it; "" if not stated
	Corrects int         // number of the entry it takes the place of; 0 for none
	Reason   string      // why it was corrected
	Changed  bool        // its text was changed by hand after it was recorded
	Remarks  string
	What     any
}

// Receipt is a lot of a material that came in.
type Receipt struct {
	Material string
	Code     string // the supplier's lot code, as on the container
	On       date.Date
	Grams    exact.Rat // how much came; 0 if not stated
	Supplier string
	Sheet    string    // reference of the sheet or certificate that came with it
	Expires  date.Date // of the material or of its certificate; 0 if not stated

	Entry *Entry
}

// State is where a lot is on its way out.
type State string

const (
	Curing State = "curing" // drying or curing: no sale labels yet
	Held   State = "held"   // not to be labelled or sold until a question is settled
	Ready  State = "ready"
	Gone   State = "gone"
)

// States are the words for them in the order a lot passes through.
var States = []State{Curing, Held, Ready, Gone}

// Lot is a batch of a product as it was made, or of a formula that was mixed
// beforehand and goes into products later.
type Lot struct {
	Code    string
	Product string // product, set or formula
	On      date.Date
	Pieces  int       // 0 of a formula
	Used    []Used    // lots of materials, or for a set of the products in it
	Weighed []Weighed // amounts that were weighed otherwise than the recipe says, or all of them
	Batch   []Weighed // grams of a formula that were made in all; Name is "" there
	Swaps   []Swap
	Weights []exact.Rat // grams of single pieces, as sold: a pack of six is one
	State   State       // as recorded with it; Ready if nothing was said
	ReadyOn date.Date   // end of curing; 0 if not stated
	Trial   bool        // made to try something: no sale labels until it is kept
	Book    string      // fingerprint of the book it was made by; "" if not known

	Entry *Entry
}

// Used is a material, or a product inside a set, with the lots of it that went in.
type Used struct {
	Name string
	Lots []Portion
	Pos  finding.Pos
}

// Portion is what one lot gave to another.
type Portion struct {
	Code   string
	Pieces int // of a product that was put into boxes; 0 if not stated
}

// Weighed is what the scale said of a line of a formula.
type Weighed struct {
	Formula string // "" where the name stands in one formula of the product only
	Name    string // the material, formula or slot of the line
	Grams   exact.Rat
	Pos     finding.Pos
}

// Swap is a material that stood in for another in one lot; of a box lot, a
// product.
type Swap struct {
	Out, In string
	Pos     finding.Pos
}

// Status is what became of a lot later.
type Status struct {
	Lot     string
	On      date.Date
	State   State       // "" leaves it
	Keep    bool        // a trial is kept: it is a lot as any other from now on
	Weights []exact.Rat // grams of single pieces weighed on that day

	Entry *Entry
}

// Buyer says what kind of place pieces went to.
type Buyer string

const (
	Shop       Buyer = "shop"
	Order      Buyer = "order"      // one customer, known by name or order number
	MarketDay  Buyer = "market day" // buyers unknown
	KeptBack   Buyer = "kept"       // own use, samples kept
	Destroyed  Buyer = "destroyed"
	BackInHand Buyer = "returned" // came back: counted as in hand again
)

// Buyers are the words for them.
var Buyers = []Buyer{Shop, Order, MarketDay, KeptBack, Destroyed, BackInHand}

// Shipment is pieces of a lot that left, or came back.
type Shipment struct {
	Lot     string
	On      date.Date
	Pieces  int
	Kind    Buyer
	To      string // name of the shop, order or market
	Contact string

	Entry *Entry
}

// Approval freezes the pack copy of a product for one pack.
type Approval struct {
	Product string
	Markets []inci.Market
	On      date.Date
	Placed  date.Date // the day of first supply that it was judged for
	From    date.Date // lots made from this day on; 0 for no bound
	Until   date.Date // lots made up to this day, included; 0 for no bound
	Lots    []string  // only these lots; empty: by the days
	Text    string    // fingerprint of the frozen copy
	Book    string    // fingerprint of the book it was taken from

	Entry *Entry
}

// Printing is labels or stickers that were printed for sale.
type Printing struct {
	Product  string
	Markets  []inci.Market
	On       date.Date
	Lot      string // "" where labels were printed for stock
	Copies   int
	Stickers bool   // lot stickers, not labels
	Text     string // fingerprint of the copy
	Approval int    // number of the entry that approved it; 0 where it was not approved

	Entry *Entry
}

// Count is labels counted, spoiled or thrown away.
type Count struct {
	Product string
	Markets []inci.Market
	On      date.Date
	Text    string // fingerprint of the copy on them; "" for the latest printed
	Left    int    // counted; -1 if not
	Spoiled int    // or thrown away

	Entry *Entry
}

// Complaint is what a customer said.
type Complaint struct {
	Code    string
	On      date.Date
	Product string
	Lot     string // "" if not known
	Text    string // what happened, in the customer's words
	From    string // who said it
	Serious bool   // the maker was told of something that the law may call serious
	Told    []Told

	Entry *Entry
}

// Statement is a paper for a shop that says which products hold what.
type Statement struct {
	For      string
	On       date.Date
	Markets  []inci.Market // whose packs it speaks of
	Products []Stated

	Entry *Entry
}

// Stated is what a statement says of a product: the beginning of the SHA-256 of
// its ticks.
type Stated struct {
	Product, Print string
}

// Withdrawal takes back an entry of something that did not happen, such as one
// that was recorded twice. What the entry corrected, and what corrected it,
// goes with it.
type Withdrawal struct {
	Of int // number of the entry
	On date.Date
}

// Told is somebody who was told of a complaint.
type Told struct {
	Who string
	On  date.Date
	Pos finding.Pos
}
