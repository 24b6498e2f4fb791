package label

import (
	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
)

// StatementKind says what a statement on a pack is for.
type StatementKind uint8

const (
	TitleText       StatementKind = iota // the maker's name for the product
	IdentityText                         // what it is
	NetText                              // net quantity
	ListText                             // ingredients, with its heading
	ResponsibleText                      // name and address
	ContactText                          // where to write or call
	LotText                              // batch; empty Text: a space to write in
	DurabilityText                       // date or open-jar period; empty Text: a space to write in
	FunctionText
	DirectionsText
	CautionText
	OriginText
	MakerText  // the workshop's name, where it is not the responsible person's
	CodeText   // a code of the pack's material, set in a frame
	NoticeText // where a statement that has left the label stands
)

// Statement is one thing a pack must say, in one language.
type Statement struct {
	Kind    StatementKind
	Lang    string // two-letter code; "" where the text belongs to no language
	Lead    string // words before the text, such as "Ingredients:" or "Lot"; may be empty
	Text    string
	Months  int  // DurabilityText: months for the open-jar symbol; 0 for a date
	Front   bool // must stand on the principal display panel
	Bold    bool
	Markets []inci.Market
	Height  market.Height // smallest letter height and what it is measured on
	Foot    bool          // must stand in the bottom 30 % of the panel
	Apart   bool          // keep clear: its own letter height above and below, twice the width of N at the sides
	Sources []finding.Citation
}

// PackCopy is every statement one label, or label and back label, must carry.
type PackCopy struct {
	Product   *Product
	Pack      *Pack
	Markets   []inci.Market
	Languages []string
	Name      string // for messages and file names
	Proof     bool   // printed only as a proof, never for sale
	Front     []Statement
	Back      []Statement // on the back label if there is one; otherwise after Front
	Findings  finding.List
	Dress     Dress
	Occasion  date.Occasion
	EMark     market.Height // of the e-mark; its Min is 0 where none is printed
}
