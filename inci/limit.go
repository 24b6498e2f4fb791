package inci

import (
	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Limit is what one row of a list of restricted substances says of some substances in some products.
//
// A row can set a maximum, forbid the use, ask for a warning, or carry conditions only. Of several rows that
// cover a product the strictest counts.
type Limit struct {
	List      string // "Annex III", "Annex IV", "Annex V", "Annex VI", "Hotlist", "21 CFR"
	Entry     string // number in the list, with its letter: "98(b)"
	Substance string
	Keys      []formula.Key
	// Sum are the substances whose shares are added up before they are compared with Max, Keys included.
	// Nil: each key is compared alone.
	Sum []formula.Key
	// Group names the sum: "parabens", "aluminium".
	Group string
	// With is a substance without which in the same material the row is not about it, as a mixture is not
	// about one of its two parts; Without one whose presence in the material takes it out of the row.
	With, Without formula.Key
	Applies       AppliesTo

	Max    exact.Rat // fraction of the finished product, counted as ExpressedAs; only if HasMax
	HasMax bool
	// Below says that a share equal to Max is too much already: "0.1 % or more".
	Below bool
	// Forbidden says that the use is not allowed in the products the row applies to.
	Forbidden bool
	// Question says that the row decides nothing and somebody has to be asked: the entry names product types
	// and these are not among them, or its figure was not seen, or form and size decide. Conditions tells.
	Question bool
	// Together says that the substances may not be in a product that holds Without in another material, or With
	// in the same one.
	Together bool
	// Silent marks what holds for the product types that the entry does not name.
	Silent bool

	ExpressedAs string // "as benzoic acid"; empty where the substance itself is weighed
	Conditions  string // in words; empty where there are none
	// Warning is the text for the pack in the exact words of the law, parts separated by "; ". It is due
	// where WarnWhen covers the product and the share is above WarnAbove.
	Warning   string
	WarnWhen  AppliesTo
	WarnAbove exact.Rat
	WarnNote  string // what the law adds about when the text is due
	Duty      date.Duty
	// Purpose is what the substance is used for in this row: "preservative", "other than preservative",
	// "UV filter", "colourant", "fragrance", or empty for any use. Only the maker can say.
	Purpose string
	Source  finding.Citation

	// Note is a remark of this table on the row, not a word of the law: how a figure was read, what was left
	// out of it and why.
	Note string

	form    string // the form counted, as molar-masses.csv names it
	remarks map[formula.Key]string
}

// SameEntry reports whether two rows stand in one entry of one list.
func (l *Limit) SameEntry(o *Limit) bool {
	return l.List == o.List && entryOf(l).number == entryOf(o).number
}

// Remark returns what there is to say of k as a member of the sum, such as that a colour counts only where it
// is a lake; empty for most members.
func (l *Limit) Remark(k formula.Key) string { return l.remarks[Canonical(k)] }

// Factor returns the grams counted for one gram of the ingredient k: 1 where the substance itself is
// weighed, else the ratio of molar masses times the number of units. ok is false where it cannot be known,
// as for a mixture or a polymer: then only Most is certain.
func (l *Limit) Factor(k formula.Key) (f exact.Rat, ok bool) {
	if l.form == "" {
		return exact.Int(1), true
	}
	r, ok := conversions()[conversion{Canonical(k), l.form}]
	if !ok || !r.known {
		return exact.Rat{}, false
	}
	return r.factor, true
}

// Most returns the greatest factor that k can have: Factor where that is known, else a bound by chemistry.
func (l *Limit) Most(k formula.Key) exact.Rat {
	if f, ok := l.Factor(k); ok {
		return f
	}
	if r, ok := conversions()[conversion{Canonical(k), l.form}]; ok {
		return r.most
	}
	if f, ok := formBounds()[l.form]; ok {
		return f
	}
	return exact.Int(1)
}

// FactorSource returns how the factor of k came about.
func (l *Limit) FactorSource(k formula.Key) (formulaText string, source finding.Citation) {
	r := conversions()[conversion{Canonical(k), l.form}]
	return r.formula, r.source
}
