package main

import (
	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/paper"
)

// jsonLye is the stable shape of lye --json. Grams and per cents are decimal
// strings; "weigh" is in whole steps of the scale, hydroxide rounded down.
type jsonLye struct {
	Formula  string      `json:"formula"`
	Verdict  string      `json:"verdict"`
	For      string      `json:"for"` // "batch", or "1000 g of fats" where the mix has no weights
	Doubts   []string    `json:"look at first"`
	FreeKOH  string      `json:"worst koh"` // grams of potassium hydroxide left in the worst case; below 0 there is room
	Superfat jsonSpan    `json:"fat left percent"`
	Lye      []jsonDose  `json:"lye"`
	Water    string      `json:"water"`
	Batch    string      `json:"mix"`
	Poured   string      `json:"poured"`
	Wet      string      `json:"water poured"`
	Made     []jsonMade  `json:"made"`
	Mould    *jsonMoulds `json:"mould,omitempty"`
}

type jsonSpan struct {
	Min     string `json:"min"`
	Typical string `json:"typical"`
	Max     string `json:"max"`
}

type jsonDose struct {
	Name   string `json:"name"`
	Grams  string `json:"grams"`
	Weigh  string `json:"weigh"`
	AtMost string `json:"at most"`
	Worked bool   `json:"worked out"`
}

type jsonMade struct {
	Name  string   `json:"name"`
	Grams jsonSpan `json:"grams"`
}

type jsonMoulds struct {
	Pieces int    `json:"pieces"`
	Fresh  string `json:"fresh grams"` // "" if the mould was never weighed
	Lost   string `json:"lost grams"`
}

func lyeJSON(r *formula.Reaction, w formula.WorstCase, step exact.Rat) jsonLye {
	six := func(x exact.Rat) string { return x.Decimal(6, exact.Nearest).String() }
	part := func(s formula.Share, by exact.Rat) jsonSpan {
		return jsonSpan{s.Min.Mul(by).Decimal(6, exact.Down).String(), six(s.Typical.Mul(by)), s.Max.Mul(by).Decimal(6, exact.Up).String()}
	}
	doubts := label.LyeDoubts(r, step)
	doubts.Sort()
	out := jsonLye{Formula: r.Formula.Name, Verdict: paper.Verdict(w, doubts...), For: "batch", Doubts: []string{}, FreeKOH: w.Free.Decimal(6, exact.Up).String(),
		Superfat: part(r.Superfat, hundred), Water: six(r.Water), Batch: six(r.Batch), Poured: six(r.Poured), Wet: six(r.FreeWater)}
	for _, f := range doubts {
		out.Doubts = append(out.Doubts, f.Severity.String()+": "+f.Message)
	}
	if !r.Sized {
		out.For = "1000 g of fats"
	}
	for i, d := range r.Lye {
		out.Lye = append(out.Lye, jsonDose{d.Material.Name, six(d.Grams), six(r.Weigh(i, step)), w.Safe[i].Decimal(6, exact.Down).String(), d.Worked})
	}
	for _, m := range r.Made {
		name := inci.Readable(string(m.Key))
		if what, ok := inci.NoSoapName(m.Key); ok {
			name = what
		}
		out.Made = append(out.Made, jsonMade{name, part(m.Grams, exact.Int(1))})
	}
	if m := r.Formula.Mould; m != nil {
		if cut, ok := m.Cut(); ok {
			out.Mould = &jsonMoulds{Pieces: cut.Pieces}
			if m.Holds.Sign() > 0 {
				out.Mould.Fresh, out.Mould.Lost = six(cut.Fresh), six(cut.Lost)
			}
		}
	}
	return out
}
