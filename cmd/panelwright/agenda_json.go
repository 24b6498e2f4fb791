package main

import (
	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
)

// jsonAgenda is the stable shape of calendar --json.
type jsonAgenda struct {
	On      date.Date    `json:"on"`
	Until   date.Date    `json:"until"`
	Changes []jsonChange `json:"changes"`
	Also    []jsonEvent  `json:"also"`
}

type jsonChange struct {
	Day      date.Date        `json:"day"`
	Product  string           `json:"product"`
	Market   inci.Market      `json:"market"`
	Packs    label.Packs      `json:"packs"`
	Before   date.Date        `json:"before"`
	LastSale date.Date        `json:"lastSale"`
	Rule     finding.Code     `json:"rule"`
	Severity finding.Severity `json:"severity"`
	Where    string           `json:"where"`
	Message  string           `json:"message"`
	Cure     string           `json:"cure"`
	Sources  []jsonSource     `json:"sources"`
}

type jsonSource struct {
	Text       string `json:"text"`
	Unverified bool   `json:"unverified"`
}

type jsonEvent struct {
	Day        date.Date     `json:"day"`
	Markets    []inci.Market `json:"markets"`
	Applies    string        `json:"applies"`
	What       string        `json:"what"`
	Instrument string        `json:"instrument"`
	Judged     bool          `json:"judged"`
	Source     jsonSource    `json:"source"`
}

func (c *call) agendaJSON(a *agenda) error {
	x := jsonAgenda{On: c.on, Until: c.until, Changes: []jsonChange{}, Also: []jsonEvent{}}
	for _, ch := range a.changes {
		f := ch.Finding
		j := jsonChange{ch.Day, ch.Product.Name, ch.Market, ch.Packs, ch.Before, ch.LastSale, f.Rule, f.Severity, f.Where.String(), f.Message, f.Cure, []jsonSource{}}
		for _, s := range ch.Sources {
			j.Sources = append(j.Sources, jsonSource{s.Text, s.Unverified()})
		}
		x.Changes = append(x.Changes, j)
	}
	for _, e := range a.also {
		x.Also = append(x.Also, jsonEvent{e.Date, e.markets, e.Applies, e.What, e.Instrument, len(e.Judged) > 0, jsonSource{e.Source.Text, e.Source.Unverified()}})
	}
	data, err := marshal(x, "")
	if err != nil {
		return err
	}
	_, err = c.out.Write(append(data, '\n'))
	return err
}
