package market

import (
	"fmt"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// Placement is where and how the net statement stands on the panel.
type Placement struct {
	Foot      bool      // within the lowest FootShare of the panel, parallel to its base
	FootShare exact.Rat // 0 unless Foot
	Apart     bool      // its own lettering height clear above and below, twice the width of N left and right
	Bold      bool      // the statement is bold; where Figures, only its figures need be
	Figures   bool      // Bold asks for the figures alone
	Source    finding.Citation
}

// NetPlacement returns the placement of the net statement on a panel between
// areaLow and areaHigh square millimetres. A panel of unknown size is treated as
// a large one.
func (r *Rules) NetPlacement(areaLow, areaHigh exact.Rat) Placement {
	var p Placement
	var sources []finding.Citation
	if f, ok := r.fact("net-foot-above"); ok {
		edge := f.number("value").Mul(mustUnit("sq in").Factor)
		if areaHigh.Sign() <= 0 || edge.Less(areaHigh) {
			share := r.facts["net-foot-share"]
			p.Foot, p.FootShare = true, share.number("value")
			sources = append(sources, f.source, share.source)
		}
	}
	if f, ok := r.fact("net-apart"); ok {
		p.Apart = f.yes("value")
		sources = append(sources, f.source)
	}
	if f, ok := r.fact("net-bold"); ok {
		p.Bold, p.Figures = true, f.value == "figures"
		sources = append(sources, f.source)
	}
	p.Source = joinSources(sources)
	return p
}

// CheckLetter reports, as an error, a letter that is too narrow for its height.
// Both are in the same unit, measured on the drawn outline.
func (r *Rules) CheckLetter(height, width int64) error {
	f, ok := r.fact("letter-ratio")
	if !ok {
		return nil
	}
	ratio := f.number("value")
	if ratio.Mul(exact.Int(width)).Less(exact.Int(height)) {
		return fmt.Errorf("a letter %d high and %d wide is more than %v times as high as wide (%v)", height, width, ratio, f.source)
	}
	return nil
}
