package main

import (
	"fmt"

	"panelwright/formula/exact"
	"panelwright/label"
	"panelwright/label/paper"
	"panelwright/label/record"
)

// What make prints as JSON. Weights are grams as decimal strings.
type (
	jsonPlan struct {
		Verdict  string        `json:"verdict"`
		Product  string        `json:"product"`
		Pieces   int           `json:"pieces"`
		Spares   int           `json:"spares"`
		Step     string        `json:"step"`
		Lots     []jsonPlanLot `json:"lots"`
		Supplies []jsonSupply  `json:"supplies"`
		TooFine  []jsonFine    `json:"too_fine"`
		Findings []jsonFinding `json:"findings"`
	}
	jsonPlanLot struct {
		Code   string    `json:"code"`
		Pieces int       `json:"pieces"`
		Mixes  []jsonMix `json:"mixes"`
	}
	jsonMix struct {
		Formula  string     `json:"formula"`
		Grams    string     `json:"grams"`
		Fillings int        `json:"mould_fillings"`
		Over     int        `json:"over"`
		Bowls    []jsonBowl `json:"bowls"`
	}
	jsonBowl struct {
		Count  int          `json:"count"`
		Pieces int          `json:"pieces"`
		Grams  string       `json:"grams"`
		Lines  []jsonAmount `json:"lines"`
	}
	jsonAmount struct {
		Name    string `json:"name"`
		Slot    string `json:"slot,omitempty"`
		Grams   string `json:"grams"`
		Weigh   string `json:"weigh"`
		Written string `json:"written,omitempty"`
	}
	jsonSupply struct {
		Material string        `json:"material"`
		Takes    string        `json:"takes"`
		Recorded bool          `json:"recorded"`
		InHand   string        `json:"in_hand"`
		Buy      string        `json:"buy"`
		Lots     []jsonBalance `json:"lots"`
	}
	jsonBalance struct {
		Lot     string `json:"lot"`
		Took    string `json:"took"`
		Left    string `json:"left"`
		Known   bool   `json:"known"`
		Expires string `json:"expires,omitempty"`
	}
	jsonFine struct {
		Formula string      `json:"formula"`
		Name    string      `json:"name"`
		Grams   string      `json:"grams"`
		Bowl    string      `json:"bowl"`
		Enough  string      `json:"enough"`
		Pieces  int         `json:"pieces"`
		Reads   string      `json:"reads"`
		Premix  *jsonPremix `json:"premix"`
	}
	jsonPremix struct {
		Carrier string `json:"carrier"`
		Own     string `json:"own"`
		With    string `json:"with"`
		Take    string `json:"take"`
		Left    string `json:"left"`
	}
)

// makeJSON prints a plan as JSON; it writes no files.
func (c *call) makeJSON(m *paper.Making) (int, error) {
	p := m.Plan
	x := jsonPlan{Verdict: makeVerdict(m), Product: p.Product.Name, Pieces: p.Pieces, Spares: p.Spares, Step: planGrams(p.Step), Lots: []jsonPlanLot{},
		Supplies: []jsonSupply{}, TooFine: []jsonFine{}, Findings: []jsonFinding{}}
	for _, lot := range p.Lots {
		x.Lots = append(x.Lots, lotJSON(lot))
	}
	for _, s := range m.Supplies {
		y := jsonSupply{Material: s.Name(), Takes: planGrams(s.Grams), Recorded: s.Recorded, InHand: planGrams(s.InHand), Buy: planGrams(s.Buy), Lots: []jsonBalance{}}
		for _, b := range s.Lots {
			z := jsonBalance{Lot: b.Receipt.Code, Took: planGrams(b.Took), Left: planGrams(b.Left), Known: b.Known}
			if b.Receipt.Expires != 0 {
				z.Expires = b.Receipt.Expires.String()
			}
			y.Lots = append(y.Lots, z)
		}
		x.Supplies = append(x.Supplies, y)
	}
	for _, f := range m.Fine {
		y := jsonFine{Formula: f.Formula.Name, Name: f.Amount.Name(), Grams: planGrams(f.Amount.Grams), Bowl: planGrams(f.Bowl), Enough: planGrams(f.Enough), Pieces: f.Pieces, Reads: planGrams(f.Reads)}
		if k := f.Premix; k != nil {
			y.Premix = &jsonPremix{k.Carrier.Name(), planGrams(k.Own), planGrams(k.With), planGrams(k.Take), planGrams(k.Left)}
		}
		x.TooFine = append(x.TooFine, y)
	}
	for _, f := range m.Worst {
		x.Findings = append(x.Findings, findingJSON(f))
	}
	data, err := marshal(x, "")
	if err != nil {
		return exitFailed, err
	}
	fmt.Fprintln(c.out, string(data))
	if stopped(m) {
		return exitErrors, nil
	}
	return exitClean, nil
}

// What make prints of a set as JSON.
type (
	jsonBoxes struct {
		Set    string       `json:"set"`
		Boxes  int          `json:"boxes"`
		Inside []jsonInside `json:"inside"`
	}
	jsonInside struct {
		Product string        `json:"product"`
		Pieces  int           `json:"pieces"`
		InHand  int           `json:"in_hand"`
		Make    int           `json:"make"`
		From    []jsonFromLot `json:"from"`
		Waiting []jsonFromLot `json:"waiting"`
	}
	jsonFromLot struct {
		Lot    string `json:"lot"`
		Pieces int    `json:"pieces"`
	}
)

// setJSON prints what boxes of a set take as JSON; it writes no files.
func (c *call) setJSON(set *label.Set, inside []record.Inside) (int, error) {
	lots := func(all []record.FromLot) []jsonFromLot {
		out := []jsonFromLot{}
		for _, l := range all {
			out = append(out, jsonFromLot{l.Lot.Code, l.Pieces})
		}
		return out
	}
	x := jsonBoxes{Set: set.Name, Boxes: c.sheets.pieces, Inside: []jsonInside{}}
	for _, i := range inside {
		x.Inside = append(x.Inside, jsonInside{i.Product.Name, i.Pieces, i.InHand, i.Make, lots(i.From), lots(i.Waiting)})
	}
	data, err := marshal(x, "")
	if err != nil {
		return exitFailed, err
	}
	fmt.Fprintln(c.out, string(data))
	return exitClean, nil
}

func lotJSON(lot record.PlannedLot) jsonPlanLot {
	x := jsonPlanLot{Code: lot.Code, Pieces: lot.Pieces, Mixes: []jsonMix{}}
	for _, mix := range lot.Mixes {
		y := jsonMix{Formula: mix.Formula.Name, Grams: planGrams(mix.Grams), Fillings: mix.Fillings, Over: mix.Over}
		for _, b := range mix.Bowls {
			z := jsonBowl{Count: b.Count, Pieces: b.Pieces, Grams: planGrams(b.Grams)}
			for i := range b.Lines {
				a := &b.Lines[i]
				z.Lines = append(z.Lines, jsonAmount{a.Name(), a.Slot, planGrams(a.Grams), planGrams(a.Weigh), paper.Written(a)})
			}
			y.Bowls = append(y.Bowls, z)
		}
		x.Mixes = append(x.Mixes, y)
	}
	return x
}

// planGrams prints a weight to a hundredth of a milligram.
func planGrams(x exact.Rat) string { return x.Decimal(5, exact.Nearest).String() }
